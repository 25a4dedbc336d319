"""Judges the paths of tools, from `tool-paths.jsonl`:

    cargo run -p shop --example tool_paths -- FOLDER 200 params/*.toml

Each cut is simulated by sweeping a circle of the tool along its path, in polygons of `shapely`. What must be left of the
sheet is found from the plate as it was described: outline, cuts and depths.

- The part: what is left around it once the swept area is gone must lie within 0.01 mm of the part *closed by the tool*
  (grown by its radius and shrunk again), which is the part itself but for inner corners that are sharper than the tool
  and gaps narrower than it: no round tool can leave these. And the tool must never be more than 0.01 mm in the part.
- A pocket: within 0.01 mm all of its floor must be swept that the tool can reach without cutting what stands higher
  (the room beside that, *opened by the tool*), and nothing that stands higher.
- Arcs stay arcs: of a radius of the edge's, larger or smaller by the tool's, or of the tool's own radius.
- The order: engraving, pockets, holes, inside cuts, the outline last.

The tool may be reckoned up to 0.002 mm thinner, so that it gets into slots of just its width; it is closed and opened
with a tool that is 0.003 mm thinner.

Of a folder that `sumpwright make` wrote it judges the order of cutting in the DXF of its nested sheets, read by `ezdxf`
(sheet_order.py). Of a folder with sheets written twice, by their edges and by the path of the tool,

    DEMO/part.toml, DEMO/part.json, DEMO/part/*.dxf, and the same of DEMO/tool     sumpwright cut DEMO/part.toml --into DEMO/part --json

it sweeps the tool along the paths in the files and compares what is left with the parts in the others (sheet_paths.py).
"""

import json
import math
import sys
from pathlib import Path

from shapely import Polygon, box, prepare

import judging
import sheet_order
import sheet_paths
from sweeping import EASE_MM, KNIFE_MM, LIMIT_MM, arc_radius, apart, beyond, closed_by, depth_of, finely, opened_by, pieces, region, sweep, union

SOURCE = judging.versions("shapely", "ezdxf")
FILE = "tool-paths.jsonl"
# A tool that is a hair thinner gets further into sharp corners.
SLOT_LIMIT_MM = 0.1
SLOT_EASE_MM = 0.0015
ORDER = ["engrave", "pocket", "hole", "inside", "outline"]


def judge(folder, rows):
    if (folder / FILE).exists():
        judge_paths(folder, rows)
    elif (folder / "checks").exists():
        sheet_order.judge(folder, rows)
    else:
        sheet_paths.judge(folder, rows)


def judge_paths(folder, rows):
    count = {}
    for line in (folder / FILE).read_text(encoding="utf-8").splitlines():
        told = json.loads(line)
        count[told["process"]] = count.get(told["process"], 0) + 1
        judge_part(told, rows)
    rows.equal("tool: both processes are told", FILE, ["laser", "router"], sorted(count))


def judge_part(told, rows):
    part, process, radius = f"{told['part']}, {told['process']}", told["process"], told["radius_mm"]
    plate = Plate(told)
    operations = told["operations"]
    kinds = [operation["kind"] for operation in operations]
    rows.equal("tool: order of operations", part, True, kinds == sorted(kinds, key=ORDER.index) and kinds.count("outline") == 1)

    through = [operation for operation in operations if operation["kind"] in ("hole", "inside", "outline")]
    judge_edges(plate, through, part, rows)
    judge_left(plate, through, radius, part, rows)
    judge_arcs(operations, radius, part, rows)
    pockets = [operation for operation in operations if operation["kind"] == "pocket"]
    if process == "laser":
        rows.equal("tool: a laser makes no pockets", part, 0, sum(len(operation["tool"]) for operation in pockets))
    else:
        judge_pockets(plate, pockets, radius, part, rows)


class Plate:
    """A plate as it was described, in polygons."""

    def __init__(self, told):
        self.thickness = told["thickness_mm"]
        self.outline = region(told["outline"])
        self.cuts = [(cut["face"], cut["depth_mm"], region(cut["contour"])) for cut in told["cuts"]]
        through = [area for _, depth, area in self.cuts if depth >= self.thickness - 1e-6]
        # Where floors from both faces meet there is nothing left either.
        blind = [(face, depth, area) for face, depth, area in self.cuts if depth < self.thickness - 1e-6]
        tops = [(depth, area) for face, depth, area in blind if face == "top"]
        bottoms = [(depth, area) for face, depth, area in blind if face == "bottom"]
        for top, upper in tops:
            for bottom, lower in bottoms:
                if top + bottom >= self.thickness - 1e-6:
                    through.append(upper.intersection(lower))
        self.through = union(through) if through else Polygon()
        self.part = self.outline.difference(self.through)
        self.frame = box(*self.outline.buffer(100.0).bounds)

    def deeper(self, face, depth):
        """Where cuts from a face go as deep as this, or through."""
        deep = [area for own, d, area in self.cuts if own == face and d >= depth - 1e-6]
        return union([self.through, *deep])


def judge_edges(plate, through, part, rows):
    """The edges that are told are those of the part: its outline less its holes, by even and odd."""
    told = Polygon()
    for operation in through:
        told = told.symmetric_difference(region(operation["edge"]))
    rows.number("tool: edges of the part, mm off", part, 0.0, apart(told, plate.part), 0.5 * LIMIT_MM)


def judge_left(plate, through, radius, part, rows):
    swept = union([sweep(path, radius) for operation in through for path in operation["tool"]])
    sheet = box(*plate.outline.buffer(4.0 * radius + 1.0).bounds)
    inside = plate.part.representative_point()
    prepare(swept)
    left = [piece for piece in pieces(sheet.difference(swept)) if piece.contains(inside)]
    rows.equal("tool: the part is left whole", part, 1, len(left))
    if not left:
        return
    more = finely(lambda steps: beyond(left[0], closed_by(plate.part, radius + EASE_MM / 3.0, steps)))
    rows.number("tool: what is left of the sheet beyond the part, mm", part, 0.0, more, LIMIT_MM)
    # Without knife edges: a hair less of their faces is much less of their length.
    blunt = opened_by(plate.part, KNIFE_MM)
    less = finely(lambda steps: beyond(closed_by(blunt, radius - EASE_MM, steps), left[0]))
    rows.number("tool: what is missing of the part, mm", part, 0.0, less, LIMIT_MM)
    rows.number("tool: how deep the tool cuts into the part, mm", part, 0.0, depth_of(swept.intersection(plate.part)), LIMIT_MM)


def judge_pockets(plate, pockets, radius, part, rows):
    for face, depth in sorted({(pocket["face"], pocket["depth_mm"]) for pocket in pockets}):
        own = [pocket for pocket in pockets if (pocket["face"], pocket["depth_mm"]) == (face, depth)]
        goes_down = plate.deeper(face, depth)
        floor = plate.part.intersection(goes_down).difference(plate.deeper(face, depth + 1e-4))
        higher = plate.outline.difference(goes_down)
        swept = union([sweep(path, radius) for pocket in own for path in pocket["tool"]])
        where = f"{part}, {face} {depth:.2f}"
        rows.number("tool: how deep it cuts into what stands higher than a floor, mm", where, 0.0, depth_of(swept.intersection(higher)), LIMIT_MM)
        room = plate.frame.difference(higher)
        missed = floor.intersection(opened_by(room, radius + 0.0005)).difference(swept)
        rows.number("tool: what it leaves of a floor that it can reach, mm", where, 0.0, depth_of(missed), LIMIT_MM)
        missed = floor.intersection(opened_by(room, radius - SLOT_EASE_MM)).difference(swept)
        rows.number("tool: what it leaves of slots of just its width, mm", where, 0.0, depth_of(missed), SLOT_LIMIT_MM)
        told = union([region(pocket["edge"]) for pocket in own])
        rows.number("tool: floors that are not told, mm", where, 0.0, depth_of(floor.difference(told)), LIMIT_MM)


def judge_arcs(operations, radius, part, rows):
    """No arc is made of chords, and a hole is gone round in a circle."""
    strange, more = 0, 0
    for operation in operations:
        if operation["kind"] not in ("hole", "inside", "outline"):
            continue
        edge = operation["edge"]
        radii = {arc_radius(piece) for piece in edge if len(piece) == 7}
        allowed = [r for own in radii for r in (own - radius, own + radius)] + [radius]
        for path in operation["tool"]:
            arcs = [arc_radius(piece) for piece in path if len(piece) == 7]
            strange += sum(1 for r in arcs if min(abs(r - a) for a in allowed) > 0.0021)
            more += max(0, len(path) - 2 * len(edge) - 2)
            if operation["kind"] == "hole":
                more += sum(1 for piece in path if len(piece) != 7)
    rows.equal("tool: arcs of a radius that neither edge nor tool has", part, 0, strange)
    rows.equal("tool: pieces of paths beyond those of edges and corners", part, 0, more)
    turned = sum(abs(piece[6]) for o in operations if o["kind"] == "hole" for path in o["tool"] for piece in path if len(piece) == 7)
    wanted = sum(2.0 * math.pi for o in operations if o["kind"] == "hole" for _ in o["tool"])
    rows.number("tool: angle turned round holes, rad", part, wanted, turned, 1e-9)


# Damages for the self-test.


def damage_first(is_it, change):
    """Changes the first operation of which `is_it` is true."""

    def damage(folder):
        path = folder / FILE
        lines = path.read_text(encoding="utf-8").splitlines()
        for i, line in enumerate(lines):
            told = json.loads(line)
            for operation in told["operations"]:
                if operation["tool"] and is_it(told, operation):
                    change(told, operation)
                    # One line is enough to find it, and quick.
                    path.write_text("\n".join([json.dumps(told), *([lines[i - 1]] if i else [])]), encoding="utf-8")
                    return True
        return False

    return damage


def is_kind(kind, process="router"):
    return lambda told, operation: operation["kind"] == kind and told["process"] == process


def moved(distance):
    def change(_, operation):
        for piece in operation["tool"][-1]:
            piece[0] += distance
            piece[2] += distance
            if len(piece) == 7:
                piece[4] += distance

    return change


def without_first_round(_, operation):
    del operation["tool"][0]


def without_path(_, operation):
    operation["tool"] = []


def flatten_arc(_, operation):
    for path in operation["tool"]:
        for i, piece in enumerate(path):
            if len(piece) == 7:
                path[i] = piece[:4]
                return


def outline_first(told, operation):
    told["operations"].remove(operation)
    told["operations"].insert(0, operation)


def wider_tool(told, _):
    told["radius_mm"] += 0.02


def has_rounds(told, operation):
    return operation["kind"] == "pocket" and len(operation["tool"]) > 2


DAMAGES = {
    "an outline path 0.03 mm off": damage_first(is_kind("outline"), moved(0.03)),
    "a laser's outline path 0.03 mm off": damage_first(is_kind("outline", "laser"), moved(0.03)),
    "a pocket's last round 0.03 mm off": damage_first(is_kind("pocket"), moved(0.03)),
    "a pocket without a round": damage_first(has_rounds, without_first_round),
    "an inside cut without a path": damage_first(is_kind("inside"), without_path),
    "a pocket without a path": damage_first(is_kind("pocket"), without_path),
    "a hole's path with a flattened arc": damage_first(is_kind("hole"), flatten_arc),
    "an outline's path with a flattened arc": damage_first(is_kind("outline"), flatten_arc),
    "an outline that is cut first": damage_first(lambda told, o: o["kind"] == "outline" and len(told["operations"]) > 1, outline_first),
    "a tool that is 0.04 mm wider": damage_first(is_kind("outline"), wider_tool),
}

def damages():
    """Those that fit what the folder holds."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path()
    if (folder / FILE).exists():
        return DAMAGES
    return sheet_order.DAMAGES if (folder / "checks").exists() else sheet_paths.DAMAGES


if __name__ == "__main__":
    judging.run(judge, SOURCE, damages())
