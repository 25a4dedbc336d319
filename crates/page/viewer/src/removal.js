// Parts on their way out, one after the other: what is where at any instant.
import { Box3, Object3D } from 'three';
import { home, motion } from './motion.js';
import { named } from './words.js';

/** How long what is undone by hand is told before the part moves, and how long a part stays when it is out, s. */
const TELL_S = 1.5;
const REST_S = 0.6;

export class Removal {
  constructor(title, steps, before, model, water, things) {
    this.title = title;
    this.model = model;
    this.water = water;
    this.steps = [];
    this.stops = [];
    let at = 0;
    const begin = (words) => {
      this.stops.push({ at, words });
      at += TELL_S;
    };
    if (before) begin(before);
    steps.forEach((step, k) => {
      const which = steps.length > 1 ? `${k + 1} of ${steps.length}, ${step.name}` : step.name;
      const undoneAt = at;
      // What comes out by itself was taken out before; screws and the like are only loosened here.
      // The sump itself is empty and bare before it moves.
      const isSump = step.things.some((id) => things[id].what === 'bottom');
      const isGone = (id) => isSump || things[id].way !== null;
      const [gone, loose] = [step.undone.filter(isGone), step.undone.filter((id) => !isGone(id))];
      const isSpare = step.things.some((id) => things[id].group === 'spare');
      if (isSpare && gone.length > 0) begin(`${which}: it stands in the place of ${gone.map((id) => things[id].name).join(', ')}`);
      if (step.undo) begin(`${which}: ${step.undo}`);
      const first = at;
      const moves = step.moves.map((m) => {
        this.stops.push({ at: first + m.begin_s, words: `${which}: ${m.words}` });
        return { at: [first + m.begin_s, first + m.end_s], pose: motion(m) };
      });
      at = (moves.at(-1)?.at[1] ?? at) + REST_S;
      // Hoses that are bent aside are named by what hangs on them.
      const names = named(step.undo ?? '');
      const aside = things.map((thing, id) => (names.includes(thing.name) ? id : -1)).filter((id) => id >= 0);
      this.steps.push({ isSump, things: step.things, gone, loose, aside, moves, undoneAt, first, end: at });
    });
    this.end = at;
    this.marked = new Set(this.steps.flatMap((step) => [...step.things, ...step.loose, ...step.aside]));
    // A leaf that is not in by the file stands in the place of another, and what is around shows what "out" is: both are
    // shown while it plays.
    this.also = new Set(steps.flatMap((s) => [...s.things, ...s.undone]).filter((id) => things[id].group === 'spare'));
    things.forEach((thing, id) => { if (thing.group === 'cabinet') this.also.add(id); });
  }

  /** Where everything that moves comes to. */
  reach() {
    const all = new Box3();
    const place = new Object3D();
    for (const { things, moves } of this.steps) {
      for (const node of things.map((id) => this.model.things[id]).filter(Boolean)) {
        home(node);
        node.updateMatrixWorld(true);
        const box = new Box3().setFromObject(node);
        for (const { pose } of moves) {
          for (const share of [0, 0.5, 1]) {
            pose(place, share);
            place.updateMatrix();
            all.union(box.clone().applyMatrix4(place.matrix));
          }
        }
      }
    }
    return all;
  }

  words(t) {
    return this.stops.filter((stop) => stop.at <= t + 1e-6).at(-1)?.words ?? '';
  }

  /** Puts everything where it is at `t`; `isShown` tells what is switched on. */
  show(t, isShown) {
    const { things } = this.model;
    const isSeen = (id) => isShown(id) || this.also.has(id);
    for (const id of this.also) if (things[id]) things[id].visible = true;
    const [moved, aside] = [new Set(), new Set()];
    const isNotYet = (id, k) => t < this.steps[k].undoneAt && this.steps.slice(0, k).some((step) => step.things.includes(id));
    this.steps.forEach((step, k) => {
      const isLast = k === this.steps.length - 1;
      const isOut = t >= step.end && !isLast;
      const isOn = t >= step.undoneAt && !isOut;
      for (const id of step.things) {
        const node = things[id];
        // What moves twice is where it came to until it moves again.
        if (!node || isNotYet(id, k)) continue;
        node.visible = !isOut && isSeen(id);
        const move = step.moves.filter((m) => m.at[0] <= t).at(-1);
        if (move) move.pose(node, Math.min(1, (t - move.at[0]) / Math.max(move.at[1] - move.at[0], 1e-6)));
        else home(node);
      }
      for (const id of step.gone) if (things[id]) things[id].visible = t < step.undoneAt && isSeen(id);
      // Marked while it is told that they are loosened; then only their outline is left where they were.
      for (const id of step.loose) {
        if (!things[id]) continue;
        things[id].visible = !isOut && isSeen(id);
        this.model.outline(id, t >= step.first);
      }
      if (isOn) for (const id of [...step.things, ...step.loose]) moved.add(id);
      if (isOn) for (const id of step.aside) aside.add(id);
    });
    this.water.root.visible = !this.steps.some((step) => step.isSump && t >= step.undoneAt);
    for (const id of this.marked) {
      this.model.mark(id, 'picked', false);
      this.model.mark(id, 'moved', false);
      if (aside.has(id)) this.model.mark(id, 'picked', true);
      if (moved.has(id)) this.model.mark(id, 'moved', true);
    }
  }

  /** Everything back in its place. */
  restore(isShown) {
    this.water.root.visible = true;
    for (const id of [...this.marked, ...this.steps.flatMap((step) => step.gone), ...this.also]) {
      const node = this.model.things[id];
      if (!node) continue;
      home(node);
      node.visible = isShown(id);
      this.model.outline(id, false);
      for (const what of ['moved', 'picked']) this.model.mark(id, what, false);
    }
  }
}
