"""Judges nests: parts on sheets, how near they lie, what a saw can cut, and the heights of strips.

Independent library: shapely. Parts are polygons again, with their openings; areas that two of them share, distances,
and what lies outside the margins are shapely's. Whether a saw can cut a sheet is found by a recursion of our own here,
or by playing the told cuts one after another; prices are added up anew. Heights of strips are held against the optimum
that Hopper and Turton published with their sets, costs of sheets against the best that is known (packing/README.md).

The folder holds what `target/debug/examples/nests` writes: `nests.json` with

    sets[], problems[]   {name, gap, is_guillotine, parts[] {size, turns, opening}, kinds[] {size, cost, quantity, turns},
                         cost, bound, best_known, sheets[] {kind, laid[] {part, at, is_turned}}}
    strips[]             {name, width, optimum, height, seconds, parts[] size, laid[] {at, is_turned}}

and beside it the sheets of designs, NAME.json and NAME-sawn.json, with the `seconds` that it took to lay them; or it is a folder that `sumpwright make` wrote, with `checks/shop.json`.
Both have this form, lengths in mm, the origin in the sheet's lower left corner:

    sheets[]   {name, sheet, size_mm [x, y], price, margin_mm, spacing_mm, cut_mm, is_straight_through,
               laid[] {piece, copy, loops [[[x, y], …], …]},
               offcuts[] {name, corners_mm}, saw_cuts[] [[x, y], [x, y]]}
    wanted     {piece: how many}
    prices[]   [price, least price] of each kind of sheet, null where the file names no price

`piece` is the number of the part. The first loop is the outline, the others are openings; a part in several pieces has
them all, an outline counter-clockwise and an opening clockwise. `cut_mm` is the width of what the tool takes away. `price`,
`offcuts`, `saw_cuts`, `wanted`, `prices` are judged where they are.
"""

import json
from collections import Counter

from shapely import Polygon, STRtree, box
from shapely.affinity import affine_transform
from shapely.ops import unary_union

import judging

SOURCE = judging.versions("shapely")
PUBLISHED = "Hopper and Turton 2001, Eur. J. Oper. Res. 128, 34-57"
# What an arc of the listed points may lack of the true arc, and the rounding of the numbers.
LENGTH_LIMIT_MM = 0.01
AREA_LIMIT = 1e-6
# Steps are whole: what is off is noise of the library.
STEP_LIMIT = 1e-9
# Strips: one unit over the optimum at most, and ten of the twelve at it. Sheets: this share over the best known cost, which
# took four times as many rounds or more.
STRIP_LIMIT = 1
STRIPS_AT_OPTIMUM = 10
COST_LIMIT = 0.005
# Sheets of a design: this share over the bound. One that is sawn only because the judge wants it so is not held to it: the
# bound is that of all ways to lay parts, and a saw needs more.
BOUND_LIMIT = 0.02
SAWN_NAME = "-sawn"
# For one strip, and for all sheets of a design; the example that is timed is not built for speed.
STRIP_SECONDS = 5.0
DESIGN_SECONDS = 1.0


def judge(folder, rows):
    made = folder / "checks" / "shop.json"
    if made.exists():
        judge_design(folder.name, json.loads(made.read_text(encoding="utf-8")), rows)
        return
    for path in sorted(folder.glob("*.json")):
        told = json.loads(path.read_text(encoding="utf-8"))
        if path.stem == "nests":
            judge_nests(told, rows)
        else:
            judge_design(path.stem, told, rows)


def judge_nests(told, rows):
    for problem in told["sets"] + told["problems"]:
        judge_problem(problem, rows)
    heights = [judge_strip(strip, rows) for strip in told["strips"]]
    if heights:
        at_optimum = sum(1 for over in heights if over == 0)
        rows.equal("nests: strips at the published optimum are most", "", True, min(STRIPS_AT_OPTIMUM, len(heights)) <= at_optimum)


def judge_problem(problem, rows):
    name, gap, kinds, parts = problem["name"], problem["gap"], problem["kinds"], problem["parts"]
    on = "random sets" if name.startswith("random") else name
    counts = Counter(put["part"] for sheet in problem["sheets"] for put in sheet["laid"])
    rows.equal("nests: every part lies once", on, True, counts == Counter(range(len(parts))))
    cost = sum(kinds[sheet["kind"]]["cost"] for sheet in problem["sheets"])
    rows.number("nests: cost of the sheets", on, problem["cost"], cost, 0.0)
    rows.equal("nests: the bound is not above the cost", on, True, problem["bound"] <= cost)
    used = Counter(sheet["kind"] for sheet in problem["sheets"])
    there = all(kinds[kind]["quantity"] is None or number <= kinds[kind]["quantity"] for kind, number in used.items())
    rows.equal("nests: no more sheets than there are", on, True, there)
    best = problem.get("best_known")
    if best is not None:
        rows.equal("nests: the bound is not above the best known cost", on, True, problem["bound"] <= best)
        rows.number("nests: cost over the best known", on, max(cost, best), best, COST_LIMIT, relative=True)

    nearest, outside, shared, turned = float("inf"), 0.0, 0.0, True
    for sheet in problem["sheets"]:
        kind = kinds[sheet["kind"]]
        for put in sheet["laid"]:
            turned &= not put["is_turned"] or (kind["turns"] and parts[put["part"]]["turns"])
        polygons = [polygon_of(parts[put["part"]], put) for put in sheet["laid"]]
        nearest = min(nearest, least_distance(polygons, gap))
        shared += shared_area(polygons)
        outside += unary_union(polygons).difference(box(0, 0, *kind["size"])).area
        if problem["is_guillotine"]:
            rows.equal("nests: a saw can cut the sheet", on, True, can_be_sawn([polygon.bounds for polygon in polygons]))
    rows.equal("nests: only what may be turned is turned", on, True, turned)
    rows.number("nests: area that parts share", on, 0.0, shared, AREA_LIMIT)
    rows.number("nests: area outside the sheets", on, 0.0, outside, AREA_LIMIT)
    rows.number("nests: distance of parts, at most the gap", on, gap, min(gap, nearest), STEP_LIMIT)


def polygon_of(part, put):
    width, height = part["size"]
    holes = []
    if part["opening"]:
        x, y, across, up = part["opening"]
        holes = [box(x, y, x + across, y + up).exterior.coords]
    polygon = Polygon(box(0, 0, width, height).exterior.coords, holes)
    if put["is_turned"]:
        # By 90 degrees, then moved back so that the lower left corner is the origin.
        polygon = affine_transform(polygon, [0, -1, 1, 0, height, 0])
    return affine_transform(polygon, [1, 0, 0, 1, *put["at"]])


def judge_strip(strip, rows):
    name, placed = strip["name"], []
    for (width, height), put in zip(strip["parts"], strip["laid"], strict=True):
        across, up = (height, width) if put["is_turned"] else (width, height)
        x, y = put["at"]
        placed.append(box(x, y, x + across, y + up))
    rows.number("nests: area that parts share", name, 0.0, shared_area(placed), AREA_LIMIT)
    whole = box(0, 0, strip["width"], strip["height"])
    rows.number("nests: area outside the strips", name, 0.0, unary_union(placed).difference(whole).area, AREA_LIMIT)
    top = max(polygon.bounds[3] for polygon in placed)
    area = sum(polygon.area for polygon in placed)
    rows.number("nests: optimum that fills the strip", name, strip["optimum"] * strip["width"], area, 0.0)
    over = top - strip["optimum"]
    rows.number(f"nests: height of the strip beside the optimum ({PUBLISHED})", name, top, strip["optimum"], STRIP_LIMIT)
    rows.within("nests: time for a strip, s", name, strip["seconds"], STRIP_SECONDS)
    return over


def judge_design(name, told, rows):
    counts, price = Counter(), 0.0
    for sheet in told["sheets"]:
        counts.update(put["piece"] for put in sheet["laid"])
        price += sheet.get("price") or 0.0
        judge_sheet(f"{name}: {sheet['name']}", sheet, rows)
    copies = Counter((put["piece"], put["copy"]) for sheet in told["sheets"] for put in sheet["laid"])
    rows.equal("sheets: no copy lies twice", name, True, all(number == 1 for number in copies.values()))
    if "wanted" in told:
        rows.equal("sheets: every part lies as often as it is wanted", name, told["wanted"], dict(sorted(counts.items())))
    if "prices" in told:
        rows.number("sheets: price of all sheets", name, sum(ours or 0.0 for ours, _ in told["prices"]), price, 0.005)
        is_below = all(least is None or least <= ours for ours, least in told["prices"])
        rows.equal("sheets: the least price is not above the price", name, True, is_below)
        if not name.endswith(SAWN_NAME):
            over = max([0.0] + [1 - least / ours for ours, least in told["prices"] if ours and least is not None])
            rows.within("sheets: share of the price over the bound", name, over, BOUND_LIMIT)
    if "seconds" in told:
        rows.within("sheets: time to lay the parts of a design, s", name, told["seconds"], DESIGN_SECONDS)


def judge_sheet(name, sheet, rows):
    polygons = [solid(put["loops"]) for put in sheet["laid"]]
    whole = box(0, 0, *sheet["size_mm"])
    rows.number("sheets: area that parts share, mm²", name, 0.0, shared_area(polygons), AREA_LIMIT)
    cut, is_straight = sheet["cut_mm"], sheet["is_straight_through"]
    wanted = sheet["spacing_mm"] + (1 if is_straight else 2) * cut
    nearest = min(wanted, least_distance(polygons, wanted))
    rows.number("sheets: distance of parts, and of what the tool takes, mm", name, wanted, nearest, LENGTH_LIMIT_MM)
    edge = sheet["margin_mm"] + cut
    to_edge = min([edge] + [polygon.distance(whole.exterior) if whole.contains(polygon) else -1.0 for polygon in polygons])
    rows.number("sheets: distance of parts from the edge, mm", name, edge, to_edge, LENGTH_LIMIT_MM)

    for offcut in sheet.get("offcuts", []):
        (x, y), (right, top) = offcut["corners_mm"]
        rest = box(x, y, right, top)
        off = max([0.0] + [rest.intersection(polygon.buffer(cut - LENGTH_LIMIT_MM)).area for polygon in polygons])
        rows.number("sheets: area of offcuts that a part or the tool takes, mm²", offcut["name"], 0.0, off, AREA_LIMIT)
        outside = rest.difference(whole.buffer(LENGTH_LIMIT_MM)).area
        rows.number("sheets: area of offcuts outside the sheet, mm²", offcut["name"], 0.0, outside, AREA_LIMIT)
    if is_straight:
        bounds = [polygon.bounds for polygon in polygons]
        rows.equal("sheets: a saw can cut the sheet", name, True, can_be_sawn(bounds))
        if "saw_cuts" in sheet:
            rows.equal("sheets: the told cuts set every part free", name, True, frees(sheet["size_mm"], sheet["saw_cuts"], cut, bounds))


def solid(loops):
    """The polygon of a part: outlines run counter-clockwise, openings clockwise."""
    rings = [Polygon(loop) for loop in loops]
    is_outline = [signed_area(loop) > 0 for loop in loops]
    whole = unary_union([ring for ring, outline in zip(rings, is_outline) if outline])
    return whole.difference(unary_union([ring for ring, outline in zip(rings, is_outline) if not outline]))


def signed_area(loop):
    return sum(x * next_y - next_x * y for (x, y), (next_x, next_y) in zip(loop, loop[1:] + loop[:1])) / 2


def near_pairs(polygons, within):
    tree = STRtree(polygons)
    for at, polygon in enumerate(polygons):
        for other in tree.query(polygon.buffer(within + 1.0).envelope):
            if at < other:
                yield polygon, polygons[other]


def least_distance(polygons, wanted):
    return min((a.distance(b) for a, b in near_pairs(polygons, wanted)), default=float("inf"))


def shared_area(polygons):
    return sum(a.intersection(b).area for a, b in near_pairs(polygons, 0.0))


def can_be_sawn(boxes):
    """Whether straight cuts set all boxes free: sorted along an axis, a cut goes wherever all before end before all
    behind begin."""
    if len(boxes) <= 1:
        return True
    for axis in (0, 1):
        ordered = sorted(boxes, key=lambda part: part[axis])
        end = ordered[0][axis + 2]
        for at in range(1, len(ordered)):
            if end <= ordered[at][axis] + LENGTH_LIMIT_MM:
                return can_be_sawn(ordered[:at]) and can_be_sawn(ordered[at:])
            end = max(end, ordered[at][axis + 2])
    return False


def frees(size, cuts, blade, parts):
    """Plays the cuts on the pieces that there are; each must go from side to side of one piece, and no blade meet a part."""
    pieces = [(0.0, 0.0, *size)]
    for (x, y), (end_x, end_y) in cuts:
        axis = 0 if abs(x - end_x) < 1e-9 else 1
        middle = (x, y)[axis]
        low, high = ((y, end_y), (x, end_x))[axis]
        along = 1 - axis
        found = None
        for piece in pieces:
            is_across = abs(piece[along] - low) < LENGTH_LIMIT_MM and abs(piece[along + 2] - high) < LENGTH_LIMIT_MM
            if is_across and piece[axis] < middle + blade / 2 and middle - blade / 2 < piece[axis + 2]:
                found = piece
        if found is None:
            return False
        pieces.remove(found)
        before, behind = list(found), list(found)
        before[axis + 2], behind[axis] = middle - blade / 2, middle + blade / 2
        pieces += [tuple(piece) for piece in (before, behind) if piece[axis + 2] - piece[axis] > LENGTH_LIMIT_MM]
    limit = 2 * LENGTH_LIMIT_MM
    return all(any(all(abs(a - b) <= limit for a, b in zip(part, piece)) for piece in pieces) for part in parts)


# Damages for the self-test.


def change(find):
    """Changes what `find` picks in the first file that has it; it gives whether there was something."""

    def damage(folder):
        for path in [folder / "checks" / "shop.json", *sorted(folder.glob("*.json"))]:
            if not path.exists():
                continue
            told = json.loads(path.read_text(encoding="utf-8"))
            if find(told):
                path.write_text(json.dumps(told), encoding="utf-8")
                return True
        return False

    return damage


def of_sheets(apply):
    """On the first sheet of a design for which it gives something."""
    return change(lambda told: any(apply(sheet) for sheet in told.get("sheets", [])))


def of_nests(kind, apply):
    """On the first set, problem or strip for which it gives something."""
    return change(lambda told: any(apply(one) for one in told.get(kind, [])))


def move(put, by):
    put["loops"] = [[[x + by, y] for x, y in loop] for loop in put["loops"]]


def move_towards_edge(sheet):
    """The part that lies furthest left comes a tenth of a millimetre nearer to the edge."""
    move(min(sheet["laid"], key=lambda put: min(x for loop in put["loops"] for x, _ in loop)), -0.1)
    return True


def move_onto_another(sheet):
    if len(sheet["laid"]) < 2:
        return False
    first, second = sheet["laid"][:2]
    move(second, first["loops"][0][0][0] - second["loops"][0][0][0])
    second["loops"] = [[[x, y + first["loops"][0][0][1] - second["loops"][0][0][1]] for x, y in loop] for loop in second["loops"]]
    return True


def grow_offcut(sheet):
    for offcut in sheet["offcuts"]:
        offcut["corners_mm"][0][0] -= 60.0
        offcut["corners_mm"][1][0] += 60.0
        return True
    return False


def with_cuts(apply):
    return of_sheets(lambda sheet: bool(sheet["saw_cuts"]) and apply(sheet["saw_cuts"]))


def pinwheel(problem):
    """Four parts that no saw can cut, on the first sheet of a set that is to be sawn."""
    if not problem["is_guillotine"]:
        return False
    gap, first = problem["gap"], len(problem["parts"])
    side = 10
    problem["kinds"][problem["sheets"][0]["kind"]]["size"] = [10_000, 10_000]
    long = 2 * side + gap
    step = side + gap
    for size, at in [
        ([long, side], [0, 0]),
        ([side, long], [long + gap, 0]),
        ([long, side], [step, long + gap]),
        ([side, long], [0, step]),
    ]:
        problem["parts"].append({"size": size, "turns": False, "opening": None})
        put = {"part": len(problem["parts"]) - 1, "at": [at[0] + 5000, at[1] + 5000], "is_turned": False}
        problem["sheets"][0]["laid"].append(put)
    return len(problem["parts"]) == first + 4


def set_to(key, value):
    def apply(one):
        one[key] = value(one)
        return True

    return apply


def drop_first(puts):
    return puts.pop(0) is not None


NESTS = {
    "a set with parts a step nearer than the gap": of_nests("sets", lambda one: len(one["parts"]) > 4 and set_to("gap", lambda one: one["gap"] + 1)(one)),
    "a set without one of its parts": of_nests("sets", lambda one: drop_first(one["sheets"][0]["laid"])),
    "a set with a part over the edge": of_nests("sets", lambda one: set_aside(one)),
    "a set that is said to be cheaper than it is": of_nests("sets", set_to("cost", lambda one: one["cost"] - 1)),
    "a set with a bound above its cost": of_nests("sets", set_to("bound", lambda one: one["cost"] + 1)),
    "a set with parts that no saw can cut": of_nests("sets", pinwheel),
    "a set with a turned part that may not be": of_nests("sets", lambda one: forbid_turns(one)),
    "a set on more sheets than there are": of_nests("sets", lambda one: set_to("quantity", lambda _: 0)(one["kinds"][one["sheets"][0]["kind"]])),
    "a strip two units over the optimum": of_nests("strips", lambda one: raise_strip(one)),
    "a strip with two parts in one place": of_nests("strips", lambda one: one["laid"][0].update(one["laid"][1]) is None),
    "sheets that cost a hundredth more than the best known": of_nests("problems", lambda one: make_dear(one)),
    "three strips a unit over the optimum": change(lambda told: "strips" in told and all(raise_strip(one, by=1) for one in told["strips"][:3])),
    "a strip that took six seconds": of_nests("strips", set_to("seconds", lambda _: 6.0)),
}
SHEETS = {
    "a sheet with a part nearer to the edge than it may be": of_sheets(move_towards_edge),
    "a sheet with a part on another": of_sheets(move_onto_another),
    "a sheet with less spacing than is told": of_sheets(set_to("spacing_mm", lambda sheet: sheet["spacing_mm"] + 0.1)),
    "a sheet with a part that is missing": of_sheets(lambda sheet: drop_first(sheet["laid"])),
    "a sheet with a copy that lies twice": of_sheets(lambda sheet: sheet["laid"].append(sheet["laid"][0]) is None),
    "an offcut that reaches into a part": of_sheets(grow_offcut),
    "sheets that took two seconds": change(lambda told: "seconds" in told and set_to("seconds", lambda _: 2.0)(told)),
    "sheets three hundredths over the bound": lambda folder: lower_bound(folder),
    "a sheet at another price": of_sheets(set_to("price", lambda sheet: (sheet["price"] or 0.0) + 1.0)),
}
SAWN = {
    "a saw's sheet without its first cut": with_cuts(drop_first),
    "a saw's sheet with a cut 0.1 mm off": with_cuts(lambda cuts: shift(cuts[-1])),
}


def set_aside(one):
    one["sheets"][0]["laid"][-1]["at"][0] += 10_000
    return True


def forbid_turns(one):
    for sheet in one["sheets"]:
        for put in sheet["laid"]:
            if put["is_turned"]:
                one["parts"][put["part"]]["turns"] = False
                return True
    return False


def raise_strip(one, by=None):
    """The part that reaches highest is moved up, by twice the height if nothing else is said."""

    def top(k):
        return one["laid"][k]["at"][1] + one["parts"][k][0 if one["laid"][k]["is_turned"] else 1]

    by = by or 2 * one["height"]
    one["laid"][max(range(len(one["laid"])), key=top)]["at"][1] += by
    one["height"] += by
    return True


def make_dear(one):
    if not one.get("best_known"):
        return False
    one["best_known"] = int(one["cost"] / 1.01)
    one["bound"] = min(one["bound"], one["best_known"])
    return True


def lower_bound(folder):
    """Of the first design that is held to its bound."""
    for path in sorted(folder.glob("*.json")):
        told = json.loads(path.read_text(encoding="utf-8"))
        for price in told.get("prices", []):
            if price[0] and price[1] is not None and not path.stem.endswith(SAWN_NAME):
                price[1] = 0.97 * price[0]
                path.write_text(json.dumps(told), encoding="utf-8")
                return True
    return False


def shift(cut):
    axis = 0 if abs(cut[0][0] - cut[1][0]) < 1e-9 else 1
    for end in cut:
        end[axis] += 0.1
    return True


DAMAGES = {**NESTS, **SHEETS, **SAWN}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)
