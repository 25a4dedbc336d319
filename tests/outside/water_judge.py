"""Judges the formulas of the water and its solvers, from what two examples of the crate `water` print:

    formulas.jsonl       `cargo run -p water --example formulas`: every formula at many points
    worked_case.jsonl    `cargo run -p water --example worked_case`: tanks that drain, a whole case

Formulas are compared with `fluids`, `gsw`, CoolProp and `iapws`, and with tables and closed forms typed
from their sources in `water_formulas.py`; the solvers with closed forms and with SciPy.
"""

import json
import math

import hydraulics
import judging
import rehearsing
from water_formulas import FORMULAS

SOURCE = judging.versions("scipy")


def judge(folder, rows):
    judge_formulas(lines(folder / "formulas.jsonl"), rows)
    cases = lines(folder / "worked_case.jsonl")
    judge_drains(cases, rows)
    judge_worked_case(cases, rows)
    rows.source = SOURCE


def lines(path):
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def judge_formulas(told, rows):
    for line in told:
        quantity, inputs, ours = line["quantity"], line["inputs"], line["ours"]
        rows.source = "water_formulas.py"
        if quantity not in FORMULAS:
            rows.equal("formulas: somebody has computed it", quantity, True, False)
            continue
        for theirs_of in FORMULAS[quantity]:
            found = theirs_of(inputs)
            if found is None:
                continue
            note, theirs, limit, rows.source = found
            words = quantity.replace("_", " ").replace("loss ", "loss of ")
            part = ", ".join(f"{name} {value:g}" for name, value in inputs.items())
            # Of nothing no share can be taken.
            is_nothing = abs(theirs) < 1e-14
            rows.number(f"formulas: {words}{note}, {line['unit']}", part, ours, theirs, 1e-14 if is_nothing else limit, relative=not is_nothing)
    # A formula that is no longer printed is no longer judged.
    rows.source = "water_formulas.py"
    rows.equal("formulas: all are printed", "formulas.jsonl", str(sorted(FORMULAS)), str(sorted({line["quantity"] for line in told})))


def judge_drains(cases, rows):
    """Prisms that drain: `A·dh/dt = −Q` integrated by hand."""
    closed = {
        "orifice drain": lambda x: 2.0 * x["area_m2"] / orifice(x) * (math.sqrt(x["h0_m"]) - math.sqrt(x["h1_m"])),
        "weir drain": lambda x: 2.0 * x["area_m2"] / weir(x) * (x["h1_m"] ** -0.5 - x["h0_m"] ** -0.5),
        "two tanks": lambda x: 2.0 * (math.sqrt(x["d0_m"]) - math.sqrt(x["d1_m"])) / (x["k"] * (1.0 / x["a1_m2"] + 1.0 / x["a2_m2"])),
    }
    rows.source = "closed form, integrated by hand"
    for case in cases:
        if case["case"] in closed:
            inputs = case["inputs"]
            part = ", ".join(f"{name} {value:g}" for name, value in inputs.items())
            rows.number(f"solver: {case['case']}, s", part, case["t_s"], closed[case["case"]](inputs), 1e-6, relative=True)


def orifice(x):
    return x["cd"] * math.pi / 4.0 * x["d_m"] ** 2 * hydraulics.SQRT_2G


def weir(x):
    return 2.0 / 3.0 * x["cd"] * hydraulics.SQRT_2G * x["b_m"]


# A display over three chambers; see the example.
TANKS = [("display", 0.6), ("first", 0.12), ("second", 0.14), ("return", 0.10)]
POINTS_L_H = [(0.0, 5.0), (2e3, 4.6), (4e3, 3.9), (6e3, 2.8), (8e3, 1.2), (9e3, 0.0)]
HOLE_M = 1.270
PUMP, SIPHON = 0, 1


def worked_case(drowned):
    """Its network and script; plain weirs, drowned after Dubuat as ours, or after Villemonte."""
    pipe = {"bore_m": 0.0262, "length_m": 2.5, "roughness_m": 1.5e-6, "viscosity_m2_s": 0.93731e-6}
    points = [(q / 3.6e6, h) for q, h in POINTS_L_H]
    pump = {"law": "pump", "gate": None, "out_m": 0.0}
    siphon = {"law": "pipe", "gate": None, "out_m": -1.0}
    gap = {"law": "strips", "cd": 0.61, "strips": [{"z0_m": 0.0, "z1_m": 0.020, "width_m": 0.38}]}
    weirs = [{"law": "strips", "cd": 0.62, "strips": [{"z0_m": z, "z1_m": None, "width_m": b}]} for z, b in ((1.3, 0.4), (0.25, 0.38))]
    laws = [(pump, 3, 0), (siphon, 0, 3), (weirs[0], 0, 1), (weirs[1], 1, 2), (gap, 2, 3)]
    elements = [{"law": law, "up": up, "down": down, "scale": float(law is not siphon)} for law, up, down in laws]
    tanks = [{"name": name, "steps": [{"z_m": 0.0, "area_m2": area}]} for name, area in TANKS]
    pipes = [
        {"element": PUMP, "pipe": pipe | {"loss_k": 4.0}, "pump": {"points": points}},
        {"element": SIPHON, "pipe": pipe | {"loss_k": 10.0}, "pump": None},
    ]
    network = rehearsing.Network({"network": {"tanks": tanks, "elements": elements}, "pipes": pipes})
    if drowned == "Villemonte":
        network.laws[2:4] = plain_weir(1.3, 0.4), plain_weir(0.25, 0.38)
    rule = {"pump": PUMP, "back": SIPHON, "from": 3, "to": 0, "draws_air_m": -1.0, "breaks_m": HOLE_M, "has_check_valve": False}
    act = {"t_s": 0.0, "act": "power", "of": False}
    script = {"acts": [act], "siphons": [], "lines": [rule], "float": None, "cups": [], "rims": [], "open_scale": [1.0] * 5}
    return network, script


def plain_weir(z, width):
    def forward(up, down):
        if up <= z:
            return 0.0
        return 2.0 / 3.0 * 0.62 * hydraulics.SQRT_2G * width * (up - z) ** 1.5 * hydraulics.villemonte((down - z) / (up - z))

    return hydraulics.either_way(forward)


def judge_worked_case(cases, rows):
    rest = next(case for case in cases if case["case"] == "worked case")
    cuts = [case for case in cases if case["case"] == "worked case cut"]
    end_s = max(cut["t_s"] for cut in cuts)
    names = [name for name, _ in TANKS]
    # Levels at rest mm, on the way mm, break s; Villemonte's drowned weir is another law than ours.
    for drowned, on_the_way_mm, break_s in (("Dubuat", 0.01, 0.005), ("Villemonte", 0.5, 0.2)):
        rows.source = f"{SOURCE}, weirs drowned after {drowned}"
        network, script = worked_case(drowned)
        levels, _ = network.at_rest([False, False, False, True], rest["levels_m"])
        for name, ours, theirs in zip(names, rest["levels_m"], levels):
            rows.number("worked case: level at rest, mm", name, 1e3 * ours, 1e3 * theirs, 0.05)
        flow = network.laws[PUMP](levels[3], levels[0])
        rows.number("worked case: flow at rest, L/h", "pump", 3.6e6 * rest["q_m3_s"], 3.6e6 * flow, 0.5)
        theirs = rehearsing.play(network, script, levels, end_s, [cut["t_s"] for cut in cuts])
        for cut in cuts:
            is_end = cut["t_s"] == end_s
            for name, ours, level in zip(names, cut["levels_m"], theirs["at"][cut["t_s"]]):
                what = "worked case: level at the end, mm" if is_end else "worked case: level in a power cut, mm"
                rows.number(what, f"{name}, {cut['t_s']:g} s", 1e3 * ours, 1e3 * level, 1e-3 if is_end else on_the_way_mm)
        broke = next(t for t, kind, _ in theirs["log"] if kind == "back-siphon-breaks")
        rows.number("worked case: the siphon breaks, s", "return line", cuts[-1]["broke_s"], broke, break_s)
    # The end needs no solver: what stands above the hole comes down, and all three are one above the weir.
    rows.source = "conservation"
    volume = sum(area * z for (_, area), z in zip(TANKS, rest["levels_m"])) - TANKS[0][1] * HOLE_M
    level = volume / sum(area for _, area in TANKS[1:])
    for name, ours in zip(names[1:], cuts[-1]["levels_m"][1:]):
        rows.number("worked case: level at the end, mm", name, 1e3 * ours, 1e3 * level, 1e-3)


# Damages for the self-test.


def change(file, matches, factor=1.0, key="ours", more=0.0, at=None):
    """Changes a number in the first line that matches."""

    def damage(folder):
        told = lines(folder / file)
        line = next((line for line in told if all(line.get(k) == v for k, v in matches.items())), None)
        if line is None:
            return False
        of, k = (line, key) if at is None else (line[key], at)
        of[k] = of[k] * factor + more
        (folder / file).write_text("".join(json.dumps(line) + "\n" for line in told), encoding="utf-8")
        return True

    return damage


def lose(quantity):
    def damage(folder):
        path = folder / "formulas.jsonl"
        told = lines(path)
        kept = [line for line in told if line["quantity"] != quantity]
        path.write_text("".join(json.dumps(line) + "\n" for line in kept), encoding="utf-8")
        return len(kept) < len(told)

    return damage


def formula(quantity, factor=1.01):
    return change("formulas.jsonl", {"quantity": quantity}, factor)


CUT = {"case": "worked case cut", "t_s": 334.0}
DAMAGES = {
    "a crest that passes 1 % more": formula("crest_thin_free"),
    "a drowned crest that passes 1 % less": formula("crest_thin_drowned", 0.99),
    "an opening that passes 1 % more": formula("rectangle"),
    "a friction factor after Fanning": formula("colebrook", 0.25),
    "a pipe that passes 1 % more": formula("pipe_flow"),
    "a pump's head in feet": formula("pump_head_pchip", 3.28084),
    "an operating point in L/min": formula("operating_point", 6e4),
    "a density 0.1 kg/m³ too high": change("formulas.jsonl", {"quantity": "density"}, more=0.1),
    "a viscosity in mPa s": formula("viscosity", 1e3),
    "evaporation per hour": formula("evaporation_shah", 3600.0),
    "a bubble that rises 1 % faster": formula("bubble_rise"),
    "a formula that is not printed": lose("intake_depth"),
    "a drain 1 ms late": change("worked_case.jsonl", {"case": "weir drain"}, more=1e-3, key="t_s"),
    "a level at rest 0.2 mm too high": change("worked_case.jsonl", {"case": "worked case"}, more=2e-4, key="levels_m", at=1),
    "a siphon that breaks 1 s late": change("worked_case.jsonl", CUT, more=1.0, key="broke_s"),
    "a level at the end 0.002 mm too low": change("worked_case.jsonl", CUT, more=-2e-6, key="levels_m", at=2),
}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)
