//! The flanged ring that lines a hole of a sock holder.

use glam::{dvec2, dvec3};
use plate::{Shape, Turned};

use crate::error::{Error, check_band, check_clearance, check_positive, check_wall};
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::mate::{Form, Mate};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::Stand;

/// A ring that hangs in a hole by its flange and holds a filter sock by the sock's own flange.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SockRing {
    /// Diameter of the hole in the holder.
    pub hole_diameter_mm: f64,
    /// Least and largest measured thickness of the holder's sheet.
    pub sheet_mm: [f64; 2],
    /// Diameter that the sock's bag passes through.
    pub bore_diameter_mm: f64,
    /// Clearance between ring and hole, each side.
    pub clearance_mm: f64,
}

/// The ring and the measures that others need.
#[derive(Clone, Debug, PartialEq)]
pub struct SockRingFitting {
    /// The part. Its frame: the flange from `z = 0` to `flange_mm`, the spigot above it, about the
    /// z axis. In use it is turned over.
    pub fitting: Fitting,
    /// Thickness of the flange.
    pub flange_mm: f64,
    /// Outer diameter of the flange.
    pub flange_diameter_mm: f64,
    /// Outer diameter of the spigot where it stands in the hole.
    pub spigot_diameter_mm: f64,
}

/// The kind.
pub(crate) const SOCK_RING: Kind = Kind {
    name: "sock-ring",
    what_for: "lines a hole of a sock holder, so that a sock hangs by its flange and does not chafe",
    is_jig: false,
    stand: Stand::nowhere(
        "rings are put into the holes of their holder by `ring = \"printed\"` in `[[sock_holder]]`",
    ),
    in_pieces: None,
    advice: "the holder carries the ring and the ring only a sock that drains; one that is clogged and stands full of water must overflow, not hang",
    measures: &[
        Measure::sheet(),
        Measure::mm(
            "hole",
            "diameter of the hole",
            [40.0, 111.0, 260.0],
            "common practice: socks of 4 inches",
        ),
        Measure::mm(
            "wall",
            "thickness of the ring in the hole; what is left is the bore, a sock's bag and 1 mm of play each side",
            [1.6, 2.4, 6.0],
            PRACTICE,
        ),
    ],
    make: of_kind,
};

fn of_kind(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let (hole, wall) = (m.get("hole"), printer.wall_mm(m.get("wall")));
    let ring = SockRing {
        hole_diameter_mm: hole,
        sheet_mm: [m.get("sheet"); 2],
        bore_diameter_mm: hole - 2.0 * (printer.clearance_mm + wall),
        clearance_mm: printer.clearance_mm,
    };
    Ok(ring_of_layers(&ring, printer)?.fitting)
}

/// The sock ring, printed on its flange in whole layers of this printer, its edges on the bed drawn in.
///
/// The spigot is straight through the thickest place of the sheet at least; beyond it a conical nose leads
/// it into the hole. The bore is chamfered where the sock enters.
pub fn sock_ring(ring: &SockRing, printer: &Printer) -> Result<SockRingFitting, Error> {
    let made = ring_of_layers(ring, printer)?;
    Ok(SockRingFitting { fitting: made.fitting.with_foot(printer)?, ..made })
}

/// As [`sock_ring`], its edges as they are.
fn ring_of_layers(ring: &SockRing, printer: &Printer) -> Result<SockRingFitting, Error> {
    check_band(ring.sheet_mm)?;
    let [flange_mm, nose_mm, through_mm] =
        [FLANGE_MM, NOSE_MM, ring.sheet_mm[1]].map(|height| printer.height_mm(height));
    check_clearance(ring.clearance_mm)?;
    check_positive(&[("hole", ring.hole_diameter_mm), ("bore", ring.bore_diameter_mm)])?;
    let bore = 0.5 * ring.bore_diameter_mm;
    let spigot = 0.5 * ring.hole_diameter_mm - ring.clearance_mm;
    let wall = spigot - bore;
    check_wall("ring's wall", None, wall, printer)?;

    let flange = 0.5 * ring.hole_diameter_mm + FLANGE_OVERLAP_MM;
    let straight = flange_mm + through_mm;
    // Half of the wall is left at the tip of the nose, or two lines.
    let (tip, top) = (bore + (0.5 * wall).max(printer.least_wall_mm()), straight + nose_mm);
    let profile = vec![
        dvec2(bore + BORE_CHAMFER_MM, 0.0),
        dvec2(flange - RIM_CHAMFER_MM, 0.0),
        dvec2(flange, RIM_CHAMFER_MM),
        dvec2(flange, flange_mm),
        dvec2(spigot, flange_mm),
        dvec2(spigot, straight),
        dvec2(tip, top),
        dvec2(bore, top),
        dvec2(bore, BORE_CHAMFER_MM),
    ];
    let shape = Shape::Turned(Turned { profile });
    let in_hole = Mate {
        with: "hole",
        size_mm: ring.hole_diameter_mm,
        band_mm: [ring.hole_diameter_mm; 2],
        form: Form::RoundPeg,
        at: dvec3(0.0, 0.0, flange_mm + 0.5 * ring.sheet_mm[1]),
        heights_mm: [flange_mm, flange_mm + ring.sheet_mm[1]],
        play_mm: 2.0 * ring.clearance_mm,
        loss_mm: 0.0,
    };
    Ok(SockRingFitting {
        fitting: Fitting::new(shape, "flange down, spigot up", printer)?.mating(vec![in_hole]),
        flange_mm,
        flange_diameter_mm: 2.0 * flange,
        spigot_diameter_mm: 2.0 * spigot,
    })
}

/// Thickness of the flange, which carries a sock full of water; common practice.
pub(crate) const FLANGE_MM: f64 = 3.0;
/// How far the flange reaches beyond the edge of the hole; common practice.
pub(crate) const FLANGE_OVERLAP_MM: f64 = 8.0;
/// Length of the conical nose.
pub(crate) const NOSE_MM: f64 = 3.0;
/// Chamfer of 45° where the sock enters the bore.
pub(crate) const BORE_CHAMFER_MM: f64 = 1.0;
/// Chamfer of 45° around the flange, for the hand, and because the first layer spreads.
pub(crate) const RIM_CHAMFER_MM: f64 = 0.5;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::FLAT;
    use std::f64::consts::PI;

    const RING: SockRing = SockRing {
        hole_diameter_mm: 111.3,
        sheet_mm: [7.7, 8.0],
        bore_diameter_mm: 106.0,
        clearance_mm: 0.25,
    };

    fn profile(ring: &SockRing) -> (SockRingFitting, Turned) {
        let made = sock_ring(ring, &FLAT).expect("a ring");
        let Shape::Turned(turned) = made.fitting.shape.clone() else { panic!("a ring is turned") };
        (made, turned)
    }

    #[test]
    fn volume_is_flange_spigot_and_nose_less_the_bore() {
        let (_, turned) = profile(&RING);
        // Pappus: each profile area times the way of its centroid, worked by hand.
        let turn = |area: f64, r: f64| 2.0 * PI * area * r;
        let flange = turn(10.65 * 3.0, 53.0 + 0.5 * 10.65)
            - turn(0.5, 53.0 + 1.0 / 3.0)
            - turn(0.125, 63.65 - 0.5 / 3.0);
        let spigot = turn(2.4 * 8.0, 54.2);
        let nose = turn(1.2 * 3.0, 53.6) + turn(0.5 * 1.2 * 3.0, 54.2 + 0.4);
        assert!((turned.volume_mm3() - (flange + spigot + nose)).abs() < 1e-6);
    }

    #[test]
    fn it_goes_into_the_hole_and_hangs_there() {
        let (made, turned) = profile(&RING);
        assert!((made.spigot_diameter_mm - 110.8).abs() < 1e-9);
        assert!(made.flange_diameter_mm > RING.hole_diameter_mm + 10.0);
        let tip = turned.profile.iter().filter(|p| p.y >= 14.0 - 1e-9).map(|p| p.x);
        assert!(tip.fold(0.0, f64::max) < 0.5 * made.spigot_diameter_mm - 1.0);
        // Nothing but the chamfer, which is wider, narrows the sock's way.
        assert!(turned.profile.iter().all(|p| p.x >= 0.5 * RING.bore_diameter_mm));
        assert!((made.fitting.print.height_mm - 14.0).abs() < 1e-9);
    }

    #[test]
    fn impossible_rings_are_refused_with_the_numbers() {
        #[track_caller]
        fn check(ring: SockRing, words: &str) {
            let refusal = sock_ring(&ring, &FLAT).expect_err("refused").to_string();
            assert!(refusal.contains(words), "{refusal}");
        }
        check(SockRing { bore_diameter_mm: 110.0, ..RING }, "ring's wall would be 0.40 mm thick");
        check(SockRing { bore_diameter_mm: 0.0, ..RING }, "bore is 0 mm");
        check(SockRing { sheet_mm: [8.0, 7.0], ..RING }, "from 8 to 7 mm");
        check(SockRing { clearance_mm: 3.0, ..RING }, "clearance of 3 mm is not between 0 and 1");
    }

    #[test]
    fn as_a_kind_its_bore_is_what_the_wall_leaves() {
        use crate::testing::{is_close, volume_mm3};
        let made = SOCK_RING.made([("hole", 111.3)], &FLAT).expect("a ring");
        let ring = sock_ring(&SockRing { sheet_mm: [8.0, 8.0], ..RING }, &FLAT).expect("a ring");
        is_close(volume_mm3(&made), volume_mm3(&ring.fitting));
        for most in [6.1, 8.0] {
            let made = SOCK_RING.made([("sheet", most)], &FLAT).expect("a ring");
            let Shape::Turned(turned) = &made.shape else { panic!("a ring is turned") };
            let [lower, upper] = [turned.profile[4], turned.profile[5]];
            is_close(2.0 * lower.x, 111.0 - 2.0 * FLAT.clearance_mm);
            assert!(upper.y - lower.y >= most - 1e-9, "straight through the thickest sheet");
        }
    }
}
