//! A board under its loads, as plates of the theory: one for each way that its seams can be held.

use bending::{
    Along, Bending, Hold, Line, Opening, Plate, Point, Pressure, Rect, Side, Support, bend,
};
use glam::DVec2;

use super::bearing::Bearing;
use super::board::Board;
use super::hung::Screwed;
use super::props::Prop;
use crate::panel::{Held, Run};

/// Standard gravity, m/s² (ISO 80000-3).
pub(crate) const G: f64 = 9.806_65;

/// Stiffness that keeps a door on two screws from turning idly, of `D / h²`: too little to be felt where anything else holds it.
const FAINT: f64 = 1e-4;

/// Everything that a run needs, in SI.
#[derive(Clone, Debug)]
pub(crate) struct Model {
    pub(crate) board: Board,
    pub(crate) props: Vec<Prop>,
    pub(crate) rim: Option<Rim>,
    /// Of a door that is pushed off its leaf, its screws.
    pub(crate) screwed: Option<Screwed>,
    pub(crate) poisson: f64,
    /// Height of y = 0 of the board's frame above the inside of the bottom, mm; `None` of one that lies.
    pub(crate) foot_mm: Option<f64>,
    pub(crate) density_kg_m3: f64,
    /// Of a sheet that lies, its own weight, Pa. What stands on it is not counted.
    pub(crate) own_weight_pa: f64,
}

/// The rim along the upper edge.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Rim {
    /// Width of the strip, m.
    pub(crate) width: f64,
    /// Its thickness, m.
    pub(crate) thickness: f64,
    /// Braces: place along the board's x, mm, and width, m.
    pub(crate) braces: Vec<(f64, f64)>,
    /// Length of a brace from wall to wall, m.
    pub(crate) brace_length: f64,
    /// Whether braces run to this wall.
    pub(crate) holds_braces: bool,
    /// Name of its sheet.
    pub(crate) sheet: String,
}

impl Rim {
    /// Bending stiffness of the strip about its strong axis, `E t s³ / 12`, N·m².
    fn stiffness(&self, modulus: f64) -> f64 {
        modulus * self.thickness * self.width * self.width * self.width / 12.0
    }

    /// Stress at its edge under a bending moment, Pa: `6 M / (t s²)`.
    pub(crate) fn stress(&self, moment: f64) -> f64 {
        6.0 * moment / (self.thickness * self.width * self.width)
    }

    /// A brace pulls two walls alike: each has half of its length, `E A / (L / 2)`, N/m.
    fn brace_stiffness(&self, modulus: f64, width: f64) -> f64 {
        2.0 * modulus * width * self.thickness / self.brace_length
    }
}

/// Moduli of panel and rim, Pa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Moduli {
    pub(crate) panel: f64,
    pub(crate) rim: f64,
}

/// What one run gave.
#[derive(Debug)]
pub(crate) struct Solved {
    pub(crate) run: Run,
    /// With a field for each bearing.
    pub(crate) bending: Bending,
}

impl Model {
    /// The ways in which its seams can be held that differ: the worst of each result is taken.
    pub(crate) fn runs(&self) -> Vec<Run> {
        let is_glued = |edges: [usize; 2]| {
            self.props.iter().any(|p| p.is_seam() && p.edge.is_some_and(|e| edges.contains(&e)))
        };
        let mut runs = vec![Run::Hinged];
        if is_glued([0, 1]) || self.screwed.is_some() {
            runs.push(Run::SidesClamped);
        }
        if is_glued([2, 3]) {
            runs.push(Run::EndsClamped);
        }
        runs
    }

    /// The plate of a run; `thickness` in m. Lines stand in the order of the props.
    pub(crate) fn plate(&self, run: Run, moduli: Moduli, thickness: f64) -> Plate {
        let size = self.board.size() * 1e-3;
        let mut plate = Plate::new(size.to_array(), thickness, moduli.panel, self.poisson);
        plate.openings = self.board.openings.iter().map(|o| self.opening(o)).collect();
        for prop in &self.props {
            let (run_axis, across) = if prop.along_x { (0, 1) } else { (1, 0) };
            let along = if prop.along_x { Along::X } else { Along::Y };
            let from = self.board.lo[run_axis];
            plate.lines.push(Line {
                along,
                at: (prop.at - self.board.lo[across]) * 1e-3,
                span: prop.span.map(|s| (s - from) * 1e-3),
                support: self.support(prop, run, moduli),
            });
        }
        if let Some(screwed) = &self.screwed {
            let place = |at: &DVec2| ((*at - self.board.lo) * 1e-3).to_array();
            let point = |hold: Hold| move |at: &DVec2| Point { at: place(at), hold };
            // Positive deflection is out of the lower face.
            let leaf = if screwed.face < 0.0 { Side::Front } else { Side::Back };
            plate.points.extend(screwed.at_mm.iter().map(point(Hold::Rigid)));
            plate.points.extend(screwed.stops(run).iter().map(point(Hold::Rest(leaf))));
            // While it is not settled which stops hold, and where water pushes it right at its screws, nothing else keeps it
            // from turning about two of them.
            let faint = Hold::Spring(FAINT * plate.rigidity() / (size.y * size.y));
            plate.points.extend([0.0, size.x].map(|x| Point { at: [x, size.y], hold: faint }));
        }
        if let Some(rim) = &self.rim {
            for &(x, width) in &rim.braces {
                let at = [(x - self.board.lo.x) * 1e-3, size.y];
                if at[0] > 0.0 && at[0] < size.x {
                    let hold = Hold::Spring(rim.brace_stiffness(moduli.rim, width));
                    plate.points.push(Point { at, hold });
                }
            }
        }
        plate
    }

    pub(crate) fn opening(&self, o: &super::board::Opening) -> Opening {
        let (lo, hi) = ((o.lo - self.board.lo) * 1e-3, (o.hi - self.board.lo) * 1e-3);
        Opening { rect: Rect { x: [lo.x, hi.x], y: [lo.y, hi.y] }, radius: o.radius_mm * 1e-3 }
    }

    fn support(&self, prop: &Prop, run: Run, moduli: Moduli) -> Support {
        let is_clamped = matches!(
            (run, prop.edge),
            (Run::SidesClamped, Some(0 | 1)) | (Run::EndsClamped, Some(2 | 3))
        );
        match prop.held {
            _ if is_clamped && prop.is_seam() => Support::Clamp,
            Held::Rim => match &self.rim {
                Some(rim) => Support::Beam { ei: rim.stiffness(moduli.rim), gj: 0.0 },
                None => Support::Hinge,
            },
            // Taken as held both ways: that its corners may lift changes deflection and moments by a few hundredths at most.
            _ => Support::Hinge,
        }
    }

    /// Pressures of a bearing; they point to the front, which is out of the board's lower face.
    pub(crate) fn pressures(&self, bearing: &Bearing) -> Vec<Pressure> {
        let weight = self.density_kg_m3 * G;
        let Some(foot_mm) = self.foot_mm else {
            let water = weight * bearing.before_mm * 1e-3;
            return vec![Pressure::uniform(water + self.own_weight_pa)];
        };
        let bottom = foot_mm + self.board.lo.y;
        let level = |mm: f64| (mm - bottom) * 1e-3;
        let mut all = Vec::new();
        for (weight, mm) in [(weight, bearing.before_mm), (-weight, bearing.behind_mm)] {
            if level(mm) > 0.0 {
                all.push(Pressure::water(weight, level(mm)));
                let of_openings = self.board.openings.iter();
                all.extend(of_openings.flat_map(|o| self.on_edges(o, weight, level(mm))));
            }
        }
        all
    }

    /// What presses on a closed opening goes to the strip around it: a door lies there, and the bars of a field of slots
    /// end there.
    fn on_edges(&self, o: &super::board::Opening, weight: f64, level: f64) -> Vec<Pressure> {
        let Rect { x, y } = self.opening(o).rect;
        let wet = level.min(y[1]) - y[0];
        if wet <= 0.0 {
            return Vec::new();
        }
        let thrust = weight * (x[1] - x[0]) * wet * (level - y[0] - 0.5 * wet);
        let strip = 2.0 * self.board.least_mm * 1e-3;
        let size = self.board.size() * 1e-3;
        let around = [
            Rect { x: [(x[0] - strip).max(0.0), x[0]], y },
            Rect { x: [x[1], (x[1] + strip).min(size.x)], y },
            Rect { x, y: [(y[0] - strip).max(0.0), y[0]] },
        ];
        let area = |r: &Rect| (r.x[1] - r.x[0]).max(0.0) * (r.y[1] - r.y[0]).max(0.0);
        let parts: Vec<Rect> = around.into_iter().filter(|r| area(r) > 1e-8).collect();
        let total: f64 = parts.iter().map(area).sum();
        let pressure = if total > 0.0 { thrust / total } else { 0.0 };
        parts.into_iter().map(|r| Pressure::uniform(pressure).within(r)).collect()
    }

    /// Solves a run under all bearings.
    pub(crate) fn solve(
        &self,
        run: Run,
        moduli: Moduli,
        thickness: f64,
        bearings: &[Bearing],
    ) -> Result<Solved, bending::Error> {
        let plate = self.plate(run, moduli, thickness);
        let cases: Vec<Vec<Pressure>> = bearings.iter().map(|b| self.pressures(b)).collect();
        Ok(Solved { run, bending: bend(&plate, &cases)? })
    }

    /// A place of the plate, m, in the board's frame, mm.
    pub(crate) fn place(&self, at: [f64; 2]) -> DVec2 {
        self.board.lo + DVec2::from_array(at) * 1e3
    }
}
