"""Judges the strength of a sump, from what `make` writes of it:

    checks/strength.json       panels with their loads and results, the plates that were computed, seams

Every panel is computed anew with scikit-fem, on Argyris' triangles as `plate_judge.py` describes them: with the
pressure of the water from its levels, once for each way that its glued seams can be held. Compared are the
deflection all over the panel, the greatest deflection and stress under every load, the bending of the rim, the
pull of its braces, and the moments in the seams. Of a door that hangs on its screws also what each of them carries;
which of the places hold at which its leaf stops it is found anew too. A door is told of at one place of its range, by
which the plate's foot, screws and supports are told. A stress or moment that is greatest near a place where a thin plate has
no bound depends on how near one looks: there ours may only not be the smaller one.
"""

import json
import math

import numpy as np
from skfem import Basis, LinearForm
from scipy.sparse.linalg import splu

import judging
import plate_judge

G = 9.80665
# Of a deflection, of a stress or a moment.
BENDS, STRESSED = 0.02, 0.03
# Of a brace, all of whose pull is at one point: on half of the spacing it finds 7 % less.
BRACED = 0.12
# Of a screw, of what the hardest carries.
SCREWED = 0.03
# A pull of a leaf below this share of the load, or a way through it below this share of the greatest deflection, is
# rounding; and rounds in which that must be settled.
ROUNDING, ROUNDS = 1e-7, 200
# Shares of what is allowed that are less than this are next to nothing, and held to a tenth of it.
NOTHING = 1e-3
# Edges that a run clamps: left, right, lower, upper.
RUNS = {"hinged": (), "sides-clamped": (0, 1), "ends-clamped": (2, 3)}
# Farther than so many thicknesses from a place without a bound a stress counts as bounded.
CLEAR = 4.0
# What is greater than so much of the greatest elsewhere, near a place without a bound, may be it on another mesh.
NEARLY = 0.9
# Places within a triangle, by its first two coordinates: quarters of its sides and of what is between.
LATTICE = np.array([(i, j) for i in range(5) for j in range(5 - i)]).T / 4.0
# What lies on an edge is looked up so far within, m.
EDGE = 1e-7


def judge(folder, rows):
    told = judging.expectations(folder, "strength")
    weight = told["waters"]["density_kg_m3"] * G
    seams = {}
    for panel, plate in zip(told["panels"], told["plates"]):
        rows.equal("strength: the plate of a panel", panel["name"], panel["placed"], plate["placed"])
        if plate["foot_mm"] is None:
            continue
        theirs = Panel(panel, plate, weight)
        judge_deflection(panel, theirs, rows)
        judge_stress(panel, plate, theirs, rows)
        judge_rim(panel, theirs, rows)
        judge_screws(panel, theirs, rows)
        for joint, found in theirs.seams().items():
            seams.setdefault(joint, []).append(found)
    judge_seams(told["seams"], seams, rows)


def judge_deflection(panel, theirs, rows):
    name = panel["name"]
    for index, load in enumerate(panel["loads"]):
        _, most = theirs.deepest(index)
        part = f"{name}: {load['words']}"
        rows.number("strength: greatest deflection, mm", part, load["deflection_mm"], most, BENDS, relative=True)
    # On the grid under the load that bends it most, as a share of the greatest.
    index = panel["deflection"]["load"]
    run, most = theirs.deepest(index)
    shape = panel["shape"]
    places = [(x, y) for y in shape["ys_mm"] for x in shape["xs_mm"]]
    pairs = [(place, mm) for place, mm in zip(places, shape["mm"]) if mm is not None]
    w = theirs.deflections(run, index, [place for place, _ in pairs])
    ours = np.array([mm for _, mm in pairs])
    worst = int(np.nanargmax(abs(ours - w)))
    part = f"{name}, where it differs most"
    rows.number("strength: deflection as a share of the greatest", part, ours[worst] / most, w[worst] / most, BENDS)


def judge_stress(panel, plate, theirs, rows):
    name = panel["name"]
    for index, load in enumerate(panel["loads"]):
        share = load["stress_mpa"] / load["allowable_mpa"]
        part = f"{name}: {load['words']}"
        compare(rows, "strength: greatest share of the stress allowed", part, share, *theirs.stressed(index))
    peak = panel["stress"]
    load = panel["loads"][peak["load"]]
    at = theirs.local(peak["at_mm"])
    if theirs.clearance(at) > CLEAR * theirs.case["thickness_m"] and not plate["pockets"]:
        mpa = theirs.stress_at(load["run"], peak["load"], at, load["allowable_mpa"])
        rows.number("strength: stress where ours is greatest, MPa", name, peak["value"], mpa, STRESSED, relative=True)


def judge_rim(panel, theirs, rows):
    rim = panel["rim"]
    if rim is None:
        return
    stress, brace = theirs.rim()
    name = panel["name"]
    rows.number("strength: greatest stress of the rim, MPa", name, rim["stress_mpa"], stress, STRESSED, relative=True)
    if brace is not None:
        rows.number("strength: greatest pull of a brace, N", name, rim["brace_n"], brace, BRACED, relative=True)


def judge_screws(panel, theirs, rows):
    screws = panel["screws"]
    if screws is None:
        return
    name = panel["name"]
    rows.equal("strength: screws of a door", name, len(screws["at_mm"]), len(theirs.plate["screws"]["at_mm"]))
    for index, (load, told) in enumerate(zip(panel["loads"], screws["loads"])):
        pulls, thrust = theirs.screws(index)
        most = pulls.max()
        part = f"{name}: {load['words']}"
        rows.number("strength: thrust on a door, N", part, told["thrust_n"], thrust, 1e-3, relative=True)
        for at, ours, pull in zip(screws["at_mm"], told["pulls_n"], pulls):
            where = f"{part}, screw at {at[0]:.0f}, {at[1]:.0f}"
            rows.number("strength: pull of a screw as a share of the hardest", where, ours / most, pull / most, SCREWED)
        rows.number("strength: pull of the hardest screw, N", part, max(told["pulls_n"]), most, SCREWED, relative=True)
        prying = pulls.sum() - thrust
        rows.number("strength: prying as a share of the thrust", part, told["prying_n"] / thrust, prying / thrust, SCREWED)


def judge_seams(told, found, rows):
    for seam in told:
        of_panels = found.get(seam["joint"], [])
        if of_panels:
            far = max(far for far, _ in of_panels)
            near = max(near for _, near in of_panels)
            compare(rows, "strength: greatest moment of a seam, N", seam["words"], seam["moment_n"], far, near)


def compare(rows, quantity, part, ours, far, near):
    """`far` is the greatest where it is bounded, `near` where it may not be."""
    if far < NOTHING:
        rows.number(f"{quantity}, next to nothing", part, ours, far, 0.1 * NOTHING)
    elif NEARLY * far >= near:
        rows.number(quantity, part, ours, far, STRESSED, relative=True)
    else:
        rows.within(f"{quantity}: theirs away from places without a bound over ours", part, float(far / ours), 1.0 + STRESSED)


class Panel(plate_judge.Plate):
    """A panel under all of its loads, in every way that its seams can be held. SI units; results in N, mm and MPa."""

    def __init__(self, panel, plate, weight):
        self.panel, self.plate, self.weight = panel, plate, weight
        self.corner = panel["rectangle_mm"][0]
        self.runs = ["hinged", "sides-clamped"] if plate["screws"] else [run for run, edges in RUNS.items() if not edges or any(l["is_seam"] and l["edge"] in edges for l in plate["lines"])]
        self.case = self.case_of("hinged", 0)
        self.mesh = plate_judge.mesh_of(self.case)
        self.element = plate_judge.ElementTriArgyris()
        self.basis = Basis(self.mesh, self.element, intorder=8)
        # What is greatest is looked for at the nodes and all over every triangle.
        self.look = Basis(self.mesh, self.element, quadrature=(LATTICE, np.ones(LATTICE.shape[1])))
        self.places = np.hstack((self.mesh.p, np.asarray(self.look.global_coordinates()).reshape(2, -1)))
        self.forces = np.array([self.force(load) for load in panel["loads"]]).T
        self.sets = self.moduli()
        self.solved = {}
        for number in self.sets:
            self.case = self.case_of("hinged", number)
            self.d, self.nu = plate_judge.rigidity(self.case), self.case["poisson"]
            stiffness, _ = self.equations()
            stiffness = stiffness.tocsc()
            for run in self.runs:
                self.case = self.case_of(run, number)
                self.solved[run, number] = self.solve(stiffness)
        self.case = self.case_of("hinged", 0)

    def moduli(self):
        """Of one material, or two that creep alike, all that is told under lasting load is so at first too, but deflection."""
        rim = self.plate["rim"]
        ratio = lambda of: of[0] / of[1]
        alike = rim is None or math.isclose(ratio(rim["modulus_mpa"]), ratio(self.plate["modulus_mpa"]), rel_tol=1e-9)
        return [0] if alike else [0, 1]

    def solve(self, stiffness):
        stops = [point for point in self.case["points"] if point["stops"]]
        if stops:
            return np.array([self.settled(stiffness, force, stops) for force in self.forces.T]).T
        return self.solve_held(stiffness, self.forces, self.held())

    def solve_held(self, stiffness, forces, held):
        free = np.setdiff1d(np.arange(self.basis.N), np.array(sorted(held), dtype=int))
        u = np.zeros(forces.shape)
        u[free] = splu(stiffness[free][:, free]).solve(forces[free])
        return u

    def held(self):
        """Stops are no part of what always holds."""
        case = self.case
        self.case = case | {"points": [point for point in case["points"] if not point["stops"]]}
        held = super().held()
        self.case = case
        return held

    def settled(self, stiffness, force, stops):
        """The active set: of the stops that are wrong the worst is changed, until none pulls and none is passed through."""
        deflections = self.basis.nodal_dofs[0]
        always = self.held()
        unknowns = np.array([deflections[self.node(point["at"])] for point in stops])
        sides = np.array([point["stops"] for point in stops])
        closed = np.ones(len(stops), bool)
        load = abs(force[deflections]).sum()
        for _ in range(ROUNDS):
            u = self.solve_held(stiffness, force, always | set(unknowns[closed]))
            exerted = stiffness @ u - force
            wrong = -sides * np.where(closed, exerted[unknowns] / load, u[unknowns] / abs(u[deflections]).max())
            if wrong.max() <= ROUNDING:
                return u
            closed[int(wrong.argmax())] ^= True
        raise ValueError(f"which stops hold {self.panel['name']} was not settled")

    def screws(self, index):
        """What each screw carries away from the leaf in the run that pulls one hardest, N, and all that pushes."""
        screws = self.plate["screws"]
        side, at = screws["leaf_face"], [self.local(place) for place in screws["at_mm"]]
        unknowns = self.basis.nodal_dofs[0, [self.node(place) for place in at]]
        ones = np.zeros(self.basis.N)
        ones[self.basis.nodal_dofs[0]] = 1.0
        stiffness = self.stiffness_of(self.sets[0])
        pulls = []
        for run in self.runs:
            exerted = stiffness @ self.solved[run, self.sets[0]][:, index] - self.forces[:, index]
            # Deflection to the front is out of the lower face. The leaf stands at `side`: what moves the door off it points away.
            pulls.append(np.maximum(-side * exerted[unknowns], 0.0))
        return max(pulls, key=max), float(side * (self.forces[:, index] @ ones))

    def stiffness_of(self, number):
        self.case = self.case_of(self.runs[0], number)
        self.d, self.nu = plate_judge.rigidity(self.case), self.case["poisson"]
        return self.equations()[0]

    def local(self, at):
        """A place of the panel, mm, on the plate, m."""
        return [1e-3 * (at[0] - self.corner[0]), 1e-3 * (at[1] - self.corner[1])]

    def case_of(self, run, number):
        """The plate as `plate_judge` knows one."""
        plate, low, high = self.plate, *self.panel["rectangle_mm"]
        size = [1e-3 * (high[0] - low[0]), 1e-3 * (high[1] - low[1])]
        thickness = 1e-3 * self.panel["thickness_mm"]
        openings = []
        for corners in plate["openings_mm"]:
            (x0, y0), (x1, y1) = (self.local(corner) for corner in corners)
            openings.append({"x": [x0, x1], "y": [y0, y1]})
        lines = [self.line_of(line, run, number) for line in plate["lines"]]
        rim = plate["rim"]
        points = []
        if plate["screws"]:
            screws = plate["screws"]
            points = [{"at": self.local(at), "k_n_m": None, "stops": 0.0} for at in screws["at_mm"]]
            of_run = screws["stops_mm"][min(1, len(RUNS[run]))]
            points += [{"at": self.local(at), "k_n_m": None, "stops": screws["leaf_face"]} for at in of_run]
            # So faint that it is not felt: until it is settled which stops hold, a door may turn about two screws.
            faint = 1e-5 * 1e6 * plate["modulus_mpa"][number] * thickness**3 / size[1] ** 2
            points += [{"at": [x, size[1]], "k_n_m": faint, "stops": 0.0} for x in (0.0, size[0])]
        for at, width in rim["braces_mm"] if rim else []:
            x = self.local([at, 0.0])[0]
            if 0.0 < x < size[0]:
                # Half of its length for either wall.
                k = 2.0 * 1e3 * rim["modulus_mpa"][number] * width * rim["thickness_mm"] / rim["brace_length_mm"]
                points.append({"at": [x, size[1]], "k_n_m": k, "stops": 0.0})
        # The mesh has lines along the strips that carry what presses on openings.
        strip = 2.0 * thickness
        strips = [[max(o["x"][0] - strip, 0.0), max(o["y"][0] - strip, 0.0)] for o in openings]
        # And through the stops of every run.
        stops = [self.local(at) for of_run in plate["screws"]["stops_mm"] for at in of_run] if plate["screws"] else []
        strips += [[min(o["x"][1] + strip, size[0]), o["y"][0]] for o in openings]
        return {
            "case": "panel",
            "size": size,
            "thickness_m": thickness,
            "modulus_pa": 1e6 * plate["modulus_mpa"][number],
            "poisson": plate["poisson"],
            "uniform_pa": 0.0,
            "water_n_m3": 0.0,
            "openings": openings,
            "lines": lines,
            "points": points,
            "found": [{"at": at} for at in strips + stops],
        }

    def line_of(self, line, run, number):
        axis = 0 if line["along_x"] else 1
        from_mm, across_mm = self.corner[axis], self.corner[1 - axis]
        told = {
            "along_x": line["along_x"],
            "at": 1e-3 * (line["at_mm"] - across_mm),
            "span": [1e-3 * (s - from_mm) for s in line["span_mm"]],
            "kind": "clamp" if line["is_seam"] and line["edge"] in RUNS[run] else "hinge",
            "stiffness": None,
        }
        rim = self.plate["rim"]
        if line["held"] == "rim" and rim:
            e, t, s = 1e6 * rim["modulus_mpa"][number], 1e-3 * rim["thickness_mm"], 1e-3 * rim["width_mm"]
            told |= {"kind": "beam", "stiffness": [e * t * s**3 / 12.0, 0.0]}
        return told

    def force(self, load):
        """Water to its level on either face; what would press on an opening goes to the strips beside and below it."""
        bottom = self.plate["foot_mm"] + self.corner[1]
        faces = [(self.weight, 1e-3 * (load["before_mm"] - bottom)), (-self.weight, 1e-3 * (load["behind_mm"] - bottom))]
        strips = [strip for weight, level in faces for o in self.case["openings"] for strip in self.strips(o, weight, level)]

        @LinearForm
        def presses(v, w):
            x, y = w.x
            pressure = sum(weight * np.maximum(level - y, 0.0) for weight, level in faces)
            for (x0, x1), (y0, y1), more in strips:
                pressure = pressure + more * ((x > x0) & (x < x1) & (y > y0) & (y < y1))
            return pressure * v

        return presses.assemble(self.basis)

    def strips(self, opening, weight, level):
        (x0, x1), (y0, y1) = opening["x"], opening["y"]
        wet = min(level, y1) - y0
        if wet <= 0.0:
            return []
        thrust = weight * (x1 - x0) * wet * (level - y0 - 0.5 * wet)
        strip, width = 2.0 * self.case["thickness_m"], self.case["size"][0]
        parts = [((max(x0 - strip, 0.0), x0), (y0, y1)), ((x1, min(x1 + strip, width)), (y0, y1)), ((x0, x1), (max(y0 - strip, 0.0), y0))]
        area = sum((x[1] - x[0]) * (y[1] - y[0]) for x, y in parts)
        return [(x, y, thrust / area) for x, y in parts]

    # What it finds.

    def bends(self, run, index):
        """What was solved, and deflection in mm by it: of hours as at first, else as after years."""
        if self.panel["loads"][index]["duration"] != "hours":
            return self.solved[run, 0], 1e3
        if 1 in self.sets:
            return self.solved[run, 1], 1e3
        years, first = self.plate["modulus_mpa"]
        return self.solved[run, 0], 1e3 * years / first

    def deepest(self, index):
        """The run that bends it most, and by how much, mm."""

        def most(run):
            u, scale = self.bends(run, index)
            return scale * float(abs(np.asarray(self.look.interpolate(u[:, index]))).max())

        run = max(self.runs, key=most)
        return run, most(run)

    def deflections(self, run, index, places):
        """At places in the panel's frame, mm; not a number where there is no sheet."""
        u, scale = self.bends(run, index)
        x = np.array([self.local(place) for place in places]).T
        inside = np.ones(x.shape[1], bool)
        for opening in self.case["openings"]:
            (x0, x1), (y0, y1) = opening["x"], opening["y"]
            # Its edges are left out, on which rounding decides.
            inside &= ~((x[0] > x0 - EDGE) & (x[0] < x1 + EDGE) & (x[1] > y0 - EDGE) & (x[1] < y1 + EDGE))
        x = np.clip(x, EDGE, np.array(self.case["size"])[:, None] - EDGE)
        w = np.full(len(places), np.nan)
        w[inside] = scale * (self.basis.probes(x[:, inside]) @ u[:, index])
        return w

    def second(self, u):
        """Moments, N: along x, along y, twisting, at the nodes and all over the triangles."""
        hess = np.asarray(self.look.interpolate(u).hess)
        _, _, _, *nodal = u[self.basis.nodal_dofs]
        xx, xy, yy = (np.concatenate((at_nodes, hess[i, j].ravel())) for at_nodes, i, j in zip(nodal, (0, 0, 1), (0, 1, 1)))
        return -self.d * (xx + self.nu * yy), -self.d * (yy + self.nu * xx), -self.d * (1.0 - self.nu) * xy

    def rigid(self, number):
        case = self.case_of("hinged", number)
        self.d, self.nu = plate_judge.rigidity(case), case["poisson"]

    def faces(self, moments):
        """Greatest tensile stress on the front and on the back, MPa."""
        m_x, m_y, m_xy = moments
        middle, radius = 0.5 * (m_x + m_y), np.hypot(0.5 * (m_x - m_y), m_xy)
        z = 6e-6 / self.case["thickness_m"] ** 2
        return z * np.maximum(middle + radius, 0.0), z * np.maximum(radius - middle, 0.0)

    def unbounded(self, run):
        """Places near which the stress of a thin plate has no bound, and how far that is told of by none, m."""
        case = self.case_of(run, 0)
        t, (width, height) = case["thickness_m"], case["size"]
        is_inside = lambda at, size: 1e-6 < at < size - 1e-6
        places = [(point["at"], t) for point in case["points"]]
        for opening in case["openings"]:
            corners = [(x, y) for x in opening["x"] for y in opening["y"] if is_inside(x, width) and is_inside(y, height)]
            longer = max(opening["x"][1] - opening["x"][0], opening["y"][1] - opening["y"][0])
            places += [(corner, max(t, 0.25 * longer if len(corners) == 4 else 0.0)) for corner in corners]
        for line in case["lines"]:
            along, across = (width, height) if line["along_x"] else (height, width)
            for s in line["span"]:
                is_stiff = line["kind"] == "clamp" or line["kind"] == "hinge" and is_inside(line["at"], across)
                end = (s, line["at"]) if line["along_x"] else (line["at"], s)
                if is_inside(s, along) or is_stiff and not self.is_held(case, line, end):
                    places.append((end, t))
        return places

    def is_held(self, case, line, end):
        for other in case["lines"]:
            s, at = end if other["along_x"] else end[::-1]
            reaches = other["span"][0] - 1e-6 < s < other["span"][1] + 1e-6
            if other["along_x"] != line["along_x"] and other["kind"] != "beam" and abs(at - other["at"]) < 1e-6 and reaches:
                return True
        return False

    def nearness(self, run):
        """Of each place, whether it counts at all, and whether it is well clear of places without a bound."""
        counts, clear = (np.ones(self.places.shape[1], bool) for _ in range(2))
        for place, radius in self.unbounded(run):
            distance = np.hypot(self.places[0] - place[0], self.places[1] - place[1])
            counts &= distance >= radius
            clear &= distance >= radius + (CLEAR - 1.0) * self.case["thickness_m"]
        return counts, clear

    def clearance(self, at):
        places = [place for run in self.runs for place, _ in self.unbounded(run)]
        return min((math.hypot(at[0] - x, at[1] - y) for x, y in places), default=math.inf)

    def stressed(self, index):
        """Greatest share of what is allowed, well clear of places without a bound, and nearer to one."""
        far, near = [0.0], [0.0]
        front, back = self.plate["allowable_mpa"]
        for (run, number), u in self.solved.items():
            self.rigid(number)
            stress = self.faces(self.second(u[:, index]))
            share = np.maximum(stress[0] / front, stress[1] / back)
            for (low, high), left in self.plate["pockets"]:
                reach = self.case["thickness_m"]
                (x0, y0), (x1, y1) = self.local(low), self.local(high)
                x, y = self.places
                is_in = (x >= x0 - reach) & (x <= x1 + reach) & (y >= y0 - reach) & (y <= y1 + reach)
                share = np.where(is_in, np.maximum(share, np.maximum(*stress) / (left * left) / back), share)
            counts, clear = self.nearness(run)
            far.append(share[clear].max())
            near.append(share[counts & ~clear].max(initial=0.0))
        return max(far), max(near)

    def stress_at(self, run, index, at, allowable):
        """Stress on the face of this allowable, MPa, of all sets of moduli the greatest."""
        most = []
        for number in self.sets if run in self.runs else []:
            self.rigid(number)
            found = self.faces(self.moments_at(self.solved[run, number][:, index], at))
            faces = [stress for stress, of_face in zip(found, self.plate["allowable_mpa"]) if math.isclose(of_face, allowable)]
            most.append(max(faces, default=math.nan))
        return float(max(most, default=math.nan))

    def moments_at(self, u, at):
        at = np.clip(at, EDGE, np.array(self.case["size"]) - EDGE)
        cell = int(self.mesh.element_finder()(np.array([at[0]]), np.array([at[1]]))[0])
        corner = self.mesh.p[:, self.mesh.t[:, cell]]
        reference = np.linalg.solve(np.column_stack((corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])), np.array(at) - corner[:, 0])
        here = Basis(self.mesh, self.element, elements=np.array([cell]), quadrature=(reference[:, None], np.ones(1)))
        hess = np.asarray(here.interpolate(u).hess)[:, :, 0, 0]
        return -self.d * (hess[0, 0] + self.nu * hess[1, 1]), -self.d * (hess[1, 1] + self.nu * hess[0, 0]), -self.d * (1.0 - self.nu) * hess[0, 1]

    def rim(self):
        """Greatest stress in the rim, MPa, and pull of a brace, N; `None` without one."""
        rim, stress, pulls = self.plate["rim"], 0.0, []
        t, s = 1e-3 * rim["thickness_mm"], 1e-3 * rim["width_mm"]
        for (run, number), u in self.solved.items():
            case = self.case_of(run, number)
            for line in (line for line in case["lines"] if line["kind"] == "beam"):
                moment = line["stiffness"][0] * u[self.basis.nodal_dofs[3, self.nodes_of(line)]]
                stress = max(stress, 6e-6 * abs(moment).max() / (t * s * s))
            pulls += [point["k_n_m"] * abs(u[self.basis.nodal_dofs[0, self.node(point["at"])]]).max() for point in case["points"]]
        return stress, max(pulls, default=None)

    def seams(self):
        """By joint, the greatest moment in N well clear of places without a bound, and nearer to one."""
        found = {}
        for (run, number), u in self.solved.items():
            self.rigid(number)
            case = self.case_of(run, number)
            moments = [self.second(u[:, index]) for index in range(u.shape[1])]
            counts, clear = self.nearness(run)
            for told, line in zip(self.plate["lines"], case["lines"]):
                if line["kind"] != "clamp" or told["joint"] is None:
                    continue
                s, across = self.places if line["along_x"] else self.places[::-1]
                on = np.isclose(across, line["at"]) & (s >= line["span"][0] - EDGE) & (s <= line["span"][1] + EDGE)
                moment = np.max([abs(m_y if line["along_x"] else m_x) for m_x, m_y, _ in moments], axis=0)
                far, near = (moment[on & which].max(initial=0.0) for which in (clear, counts & ~clear))
                before = found.get(told["joint"], (0.0, 0.0))
                found[told["joint"]] = (max(before[0], far), max(before[1], near))
        return found


# Damages for the self-test.


def change(name, change_panel):
    """Changes what is told of one panel and its plate; the other panels, which cost time, are taken out."""

    def damage(folder):
        path = folder / "checks" / "strength.json"
        told = json.loads(path.read_text(encoding="utf-8"))
        pair = next((pair for pair in zip(told["panels"], told["plates"]) if pair[0]["name"] == name), None)
        if pair is None:
            return False
        # A seam of which another panel may bear the more is not this panel's.
        clamped = lambda plates: {line["joint"] for plate in plates for line in plate["lines"] if line["is_seam"] and line["edge"] is not None}
        own = clamped([pair[1]]) - clamped(plate for plate in told["plates"] if plate is not pair[1])
        told["seams"] = [seam for seam in told["seams"] if seam["joint"] in own]
        told["panels"], told["plates"] = [pair[0]], [pair[1]]
        change_panel(told, *pair)
        path.write_text(json.dumps(told), encoding="utf-8")
        return True

    return damage


def scaled(of, key, factor):
    def change_panel(told, panel, plate):
        place = of(told, panel, plate)
        place[key] *= factor

    return change_panel


def grid(told, panel, plate):
    """One place of the grid, half of the way to the greatest deflection."""
    shape = panel["shape"]["mm"]
    most = max(abs(mm) for mm in shape if mm is not None)
    k = next(k for k, mm in enumerate(shape) if mm is not None and abs(mm) > 0.5 * most)
    shape[k] *= 1.06


def moduli(told, panel, plate):
    plate["modulus_mpa"] = [0.96 * e for e in plate["modulus_mpa"]]


def opening(told, panel, plate):
    (_, low), (_, high) = plate["openings_mm"][0]
    plate["openings_mm"][0][1][1] = low + 0.7 * (high - low)


def unclamped(told, panel, plate):
    for line in plate["lines"]:
        line["is_seam"] = line["is_seam"] and line["edge"] != 2


def shorter(told, panel, plate):
    inner = next(line for line in plate["lines"] if line["edge"] is None)
    inner["span_mm"][1] -= 60.0


def hardest(told, panel, plate):
    """The screw that carries most."""
    load = panel["screws"]["loads"][-1]
    k = load["pulls_n"].index(max(load["pulls_n"]))
    load["pulls_n"][k] *= 0.95


def nothing_stops(told, panel, plate):
    """But for one stop at either side of the upper end."""
    plate["screws"]["stops_mm"] = [of_run[1:2] + of_run[-1:] for of_run in plate["screws"]["stops_mm"]]


def moved_screw(told, panel, plate):
    plate["screws"]["at_mm"][0][1] += 12.0


def no_rim(told, panel, plate):
    plate["rim"]["width_mm"] *= 0.8


DAMAGES = {
    "a deflection 4 % too small": change("inlet end wall", scaled(lambda _, panel, __: panel["loads"][0], "deflection_mm", 0.96)),
    "a place of the grid that bends too much": change("inlet end wall", grid),
    "a stress 5 % too low": change("inlet end wall", scaled(lambda _, panel, __: panel["loads"][0], "stress_mpa", 0.95)),
    "a greatest stress 5 % too low": change("inlet end wall", scaled(lambda _, panel, __: panel["stress"], "value", 0.95)),
    "a rim 5 % less stressed": change("inlet end wall", scaled(lambda _, panel, __: panel["rim"], "stress_mpa", 0.95)),
    "a brace that is pulled by a fifth less": change("front wall", scaled(lambda _, panel, __: panel["rim"], "brace_n", 0.8)),
    "a seam with 5 % less moment": change("inlet end wall", scaled(lambda told, _, __: told["seams"][0], "moment_n", 0.95)),
    "water 3 % lighter": change("inlet end wall", scaled(lambda told, _, __: told["waters"], "density_kg_m3", 0.97)),
    "a level 4 mm too low": change("far end wall", lambda told, panel, plate: panel["loads"][2].update(before_mm=panel["loads"][2]["before_mm"] - 4.0)),
    "a panel 2 % thicker": change("far end wall", scaled(lambda _, panel, __: panel, "thickness_mm", 1.02)),
    "a material 4 % softer": change("far end wall", moduli),
    "Poisson's ratio 0.3": change("far end wall", lambda told, panel, plate: plate.update(poisson=0.3)),
    "a rim a fifth narrower": change("far end wall", no_rim),
    "an edge that is hinged alone": change("leaf weir", unclamped),
    "a divider that ends 60 mm lower": change("front wall", shorter),
    "an opening of seven tenths of its height": change("leaf gate", opening),
    "a screw that carries 5 % less": change("door of leaf gate, pushed off", hardest),
    "a leaf that stops less of a door": change("door of leaf gate, pushed off", nothing_stops),
    "a screw 12 mm higher": change("door of leaf gate, pushed off", moved_screw),
    "less that pries": change("door of leaf gate, pushed off", scaled(lambda _, panel, __: panel["screws"]["loads"][-1], "prying_n", 0.5)),
    "a plate of another panel": change("leaf weir", lambda told, panel, plate: plate.update(placed=plate["placed"] + 1)),
}

if __name__ == "__main__":
    judging.run(judge, plate_judge.SOURCE, DAMAGES)
