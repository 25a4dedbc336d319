"""Puts the printed files of fittings on what they are made for: sheets of the least and the greatest thickness, pipes,
probes, nuts, holes, each other.

Independent readers: trimesh for meshes, sections and bodies, shapely for what is free in a section, python-fcl for what
touches. `mates` in `checks/fittings.json` says where a fitting meets what, and how much room it promises; everything
else is measured on the STL.
"""

import json
import math
import struct

import numpy
import shapely
import trimesh

import judging
from sections import section

SOURCE = judging.versions("trimesh", "shapely", "python-fcl")
# Single precision, and the slope of legs and cones beside the place that is told.
HAIR_MM = 3e-3
# Chords of round walls, on each side.
CHORD_MM = 0.02
# How far bodies that are put in reach beyond what is open.
BEYOND_MM = 5.0
FAR_MM = 2000.0
# Corners of round bodies that are put in.
SECTIONS = 180


def judge(folder, rows):
    for path in sorted(folder.rglob("checks/fittings.json")):
        home = path.parents[1]
        printer = json.loads(path.read_text(encoding="utf-8"))
        rows.equal("mating: there are mates", str(path.relative_to(folder)), True, bool(printer["mates"]))
        meshes = {}
        for mate in printer["mates"]:
            stl = mate["stl"]
            part = f"{home.relative_to(folder)}/{stl}" if home != folder else stl
            if stl not in meshes:
                meshes[stl] = rows.readable("mating: file", part, lambda: trimesh.load_mesh(home / stl, file_type="stl"))
            if meshes[stl] is not None:
                FORMS[mate["form"]](f"{part} on {mate['with']}", meshes[stl], mate, printer, rows)


def sections(mesh, mate, printer):
    """Above the step at the bed, through the whole height of the mate."""
    low, high = mate["heights_mm"]
    low = max(low, min(2.0 * printer["layer_mm"], 0.5 * high))
    return [section(mesh, low + share * (high - low)) for share in (0.1, 0.5, 0.9)]


# Slots


def judge_slot(part, mesh, mate, printer, rows):
    drawn = mate["made_for_mm"] + mate["play_mm"] + mate["loss_mm"]
    at, along = numpy.array(mate["at_mm"][:2]), numpy.array(mate["along"])
    least, most = mate["size_mm"]
    for shape in sections(mesh, mate, printer):
        here = free(shape, at, along)
        width = here[1] - here[0] if here else math.inf
        rows.number("mating: width of a slot at its ground, mm", part, drawn, width, HAIR_MM)
        if mate["mouth_mm"] is None and mate["play_mm"] < 0.0:
            rows.equal("mating: the least size is held", part, True, bool(width < least))
        if mate["mouth_mm"] is None or here is None:
            continue
        left, right, end = passage(shape, at, along, here)
        straight = right - left
        if mate["mouth_mm"] < 0.0:
            bite = -mate["mouth_mm"]
            rows.within("mating: how far the greatest size is bitten, mm", part, float(max(0.0, most - straight)), bite + HAIR_MM)
            rows.equal("mating: the least size is held", part, True, bool(straight < least))
        else:
            # What is made for the least size is pressed on the greatest.
            asked = mate["made_for_mm"] + min(mate["mouth_mm"], mate["play_mm"])
            rows.number("mating: straight way through a slot, mm", part, asked + mate["loss_mm"], straight, HAIR_MM)
            if mate["play_mm"] <= 0.0:
                rows.within("mating: room of the least size where it is pressed, mm", part, float(max(0.0, straight - least)), HAIR_MM)
    if mate["mouth_mm"] is not None and mate["mouth_mm"] >= 0.0 and mate["play_mm"] > 0.0 and here:
        middle = at + 0.5 * (left + right) * across(along)
        for size in (least, most):
            room = 0.5 * (mate["made_for_mm"] - size + mate["play_mm"])
            sheet = sheet_in(mesh, mate, size, middle, along, end, room)
            rows.within("mating: how much nearer than promised a sheet comes to its slot, mm", part, float(shortfall(mesh, sheet, room)), HAIR_MM)


def across(along):
    return numpy.array([along[1], -along[0]])


def free(shape, at, along):
    """Between which places across from a point nothing is, if there is something on both sides."""
    line = shapely.LineString([at - FAR_MM * across(along), at + FAR_MM * across(along)])
    pieces = [p for p in shapely.get_parts(line.intersection(shape)) if p.length > 1e-6]
    spans = [sorted((numpy.array(p.coords) - at) @ across(along))[:: max(1, len(p.coords) - 1)] for p in pieces]
    left = [span[1] for span in spans if span[1] <= 1e-6]
    right = [span[0] for span in spans if span[0] >= -1e-6]
    if not left or not right or len(left) + len(right) != len(spans):
        return None
    return max(left), min(right)


def passage(shape, at, along, here):
    """What is free of a slot all along, from a point to its mouth, and how far that is. Where a face is open, as for a
    screw, it bounds nothing; nor does anything beyond the tip of the shorter leg."""
    corners = shapely.get_coordinates(shape)
    ways = numpy.unique(numpy.round((corners - at) @ along, 6))
    ways = ways[ways > 1e-6]
    (left, right), end = here, 0.0
    for way in numpy.sort(numpy.concatenate([ways - 1e-6, ways + 1e-6, 0.5 * (ways[1:] + ways[:-1])])):
        span = free(shape, at + way * along, along)
        if span is None:
            continue
        left, right, end = max(left, span[0]), min(right, span[1]), way
    return left, right, end


def sheet_in(mesh, mate, thickness, middle, along, end, room):
    """A sheet in the middle of a slot, off its ground as far as off its faces, standing out of the mouth."""
    low, high = reach(mesh, mate, room)
    start, stop = room + HAIR_MM, end + BEYOND_MM
    box = trimesh.creation.box(extents=[stop - start, thickness, high - low])
    turn = numpy.eye(4)
    turn[:2, 0], turn[:2, 1] = along, [-along[1], along[0]]
    turn[:3, 3] = [*(middle + 0.5 * (start + stop) * along), 0.5 * (low + high)]
    return box.apply_transform(turn)


def reach(mesh, mate, room):
    """Through what is open below and above; off the ground elsewhere."""
    low, high = mate["heights_mm"]
    low = -BEYOND_MM if low < HAIR_MM else low + room + HAIR_MM
    high = high + BEYOND_MM if high > mesh.bounds[1][2] - HAIR_MM else high
    return low, high


def shortfall(mesh, other, room):
    """How much nearer than so far two bodies are; all of it, where one is in the other."""
    manager = trimesh.collision.CollisionManager()
    manager.add_object("fitting", mesh)
    return max(0.0, room - max(0.0, manager.min_distance_single(other)))


# Round holes, and what stands in holes


def judge_bore(part, mesh, mate, printer, rows):
    drawn = mate["made_for_mm"] + mate["play_mm"] + mate["loss_mm"]
    at = shapely.Point(mate["at_mm"][:2])
    for shape in sections(mesh, mate, printer):
        bore = 0.0 if shape.contains(at) else 2.0 * shape.boundary.distance(at)
        rows.number("mating: diameter of a bore, mm", part, drawn, bore, 2.0 * CHORD_MM + HAIR_MM)
    if mate["play_mm"] > 0.0:
        room = 0.5 * (mate["play_mm"] + mate["loss_mm"])
        low, high = reach(mesh, mate, 0.0)
        rod = trimesh.creation.cylinder(radius=0.5 * mate["size_mm"][1], height=high - low, sections=SECTIONS)
        rod.apply_translation([*mate["at_mm"][:2], 0.5 * (low + high)])
        rows.within("mating: how much nearer than promised a rod comes to its bore, mm", part, float(shortfall(mesh, rod, room)), CHORD_MM + HAIR_MM)


def judge_round_peg(part, mesh, mate, printer, rows):
    drawn = mate["made_for_mm"] - mate["play_mm"]
    at = numpy.array(mate["at_mm"][:2])
    for shape in sections(mesh, mate, printer):
        far = numpy.linalg.norm(shapely.get_coordinates(shape) - at, axis=1).max(initial=0.0)
        rows.number("mating: diameter of what stands in a hole, mm", part, drawn, 2.0 * far, HAIR_MM)
        judge_cut(part, mate, 2.0 * far, rows)
    low, high = mate["heights_mm"]
    if mate["play_mm"] > 0.0 and high - low > 1.0:
        # A plate with the hole; its flat pieces around the hole lie outside the circle.
        radius, room = 0.5 * mate["size_mm"][0] / math.cos(math.pi / SECTIONS), 0.5 * mate["play_mm"]
        plate = trimesh.creation.annulus(radius, radius + 20.0, high - low - room, sections=SECTIONS)
        plate.apply_translation([*at, 0.5 * (low + high + room)])
        rows.within("mating: how much nearer than promised a hole comes to what stands in it, mm", part, float(shortfall(mesh, plate, room)), CHORD_MM + HAIR_MM)


def judge_peg(part, mesh, mate, printer, rows):
    drawn = mate["made_for_mm"] - mate["play_mm"]
    at, direction = numpy.array(mate["at_mm"][:2]), numpy.array(mate["across"])
    for shape in sections(mesh, mate, printer):
        line = shapely.LineString([at - FAR_MM * direction, at + FAR_MM * direction])
        ends = (shapely.get_coordinates(line.intersection(shape)) - at) @ direction
        width = float(numpy.ptp(ends)) if len(ends) else 0.0
        # What presses is a bow, and what stands in a round hole is round, which chords cut off.
        is_flat = mate["play_mm"] > 0.0 and mate["with"] != "hole"
        limit = HAIR_MM if is_flat else 2.0 * CHORD_MM + HAIR_MM
        rows.number("mating: width of what stands in an opening, mm", part, drawn, width, limit)
        judge_cut(part, mate, width, rows)


def judge_cut(part, mate, width, rows):
    """What has room goes into the narrowest opening that is cut so; what is pressed holds in the widest."""
    least, most = mate["size_mm"]
    if mate["play_mm"] > 0.0:
        rows.within("mating: how much wider than the narrowest opening something is, mm", part, float(max(0.0, width - least)), HAIR_MM)
    else:
        rows.equal("mating: held in the widest opening", part, True, bool(width > most))


# Others


def judge_stack(part, mesh, mate, _printer, rows):
    """Another one on top: it rests on the flat face, and has its room to all sides."""
    height, room = mate["made_for_mm"], 0.5 * mate["play_mm"]
    rows.equal("mating: one rests on the other", part, [False, True], [hits(mesh, 0, 0, height + dz) for dz in (0.005, -0.01)])
    for turn in numpy.radians([0.0, 100.0, 220.0]):
        moved = [hits(mesh, way * math.cos(turn), way * math.sin(turn), height + 0.005) for way in (room - 0.05, room + 0.05)]
        rows.equal("mating: a stack has its room aside, and no more", part, [False, True], moved)


def hits(mesh, x, y, z):
    manager = trimesh.collision.CollisionManager()
    manager.add_object("lower", mesh)
    return bool(manager.in_collision_single(mesh.copy().apply_translation([x, y, z])))


def judge_corner(part, mesh, mate, printer, rows):
    """Two faces at right angles, as long together as half of each leg at least, and cut off where they would meet."""
    for shape in sections(mesh, mate, printer):
        corners = numpy.array(shapely.get_parts(shape)[0].exterior.coords)
        least, size = corners.min(0), numpy.ptp(corners, axis=0)
        for axis in (0, 1):
            on_face = corners[numpy.abs(corners[:, 1 - axis] - least[1 - axis]) < HAIR_MM][:, axis] - least[axis]
            rows.number("mating: how much of a square corner is cut off, mm", part, mate["made_for_mm"], on_face.min(), HAIR_MM)
            rows.equal("mating: a square corner's face is half a leg long", part, True, bool(numpy.ptp(on_face) >= 0.5 * size[axis] - HAIR_MM))


FORMS = {
    "slot": judge_slot,
    "bore": judge_bore,
    "peg": judge_peg,
    "round peg": judge_round_peg,
    "stack": judge_stack,
    "corner": judge_corner,
}

# Damages


def scale_first(form, of=""):
    """Makes the first fitting with such a mate 1 % larger."""

    def damage(folder):
        for path in sorted(folder.rglob("checks/fittings.json")):
            printer = json.loads(path.read_text(encoding="utf-8"))
            stls = [m["stl"] for m in printer["mates"] if m["form"] == form and of in m["stl"]]
            if stls:
                stl = path.parents[1] / stls[0]
                mesh = trimesh.load_mesh(stl, file_type="stl")
                triangles = (1.01 * mesh.triangles).astype("float32")
                records = b"".join(struct.pack("<12fH", 0.0, 0.0, 0.0, *t.ravel(), 0) for t in triangles)
                stl.write_bytes(stl.read_bytes()[:80] + struct.pack("<I", len(triangles)) + records)
                return True
        return False

    return damage


def change_first(change):
    """Changes what is told of the first mate that it suits."""

    def damage(folder):
        for path in sorted(folder.rglob("checks/fittings.json")):
            printer = json.loads(path.read_text(encoding="utf-8"))
            for mate in printer["mates"]:
                if change(mate):
                    path.write_text(json.dumps(printer), encoding="utf-8")
                    return True
        return False

    return damage


def thicker_sheet(mate):
    """The greatest thickness 0.3 mm more, of a sheet that slides."""
    suits = mate["form"] == "slot" and mate["play_mm"] > 0.0 and (mate["mouth_mm"] or -1.0) > 0.0
    if suits:
        mate["size_mm"][1] += 0.3
        mate["made_for_mm"] += 0.3
    return suits


def thinner_sheet(mate):
    """The least thickness 1 mm less, of a sheet that is gripped."""
    suits = mate["form"] == "slot" and (mate["mouth_mm"] or 0.0) < 0.0 and mate["with"] == "sheet"
    if suits:
        mate["size_mm"][0] -= 1.0
    return suits


def thinner_pressed_sheet(mate):
    """The least thickness 0.1 mm less, of a sheet that is pressed in over its whole length."""
    suits = mate["form"] == "slot" and mate["play_mm"] <= 0.0 and mate["mouth_mm"] == 0.0
    if suits:
        mate["size_mm"][0] -= 0.1
    return suits


def wider_opening(mate):
    """An opening that may be 1 mm wider, of what is pressed in."""
    suits = mate["form"] in ("peg", "round peg") and mate["play_mm"] < 0.0
    if suits:
        mate["size_mm"][1] += 1.0
    return suits


def another_place(mate):
    """A slot told far beside where it is."""
    suits = mate["form"] == "slot"
    if suits:
        mate["at_mm"][0] += 300.0
    return suits


DAMAGES = {
    "a channel 1 % larger": scale_first("slot", "guide-channel"),
    "a clip 1 % larger": scale_first("slot", "lid-clip"),
    "a pipe clip 1 % larger": scale_first("bore", "pipe-clip"),
    "a sock ring 1 % larger": scale_first("round peg", "sock-ring"),
    "a strainer 1 % larger": scale_first("peg", "strainer"),
    "a foot of a stack 1 % larger": scale_first("stack"),
    "a corner block 1 % larger": scale_first("corner"),
    "a sheet that is thicker": change_first(thicker_sheet),
    "a sheet that is thinner": change_first(thinner_sheet),
    "an opening that is wider": change_first(wider_opening),
    "a pressed sheet that is thinner": change_first(thinner_pressed_sheet),
    "a slot beside its place": change_first(another_place),
}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)
