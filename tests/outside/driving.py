"""A display without a screen, a window on it, and a hand that moves the pointer and presses keys.

`Display` starts Xvfb on a number that is free. Pointer and keys go through the X server's own test extension
(XTEST): the window gets the same events as from a mouse and a keyboard. What is on the screen is read back from the
server. `Window` starts the program with `--tell FILE` and reads what it tells of each frame; nothing here waits for
a time, all waits for something told.
"""

import itertools
import json
import os
import shutil
import subprocess
import time

import numpy
from PIL import Image
from Xlib import X, XK
from Xlib import display as xdisplay
from Xlib.ext import xtest

SIZE = (1280, 800)
# The longest that anything is waited for, s: the first load in a build without optimisation on a busy machine.
PATIENCE_S = 120.0
# Clicks farther apart than this are none of a double click.
APART_S = 0.7
# Between two looks at what was told, s.
GLANCE_S = 0.02


class Stuck(Exception):
    """What was waited for did not come."""


class Display:
    """Xvfb with one screen, and more options of its command line."""

    def __init__(self, scratch, *options):
        if shutil.which("Xvfb") is None:
            raise Stuck("there is no Xvfb")
        reading, writing = os.pipe()
        self.log = open(scratch / "xvfb.log", "wb")
        self.server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(writing), "-screen", "0", f"{SIZE[0]}x{SIZE[1]}x24", "-nolisten", "tcp", "-noreset", *options],
            pass_fds=[writing], stdout=self.log, stderr=self.log,
        )
        os.close(writing)
        with os.fdopen(reading) as pipe:
            number = pipe.readline().strip()
        if not number:
            raise Stuck("Xvfb did not start")
        self.name = f":{number}"
        self.x = xdisplay.Display(self.name)
        self.root = self.x.screen().root

    def close(self):
        self.x.close()
        self.server.terminate()
        self.server.wait()
        self.log.close()

    def grab(self):
        """What is on the screen, rows of pixels of red, green, blue."""
        width, height = SIZE
        image = self.root.get_image(0, 0, width, height, X.ZPixmap, 0xFFFFFFFF)
        pixels = numpy.frombuffer(image.data, dtype=numpy.uint8).reshape(height, width, 4)
        return pixels[:, :, 2::-1].copy()

    def event(self, kind, detail=0, **place):
        xtest.fake_input(self.x, kind, detail, **place)
        self.x.sync()

    def key(self, name, pressed):
        code = self.x.keysym_to_keycode(XK.string_to_keysym(name))
        self.event(X.KeyPress if pressed else X.KeyRelease, code)


class Window:
    """The program, its window, and what it tells."""

    # Where the pointer rests: over the model, away from everything.
    REST = (5, 5)

    def __init__(self, display, program, file, scratch, *options):
        self.display = display
        self.told_path = scratch / "told.jsonl"
        self.told_path.write_text("")
        self.errors = open(scratch / "window.log", "wb")
        self.process = subprocess.Popen(
            [program, *options, "--tell", self.told_path, file],
            env=environment(display.name, scratch), stdout=self.errors, stderr=self.errors,
        )
        self.reader = open(self.told_path, encoding="utf-8")
        self.part = ""
        self.now = {}
        try:
            self.corner = self._appears()
        except Stuck:
            self.close()
            raise

    def _appears(self):
        def shown():
            for child in self.display.root.query_tree().children:
                place = child.get_geometry()
                if (place.width, place.height) == SIZE and child.get_attributes().map_state == X.IsViewable:
                    return child, (place.x, place.y)
            return None

        window, corner = self._wait("a window", shown)
        # No window manager says who gets the keys.
        window.set_input_focus(X.RevertToParent, X.CurrentTime)
        self.display.x.sync()
        return corner

    def close(self):
        self.reader.close()
        if self.process.poll() is None:
            self.process.terminate()
        self.process.wait()
        self.errors.close()

    # What is told.

    def listen(self):
        """The last that was told."""
        self.part += self.reader.read()
        *lines, self.part = self.part.split("\n")
        if lines:
            self.now = json.loads(lines[-1])
        return self.now

    def _wait(self, what, found, patience_s=PATIENCE_S):
        until = time.monotonic() + patience_s
        while time.monotonic() < until:
            if self.process.poll() is not None:
                raise Stuck(f"the window closed with code {self.process.returncode} while waiting for {what}")
            result = found()
            if result is not None:
                return result
            time.sleep(GLANCE_S)
        raise Stuck(f"waited {patience_s:.0f} s for {what}")

    def until(self, what, holds, patience_s=PATIENCE_S):
        """Waits until it holds of what is told, and returns what is told then."""

        def found():
            now = self.listen()
            return now if now and holds(now) else None

        return self._wait(what, found, patience_s)

    def loaded(self, title=None):
        """Waits for all that is made of the file."""
        return self.until(
            "the whole model",
            lambda now: now["progress"] is None and now.get("ways") and not now["mistakes"] and title in (None, now["title"]),
        )

    def still(self):
        """Waits until nothing moves and the picture is the last; the pointer rests.

        A frame tells before it is on the screen. When the pointer has moved after it and that was told too, it is.
        """
        for step in (0, 1):
            self.move(self.REST[0] + step, self.REST[1])
            now = self.until("a picture at rest", lambda now: now["is_still"])
        return now

    def picture(self):
        """Waits for rest; what is told, and what is on the screen."""
        now = self.still()
        before = self.display.grab()

        def same():
            nonlocal before
            time.sleep(0.05)
            after = self.display.grab()
            is_same, before = numpy.array_equal(before, after), after
            return after if is_same else None

        return now, Image.fromarray(self._wait("a picture that stays", same))

    # Hand.

    def move(self, x, y):
        """To a place in the window, until it is told there."""
        x, y = round(x), round(y)
        self.display.event(X.MotionNotify, x=x + self.corner[0], y=y + self.corner[1])
        return self.until(f"the pointer at {x}, {y}", lambda now: now["pointer"] == [x, y])

    def press(self, button=1):
        self.display.event(X.ButtonPress, button)

    def release(self, button=1):
        self.display.event(X.ButtonRelease, button)

    def click(self, place):
        self.move(*place)
        self.press()
        self.release()

    def hold(self, place):
        """Presses, and lets go when that was seen: a slider does not notice less. It stays until that was seen too."""
        x, y = (round(at) for at in place)
        self.move(x, y - 1)
        self.press()
        self.move(x, y)
        self.release()
        self.move(x, y + 1)

    def double_click(self, place, is_first_seen, is_done):
        """Two clicks, the second as soon as what the first does is seen. On a busy machine that may be too late for a
        double click; then it is tried again, as a person would."""
        for _ in range(8):
            # Not soon after another click, with which these would be three.
            time.sleep(APART_S)
            self.click(place)
            self.until("what one click does", is_first_seen)
            self.press()
            self.release()
            try:
                return self.until("what a double click does", is_done, 3.0)
            except Stuck:
                self.key("Escape")
        raise Stuck("no double click was quick enough")

    def drag(self, start, end, with_key=None):
        """From one place to another by way of the middle, with a key held down."""
        self.move(*start)
        if with_key:
            self.display.key(with_key, True)
            self.until(f"{with_key} held down", lambda now: now["has_shift"])
        self.press()
        # A few pixels first: what is moved before the press was seen is not counted.
        for share in (0.02, 0.25, 0.5, 0.75, 1.0):
            self.move(*(a + (b - a) * share for a, b in zip(start, end)))
        self.release()
        # Let go when that is seen; it moves by this pixel at most.
        self.move(end[0], end[1] + 1)
        if with_key:
            self.display.key(with_key, False)

    def wheel(self, place, steps):
        """Nearer with steps above nothing, farther below; stays there until all of it is done."""
        self.turn_wheel(place, steps)
        # The second motion is told in a frame after those of the wheel were seen; each asks for another frame, without
        # which a wheel at its end is not told to be at rest.
        for step in itertools.count(1):
            now = self.move(place[0], place[1] + step % 2)
            if step > 1 and step % 2 == 0 and not now["is_scrolling"]:
                return

    def turn_wheel(self, place, steps):
        """The same without staying."""
        self.move(*place)
        for _ in range(abs(steps)):
            self.press(4 if steps > 0 else 5)
            self.release(4 if steps > 0 else 5)

    def key(self, *names):
        """The last of these with the others held down."""
        for name in names:
            self.display.key(name, True)
        for name in reversed(names):
            self.display.key(name, False)

    # Controls.

    def control(self, name, role="Button", within=None):
        """A control of this name: the first below the label `within`, when there is one; `None` when it is not there."""
        controls = self.listen().get("controls", [])
        if within is not None:
            labels = [k for k, control in enumerate(controls) if within in (control["name"], control["value"])]
            controls = controls[labels[0] + 1 :] if labels else []
        is_it = lambda c: c["role"] == role and (not name or name in (c["name"], c["value"]))
        return next((control for control in controls if is_it(control)), None)

    def time_line(self):
        """What is below the model from end to end: its slider, or else what has no words, the curves."""
        # The first frame with it is not yet laid out.
        now = self.still()
        right, above = now["model"]["size"]
        below = [c for c in now["controls"] if c["at"][1] > above and c["at"][2] < right and not c["name"] and not c["value"]]
        if not below:
            raise Stuck("there is no line of time")
        return max((control["at"] for control in below), key=lambda at: at[2] - at[0])

    def reach(self, name, role="Button", within=None):
        """Turns the wheel over the cards until a control can be pointed at, and gives its place."""
        self._wait(f"the control {name}", lambda: self.control(name, role, within))
        for _ in range(60):
            left, top, right, bottom = self.control(name, role, within)["at"]
            if 8 < top and bottom < SIZE[1] - 8:
                return left, top, right, bottom
            self.wheel((SIZE[0] - 14, 400), 2 if top <= 8 else -2)
        raise Stuck(f"the control {name} cannot be scrolled to")

    def top(self):
        """Turns the cards back to their upper end."""
        self.wheel((SIZE[0] - 14, 400), 30)

    def push(self, name, role="Button", within=None):
        """Clicks a control."""
        left, top, right, bottom = self.reach(name, role, within)
        self.click(((left + right) / 2, (top + bottom) / 2))


def environment(display, scratch):
    """Of a window that draws by the processor, whatever machine it runs on."""
    kept = {name: os.environ[name] for name in ("PATH", "LD_LIBRARY_PATH") if name in os.environ}
    return kept | {
        "DISPLAY": display,
        "LIBGL_ALWAYS_SOFTWARE": "1",
        "HOME": str(scratch),
        "XDG_RUNTIME_DIR": str(scratch),
        "LC_ALL": "C.UTF-8",
    }
