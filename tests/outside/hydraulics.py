"""Flow laws written anew from their published sources, for judges: nothing here reads our tables.

SI throughout: m, m³/s, heights above one datum. `law_of` turns an element as `checks/water.json` tells
it, with its pipe or pump if it has one, into a function of the levels above and below.
"""

import math
from bisect import bisect_right

import numpy as np
from scipy.interpolate import PchipInterpolator

G = 9.80665
SQRT_2G = math.sqrt(2.0 * G)
# Differences of levels over which a root is rounded, and the same for drowned crests: stated with the
# laws; without them no stiff solver passes equal levels.
ROUNDING_M = 1e-5
ROUNDING_VILLEMONTE = 1e-4
LITRES_PER_HOUR = 1.0 / 3.6e6

# Width of notch over width of channel, α, β: Kindsvater and Carter as in Bos (ed.), Discharge
# Measurement Structures, ILRI 20, table 5.2 (ISO 1438:2017 has the same lines).
ALPHA_BETA = np.array(
    [
        (0.0, 0.587, -0.0023),
        (0.1, 0.588, -0.0021),
        (0.2, 0.589, -0.0018),
        (0.3, 0.590, 0.0020),
        (0.4, 0.591, 0.0058),
        (0.5, 0.592, 0.0110),
        (0.6, 0.593, 0.0180),
        (0.7, 0.595, 0.0300),
        (0.8, 0.597, 0.0450),
        (0.9, 0.599, 0.0640),
        (1.0, 0.602, 0.0750),
    ]
)


def kindsvater_carter(ratio):
    """α and β, straight between the lines of the table."""
    return tuple(float(np.interp(ratio, ALPHA_BETA[:, 0], ALPHA_BETA[:, k])) for k in (1, 2))


def root(delta):
    """√Δ, rounded at 0."""
    return delta / (delta * delta + ROUNDING_M**2) ** 0.25


def smoothstep(x):
    x = min(max(x, 0.0), 1.0)
    return x * x * (3.0 - 2.0 * x)


def soft_min(a, b):
    if a <= 0.0 or b <= 0.0:
        return 0.0
    return (a**-4 + b**-4) ** -0.25


def villemonte(r):
    """Share of the free discharge that passes a drowned rectangular crest."""
    if r <= 0.0:
        return 1.0
    x = 1.0 - min(r, 1.0) ** 1.5
    return x * (x * x + ROUNDING_VILLEMONTE**2) ** (-0.615 / 2.0)


def thick(head_over_thickness):
    """Share of a thin plate that a thick crest passes: 1.45 to 1.83 m^½/s (Brater and King)."""
    return (1.45 + 0.38 * smoothstep((head_over_thickness - 0.5) / 1.5)) / 1.83


def either_way(forward):
    return lambda up, down: forward(up, down) if up >= down else -forward(down, up)


def crest(z, width, thickness, height, channel):
    alpha, beta = kindsvater_carter(width / channel)
    height = max(height, 1e-3)

    def forward(up, down):
        h = up - z
        if h <= 0.0:
            return 0.0
        c = alpha + beta * min(h, 2.5 * height) / height
        q = 2.0 / 3.0 * c * SQRT_2G * width * h**1.5
        if thickness > 0.0:
            q *= thick(h / thickness)
        return q * villemonte((down - z) / h)

    return either_way(forward)


def strips(cd, rectangles):
    """Rectangles (z0, z1, width): each height passes by the head over it, or over the level behind."""

    def forward(up, down):
        q = 0.0
        for z0, z1, width in rectangles:
            h1 = up - z0
            if h1 <= 0.0:
                continue
            top = min(z1 - z0, h1)
            lo = min(max(down - z0, 0.0), top)
            q += width * 2.0 / 3.0 * ((h1 - lo) ** 1.5 - (h1 - top) ** 1.5)
            if lo > 0.0:
                q += width * lo * root(up - down)
        return cd * SQRT_2G * q

    return either_way(forward)


def mouth(z, perimeter, area, cd=0.61):
    weir = strips(cd, [(z, math.inf, perimeter)])

    def forward(up, down):
        if up <= z:
            return 0.0
        return soft_min(weir(up, down), cd * area * SQRT_2G * root(up - max(down, z)))

    return either_way(forward)


def lip(z, bore, out=None, full=None):
    """Round lip of a stand-pipe (FHWA HEC-22, risers) over a pipe that passes `full(head)`."""

    def one_way(up, down):
        h = up - z
        if h <= 0.0:
            return 0.0
        q = soft_min(math.pi * bore * 1.84 * h**1.5, 0.6 * math.pi / 4.0 * bore**2 * math.sqrt(2.0 * G * h))
        return q if full is None else soft_min(q, full(up - max(down, out)))

    return one_way


def fabric(z0, z1, perimeter, bottom, conductance):
    """Darcy through a wall: ∫ (h1 − max(z, h2)) dz over the wet cloth, and its bottom."""

    def forward(up, down):
        if up <= z0:
            return 0.0
        top, behind = min(up, z1), max(down, z0)
        drowned = min(behind, top)
        wall = (drowned - z0) * (up - behind)
        wall += ((up - drowned) ** 2 - (up - top) ** 2) / 2.0
        return conductance * (perimeter * wall + bottom * (up - behind))

    return either_way(forward)


def gate(g):
    if g is None:
        return lambda level: 1.0
    return lambda level: smoothstep((level - g["z_m"]) / g["over_m"])


# Pipes.


def darcy(re, rel):
    """Darcy's friction factor: laminar to Re 2000, Colebrook and White from 4000, straight between."""
    re = np.asarray(re, dtype=float)
    turbulent = colebrook(np.maximum(re, 4000.0), rel)
    laminar = 64.0 / np.maximum(re, 1e-12)
    between = 0.032 + (colebrook(np.array(4000.0), rel) - 0.032) * (re - 2000.0) / 2000.0
    return np.where(re <= 2000.0, laminar, np.where(re < 4000.0, between, turbulent))


def colebrook(re, rel):
    """By iterating `1/√f = −2 log10(ε/3.7D + 2.51/(Re √f))` until it stands."""
    x = np.full_like(re, 7.0)
    for _ in range(60):
        x = -2.0 * np.log10(rel / 3.7 + 2.51 * x / re)
    return x**-2.0


class PipeLine:
    """A pipe with fittings that runs full."""

    def __init__(self, pipe):
        self.bore, self.length, self.loss = pipe["bore_m"], pipe["length_m"], pipe["loss_k"]
        self.rough, self.nu = pipe["roughness_m"], pipe["viscosity_m2_s"]
        self.area = math.pi / 4.0 * self.bore**2

    def head(self, q):
        """Head lost at these discharges."""
        v = np.asarray(q, dtype=float) / self.area
        f = darcy(np.maximum(v, 1e-15) * self.bore / self.nu, self.rough / self.bore)
        return v * v / (2.0 * G) * (self.loss + f * self.length / self.bore)

    def flow(self, head_max=4.0, points=4000):
        """Discharge as a function of the head: a fine curve through points computed from the discharge,
        so that nothing need be inverted."""
        q_max = 1.05 * self.area * math.sqrt(2.0 * G * head_max / max(self.loss, 0.1))
        q = q_max * np.linspace(0.0, 1.0, points) ** 1.5
        return Curve(np.sqrt(self.head(q)), q, math.sqrt)


class Curve:
    """A monotone curve through many points, quick for one value at a time; level beyond its ends."""

    def __init__(self, x, y, of=None):
        self.x = [float(v) for v in x]
        pieces = PchipInterpolator(x, y)
        self.pieces = pieces.c.T.tolist()
        self.ends = float(y[0]), float(y[-1])
        self.of = of

    def __call__(self, value):
        if self.of is math.sqrt:
            if value <= 0.0:
                return 0.0
            value = math.sqrt(value)
        if value <= self.x[0]:
            return self.ends[0]
        if value >= self.x[-1]:
            return self.ends[1]
        i = bisect_right(self.x, value) - 1
        t = value - self.x[i]
        a, b, c, d = self.pieces[i]
        return ((a * t + b) * t + c) * t + d


def pump_flow(points, line, n=4000):
    """Discharge of a pump through its line over the height lifted: where head and losses meet."""
    q0, h0 = np.array(points).T
    head = PchipInterpolator(q0, h0)
    q = q0[-1] * np.linspace(0.0, 1.0, n) ** 1.5
    # Before the first point its head holds.
    lift = np.where(q < q0[0], h0[0], head(np.maximum(q, q0[0]))) - line.head(q)
    # At lift 0 and below it delivers what it does at 0; past its last point it is never taken.
    curve = Curve(lift[::-1], q[::-1])
    return lambda height: 0.0 if height >= h0[0] else curve(max(height, 0.0))


def law_of(element, pipe_of=None):
    """The discharge of an element over the levels above and below, its scale left out."""
    law = element["law"]
    kind = law["law"]
    if kind == "crest":
        names = ("crest_m", "width_m", "thickness_m", "height_over_floor_m", "channel_width_m")
        return crest(*(law[name] for name in names))
    if kind == "strips":
        inf = math.inf
        all_strips = [(s["z0_m"], inf if s["z1_m"] is None else s["z1_m"], s["width_m"]) for s in law["strips"]]
        return strips(law["cd"], all_strips)
    if kind == "mouth":
        return mouth(law["lip_m"], law["perimeter_m"], law["area_m2"])
    if kind == "fabric":
        return fabric(law["z0_m"], law["z1_m"], law["perimeter_m"], law["bottom_area_m2"], law["conductance"])
    if kind == "lip":
        if law["full"] is None:
            return lip(law["lip_m"], law["bore_m"])
        return lip(law["lip_m"], law["bore_m"], law["full"]["out_m"], PipeLine(pipe_of["pipe"]).flow())
    is_open = gate(law["gate"])
    if kind == "rate":
        rate = law["q_m3_s"]
        return lambda up, down: rate * is_open(up)
    out = law["out_m"]
    if kind == "pipe":
        full = PipeLine(pipe_of["pipe"]).flow()
        return lambda up, down: is_open(up) * full(up - max(down, out))
    if kind == "pump":
        lifted = pump_flow(pipe_of["pump"]["points"], PipeLine(pipe_of["pipe"]))
        return lambda up, down: is_open(up) * lifted(max(down, out) - up)
    raise ValueError(f"no law is called {kind}")
