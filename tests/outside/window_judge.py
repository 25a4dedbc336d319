"""Judges what the live window showed and told while `window_drive.py` drove it.

Pictures are held against those in `renders/window/`, which were looked at and kept; what is told, against what the
command line says of the same files, and against what pointer and keys were to do by the rules of drawing in
perspective, written anew here. UPDATE_GOLDEN=1 keeps the new pictures; look at them before committing.
"""

import json
import os
import sys
import tomllib
from pathlib import Path

import numpy
from PIL import Image

import judging

SOURCE = judging.versions("python-xlib", "pillow")
KEPT = Path(__file__).parents[2] / "renders" / "window"
# Pictures are kept in half the size: so small that a line which is drawn half a pixel elsewhere by another graphics
# library weighs little, and so large that words can be read; with few colours, for small files.
SHRINK = 2
COLOURS = 256
# A channel that differs by fewer steps is of colours that were thrown together, by up to 12, or of smooth edges.
STEP = 24
# The share of pixels that may differ more. Between one state and the next it is at least three times as much, which
# the self-test proves for every one of them.
MOST_SHARE = 1e-3
# States that must look as one before.
SAME_AS = {"back-and-closed": "open", "as-in-file": "open", "mended": "edited"}
# The window tells levels to a hundredth of a millimetre.
LEVEL_MM = 0.01
# A table of a rehearsal tells times to a hundredth of a second and levels to a tenth of a millimetre.
REHEARSED_MM = 0.2
# Places are told in whole pixels.
PIXEL = 1.0
# So many pixels differ at least where lines are drawn over a wall.
LEAST_PIXELS = 1000
# Half a square around a mark, px, and how much of it differs at least.
MARK_PX = 6
MARK_SHARE = 0.25
# Words at a mark may reach beyond the wall by so much, px.
BESIDE_PX = 30
# A drag begins when it is told from a click, a few pixels after the press.
DRAGGED_PX = 8.0
# A drag across the height of the picture turns by so much, rad.
TURN_PER_HEIGHT = 4.0


def judge(folder, rows):
    states = json.loads((folder / "states.json").read_text(encoding="utf-8"))
    asked = json.loads((folder / "asked.json").read_text(encoding="utf-8"))
    for state in states:
        if (folder / f"{state['name']}.png").exists():
            compare(folder / f"{state['name']}.png", SAME_AS.get(state["name"], state["name"]), rows)
        rows.equal("window: what the driver said went wrong", state["name"], None, state["told"]["trouble"])
    by_name = {state["name"]: state for state in states}
    for name, facts in FACTS.items():
        if name not in by_name:
            rows.equal("window: state reached", name, "reached", "not reached")
            continue
        facts(by_name[name] | {"folder": folder}, by_name, asked, rows)
    for name, refusal in json.loads((folder / "refusals.json").read_text(encoding="utf-8")).items():
        rows.equal("window: exit code on a machine that cannot show it", name, 2, refusal["code"])
        is_one = len(refusal["said"]) == 1 and refusal["said"][0].startswith("error: the window cannot open: ")
        rows.equal("window: one sentence on a machine that cannot show it", name, True, is_one or refusal["said"])


# Pictures.


def compare(path, kept, rows):
    kept_path = KEPT / f"{kept}.png"
    ours = rows.readable("window: picture", path.name, lambda: shrunk(path))
    theirs = rows.readable("window: the kept picture", kept_path.name, lambda: pixels(Image.open(kept_path)))
    if ours is None or theirs is None:
        return
    rows.equal("window: size of the picture", path.stem, size(ours), size(theirs))
    if ours.shape == theirs.shape:
        rows.number("window: share of pixels unlike the kept picture", path.stem, 0.0, unlike(ours, theirs), MOST_SHARE)


def unlike(a, b):
    return float((numpy.abs(a - b) > STEP).any(axis=2).mean())


def shrunk(path):
    with Image.open(path) as image:
        return pixels(image.convert("RGB").reduce(SHRINK))


def pixels(image):
    return numpy.asarray(image.convert("RGB"), dtype=int)


def size(picture):
    height, width, _ = picture.shape
    return f"{width} × {height}"


def keep(folder):
    KEPT.mkdir(parents=True, exist_ok=True)
    names = [state["name"] for state in json.loads((folder / "states.json").read_text(encoding="utf-8"))]
    for name in names:
        if name not in SAME_AS and (folder / f"{name}.png").exists():
            with Image.open(folder / f"{name}.png") as image:
                small = image.convert("RGB").reduce(SHRINK)
            few = small.quantize(COLOURS, method=Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE)
            few.save(KEPT / f"{name}.png", optimize=True)


# What is told. Each takes its state, all states, the answers of the command line, and the rows.


def opened(state, states, asked, rows):
    told = state["told"]
    rows.equal("window: title", state["name"], told["title"], "Seahorse room")
    rows.equal("window: nothing picked at first", state["name"], told["picked"], None)
    same_levels(state, asked["levels as it is"], rows)


def same_levels(state, theirs, rows):
    ours = dict(state["told"]["levels_mm"])
    alike("window: what holds water", state["name"], sorted(ours), sorted(theirs), rows)
    for basin in ours.keys() & theirs.keys():
        rows.number("window: level, mm", f"{state['name']}: {basin}", ours[basin], theirs[basin], LEVEL_MM)


def picked(state, states, asked, rows):
    rows.equal("window: the part clicked is picked", state["name"], state["told"]["picked"], state["clicked"])
    rows.equal("window: as many clicks as things are before it", state["name"], len(state["taken"]), state["behind"] + 1)
    rows.equal("window: the part picked has a card", state["name"], state["clicked"] in words(state["told"]), True)


def bent(state, states, asked, rows):
    """Its greatest deflection is told as by the command line, and what is drawn changes the picture there and on the wall,
    and nowhere else."""
    told, before = state["told"], states["wall-picked"]["told"]
    rows.equal("window: how it bends is drawn", state["name"], [told["has_bending"], before["has_bending"]], [True, False])
    panel = asked["bending"]
    expected = f"Bends {round(panel['deflection']['value'], 2):g} mm at most"
    said = next((said for said in words(told) if said.startswith("Bends ")), "nothing")
    rows.equal("window: how far it bends", state["name"], said[: len(expected)], expected)
    # Seen from inside, x of the front wall's frame runs from the far end; its y begins on the bottom, one sheet up.
    length, depth, height = asked["outside_mm"]
    sheet_mm = height - panel["rectangle_mm"][1][1] - panel["rectangle_mm"][0][1]
    place = lambda at: (length - at[0], 0.5 * sheet_mm, 0.5 * sheet_mm + at[1])
    corners = [(x, y, z) for x in (0.0, length) for y in (0.0, sheet_mm) for z in (0.0, height)]
    for name, earlier in (("bending", "wall-picked"), ("bending-straight", "wall-straight")):
        view = states[name]["told"]["model"]
        is_other = changed(state["folder"], name, earlier, view)
        rows.equal("window: lines are drawn", name, int(is_other.sum()) > LEAST_PIXELS, True)
        marks = [("deflection", panel["deflection"]), ("stress", panel["stress"])]
        for what, peak in marks:
            x, y = (round(at) for at in project(view, place(peak["at_mm"])))
            box = is_other[max(0, y - MARK_PX) : y + MARK_PX, max(0, x - MARK_PX) : x + MARK_PX]
            share = float(box.mean())
            rows.equal(f"window: a mark where the greatest {what} is", name, True if share > MARK_SHARE else share, True)
        seen = numpy.array([project(view, corner) for corner in corners])
        lo, hi = numpy.floor(seen.min(axis=0)).astype(int) - BESIDE_PX, numpy.ceil(seen.max(axis=0)).astype(int) + BESIDE_PX
        outside = is_other.copy()
        outside[max(0, lo[1]) : max(0, hi[1]), max(0, lo[0]) : max(0, hi[0])] = False
        rows.equal("window: pixels beside the wall that changed", name, int(outside.sum()), 0)


def changed(folder, name, earlier, view):
    """Which pixels of the model differ between two pictures."""
    width, height = (round(side) for side in view["size"])
    left, top = (round(at) for at in view["corner"])
    two = [pixels(Image.open(Path(folder) / f"{name}.png"))[top : top + height, left : left + width] for name in (name, earlier)]
    return (numpy.abs(two[0] - two[1]) > STEP).any(axis=2)


def alike(quantity, part, ours, theirs, rows):
    """The same, of things that are too long for a table."""
    rows.equal(quantity, part, "the same" if ours == theirs else f"{ours}", "the same" if ours == theirs else f"{theirs}")


def words(told):
    return [control[key] for control in told["controls"] for key in ("name", "value") if control[key]]


def taken_out(state, states, asked, rows):
    told = state["told"]
    rows.equal("window: the part double-clicked comes out", state["name"], state["clicked"] in told["moving"], True)
    rows.equal("window: its way is what plays", state["name"], told["play"] is not None and told["play"]["what"] in state["clicked"], True)
    alike("window: what moved", state["name"], moved(told), sorted(told["moving"]), rows)


def moved(told):
    return sorted(thing["name"] for thing in told["things"] if thing["is_moved"])


def put_back(state, states, asked, rows):
    alike("window: what moved", state["name"], moved(state["told"]), [], rows)
    alike("window: what is shown", state["name"], shown(state["told"]), shown(states["open"]["told"]), rows)


def shown(told):
    return sorted(thing["name"] for thing in told["things"] if thing["is_shown"])


def rehearsed(state, states, asked, rows):
    told = state["told"]
    rows.equal("window: the failure that plays", state["name"], told["play"]["what"], state["failure"])
    head, *lines = asked[f"rehearsal {state['failure']}"]
    times = [float(line[0]) for line in lines]
    for basin, level in told["levels_mm"]:
        column = next((k for k, name in enumerate(head) if name.startswith(basin)), None)
        if column is None:
            rows.equal("window: basin of the rehearsal", basin, basin, head)
            continue
        theirs = numpy.interp(told["play"]["t_s"], times, [float(line[column]) for line in lines])
        rows.number("window: level in a rehearsal, mm", f"{state['name']}: {basin}", level, theirs, REHEARSED_MM)


def leaf_swapped(state, states, asked, rows):
    told = state["told"]
    rows.equal("window: the leaf in its slot", state["name"], told["leaves"], [["first", state["leaf"]]])
    expected = sorted({*shown(states["open"]["told"]), state["leaf"]} - {"leaf comb"})
    alike("window: what is shown", state["name"], shown(told), expected, rows)
    same_levels(state, asked["levels leaf-swapped"], rows)


def door_moved(state, states, asked, rows):
    (leaf, height), = state["told"]["doors_mm"]
    rows.equal("window: the door moves", state["name"], height != state["before"], True)
    texts = [kept["text"] for kept in state["told"]["to_keep"]]
    rows.equal("window: the line that keeps the door", state["name"], f"set = {height:g}" in texts, True)
    doors = [thing for thing in moved(state["told"]) if "door" in thing]
    alike("window: what moved", state["name"], doors, [f"door of leaf {leaf}"], rows)
    same_levels(state, asked["levels door-moved"], rows)
    rows.equal("window: the water follows", state["name"], state["told"]["levels_mm"] != states["leaf-swapped"]["told"]["levels_mm"], True)


def as_in_file(state, states, asked, rows):
    same_levels(state, asked["levels as it is"], rows)
    alike("window: what moved", state["name"], moved(state["told"]), [], rows)


def edited(state, states, asked, rows):
    rows.equal("window: title", state["name"], state["told"]["title"], "Seahorse room with a deeper return")
    same_levels(state, asked["levels edited"], rows)


def mistaken(state, states, asked, rows):
    told, before = state["told"], states["edited"]["told"]
    alike("window: mistakes", state["name"], told["mistakes"], asked["findings mistake"], rows)
    kept = [[told["title"], *shown(told)] for told in (told, before)]
    alike("window: the last good model is kept", state["name"], *kept, rows)
    is_told = all(any(message in said for said in words(told)) for message, _ in told["mistakes"][:1])
    rows.equal("window: the mistake is in the cards", state["name"], is_told, True)


def mended(state, states, asked, rows):
    alike("window: mistakes", state["name"], state["told"]["mistakes"], [], rows)
    same_levels(state, asked["levels edited"], rows)


def darkened(state, states, asked, rows):
    rows.equal("window: dark", state["name"], state["told"]["is_dark"], True)


def helped(state, states, asked, rows):
    rows.equal("window: help page", state["name"], [state["told"]["has_help"], "Keys" in words(state["told"])], [True, True])


def cut(state, states, asked, rows):
    rows.equal("window: cut", state["name"], state["told"]["cut"], ["along", 0.5])


def orbited(state, states, asked, rows):
    before, after = state["before"], state["told"]["model"]
    per_pixel = TURN_PER_HEIGHT / before["size"][1]
    right, down = state["drag"]
    dragged("window: turn by a drag", "to the right", (before["yaw"] - after["yaw"]) / per_pixel, right, rows)
    dragged("window: turn by a drag", "down", (after["pitch"] - before["pitch"]) / per_pixel, down, rows)
    alike("window: distance while turning", state["name"], after["distance_mm"], before["distance_mm"], rows)


def dragged(quantity, part, ours, theirs, rows):
    """How far it went is as far as the pointer did, px; how many pixels tell a drag from a click differs."""
    told = "as the pointer" if abs(ours - theirs) <= DRAGGED_PX else f"{ours:.1f} px for {theirs:.1f} px"
    rows.equal(quantity, part, told, "as the pointer")


def panned(state, states, asked, rows):
    before, after = state["before"], state["told"]["model"]
    was, now = (project(view, before["target"]) for view in (before, after))
    for axis, by, a, b in zip("xy", state["drag"], was, now):
        dragged("window: move by a drag with Shift", axis, b - a, by, rows)
    alike("window: direction while moving", state["name"], after["forward"], before["forward"], rows)


def zoomed(state, states, asked, rows):
    before, after = state["before"], state["told"]["model"]
    place = numpy.subtract(state["place"], before["corner"])
    under = under_pointer(before, place)
    for axis, a, b in zip("xy", place, project(after, under)):
        rows.number("window: what is under the pointer while the wheel turns, px", axis, b, a, PIXEL)
    rows.equal("window: the wheel goes nearer", "", after["distance_mm"] < 0.9 * before["distance_mm"], True)


def project(view, point):
    """Where a point is seen, px: lines of sight through the eye."""
    d = numpy.subtract(point, view["eye"])
    x, y, z = (float(numpy.dot(d, view[axis])) for axis in ("right", "up", "forward"))
    return view["centre"][0] + view["scale"] * x / z, view["centre"][1] - view["scale"] * y / z


def under_pointer(view, place):
    """The point under a place, as deep as what is looked at."""
    x, y = (numpy.subtract(place, view["centre"]) / view["scale"]).tolist()
    ray = numpy.array(view["forward"]) + x * numpy.array(view["right"]) - y * numpy.array(view["up"])
    depth = numpy.dot(numpy.subtract(view["target"], view["eye"]), view["forward"])
    return numpy.array(view["eye"]) + depth * ray


def focused(state, states, asked, rows):
    rows.equal("window: controls that Tab reaches, each another", state["name"], len(set(state["focused"])), len(state["focused"]))


def pressed(state, states, asked, rows):
    is_other = state["told"]["model"] != state["before"]
    rows.equal("window: Space presses what is in focus", state["name"], is_other, True)


FACTS = {
    "open": opened,
    "picked": picked,
    "bending": bent,
    "way-out": taken_out,
    "back": put_back,
    "rehearsal": rehearsed,
    "leaf-swapped": leaf_swapped,
    "door-moved": door_moved,
    "as-in-file": as_in_file,
    "edited": edited,
    "mistake": mistaken,
    "mended": mended,
    "dark": darkened,
    "help": helped,
    "cut": cut,
    "orbited": orbited,
    "panned": panned,
    "zoomed": zoomed,
    "focus": focused,
    "pressed": pressed,
}

# Damages for the self-test.


def as_before(name, before):
    """The picture of a state as it would be had nothing happened."""

    def damage(folder):
        (folder / f"{name}.png").write_bytes((folder / f"{before}.png").read_bytes())
        return True

    return damage


def told_otherwise(name, change):
    def damage(folder):
        path = folder / "states.json"
        states = json.loads(path.read_text(encoding="utf-8"))
        state = next(state for state in states if state["name"] == name)
        change(state)
        path.write_text(json.dumps(states), encoding="utf-8")
        return True

    return damage


def set_told(**told):
    return lambda state: state["told"].update(told)


def lowered(state):
    state["told"]["levels_mm"][0][1] -= 1.0


def as_seen_before(state):
    state["told"]["model"] = state["before"]


def bent_otherwise(state):
    for control in state["told"]["controls"]:
        for key in ("name", "value"):
            control[key] = control[key] and control[key].replace("Bends ", "Bends 1")


def refused_otherwise(folder):
    path = folder / "refusals.json"
    refusals = json.loads(path.read_text(encoding="utf-8"))
    next(iter(refusals.values()))["said"] = ["thread 'main' panicked at", "no display"]
    path.write_text(json.dumps(refusals), encoding="utf-8")
    return True


ORDER = ["open", "picked", "wall-picked", "bending", "wall-straight", "bending-straight", "way-out", "back-and-closed", "rehearsal", "leaf-swapped", "door-moved", "as-in-file", "edited",
         "mistake", "mended", "dark", "help", "cut", "orbited", "panned", "zoomed", "focus"]
DAMAGES = {f"{name}: the picture as of {before}": as_before(name, before) for before, name in zip(ORDER, ORDER[1:])}
DAMAGES |= {
    "open: the picture as of picked": as_before("open", "picked"),
    "open: a level 1 mm lower": told_otherwise("open", lowered),
    "picked: nothing picked": told_otherwise("picked", set_told(picked=None)),
    "bending: another deflection": told_otherwise("bending", bent_otherwise),
    "way-out: nothing moves": told_otherwise("way-out", set_told(moving=[])),
    "rehearsal: a level 1 mm lower": told_otherwise("rehearsal", lowered),
    "leaf-swapped: a level 1 mm lower": told_otherwise("leaf-swapped", lowered),
    "leaf-swapped: the leaf of the file": told_otherwise("leaf-swapped", set_told(leaves=[["first", "leaf comb"]])),
    "door-moved: a level 1 mm lower": told_otherwise("door-moved", lowered),
    "door-moved: the door as in the file": told_otherwise("door-moved", set_told(doors_mm=[["gate", 210.0]])),
    "edited: the old title": told_otherwise("edited", set_told(title="Seahorse room")),
    "mistake: none told": told_otherwise("mistake", set_told(mistakes=[])),
    "mistake: no model": told_otherwise("mistake", set_told(things=[])),
    "orbited: the view as before": told_otherwise("orbited", as_seen_before),
    "panned: the view as before": told_otherwise("panned", as_seen_before),
    "zoomed: the view as before": told_otherwise("zoomed", as_seen_before),
    "without a display: a panic": refused_otherwise,
}

if __name__ == "__main__":
    if os.environ.get("UPDATE_GOLDEN") and "--self-test" not in sys.argv:
        keep(Path(sys.argv[1]))
    judging.run(judge, SOURCE, DAMAGES)
