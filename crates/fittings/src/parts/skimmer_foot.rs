//! A foot of known height that stacks.

use glam::dvec2;
use plate::{Shape, Turned};

use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;

/// The kind.
pub(crate) const SKIMMER_FOOT: Kind = Kind {
    name: "skimmer-foot",
    what_for: "raises a skimmer or pump to its level: each adds its height to a stack",
    is_jig: false,
    advice: "print it solid; three or four stacks of the same height under one skimmer. Stacks higher than wide tip: glue a stand of sheet instead",
    measures: &[
        Measure::mm(
            "height",
            "what each adds to the stack, in whole layers",
            [6.0, 10.0, 60.0],
            PRACTICE,
        ),
        Measure::mm("diameter", "diameter", [30.0, 50.0, 100.0], PRACTICE),
    ],
    make: skimmer_foot,
};

/// Radius of the recess, as a share of the foot's.
const RECESS_SHARE: f64 = 0.6;
/// Depth of the recess: at most this, and at most this share of the height; our judgement.
const RECESS_MM: f64 = 4.0;
const RECESS_HEIGHT_SHARE: f64 = 0.5;

/// A disc with a cone of 45° hollowed out below and one standing above, which fits into it with the clearance to its
/// side, so that feet rest on each other with their flat faces; a bore lets water and air out. Printed as it stands:
/// at 45° the recess needs no support.
fn skimmer_foot(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (radius, height) = (0.5 * m.get("diameter"), printer.height_mm(m.get("height")));
    let recess = RECESS_SHARE * radius;
    let depth = RECESS_MM.min(RECESS_HEIGHT_SHARE * height);
    let (bore, stub) = (recess - depth, recess - printer.clearance_mm);
    let up = printer.height_mm(0.5 * depth);
    // The stub's rim at its top must be printable, and must not reach the recess's ceiling.
    crate::error::check_wall("stub's rim", stub - up - bore)?;
    let profile = vec![
        dvec2(recess, 0.0),
        dvec2(radius, 0.0),
        dvec2(radius, height),
        dvec2(stub, height),
        dvec2(stub - up, height + up),
        dvec2(bore, height + up),
        dvec2(bore, depth),
    ];
    Fitting::new(Shape::Turned(Turned { profile }), "as it stands")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, volume_mm3};
    use std::f64::consts::PI;

    fn frustum(r: f64, s: f64, height: f64) -> f64 {
        PI / 3.0 * height * (r * r + r * s + s * s)
    }

    #[test]
    fn volume_is_disc_and_stub_less_recess_and_bore() {
        let foot = SKIMMER_FOOT.made([], &FLAT).expect("a foot");
        let disc = PI * 625.0 * 10.0 - frustum(15.0, 11.0, 4.0) - PI * 121.0 * 6.0;
        let stub = frustum(14.75, 12.75, 2.0) - PI * 121.0 * 2.0;
        is_close(volume_mm3(&foot), disc + stub);
    }

    #[test]
    fn a_stack_is_the_sum_of_its_heights() {
        for height in [6.0, 10.0, 33.3] {
            let foot = SKIMMER_FOOT.made([("height", height)], &FLAT).expect("a foot");
            let Shape::Turned(turned) = &foot.shape else { panic!("a foot is turned") };
            let shoulder = turned.profile[2].y;
            assert!((height - 1e-9..height + FLAT.layer_mm).contains(&shoulder));
            // At every height the stub of the one below is the clearance smaller than the recess above it.
            let [recess, bore] = [turned.profile[0], turned.profile[6]];
            for corner in &turned.profile[3..5] {
                let above = corner.y - shoulder;
                is_close(recess.x - above - corner.x, FLAT.clearance_mm);
                assert!(above < bore.y, "the stub does not reach the ceiling");
            }
        }
    }
}
