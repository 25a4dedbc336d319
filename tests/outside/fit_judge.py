"""Judges clearances and ways out with `fcl`, an independent library of collisions.

The bodies come as convex pieces from `checks/fit.json`; that these are the parts as they are made is seen
by their volumes and boxes against the STL files, read by `trimesh`. Every way out is played in small steps from
its place to outside; then once more with all that stands moved by a millimetre, when it must hit.
"""

import itertools
import json
from functools import cache, cached_property

import numpy as np
import trimesh

import judging
from bodies import Motion, Piece, first_hit, gap

SOURCE = judging.versions("python-fcl", "scipy", "numpy", "trimesh")
# Gaps of planar bodies, mm.
GAP_MM = 1e-6
# What moves all that stands, to see that the judge can find a hit.
MUTATION_MM = 1.0
# Directions to all sides: along axes first, then between two and three of them.
AROUND = np.array(sorted(itertools.product((-1.0, 0.0, 1.0), repeat=3), key=np.linalg.norm)[1:])
AROUND /= np.linalg.norm(AROUND, axis=1)[:, None]
# What lies between these directions is met by so many times its distance: 1 over the cosine of 27.4°, and more.
FARTHER = 1.2
# Round sides of the STL files are chords within this, mm.
STL_CHORD_MM = 0.05
# A part is outside when it is beyond the door's plane, up to rounding.
ROUNDING_MM = 1e-6


def judge(folder, rows):
    told = judging.expectations(folder, "fit")
    things = [Thing(folder, thing) for thing in told["things"]]
    for thing in things:
        judge_pieces(thing, rows)
    judge_clearances(told, things, rows)
    seen = {}
    for way in told["ways"]:
        for step in way["steps"]:
            key = json.dumps([step["things"], sorted(step["gone"]), step["moves"], step["pieces"]])
            if key not in seen:
                seen[key] = True
                judge_step(told, things, step, way["removable"], rows)
        if way["verdict"] == "found":
            rows.equal("ways out: the last step takes out what was asked for", way["removable"], way["steps"][-1]["name"], way["removable"])
    judge_emptying(told, things, rows, seen)
    judge_mutation(told, things, rows)


class Thing:
    """A body in its place."""

    def __init__(self, folder, told):
        self.name = told["name"]
        self.is_in_place = told["is_in_place"]
        self.is_planar = told["is_planar"]
        self.chord_mm = told["chord_mm"]
        self.pieces = [Piece(points) for points in told["pieces"]]
        self.points = told["pieces"]
        self.stl = folder / told["stl"] if told["stl"] else None
        self.pose = np.array(told["pose"]).reshape(4, 3).T if told["pose"] else None

    @cache
    def smaller(self, by_mm):
        """Its pieces as they are moved."""
        return [Piece(points, by_mm) for points in self.points]

    @cached_property
    def bounds(self):
        return np.array([np.min([p.low for p in self.pieces], 0), np.max([p.high for p in self.pieces], 0)])


@cache
def mesh_of(path):
    return trimesh.load_mesh(path)


def judge_pieces(thing, rows):
    """The pieces fill what the STL file says, no more and no less, within the chords of round sides."""
    if thing.stl is None:
        return
    mesh = mesh_of(thing.stl)
    volume = sum(piece.volume for piece in thing.pieces)
    # Each chord leaves out less than its length times the chord error; so a surface, all of it round.
    allowed = float(1e-6 * volume if thing.is_planar else (thing.chord_mm + STL_CHORD_MM) * mesh.area)
    rows.number("fit: volume of the convex pieces against the STL, mm³", thing.name, volume, mesh.volume, allowed)
    placed = mesh.vertices @ thing.pose[:, :3].T + thing.pose[:, 3]
    limit = 1e-3 if thing.is_planar else thing.chord_mm + STL_CHORD_MM
    theirs = np.array([placed.min(0), placed.max(0)])
    rows.number("fit: box around the convex pieces against the STL, worst side, mm", thing.name, np.abs(thing.bounds - theirs).max(), 0.0, limit)


def judge_clearances(told, things, rows):
    """Gaps by `fcl`, and that no near pair was left out."""
    told_pairs = {}
    for clearance in told["clearances"]:
        if clearance["when"] is None:
            told_pairs[frozenset((clearance["a"], clearance["b"]))] = clearance
    touching = {frozenset(pair) for pair in told["touching"]}
    near = told["near_mm"]
    standing = [k for k, thing in enumerate(things) if thing.is_in_place]
    for i, a in enumerate(standing):
        for b in standing[i + 1 :]:
            pair = frozenset((a, b))
            apart = np.maximum(np.maximum(things[a].bounds[0] - things[b].bounds[1], things[b].bounds[0] - things[a].bounds[1]), 0.0)
            if pair in touching or np.linalg.norm(apart) > near:
                continue
            theirs = gap(things[a].pieces, things[b].pieces)
            names = f"{things[a].name} and {things[b].name}"
            ours = told_pairs.get(pair)
            if ours is None:
                rows.equal("fit: near pair that is told", names, "told", "told" if theirs > near - GAP_MM else "left out")
                continue
            is_planar = things[a].is_planar and things[b].is_planar
            limit = GAP_MM if is_planar else things[a].chord_mm + things[b].chord_mm + GAP_MM
            kind = "planar bodies" if is_planar else "round bodies"
            rows.number(f"fit: gap of {kind}, mm", names, max(0.0, ours["gap_mm"]), theirs, limit)
            at = np.array(ours["at"])
            if ours["gap_mm"] > 0.0:
                rows.number("fit: the nearest points are as far apart as told, mm", names, ours["gap_mm"], np.linalg.norm(at[0] - at[1]), 1e-6)


def moving(told, things, step):
    if step["pieces"]:
        return [Piece(points, told["allowance_mm"]) for points in step["pieces"]]
    return [piece for k in step["things"] for piece in things[k].smaller(told["allowance_mm"])]


def standing_around(things, step):
    absent = set(step["gone"]) | set(step["things"])
    pairs = [(piece, thing.name) for k, thing in enumerate(things) if thing.is_in_place and k not in absent for piece in thing.pieces]
    return [piece for piece, _ in pairs], [name for _, name in pairs]


def judge_step(told, things, step, of, rows):
    name = step["name"] if step["name"] == of else f"{step['name']}, for {of}"
    pieces = moving(told, things, step)
    motions = [Motion(move) for move in step["moves"]]
    obstacles, owners = standing_around(things, step)
    points = np.vstack([piece.points for piece in pieces])
    at, joins = points, 0.0
    for motion in motions:
        begin, end = motion.ends(points)
        joins = max(joins, np.abs(begin - at).max())
        at = end
    rows.number("ways out: moves begin where the last one ended, mm", name, joins, 0.0, 1e-6)
    rows.equal("ways out: the part ends outside", name, True, is_outside(told["exits"], at))
    hit, _ = first_hit(pieces, motions, obstacles, owners)
    rows.equal("ways out: nothing is hit on the way, in steps of 0.5 mm", name, None, hit)


def is_outside(exits, points):
    doors = exits["doors"]
    if not doors:
        return bool(points[:, 2].min() >= exits["rim_z"] - ROUNDING_MM)
    return any(bool((points @ np.array(door["out"])).min() >= door["beyond"] - ROUNDING_MM) for door in doors)


def judge_emptying(told, things, rows, seen):
    """Everything comes out in the order told: each with exactly those gone that went before."""
    gone = set()
    for step in told["emptying"]:
        missing = gone - set(step["gone"])
        extra = {things[k].name for k in set(step["gone"]) - gone if things[k].is_in_place}
        rows.equal("ways out: in the order of the emptying, those before are gone", step["name"], [], sorted(missing))
        key = json.dumps([step["things"], sorted(step["gone"]), step["moves"], step["pieces"]])
        if key not in seen:
            seen[key] = True
            judge_step(told, things, step, step["name"], rows)
        gone |= set(step["things"]) | ({k for k in step["gone"] if things[k].name in extra})


def judge_mutation(told, things, rows):
    """With all that stands moved by a millimetre a part cannot leave as told if anything is nearer than that.
    The judge must find it of every leaf, whose guides hold it nearer, and so of all else that stands on or beside
    something: moved along an axis, one way or the other, that must hit. What hangs free of all by more, such as a
    pipe on a hose or a probe on its clip, cannot be hit by so little; of that all is moved by its own gap and a
    fifth, and a millimetre, towards it from somewhere.
    """
    hits = 0
    for step in told["emptying"]:
        pieces = moving(told, things, step)
        motions = [Motion(move) for move in step["moves"]]
        obstacles, owners = standing_around(things, step)
        if not obstacles:
            continue  # a sump without a cabinet, emptied: nothing is left that it could hit
        moved_by = [[MUTATION_MM] * 3, [-MUTATION_MM] * 3]
        is_hit = is_hit_by(moved_by, pieces, motions, obstacles, owners)
        if step["name"].startswith("leaf"):
            rows.equal("ways out: a leaf hits with all that stands moved by 1 mm", step["name"], True, is_hit)
        else:
            axes = list(MUTATION_MM * np.vstack([np.eye(3), -np.eye(3)]))
            is_hit = is_hit or is_hit_by(axes, pieces, motions, obstacles, owners)
            free_mm = gap(pieces, obstacles)
            # Beside a corner it takes more than along an axis.
            if is_hit or free_mm < MUTATION_MM / np.sqrt(3.0):
                rows.equal("ways out: another part hits with all that stands moved by 1 mm", step["name"], True, is_hit)
            else:
                moved_by = list((FARTHER * free_mm + MUTATION_MM) * AROUND)
                is_met = is_hit_by(moved_by, pieces, motions[:1], obstacles, owners)
                rows.equal("ways out: a part that hangs free hits with all that stands moved by 1.2 times its gap and 1 mm", step["name"], True, is_met)
        hits += is_hit
    rows.equal("ways out: hits with all that stands moved by 1 mm", rows.on, True, hits > 0)


def is_hit_by(moved_by, pieces, motions, obstacles, owners):
    return any(first_hit(pieces, motions, obstacles, owners, by)[0] is not None for by in moved_by)


def damage(change):
    def apply(folder):
        path = folder / "checks" / "fit.json"
        told = json.loads(path.read_text(encoding="utf-8"))
        if not change(told):
            return False
        path.write_text(json.dumps(told), encoding="utf-8")
        return True

    return apply


def wider_gap(told):
    for clearance in told["clearances"]:
        if clearance["when"] is None and clearance["gap_mm"] > 0.0:
            clearance["gap_mm"] += 1e-3
            return True
    return False


def moved_leaf(told):
    """A leaf that stands elsewhere than its file says."""
    for thing in told["things"]:
        if thing["name"].startswith("leaf") and thing["is_in_place"] and thing["stl"]:
            thing["pieces"] = [[[x, y + 3.0, z] for x, y, z in piece] for piece in thing["pieces"]]
            return True
    return False


def bent_way(told):
    """A leaf is drawn aside on its first move and back on its second, so that only playing the way can tell."""
    for step in told["emptying"]:
        if step["name"].startswith("leaf") and len(step["moves"]) > 1:
            for end in (step["moves"][0]["to"], step["moves"][1]["from"]):
                end["shift"][0] += 30.0
            return True
    return False


def shortened_way(told):
    for step in told["emptying"]:
        if len(step["moves"]) > 1:
            step["moves"] = step["moves"][:-1]
            return True
    return False


def left_out_pair(told):
    near = [k for k, c in enumerate(told["clearances"]) if c["when"] is None and c["gap_mm"] < 20.0]
    if near:
        del told["clearances"][near[0]]
    return bool(near)


DAMAGES = {
    "a gap told 1 µm wider": damage(wider_gap),
    "a near pair left out": damage(left_out_pair),
    "a leaf moved by 3 mm in its place": damage(moved_leaf),
    "a way bent by 30 mm between two moves": damage(bent_way),
    "the last move of a way left out": damage(shortened_way),
}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)
