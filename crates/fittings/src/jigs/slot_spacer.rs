//! The spacer that keeps a channel's width while its strips are glued.

use glam::{DVec2, dvec2};
use plate::{Contour, Plate, Shape};

use super::number;
use crate::error::{Error, check_wall};
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::lettering::Lettering;
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Follows, Stand};

/// The kind.
pub(crate) const SLOT_SPACER: Kind = Kind {
    name: "slot-spacer",
    what_for: "keeps the width of a channel while its strips are glued: the leaf and its clearance",
    is_jig: true,
    stand: Stand::NOWHERE,
    in_pieces: None,
    advice: "use two, at the ends of the strips; its number is the width of the channel. Draw it out before the glue is \
             hard; grease or a turn of tape keeps glue off it",
    measures: &[
        Measure::mm(
            "sheet",
            "thickness of the leaf that will slide, by caliper, where it is thickest",
            [2.0, 8.0, 20.0],
            "common practice: sumps are made of 6 to 10 mm",
        )
        .follows(Follows::Sheet),
        Measure::mm(
            "clearance",
            "what the channel is wider, in all: the divider's own `clearance`",
            [0.1, 0.8, 5.0],
            "common practice: as dividers have where the file says nothing",
        )
        .follows(Follows::StripClearance),
        Measure::mm(
            "depth",
            "how far it reaches into the channel; the strips are this high or higher",
            [5.0, 12.0, 40.0],
            "common practice: strips of 12 to 20 mm",
        ),
        Measure::mm("length", "length along the channel", [15.0, 40.0, 100.0], PRACTICE),
    ],
    make: slot_spacer,
};

/// How far the head reaches over each strip, mm; common practice.
const SHOULDER_MM: f64 = 6.0;
/// The edges that stand where the glue is are cut off by this share of the width, at most [`MOST_RELIEF_MM`]; our
/// judgement.
const RELIEF_SHARE: f64 = 0.25;
/// Most that is cut off, mm.
const MOST_RELIEF_MM: f64 = 2.5;

/// A T in section, printed standing on its end: its width lies in the layers, where a printer is truest.
fn slot_spacer(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let lettering = Lettering::least(printer);
    // The strips are sheet: what the printer leaves between printed faces has no say here.
    let width = m.get("sheet") + m.get("clearance");
    let words = number(width);
    let room = lettering.room_mm(&words) + 2.0 * (lettering.margin_mm() + printer.least_wall_mm());
    let half = 0.5 * width;
    let half_head = 0.5 * (2.0 * printer.wall_mm(SHOULDER_MM) + width).max(room.x);
    let (depth, head) = (m.get("depth"), printer.wall_mm(room.y));
    check_wall("stem, by `sheet` and `clearance`,", Some("sheet"), width, printer)?;
    // Nothing is cut off a stem of fewer than four lines.
    let relief = match half < printer.least_wall_mm() {
        true => 0.0,
        false => (RELIEF_SHARE * width).min(MOST_RELIEF_MM).min(0.5 * depth),
    };
    let mut corners = vec![dvec2(relief - half, 0.0), dvec2(half - relief, 0.0)];
    if relief > 0.0 {
        corners.push(dvec2(half, relief));
    }
    corners.extend([
        dvec2(half, depth),
        dvec2(half_head, depth),
        dvec2(half_head, depth + head),
        dvec2(-half_head, depth + head),
        dvec2(-half_head, depth),
        dvec2(-half, depth),
    ]);
    if relief > 0.0 {
        corners.push(dvec2(-half, relief));
    }
    let outline = Contour::polygon(&corners);
    let mut plate = Plate::new(outline, printer.height_mm(m.get("length")));
    plate.cuts = lettering.cuts(&words, dvec2(0.0, depth + 0.5 * head), DVec2::X);
    Fitting::new(Shape::Sheet(plate), "standing on its end", printer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::jigs::tests::volume_without_text;

    #[test]
    fn it_is_as_wide_as_the_channel_that_is_designed() {
        // 0.8 mm in all, as a divider has, whatever the printer leaves.
        let printer = Printer { clearance_mm: 0.2, ..Printer::default() };
        let made = SLOT_SPACER.made([("sheet", 7.9)], &printer).expect("a spacer");
        let Shape::Sheet(plate) = made.shape else { panic!("a plate") };
        let stem = plate.outline.0.iter().map(|s| s.start).filter(|p| p.y < 11.0);
        let xs: Vec<f64> = stem.map(|p| p.x).collect();
        let width = xs.iter().fold(0.0_f64, |w, x| w.max(*x)) * 2.0;
        assert!((width - (7.9 + 0.8)).abs() < 1e-9, "{width}");
    }

    #[test]
    fn volume_is_stem_and_head() {
        // Stem of 8.8 by 12 mm less two corners of 2.2 mm; the head 6.4 mm wider on each side, or as wide as its text.
        let printer = Printer::default();
        let head = printer.wall_mm(Lettering::least(&printer).room_mm("8.8").y + 4.6);
        let area = 8.8 * 12.0 - 2.2 * 2.2 + (8.8 + 2.0 * printer.wall_mm(6.0)) * head;
        let volume = volume_without_text(&SLOT_SPACER, &[], &printer);
        assert!((volume - 40.0 * area).abs() < 1e-6, "{volume} {}", 40.0 * area);
    }
}
