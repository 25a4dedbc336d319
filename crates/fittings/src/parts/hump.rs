//! What keeps a collar in its opening: a low hump on each of two opposite sides, a little wider than the opening.

use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Segment};

use crate::error::Error;
use crate::kind::Measures;
use crate::printer::Printer;

/// How far a hump presses on each side where the opening came out as wide as it may, mm; our judgement.
const LEAST_PRESS_MM: f64 = 0.1;
/// The collar's upper end, which goes in first, has no humps over this height, and half of them as far again, mm: pressed in over an
/// edge they would be shaved off. Our judgement.
const LEAD_MM: f64 = 1.0;

/// How a collar sits in an opening that may be off its size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Fit {
    /// How much wider or narrower the opening may be, both sides together.
    pub(crate) cut_mm: f64,
    /// Play beside the collar, each side.
    pub(crate) clearance_mm: f64,
}

impl Fit {
    pub(crate) fn new(m: &Measures, printer: &Printer) -> Self {
        Self { cut_mm: m.get("cut"), clearance_mm: printer.clearance_mm }
    }

    /// How far a hump stands out over the edge of an opening of the size told: it presses in the widest one too.
    pub(crate) fn press_mm(&self) -> f64 {
        LEAST_PRESS_MM + 0.5 * self.cut_mm
    }

    /// How much smaller than the opening the collar is, each side: it goes into the narrowest one.
    pub(crate) fn play_mm(&self) -> f64 {
        self.clearance_mm + 0.5 * self.cut_mm
    }

    /// How far a hump stands out over its collar.
    pub(super) fn hump_mm(&self) -> f64 {
        self.press_mm() + self.play_mm()
    }

    /// How far the collar's wall is bent in the narrowest opening.
    fn bent_mm(&self) -> f64 {
        LEAST_PRESS_MM + self.cut_mm
    }

    /// The thickest wall of whole lines, up to the one wanted, that the filament can stay bent for years, given the strain
    /// by thickness and way.
    ///
    /// # Errors
    /// [`Error::Strain`] if two lines are too much.
    pub(super) fn wall_mm(
        &self,
        wanted_mm: f64,
        measure: &'static str,
        printer: &Printer,
        strain: impl Fn(f64, f64) -> f64,
    ) -> Result<f64, Error> {
        let most = printer.filament.strain_for_years();
        let mut wall = printer.wall_mm(wanted_mm);
        while strain(wall, self.bent_mm()) > most {
            wall -= printer.nozzle_mm;
            if wall < printer.least_wall_mm() - 1e-9 {
                return Err(Error::Strain {
                    what: "collar, pressed into the narrowest opening,",
                    measure: Some(measure),
                    percent: 100.0 * strain(printer.least_wall_mm(), self.bent_mm()),
                    filament: printer.filament.name(),
                    most_percent: 100.0 * most,
                    how_long: "for years",
                    remedy: "cut more truly (`cut`), take a larger opening, or print it with a finer nozzle",
                });
            }
        }
        Ok(wall)
    }

    /// Cuts around the collar: over its whole height beside the humps, and at its upper end ever closer. `half` is the
    /// contour around the upper half of a collar whose hump stands out so far.
    pub(super) fn around(
        &self,
        high_mm: f64,
        printer: &Printer,
        half: impl Fn(f64) -> Vec<Segment>,
    ) -> Vec<Cut> {
        let lead = 0.5 * Self::lead_mm(high_mm, printer);
        let steps = [(1.0, high_mm), (0.5, 2.0 * lead), (0.1, lead)];
        let cuts =
            steps.into_iter().filter(|(_, depth)| *depth > 0.0).flat_map(|(share, depth)| {
                let above = half(share * self.hump_mm());
                let cut = |half| Cut::pocket(Contour(half), Face::Top, depth);
                [cut(half_turned(&above)), cut(above)]
            });
        cuts.collect()
    }

    /// Height over which the humps stand out less at the upper end of a collar that is so high: two steps of whole layers.
    pub(crate) fn lead_mm(high_mm: f64, printer: &Printer) -> f64 {
        let step = printer.height_mm(LEAD_MM).min(0.25 * high_mm);
        2.0 * printer.layer_mm * (step / printer.layer_mm + 1e-9).floor()
    }
}

/// Half the length of a hump along the collar, mm: so long that it is a bend of the collar's wall, and no edge that a
/// printer rounds off.
pub(super) const HALF_MM: f64 = 4.0;

/// A bow about the y axis from `(-HALF_MM, y)` to `(HALF_MM, y)` over a top that is `high_mm` above `top_y`, the height
/// of the wall in the middle; runs clockwise.
///
/// With the ends at ±w, y and the top at T = `top_y` + h, the circle's middle is at c = (T² − y² − w²) / (2 (T − y)).
pub(super) fn hump(y: f64, top_y: f64, high_mm: f64) -> Segment {
    let (w, top) = (HALF_MM, top_y + high_mm);
    let c = (top * top - y * y - w * w) / (2.0 * (top - y));
    let start = dvec2(-w, y);
    let mut bow = Segment::arc(dvec2(0.0, c), start, -2.0 * libm::atan2(w, y - c));
    bow.end = dvec2(w, y);
    bow
}

/// Turned by half a turn about the origin.
pub(super) fn half_turned(pieces: &[Segment]) -> Vec<Segment> {
    let turned = |p: DVec2| -p;
    let piece = |s: &Segment| Segment {
        start: turned(s.start),
        end: turned(s.end),
        arc: s.arc.map(|arc| plate::Arc { centre: turned(arc.centre), ..arc }),
    };
    pieces.iter().map(piece).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn its_top_is_as_high_as_is_asked_over_a_straight_and_a_round_wall() {
        for (y, top_y) in [(20.0, 20.0), (609.0_f64.sqrt(), 25.0)] {
            let bow = hump(y, top_y, 0.45);
            let middle = bow.midpoint();
            assert!(middle.x.abs() < 1e-9 && (middle.y - top_y - 0.45).abs() < 1e-9);
            assert!(bow.radius().is_some_and(|r| r > 9.0), "it is no edge");
        }
    }
}
