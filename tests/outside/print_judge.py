"""Judges fittings as a printer would: nothing printed into the air but the step against the elephant's foot, no wall
under the least one, all on the bed and apart from each other.

Independent readers: trimesh for meshes and their sections, shapely for what is as wide as it must be, lib3mf for the
beds. `checks/fittings.json` says what the printer can do; sizes and shapes are taken from the files alone.
"""

import json
import math
import struct
import zipfile

import lib3mf
import numpy
import shapely
import trimesh

import judging
from sections import section

SOURCE = judging.versions("trimesh", "shapely", "lib3mf")
# Single precision, and chords of round walls.
HAIR_MM = 1e-3
CHORD_MM = 0.02
# Text and other relief is sunk so deep, mm, or so many layers: what stands between its strokes is no wall.
RELIEF_MM, RELIEF_LAYERS = 0.45, 3
# Common practice: one line alone holds on to nothing.
LEAST_LINES = 2.0
# Left of a sharp corner when a shape is made smaller and larger again, mm²; a wall too thin leaves more.
CORNER_MM2 = 0.02


def judge(folder, rows):
    printer = judging.expectations(folder, "fittings")
    lines = printer["least_wall_mm"] / printer["nozzle_mm"]
    rows.number("print: the least wall in lines of the nozzle", "checks/fittings.json", LEAST_LINES, lines, 1e-9)
    for stl in printer["fittings"]:
        mesh = rows.readable("print: file", stl, lambda: trimesh.load_mesh(folder / stl, file_type="stl"))
        if mesh is not None:
            judge_overhang(stl, mesh, printer, rows)
            judge_walls(stl, mesh, printer, rows)
            judge_room(stl, mesh, printer, rows)
    for plate in printer["plates"]:
        items = rows.readable("print: bed", plate, lambda: items_on_bed(folder / plate))
        if items is not None:
            judge_bed(plate, [(item["corners"].min(0), item["corners"].max(0)) for item in items], printer, rows)
            judge_lie(plate, items, rows)


def judge_overhang(part, mesh, printer, rows):
    """Faces that look down, other than those on the bed."""
    normals, corners = mesh.face_normals, mesh.triangles
    on_bed = corners[:, :, 2].max(1) < HAIR_MM
    down = numpy.degrees(numpy.arcsin(numpy.clip(-normals[:, 2], -1.0, 1.0)))
    leaning = ~on_bed & (down > printer["most_overhang_deg"] + 0.1) & (mesh.area_faces > 1e-9)
    highest = float(corners[leaning][:, :, 2].max()) if leaning.any() else 0.0
    step = 2.0 * printer["layer_mm"]
    rows.within("print: height of the highest face that overhangs, mm", part, highest, step + HAIR_MM)
    reach = 0.0
    if leaning.any() and highest <= step + HAIR_MM:
        # How far it reaches from the edges of the section just above.
        ceiling = shapely.union_all([shapely.Polygon(t[:, :2]) for t in corners[leaning]])
        edges = section(mesh, highest + 1e-2).boundary
        reach = reach_from(edges, ceiling, 0.5 * printer["nozzle_mm"])
    rows.within("print: how far the step at the bed reaches inwards, mm", part, reach, 0.5 * printer["nozzle_mm"] + CHORD_MM)
    rows.equal("print: stands on the bed with a face", part, True, bool(mesh.area_faces[on_bed].sum() > 1.0))


def reach_from(edges, ceiling, most):
    """Least width of a band along the edges that holds the ceiling; around corners the band is mitred."""
    for width in numpy.arange(0.05, 2.0, 0.05) * most / 0.5:
        band = edges.buffer(width + CHORD_MM, join_style="mitre", mitre_limit=10.0)
        if ceiling.difference(band).area < CORNER_MM2:
            return float(width)
    return math.inf


def judge_walls(part, mesh, printer, rows):
    """Sections through everything that is thicker than relief: no piece of them is thinner than the least wall.

    Beside the bed each side of a wall is drawn in by the foot.
    """
    heights = numpy.unique(numpy.round(mesh.vertices[:, 2], 3))
    relief = max(RELIEF_MM, RELIEF_LAYERS * printer["layer_mm"] + HAIR_MM)
    thin, looked_at = 0.0, 0
    for low, high in zip(heights[:-1], heights[1:]):
        is_foot = low < HAIR_MM and high - low <= 2.0 * printer["layer_mm"] + HAIR_MM
        if high - low < relief and not is_foot:
            continue
        least = printer["least_wall_mm"] - (2.0 * printer["foot_mm"] if is_foot else 0.0)
        radius = 0.5 * least - CHORD_MM
        for share in (0.02, 0.5, 0.98):
            shape = section(mesh, low + share * (high - low))
            opened = shape.buffer(-radius).buffer(radius, join_style="mitre", mitre_limit=10.0)
            left = shape.difference(opened.buffer(CHORD_MM))
            thin = max([thin, *(piece.area for piece in getattr(left, "geoms", [left]))])
            looked_at += 1
    rows.within("print: largest piece of a section that is thinner than the least wall, mm²", part, thin, CORNER_MM2)
    rows.equal("print: sections were looked at", part, True, looked_at > 0)


def judge_room(part, mesh, printer, rows):
    """Lengthwise or crosswise it lies on the bed."""
    size = mesh.bounds[1] - mesh.bounds[0]
    bed = printer["bed_mm"]
    fits = any(size[i] <= bed[0] + HAIR_MM and size[1 - i] <= bed[1] + HAIR_MM for i in (0, 1))
    rows.equal("print: fits on the bed", part, True, bool(fits and size[2] <= bed[2] + HAIR_MM))
    layers = float(size[2]) / printer["layer_mm"]
    rows.number("print: height in layers, off from a whole number", part, round(layers), layers, HAIR_MM / printer["layer_mm"])


def items_on_bed(path):
    """Each item where it lies: its corners, triangles, and how it is turned."""
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromFile(str(path))
    items, build = [], model.GetBuildItems()
    while build.MoveNext():
        item = build.GetCurrent()
        fields = item.GetObjectTransform().Fields
        pose = numpy.array([[fields[row][column] for column in range(3)] for row in range(4)])
        mesh = model.GetMeshObjectByID(item.GetObjectResourceID())
        corners = numpy.array([list(p.Coordinates) for p in mesh.GetVertices()]) @ pose[:3] + pose[3]
        triangles = numpy.array([list(t.Indices) for t in mesh.GetTriangleIndices()])
        items.append({"corners": corners, "triangles": triangles, "turn": pose[:3]})
    return items


def judge_lie(plate, items, rows):
    """As its own file says how it is printed, turned about the vertical at most: a face on the bed that looks down."""
    upright = numpy.array([0.0, 0.0, 1.0])
    are_upright = all(numpy.abs(item["turn"] @ upright - upright).max() < 1e-6 for item in items)
    rows.equal("print: things on the bed are turned about the vertical only", plate, True, bool(are_upright))
    on_face = []
    for item in items:
        corners = item["corners"][item["triangles"]]
        normals = numpy.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        on_bed = corners[:, :, 2].max(1) < HAIR_MM
        on_face.append(float(-0.5 * normals[on_bed, 2].sum()))
    rows.equal("print: everything stands on the bed with a face that looks down", plate, True, min(on_face, default=0.0) > 1.0)


def judge_bed(plate, boxes, printer, rows):
    bed = numpy.array(printer["bed_mm"])
    is_on = all((low > -HAIR_MM).all() and (high < bed + HAIR_MM).all() for low, high in boxes)
    rows.equal("print: everything lies on the bed", plate, True, bool(is_on))
    rows.number("print: lowest point above the bed, mm", plate, 0.0, max(abs(low[2]) for low, _ in boxes), HAIR_MM)
    least = math.inf
    for i, (low, high) in enumerate(boxes):
        for other_low, other_high in boxes[:i]:
            apart = numpy.maximum(other_low - high, low - other_high)[:2].max()
            least = min(least, float(apart))
    rows.equal("print: things on the bed are apart", plate, True, least >= printer["gap_mm"] - HAIR_MM)


# Damages: each makes something that must not be printed so.


def change_stl(change, of=""):
    """Changes the triangles, `(n, 3, 3)`, of the first STL with `of` in its name; it stays readable, not always closed."""

    def damage(folder):
        named = [stl for stl in judging.expectations(folder, "fittings")["fittings"] if of in stl]
        if not named:
            return False
        path = folder / named[0]
        corners = trimesh.load_mesh(path, file_type="stl").triangles
        triangles = change(numpy.array(corners, float), judging.expectations(folder, "fittings"))
        records = b"".join(
            struct.pack("<12fH", 0.0, 0.0, 0.0, *triangle.ravel(), 0) for triangle in triangles.astype("float32")
        )
        path.write_bytes(path.read_bytes()[:80] + struct.pack("<I", len(triangles)) + records)
        return True

    return damage


def with_box(triangles, low, high):
    return numpy.vstack([triangles, trimesh.creation.box(bounds=[low, high]).triangles])


def hang_a_ceiling(triangles, _printer):
    """A shelf beside the part, half-way up."""
    low, high = triangles.min((0, 1)), triangles.max((0, 1))
    return with_box(triangles, [high[0] - 1.0, low[1], 0.5 * high[2]], [high[0] + 5.0, high[1], high[2]])


def widen_the_step(triangles, printer):
    """A low shelf beside the part, wider than half a nozzle."""
    low, high = triangles.min((0, 1)), triangles.max((0, 1))
    return with_box(triangles, [high[0] - 1.0, low[1] + 1.0, printer["layer_mm"]], [high[0] + 1.0, high[1], high[2]])


def stand_a_thin_wall(triangles, printer):
    """A wall beside the part that is one line thick."""
    low, high = triangles.min((0, 1)), triangles.max((0, 1))
    return with_box(triangles, [high[0] + 1.0, low[1], 0.0], [high[0] + 1.0 + printer["nozzle_mm"], high[1], high[2]])


def turn_over(triangles, _printer):
    """Half a turn about x: text that was open above is printed into the air."""
    return triangles * [1.0, -1.0, -1.0] + [0.0, 0.0, triangles[:, :, 2].max()]


def half_a_layer(triangles, printer):
    return triangles * [1.0, 1.0, (triangles[:, :, 2].max() + 0.5 * printer["layer_mm"]) / triangles[:, :, 2].max()]


def make_the_bed_small(folder):
    path = folder / "checks" / "fittings.json"
    printer = json.loads(path.read_text(encoding="utf-8"))
    printer["bed_mm"][0] = 30.0
    path.write_text(json.dumps(printer), encoding="utf-8")
    return True


def change_plate(change):
    """Changes the build of the first plate that holds several things."""

    def damage(folder):
        for plate in judging.expectations(folder, "fittings")["plates"]:
            path = folder / plate
            with zipfile.ZipFile(path) as source:
                entries = {name: source.read(name) for name in source.namelist()}
            before, found, items = entries["3D/3dmodel.model"].decode().partition("<build>")
            if items.count("<item ") > 1:
                break
        else:
            return False
        entries["3D/3dmodel.model"] = (before + found + change(items)).encode()
        with zipfile.ZipFile(path, "w") as target:
            for name, data in entries.items():
                target.writestr(name, data)
        return True

    return damage


def on_one_place(items):
    """All items where the first is."""
    first = items.split('transform="')[1].split('"')[0]
    pieces = items.split('transform="')
    return pieces[0] + "".join('transform="' + first + piece[piece.index('"') :] for piece in pieces[1:])


def upside_down(items):
    """The first one turned over about x, and pushed up again."""
    before, after = items.split('transform="', 1)
    pose, rest = after.split('"', 1)
    numbers = pose.split()
    over = ["1", "0", "0", "0", "-1", "0", "0", "0", "-1", numbers[9], numbers[10], "100"]
    return before + 'transform="' + " ".join(over) + '"' + rest


DAMAGES = {
    "a ceiling half-way up": change_stl(hang_a_ceiling),
    "a step wider than half a nozzle": change_stl(widen_the_step),
    "a wall of one line": change_stl(stand_a_thin_wall),
    "a fitting upside down": change_stl(turn_over, of="coupon"),
    "half a layer more": change_stl(half_a_layer),
    "a bed that is too small": make_the_bed_small,
    "two fittings in one place": change_plate(on_one_place),
    "a fitting upside down on its bed": change_plate(upside_down),
}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)
