"""Makes the table of all outside checks from the rows of the judges.

    table.py ROWS.jsonl … --write RESULTS.md    write the table
    table.py ROWS.jsonl … --check RESULTS.md    say whether the table is what the rows give
    table.py ROWS.jsonl … --count               print 'PASSED FAILED'

A line of the table is one quantity over all designs: what we say and what the others say, summed
over the parts, and the worst single deviation with its limit.
"""

import argparse
import json
import re
import sys
from pathlib import Path

HEAD = """# What others find in our files

Written by `tests/outside/table.py`; `tests/run` makes it anew and compares. Each line is one
quantity over all designs and so many comparisons. Numbers are added up over the comparisons;
*deviation* is the worst of a single one, rounded up to one digit, beside the limit that it is held
against: `absolute` in the unit of the quantity, `relative` as a share of ours.
"""
COLUMNS = ["quantity", "count", "ours", "theirs", "source", "deviation", "limit", "worst on", "ok"]
# Columns that may change in the last digits from one machine or library to the next.
NUMBERS = {"ours", "theirs"}
# Columns that say how large rounding was, and where. They are for the reader, not compared.
NOISE = {"deviation", "limit", "worst on"}
SAME_NUMBER = 1e-5
# Sums of deviations from nothing are as good as nothing below this, and may be another nothing.
AS_GOOD_AS_NOTHING = 1e-2


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("rows", type=Path, nargs="+")
    parser.add_argument("--write", type=Path)
    parser.add_argument("--check", type=Path)
    parser.add_argument("--count", action="store_true")
    arguments = parser.parse_args()

    rows = [json.loads(line) for path in arguments.rows for line in path.read_text(encoding="utf-8").splitlines()]
    if arguments.count:
        # What is told apart, as nothing was found to compare it with, is neither.
        compared = [row for row in rows if row.get("kind") != "apart"]
        passed = sum(1 for row in compared if row["ok"])
        print(passed, len(compared) - passed)
    table = table_of(rows)
    if arguments.write:
        arguments.write.write_text(as_markdown(table), encoding="utf-8")
    if arguments.check:
        differences = list(differences_of(table, from_markdown(arguments.check)))
        for difference in differences:
            print(f"{arguments.check.name}: {difference}", file=sys.stderr)
        sys.exit(1 if differences else 0)


def table_of(rows):
    """One line for each quantity and source, in the order in which they came."""
    groups = {}
    for row in rows:
        groups.setdefault((row["quantity"], row["source"]), []).append(row)
    return [line_of(*key, group) for key, group in groups.items()]


def line_of(quantity, source, rows):
    is_number = all(isinstance(row["deviation"], (int, float)) for row in rows)
    is_ok = all(row["ok"] for row in rows)
    worst = max(rows, key=share_of_limit)
    deviation, limit, where = "none" if is_ok else "differs", "equal", "" if is_ok else place(worst)
    is_apart = all(row.get("kind") == "apart" for row in rows)
    if is_apart:
        deviation, limit, where = "not compared", "", place(worst)
    if is_number:
        deviation = f"{rounded_up(worst['deviation'])} {worst.get('kind') or 'absolute'}"
        limit, where = rounded_up(worst["limit"]), place(worst)
    return {
        "quantity": quantity,
        "count": str(len(rows)),
        "ours": summary([row["ours"] for row in rows], is_number),
        "theirs": summary([row["theirs"] for row in rows], is_number),
        "source": source,
        "deviation": deviation,
        "limit": limit,
        "worst on": where,
        "ok": "not compared" if is_apart else "yes" if is_ok else "**no**",
    }


def place(row):
    return text(": ".join(part for part in (row.get("on"), row.get("part")) if part))


def share_of_limit(row):
    if not row["ok"]:
        return float("inf")
    return row["deviation"] / row["limit"] if row["deviation"] and row["limit"] else 0.0


def summary(values, is_number):
    if is_number:
        # Nine decimals: what is smaller is noise, and would not be the same anywhere else.
        return f"{round(sum(values), 9) + 0.0:.7g}"
    if all(isinstance(value, int) and not isinstance(value, bool) for value in values):
        return str(sum(values))
    texts = {text(value) for value in values}
    return texts.pop() if len(texts) == 1 else "each its own"


def text(value):
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value).replace("|", "/").replace("\n", " ")[:60]


def rounded_up(number):
    """One digit, never less than the number."""
    if number == 0.0:
        return "0"
    shown = f"{number:.0e}"
    if float(shown) < number:
        digit, exponent = shown.split("e")
        shown = f"{float(digit) + 1.0:.0f}e{exponent}"
        shown = f"{float(shown):.0e}"
    return shown


def as_markdown(table):
    lines = [HEAD, f"| {' | '.join(COLUMNS)} |", f"|{' --- |' * len(COLUMNS)}"]
    lines += [f"| {' | '.join(line[column] for column in COLUMNS)} |" for line in table]
    return "\n".join(lines) + "\n"


def from_markdown(path):
    if not path.exists():
        return []
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if line.startswith("| ")]
    cells = [[cell.strip() for cell in line.removeprefix("|").removesuffix("|").split("|")] for line in lines]
    # Below the names of the columns and the rule.
    return [dict(zip(COLUMNS, line)) for line in cells[2:]]


def differences_of(table, written):
    """What a reader would have to be told: lines that are new, gone or changed beyond noise."""
    old = {(line["quantity"], line["source"]): line for line in written}
    for line in table:
        name = f"{line['quantity']} ({line['source']})"
        before = old.pop((line["quantity"], line["source"]), None)
        if before is None:
            yield f"no line for {name}"
            continue
        for column in COLUMNS:
            if column not in NOISE and not same(column, line[column], before[column]):
                yield f"{name}: {column} is {line[column]}, the table says {before[column]}"
    yield from (f"no longer compared: {' ('.join(gone)})" for gone in old)


def same(column, a, b):
    if a == b:
        return True
    number = r"[-+]?[0-9.]+(e[-+]?[0-9]+)?"
    if column not in NUMBERS or not (re.fullmatch(number, a) and re.fullmatch(number, b)):
        return False
    a, b = float(a), float(b)
    return abs(a - b) <= max(SAME_NUMBER * abs(a), AS_GOOD_AS_NOTHING)


if __name__ == "__main__":
    main()
