"""Judges what the planner says of puzzles with a known answer, from `puzzles.jsonl`:

    cargo run --release -p fit --example puzzles

The critical size is computed anew from its closed form, the room is measured from the obstacles, every way that
was found is played with `fcl` in small steps, and then once more with the obstacles moved by a millimetre. A
planner of `ompl` solves two of the puzzles too, at sizes that it can.
"""

import json
import math
import sys
from collections import defaultdict

import numpy as np
from scipy.optimize import brentq, minimize_scalar
from shapely import box, union_all

import judging
import puzzle_planning
from bodies import Motion, Piece, first_hit

REPLAYED = judging.versions("python-fcl", "scipy", "numpy")
PLANNED = judging.versions("ompl", "python-fcl")
SIZES = 20
MUTATION_MM = 1.0
# What `ompl` is asked: a kind of which the part stays level or not, and what share of its size it has.
ASKED = [("rod round a corner", True, 0.95), ("leaning rod round a corner", False, 0.8)]
PLANNER, MOST_POSES, SEED = "RRTConnect", 200_000, 1


def judge(folder, rows):
    kinds = judge_answers(folder, rows)
    rows.source = PLANNED
    judge_planned(kinds, rows)


def judge_answers(folder, rows):
    """Ours; returns the lines by their kind."""
    lines = [json.loads(line) for line in (folder / "puzzles.jsonl").read_text(encoding="utf-8").splitlines()]
    kinds = defaultdict(list)
    for line in lines:
        kinds[line["puzzle"]].append(line)
    rows.source = "puzzle_judge.py"
    rows.equal("puzzles: all kinds are told", "puzzles.jsonl", ", ".join(sorted(KINDS)), ", ".join(sorted(kinds)))
    for name, told in kinds.items():
        judge_kind(KINDS[name], name, told, rows)
    return kinds


def judge_kind(kind, name, lines, rows):
    below = [line for line in lines if line["share"] < 1.0]
    rows.source = kind.source
    for shown, group in (("below", below), ("above", [line for line in lines if line["share"] >= 1.0])):
        sizes = len({json.dumps(line["measures_mm"]) for line in group})
        rows.equal(f"puzzles: different sizes {shown} the critical one", name, SIZES, sizes)
    for line in lines:
        part = f"{name}, " + ", ".join(f"{key} {value:.1f}" for key, value in line["measures_mm"].items())
        measures, body = line["measures_mm"], np.array(line["body"][0])
        rows.source = kind.source
        share = float(measures[kind.varies] / kind.critical(measures))
        rows.number(f"puzzles: {name}, share of the critical size", part, line["share"], share, kind.same, relative=True)
        rows.equal(f"puzzles: {name}, found at {100.0 * line['share']:g} % of the critical size", part, line["verdict"] == "found", share < 1.0)
        rows.source = "shapely, numpy"
        sides = sorted(body.max(0) - body.min(0))
        rows.number("puzzles: the body is as large as told, worst side, mm", part, np.abs(np.array(sides) - sorted(kind.body(measures))).max(), 0.0, 1e-9)
        rows.number("puzzles: the room is as wide as told, mm² that differ", part, kind.differs(measures, line["obstacles"]), 0.0, 1e-6)
        if line["verdict"] == "found":
            rows.source = REPLAYED
            judge_way(kind, line, part, rows)
    rows.source = REPLAYED
    hits = sum(1 for line in below if line["moves"] and any(play(line, by) for by in moved(MUTATION_MM)))
    rows.equal("puzzles: some way hits with the obstacles moved by 1 mm", name, True, hits > 0)


def judge_way(kind, line, part, rows):
    points = np.vstack([piece.points for piece in body_of(line)])
    at, joins = points, 0.0
    for motion in (Motion(move) for move in line["moves"]):
        begin, end = motion.ends(points)
        joins, at = max(joins, np.abs(begin - at).max()), end
    rows.number("puzzles: moves begin where the last one ended, mm", part, joins, 0.0, 1e-6)
    rows.equal("puzzles: the part ends outside", part, True, bool((at[:, kind.axis] >= kind.beyond(line)).all()))
    rows.equal("puzzles: nothing is hit on the way, in steps of 0.5 mm", part, None, play(line))


def body_of(line):
    return [Piece(points, line["allowance_mm"]) for points in line["body"]]


def play(line, moved_by=(0.0, 0.0, 0.0)):
    """The first obstacle that is hit."""
    obstacles = [Piece(points) for points in line["obstacles"]]
    owners = [f"obstacle {k}" for k in range(len(obstacles))]
    hit, _ = first_hit(body_of(line), [Motion(move) for move in line["moves"]], obstacles, owners, moved_by)
    return hit


def moved(by):
    return [[by, by, 0.0], [-by, -by, 0.0], [0.0, 0.0, by], [0.0, 0.0, -by]]


def judge_planned(kinds, rows):
    """`ompl` finds ways as well, with our obstacles; its ways are played like ours."""
    puzzle_planning.set_seed(SEED)
    for name, is_level, share in ASKED:
        for line in [line for line in kinds[name] if line["share"] < 1.0][:SIZES]:
            smaller = shrunk(line, KINDS[name], share)
            part = ", ".join(f"{key} {value:.1f}" for key, value in smaller["measures_mm"].items())
            task = puzzle_planning.Task(smaller)
            answer = puzzle_planning.solve(task, PLANNER, is_level, most_poses=MOST_POSES)
            rows.equal(f"puzzles: {name}, found by ompl at {100.0 * share:g} % where we find it larger", part, line["verdict"] == "found", answer.motions is not None)
            if answer.motions:
                hit, _ = first_hit([task.body], answer.motions, task.obstacles, range(len(task.obstacles)))
                rows.equal("puzzles: nothing is hit on the way of ompl, in steps of 0.5 mm", part, None, hit)


def shrunk(line, kind, share):
    """The same puzzle with a shorter rod, its front end where it was."""
    measures = dict(line["measures_mm"])
    measures["length"] = share * kind.critical(measures)
    body = np.array(line["body"][0])
    is_front = body[:, 1] > body[:, 1].mean()
    body[~is_front, 1] = body[is_front, 1].max() - measures["length"]
    return {**line, "measures_mm": measures, "body": [body.tolist()]}


class Corner:
    """A bar of breadth `t` round a right-angled corner of corridors `a` and `b` wide. At the angle φ to the first
    corridor its inner side touches the inner corner, and its ends the outer walls: its length is then
    a/sin φ + b/cos φ − t/(sin φ cos φ), and the least over φ passes. Derived here; for t = 0 it is the ladder round
    the corner of textbooks of calculus, (a^⅔ + b^⅔)^(3/2). What may lean in corridors `h` high is longer by its rise.
    """

    varies, axis = "length", 0
    # Ours is the least of 200 000 angles; at a flat minimum that is near.
    same = 1e-8

    def __init__(self, leans):
        self.leans = leans
        self.source = judging.versions("scipy") + ", ladder round a corner"

    def critical(self, m):
        a, b, t = m["a"], m["b"], m["thickness"]
        length = lambda phi: (a * math.cos(phi) + b * math.sin(phi) - t) / (math.sin(phi) * math.cos(phi))
        # At the angle of the thin rod the minimum of the thick one is near.
        thin = math.atan((a / b) ** (1.0 / 3.0))
        least = minimize_scalar(length, bounds=(thin - 0.1, thin + 0.1), method="bounded", options={"xatol": 1e-9}).fun
        return math.hypot(least, m["height"] - t) if self.leans else least

    def body(self, m):
        return [m["thickness"], m["thickness"], m["length"]]

    def beyond(self, line):
        return line["measures_mm"]["a"]

    def differs(self, m, obstacles):
        """The plan between floor and ceiling is an L, and between both there is as much as told."""
        far = 1000.0
        free = box(0.0, -far, m["a"], m["b"]).union(box(0.0, 0.0, far, m["b"]))
        upright = box(-far, 0.0, far, m["height"]).intersection(box(1.0, -far, m["a"] - 1.0, far))
        return (
            section(obstacles, 2, m["height"] / 2.0, box(-1.0, -far, far, m["b"] + 1.0)).symmetric_difference(free).area
            + section(obstacles, 1, -far, box(1.0, -10.0, m["a"] - 1.0, m["height"] + 10.0)).symmetric_difference(upright).area
        )


class Opening:
    """A sheet of breadth `t` through a rectangular opening a × b: its section is a rectangle in a rectangle. With
    p ≥ q in A ≥ B, p > A: B ≥ (2pqA + (p² − q²) √(p² + q² − A²)) / (p² + q²); W. B. Carver, Amer. Math. Monthly 64
    (1957) 114, from memory.
    """

    varies, axis, source = "width", 2, judging.versions("scipy") + ", Carver 1957"
    # Ours is the greatest of 200 000 angles, at a peak with a kink: a step of the angle off, 8e-6.
    same = 1e-5

    def critical(self, m):
        (large, small), q = sorted((m["a"], m["b"]), reverse=True), m["thickness"]
        needs = lambda p: (2.0 * p * q * large + (p * p - q * q) * math.sqrt(p * p + q * q - large * large)) / (p * p + q * q)
        return brentq(lambda p: needs(p) - small, large, math.hypot(large, small), xtol=1e-12)

    def differs(self, m, obstacles):
        low, high = np.array(obstacles).min((0, 1)), np.array(obstacles).max((0, 1))
        x, y = self.middle(obstacles)
        half = 0.5 * np.array(self.sides(m))
        free = box(x - half[0], y - half[1], x + half[0], y + half[1])
        # Just below the uppermost side, where the rim is.
        return section(obstacles, 2, high[2] - 1.0, box(*low[:2], *high[:2])).symmetric_difference(free).area

    def middle(self, obstacles):
        rim = [o for o in np.array(obstacles) if o[:, 2].max() == np.array(obstacles)[:, :, 2].max()]
        return 0.5 * (np.min([o.min(0) for o in rim], 0) + np.max([o.max(0) for o in rim], 0))[:2]

    def beyond(self, line):
        return np.array(line["obstacles"])[:, :, 2].max()


class Hole(Opening):
    """A long board, upright under a plate."""

    def sides(self, m):
        return [m["a"], m["b"]]

    def body(self, m):
        return [m["thickness"], m["width"], 500.0]


class Rim(Opening):
    """A square plate across a box, whose rim is narrower than it both ways."""

    def sides(self, m):
        return [m["b"], m["a"]]

    def body(self, m):
        return [m["thickness"], m["width"], m["width"]]


KINDS = {
    "rod round a corner": Corner(leans=False),
    "leaning rod round a corner": Corner(leans=True),
    "board through a hole": Hole(),
    "plate under a rim": Rim(),
}


def section(obstacles, axis, at, within):
    """What obstacles leave free of a plane across an axis; all of them are boxes along the axes."""
    others = [k for k in range(3) if k != axis]
    cut = []
    for points in obstacles:
        low, high = np.min(points, 0), np.max(points, 0)
        if low[axis] < at < high[axis]:
            cut.append(box(*low[others], *high[others]))
    return within.difference(union_all(cut))


def damage(change):
    """Changes the lines of the puzzles that are found."""

    def apply(folder):
        path = folder / "puzzles.jsonl"
        lines = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
        if not change([line for line in lines if line["verdict"] == "found"]):
            return False
        path.write_text("".join(json.dumps(line) + "\n" for line in lines), encoding="utf-8")
        return True

    return apply


def wrong_share(found):
    found[0]["share"] -= 1e-3
    return True


def moved_obstacles(found):
    """All of one, the room as wide as before."""
    [line] = [line for line in found if line["puzzle"] == "board through a hole"][:1]
    line["obstacles"] = (np.array(line["obstacles"]) + [5.0, 5.0, 0.0]).tolist()
    return True


def wider_room(found):
    found[0]["obstacles"] = [[[x + 0.1 if x > 1.0 else x, y, z] for x, y, z in points] for points in found[0]["obstacles"]]
    return True


def shortened_way(found):
    found[0]["moves"] = found[0]["moves"][:-1]
    return True


def not_found(found):
    found[-1]["verdict"], found[-1]["moves"] = "not found", []
    return True


DAMAGES = {
    "a share of the critical size told 0.1 % smaller": damage(wrong_share),
    "obstacles moved by 5 mm": damage(moved_obstacles),
    "a corridor 0.1 mm wider than told": damage(wider_room),
    "the last move of a puzzle left out": damage(shortened_way),
    "a puzzle not solved": damage(not_found),
}

if __name__ == "__main__":
    # A damage must be found by what is judged of ours: dice of `ompl` that fall badly would hide one that is not.
    judging.run(judge_answers if "--self-test" in sys.argv else judge, REPLAYED, DAMAGES)
