"""Puzzles by `ompl`, an independent planner, with `fcl` to say which poses are free.

Takes the obstacles and the body of a puzzle as our planner printed them; where the part begins and what is out
is the same. Its planners look for one pose that is out, so it is given one: as near to the way out as can be.
The budget is counted in poses looked at, so that a run with the same seed repeats. All lengths in mm.
"""

import math
import time

import fcl
import numpy as np
from ompl import base, geometric, util
from scipy.spatial.transform import Rotation

from bodies import Motion, Piece

# How far two neighbouring poses of an edge may be apart, as a share of the room.
RESOLUTION = 1e-3

util.setLogLevel(util.LOG_NONE)


def set_seed(seed):
    """Once for each process, before anything is planned."""
    util.RNG.setSeed(seed)


class Task:
    """One puzzle as `ompl` needs it: the body, the room for its middle, and a pose that is out."""

    def __init__(self, line):
        [self.body] = [Piece(points, line["allowance_mm"]) for points in line["body"]]
        self.obstacles = [Piece(points) for points in line["obstacles"]]
        size, measures = 2.0 * self.body.half, line["measures_mm"]
        if line["puzzle"] == "board through a hole":
            above = max(o.high[2] for o in self.obstacles)
            self.goal = np.array([0.0, 0.0, above + size[2] / 2.0 + 10.0])
            self.turn = Rotation.identity()
            self.room = np.array([[-300.0, -300.0, -size[2]], [300.0, 300.0, size[2]]])
        else:
            a, b, h, length = (measures[name] for name in ("a", "b", "height", "length"))
            self.goal = np.array([a + length / 2.0 + 60.0, b / 2.0, h / 2.0])
            self.turn = Rotation.from_euler("z", -90.0, degrees=True)
            self.room = np.array([[0.0, -0.7 * length - 60.0, 0.0], [a + 0.7 * length + 60.0, b, h]])
        self.start = self.body.middle


class Level:
    """A part that stays level: two lengths and an angle, SE(2)."""

    def __init__(self, task):
        self.space, self.height = base.SE2StateSpace(), task.start[2]
        self.space.setBounds(bounds(task.room[:, :2]))

    def state(self, middle, turn):
        state = self.space.allocState()
        state.setX(float(middle[0]))
        state.setY(float(middle[1]))
        state.setYaw(float(turn.as_euler("xyz")[2]))
        return state

    def pose(self, state):
        """The middle, and a quaternion as w, x, y, z."""
        half = state.getYaw() / 2.0
        return np.array([state.getX(), state.getY(), self.height]), np.array([math.cos(half), 0.0, 0.0, math.sin(half)])


class Free:
    """A part that moves as it likes: SE(3)."""

    def __init__(self, task):
        self.space = base.SE3StateSpace()
        self.space.setBounds(bounds(task.room))

    def state(self, middle, turn):
        state = self.space.allocState()
        state.setX(float(middle[0]))
        state.setY(float(middle[1]))
        state.setZ(float(middle[2]))
        rotation = state.rotation()
        rotation.x, rotation.y, rotation.z, rotation.w = map(float, turn.as_quat())
        return state

    def pose(self, state):
        q = state.rotation()
        return np.array([state.getX(), state.getY(), state.getZ()]), np.array([q.w, q.x, q.y, q.z])


def bounds(room):
    bounds = base.RealVectorBounds(room.shape[1])
    for k, (low, high) in enumerate(room.T):
        bounds.setLow(k, float(low))
        bounds.setHigh(k, float(high))
    return bounds


class Answer:
    """What a planner found: `motions` is `None` when nothing."""

    def __init__(self, motions, seconds, poses):
        self.motions, self.seconds, self.poses = motions, seconds, poses


def solve(task, planner, is_level, most_poses=math.inf, most_seconds=math.inf):
    """One run of a planner of `ompl` by its name."""
    kind = (Level if is_level else Free)(task)
    moving = fcl.CollisionObject(task.body.shape, fcl.Transform())
    standing = [obstacle.stands for obstacle in task.obstacles]
    request, poses, begun = fcl.CollisionRequest(), 0, time.perf_counter()

    def is_free(state):
        nonlocal poses
        poses += 1
        middle, turn = kind.pose(state)
        moving.setTransform(fcl.Transform(turn, middle))
        return not any(fcl.collide(moving, body, request, fcl.CollisionResult()) for body in standing)

    setup = geometric.SimpleSetup(kind.space)
    setup.setStateValidityChecker(is_free)
    space = setup.getSpaceInformation()
    space.setStateValidityCheckingResolution(RESOLUTION)
    setup.setStartAndGoalStates(kind.state(task.start, Rotation.identity()), kind.state(task.goal, task.turn), 1e-3)
    setup.setPlanner(getattr(geometric, planner)(space))
    setup.solve(base.PlannerTerminationCondition(lambda: poses >= most_poses or time.perf_counter() - begun >= most_seconds))
    seconds = time.perf_counter() - begun
    if not setup.haveExactSolutionPath():
        return Answer(None, seconds, poses)
    states = [kind.pose(state) for state in setup.getSolutionPath().getStates()]
    return Answer([motion(task, *pair) for pair in zip(states, states[1:])], seconds, poses)


def motion(task, begin, end):
    """Between two poses the middle goes straight while the part turns by the shortest way, as `ompl` takes it."""
    told = {"pivot": task.start}
    for name, (middle, turn) in (("from", begin), ("to", end)):
        w, *xyz = turn
        told[name] = {"turn": [*xyz, w], "shift": middle - Rotation.from_quat([*xyz, w]).apply(task.start)}
    return Motion(told)
