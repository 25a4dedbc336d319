//! Water on the floor under the sump, as it is drawn.

use glam::{DVec3, dvec2};

use crate::model::Model;

/// Without a cabinet the floor that is drawn wet reaches so far beyond the sump, mm; our judgement.
const AROUND_MM: f64 = 150.0;
/// A sheet of water is drawn at least so thick, or it could not be seen, mm.
const LEAST_MM: f64 = 2.0;

/// A sheet of water around the foot of the sump.
#[derive(Clone, Debug, PartialEq)]
pub struct Spill {
    /// Least and greatest corner of the strips that it consists of, mm.
    pub strips: Vec<[DVec3; 2]>,
    /// The floor that it covers: what is inside of the cabinet and not under the sump, m².
    pub area_m2: f64,
    /// How deep it would stand there, mm.
    pub depth_mm: f64,
    /// Whether the cabinet gives the area; else it is only drawn so.
    pub is_in_cabinet: bool,
}

impl Spill {
    /// So many litres; `None` when that is next to nothing. Nothing is known of gaps under panels and doors, through
    /// which it runs on: the depth is the most that it can be.
    pub fn of(model: &Model, litres: f64) -> Option<Self> {
        if litres < 0.05 {
            return None;
        }
        let outside = model.show.outside_mm;
        let cabinet = model.scene.cabinet.as_ref().map(|cabinet| cabinet.inside);
        let around = DVec3::new(AROUND_MM, AROUND_MM, 0.0);
        let [lo, hi] = cabinet.unwrap_or([-around, outside + around]);
        let (foot_lo, foot_hi) = (DVec3::ZERO.max(lo), outside.min(hi));
        let area = |[lo, hi]: [DVec3; 2]| {
            let size = (hi - lo).truncate().max(dvec2(0.0, 0.0));
            size.x * size.y
        };
        let free_mm2 = area([lo, hi]) - area([foot_lo, foot_hi]);
        if free_mm2 <= 0.0 {
            return None;
        }
        let depth_mm = litres * 1e6 / free_mm2;
        let z = [lo.z.min(0.0), lo.z.min(0.0) + depth_mm.max(LEAST_MM)];
        let strip =
            |x: [f64; 2], y: [f64; 2]| [DVec3::new(x[0], y[0], z[0]), DVec3::new(x[1], y[1], z[1])];
        let across = [foot_lo.y, foot_hi.y];
        let strips = [
            strip([lo.x, hi.x], [lo.y, foot_lo.y]),
            strip([lo.x, hi.x], [foot_hi.y, hi.y]),
            strip([lo.x, foot_lo.x], across),
            strip([foot_hi.x, hi.x], across),
        ];
        let is_wet = |[lo, hi]: &[DVec3; 2]| lo.cmplt(*hi).all();
        Some(Self {
            strips: strips.into_iter().filter(is_wet).collect(),
            area_m2: free_mm2 * 1e-6,
            depth_mm,
            is_in_cabinet: cabinet.is_some(),
        })
    }
}
