"""Judges levels and rehearsals: all of them computed again by SciPy from the network alone.

The laws are written anew in `hydraulics.py`; pipes iterate Colebrook's formula, pumps take SciPy's
PCHIP through their points. Levels at rest are SciPy's `root`; failures run in its stiff solver `BDF`
from these, with the same events by the same levels. The sum of all volumes is added up from the levels
at the end.
"""

import functools
import json

import judging
import rehearsing

SOURCE = judging.versions("scipy", "numpy")
# Levels at rest, and at the end; m.
REST_M = 1e-5
# Levels on the way, and the highest; m.
MOVING_M = 1e-4
EVENT_S = 0.1
# Share of all water that may come from or go to nowhere.
LOST = 1e-9


def judge(folder, rows):
    water = judging.expectations(folder, "water")
    judge_annular(water, rows)
    levels = judge_rest(water, rows)
    for told in water["rehearsals"]:
        judge_volume(water, told, rows)
    if levels is None:
        # Whoever begins elsewhere ends elsewhere.
        rows.equal("rehearsals: computed again", rows.on, True, False)
        return
    for told in water["rehearsals"]:
        judge_rehearsal(water, levels, told, rows)


def judge_rest(water, rows):
    """Levels and flows at rest; the levels that SciPy finds, if they are ours."""
    steady = water["steady"]
    network = network_of(texts(water))
    levels, residual = network.at_rest(steady["held"], steady["levels_m"])
    rows.number("levels at rest: flow that SciPy could not balance, m³/s", rows.on, 0.0, residual, 1e-12)
    before = len(rows.failed)
    for name, is_held, ours, theirs in zip(network.names, steady["held"], steady["levels_m"], levels):
        if not is_held:
            rows.number("levels at rest: level, mm", name, 1e3 * ours, 1e3 * theirs, 1e3 * REST_M)
    flows = [s * law(levels[up], levels[down]) if s else 0.0 for law, s, (up, down) in zip(network.laws, network.scale, network.ends)]
    for element, ours, theirs in zip(water["network"]["elements"], steady["flows_m3_s"], flows):
        rows.number("levels at rest: flow, L/h", element["name"], 3.6e6 * ours, 3.6e6 * theirs, 0.5)
    return levels if len(rows.failed) == before else None


def judge_annular(water, rows):
    """What drains carry in quiet, annular flow: Wyly and Eaton's stacks, NBS Monograph 31 (1961), with a
    quarter of the bore filled; US gallons of 231 cubic inches."""
    bores = {part["drain"]: pipe["pipe"]["bore_m"] for pipe in water["pipes"] if "drain" in (part := water["parts"][pipe["element"]])}
    # Drains without an intake pass nothing and are not told of.
    for drain, bore in zip(water["report"]["drains"], (bores[k] for k in sorted(bores)), strict=True):
        gallons_a_minute = 27.8 * 0.25 ** (5.0 / 3.0) * (bore / 0.0254) ** (8.0 / 3.0)
        theirs = gallons_a_minute * 231.0 * 0.0254**3 / 60.0
        rows.number("levels at rest: quiet annular flow of a drain, L/h", drain["name"], 3.6e6 * drain["quiet_m3_s"], 3.6e6 * theirs, 1e-6, relative=True)


def judge_volume(water, told, rows):
    tanks = [rehearsing.Tank(tank["steps"]) for tank in water["network"]["tanks"]]
    begun = sum(tank.volume(z) for tank, z in zip(tanks, water["steady"]["levels_m"]))
    ended = sum(tank.volume(z) for tank, z in zip(tanks, told["end_levels_m"]))
    rows.number("rehearsals: all water at the end, m³", told["name"], ended, begun, LOST, relative=True)
    rows.number("rehearsals: largest change of all water, share of it", told["name"], told["drift_m3"] / begun, 0.0, LOST)


def judge_rehearsal(water, levels, told, rows):
    name = told["name"]
    instants = [sample["t_s"] for sample in told["samples"]]
    theirs = played(texts(water), json.dumps([levels, told["script"], told["end_s"], instants]))
    is_sink = [tank["is_sink"] for tank in water["network"]["tanks"]]
    names = [tank["name"] for tank in water["network"]["tanks"]]
    rows.equal("rehearsals: how it ends", name, told["stop"], "end")

    events = [(event["event"], index_of(event, water)) for event in told["events"]]
    rows.equal("rehearsals: events in their order", name, *(str(sorted_at_once(*e)) for e in (
        (events, [event["t_s"] for event in told["events"]]),
        ([(kind, k) for _, kind, k in theirs["log"]], [t for t, *_ in theirs["log"]]),
    )))
    for event, (t, kind, _) in zip(told["events"], theirs["log"]):
        rows.number("rehearsals: time of an event, s", f"{name}: {kind}", event["t_s"], t, EVENT_S)

    for reach, peak, end, tank, sink in zip(told["reaches"], theirs["peaks"], theirs["end"], names, is_sink):
        part = f"{name}: {tank}"
        rows.number("rehearsals: level at the end, mm", part, 1e3 * told["end_levels_m"][reach["tank"]], 1e3 * end, 1e3 * REST_M)
        if not sink:
            rows.number("rehearsals: highest level, mm", part, 1e3 * reach["highest_m"]["mid"], 1e3 * peak, 1e3 * MOVING_M)
    for sample in told["samples"]:
        for tank, sink, ours, level in zip(names, is_sink, sample["levels_m"], theirs["at"][sample["t_s"]]):
            if not sink:
                part = f"{name}: {tank} at {sample['t_s']:.0f} s"
                rows.number("rehearsals: level at an instant, mm", part, 1e3 * ours, 1e3 * level, 1e3 * MOVING_M)


def index_of(event, water):
    """Of drains the script counts only those that are siphons, as they come."""
    if event["event"] in ("siphon-breaks", "siphon-primes"):
        siphons = [part["drain"] for part in water["parts"] if part["part"] == "siphon"]
        return siphons.index(event["drain"])
    return event.get("line", event.get("tank"))


def sorted_at_once(events, times):
    """Events in order; those of one instant in the order of their names, as none is first."""
    order = sorted(range(len(events)), key=lambda i: (round(times[i], 1), str(events[i])))
    return [events[i] for i in order]


def texts(water):
    """Network and pipes as text, by which what was computed for them is kept."""
    return json.dumps({"network": water["network"], "pipes": water["pipes"]}, sort_keys=True)


@functools.lru_cache(maxsize=4)
def network_of(text):
    return rehearsing.Network(json.loads(text))


@functools.lru_cache(maxsize=None)
def played(network, play):
    levels, script, end_s, instants = json.loads(play)
    return rehearsing.play(network_of(network), script, levels, end_s, instants)


# Damages for the self-test.


def change(act):
    """Changes `checks/water.json` by a function of it."""

    def damage(folder):
        path = folder / "checks" / "water.json"
        water = json.loads(path.read_text(encoding="utf-8"))
        act(water)
        path.write_text(json.dumps(water), encoding="utf-8")
        return True

    return damage


def element(water, part):
    return water["network"]["elements"][next(i for i, p in enumerate(water["parts"]) if p["part"] == part)]


def pipe(water, part):
    index = next(i for i, p in enumerate(water["parts"]) if p["part"] == part)
    return next(p for p in water["pipes"] if p["element"] == index)


def add(of, key, more):
    of[key] += more


def times(of, key, factor):
    of[key] *= factor


def first_with(water, key):
    return next(told for told in water["rehearsals"] if told[key])


DAMAGES = {
    "a level at rest 0.2 mm too high": change(lambda w: add(w["steady"]["levels_m"], 1, 2e-4)),
    "a flow at rest 1 % too large": change(lambda w: times(w["steady"]["flows_m3_s"], w["steady"]["flows_m3_s"].index(max(w["steady"]["flows_m3_s"])), 1.01)),
    "the highest level 0.2 mm too high": change(lambda w: add(w["rehearsals"][0]["reaches"][1]["highest_m"], "mid", 2e-4)),
    "a level on the way 0.2 mm too low": change(lambda w: add(w["rehearsals"][1]["samples"][3]["levels_m"], 6, -2e-4)),
    "a level at the end 0.02 mm too low": change(lambda w: add(w["rehearsals"][2]["end_levels_m"], 8, -2e-5)),
    "a drop of water lost": change(lambda w: add(w["rehearsals"][-1]["end_levels_m"], w["tanks"]["air"], -1e-8)),
    "an event 1 s late": change(lambda w: add(first_with(w, "events")["events"][-1], "t_s", 1.0)),
    "an event that is not told": change(lambda w: first_with(w, "events")["events"].pop()),
    "a drain that is quiet with 1 % more": change(lambda w: times(w["report"]["drains"][0], "quiet_m3_s", 1.01)),
    "a run that was given up": change(lambda w: w["rehearsals"][0].update(stop="too-many-steps")),
    "a comb that passes 1 % more": change(lambda w: times(element(w, "overflow")["law"], "cd", 1.01)),
    "a pump's line in mm": change(lambda w: times(pipe(w, "line")["pipe"], "bore_m", 1e3)),
    "a pump in L/h": change(lambda w: [times(point, 0, 3.6e6) for point in pipe(w, "line")["pump"]["points"]]),
    "the way back through a line 2 % wider": change(lambda w: times(pipe(w, "back-siphon")["pipe"], "bore_m", 1.02)),
    "a siphon that breaks 2 mm higher": change(lambda w: add(w["rehearsals"][0]["script"]["siphons"][0], "breaks_m", 2e-3)),
}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)
