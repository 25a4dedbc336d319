//! A foot of known height that stacks.

use glam::dvec2;
use plate::{Shape, Turned};

use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Holds, OnBottom, Side, Stand};

/// The kind.
pub(crate) const SKIMMER_FOOT: Kind = Kind {
    name: "skimmer-foot",
    what_for: "raises a skimmer or pump to its level: each adds its height to a stack",
    is_jig: false,
    stand: Stand {
        on_bottom: Some(OnBottom { by: Side::Bed, is_glued: false, stacks_by: Some("nose") }),
        ..Stand::NOWHERE.holding(Holds::OnTop)
    },
    in_pieces: None,
    advice: "print it solid; three or four stacks of the same height under one skimmer. A foot stands as high as is told with how it is printed: whole layers, the nearest to what was asked. Feet that others stand on have a nose (`nose = yes`), which takes no height from the next but would add its own to the uppermost: that has none. Stacks higher than wide tip: glue a stand of sheet instead",
    measures: &[
        Measure::mm(
            "height",
            "what each adds to the stack, to the nearest layer",
            [6.0, 10.0, 60.0],
            PRACTICE,
        ),
        Measure::mm("diameter", "diameter", [30.0, 50.0, 100.0], PRACTICE),
        Measure::choice(
            "nose",
            "a nose above that keeps the next foot of a stack in its place; the uppermost has none",
            false,
            PRACTICE,
        ),
    ],
    make: skimmer_foot,
};

/// Radius of the recess, as a share of the foot's.
const RECESS_SHARE: f64 = 0.6;
/// Depth of the recess: at most this, and at most this share of the height; our judgement.
const RECESS_MM: f64 = 4.0;
const RECESS_HEIGHT_SHARE: f64 = 0.5;

/// A disc with a cone of 45° hollowed out below and, if others stand on it, one standing above, which fits into that
/// with the clearance to its side, so that feet rest on each other with their flat faces; a bore lets water and air out.
/// Printed as it stands: at 45° the recess needs no support.
fn skimmer_foot(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let radius = 0.5 * m.get("diameter");
    let height = printer.nearest_height_mm(m.get("height"));
    let recess = RECESS_SHARE * radius;
    let depth = RECESS_MM.min(RECESS_HEIGHT_SHARE * height);
    let (bore, stub) = (recess - depth, recess - printer.clearance_mm);
    let mut profile = vec![dvec2(recess, 0.0), dvec2(radius, 0.0), dvec2(radius, height)];
    if m.is("nose") {
        // The stub's rim at its top must be printable, and must not reach the recess's ceiling.
        let thickest = depth - printer.clearance_mm - printer.least_wall_mm();
        let layers = (thickest.min(0.5 * depth) / printer.layer_mm).floor();
        let up = layers * printer.layer_mm;
        if layers < 1.0 {
            let least_mm = printer.least_wall_mm();
            let wall_mm = least_mm + thickest - printer.layer_mm;
            return Err(Error::ThinWall {
                what: "rim of the `nose`, by `height`,",
                measure: Some("height"),
                wall_mm,
                least_mm,
            });
        }
        profile.extend([
            dvec2(stub, height),
            dvec2(stub - up, height + up),
            dvec2(bore, height + up),
        ]);
    } else {
        profile.push(dvec2(bore, height));
    }
    profile.push(dvec2(bore, depth));
    let orientation = format!(
        "as it stands; {} mm high as made{}",
        shown(height),
        match m.is("nose") {
            true => ", without its nose",
            false => "",
        }
    );
    Fitting::new(Shape::Turned(Turned { profile }), &orientation, printer)
}

/// A height in mm without zeros at its end.
fn shown(mm: f64) -> String {
    let text = format!("{mm:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, volume_mm3};
    use std::f64::consts::PI;

    fn frustum(r: f64, s: f64, height: f64) -> f64 {
        PI / 3.0 * height * (r * r + r * s + s * s)
    }

    fn profile(given: &[(&str, f64)], printer: &Printer) -> (Vec<glam::DVec2>, Fitting) {
        let foot = SKIMMER_FOOT.made(given.iter().copied(), printer).expect("a foot");
        let Shape::Turned(turned) = foot.shape.clone() else { panic!("a foot is turned") };
        (turned.profile, foot)
    }

    #[test]
    fn volume_is_disc_and_stub_less_recess_and_bore() {
        let disc = PI * 625.0 * 10.0 - frustum(15.0, 11.0, 4.0) - PI * 121.0 * 6.0;
        is_close(volume_mm3(&profile(&[], &FLAT).1), disc);
        let stub = frustum(14.75, 12.75, 2.0) - PI * 121.0 * 2.0;
        is_close(volume_mm3(&profile(&[("nose", 1.0)], &FLAT).1), disc + stub);
    }

    #[test]
    fn what_stands_on_it_stands_as_high_as_was_asked_to_the_nearest_layer() {
        for layer_mm in [0.12, 0.2, 0.28] {
            let printer = Printer { layer_mm, ..FLAT };
            for height in [6.0, 10.0, 32.0, 33.3, 33.1] {
                let (corners, foot) = profile(&[("height", height)], &printer);
                let top = corners.iter().map(|p| p.y).fold(0.0, f64::max);
                assert!((top - height).abs() <= 0.5 * layer_mm + 1e-9, "{height}: {top}");
                is_close(foot.print.height_mm, top);
                let told = format!("; {} mm high as made", shown(top));
                assert!(foot.print.orientation.ends_with(&told), "{}", foot.print.orientation);
            }
        }
    }

    #[test]
    fn a_stack_is_the_sum_of_its_heights() {
        for height in [6.0, 10.0, 33.3] {
            let (corners, _) = profile(&[("height", height), ("nose", 1.0)], &FLAT);
            let shoulder = corners[2].y;
            assert!((height - shoulder).abs() <= 0.5 * FLAT.layer_mm + 1e-9);
            // At every height the stub of the one below is the clearance smaller than the recess above it.
            let [recess, bore] = [corners[0], corners[6]];
            for corner in &corners[3..5] {
                let above = corner.y - shoulder;
                is_close(recess.x - above - corner.x, FLAT.clearance_mm);
                assert!(above < bore.y, "the stub does not reach the ceiling");
            }
        }
    }
}
