//! The knob that clamps a door: a star grip with a nut pressed into it.

use std::f64::consts::{PI, TAU};

use glam::{DVec2, dvec3};
use plate::{Arc, Contour, Cut, Face, Plate, Segment, Shape};

use crate::error::{Error, check_clearance};
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::mate::{Form, Mate};
use crate::nut::ScrewSize;
use crate::printer::Printer;
use crate::stand::Stand;

/// A knob with a captive hexagon nut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Knob {
    /// The screw it turns on.
    pub screw: ScrewSize,
    /// Clearance between printed faces and what slides on them, each side. The bore has it whole;
    /// the nut half of it, but for six ribs that it is pressed in between.
    pub clearance_mm: f64,
}

/// The kind.
pub(crate) const DOOR_KNOB: Kind = Kind {
    name: "door-knob",
    what_for: "a star grip with a nut pressed into it, that clamps a door or a lid",
    is_jig: false,
    stand: Stand::nowhere("knobs are put on the screws of a door by the leaf's `door`"),
    in_pieces: None,
    advice: "screw and nut of plastic: metal, stainless steel too, rusts in salt water. Tighten by hand: plastic creeps, so look after a day whether it still clamps",
    measures: &[Measure::screw("the screw whose nut it holds")],
    make: of_kind,
};

fn of_kind(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let screw = ScrewSize::of(m.get("screw"));
    star_grip(&Knob { screw, clearance_mm: printer.clearance_mm }, printer)
}

/// The knob, printed on the face that will press on the door, in whole layers and lines of this printer, the bore so much wider as
/// it comes out narrower, the edges on the bed drawn in.
///
/// Its frame: that face at `z = 0`, the bore along z through the origin, the nut's trap open at the
/// top. The screw pulls the nut against the trap's floor, so nothing pulls layers apart.
pub fn knob(knob: &Knob, printer: &Printer) -> Result<Fitting, Error> {
    star_grip(knob, printer)?.with_foot(printer)
}

/// As [`knob`], its edges as they are.
fn star_grip(knob: &Knob, printer: &Printer) -> Result<Fitting, Error> {
    check_clearance(knob.clearance_mm)?;
    let knob = &Knob { clearance_mm: knob.clearance_mm.min(MOST_PLAY_MM), ..*knob };
    let bore_mm = printer.hole_mm(knob.screw.diameter_mm()) + 2.0 * knob.clearance_mm;
    let trap_mm = printer.height_mm(knob.screw.nut_height_mm() + RECESS_MM);
    let across_flats = knob.screw.nut_across_flats_mm() + knob.clearance_mm;
    let corner = across_flats / 3.0_f64.sqrt();
    let trap = ribbed_hexagon(corner, knob.screw, printer);
    let bore = Contour::circle(DVec2::ZERO, 0.5 * bore_mm);
    let outline = star(corner + printer.wall_mm(WALL_MM));
    let mut plate = Plate::new(outline, printer.height_mm(FLOOR_MM) + trap_mm);
    plate.cuts = vec![Cut::pocket(trap, Face::Top, trap_mm), Cut::through(bore)];
    let floor_mm = plate.thickness - trap_mm;
    let fitting = Fitting::new(Shape::Sheet(plate), "clamping face down, nut trap up", printer)?;
    Ok(fitting.mating(mates(knob, floor_mm, floor_mm + trap_mm, printer)))
}

/// The nut between its ribs, and the screw in the floor.
fn mates(knob: &Knob, floor_mm: f64, top_mm: f64, printer: &Printer) -> Vec<Mate> {
    let nut_mm = [knob.screw.least_nut_across_flats_mm(), knob.screw.nut_across_flats_mm()];
    let nut = Mate {
        with: "nut",
        size_mm: nut_mm[1],
        band_mm: nut_mm,
        form: Form::Slot { along: DVec2::X, mouth_mm: None },
        at: dvec3(0.0, 0.0, 0.5 * (floor_mm + top_mm)),
        heights_mm: [floor_mm, top_mm],
        play_mm: nut_mm[0] - NUT_PRESS_MM - nut_mm[1],
        loss_mm: 0.0,
    };
    let screw_mm = knob.screw.diameter_mm();
    let screw = Mate {
        with: "screw",
        size_mm: screw_mm,
        band_mm: [screw_mm; 2],
        form: Form::Bore,
        at: dvec3(0.0, 0.0, 0.5 * floor_mm),
        heights_mm: [0.0, floor_mm],
        play_mm: 2.0 * knob.clearance_mm,
        loss_mm: printer.hole_loss_mm,
    };
    vec![nut, screw]
}

/// Thickness under the nut; common practice, at least 2 mm.
const FLOOR_MM: f64 = 3.0;
/// Wall between the nut's corners and the grip's valleys; common practice.
const WALL_MM: f64 = 2.5;
/// The trap is deeper than the nut, which then stays below the face.
const RECESS_MM: f64 = 0.5;
/// How far lobes stand out over valleys.
const LOBE_HEIGHT_MM: f64 = 2.6;
/// Rounding of a lobe.
const LOBE_RADIUS_MM: f64 = 2.5;
/// Lobes of the grip, and corners of the nut.
const SIX: u8 = 6;

/// The unit vector at a number of twelfths of a turn.
fn twelfth(k: u8) -> DVec2 {
    DVec2::from_angle(PI / 6.0 * f64::from(k))
}

/// The trap: a hexagon with a rib in the middle of each flat. The least nut of the standard is pressed in between opposite
/// ribs, which give way to larger ones and are crushed.
fn ribbed_hexagon(corner_radius: f64, screw: ScrewSize, printer: &Printer) -> Contour {
    let flat = corner_radius * 0.5 * 3.0_f64.sqrt();
    let between = 0.5 * (screw.least_nut_across_flats_mm() - NUT_PRESS_MM);
    let crest = 0.5 * printer.least_wall_mm();
    let foot = crest + flat - between;
    let corners = (0..SIX).flat_map(|k| {
        let (out, along) = (twelfth(2 * k + 1), twelfth(2 * k + 1).perp());
        let rib = [(flat, -foot), (between, -crest), (between, crest), (flat, foot)];
        let rib = rib.map(|(away, beside)| away * out + beside * along);
        std::iter::once(corner_radius * twelfth(2 * k)).chain(rib)
    });
    Contour::polygon(&corners.collect::<Vec<_>>())
}

/// Larger clearances are taken as this, mm: with more the bore would reach the ribs. Our judgement.
const MOST_PLAY_MM: f64 = 0.5;

/// How much closer than the least nut opposite ribs stand, mm: what a thumb or a screw presses it in by; our judgement.
pub(crate) const NUT_PRESS_MM: f64 = 0.1;

/// A closed curve of six round lobes and six round valleys, tangent to each other. Its valleys
/// are `valley` from the middle, its lobes [`LOBE_HEIGHT_MM`] more.
///
/// With the lobe's centre at L from the middle, the valley's at v + b, and the half pitch φ = 30°,
/// tangent arcs need `(a + b)² = L² + (v + b)² − 2 L (v + b) cos φ`, which is linear in b.
fn star(valley: f64) -> Contour {
    let (a, v) = (LOBE_RADIUS_MM, valley);
    let lobe = v + LOBE_HEIGHT_MM - a;
    let cos = libm::cos(PI / 6.0);
    let b = (lobe * lobe + v * v - 2.0 * lobe * v * cos - a * a) / (2.0 * (a - v + lobe * cos));
    let lobe_centre = |k: u8| lobe * twelfth(2 * k);
    let valley_centre = |k: u8| (v + b) * twelfth(2 * k + 1);
    // Where lobe `k` meets the valley after it, and the valley `k` the lobe after it.
    let leaves = |k: u8| lobe_centre(k).lerp(valley_centre(k), a / (a + b));
    let enters = |k: u8| lobe_centre(k + 1).lerp(valley_centre(k), a / (a + b));
    let mut pieces = Vec::new();
    for k in 0..SIX {
        let (from, to) = (enters((k + SIX - 1) % SIX), leaves(k));
        pieces.push(arc(lobe_centre(k), from, to));
        pieces.push(arc(valley_centre(k), enters(k), to).reversed());
    }
    // The points are computed from either side: their last digits must agree.
    let n = pieces.len();
    for i in 0..n {
        pieces[i].end = pieces[(i + 1) % n].start;
    }
    Contour(pieces)
}

/// The arc about `centre`, counter-clockwise; a lobe may be more than half a circle.
fn arc(centre: DVec2, start: DVec2, end: DVec2) -> Segment {
    let (p, q) = (start - centre, end - centre);
    let sweep = libm::atan2(p.perp_dot(q), p.dot(q)).rem_euclid(TAU);
    Segment { start, end, arc: Some(Arc { centre, sweep }) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::FLAT;
    use plate::{FlatPattern, Tolerance, arrange, flat_pattern};

    fn pattern(screw: ScrewSize, clearance_mm: f64) -> (Fitting, FlatPattern) {
        let fitting = knob(&Knob { screw, clearance_mm }, &FLAT).expect("a knob");
        let Shape::Sheet(plate) = &fitting.shape else { panic!("a knob is flat") };
        let arrangement = arrange(plate, &Tolerance::default()).expect("an arrangement");
        let pattern = flat_pattern(plate, &arrangement);
        (fitting, pattern)
    }

    #[test]
    fn the_nut_fits_and_stands_on_a_floor() {
        for screw in ScrewSize::ALL {
            let (fitting, pattern) = pattern(screw, 0.25);
            let trap = &pattern.pockets[0];
            assert_eq!(trap.face, Face::Top);
            assert!(trap.depth_mm > screw.nut_height_mm(), "the nut is flush");
            assert!(fitting.print.height_mm - trap.depth_mm >= 2.0, "floor under the nut");
            // The largest nut finds its room beside the ribs, the least one is held between them.
            let far = |s: &Segment| 2.0 * s.start.length();
            let corners = trap.loops[0].0.iter().map(far).fold(0.0, f64::max);
            let largest = (screw.nut_across_flats_mm() + 0.25) * 2.0 / 3.0_f64.sqrt();
            assert!((corners - largest).abs() < 1e-9);
            let ribs = trap.loops[0].0.iter().map(|s| 2.0 * s.midpoint().length());
            let pressed = ribs.fold(f64::INFINITY, f64::min);
            assert!((screw.least_nut_across_flats_mm() - pressed - 0.1).abs() < 1e-9);
            let (centre, radius) = trap.loops[1].as_circle().expect("a round bore");
            assert!(centre.length() < 1e-9);
            assert!((2.0 * radius - (FLAT.hole_mm(screw.diameter_mm()) + 0.5)).abs() < 1e-9);
            // The nut cannot be pulled through the bore.
            assert!(2.0 * radius < screw.nut_across_flats_mm() - 1.0);
        }
    }

    #[test]
    fn the_grip_is_smooth_and_has_six_lobes() {
        for valley in [6.0, 7.0, 8.5] {
            let star = star(valley);
            assert_eq!(star.0.len(), 12);
            for (a, b) in star.0.iter().zip(star.0.iter().cycle().skip(1)) {
                let leaving = |s: &Segment, p: DVec2| {
                    let arc = s.arc.expect("round");
                    ((p - arc.centre).perp() * arc.sweep.signum()).normalize()
                };
                assert!(leaving(a, a.end).distance(leaving(b, b.start)) < 1e-9, "tangent");
            }
            let far = star.0.iter().map(|s| s.midpoint().length());
            let (lo, hi) = (far.clone().fold(f64::MAX, f64::min), far.fold(0.0, f64::max));
            assert!((lo - valley).abs() < 1e-9 && (hi - valley - LOBE_HEIGHT_MM).abs() < 1e-9);
        }
    }

    #[test]
    fn walls_around_the_nut_are_thick_enough() {
        for screw in ScrewSize::ALL {
            let Shape::Sheet(plate) =
                knob(&Knob { screw, clearance_mm: 1.0 }, &FLAT).expect("a knob").shape
            else {
                panic!("a knob is flat")
            };
            let valley = plate.outline.0.iter().map(|s| s.midpoint().length());
            let corner = plate.cuts[0].contour.0.iter().map(|s| s.start.length());
            let wall = valley.fold(f64::INFINITY, f64::min) - corner.fold(0.0, f64::max);
            assert!(wall >= WALL_MM - 1e-9, "{wall}");
        }
    }

    #[test]
    fn clearances_out_of_range_are_refused() {
        for clearance_mm in [-0.1, 1.5, f64::NAN] {
            assert!(matches!(
                knob(&Knob { screw: ScrewSize::M5, clearance_mm }, &FLAT),
                Err(Error::Clearance { .. })
            ));
        }
    }

    #[test]
    fn as_a_kind_the_screw_turns_and_the_nut_does_not() {
        use crate::testing::{holes, is_close, volume_mm3};
        for (value, screw) in [(4.0, ScrewSize::M4), (5.0, ScrewSize::M5), (6.0, ScrewSize::M6)] {
            let made = DOOR_KNOB.made([("screw", value)], &FLAT).expect("a knob");
            let Shape::Sheet(plate) = &made.shape else { panic!("a knob is flat") };
            let (_, bore) = holes(&made)[0].as_circle().expect("a round bore");
            is_close(2.0 * bore - FLAT.hole_loss_mm, value + 2.0 * FLAT.clearance_mm);
            let flats = screw.nut_across_flats_mm() + FLAT.clearance_mm;
            let trap = &plate.cuts[0];
            assert!(trap.depth >= screw.nut_height_mm() + RECESS_MM - 1e-9);
            // Star less hexagon and bore: a hexagon has √3/2 s², s across its flats; a rib of slope 1 on a crest of 0.8.
            let rib = 0.5 * (flats - screw.nut_across_flats_mm() + 0.32);
            let hexagon = 0.5 * 3.0_f64.sqrt() * flats * flats - 6.0 * rib * (0.8 + rib);
            let floor = made.print.height_mm - trap.depth;
            let area = plate.outline.signed_area();
            let volume = (area - hexagon) * trap.depth + (area - PI * bore * bore) * floor;
            is_close(volume_mm3(&made), volume);
        }
    }
}
