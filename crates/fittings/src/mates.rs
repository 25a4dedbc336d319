//! The mates of every kind: what it promises of the sizes that meet other things.
//!
//! Room is reckoned here from measures and printer alone, apart from the code that draws the bodies; only the places are
//! looked up in the finished shape.

use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, Shape, Turned};

use crate::kind::Measures;
use crate::mate::{Form, Mate};
use crate::nut::ScrewSize;
use crate::parts::Fit;
use crate::printer::Printer;

/// What a fitting of a kind with these measures promises of the sizes that meet other things. Empty for kinds that only lie or
/// are glued on something.
pub(crate) fn of(kind: &str, m: &Measures, printer: &Printer, shape: &Shape) -> Vec<Mate> {
    let mates = Mates { m, printer };
    let mut all = match shape {
        Shape::Sheet(plate) => mates.of_plate(kind, plate),
        Shape::Turned(turned) => mates.of_turned(kind, turned),
    };
    // What is pressed into an opening goes into the narrowest and holds in the widest that is cut so.
    if ["strainer", "round-strainer", "drain-hole-cap"].contains(&kind) {
        let cut_mm = Fit::new(m, printer).cut_mm;
        for mate in &mut all {
            mate.band_mm = [mate.size_mm - cut_mm, mate.size_mm + cut_mm];
        }
    }
    all
}

/// How far from the ground of a slot its width is told: legs lean from there on, and corners are round.
pub(crate) const OFF_GROUND_MM: f64 = 0.01;
/// Beside a place where the width changes fast, mm.
const HAIR_MM: f64 = 1e-3;

/// How far beside their middle the humps of a strainer end, mm.
const BESIDE_HUMP_MM: f64 = 5.5;

struct Mates<'a> {
    m: &'a Measures,
    printer: &'a Printer,
}

impl Mates<'_> {
    fn of_plate(&self, kind: &str, plate: &Plate) -> Vec<Mate> {
        let m = self.m;
        let all = [0.0, plate.thickness];
        match kind {
            "pipe-clip" => {
                let play = 2.0 * self.clearance();
                let (pipe, half) = (m.get("pipe"), 0.5 * m.get("mouth").to_radians());
                let chord = (pipe + play) * libm::sin(half) - pipe;
                let tips = 0.5 * (pipe + play) * libm::cos(half) - HAIR_MM;
                let form = Form::Slot { along: DVec2::Y, mouth_mm: Some(chord) };
                vec![
                    self.mate("pipe", Form::Bore, DVec2::ZERO, all, play),
                    self.mate("pipe", form, dvec2(0.0, tips), all, chord),
                ]
            }
            "probe-holder" => self.cap("probe", plate),
            "nozzle-bracket" => self.cap("pipe", plate),
            "float-switch-holder" => self.clamp(plate),
            "egg-crate-ledge" if m.is("lip") => {
                let corners: Vec<DVec2> = plate.outline.0.iter().map(|s| s.start).collect();
                let (Some(&a), Some(&b)) = (corners.get(5), corners.get(6)) else { return vec![] };
                let form = Form::Slot { along: DVec2::Y, mouth_mm: None };
                let at = 0.5 * (a + b) + dvec2(0.0, OFF_GROUND_MM);
                vec![self.mate("depth", form, at, all, self.clearance())]
            }
            // Humps in the middle of the upper and the lower wall are pressed; beside them the collar has its room.
            "strainer" | "round-strainer" => {
                let Some(heights) = from_above(plate).map(|cut| heights(plate, cut)) else {
                    return vec![];
                };
                let side = |with, across, at, play| {
                    self.mate(with, Form::Peg { across }, at, heights, play)
                };
                let fit = Fit::new(m, self.printer);
                let (play, press) = (2.0 * fit.play_mm(), -2.0 * fit.press_mm());
                // Above, the humps stand out less.
                let [low, high] = heights;
                let below_lead = [low, high - Fit::lead_mm(high - low, self.printer)];
                let hump = |with| {
                    self.mate(with, Form::Peg { across: DVec2::Y }, DVec2::ZERO, below_lead, press)
                };
                if kind == "round-strainer" {
                    return vec![side("hole", DVec2::X, DVec2::ZERO, play), hump("hole")];
                }
                vec![
                    side("width", DVec2::X, DVec2::ZERO, play),
                    side("height", DVec2::Y, dvec2(BESIDE_HUMP_MM, 0.0), play),
                    hump("height"),
                ]
            }
            "corner-block" => vec![self.mate("sheet", Form::Corner, DVec2::ZERO, all, 0.0)],
            // It is as wide as the channel that it keeps: larger than the leaf by what the channel has more.
            "slot-spacer" => {
                let at = dvec2(0.0, 0.5 * m.get("depth"));
                let form = Form::Peg { across: DVec2::X };
                vec![self.mate("sheet", form, at, all, -m.get("clearance"))]
            }
            "drilling-guide" => {
                let under = [0.0, from_above(plate).map_or(all, |cut| heights(plate, cut))[0]];
                let hole = through(plate).filter_map(Contour::as_circle);
                let mate = |(at, _)| Mate { play_mm: 0.0, ..self.bore("hole", at, under) };
                hole.map(mate).collect()
            }
            "thickness-gauge" => {
                let steps = |k: f64, n: f64| (k - 0.5 * (n - 1.0)) * m.get("step");
                self.comb(plate, |k, n| (m.get("sheet") + steps(k, n), 2.0 * self.clearance()))
            }
            "clearance-coupon" => {
                let clearance = |k: f64| m.get("least") + k * m.get("step");
                self.comb(plate, |k, _| (m.get("sheet"), 2.0 * clearance(k)))
            }
            "hole-coupon" => {
                let holes = through(plate).filter_map(Contour::as_circle).zip(0_u32..);
                let mate = |((at, _), k)| {
                    self.mate("pin", Form::Bore, at, all, f64::from(k) * m.get("step"))
                };
                holes.map(mate).collect()
            }
            "ring-coupon" => {
                let clearance = |k: u32| m.get("least") + f64::from(k) * m.get("step");
                let holes = through(plate).filter_map(Contour::as_circle).zip(0_u32..);
                let mate = |((at, _), k)| Mate {
                    play_mm: 2.0 * clearance(k),
                    ..self.bore("peg", at, all)
                };
                holes.map(mate).collect()
            }
            "kerf-gauge" => self.steps(plate),
            _ => vec![],
        }
    }

    fn of_turned(&self, kind: &str, turned: &Turned) -> Vec<Mate> {
        let m = self.m;
        let (_, [_, top]) = turned.extent();
        let flange = top_of_flange(turned).unwrap_or(0.0);
        let peg = |heights, play| self.mate("hole", Form::RoundPeg, DVec2::ZERO, heights, play);
        match kind {
            "reducer" => {
                // Below, the edge is chamfered.
                let plate = [0.5 * flange, flange];
                let bore = self.mate("bore", Form::Bore, DVec2::ZERO, plate, 0.0);
                vec![peg([flange, flange + m.get("sheet")], 2.0 * self.clearance()), bore]
            }
            // A cone: pressed at its root, loose at its tip.
            "drain-hole-cap" => {
                let (hair, fit) = (OFF_GROUND_MM, Fit::new(m, self.printer));
                vec![
                    peg([flange, flange + hair], -2.0 * fit.press_mm()),
                    peg([top - hair, top], 2.0 * fit.play_mm()),
                ]
            }
            "skimmer-foot" if m.is("nose") => {
                let height = self.printer.nearest_height_mm(m.get("height"));
                let mate = self.mate(
                    "height",
                    Form::Stack,
                    DVec2::ZERO,
                    [0.0, top],
                    2.0 * self.clearance(),
                );
                vec![mate.sized(height)]
            }
            _ => vec![],
        }
    }

    fn clearance(&self) -> f64 {
        self.printer.clearance_mm
    }

    fn mate(
        &self,
        with: &'static str,
        form: Form,
        at: DVec2,
        heights: [f64; 2],
        play: f64,
    ) -> Mate {
        let at = at.extend(0.5 * (heights[0] + heights[1]));
        Mate {
            with,
            size_mm: self.m.get(with),
            band_mm: [self.m.get(with); 2],
            form,
            at,
            heights_mm: heights,
            play_mm: play,
            loss_mm: 0.0,
        }
    }

    /// An upright hole with the clearance on both sides.
    fn bore(&self, with: &'static str, at: DVec2, heights: [f64; 2]) -> Mate {
        let mate = self.mate(with, Form::Bore, at, heights, 2.0 * self.clearance());
        Mate { loss_mm: self.printer.hole_loss_mm, ..mate }
    }

    /// A hook over an edge: the sheet stands between `x = 0` and the gap, its edge at `y = 0`, its faces running down.
    fn hook(&self, heights: [f64; 2], mouth_mm: f64) -> Mate {
        let play = 2.0 * self.clearance();
        let at = dvec2(0.5 * (self.m.get("sheet") + play), -OFF_GROUND_MM);
        let form = Form::Slot { along: -DVec2::Y, mouth_mm: Some(mouth_mm) };
        self.mate("sheet", form, at, heights, play)
    }

    /// A clamp over an edge, with the pocket of its nut, and a slot for a thread.
    fn clamp(&self, plate: &Plate) -> Vec<Mate> {
        let all = [0.0, plate.thickness];
        let middle = |contour: &Contour| contour.bounds().map(|[lo, hi]| 0.5 * (lo + hi));
        let closed = |along| Form::Slot { along, mouth_mm: None };
        let fin = [0.0, self.printer.height_mm(self.m.get("fin"))];
        let slots = through(plate).filter(|c| c.as_circle().is_none()).filter_map(middle);
        let slots = slots.map(|at| Mate {
            loss_mm: self.printer.hole_loss_mm,
            ..self.mate("thread", closed(DVec2::Y), at, fin, 2.0 * self.clearance())
        });
        // The pocket is the last but one that is sunk from above; the last is the way of the screw.
        let is_sunk = |cut: &&Cut| cut.face == Face::Top && cut.depth < plate.thickness;
        let pocket = plate.cuts.iter().filter(is_sunk).nth_back(1);
        let nut = pocket.and_then(|cut| Some((cut, middle(&cut.contour)?))).map(|(cut, at)| {
            let all = heights(plate, cut);
            self.mate("screw", closed(DVec2::X), at, all, self.clearance()).sized(self.flats())
        });
        let hook = self.hook(all, 2.0 * self.clearance());
        std::iter::once(hook).chain(slots).chain(nut).collect()
    }

    /// Width across flats of the nut.
    fn flats(&self) -> f64 {
        let is_it = |screw: &ScrewSize| (screw.diameter_mm() - self.m.get("screw")).abs() < 0.5;
        ScrewSize::ALL.into_iter().find(is_it).map_or(0.0, ScrewSize::nut_across_flats_mm)
    }

    /// The groove on a rim, over its whole length, and holes beside it.
    fn cap(&self, held: &'static str, plate: &Plate) -> Vec<Mate> {
        let Some((cut, [lo, hi])) = from_above(plate).and_then(|c| Some((c, c.contour.bounds()?)))
        else {
            return vec![];
        };
        let play = 2.0 * self.clearance();
        let at = dvec2(lo.x.max(0.0) + OFF_GROUND_MM, 0.5 * (lo.y + hi.y));
        let form = Form::Slot { along: DVec2::X, mouth_mm: Some(play) };
        let groove = self.mate("sheet", form, at, heights(plate, cut), play);
        let circles = through(plate).filter_map(Contour::as_circle);
        let holes = circles.map(|(at, _)| self.bore(held, at, [0.0, plate.thickness]));
        std::iter::once(groove).chain(holes).collect()
    }

    /// Slots open upwards, from left to right: how large the other is in the one of this number of so many, and its play.
    fn comb(&self, plate: &Plate, of: impl Fn(f64, f64) -> (f64, f64)) -> Vec<Mate> {
        // Their grounds: level pieces that run to the left, above the lower edge and below the upper one.
        let Some([lo, hi]) = plate.outline.bounds() else { return vec![] };
        let is_ground = |y: f64| lo.y + 1e-6 < y && y < hi.y - 1e-6;
        let level = plate.outline.0.iter().filter(|s| (s.start.y - s.end.y).abs() < 1e-9);
        let mut grounds: Vec<DVec2> =
            level.map(plate::Segment::midpoint).filter(|p| is_ground(p.y)).collect();
        grounds.sort_by(|a, b| a.x.total_cmp(&b.x));
        let count = f64::from(u32::try_from(grounds.len()).unwrap_or(0));
        let mate = |(ground, k): (DVec2, u32)| {
            let (size_mm, play) = of(f64::from(k), count);
            let form = Form::Slot { along: DVec2::Y, mouth_mm: Some(play) };
            let at = ground + dvec2(0.0, OFF_GROUND_MM);
            self.mate("sheet", form, at, [0.0, plate.thickness], play).sized(size_mm)
        };
        grounds.into_iter().zip(0..).map(mate).collect()
    }

    /// The stepped gap of a kerf gauge, from its mouth inwards: the upright pieces of its right side.
    fn steps(&self, plate: &Plate) -> Vec<Mate> {
        let (piece, least, step) = (self.m.get("piece"), self.m.get("least"), self.m.get("step"));
        let Some([_, hi]) = plate.outline.bounds() else { return vec![] };
        let is_inside = |x: f64| 1e-6 < x && x < hi.x - 1e-6;
        let upright = plate.outline.0.iter().filter(|s| (s.start.x - s.end.x).abs() < 1e-9);
        let sides = upright.map(plate::Segment::midpoint).filter(|p| is_inside(p.x)).zip(0_u32..);
        let mate = |(side, k): (DVec2, u32)| {
            let form = Form::Slot { along: DVec2::Y, mouth_mm: None };
            let at = dvec2(0.5 * side.x, side.y);
            let size_mm = piece - (least + f64::from(k) * step);
            let all = [0.0, plate.thickness];
            self.mate("piece", form, at, all, 2.0 * self.clearance()).sized(size_mm)
        };
        sides.map(mate).collect()
    }
}

/// The first cut from above that does not go through.
fn from_above(plate: &Plate) -> Option<&Cut> {
    plate.cuts.iter().find(|cut| cut.face == Face::Top && cut.depth < plate.thickness)
}

/// Between which heights a cut from above takes material away.
fn heights(plate: &Plate, cut: &Cut) -> [f64; 2] {
    [plate.thickness - cut.depth, plate.thickness]
}

fn through(plate: &Plate) -> impl Iterator<Item = &Contour> {
    plate.cuts.iter().filter(|cut| cut.depth >= plate.thickness).map(|cut| &cut.contour)
}

/// Height of the lowest level face that looks up.
fn top_of_flange(turned: &Turned) -> Option<f64> {
    let level = turned.sides().filter(|[p, q]| (p.y - q.y).abs() < 1e-9 && q.x < p.x);
    level.map(|[p, _]| p.y).min_by(f64::total_cmp)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{KINDS, Kind};

    /// Kinds that only lie or are glued on something, or are measured by the other's own size alone.
    const WITHOUT: &[&str] = &["lid-handle", "egg-crate-ledge", "skimmer-foot"];

    #[test]
    fn every_kind_but_those_that_lie_on_something_tells_its_mates() {
        let printer = Printer::default();
        for kind in KINDS {
            let fitting = kind.made([], &printer).expect(kind.name);
            let mates = &fitting.print.mates;
            assert_eq!(mates.is_empty(), WITHOUT.contains(&kind.name), "{}", kind.name);
            for mate in mates {
                let [low, high] = mate.heights_mm;
                assert!(low < high && mate.size_mm > 0.0, "{}: {mate:?}", kind.name);
                assert!(high <= fitting.print.height_mm + 1e-9, "{}: {mate:?}", kind.name);
            }
        }
    }

    #[test]
    fn rows_have_as_many_mates_as_they_have_slots_or_holes() {
        let printer = Printer::default();
        let rows = [
            ("thickness-gauge", "slots", 5.0),
            ("clearance-coupon", "slots", 4.0),
            ("hole-coupon", "holes", 6.0),
            ("ring-coupon", "holes", 4.0),
            ("kerf-gauge", "steps", 4.0),
            ("probe-holder", "count", 3.0),
        ];
        for (name, measure, count) in rows {
            let kind = Kind::named(name).expect(name);
            let mates = kind.made([(measure, count)], &printer).expect(name).print.mates;
            let groove = if name == "probe-holder" { 1.0 } else { 0.0 };
            let told = f64::from(u32::try_from(mates.len()).expect("few"));
            assert!((told - count - groove).abs() < 1e-9, "{name}: {mates:?}");
        }
    }
}
