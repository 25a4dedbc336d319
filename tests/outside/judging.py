"""What all judges share: rows of a table, and proof that a judge can fail.

A judge reads a folder that `sumpwright make` wrote, with libraries that share no code with it, and
compares what it finds with the lists in `checks/` of that folder. It adds one row for each
comparison; `table.py` makes the table from the rows.

    some_judge.py FOLDER --name DEMO --rows ROWS.jsonl     judge a folder
    some_judge.py FOLDER --name DEMO --rows ROWS.jsonl --self-test
                                                 damage copies of it, and see each damage found
"""

import argparse
import json
import math
import shutil
import sys
import tempfile
from importlib.metadata import version
from pathlib import Path


# Packages that bring the library of another name.
PACKAGES = {"cadquery-ocp": "cadquery-ocp-novtk"}


def versions(*names):
    """The libraries that judge, with their versions, for the column `source`."""
    return ", ".join(f"{name} {version(PACKAGES.get(name, name))}" for name in names)


class Rows:
    """The rows of one judge on one folder."""

    def __init__(self, on, source):
        self.on = on
        self.source = source
        self.rows = []

    def number(self, quantity, part, ours, theirs, limit, relative=False):
        """Two numbers may differ by `limit`, in their unit or as a share of ours."""
        ours, theirs = float(ours), float(theirs)
        deviation = abs(ours - theirs)
        if relative and deviation > 0.0:
            deviation /= max(abs(ours), sys.float_info.min)
        is_ok = math.isfinite(deviation) and deviation <= limit
        kind = "relative" if relative else "absolute"
        self._add(quantity, part, ours, theirs, deviation, limit, kind, is_ok)

    def within(self, quantity, part, value, limit):
        """A measured value, none of ours or theirs, is not above the limit: seconds, which are other ones every time."""
        is_ok = math.isfinite(value) and 0.0 <= value <= limit
        self._add(quantity, part, 0.0, 0.0, float(value) if math.isfinite(value) else 1e99, limit, "absolute", is_ok)

    def equal(self, quantity, part, ours, theirs):
        """Two things must be the same."""
        self._add(quantity, part, ours, theirs, None, None, "equal", ours == theirs)

    def not_compared(self, quantity, part, ours):
        """Nothing was found to compare ours with: told, but never counted as agreement."""
        self._add(quantity, part, ours, "nothing published", None, None, "apart", True)

    def readable(self, quantity, part, read):
        """Runs `read` and returns what it returns; an exception is a failed row, and `None`."""
        try:
            result = read()
        except Exception as error:  # Whatever a reader throws, the file could not be read.
            self.equal(quantity, part, "readable", f"{type(error).__name__}: {error}"[:200])
            return None
        self.equal(quantity, part, "readable", "readable")
        return result

    def _add(self, quantity, part, ours, theirs, deviation, limit, kind, is_ok):
        row = {
            "quantity": quantity,
            "on": self.on,
            "part": part,
            "ours": ours,
            "theirs": theirs,
            "source": self.source,
            "deviation": deviation,
            "limit": limit,
            "kind": kind,
            "ok": is_ok,
        }
        self.rows.append(row)

    @property
    def failed(self):
        return [row for row in self.rows if not row["ok"]]

    def write(self, path):
        """Adds the rows to a file, one line of JSON each."""
        with open(path, "a", encoding="utf-8") as file:
            for row in self.rows:
                file.write(json.dumps(row, ensure_ascii=False) + "\n")


def expectations(folder, name):
    """One of the lists in `checks/`."""
    return json.loads((folder / "checks" / f"{name}.json").read_text(encoding="utf-8"))


def run(judge, source, damages):
    """The command line of a judge.

    `judge(folder, rows)` adds rows. `damages` maps what is damaged to a function that damages a
    folder; it returns whether it found something to damage.
    """
    parser = argparse.ArgumentParser(description=judge.__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--name", help="what the folder is called in the table")
    parser.add_argument("--rows", type=Path, help="file to add rows to")
    parser.add_argument("--self-test", action="store_true")
    arguments = parser.parse_args()

    rows = Rows(arguments.name or arguments.folder.name, source)
    if arguments.self_test:
        for damage, apply in damages.items():
            rows.equal("damage that was found", damage, "found", found(judge, rows, arguments.folder, apply))
    else:
        judge(arguments.folder, rows)
    if arguments.rows:
        rows.write(arguments.rows)
    for row in rows.failed:
        print(f"FAILED {rows.on}: {row['part']}: {row['quantity']}: ours {row['ours']}, theirs {row['theirs']}", file=sys.stderr)
    if not rows.rows:
        sys.exit(f"{rows.on}: nothing to judge")
    sys.exit(1 if rows.failed else 0)


def found(judge, rows, folder, damage):
    """Whether the judge fails a copy of the folder after a damage. That it passes the folder as it is
    is what a run without `--self-test` shows."""
    with tempfile.TemporaryDirectory() as scratch:
        copy = Path(scratch) / "folder"
        shutil.copytree(folder, copy)
        if not damage(copy):
            return "nothing to damage"
        damaged = Rows(rows.on, rows.source)
        judge(copy, damaged)
        return "found" if damaged.failed else "not found"
