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


class Piece:
    """A convex piece in its place."""

    def __init__(self, points, smaller_mm=0.0):
        points = np.asarray(points, float)
        low, high = points.min(0), points.max(0)
        if smaller_mm:
            # Towards its own middle, so that each side of its box moves in by as much.
            middle, half = 0.5 * (low + high), 0.5 * (high - low)
            points = middle + (points - middle) * (np.maximum(half - smaller_mm, 1e-3) / half)
        hull = ConvexHull(points)
        corners = sorted(set(hull.simplices.ravel()))
        number = {old: new for new, old in enumerate(corners)}
        self.points = points[corners]
        self.low, self.high = self.points.min(0), self.points.max(0)
        self.volume = hull.volume
        # Planes n·p + d <= 0 of its inside.
        self.planes = hull.equations
        middle = self.points.mean(0)
        faces = []
        for corners_of_face, plane in zip(hull.simplices, hull.equations):
            a, b, c = points[corners_of_face]
            if np.dot(np.cross(b - a, c - a), plane[:3]) < 0.0:
                corners_of_face = corners_of_face[::-1]
            faces += [3, *(number[k] for k in corners_of_face)]
        self.middle = middle
        self.shape = self._as_box() or fcl.Convex(self.points - middle, len(hull.simplices), np.array(faces))
        if isinstance(self.shape, fcl.Box):
            self.middle = 0.5 * (self.low + self.high)

    def _as_box(self):
        """An exact box where it is one: `fcl` measures boxes without iterating."""
        if len(self.points) != 8:
            return None
        is_corner = np.all((self.points == self.low) | (self.points == self.high), axis=1)
        return fcl.Box(*(self.high - self.low)) if is_corner.all() else None

    def standing(self, moved_by=(0.0, 0.0, 0.0)):
        """As a body that stays where it is."""
        return fcl.CollisionObject(self.shape, fcl.Transform(self.middle + np.asarray(moved_by)))


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

    `obstacles` are pieces that stand; `owners` says whose each is.
    """
    standing = [obstacle.standing(moved_by) for obstacle in obstacles]
    low = np.array([o.low for o in obstacles]).reshape(-1, 3) + moved_by
    high = np.array([o.high for o in obstacles]).reshape(-1, 3) + moved_by
    points = np.vstack([piece.points for piece in pieces])
    moving = [fcl.CollisionObject(piece.shape, fcl.Transform()) for piece in pieces]
    request = fcl.CollisionRequest()
    looked_at = 0
    for motion in motions:
        turns, shifts = motion.poses(points)
        for begin in range(0, len(turns), TOGETHER):
            turn, shift = turns[begin : begin + TOGETHER], shifts[begin : begin + TOGETHER]
            looked_at += len(turn)
            for piece, body in zip(pieces, moving):
                at = piece.points @ turn.transpose(0, 2, 1) + shift[:, None, :]
                lows, highs = at.min(1), at.max(1)
                about = np.flatnonzero(((lows.min(0) <= high) & (highs.max(0) >= low)).all(1))
                if not len(about):
                    continue
                near = ((lows[:, None] <= high[about]) & (highs[:, None] >= low[about])).all(2)
                for pose, k in np.argwhere(near):
                    obstacle = about[k]
                    middle = turn[pose] @ piece.middle + shift[pose]
                    body.setTransform(fcl.Transform(turn[pose], middle))
                    if fcl.collide(body, standing[obstacle], request, fcl.CollisionResult()):
                        return owners[obstacle], looked_at
    return None, looked_at


def gap(a, b):
    """Least distance of two lists of pieces; 0 where they touch or share room."""
    least = np.inf
    for one in a:
        for other in b:
            apart = np.maximum(np.maximum(one.low - other.high, other.low - one.high), 0.0)
            if np.linalg.norm(apart) < least:
                least = min(least, max(0.0, fcl.distance(one.standing(), other.standing(), fcl.DistanceRequest(), fcl.DistanceResult())))
    return least
