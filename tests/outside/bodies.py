"""Convex bodies for the judges of fit: from corners to `fcl` shapes, and sweeps of them along motions.

Shares no code and no argument with the planner: it plays a motion in steps in which no point of the part moves
more than `STEP_MM`, and asks `fcl` at each. All lengths in mm.
"""

import fcl
import numpy as np
from scipy.spatial import ConvexHull
from scipy.spatial.transform import Rotation

STEP_MM = 0.5
# Poses that are looked at together.
TOGETHER = 64
# What boxes around turned pieces are made larger, so that rounding leaves out nothing.
ROUNDING_MM = 1e-6


class Piece:
    """A convex piece in its place."""

    def __init__(self, points, smaller_mm=0.0):
        points = np.asarray(points, float)
        low, high = points.min(0), points.max(0)
        if smaller_mm:
            # Towards its own middle, so that each side of its box moves in by as much.
            middle, half = 0.5 * (low + high), 0.5 * (high - low)
            points = middle + (points - middle) * (np.maximum(half - smaller_mm, 1e-3) / half)
        self.low, self.high = points.min(0), points.max(0)
        self.middle = 0.5 * (self.low + self.high)
        self.half = 0.5 * (self.high - self.low)
        is_corner = np.all((points == self.low) | (points == self.high), axis=1)
        if is_corner.all() and len(np.unique(points, axis=0)) == 8:
            # An exact box: `fcl` measures boxes without iterating.
            self.points, self.shape = points, fcl.Box(*(2.0 * self.half))
            self.volume = float(np.prod(2.0 * self.half))
        else:
            self._as_hull(points)
        self.stands = fcl.CollisionObject(self.shape, fcl.Transform(self.middle))

    def _as_hull(self, points):
        hull = ConvexHull(points)
        self.points, self.volume = points[hull.vertices], hull.volume
        number = np.empty(len(points), int)
        number[hull.vertices] = np.arange(len(hull.vertices))
        # Corners of each face counter-clockwise seen from outside.
        a, b, c = (points[hull.simplices[:, k]] for k in range(3))
        is_turned = np.einsum("ij,ij->i", np.cross(b - a, c - a), hull.equations[:, :3]) < 0.0
        faces = number[hull.simplices]
        faces[is_turned] = faces[is_turned][:, ::-1]
        counted = np.column_stack([np.full(len(faces), 3), faces]).ravel()
        self.shape = fcl.Convex(self.points - self.middle, len(faces), counted)


class Motion:
    """One point of the part goes straight while the part turns about it at a constant rate."""

    def __init__(self, told):
        self.turn = [Rotation.from_quat(told[end]["turn"]) for end in ("from", "to")]
        self.shift = [np.array(told[end]["shift"]) for end in ("from", "to")]
        self.pivot = np.array(told["pivot"])

    def ends(self, points):
        """Where points of the part are at both ends."""
        return [turn.apply(points) + shift for turn, shift in zip(self.turn, self.shift)]

    def poses(self, points):
        """Matrices and shifts of all steps: no point moves more than `STEP_MM` in one."""
        [begin], [end] = self.ends(self.pivot[None])
        turned = (self.turn[0].inv() * self.turn[1]).as_rotvec()
        farthest = np.linalg.norm(points - self.pivot, axis=1).max()
        way = np.linalg.norm(end - begin) + np.linalg.norm(turned) * farthest
        share = np.linspace(0.0, 1.0, max(1, int(np.ceil(way / STEP_MM))) + 1)
        turns = (self.turn[0] * Rotation.from_rotvec(turned * share[:, None])).as_matrix()
        pivots = begin + (end - begin) * share[:, None]
        return turns, pivots - turns @ self.pivot


def first_hit(pieces, motions, obstacles, owners, moved_by=(0.0, 0.0, 0.0)):
    """The owner of the first obstacle that the part hits on its way, and how many poses were looked at.

    `obstacles` are pieces that stand; `owners` says whose each is. Pairs whose boxes are apart are not asked
    about: of a piece that is turned, the box around its turned box, which holds it.
    """
    low = np.array([o.low for o in obstacles]).reshape(-1, 3) + moved_by
    high = np.array([o.high for o in obstacles]).reshape(-1, 3) + moved_by
    standing = [fcl.CollisionObject(o.shape, fcl.Transform(o.middle + moved_by)) for o in obstacles]
    points = np.vstack([piece.points for piece in pieces])
    middles, halves = np.array([p.middle for p in pieces]), np.array([p.half for p in pieces])
    moving = [fcl.CollisionObject(piece.shape, fcl.Transform()) for piece in pieces]
    request = fcl.CollisionRequest()
    looked_at = 0
    for motion in motions:
        turns, shifts = motion.poses(points)
        for begin in range(0, len(turns), TOGETHER):
            turn, shift = turns[begin : begin + TOGETHER], shifts[begin : begin + TOGETHER]
            looked_at += len(turn)
            # By pose, piece and axis.
            at = middles @ turn.transpose(0, 2, 1) + shift[:, None, :]
            reach = halves @ np.abs(turn).transpose(0, 2, 1) + ROUNDING_MM
            lows, highs = at - reach, at + reach
            # Those near the whole part, then near a piece of it, then near it in a pose.
            around = np.flatnonzero(((lows.min((0, 1)) <= high) & (highs.max((0, 1)) >= low)).all(1))
            about = are_near(lows.min(0)[:, None], highs.max(0)[:, None], low[around], high[around])
            mover, obstacle = np.nonzero(about)
            obstacle = around[obstacle]
            near = are_near(lows[:, mover], highs[:, mover], low[obstacle], high[obstacle])
            for pose, k in np.argwhere(near):
                body = moving[mover[k]]
                body.setTransform(fcl.Transform(turn[pose], at[pose, mover[k]]))
                if fcl.collide(body, standing[obstacle[k]], request, fcl.CollisionResult()):
                    return owners[obstacle[k]], looked_at
    return None, looked_at


def are_near(low, high, other_low, other_high):
    """Which boxes meet; axis by axis, which is quicker by far than over a last axis of three."""
    near = (low[..., 0] <= other_high[..., 0]) & (high[..., 0] >= other_low[..., 0])
    for axis in (1, 2):
        near &= (low[..., axis] <= other_high[..., axis]) & (high[..., axis] >= other_low[..., axis])
    return near


def gap(a, b):
    """Least distance of two lists of pieces; 0 where they touch or share room."""
    low, high = (np.array([getattr(p, side) for p in b]) for side in ("low", "high"))
    apart = [np.linalg.norm(np.maximum(np.maximum(p.low - high, low - p.high), 0.0), axis=1) for p in a]
    apart = np.array(apart)
    least = np.inf
    # Those whose boxes are nearest first; boxes are never farther apart than what is in them.
    for k in np.argsort(apart, axis=None, kind="stable"):
        i, j = divmod(int(k), len(b))
        if apart[i, j] >= least:
            break
        least = min(least, max(0.0, fcl.distance(a[i].stands, b[j].stands, fcl.DistanceRequest(), fcl.DistanceResult())))
    return least
