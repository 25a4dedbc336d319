"""How much faster all rehearsals of a demo are computed than by SciPy, in the same run.

    water_speed_ratio.py [PARAMETERS.toml]    default params/fragfarm.toml, the largest demo

Both play the same standing rehearsals of the same network with the same events, from levels at rest to
the end; ours is the release build on one core, its best of several rounds (example `speed` of the crate
`water`; without bands, which SciPy would have to compute many times over). SciPy's solver is BDF with the
slopes given, its fastest here; LSODA is shown beside it. The opponent is named twice:

    friction iterated   every discharge of a pipe from Colebrook's formula by brentq, as SciPy is used
    by tables           the same curve through computed points that we use, so that solvers are compared

and at two tolerances: 1e-5, near to what our solver takes for enough, and 1e-8. What Python costs is in
SciPy's time; its laws and events are Python, its linear algebra is not.
"""

import argparse
import json
import math
import subprocess
import tempfile
import time
from pathlib import Path

from scipy.integrate import BDF, LSODA
from scipy.optimize import brentq

import hydraulics
import rehearsing

ROOT = Path(__file__).parents[2]
# Rehearsals that SciPy plays with friction iterated: all of them would take an hour.
ITERATED = 3


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("parameters", nargs="?", type=Path, default=ROOT / "params" / "fragfarm.toml")
    parameters = parser.parse_args().parameters.resolve()
    ours = our_speed(parameters)
    water = network_of(parameters)
    print(f"{parameters.name}: {ours['rehearsals']} rehearsals")
    print(f"ours, all: {ours['once_ms']:.1f} ms")
    network = rehearsing.Network(water)
    times = [their_time(network, water, told, 1e-5, LSODA) for told in water["rehearsals"]]
    show("SciPy LSODA, by tables, 1e-05, all", sum(times), ours["once_ms"], len(times))
    for rtol in (1e-5, 1e-8):
        network = rehearsing.Network(water)
        times = [their_time(network, water, told, rtol) for told in water["rehearsals"]]
        show(f"SciPy BDF, by tables, {rtol:g}, all", sum(times), ours["once_ms"], len(times))
        iterate_friction(network, water)
        few = [their_time(network, water, told, rtol) for told in water["rehearsals"][:ITERATED]]
        # The others in proportion to what they took by tables.
        whole = sum(few) * sum(times) / sum(times[:ITERATED])
        show(f"SciPy BDF, friction iterated, {rtol:g}, from the first {ITERATED}", whole, ours["once_ms"], len(times))


def show(who, milliseconds, ours, count):
    print(f"{who}: {milliseconds:.0f} ms for {count}; ratio {milliseconds / ours:.0f}")


def our_speed(parameters):
    command = ["cargo", "run", "--quiet", "--release", "-p", "water", "--example", "speed", "--", str(parameters)]
    done = subprocess.run(command, cwd=ROOT, stdout=subprocess.PIPE, text=True, check=True)
    return json.loads(done.stdout.splitlines()[-1])


def network_of(parameters):
    """`checks/water.json` of a folder made for it."""
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "made"
        command = ["cargo", "run", "--quiet", "--release", "-p", "sumpwright", "--", "make", str(parameters), "--into", str(folder)]
        # It may have findings; what counts is that the file is there.
        subprocess.run(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
        return json.loads((folder / "checks" / "water.json").read_text(encoding="utf-8"))


def their_time(network, water, told, rtol, method=BDF):
    start = time.perf_counter()
    rehearsing.play(network, told["script"], water["steady"]["levels_m"], told["end_s"], [], rtol=rtol, method=method)
    return 1e3 * (time.perf_counter() - start)


def iterate_friction(network, water):
    """Puts pipes and pumps in that find every discharge anew."""
    elements = water["network"]["elements"]
    for pipe in water["pipes"]:
        i = pipe["element"]
        law = elements[i]["law"]
        line = Line(pipe["pipe"])
        is_open = hydraulics.gate(law.get("gate"))
        if law["law"] == "pump":
            network.laws[i] = pumped(law, line, pipe["pump"]["points"], is_open)
        elif law["law"] == "pipe":
            network.laws[i] = lambda up, down, law=law, line=line, is_open=is_open: is_open(up) * line.flow(up - max(down, law["out_m"]))
        elif law["full"]:
            network.laws[i] = hydraulics.lip(law["lip_m"], law["bore_m"], law["full"]["out_m"], line.flow)


class Line:
    """A pipe for one discharge at a time, quicker so than by NumPy."""

    def __init__(self, pipe):
        self.pipe, self.area = pipe, math.pi / 4.0 * pipe["bore_m"] ** 2
        self.rel = pipe["roughness_m"] / pipe["bore_m"]

    def head(self, q):
        pipe, v = self.pipe, q / self.area
        re = v * pipe["bore_m"] / pipe["viscosity_m2_s"]
        if re < 1e-9:
            return 0.0
        f = 64.0 / re if re <= 2000.0 else self.colebrook(re)
        if 2000.0 < re < 4000.0:
            f = 0.032 + (self.colebrook(4000.0) - 0.032) * (re - 2000.0) / 2000.0
        return v * v / (2.0 * hydraulics.G) * (pipe["loss_k"] + f * pipe["length_m"] / pipe["bore_m"])

    def colebrook(self, re):
        x = 7.0
        for _ in range(30):
            before, x = x, -2.0 * math.log10(self.rel / 3.7 + 2.51 * x / re)
            if abs(x - before) < 1e-12:
                break
        return x**-2.0

    def flow(self, head):
        if head <= 0.0:
            return 0.0
        high = 1.01 * self.area * math.sqrt(2.0 * hydraulics.G * head / max(self.pipe["loss_k"], 0.1))
        return brentq(lambda q: self.head(q) - head, 0.0, high, xtol=1e-16, rtol=1e-12)


def pumped(law, line, points, is_open):
    head = hydraulics.Curve(*zip(*points))
    most = points[-1][0]

    def flow(up, down):
        lift = max(max(down, law["out_m"]) - up, 0.0)
        spare = lambda q: head(q) - line.head(q) - lift
        if spare(0.0) <= 0.0:
            return 0.0
        q = most if spare(most) >= 0.0 else brentq(spare, 0.0, most, xtol=1e-16, rtol=1e-12)
        return is_open(up) * q

    return flow


if __name__ == "__main__":
    main()
