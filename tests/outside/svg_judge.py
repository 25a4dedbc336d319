"""Judges SVG: true size, areas, lengths, circles and arcs, clean XML.

Independent readers: svgpathtools for paths, svgelements for the size on paper.
"""

import math
import re
import xml.etree.ElementTree as ElementTree

import svgelements
import svgpathtools

import judging
from flat_judge import AREA_LIMIT, OPENINGS, OUTLINE, judge_contours
from loops import Loop, area_by_nesting

SOURCE = judging.versions("svgpathtools", "svgelements", "shapely")
SVG = "{http://www.w3.org/2000/svg}"


def judge(folder, rows):
    for expected in judging.expectations(folder, "panels"):
        judge_svg(folder / expected["svg"], expected, rows)


def judge_svg(path, expected, rows):
    part = expected["svg"]
    root = rows.readable("SVG: file", part, lambda: ElementTree.parse(path).getroot())
    if root is None:
        return
    judge_size(path, root, expected, rows)
    rows.equal("SVG: title", part, f"{expected['number']} {expected['name']}", root.findtext(f"{SVG}title"))

    groups = {group.findtext(f"{SVG}title"): group for group in root.iter(f"{SVG}g")}
    ids = [group.get("id") for group in groups.values()]
    rows.equal("SVG: every group has an id of its own", part, True, len(set(ids)) == len(ids) and None not in ids)
    closed = {name: [loop for element in group if (loop := loop_of(element))] for name, group in groups.items()}
    closed = {name: loops for name, loops in closed.items() if loops}

    outline = area_by_nesting(closed.get(OUTLINE, []))
    openings = area_by_nesting(closed.get(OPENINGS, []))
    rows.number("SVG: area inside the outline, mm²", part, expected["outline_area_mm2"], outline, AREA_LIMIT, relative=True)
    cut_out = expected["outline_area_mm2"] - expected["net_area_mm2"]
    rows.number("SVG: area of openings, mm²", part, cut_out, openings, AREA_LIMIT * max(cut_out, 1.0))
    for pocket in expected["pockets"]:
        area = area_by_nesting(closed.get(pocket["layer"], []))
        rows.number("SVG: area of pockets, mm²", f"{part}: {pocket['layer']}", pocket["area_mm2"], area, AREA_LIMIT, relative=True)
    judge_contours("SVG", part, [loop for loops in closed.values() for loop in loops], expected, rows)


def judge_size(path, root, expected, rows):
    part = expected["svg"]
    is_mm = all(re.fullmatch(r"[0-9.]+mm", root.get(side, "")) for side in ("width", "height"))
    rows.equal("SVG: width and height are in mm", part, True, is_mm)
    # At 25.4 pixels an inch a pixel is a millimetre. Its own inch is 25.4000254 mm: 1e-6 off.
    drawing = rows.readable("SVG: file as drawn", part, lambda: svgelements.SVG.parse(str(path), ppi=25.4))
    if drawing is None:
        return
    # The note may be wider than the panel, never on it: the size on paper is the outline's.
    boxes = []
    for group in drawing.select(lambda element: isinstance(element, svgelements.Group)):
        if group.values.get("id") == OUTLINE.replace(" ", "-"):
            boxes.append(group.bbox())
    if not boxes:
        rows.equal("SVG: group of the outline", part, 1, 0)
        return
    x0, y0, x1, y1 = boxes[0]
    least_x, least_y, greatest_x, greatest_y = expected["bounds"]
    rows.number("SVG: width on paper, mm", part, greatest_x - least_x, x1 - x0, 2e-6, relative=True)
    rows.number("SVG: height on paper, mm", part, greatest_y - least_y, y1 - y0, 2e-6, relative=True)


def loop_of(element):
    """A closed loop, y upwards; `None` for anything else."""
    if element.tag == f"{SVG}circle":
        return Loop.circle(float(element.get("cx")), -float(element.get("cy")), float(element.get("r")))
    if element.tag != f"{SVG}path" or not element.get("d").endswith("Z"):
        return None
    pieces = []
    for piece in svgpathtools.parse_path(element.get("d")):
        start, end = ((p.real, -p.imag) for p in (piece.start, piece.end))
        arc = None
        if isinstance(piece, svgpathtools.Arc):
            # Angles of svgpathtools are in degrees, clockwise where y is upwards.
            arc = (piece.center.real, -piece.center.imag, piece.radius.real, -math.radians(piece.delta))
        if start != end:
            pieces.append((start, end, arc))
    return Loop(pieces)


# Damages for the self-test.


def change(pattern, new):
    """Replaces the first match in the first SVG that has one."""

    def damage(folder):
        for expected in judging.expectations(folder, "panels"):
            path = folder / expected["svg"]
            text = path.read_text(encoding="utf-8")
            changed = re.sub(pattern, new, text, count=1)
            if changed != text:
                path.write_text(changed, encoding="utf-8")
                return True
        return False

    return damage


DAMAGES = {
    "an SVG 1 % wider and higher on paper": change(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"', r'viewBox="0 0 \g<1>9 \g<2>9"'),
    "an SVG in pixels": change(r'width="([0-9.]+)mm" height="([0-9.]+)mm"', r'width="\1" height="\2"'),
    "an SVG with a corner elsewhere": change(r' L [0-9.]+ ', " L 0.5 "),
    "an SVG with a circle 0.01 mm too wide": change(r' r="([0-9]+)', lambda m: f' r="{int(m[1]) + 0.005}" x="'),
    "an SVG with an arc that bends the other way": change(r" 0 0 0 ", " 0 0 1 "),
    "an SVG with an open contour": change(r' Z"', '"'),
    "an SVG with another name": change(r"<title>", "<title>x"),
    "an SVG that is not XML": change(r"</g>", ""),
}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)
