"""Makes fittings of every kind for every sheet that the demos have measured, for the judge of mates.

    mating_fittings.py SUMPWRIGHT FOLDER PARAMS.toml ...

One folder of FOLDER for each band of thickness and the usual printer, named after it in mm; one for some other printer and
filament, in turn, named after these too.
"""

import json
import subprocess
import sys
import tomllib
from pathlib import Path

MM = {"mm": 1.0, "cm": 10.0, "in": 25.4}
# Ways of making that the usual measures leave out.
FURTHER = [
    ["guide-channel", "pressed=yes", "stop=no"],
    ["egg-crate-ledge", "lip=yes"],
    ["skimmer-foot", "nose=yes"],
    ["door-knob", "screw=M4"],
    ["door-knob", "screw=M6"],
]
# Nozzle, layer, clearance and filament other than usual: stiff and soft, fine and coarse, tight and loose.
PRINTERS = [
    ("0.4", "0.28", "0.1", "PETG"),
    ("0.6", "0.2", "0.3", "ASA"),
    ("0.6", "0.28", "0.1", "PP"),
    ("0.4", "0.2", "0.3", "PLA"),
    ("0.6", "0.28", "0.3", "PETG"),
]
# A bed that everything lies on.
BED = ["--bed", "900x900x400"]


def main():
    binary, folder, files = sys.argv[1], Path(sys.argv[2]), sys.argv[3:]
    listed = json.loads(run(binary, "--list", "--json"))
    usual = [[kind["name"]] for kind in listed["kinds"]]
    bands = sorted({band for file in files for band in measured(file)})
    if not bands:
        sys.exit("the demos have measured no sheets")
    folder.mkdir(parents=True)
    words = [word for one in usual + FURTHER for word in one]
    for number, (least, most) in enumerate(bands):
        nozzle, layer, clearance, filament = PRINTERS[number % len(PRINTERS)]
        other = ["--nozzle", nozzle, "--layer", layer, "--clearance", clearance, "--filament", filament]
        name = f"{least:g}-{most:g}"
        for options, into in ([], name), (other, f"{name} {filament} {nozzle} {layer} {clearance}"):
            run(binary, *words, "--sheet", f"{least}..{most}", *BED, *options, "--into", str(folder / into))
    print(f"made {len(usual + FURTHER)} fittings for each of {len(bands)} sheets, by two printers")


def measured(file):
    """Least and greatest thickness of every measured sheet of a parameter file, mm."""
    sheets = tomllib.loads(Path(file).read_text(encoding="utf-8")).get("sheet", {})
    for sheet in sheets.values():
        if "measured" in sheet:
            values = sheet["measured"] if isinstance(sheet["measured"], list) else [sheet["measured"]] * 2
            yield tuple(round(millimetres(value), 4) for value in values)


def millimetres(value):
    if isinstance(value, (int, float)):
        return float(value)
    number, unit = value.split()
    return float(number) * MM[unit]


def run(binary, *words):
    made = subprocess.run([binary, "fittings", *words], capture_output=True, text=True, check=False)
    if made.returncode != 0:
        sys.exit(f"{' '.join(words)}: exit code {made.returncode}\n{made.stderr}")
    return made.stdout


if __name__ == "__main__":
    main()
