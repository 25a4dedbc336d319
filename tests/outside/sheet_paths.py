"""Paths of the tool as they stand in nested DXF, against the parts as they stand in others.

For every sheet the tool is swept along the paths in `tool/NAME.dxf`. Of the sheet every part of `part/NAME.dxf` must be left
within 0.01 mm, closed by the tool (see `cut_judge.py`), and be cut no deeper. Arcs stay arcs. Where bridges are left, the
part hangs on the sheet by as many as are marked, each as long as its mark, once the tool has gone the rest of its way; and
marks lie beside parts, on straight edges. A demo whose parameter file asks for bridges has them, no two of a part crowded,
and no more than one in 150 mm around its convex hull (common practice: one in 150 to 300 mm).
"""

import json
import math
import tomllib

import ezdxf
import ezdxf.path
from shapely import LineString, Polygon, box, prepare

import nested_dxf
import sheet_order
from sweeping import EASE_MM, KNIFE_MM, LIMIT_MM, arc_radius, beyond, closed_by, depth_of, finely, opened_by, pieces, points, region, sweep, union

# Bends that are no corner, and more than what rounding makes of a smooth joint; short pieces of a hair are left out.
CHORD_RAD = (0.01, 0.2)
# Bridges of one part stand at least so far apart around its convex hull, and there is at most one in so much of it, mm; two
# are always allowed.
CROWDED_MM, PER_BRIDGE_MM, FEWEST = 55.0, 150.0, 2


def judge(folder, rows):
    held_by_tabs = 0
    demos = sorted(path.parent for path in folder.glob("*/part.json"))
    rows.equal("sheets: drawn both ways", "", True, len(demos) > 0)
    for demo in demos:
        for way in ("part", "tool"):
            told = json.loads((demo / f"{way}.json").read_text(encoding="utf-8"))["shop"]
            for sheet in told["sheets"]:
                lines, _ = nested_dxf.entities(demo / way / f"{sheet['name']}.dxf")
                sheet_order.judge_order(nested_dxf.joined(lines), f"{demo.name}, {way}, {sheet['name']}", len(sheet["laid"]), rows)
        for sheet in told["sheets"]:
            has_bridges = asks_for_bridges(demo / "part.toml", sheet["sheet"])
            held_by_tabs += has_bridges
            judge_sheet(demo, sheet, has_bridges, rows)
    rows.equal("sheets: some are held by bridges", "", True, held_by_tabs > 0)


def asks_for_bridges(parameters, sheet):
    """By the parameter file that was cut: `holding = "tabs"`, and a router for this sheet."""
    file = tomllib.loads(parameters.read_text(encoding="utf-8"))
    cutting = file.get("cutting", {})
    process = file["sheet"][sheet].get("process", cutting.get("process", "router"))
    return process == "router" and cutting.get("holding", "vacuum") == "tabs"


def judge_sheet(demo, sheet, has_bridges, rows):
    name = f"{demo.name}, {sheet['name']}"
    radius = 0.5 * sheet["cut_mm"]
    edges, marks = nested_dxf.entities(demo / "part" / f"{sheet['name']}.dxf")
    lines, _ = nested_dxf.entities(demo / "tool" / f"{sheet['name']}.dxf")
    lines = nested_dxf.joined([line for line in lines if line.is_through or line.is_bridge])
    edges = [line for line in edges if line.is_through]
    # Drilled holes are drawn by their edges in both.
    drilled = [line for line in lines if not line.is_path]
    rows.equal("sheets: lines without a path are holes narrower than the tool", name, True, all(is_narrow(line, radius) for line in drilled))
    paths = [line for line in lines if line.is_path]
    swept = union([sweep(line.pieces, radius) for line in paths])
    prepare(swept)
    whole = box(0, 0, *sheet["size_mm"])
    parts = parts_of([line for line in edges if not is_narrow(line, radius)])
    left = pieces(whole.difference(swept))
    more = less = deep = 0.0
    missing = 0
    for part in parts:
        inside = part.representative_point()
        own = [piece for piece in left if piece.contains(inside)]
        if not own:
            missing += 1
            continue
        more = max(more, finely(lambda steps: beyond(own[0], closed_by(part, radius + EASE_MM / 3.0, steps))))
        blunt = opened_by(part, KNIFE_MM)
        less = max(less, finely(lambda steps: beyond(closed_by(blunt, radius - EASE_MM, steps), own[0])))
        deep = max(deep, depth_of(swept.intersection(part)))
    rows.equal("sheets: parts that are left", name, len(parts), len(parts) - missing)
    rows.number("sheets: what is left beyond the parts by the paths in the DXF, mm", name, 0.0, more, LIMIT_MM)
    rows.number("sheets: what is missing of the parts by the paths in the DXF, mm", name, 0.0, less, LIMIT_MM)
    rows.number("sheets: how deep the paths in the DXF cut into parts, mm", name, 0.0, deep, LIMIT_MM)
    judge_arcs(edges, paths, radius, name, rows)
    judge_bridges(whole, parts, paths, marks, has_bridges, radius, name, rows)


def is_narrow(line, radius):
    return line.is_circle and arc_radius(line.pieces[0]) < radius


def parts_of(edges):
    """Every outline less the openings that lie in it and in no smaller outline."""
    outlines = sorted((region(line.pieces) for line in edges if line.layer == nested_dxf.OUTLINE), key=lambda area: area.area)
    parts = list(outlines)
    for line in edges:
        if line.layer == nested_dxf.OPENINGS:
            opening = region(line.pieces)
            i = next((i for i, outline in enumerate(outlines) if outline.buffer(1e-6).contains(opening)), None)
            if i is not None:
                parts[i] = parts[i].difference(opening)
    return parts


def judge_arcs(edges, paths, radius, name, rows):
    radii = {round(arc_radius(piece), 6) for line in edges for piece in line.pieces if len(piece) == 7}
    allowed = [r for own in radii for r in (own - radius, own + radius)] + [radius]
    arcs = [arc_radius(piece) for line in paths for piece in line.pieces if len(piece) == 7]
    strange = sum(1 for r in arcs if min(abs(r - a) for a in allowed) > 0.0021)
    rows.equal("sheets: arcs of a radius that neither edge nor tool has", name, 0, strange)
    # A corner becomes an arc, and a bridge parts a piece in three; arcs of more than a half turn stand in two.
    most = sum(2 * len(line.pieces) + 2 for line in edges) + sum(2 * len(line.lifted) for line in paths)
    rows.equal("sheets: no more pieces than edges, corners and bridges ask for", name, True, sum(len(line.pieces) for line in paths) <= most)
    chords = sum(1 for line in paths for one, next_one in zip(line.pieces, line.pieces[1:]) if CHORD_RAD[0] < bend(one, next_one) < CHORD_RAD[1])
    rows.equal("sheets: bends in the paths as of chords of an arc", name, 0, chords)
    rows.equal("sheets: arcs in the paths, where parts have any", name, True, not radii or len(arcs) >= len(radii))


def bend(one, next_one):
    """By how much a path turns from one piece to the next, rad."""
    turned = heading(next_one, 0) - heading(one, 1)
    return abs(math.remainder(turned, 2.0 * math.pi))


def heading(piece, end):
    x, y = piece[2 * end : 2 * end + 2]
    if len(piece) == 7:
        return math.atan2(y - piece[5], x - piece[4]) + math.copysign(0.5 * math.pi, piece[6])
    return math.atan2(piece[3] - piece[1], piece[2] - piece[0])


def judge_bridges(whole, parts, paths, marks, has_bridges, radius, name, rows):
    lifted = [line for path in paths for line in path.lifted]
    rows.equal("sheets: bridges that are marked and bridges in the paths", name, len(marks), len(lifted))
    rows.equal("sheets: bridges are marked where the file asks for them, and only there", name, has_bridges, bool(marks))
    if not marks:
        return
    marked = [region(mark.pieces) for mark in marks]
    drawn = union(parts)
    rows.number("sheets: area of marks of bridges in parts, mm²", name, 0.0, union(marked).intersection(drawn).area, 1e-3)
    rows.number("sheets: marks of bridges away from their part, mm", name, 0.0, max(mark.distance(drawn) for mark in marked), 1e-4)
    # Below the bridges the tool goes all the way but that over them.
    below = union([sweep(run, radius) for path in paths for run in runs_between(path)])
    off = 0.0
    for line in lifted:
        middle = LineString(points(line, False))
        length = middle.difference(below).length
        mark = min(marked, key=lambda mark: mark.centroid.distance(middle))
        long = max(mark.length / 2 - 2 * radius, 0.0)
        off = max(off, abs(length - long), mark.centroid.distance(middle.interpolate(0.5, True)))
    rows.number("sheets: length and place of bridges, mm", name, 0.0, off, LIMIT_MM)
    hanging = 0
    attached = [piece for piece in pieces(whole.difference(below)) if piece.area > 1.0]
    for part in parts:
        inside = part.representative_point()
        own = next((piece for piece in attached if piece.contains(inside)), Polygon())
        hanging += own.distance(whole.exterior) < 1e-9
    bridged = sum(1 for part in parts if any(mark.distance(Polygon(part.exterior)) < 1e-3 for mark in marked))
    rows.equal("sheets: parts that hang on the sheet while they have bridges", name, True, hanging >= bridged)
    crowded, many = spacing(parts, marked)
    rows.equal("sheets: parts whose bridges stand crowded", name, 0, crowded)
    rows.equal("sheets: parts with more bridges than one in 150 mm around", name, 0, many)


def spacing(parts, marked):
    """How many parts have two bridges too near to one another around their convex hull, and how many have too many."""
    crowded = many = 0
    for part in parts:
        edge = Polygon(part.exterior)
        hull = edge.convex_hull.exterior
        # Of openings not: a mark lies beside the outline and outside of it.
        own = [mark.centroid for mark in marked if mark.distance(edge) < 1e-3 and not edge.contains(mark.centroid)]
        at = sorted(hull.project(middle) for middle in own)
        gaps = [b - a for a, b in zip(at, at[1:])] + [hull.length - at[-1] + at[0]] if len(at) > 1 else []
        crowded += any(gap < CROWDED_MM for gap in gaps)
        many += len(at) > max(FEWEST, math.ceil(hull.length / PER_BRIDGE_MM))
    return crowded, many


def runs_between(path):
    """Stretches of a path in which the tool is not lifted."""
    over = {tuple(piece) for line in path.lifted for piece in line}
    runs, run = [], []
    for piece in path.pieces:
        if tuple(piece) in over:
            runs.append(run)
            run = []
        else:
            run.append(piece)
    return [run for run in [*runs, run] if run]


# Damages for the self-test.


def of_tool(change):
    """Changes the first polyline of the paths for which it can; gets the entity and the model space."""

    def damage(folder):
        for path in sorted(folder.glob("*/tool/*.dxf")):
            document = ezdxf.readfile(path)
            space = document.modelspace()
            for entity in list(space):
                if entity.dxftype() == "LWPOLYLINE" and change(entity, space):
                    document.saveas(path)
                    return True
        return False

    return damage


def is_through(entity):
    return entity.dxf.layer in (nested_dxf.TOOL_PATH + nested_dxf.OUTLINE, nested_dxf.TOOL_PATH + nested_dxf.OPENINGS)


def moved(entity, _):
    if not is_through(entity):
        return False
    entity.translate(0.03, 0.0, 0.0)
    return True


def flattened(entity, _):
    corners = list(entity.get_points("xyseb"))
    at = next((i for i, corner in enumerate(corners) if abs(corner[4]) > 1e-6), None)
    if not is_through(entity) or at is None:
        return False
    corners[at] = (*corners[at][:4], 0.0)
    entity.set_points(corners, format="xyseb")
    return True


def chorded(entity, _):
    """Arcs as chords of a few micrometres' error: near enough to cut by, but not what the part is."""
    if not is_through(entity) or not entity.closed or not any(abs(corner[4]) > 1e-6 for corner in entity.get_points()):
        return False
    flat = [(point.x, point.y) for point in ezdxf.path.make_path(entity).flattening(0.002)]
    entity.set_points(flat[:-1], format="xy")
    return True


def without(entity, space):
    if not is_through(entity):
        return False
    space.delete_entity(entity)
    return True


def is_bridge(entity):
    return entity.dxf.layer.startswith(nested_dxf.TOOL_PATH + "bridge")


def cut_through(entity, _):
    if not is_bridge(entity):
        return False
    entity.dxf.layer = nested_dxf.TOOL_PATH + nested_dxf.OUTLINE
    return True


def bridge_moved(entity, space):
    """The tool goes down 0.03 mm too early."""
    if not is_bridge(entity):
        return False
    entities = list(space)
    after = entities[entities.index(entity) + 1]
    (a, b), (c, *rest) = entity.get_points("xy"), after.get_points("xyb")
    length = math.dist(a, b)
    end = (b[0] + (a[0] - b[0]) * 0.03 / length, b[1] + (a[1] - b[1]) * 0.03 / length)
    entity.set_points([a, end], format="xy")
    after.set_points([(*end, c[2]), *rest], format="xyb")
    return True


def engraved_last(entity, space):
    if not entity.dxf.layer.startswith(nested_dxf.TOOL_PATH + "engrave"):
        return False
    entities = space.entity_space.entities
    entities.remove(entity)
    entities.append(entity)
    return True


def is_mark(entity):
    return entity.dxf.layer.startswith("bridge")


def no_bridges(folder):
    """No bridge is marked, and the tool is lifted over none."""
    found = False
    for path in sorted([*folder.glob("*/part/*.dxf"), *folder.glob("*/tool/*.dxf")]):
        document = ezdxf.readfile(path)
        space = document.modelspace()
        for entity in [entity for entity in space if is_mark(entity) or is_bridge(entity)]:
            found = True
            if is_mark(entity):
                space.delete_entity(entity)
            else:
                entity.dxf.layer = nested_dxf.TOOL_PATH + nested_dxf.OUTLINE
        document.saveas(path)
    return found


def bunched(folder):
    """A mark is moved beside the next one on the same edge."""
    for path in sorted(folder.glob("*/part/*.dxf")):
        document = ezdxf.readfile(path)
        marks = [entity for entity in document.modelspace() if is_mark(entity)]
        for one, other in zip(marks, marks[1:]):
            (a, *_), (b, *_) = one.get_points("xy"), other.get_points("xy")
            way = math.dist(a, b)
            if min(abs(a[0] - b[0]), abs(a[1] - b[1])) < 1e-6 and way > 2.0 * CROWDED_MM:
                share = 1.0 - 0.5 * CROWDED_MM / way
                one.translate((b[0] - a[0]) * share, (b[1] - a[1]) * share, 0.0)
                document.saveas(path)
                return True
    return False


DAMAGES = {
    "a path 0.03 mm off": of_tool(moved),
    "a path with a flattened arc": of_tool(flattened),
    "a path that is missing": of_tool(without),
    "a path whose arcs are made of chords": of_tool(chorded),
    "a bridge that is cut through": of_tool(cut_through),
    "a bridge that is 0.03 mm off": of_tool(bridge_moved),
    "no bridges at all": no_bridges,
    "bridges that stand bunched": bunched,
    "engraving that stands last": of_tool(engraved_last),
}
