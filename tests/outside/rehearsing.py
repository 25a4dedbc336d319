"""Levels at rest and in time by SciPy, from `checks/water.json`: the network, its laws written anew in
`hydraulics.py`, and by which levels what switches.

The state is the volumes. Events are searched on the solver's own continuous solution, and nothing
switches while discharges are evaluated.
"""

import bisect
import math

import numpy as np
from scipy.integrate import BDF
from scipy.optimize import brentq, root

import hydraulics

RTOL, ATOL_M3 = 1e-9, 1e-12
# Shares of a step at which events and highest levels are looked for.
LOOKS = (0.25, 0.5, 0.75, 1.0)


class Tank:
    """Plan area by height; volume and level are each other's inverse."""

    def __init__(self, steps):
        self.z = [s["z_m"] for s in steps]
        self.area = [s["area_m2"] for s in steps]
        held = [a * (z1 - z0) for a, z0, z1 in zip(self.area, self.z, self.z[1:])]
        self.below = [0.0, *np.cumsum(held).tolist()]

    def level(self, volume):
        i = max(bisect.bisect_right(self.below, volume) - 1, 0)
        return self.z[i] + (volume - self.below[i]) / self.area[i]

    def volume(self, level):
        i = max(bisect.bisect_right(self.z, level) - 1, 0)
        return self.below[i] + (level - self.z[i]) * self.area[i]


class Network:
    """Tanks and laws of a folder's `checks/water.json`."""

    def __init__(self, water):
        self.tanks = [Tank(tank["steps"]) for tank in water["network"]["tanks"]]
        self.names = [tank["name"] for tank in water["network"]["tanks"]]
        pipes = {pipe["element"]: pipe for pipe in water["pipes"]}
        elements = water["network"]["elements"]
        self.ends = [(e["up"], e["down"]) for e in elements]
        self.scale = [e["scale"] for e in elements]
        self.laws = [hydraulics.law_of(e, pipes.get(i)) for i, e in enumerate(elements)]

    def levels(self, volumes):
        return [tank.level(v) for tank, v in zip(self.tanks, volumes)]

    def volumes(self, levels):
        return [tank.volume(z) for tank, z in zip(self.tanks, levels)]

    def flows(self, scale, levels):
        """(from, to, discharge) of all that is open."""
        for law, s, (up, down) in zip(self.laws, scale, self.ends):
            if s:
                yield up, down, s * law(levels[up], levels[down])

    def inflow(self, scale, levels):
        inflow = [0.0] * len(self.tanks)
        for up, down, q in self.flows(scale, levels):
            inflow[up] -= q
            inflow[down] += q
        return inflow

    def slopes(self, scale, volumes):
        """How the inflows answer to the volumes. By differences element by element: SciPy's own differences
        grow their steps without end for tanks that answer to nothing."""
        step = 1e-7
        levels = self.levels(volumes)
        areas = [tank.area[max(bisect.bisect_right(tank.below, v) - 1, 0)] for tank, v in zip(self.tanks, volumes)]
        slopes = np.zeros((len(levels), len(levels)))
        for law, s, (up, down) in zip(self.laws, scale, self.ends):
            if s:
                a, b = levels[up], levels[down]
                by_up = s * (law(a + step, b) - law(a - step, b)) / (2.0 * step * areas[up])
                by_down = s * (law(a, b + step) - law(a, b - step)) / (2.0 * step * areas[down])
                slopes[up, up] -= by_up
                slopes[down, up] += by_up
                slopes[up, down] -= by_down
                slopes[down, down] += by_down
        return slopes

    def at_rest(self, held, start):
        """Levels at which every tank that is not held gains nothing."""
        free = [i for i, is_held in enumerate(held) if not is_held]

        def gain(x):
            levels = list(start)
            for i, z in zip(free, x):
                levels[i] = float(z)
            inflow = self.inflow(self.scale, levels)
            return [1e4 * inflow[i] for i in free]

        # Not from the answer: two millimetres above it.
        found = root(gain, [start[i] + 2e-3 for i in free], method="hybr", options={"xtol": 1e-13})
        levels = list(start)
        for i, z in zip(free, found.x):
            levels[i] = float(z)
        return levels, max(abs(g) for g in gain(found.x)) / 1e4


class Play:
    """One failure: what is open, and what switches it. As the script in the file tells."""

    def __init__(self, network, script, levels):
        self.network, self.script = network, script
        self.has_power = True
        self.closed, self.opened = set(), set()
        self.primed = [levels[s["tank"]] > s["breaks_m"] for s in script["siphons"]]
        self.runs_back = [False] * len(script["lines"])
        self.breaks = [line["breaks_m"] for line in script["lines"]]
        self.checked = [line["has_check_valve"] for line in script["lines"]]
        self.air_drawn = [False] * len(script["lines"])
        self.over = [False] * len(script["rims"])
        self.float_on, self.stuck, self.is_empty = False, False, False
        self.log = []
        self.look_at_float(0.0, levels)

    def scale(self):
        base, script = self.script["open_scale"], self.script
        scale = list(self.network.scale)
        modes = {i: True for i in self.opened}
        for s, is_primed in zip(script["siphons"], self.primed):
            modes |= {s["full"]: is_primed, s["open"]: not is_primed}
        for line, runs_back in zip(script["lines"], self.runs_back):
            modes |= {line["pump"]: self.has_power, line["back"]: runs_back}
        if script["float"]:
            modes[script["float"]["element"]] = self.float_on and self.has_power
        modes |= {cup: cup in self.opened and self.has_power for cup in script["cups"]}
        modes |= {i: False for i in self.closed}
        for i, is_open in modes.items():
            scale[i] = base[i] if is_open else 0.0
        return scale

    def act(self, t, acts, levels):
        for act in acts:
            kind, of = act["act"], act["of"]
            if kind == "power":
                self.has_power = of
                self.log.append((t, "power-back" if of else "power-out", None))
            elif kind == "close":
                self.closed.add(of)
            elif kind == "open":
                self.opened.add(of)
            elif kind == "stick":
                self.stuck, self.float_on = True, of
            elif kind == "lose-check-valve":
                self.checked[of] = False
            elif kind == "block-break-hole":
                self.breaks[of] = min(self.breaks[of], self.script["lines"][of]["breaks_by_outlet_m"])
            else:
                raise ValueError(f"no act is called {kind}")
        for k, line in enumerate(self.script["lines"]):
            may = not self.has_power and not self.checked[k]
            self.runs_back[k] = may and levels[line["to"]] > self.breaks[k]
        self.look_at_float(t, levels)

    def look_at_float(self, t, levels):
        f = self.script["float"]
        if not f or self.stuck:
            return
        if self.float_on and levels[f["tank"]] >= f["off_m"]:
            self.float_on = False
            self.log.append((t, "top-up-off", None))
        elif not self.float_on and levels[f["tank"]] < f["on_m"]:
            self.float_on = True
            self.log.append((t, "top-up-on", None))

    def watched(self):
        """(tank, level, direction, what happens) of all that is watched just now."""
        script, watched = self.script, []
        for k, s in enumerate(script["siphons"]):
            if self.primed[k]:
                watched.append((s["tank"], s["breaks_m"], -1, ("siphon-breaks", k)))
            else:
                watched.append((s["tank"], s["primes_m"], 1, ("siphon-primes", k)))
        for k, line in enumerate(script["lines"]):
            if self.runs_back[k]:
                watched.append((line["to"], self.breaks[k], -1, ("back-siphon-breaks", k)))
            if self.has_power and not self.air_drawn[k]:
                watched.append((line["from"], line["draws_air_m"], -1, ("pump-draws-air", k)))
        f = script["float"]
        if f and not self.stuck:
            off, on = (f["off_m"], 1, ("top-up-off", None)), (f["on_m"], -1, ("top-up-on", None))
            watched.append((f["tank"], *(off if self.float_on else on)))
        if f and not self.is_empty:
            watched.append((f["reservoir"], f["empty_m"], -1, ("reservoir-empty", None)))
        for k, (tank, rim) in enumerate(script["rims"]):
            if not self.over[k]:
                watched.append((tank, rim, 1, ("runs-over", tank)))
        return watched

    def fire(self, t, what, levels):
        kind, k = what
        self.log.append((t, kind, k))
        if kind in ("siphon-breaks", "siphon-primes"):
            self.primed[k] = kind == "siphon-primes"
        elif kind == "back-siphon-breaks":
            self.runs_back[k] = False
        elif kind == "pump-draws-air":
            self.air_drawn[k] = True
        elif kind in ("top-up-on", "top-up-off"):
            self.float_on = kind == "top-up-on"
            return
        elif kind == "reservoir-empty":
            self.is_empty = True
        elif kind == "runs-over":
            self.over = [o or tank == k for o, (tank, _) in zip(self.over, self.script["rims"])]
        self.look_at_float(t, levels)


def play(network, script, levels, end_s, instants, rtol=RTOL, method=BDF):
    """Plays a failure to `end_s`: highest levels, levels at the end and at `instants`, and the log of
    (time, event, of what)."""
    run = Play(network, script, levels)
    volumes = np.array(network.volumes(levels))
    acts = {}
    for act in script["acts"]:
        acts.setdefault(act["t_s"], []).append(act)
    clock = [*sorted(t for t in acts if t < end_s), end_s]
    peaks, at = list(levels), {0.0: list(levels)}
    waiting = sorted(t for t in instants if 0.0 < t <= end_s)
    t = 0.0
    for until in clock:
        while t < until:
            scale, watched = run.scale(), run.watched()

            def rate(_, v, scale=scale):
                return network.inflow(scale, network.levels(v.tolist()))

            def slopes(_, v, scale=scale):
                return network.slopes(scale, v.tolist())

            solver = method(rate, t, volumes, until, rtol=rtol, atol=ATOL_M3, jac=slopes)
            fired = None
            while fired is None and solver.status == "running":
                message = solver.step()
                if solver.status == "failed":
                    raise RuntimeError(f"SciPy gives up at {t} s: {message}")
                inside = solver.dense_output()
                fired = first_event(network, watched, inside, solver.t_old, solver.t)
                stop = fired[0] if fired else solver.t
                while waiting and waiting[0] <= stop:
                    instant = waiting.pop(0)
                    at[instant] = network.levels(inside(instant).tolist())
                for share in LOOKS:
                    here = network.levels(inside(solver.t_old + share * (stop - solver.t_old)).tolist())
                    peaks = [max(a, b) for a, b in zip(peaks, here)]
                t, volumes = stop, inside(stop) if fired else solver.y
            if fired:
                here = network.levels(volumes.tolist())
                # What switches at the same instant by the same level, two siphons in one box.
                for what in fired[1]:
                    if any(what == other for *_, other in run.watched()):
                        run.fire(t, what, here)
        if until < end_s:
            run.act(t, acts[until], network.levels(volumes.tolist()))
    return {"peaks": peaks, "end": network.levels(volumes.tolist()), "at": at, "log": run.log}


def first_event(network, watched, inside, start, end):
    """When the first of all that is watched rises through nothing in this step, and all that do then."""

    def values(t):
        v = inside(t)
        return [sign * (network.tanks[tank].level(float(v[tank])) - z) for tank, z, sign, _ in watched]

    before, t_before = values(start), start
    for share in LOOKS:
        t = start + share * (end - start)
        here = values(t)
        crossed = [k for k, (a, b) in enumerate(zip(before, here)) if a < 0.0 <= b]
        if crossed:
            when = min(brentq(lambda x, k=k: values(x)[k], t_before, t, xtol=1e-10, rtol=1e-15) for k in crossed)
            # On the far side, so that it is past.
            while max(values(when)[k] for k in crossed) < 0.0 and when < t:
                when = min(math.nextafter(when, math.inf) + 1e-10, t)
            over = values(when)
            return when, [watched[k][3] for k in crossed if over[k] >= 0.0]
        before, t_before = here, t
    return None
