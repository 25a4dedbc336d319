"""Judges DXF: read without error or repair, layers, areas, lengths, circles, arcs, unit.

Independent reader: ezdxf. Areas from its corners and bulges by the shoelace formula and the area of
a circular segment, r²/2 (θ − sin θ); which loop lies in which, by shapely on their polygons.
"""

import logging
import math

import ezdxf
from ezdxf import recover
from ezdxf.colors import aci2rgb
from ezdxf.math import bulge_to_arc

import judging
from loops import Loop, area_by_nesting

SOURCE = judging.versions("ezdxf", "shapely")
AREA_LIMIT = 1e-6
NOTE = "note not cut"
OUTLINE = "cut through outline"
OPENINGS = "cut through openings"
# Index and colour of each operation, by the beginning of its name.
COLOURS = {
    OUTLINE: (0, 165, 165),
    OPENINGS: (0, 124, 165),
    "pocket upper face": (165, 124, 0),
    "pocket lower face": (165, 82, 0),
    "engrave upper face": (124, 0, 165),
    "engrave lower face": (165, 0, 165),
    NOTE: (153, 153, 153),
}


def judge(folder, rows):
    for expected in judging.expectations(folder, "panels"):
        judge_dxf(folder / expected["dxf"], expected, rows)


def judge_dxf(path, expected, rows):
    part = expected["dxf"]
    if rows.readable("DXF: file, strictly", part, lambda: ezdxf.readfile(path)) is None:
        return
    document, auditor = recover.readfile(path)
    again = document.audit()
    rows.equal("DXF: errors found by the audit", part, 0, len(auditor.errors) + len(again.errors))
    rows.equal("DXF: repairs made by the audit", part, 0, len(auditor.fixes) + len(again.fixes))
    rows.equal("DXF: version", part, "R2000", document.acad_release)
    rows.equal("DXF: unit (4 is the millimetre)", part, 4, document.header.get("$INSUNITS"))
    judge_layers(document, part, rows)

    closed, strokes = read(document)
    pocket_layers = [pocket["layer"] for pocket in expected["pockets"]]
    made = [layer for layer in closed if layer != NOTE]
    cut = {OUTLINE, OPENINGS} if OPENINGS in made else {OUTLINE}
    rows.equal("DXF: layers of closed contours", part, sorted(cut.union(pocket_layers)), sorted(made))

    outline = area_by_nesting(closed.get(OUTLINE, []))
    openings = area_by_nesting(closed.get(OPENINGS, []))
    rows.number("DXF: area inside the outline, mm²", part, expected["outline_area_mm2"], outline, AREA_LIMIT, relative=True)
    cut_out = expected["outline_area_mm2"] - expected["net_area_mm2"]
    rows.number("DXF: area of openings, mm²", part, cut_out, openings, AREA_LIMIT * max(cut_out, 1.0))
    cleared = 0.0
    for pocket in expected["pockets"]:
        area = area_by_nesting(closed.get(pocket["layer"], []))
        cleared += area * pocket["depth_mm"]
        rows.number("DXF: area of pockets, mm²", f"{part}: {pocket['layer']}", pocket["area_mm2"], area, AREA_LIMIT, relative=True)
    volume = (outline - openings) * expected["thickness_mm"] - cleared
    rows.number("DXF: volume from areas and depths, mm³", part, expected["volume_mm3"], volume, AREA_LIMIT, relative=True)

    contours = [loop for layer in made for loop in closed[layer]]
    judge_contours("DXF", part, contours, expected, rows)
    box = Loop.box(closed.get(OUTLINE, []))
    off = max(abs(a - b) for a, b in zip(expected["bounds"], box))
    rows.number("DXF: bounds of the outline, mm off", part, 0.0, off, 1e-6)

    engraved = [stroke for layer, lines in strokes.items() if layer.startswith("engrave ") for stroke in lines]
    rows.number("DXF: length of engraving, mm", part, expected["engraved_length_mm"], sum(map(length, engraved)), 1e-4)
    note = [point for stroke in strokes.get(NOTE, []) for point in stroke]
    rows.equal("DXF: note there and clear of the panel", part, True, bool(note and max(y for _, y in note) < box[1]))


def judge_contours(kind, part, contours, expected, rows):
    """Circles arrive as circles and arcs as arcs: counts, angles and lengths, not chords."""
    circles = [loop for loop in contours if loop.is_circle]
    rows.equal(f"{kind}: whole circles", part, expected["circles"], len(circles))
    turn = sum(loop.arc_turn for loop in contours if not loop.is_circle)
    rows.number(f"{kind}: angle turned by all arcs, rad", part, expected["arc_turn_rad"], turn, 1e-5)
    total = sum(loop.length for loop in contours)
    rows.number(f"{kind}: length of all contours, mm", part, expected["contour_length_mm"], total, 1e-6, relative=True)


def judge_layers(document, part, rows):
    used = {entity.dxf.layer for entity in document.modelspace()}
    for name in sorted(used):
        layer = document.layers.get(name)
        kind = name
        if name.startswith("pocket "):
            kind = "pocket " + name.split(" from ")[1]
        rows.equal("DXF: colour of the layer", f"{part}: {name}", COLOURS.get(kind), tuple(aci2rgb(layer.color)))
        rows.equal("DXF: the layer is plotted, unless it is the note", f"{part}: {name}", name != NOTE, bool(layer.dxf.plot))


def read(document):
    """Closed contours and open strokes, by layer."""
    closed, strokes = {}, {}
    for entity in document.modelspace():
        layer = entity.dxf.layer
        if entity.dxftype() == "CIRCLE":
            centre = entity.dxf.center
            closed.setdefault(layer, []).append(Loop.circle(centre.x, centre.y, entity.dxf.radius))
        elif entity.dxftype() == "LWPOLYLINE" and entity.closed:
            closed.setdefault(layer, []).append(loop_of(entity.get_points("xyb")))
        elif entity.dxftype() == "LWPOLYLINE":
            strokes.setdefault(layer, []).append(entity.get_points("xy"))
        else:
            closed.setdefault(f"unexpected {entity.dxftype()}", [])
    return closed, strokes


def loop_of(points):
    pieces = []
    for (x, y, bulge), (next_x, next_y, _) in zip(points, points[1:] + points[:1]):
        arc = None
        if bulge:
            centre, _, _, radius = bulge_to_arc((x, y), (next_x, next_y), bulge)
            arc = (centre.x, centre.y, radius, 4.0 * math.atan(bulge))
        pieces.append(((x, y), (next_x, next_y), arc))
    return Loop(pieces)


def length(stroke):
    return sum(math.dist(a, b) for a, b in zip(stroke, stroke[1:]))


# Damages for the self-test.


def change_first(is_it, change):
    """Changes the tags (code, value) of the first DXF in which there is something to change."""

    def damage(folder):
        for expected in judging.expectations(folder, "panels"):
            path = folder / expected["dxf"]
            lines = path.read_text().split("\n")
            for at in range(0, len(lines) - 1, 2):
                if is_it(lines, at):
                    change(lines, at)
                    path.write_text("\n".join(lines))
                    return True
        return False

    return damage


def tag(code, value=None, section=None):
    """Finds a tag by code, value and section of the file."""

    def is_it(lines, at):
        return int(lines[at]) == code and value in (None, lines[at + 1]) and (section is None or section_of(lines, at) == section)

    return is_it


def section_of(lines, at):
    starts = [i for i in range(0, at, 2) if lines[i + 1] == "SECTION"]
    return lines[starts[-1] + 3] if starts else None


def set_value(change):
    def apply(lines, at):
        lines[at + 1] = change(lines[at + 1])

    return apply


def repeat_handle(lines, at):
    # The handle of an entity becomes that of the first.
    lines[at + 1] = "1000"


ENTITIES = "ENTITIES"
DAMAGES = {
    "a DXF in inches": change_first(lambda lines, at: at > 1 and lines[at - 1] == "$INSUNITS", set_value(lambda _: "1")),
    "a DXF with a corner 0.01 mm off": change_first(tag(10, section=ENTITIES), set_value(lambda x: str(float(x) + 0.01))),
    "a DXF with an open outline": change_first(tag(70, "1", ENTITIES), set_value(lambda _: "0")),
    "a DXF with a circle 0.001 mm too wide": change_first(tag(40, section=ENTITIES), set_value(lambda r: str(float(r) + 0.0005))),
    "a DXF with a flattened arc": change_first(tag(42, section=ENTITIES), set_value(lambda _: "0.0")),
    "a DXF with an opening on the outline's layer": change_first(tag(8, OPENINGS), set_value(lambda _: OUTLINE)),
    "a DXF with the outline on the note's layer": change_first(tag(8, OUTLINE), set_value(lambda _: NOTE)),
    "a DXF with two equal handles": change_first(tag(5, "1001", ENTITIES), repeat_handle),
    "a DXF without an end": change_first(tag(0, "EOF"), lambda lines, at: lines.__delitem__(slice(at // 2, None))),
}

if __name__ == "__main__":
    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)
    judging.run(judge, SOURCE, DAMAGES)
