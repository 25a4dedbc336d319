"""Judges STEP: every solid valid, closed and of our volume, circles still circles; names, colours and
poses as we placed them; no two parts in one place, glued parts in touch.

Independent reader: OpenCASCADE, through cadquery-ocp. A folder without an assembly (random plates)
is judged part by part.
"""

import json
import math
import re
from itertools import combinations

import judging
import kernel

SOURCE = judging.versions("cadquery-ocp")

VOLUME_SHARE = 1e-6
# The reader finds extremes of arcs by iteration.
BOX_MM = 1e-6
POSE = 1e-9
# Two arcs that touch from inside make the reader widen the vertex there; it stays a tenth of what
# we refuse to tell apart (1e-3 mm would be seen by no machine).
TOLERANCE_MM = 1e-4
NEAR_MM = 0.1
CLASH_MM3 = 1e-3
TOUCH_MM = 1e-6


def judge(folder, rows):
    expected = judging.expectations(folder, "solids")
    for part in expected["parts"]:
        judge_part_file(folder, part, rows)
    if expected["assembly"] is not None:
        judge_assembly(folder, expected, rows)


def judge_part_file(folder, expected, rows):
    path = expected["file"]
    content = rows.readable("STEP: file of a part", path, lambda: kernel.read(folder / path))
    if content is None:
        return
    roots, _document = content
    rows.equal("STEP: parts in the file of a part", path, 1, len(roots))
    for root in roots[:1]:
        judge_product(path, root, expected, rows)
        judge_solid(path, root.shape, expected, rows)


def judge_product(part, node, expected, rows):
    rows.equal("STEP: name of a part", part, expected["name"], node.name)
    rows.equal("STEP: colour of a part, sRGB", part, expected["colour"], node.colour)


def judge_solid(part, shape, expected, rows):
    rows.equal("STEP: solids of a part", part, 1, len(kernel.solids(shape)))
    rows.equal("STEP: valid", part, True, kernel.is_valid(shape))
    rows.equal("STEP: closed", part, True, kernel.is_closed(shape))
    rows.number("STEP: volume, mm³", part, expected["volume_mm3"], kernel.volume(shape), VOLUME_SHARE, relative=True)
    judge_box(part, shape, expected["bounds"], rows)
    faces = kernel.surfaces(shape)
    for kind, count in expected["faces"].items():
        rows.equal(f"STEP: faces on a {kind}", part, count, faces.pop(kind, 0))
    rows.equal("STEP: faces on anything else", part, 0, sum(faces.values()))
    edges = kernel.curves(shape)
    rows.equal("STEP: straight edges", part, expected["lines"], edges.pop("line", 0))
    rows.equal("STEP: arcs of circles", part, expected["arcs"], edges.pop("circle", 0))
    rows.equal("STEP: edges of any other kind", part, 0, sum(edges.values()))
    rows.number("STEP: tolerance the reader needs, mm", part, 0.0, kernel.largest_tolerance(shape), TOLERANCE_MM)


def judge_box(part, shape, bounds, rows):
    found = kernel.box(shape)
    for corner, ours, theirs in zip(("least", "greatest"), bounds, found):
        for axis, our, their in zip("xyz", ours, theirs):
            rows.number(f"STEP: {corner} {axis}, mm", part, our, their, BOX_MM)


def judge_assembly(folder, expected, rows):
    path = expected["assembly"]
    content = rows.readable("STEP: assembly", path, lambda: kernel.read(folder / path))
    if content is None:
        return
    roots, _document = content
    rows.equal("STEP: assemblies in the file", path, 1, len(roots))
    if len(roots) != 1:
        return
    rows.equal("STEP: name of the assembly", path, expected["title"], roots[0].name)
    placed = roots[0].children
    rows.equal("STEP: placed parts", path, len(expected["instances"]), len(placed))
    for instance, node in zip(expected["instances"], placed):
        judge_instance(instance, node, expected["parts"][instance["part"]], rows)
    if len(placed) == len(expected["instances"]):
        judge_neighbours(expected, [node.shape for node in placed], rows)


def judge_instance(expected, node, part, rows):
    name = expected["name"]
    rows.equal("STEP: name of a placed part", name, name, node.name)
    difference = max(abs(ours - theirs) for ours, theirs in zip(expected["pose"], node.pose))
    rows.number("STEP: largest difference in a pose", name, 0.0, difference, POSE)
    judge_product(name, node.target, part, rows)
    volume = kernel.volume(node.shape)
    rows.number("STEP: volume of a placed part, mm³", name, part["volume_mm3"], volume, VOLUME_SHARE, relative=True)


def judge_neighbours(expected, shapes, rows):
    names = [instance["name"] for instance in expected["instances"]]
    boxes = [kernel.box(shape) for shape in shapes]
    for i, j in combinations(range(len(shapes)), 2):
        if are_near(boxes[i], boxes[j]):
            pair = f"{names[i]} / {names[j]}"
            common = rows.readable("STEP: two near parts", pair, lambda: kernel.common_volume(shapes[i], shapes[j]))
            if common is not None:
                rows.number("STEP: volume two near parts share, mm³", pair, 0.0, common, CLASH_MM3)
    for i, j in expected["glued"]:
        pair = f"{names[i]} / {names[j]}"
        gap = rows.readable("STEP: two glued parts", pair, lambda: kernel.distance(shapes[i], shapes[j]))
        if gap is not None:
            rows.number("STEP: gap between glued parts, mm", pair, 0.0, gap, TOUCH_MM)


def are_near(a, b):
    return all(a[0][k] - NEAR_MM <= b[1][k] and b[0][k] - NEAR_MM <= a[1][k] for k in range(3))


# Damages: each changes the files so that the judge must find it, and nothing else is wrong.


def push_into_neighbour(folder):
    return shift_glued_part(folder, 0.5)


def pull_away(folder):
    return shift_glued_part(folder, -0.5)


def shift_glued_part(folder, by_mm):
    """Moves one part towards another that it is glued to, in the STEP file and in the list of poses."""
    expected = judging.expectations(folder, "solids")
    if expected["assembly"] is None:
        return False
    roots, _document = kernel.read(folder / expected["assembly"])
    boxes = [kernel.box(node.shape) for node in roots[0].children]
    for i, j in expected["glued"]:
        for axis in range(3):
            for sign, gap in ((1, boxes[j][0][axis] - boxes[i][1][axis]), (-1, boxes[i][0][axis] - boxes[j][1][axis])):
                if abs(gap) < TOUCH_MM:
                    move(folder, expected, i, axis, sign * by_mm)
                    return True
    return False


def move(folder, expected, instance, axis, by_mm):
    expected["instances"][instance]["pose"][4 * axis + 3] += by_mm
    (folder / "checks" / "solids.json").write_text(json.dumps(expected), encoding="utf-8")
    path = folder / expected["assembly"]
    text = path.read_text(encoding="ascii")
    placement = re.findall(r"ITEM_DEFINED_TRANSFORMATION\('','',#\d+,#(\d+)\)", text)[instance]
    point = re.search(rf"^#{placement}=AXIS2_PLACEMENT_3D\('',#(\d+),", text, re.M).group(1)
    line = re.search(rf"^#{point}=CARTESIAN_POINT\('',\((.*)\)\);$", text, re.M)
    place = [float(number) for number in line.group(1).split(",")]
    place[axis] += by_mm
    moved = ",".join(f"{number:.12f}" for number in place)
    path.write_text(text[: line.start(1)] + moved + text[line.end(1) :], encoding="ascii")


def widen_a_cylinder(folder):
    return change_first_part(folder, r"(CYLINDRICAL_SURFACE\('',#\d+,)([^)]*)\)", lambda m: f"{m[1]}{float(m[2]) + 0.01:.6f})")


def leave_out_a_face(folder):
    return change_first_part(folder, r"(CLOSED_SHELL\('',\()#\d+,", r"\1")


def rename_a_part(folder):
    return change_first_part(folder, r"(=PRODUCT\('[^']*',')", r"\1x")


def paint_a_part(folder):
    return change_first_part(folder, r"COLOUR_RGB\('',([^,]*),", lambda m: f"COLOUR_RGB('',{math.fmod(float(m[1]) + 0.5, 1.0):.3f},")


def change_first_part(folder, pattern, replacement):
    for part in judging.expectations(folder, "solids")["parts"]:
        path = folder / part["file"]
        text, count = re.subn(pattern, replacement, path.read_text(encoding="ascii"), count=1)
        if count:
            path.write_text(text, encoding="ascii")
            return True
    return False


DAMAGES = {
    "a part pushed 0.5 mm into its neighbour": push_into_neighbour,
    "a glued part pulled 0.5 mm away": pull_away,
    "a cylinder 0.01 mm wider": widen_a_cylinder,
    "a face left out": leave_out_a_face,
    "a part with another name": rename_a_part,
    "a part in another colour": paint_a_part,
}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)
