"""Drives the live window by pointer and keys on a display without a screen, and keeps what it shows and tells.

    window_drive.py DEMO.toml --view PROGRAM --cli PROGRAM --into FOLDER

Into the folder go a picture of every state, `states.json` with what the window told in it, what the command line says
of the same files (`asked.json`), and how the window refuses a machine that cannot show it (`refusals.json`).
`window_judge.py` judges the folder. Only what is written in the cards and in the help page is used to find the way.
"""

import argparse
import csv
import json
import os
import subprocess
import sys
import tempfile
import time
import tomllib
from pathlib import Path

import driving

# What is picked through the clear sheet before it, the panel of which it is drawn how it bends, what is taken out, the failure that is played, and the leaf that is
# put into the slot.
PART = "leaf comb"
BENT = "front wall"
LIFTED = "drain main"
FAILURE = "power cut"
OTHER_LEAF = "leaf letterbox"
# In the picture of the model, beside the model.
BESIDE = (120, 700)


class Record:
    """What is kept of each state, in order."""

    def __init__(self, folder):
        self.folder = folder
        self.states = []
        self.asked = {}
        self.begun = time.monotonic()

    def keep(self, name, window, **more):
        """The picture of a state and what is told in it."""
        now, picture = window.picture()
        picture.save(self.folder / f"{name}.png")
        self.note(name, now, **more)
        return now

    def note(self, name, now, **more):
        """What is told in a state of which no picture is kept."""
        print(f"{time.monotonic() - self.begun:6.1f} s  {name}", file=sys.stderr)
        self.states.append({"name": name, "told": now} | more)

    def write(self):
        (self.folder / "states.json").write_text(json.dumps(self.states, indent=1, ensure_ascii=False), encoding="utf-8")
        (self.folder / "asked.json").write_text(json.dumps(self.asked, indent=1, ensure_ascii=False), encoding="utf-8")


class Script:
    """The states, one after another; each begins where the one before it ended."""

    def __init__(self, window, record, file, ask):
        self.window = window
        self.record = record
        self.file = file
        self.ask = ask
        self.text = file.read_text(encoding="utf-8")

    def run(self):
        for state in (self.open, self.pick, self.bend, self.take_out, self.rehearse,
                      self.other_leaf, self.other_door, self.back_to_file, self.edit, self.mistake, self.mend,
                      self.dark, self.help, self.cut, self.orbit, self.pan, self.zoom, self.keys_only):
            state()

    def thing(self, name):
        """Where a body can be pointed at, and how many others are before it there."""

        def found(now):
            return next((thing for thing in now.get("things", []) if thing["name"] == name and thing["at"]), None)

        thing = found(self.window.until(f"where {name} can be pointed at", found))
        return thing["at"], thing["behind"]

    def save(self, text):
        """As editors do: beside it, then into its place."""
        beside = self.file.with_suffix(".new")
        beside.write_text(text, encoding="utf-8")
        beside.replace(self.file)

    def open(self):
        self.window.loaded()
        self.record.keep("open", self.window)
        self.ask.levels("as it is", self.text)

    def pick(self):
        """A click takes what is nearest, another at the same place what is behind it."""
        place, behind = self.thing(PART)
        taken = []
        for _ in range(behind + 1):
            # Slowly, so that it is no double click.
            time.sleep(driving.APART_S)
            self.window.click(place)
            last = taken[-1:]
            taken.append(self.window.until("a part picked", lambda now: now["picked"] and [now["picked"]] != last)["picked"])
        self.record.keep("picked", self.window, clicked=PART, taken=taken, behind=behind)
        self.window.key("Escape")
        self.window.until("it let go", lambda now: now["picked"] is None)

    def bend(self):
        """How a wall bends is drawn, by its button and by its key, also looked at straight; without names, which stand back
        meanwhile."""
        window = self.window
        place, behind = self.thing(BENT)
        first = window.still()["model"]
        for key, flag in (("a", "has_names"), ("v", "has_levels")):
            window.key(key)
            window.until(f"no {flag}", lambda now: not now[flag])
        time.sleep(driving.APART_S)
        window.click(place)
        window.until("a wall picked", lambda now: now["picked"] == BENT)
        self.record.keep("wall-picked", window)
        window.push("draw how it bends (S)")
        window.until("how it bends", lambda now: now["has_bending"])
        window.top()
        self.record.keep("bending", window)
        window.push("look straight at it")
        window.until("another view", lambda now: now["model"] != first and now["is_still"])
        window.top()
        self.record.keep("bending-straight", window)
        # Beside the model: the button no longer has the keys.
        window.click(BESIDE)
        window.until("nothing picked", lambda now: now["picked"] is None)
        self.ask.bending(BENT, self.text)
        window.key("s")
        window.until("no more of how it bends", lambda now: not now["has_bending"])
        time.sleep(driving.APART_S)
        window.click(self.thing(BENT)[0])
        window.until("the wall picked again", lambda now: now["picked"] == BENT)
        self.record.keep("wall-straight", window)
        window.key("Escape")
        window.until("nothing picked", lambda now: now["picked"] is None)
        for key, flag in (("a", "has_names"), ("v", "has_levels")):
            window.key(key)
            window.until(f"{flag} again", lambda now: now[flag])
        window.key("1")
        window.until("the view as at first", lambda now: now["model"] == first and now["is_still"])

    def take_out(self):
        window = self.window
        place, _ = self.thing(LIFTED)
        window.double_click(place, lambda now: now["picked"] == LIFTED, lambda now: now["play"])
        self.pause_at(0.4)
        self.record.keep("way-out", window, clicked=LIFTED)
        window.key("b")
        window.until("it back in its place", lambda now: not now["play"]["is_running"] and now["play"]["is_backwards"])
        self.record.note("back", window.still())
        window.key("Escape")
        window.until("nothing that plays", lambda now: now["play"] is None)
        window.key("Escape")
        window.until("nothing picked", lambda now: now["picked"] is None)
        self.record.keep("back-and-closed", window)

    def pause_at(self, share):
        """Stops what plays and sets its time on the line, so far along it."""
        window = self.window
        # Stopped by its key, when it has not come to its end meanwhile.
        if window.until("something that plays", lambda now: now["play"])["play"]["is_running"]:
            window.key("space")
            window.until("a pause", lambda now: not now["play"]["is_running"])
        # The line may be of another length with other words beside it: then it is set again, as a person would.
        for _ in range(5):
            before = window.time_line()
            left, top, right, bottom = before
            window.hold((left + share * (right - left), (top + bottom) / 2))
            if window.time_line() == before:
                return
        raise driving.Stuck("the line of time never stays as it is")

    def rehearse(self):
        window = self.window
        self.fold("What if", FAILURE, True)
        window.push(FAILURE)
        window.until("a failure that plays", lambda now: now["play"])
        self.pause_at(0.3)
        self.record.keep("rehearsal", window, failure=FAILURE)
        self.ask.rehearsal(FAILURE, self.text)
        window.key("Escape")
        window.until("nothing that plays", lambda now: now["play"] is None)
        self.fold("What if", FAILURE, False)

    def fold(self, title, inside, is_open):
        """Unfolds a card or folds it, and waits until what is in it is there or not."""
        self.window.push(title)
        what = f"{inside} in the card {title}" if is_open else f"the card {title} folded"
        self.window.until(what, lambda _: (self.window.control(inside) is not None) == is_open)
        self.window.top()

    def other_leaf(self):
        window = self.window
        before = window.listen()["leaves"]
        window.push(OTHER_LEAF)
        now = window.until("the other leaf in its slot", lambda now: now["leaves"] != before and now["is_trial"])
        window.top()
        self.record.keep("leaf-swapped", window, leaf=OTHER_LEAF)
        self.ask.levels("leaf-swapped", written(self.text, now["to_keep"]))

    def other_door(self):
        window = self.window
        (leaf, before), = window.listen()["doors_mm"]
        left, top, right, bottom = window.reach("", role="Slider", within=f"door of {leaf}")
        window.hold((right - 0.1 * (right - left), (top + bottom) / 2))
        now = window.until("the door elsewhere", lambda now: now["doors_mm"] != [[leaf, before]])
        window.top()
        self.record.keep("door-moved", window, before=before)
        self.ask.levels("door-moved", written(self.text, now["to_keep"]))

    def back_to_file(self):
        window = self.window
        window.key("z")
        window.until("leaves and doors as in the file", lambda now: not now["is_trial"])
        # Beside the model: the slider of the door no longer has the keys.
        window.click(BESIDE)
        self.record.keep("as-in-file", window)

    def edit(self):
        title = "Seahorse room with a deeper return"
        self.edited = self.text.replace('title = "Seahorse room"', f'title = "{title}"').replace("level = 155", "level = 165")
        self.save(self.edited)
        self.window.loaded(title)
        self.record.keep("edited", self.window)
        self.ask.levels("edited", self.edited)

    def mistake(self):
        wrong = self.edited.replace("mount = \"lift-out\"", "mount = \"lift\"", 1)
        self.save(wrong)
        self.window.until("a mistake told", lambda now: now["mistakes"] and now["progress"] is None)
        self.record.keep("mistake", self.window)
        self.ask.findings("mistake", wrong)

    def mend(self):
        self.save(self.edited)
        self.window.loaded()
        self.record.keep("mended", self.window)

    def dark(self):
        self.window.push("dark")
        self.window.until("a dark look", lambda now: now["is_dark"])
        self.record.keep("dark", self.window)
        self.window.push("light")
        self.window.until("a light look", lambda now: not now["is_dark"])

    def help(self):
        self.window.key("h")
        self.window.until("the help page", lambda now: now["has_help"])
        self.record.keep("help", self.window)
        self.window.key("Escape")
        self.window.until("no help page", lambda now: not now["has_help"])

    def cut(self):
        # One after another: presses that are seen in one frame count as one.
        for axis in ("across", "along"):
            self.window.key("x")
            self.window.until(f"a cut {axis} the sump", lambda now: now["cut"] and now["cut"][0] == axis)
        self.record.keep("cut", self.window)
        for axis in ("level", None):
            self.window.key("x")
            self.window.until(f"a cut {axis}", lambda now: (now["cut"] or [None])[0] == axis)

    def moved(self, name, how, **more):
        """A change of view, with the view before it."""
        before = self.window.still()["model"]
        how()
        self.window.until("another view", lambda now: now["model"] != before and now["is_still"] and not now["is_scrolling"])
        self.record.keep(name, self.window, before=before, **more)

    def orbit(self):
        start, end = BESIDE, (270, 660)
        self.moved("orbited", lambda: self.window.drag(start, end), drag=[end[0] - start[0], end[1] - start[1]])

    def pan(self):
        start, end = BESIDE, (60, 750)
        self.moved("panned", lambda: self.window.drag(start, end, "Shift_L"), drag=[end[0] - start[0], end[1] - start[1]])

    def zoom(self):
        place = [620, 330]
        self.moved("zoomed", lambda: self.window.turn_wheel(place, 4), place=place)

    def keys_only(self):
        window = self.window
        before = window.still()["model"]
        focused = []
        while len(focused) < 3:
            window.key("Tab")
            last = focused[-1:]
            now = window.until("another control in focus", lambda now: focus(now) and [focus(now)] != last)
            focused.append(focus(now))
        self.record.keep("focus", window, focused=focused)
        window.key("space")
        window.until("what its button does", lambda now: now["model"] != before)
        self.record.note("pressed", window.still(), before=before)


def written(text, to_keep):
    """The file with the lines that keep what was tried, as the window tells to write them."""
    lines = text.split("\n")
    # From below, so that lines which are put in move none that follow.
    for kept in sorted(to_keep, key=lambda kept: -kept["lines"][0]):
        first, last = kept["lines"]
        lines[first - 1 : last] = [kept["text"]]
    return "\n".join(lines)


def focus(now):
    return next((control["name"] for control in now["controls"] if control["has_focus"]), None)


class Ask:
    """What the command line says of the same file: another way to the same figures."""

    def __init__(self, cli, scratch, answers):
        self.cli = cli
        self.scratch = scratch
        self.answers = answers

    def _run(self, text, *arguments):
        file = self.scratch / "asked.toml"
        file.write_text(text, encoding="utf-8")
        verb, *more = arguments
        return subprocess.run([self.cli, verb, file, *more], capture_output=True, text=True).stdout

    def levels(self, name, text):
        basins = json.loads(self._run(text, "levels", "--json"))["levels"]["basins"]
        self.answers[f"levels {name}"] = {basin["name"]: 1000.0 * basin["level_m"]["mid"] for basin in basins}

    def bending(self, panel, text):
        """What is told of a panel, and how large the sump is."""
        strength = json.loads(self._run(text, "strength", "--json"))["strength"]
        self.answers["bending"] = next(told for told in strength["panels"] if told["name"] == panel)
        outside = tomllib.loads(text)["box"]["outside"]
        self.answers["outside_mm"] = [outside[side] for side in ("length", "width", "height")]

    def findings(self, name, text):
        found = json.loads(self._run(text, "check", "--json"))["findings"]
        worst = [finding for finding in found if finding["grade"] == "fails"]
        self.answers[f"findings {name}"] = [[finding["message"], finding["place"]["line"]] for finding in worst]

    def rehearsal(self, name, text):
        """Its levels over time, from the table that it writes."""
        into = self.scratch / "rehearsed"
        self._run(text, "rehearse", name, "--into", into)
        with open(next(into.rglob("*.csv")), encoding="utf-8", newline="") as file:
            self.answers[f"rehearsal {name}"] = list(csv.reader(file))


def refusals(view, file, scratch):
    """What is said on a machine without a display, on one without OpenGL, and on one whose OpenGL is too old."""
    answers = {}
    with_nothing = {"PATH": os.environ["PATH"], "HOME": str(scratch), "LC_ALL": "C.UTF-8"}
    answers["no display"] = refusal(view, file, with_nothing)
    # Neither the server's OpenGL nor the one beside it.
    display = driving.Display(scratch, "-extension", "GLX")
    env = driving.environment(display.name, scratch)
    answers["no OpenGL"] = refusal(view, file, env | {"__EGL_VENDOR_LIBRARY_DIRS": "/nonexistent"})
    display.close()
    display = driving.Display(scratch)
    env = driving.environment(display.name, scratch)
    old = {"MESA_GL_VERSION_OVERRIDE": "2.1", "MESA_GLES_VERSION_OVERRIDE": "2.0"}
    answers["OpenGL 2.1"] = refusal(view, file, env | old)
    display.close()
    return answers


def refusal(view, file, env):
    result = subprocess.run([view, file], env=env, capture_output=True, text=True, timeout=driving.PATIENCE_S)
    return {"code": result.returncode, "said": result.stderr.strip().splitlines()}


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("demo", type=Path)
    parser.add_argument("--view", type=Path, required=True)
    parser.add_argument("--cli", type=Path, required=True)
    parser.add_argument("--into", type=Path, required=True)
    arguments = parser.parse_args()
    arguments.into.mkdir(parents=True, exist_ok=True)
    view, cli = arguments.view.resolve(), arguments.cli.resolve()

    with tempfile.TemporaryDirectory() as name:
        scratch = Path(name)
        file = scratch / arguments.demo.name
        file.write_text(arguments.demo.read_text(encoding="utf-8"), encoding="utf-8")
        record = Record(arguments.into)
        told = json.dumps(refusals(view, file, scratch), indent=1)
        (arguments.into / "refusals.json").write_text(told, encoding="utf-8")
        display = driving.Display(scratch)
        try:
            window = driving.Window(display, view, file, scratch)
            try:
                Script(window, record, file, Ask(cli, scratch, record.asked)).run()
            except driving.Stuck as stuck:
                record.note("stuck", window.now)
                display_now = driving.Image.fromarray(display.grab())
                display_now.save(arguments.into / "stuck.png")
                print((scratch / "window.log").read_text(encoding="utf-8"), file=sys.stderr)
                sys.exit(f"stuck: {stuck}; what is on the screen is in stuck.png")
            finally:
                window.close()
                record.write()
        finally:
            display.close()


if __name__ == "__main__":
    main()
