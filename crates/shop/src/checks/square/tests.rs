//! Guards where square parts are said to stand off.

use super::section::stretches;
use super::*;
use crate::work::operations_of;
use glam::{DMat3, dvec2, dvec3};
use params::Cutting;
use plate::Cut;

/// How far the corners of a leaf, 40 × 100 × 8 mm and 30 mm deep in a sheet, stand in what a cutter of 6 mm leaves of
/// a cut 41 mm long.
fn off(cuts: Vec<Cut>) -> f64 {
    off_with(Vec::new(), cuts)
}

/// The same of a leaf that has cuts of its own.
fn off_with(own: Vec<Cut>, cuts: Vec<Cut>) -> f64 {
    let machine = Machine::new(&Cutting::default());
    let mut host = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(200.0, 100.0)), 10.0);
    host.cuts = cuts;
    let mut leaf = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(40.0, 100.0)), 8.0);
    leaf.cuts = own;
    let work = |plate: &Plate| {
        let (pattern, operations) = operations_of(&machine, plate).expect("it is cut");
        Work { piece: 0, pattern, operations }
    };
    // Its x along the sheet's, its y up through the sheet.
    let turn = DMat3::from_cols(DVec3::X, DVec3::Z, DVec3::NEG_Y);
    let pose = DAffine3::from_mat3_translation(turn, dvec3(80.0, 54.0, 4.0));
    let host_work = work(&host);
    let cut = HostCut { work: &host_work, plate: &host, machine: &machine };
    cut.worst_corner(&work(&leaf), &leaf, pose).map_or(0.0, |corner| corner.off_mm)
}

fn slot(radius: f64) -> Contour {
    let (lo, hi) = (dvec2(79.5, 45.75), dvec2(120.5, 54.25));
    if radius > 0.0 {
        Contour::rounded_rectangle(lo, hi, radius)
    } else {
        Contour::rectangle(lo, hi)
    }
}

#[test]
fn a_square_leaf_in_a_slot_meets_what_the_cutter_leaves() {
    // The leaf's corner lies 0.52 and 0.27 mm inside that of the slot, whose middle of the arc 3 mm from both sides.
    let expected = (2.48_f64.powi(2) + 2.73_f64.powi(2)).sqrt() - 3.0;
    for pocket in [false, true] {
        let cut = |contour| {
            if pocket { Cut::pocket(contour, Face::Top, 6.0) } else { Cut::through(contour) }
        };
        let sharp = off(vec![cut(slot(0.0))]);
        assert!((sharp - expected).abs() < 0.01, "{sharp} {expected}");
        let bites = [(79.5, 45.75), (120.5, 45.75), (79.5, 54.25), (120.5, 54.25)];
        let bites = bites.map(|(x, y)| {
            let inwards =
                dvec2(if x < 100.0 { 1.0 } else { -1.0 }, if y < 50.0 { 1.0 } else { -1.0 });
            cut(Contour::circle(
                dvec2(x, y) + inwards * 3.01 * std::f64::consts::FRAC_1_SQRT_2,
                3.01,
            ))
        });
        let relieved = off([vec![cut(slot(0.0))], bites.to_vec()].concat());
        assert!(relieved < 0.02, "{relieved}");
    }
    // A groove that is deep enough for half of it only: the corners stand in the floor.
    assert!(off(vec![Cut::pocket(slot(0.0), Face::Top, 3.0)]) > 0.2);
    assert!(off(Vec::new()) > 10.0);
}

#[test]
fn a_drawn_round_end_is_told_as_well() {
    let round = off(vec![Cut::through(slot(4.25))]);
    let expected = (3.73_f64.powi(2) + 3.98_f64.powi(2)).sqrt() - 4.25;
    assert!((round - expected).abs() < 0.01, "{round} {expected}");
}

#[test]
fn stretches_are_found_across_lines_and_arcs() {
    let outer = Contour::rounded_rectangle(DVec2::ZERO, dvec2(100.0, 50.0), 10.0);
    let hole = Contour::circle(dvec2(50.0, 25.0), 5.0).reversed();
    let found = stretches(&[outer, hole], 1, 25.0);
    assert_eq!(found.len(), 2);
    for (found, expected) in found.iter().flatten().zip([0.0, 45.0, 55.0, 100.0]) {
        assert!((found - expected).abs() < 1e-9);
    }
}

/// A leaf with a tongue 4 mm thick on its foot: the tongue's corners count, and the shoulders' above it.
#[test]
fn the_corners_of_a_tongue_are_looked_at() {
    let tongue = || {
        [Face::Top, Face::Bottom].map(|face| {
            let step = Contour::rectangle(dvec2(-5.0, -5.0), dvec2(45.0, 31.0));
            Cut::pocket(step, face, 2.0)
        })
    };
    let middle =
        |half: f64| Contour::rectangle(dvec2(79.5, 50.0 - half), dvec2(120.5, 50.0 + half));
    // In the slot for the whole leaf it is well clear of the round corners, 2 mm away.
    assert!(off_with(tongue().to_vec(), vec![Cut::through(slot(0.0))]) < 1e-9);
    // In a slot of its own width its corners lie 0.52 and 1.02 mm inside that of the slot.
    let expected = (2.48_f64.powi(2) + 1.98_f64.powi(2)).sqrt() - 3.0;
    let narrow = off_with(tongue().to_vec(), vec![Cut::through(middle(3.0))]);
    assert!((narrow - expected).abs() < 0.01, "{narrow} {expected}");
    // A whole leaf does not go in there.
    assert!(off(vec![Cut::through(middle(3.0))]) > 0.9);
    // A shorter tongue brings the shoulders into the sheet.
    let step = Contour::rectangle(dvec2(-5.0, -5.0), dvec2(45.0, 3.0));
    let short = [Face::Top, Face::Bottom].map(|face| Cut::pocket(step.clone(), face, 2.0));
    assert!(off_with(short.to_vec(), vec![Cut::through(middle(3.0))]) > 0.9);
}

/// A groove across the leaf's face has walls with corners of their own; all of them stand where the tool was.
#[test]
fn a_groove_of_its_own_does_not_make_a_leaf_stand_off() {
    let groove = Contour::rectangle(dvec2(15.0, -5.0), dvec2(25.0, 105.0));
    let own = vec![Cut::pocket(groove, Face::Top, 3.0)];
    let cuts = vec![Cut::through(slot(0.0))];
    assert!((off_with(own, cuts.clone()) - off(cuts)).abs() < 1e-9);
}
