//! A strainer for a round hole.

use std::f64::consts::PI;

use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, Segment};

use super::hump::{Fit, HALF_MM, hump};
use super::strainer::{
    ADVICE, BEYOND_MM, FLANGE_MM, NARROW_MM, OVERLAP_MM, SLOT, WALL_MM, bar_mm, places, rows, told,
};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Flange, Follows, Stand};

/// The kind.
pub(crate) const ROUND_STRAINER: Kind = Kind {
    name: "round-strainer",
    what_for: "is pressed into a round hole and keeps animals and leaves out",
    is_jig: false,
    stand: Stand::pressed(Flange::Upstream),
    in_pieces: None,
    advice: ADVICE,
    measures: &[
        Measure::sheet(),
        Measure::mm("hole", "diameter of the hole", [25.0, 50.0, 120.0], PRACTICE)
            .follows(Follows::RoundHole),
        Measure::cut(),
        SLOT,
    ],
    make: round_strainer,
};

/// Slots whose sides lie within this share of the circle's radius end on it.
const ROUND_END_SHARE: f64 = std::f64::consts::FRAC_1_SQRT_2;
/// Shorter slots beside the longer ones are left out, mm.
const SHORTEST_MM: f64 = 4.0;

/// A round flange with slots, and a collar on it that stands in the hole; printed flange down.
///
/// Two humps opposite each other press it oval: a ring with two loads W gives way by δ = 0.0744 W R³ / (E I) at each, with
/// the moment 0.318 W R (Roark's Formulas for Stress and Strain, table of circular rings), so it is strained by
/// 2.14 t δ / R². At the flange, which holds the ring round, the hump itself is squeezed.
fn round_strainer(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let hole = 0.5 * m.get("hole");
    let fit = Fit::new(m, printer);
    let collar = hole - fit.play_mm();
    let strain = |wall: f64, bent: f64| {
        let radius = collar - 0.5 * wall;
        2.14 * wall * bent / (radius * radius)
    };
    let inside = collar - fit.wall_mm(WALL_MM, "hole", printer, strain)?;
    let (flange, high) = (printer.height_mm(FLANGE_MM), printer.height_mm(m.get("sheet")));
    let outline = Contour::circle(DVec2::ZERO, hole + OVERLAP_MM);
    let mut plate = Plate::new(outline, flange + high);
    let around = |hump: f64| half_ring(collar, hump, hole + OVERLAP_MM + BEYOND_MM);
    plate.cuts.extend(fit.around(high, printer, around));
    let well = Contour::circle(DVec2::ZERO, inside);
    plate.cuts.push(Cut::pocket(well, Face::Top, high));
    let (slot, bar) = (m.get("slot"), bar_mm(m.get("slot"), printer));
    let reach = inside - 0.5 * bar;
    for x in places(2.0 * reach, slot, bar) {
        for row in rows(2.0 * reach, bar) {
            let between = [x - 0.5 * slot, x + 0.5 * slot];
            plate.cuts.extend(slot_within(reach, between, row).map(Cut::through));
        }
    }
    told(plate, PI * hole * hole, printer)
}

/// A slot between two upright lines and two heights, as far as it lies in a circle about 0; its ends are those of the row or
/// follow the circle. None if little would be left.
fn slot_within(radius: f64, [left, right]: [f64; 2], [low, high]: [f64; 2]) -> Option<Contour> {
    let half = |x: f64| (radius * radius - x * x).max(0.0).sqrt();
    let (at_left, at_right) = (half(left), half(right));
    let short = at_left.min(at_right);
    let (bottom, top) = (low.max(-short), high.min(short));
    if top - bottom < SHORTEST_MM {
        return None;
    }
    // The highest place of the arc between the lines.
    let crest = if left * right < 0.0 { radius } else { at_left.max(at_right) };
    let arc = |start: DVec2, end: DVec2| {
        let sweep = libm::atan2(start.perp_dot(end), start.dot(end));
        Segment { end, ..Segment::arc(DVec2::ZERO, start, sweep) }
    };
    // Where the arc meets the lines at less than 45°, or the slot is narrow, its ends are straight.
    let is_blunt =
        left.abs().max(right.abs()) < ROUND_END_SHARE * radius && right - left > NARROW_MM;
    let (is_round_below, is_round_above) = (is_blunt && low <= -crest, is_blunt && high >= crest);
    let ends = |is_round: bool, y: f64| {
        let sign = y.signum();
        match is_round {
            true => [dvec2(left, sign * at_left), dvec2(right, sign * at_right)],
            false => [dvec2(left, y), dvec2(right, y)],
        }
    };
    let join = |is_round: bool, a: DVec2, b: DVec2| {
        if is_round { arc(a, b) } else { Segment::line(a, b) }
    };
    let ([a, b], [d, c]) = (ends(is_round_below, bottom), ends(is_round_above, top));
    Some(Contour(vec![
        join(is_round_below, a, b),
        Segment::line(b, c),
        join(is_round_above, c, d),
        Segment::line(d, a),
    ]))
}

/// What is cut away above the x axis between a collar with a hump and the outside; counter-clockwise.
fn half_ring(collar: f64, hump_mm: f64, outer: f64) -> Vec<Segment> {
    let (i, o) = (dvec2(collar, 0.0), dvec2(outer, 0.0));
    let y = (collar * collar - HALF_MM * HALF_MM).sqrt();
    let bow = hump(y, collar, hump_mm);
    let beside = libm::atan2(y, HALF_MM);
    let arc = |start: DVec2, end: DVec2, sweep: f64| {
        let mut arc = Segment::arc(DVec2::ZERO, start, sweep);
        arc.end = end;
        arc
    };
    vec![
        Segment::line(i, o),
        arc(o, -o, PI),
        Segment::line(-o, -i),
        arc(-i, bow.start, -beside),
        bow,
        arc(bow.end, i, -beside),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, holes, is_close, volume_mm3};
    use plate::Shape;

    #[test]
    fn volume_is_flange_and_collar_less_the_slots() {
        let made = ROUND_STRAINER.made([], &FLAT).expect("a strainer");
        // Collar 24.65 and 23.05; slots lie within 22.25 of the middle: eight are long enough, 2.3 + 4.6 k from it, divided by a
        // bar of 1.6 in the middle.
        let under = |x: f64| 0.5 * (x * (R * R - x * x).sqrt() + R * R * (x / R).asin());
        const R: f64 = 22.25;
        let slot = |k: f64| {
            let middle = 2.3 + 4.6 * k;
            // The outermost ends straight.
            let ends = if k > 2.5 {
                3.0 * (R * R - (middle + 1.5) * (middle + 1.5)).sqrt()
            } else {
                under(middle + 1.5) - under(middle - 1.5)
            };
            ends - 0.8 * 3.0
        };
        let slots: f64 = (0..4).map(|k| 4.0 * slot(f64::from(k))).sum();
        assert_eq!(holes(&made).len(), 16);
        let flange = (PI * 31.0 * 31.0 - slots) * 2.4;
        // A hump: the bow of its circle through (±4, y) and its top less that of the collar; 0.55 high, of a tenth in the last
        // millimetre, of half in that below it.
        let y = (24.65_f64 * 24.65 - 16.0).sqrt();
        let bow = |r: f64| r * r * ((4.0 / r).asin() - (4.0 / r) * (1.0 - 16.0 / (r * r)).sqrt());
        let hump = |stands_out: f64| {
            let high = 24.65 + stands_out - y;
            2.0 * (bow((16.0 + high * high) / (2.0 * high)) - bow(24.65))
        };
        let humps = 6.0 * hump(0.55) + hump(0.275) + hump(0.055);
        let collar = PI * (24.65 * 24.65 - 23.05 * 23.05) * 8.0 + humps;
        is_close(volume_mm3(&made), flange + collar);
    }

    #[test]
    fn slots_are_as_wide_as_asked_and_lie_inside_the_collar() {
        for width in [1.0, 3.0, 5.0] {
            let made = ROUND_STRAINER.made([("slot", width)], &FLAT).expect("a strainer");
            assert!(!holes(&made).is_empty());
            for slot in holes(&made) {
                let [lo, hi] = slot.bounds().expect("a slot");
                is_close(hi.x - lo.x, width);
                let mut places = slot.0.iter().flat_map(|s| [s.start, s.midpoint()]);
                assert!(places.all(|p| p.length() < 23.05));
            }
        }
    }

    #[test]
    fn its_humps_press_on_the_hole_and_its_ring_stands_it_by_any_nozzle() {
        for nozzle_mm in [0.25, 0.4, 0.6, 0.8] {
            for clearance_mm in [0.1, 0.4] {
                let printer = Printer { nozzle_mm, clearance_mm, ..FLAT };
                let made = ROUND_STRAINER.made([("hole", 25.0)], &printer).expect("a strainer");
                let Shape::Sheet(plate) = &made.shape else { panic!("it is flat") };
                let tops = plate.cuts[..2].iter().map(|cut| cut.contour.0[4].midpoint());
                for (top, y) in tops.zip([-12.7, 12.7]) {
                    assert!(top.x.abs() < 1e-9 && (top.y - y).abs() < 1e-9, "{top}");
                }
                let (_, inside) = plate.cuts[6].contour.as_circle().expect("the well");
                let wall = 12.5 - 0.1 - clearance_mm - inside;
                let radius = inside + 0.5 * wall;
                let strain = 2.14 * wall * 0.3 / (radius * radius);
                assert!(strain <= printer.filament.strain_for_years(), "{strain}");
            }
        }
    }
}
