"""Makes fittings of every kind with random measures within their limits, for the judges: the same ones every time.

    random_fittings.py SUMPWRIGHT FOLDER EACH

`EACH` of every kind are made in one call into FOLDER. Measures that do not go together are refused by name, with exit
code 2; then others are drawn. Anything else than being made or refused is a failure.
"""

import json
import random
import subprocess
import sys

TRIES = 40
# Some printer, and a bed that everything lies on.
PRINTER = ["--nozzle", "0.6", "--layer", "0.3", "--clearance", "0.3", "--foot", "0.25", "--bed", "900x900x400"]


def main():
    binary, folder, each = sys.argv[1], sys.argv[2], int(sys.argv[3])
    dice = random.Random(8)
    listed = json.loads(run(binary, "--list", "--json").stdout)
    words, left_out = [], []
    for kind in listed["kinds"]:
        for _ in range(each):
            drawn = next((d for d in draws(dice, kind) if is_made(binary, d)), None)
            if drawn is None:
                left_out.append(kind["name"])
            words += drawn or []
    if left_out:
        sys.exit(f"no measures that go together were drawn in {TRIES} tries: {', '.join(left_out)}")
    made = run(binary, *words, *PRINTER, "--into", folder)
    if made.returncode != 0:
        sys.exit(made.stderr)
    print(f"made {len(listed['kinds']) * each} fittings")


def draws(dice, kind):
    for _ in range(TRIES):
        values = {m["name"]: drawn(dice, m) for m in kind["measures"]}
        counts = [m["name"] for m in kind["measures"] if m["only"] is None or bool(values[m["only"]["choice"]]) == m["only"]["is"]]
        yield [kind["name"], *(f"{name}={values[name]}" for name in counts)]


def drawn(dice, measure):
    """Near the usual value half of the time: far from it few sets of measures go together."""
    least, usual, most = measure["least"], measure["usual"], measure["most"]
    if dice.random() < 0.5:
        least, most = max(least, 0.7 * usual), min(most, 1.4 * usual)
    if measure["of"] in ("mm", "degrees"):
        return round(dice.uniform(least, most), 2)
    return dice.randint(round(least), round(most))


def is_made(binary, words):
    made = run(binary, *words, *PRINTER)
    if made.returncode not in (0, 2) or (made.returncode == 2 and "cannot make" not in made.stderr):
        sys.exit(f"{' '.join(words)}: exit code {made.returncode}\n{made.stderr}")
    return made.returncode == 0


def run(binary, *words):
    return subprocess.run([binary, "fittings", *words], capture_output=True, text=True, check=False)


if __name__ == "__main__":
    main()
