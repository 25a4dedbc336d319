// Where a part is during a move: its pivot goes straight while it turns about it at a constant rate, the short way round.
import { Vector3 } from 'three';
import { point, turn } from './frame.js';

/** A move as the page's data tells it, made ready to be asked. */
export function motion(move) {
  const from = turn(move.from.turn);
  const to = turn(move.to.turn);
  const pivot = point(move.pivot);
  const begin = pivot.clone().applyQuaternion(from).add(point(move.from.shift));
  const end = pivot.clone().applyQuaternion(to).add(point(move.to.shift));
  const between = from.clone().invert().multiply(to);
  if (between.w < 0) between.set(-between.x, -between.y, -between.z, -between.w);
  const axis = new Vector3(between.x, between.y, between.z);
  const sine = axis.length();
  const half = Math.atan2(sine, between.w);
  if (sine > 1e-12) axis.divideScalar(sine);

  /** Puts an object where the part is at a share of the move, 0 to 1. */
  return (object, share) => {
    const s = Math.sin(half * share);
    object.quaternion.set(axis.x * s, axis.y * s, axis.z * s, Math.cos(half * share));
    object.quaternion.premultiply(from).normalize();
    const moved = pivot.clone().applyQuaternion(object.quaternion);
    object.position.copy(begin).lerp(end, share).sub(moved);
  };
}

export function home(object) {
  object.position.set(0, 0, 0);
  object.quaternion.identity();
}
