//! A strainer for a rectangular opening.

use std::f64::consts::PI;

use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, Segment, Shape};

use super::hump::{Fit, hump};
use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Flange, Follows, Stand};

/// The kind.
pub(crate) const STRAINER: Kind = Kind {
    name: "strainer",
    what_for: "is pressed into a rectangular opening and keeps animals and leaves out",
    is_jig: false,
    stand: Stand::pressed(Flange::Upstream),
    in_pieces: None,
    advice: ADVICE,
    measures: &[
        Measure::sheet(),
        Measure::mm("width", "width of the opening", [28.0, 60.0, 120.0], PRACTICE)
            .follows(Follows::OpeningWidth),
        Measure::mm(
            "height",
            "height of the opening, along the slots",
            [28.0, 40.0, 120.0],
            PRACTICE,
        )
        .follows(Follows::OpeningHeight),
        Measure::mm(
            "corner",
            "radius of the opening's corners: the router's or more, or 0 for a laser",
            [0.0, 3.0, 12.0],
            "common practice: a router of 6 mm",
        )
        .follows(Follows::OpeningCorner),
        Measure::cut(),
        SLOT,
    ],
    make: strainer,
};

/// What to know of strainers.
pub(crate) const ADVICE: &str = "the flange goes on the side that the water comes from, so that the flow presses it on; put it into that chamber. The two humps on its collar grip the opening's edge: press it in with both thumbs; file them if the opening came out tight, and add two drops of silicone if wide. Its notes tell how much of the opening the slots leave when clean, often about half, and growth takes more: check the level with it, never put it on the only emergency way, clean it weekly. Slots of 1 to 2 mm keep fry and shrimp out, 3 mm most snails and fish; all common practice";

/// The slots.
pub(crate) const SLOT: Measure = Measure::mm(
    "slot",
    "width of the slots: less than the smallest animal to be kept",
    [1.0, 3.0, 8.0],
    "common practice: 3 mm",
);

/// How far the flange reaches over the opening's edge, mm; common practice.
pub(crate) const OVERLAP_MM: f64 = 6.0;
/// Thickness of flange and bars, mm; common practice.
pub(crate) const FLANGE_MM: f64 = 2.4;
/// Thickness of the collar in the opening and of bars, mm; common practice.
pub(crate) const WALL_MM: f64 = 1.6;
/// Between slots up to this width bars are of two lines: thicker ones would leave too little free. Our judgement.
pub(crate) const NARROW_MM: f64 = 2.0;
/// Bars longer than so many times their thickness are held by one across; our judgement: 1.6 mm are still stiff over 40 mm.
const LONGEST_BARS: f64 = 25.0;
/// With less free than this a strainer is more wall than strainer, %; our judgement.
const LEAST_FREE_PERCENT: f64 = 40.0;
/// How far cuts reach beyond the edges that they run out over.
pub(crate) const BEYOND_MM: f64 = 1.0;

/// A flange with slots, and a collar on it that stands in the opening; printed flange down.
///
/// The collar has the corners of the opening. The walls above and below have a hump in the middle, which they give way to by bending
/// inwards: a beam fixed at both ends, bent by δ in the middle, is strained by 12 t δ / L² (Roark's Formulas for Stress
/// and Strain, table of beams). At the flange, which holds the wall, the hump itself is squeezed.
fn strainer(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let opening = 0.5 * dvec2(m.get("width"), m.get("height"));
    let fit = Fit::new(m, printer);
    let collar = opening - fit.play_mm();
    let strain = |wall: f64, bent: f64| {
        let long = 2.0 * (collar.x - wall);
        12.0 * wall * bent / (long * long)
    };
    let wall = fit.wall_mm(WALL_MM, "width", printer, strain)?;
    let inside = collar - wall;
    let outline = opening + OVERLAP_MM;
    // A corner drawn in by the play on both sides has so much less radius; less than a hair is none.
    let rounded = |radius: f64| if radius > LEAST_ROUND_MM { radius } else { 0.0 };
    let corner = rounded(m.get("corner") - fit.play_mm());
    let well_corner = rounded(corner - wall);
    // Around a sharp corner within the wall is nowhere thinner if it is rounded by no more than its thickness.
    let corner = if well_corner > 0.0 { corner } else { corner.min(wall) };
    let (flange, high) = (printer.height_mm(FLANGE_MM), printer.height_mm(m.get("sheet")));
    let base = Contour::rounded_rectangle(-outline, outline, OVERLAP_MM);
    let mut plate = Plate::new(base, flange + high);
    let around = |hump: f64| half_around(collar, corner, hump, outline + BEYOND_MM);
    plate.cuts.extend(fit.around(high, printer, around));
    let well = match well_corner > 0.0 {
        true => Contour::rounded_rectangle(-inside, inside, well_corner),
        false => Contour::rectangle(-inside, inside),
    };
    plate.cuts.push(Cut::pocket(well, Face::Top, high));
    let (slot, bar) = (m.get("slot"), bar_mm(m.get("slot"), printer));
    // Half a bar from the walls and from the corners' arcs.
    let from_arc = well_corner - (well_corner - 0.5 * bar) * std::f64::consts::FRAC_1_SQRT_2;
    let margin = inside - from_arc.max(0.5 * bar);
    for x in places(2.0 * margin.x, slot, bar) {
        for [low, high] in rows(2.0 * margin.y, bar) {
            let (lo, hi) = (dvec2(x - 0.5 * slot, low), dvec2(x + 0.5 * slot, high));
            plate.cuts.push(Cut::through(Contour::rectangle(lo, hi)));
        }
    }
    let corner = m.get("corner");
    let opening_mm2 = m.get("width") * m.get("height") - (4.0 - PI) * corner * corner;
    told(plate, opening_mm2, printer)
}

/// The strainer, lying flange down, with the share of the opening that its slots leave free told in its notes.
pub(crate) fn told(plate: Plate, opening_mm2: f64, printer: &Printer) -> Result<Fitting, Error> {
    let percent = 100.0 * (slots_mm2(&plate) / opening_mm2);
    let mut words =
        format!("flange down, collar up; its slots leave {percent:.0} % of the opening");
    if percent < LEAST_FREE_PERCENT {
        words += &format!(
            ", less than {LEAST_FREE_PERCENT} %: take a wider `slot`, or a larger opening"
        );
    }
    Fitting::new(Shape::Sheet(plate), &words, printer)
}

/// Area of what goes through.
fn slots_mm2(plate: &Plate) -> f64 {
    let through = plate.cuts.iter().filter(|cut| cut.depth >= plate.thickness);
    through.map(|cut| cut.contour.signed_area()).sum()
}

/// The share of its opening that a strainer leaves to the water, 0 to 1: the area of its slots over that of the opening, clean.
/// `None` for fittings that are no strainer.
///
/// # Errors
/// As [`Kind::made`].
pub fn free_share<'a>(
    kind: &Kind,
    given: impl IntoIterator<Item = (&'a str, f64)>,
    printer: &Printer,
) -> Result<Option<f64>, Error> {
    let m = Measures::of(kind, given)?;
    let opening_mm2 = match kind.name {
        "strainer" => {
            let corner = m.get("corner");
            m.get("width") * m.get("height") - (4.0 - PI) * corner * corner
        }
        "round-strainer" => 0.25 * PI * m.get("hole") * m.get("hole"),
        _ => return Ok(None),
    };
    // As drawn, without the step at the bed: that is one layer deep and makes the slots no narrower above.
    let Shape::Sheet(plate) = (kind.make)(&m, printer)?.shape else { return Ok(None) };
    Ok(Some(slots_mm2(&plate) / opening_mm2))
}

/// Roundings of less are none, mm.
const LEAST_ROUND_MM: f64 = 0.1;

/// What is cut away above the x axis around a collar with rounded corners and a hump; counter-clockwise.
fn half_around(collar: DVec2, corner: f64, hump_mm: f64, far: DVec2) -> Vec<Segment> {
    let (x, y, r) = (collar.x, collar.y, corner);
    let bow = hump(y, y, hump_mm);
    let mut pieces = vec![
        Segment::line(dvec2(x, 0.0), dvec2(far.x, 0.0)),
        Segment::line(dvec2(far.x, 0.0), far),
        Segment::line(far, dvec2(-far.x, far.y)),
        Segment::line(dvec2(-far.x, far.y), dvec2(-far.x, 0.0)),
        Segment::line(dvec2(-far.x, 0.0), dvec2(-x, 0.0)),
        Segment::line(dvec2(-x, 0.0), dvec2(-x, y - r)),
    ];
    let quarter = -std::f64::consts::FRAC_PI_2;
    let arc = |centre: DVec2, start: DVec2, end: DVec2| {
        let mut arc = Segment::arc(centre, start, quarter);
        arc.end = end;
        arc
    };
    if r > 0.0 {
        pieces.push(arc(dvec2(r - x, y - r), dvec2(-x, y - r), dvec2(r - x, y)));
    }
    pieces.push(Segment::line(dvec2(r - x, y), bow.start));
    pieces.push(bow);
    pieces.push(Segment::line(bow.end, dvec2(x - r, y)));
    if r > 0.0 {
        pieces.push(arc(dvec2(x - r, y - r), dvec2(x - r, y), dvec2(x, y - r)));
    }
    pieces.push(Segment::line(dvec2(x, y - r), dvec2(x, 0.0)));
    pieces
}

/// Thickness of the bars between slots of this width.
pub(crate) fn bar_mm(slot_mm: f64, printer: &Printer) -> f64 {
    if slot_mm > NARROW_MM { printer.wall_mm(WALL_MM) } else { printer.least_wall_mm() }
}

/// Lower and upper ends of slots over a room about 0, divided by bars across where they would be too long.
pub(crate) fn rows(room_mm: f64, bar_mm: f64) -> Vec<[f64; 2]> {
    let rows = (room_mm / (LONGEST_BARS * bar_mm)).ceil().max(1.0);
    let long = (room_mm - (rows - 1.0) * bar_mm) / rows;
    let ends = |y: f64| [y - 0.5 * long, y + 0.5 * long];
    places(room_mm, long, bar_mm).into_iter().map(ends).collect()
}

/// Middles of as many gaps as have room beside each other with bars between them, about 0.
pub(crate) fn places(room_mm: f64, gap_mm: f64, bar_mm: f64) -> Vec<f64> {
    let pitch = gap_mm + bar_mm;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "at most an opening over a slot: small; negative becomes none"
    )]
    let count = ((room_mm + bar_mm) / pitch + 1e-9).floor() as u32;
    let first = -0.5 * pitch * (f64::from(count) - 1.0);
    (0..count).map(|k| first + pitch * f64::from(k)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, holes, is_close, volume_mm3};

    /// The room of a hump: a bow of 8 mm and so high.
    fn bow_mm2(high: f64) -> f64 {
        let r = (16.0 + high * high) / (2.0 * high);
        let half = (4.0 / r).asin();
        r * r * (half - half.sin() * half.cos())
    }

    #[test]
    fn volume_is_flange_and_collar_less_the_slots() {
        let made = STRAINER.made([("corner", 0.0)], &FLAT).expect("a strainer");
        // The collar 0.35 smaller: 59.3 by 39.3, inside it 56.1 by 36.1; bars of 1.6: slots of 34.5 in one row,
        // (54.5 + 1.6) / 4.6 = 12.2 of them.
        let flange = (72.0 * 52.0 - (4.0 - PI) * 36.0 - 12.0 * 3.0 * 34.5) * 2.4;
        // Humps of 0.55; of a tenth in the last millimetre, of half in that below it.
        let humps = 2.0 * (6.0 * bow_mm2(0.55) + bow_mm2(0.275) + bow_mm2(0.055));
        let collar = (59.3 * 39.3 - 56.1 * 36.1) * 8.0 + humps;
        is_close(volume_mm3(&made), flange + collar);
        // A router's corners of 3 mm: 2.65 outside and 1.05 inside.
        let made = STRAINER.made([], &FLAT).expect("a strainer");
        let from_arc = 1.05 - 0.25 * 0.5_f64.sqrt();
        let slot = 2.0 * (18.05 - from_arc);
        let flange = (72.0 * 52.0 - (4.0 - PI) * 36.0 - 12.0 * 3.0 * slot) * 2.4;
        let corners = (4.0 - PI) * (2.65 * 2.65 - 1.05 * 1.05);
        is_close(volume_mm3(&made), flange + collar - corners * 8.0);
    }

    /// In the corner the opening's arc is a clearance away from the collar's, whatever the router.
    #[test]
    fn the_collar_clears_the_openings_corners() {
        for corner in [0.0, 0.3, 1.0, 3.0, 7.0, 12.0] {
            let made = STRAINER.made([("corner", corner)], &FLAT).expect("a strainer");
            let Shape::Sheet(plate) = &made.shape else { panic!("it is flat") };
            let far = 0.5 * dvec2(60.0, 40.0) - corner;
            let in_corner =
                plate.cuts[1].contour.0.iter().filter(|s| s.start.x < 31.0 && s.end.x < 31.0);
            let points = in_corner
                .flat_map(|s| [s.start, s.midpoint(), s.end])
                .filter(|p| p.cmpgt(far).all());
            for point in points {
                // From the opening's arc, or, where that is sharper, from its two sides.
                let from_arc = corner - (point - far).length();
                let from_sides = (0.5 * dvec2(60.0, 40.0) - point).min_element();
                let room = if point.cmpgt(far).all() { from_arc } else { from_sides };
                assert!(room > 0.0 && from_sides > FLAT.clearance_mm - 1e-9, "{corner}: {room}");
            }
        }
    }

    #[test]
    fn its_humps_press_on_the_widest_opening_and_its_walls_stand_the_narrowest_by_any_nozzle() {
        for nozzle_mm in [0.25, 0.4, 0.6, 0.8, 1.2] {
            for (clearance_mm, cut) in [(0.1, 0.0), (0.4, 0.2), (0.25, 0.5)] {
                let printer = Printer { nozzle_mm, clearance_mm, ..FLAT };
                let given = [("width", 50.0), ("height", 28.0), ("cut", cut)];
                let made = STRAINER.made(given, &printer).expect("a strainer");
                let Shape::Sheet(plate) = &made.shape else { panic!("it is flat") };
                let top = plate.cuts[1].contour.0.iter().filter(|s| s.arc.is_some());
                let top = top.map(|s| s.midpoint()).filter(|p| p.x.abs() < 1e-6).map(|p| p.y);
                let top = top.fold(0.0, f64::max);
                is_close(top, 0.5 * (28.0 + cut) + 0.1);
                // A wall between the corners, bent in its middle; as thick as the well leaves it.
                let [lo, hi] = plate.cuts[6].contour.bounds().expect("the well");
                let wall = 0.5 * (28.0 - cut) - clearance_mm - hi.y;
                let strain = 12.0 * wall * (cut + 0.1) / (hi.x - lo.x).powi(2);
                assert!(strain <= printer.filament.strain_for_years(), "{strain}");
                assert!((wall / nozzle_mm - (wall / nozzle_mm).round()).abs() < 1e-6);
            }
        }
        // What two lines do not stand is refused by name, whatever the filament.
        let stiff = Printer { nozzle_mm: 1.2, filament: crate::Filament::Pla, ..FLAT };
        let refusal = STRAINER.made([("width", 28.0), ("cut", 0.5)], &stiff).expect_err("stiff");
        assert_eq!(refusal.measure(), Some("width"), "{refusal}");
    }

    #[test]
    fn openings_and_corners_beyond_its_limits_are_refused_by_name() {
        for (name, value, words) in [
            ("corner", 12.5, "`corner` is 12.5 mm; it goes from 0 to 12 mm"),
            ("width", 27.0, "`width` is 27 mm; it goes from 28 to 120 mm"),
            ("slot", 9.0, "`slot` is 9 mm; it goes from 1 to 8 mm"),
        ] {
            let refusal = STRAINER.made([(name, value)], &FLAT).expect_err("refused").to_string();
            assert_eq!(refusal, words);
        }
    }

    /// Reckoned by hand from slots and bars: 20.5 slots of 1 by 17.5 in two rows, and so on.
    #[test]
    fn half_of_the_opening_is_free_and_the_notes_tell_how_much() {
        for (slot, least) in [(1.0, 0.40), (2.0, 0.50), (3.0, 0.50), (8.0, 0.50)] {
            let given = [("slot", slot), ("corner", 0.0)];
            let share = free_share(&STRAINER, given, &FLAT).expect("made").expect("a strainer");
            let made = STRAINER.made(given, &FLAT).expect("a strainer");
            let slots: f64 = holes(&made)
                .iter()
                .map(|c| c.bounds().map_or(0.0, |[lo, hi]| (hi - lo).element_product()))
                .sum();
            is_close(share, slots / 2400.0);
            assert!(least <= share && share < 0.8, "{slot}: {share}");
            let told = format!("leave {:.0} % of the opening", 100.0 * share);
            assert!(made.print.orientation.ends_with(&told), "{}", made.print.orientation);
        }
        let coarse = Printer { nozzle_mm: 0.8, ..FLAT };
        let made = STRAINER.made([("slot", 1.0)], &coarse).expect("a strainer");
        assert!(made.print.orientation.contains("less than 40 %: take a wider `slot`"));
    }

    #[test]
    fn no_slot_is_wider_than_asked() {
        let made = STRAINER.made([("height", 90.0), ("slot", 2.0)], &FLAT).expect("a strainer");
        for slot in holes(&made) {
            let [lo, hi] = slot.bounds().expect("a slot");
            assert!((hi.x - lo.x - 2.0).abs() < 1e-9 && hi.y - lo.y <= 20.0);
        }
    }
}
