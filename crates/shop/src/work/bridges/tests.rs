//! Guards where bridges stand, and how they are spread.

use super::*;
use crate::work::operations_of;
use glam::dvec2;
use params::{Cutting, Holding};
use plate::{Cut, Plate};

fn machine() -> Machine {
    Machine::new(&Cutting { holding: Holding::Tabs, ..Cutting::default() })
}

fn outline(plate: &Plate) -> Operation {
    operations_of(&machine(), plate).unwrap().1.pop().unwrap()
}

fn rounded(width: f64, height: f64) -> Plate {
    Plate::new(Contour::rounded_rectangle(DVec2::ZERO, dvec2(width, height), 12.0), 8.0)
}

#[test]
fn larger_parts_have_more_bridges_and_none_at_a_corner() {
    for (size, n) in [([100.0, 80.0], 2), ([300.0, 200.0], 5), ([900.0, 450.0], 14)] {
        let outline = outline(&rounded(size[0], size[1]));
        assert_eq!(outline.bridges.len(), n, "{size:?}");
        for bridge in &outline.bridges {
            let (lo, hi) = (DVec2::splat(12.0), dvec2(size[0], size[1]) - 12.0);
            let [a, b] =
                [-0.5, 0.5].map(|share| bridge.at + share * bridge.length_mm * bridge.along);
            for p in [a, b] {
                let along = if bridge.along.x.abs() > 0.5 {
                    [p.x, lo.x, hi.x]
                } else {
                    [p.y, lo.y, hi.y]
                };
                assert!(along[1] + CORNER_MM <= along[0] && along[0] <= along[2] - CORNER_MM);
            }
            assert!((bridge.lifted[0].distance(bridge.lifted[1]) - 12.0).abs() < 1e-9);
            assert!((bridge.height_mm - 1.5).abs() < 1e-12);
        }
    }
}

#[test]
fn glued_edges_stay_clean_while_another_is_free() {
    let machine = machine();
    let (pattern, operations) = operations_of(&machine, &rounded(300.0, 200.0)).unwrap();
    let outline = operations.last().unwrap();
    let place = |glued| place(&machine, 8.0, &pattern, glued, outline);
    let three = GluedSides { left: true, right: true, lower: true, upper: false };
    let bridges = place(three);
    assert!(bridges.len() >= 3);
    assert!(bridges.iter().all(|b| b.at.y > 199.0 && !b.is_on_glued_edge), "{bridges:?}");
    let all = place(GluedSides { upper: true, ..three });
    assert!(all.len() >= 3 && all.iter().all(|b| b.is_on_glued_edge));
}

#[test]
fn round_and_tiny_parts_take_none() {
    let disc = Plate::new(Contour::circle(DVec2::ZERO, 100.0), 8.0);
    assert_eq!(outline(&disc).bridges, []);
    let tiny = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(20.0, 15.0)), 8.0);
    assert_eq!(outline(&tiny).bridges, []);
}

/// A step from below leaves nothing for a bridge; one from above leaves enough.
#[test]
fn no_bridge_stands_where_the_sheet_is_cut_away_below() {
    for (face, n_lower) in [(Face::Bottom, 0), (Face::Top, 1)] {
        let mut plate = rounded(300.0, 200.0);
        let step = Contour::rectangle(dvec2(-5.0, -5.0), dvec2(305.0, 8.0));
        plate.cuts.push(Cut::pocket(step, face, 4.0));
        let lower = outline(&plate).bridges.iter().filter(|b| b.at.y < 1.0).count();
        assert_eq!(lower.min(1), n_lower, "{face:?}");
    }
}

/// In a notch that is hardly wider than the cutter both of its sides are cut at once.
#[test]
fn no_bridge_stands_in_a_narrow_notch() {
    for (width, is_taken) in [(7.0, false), (14.0, false), (40.0, true)] {
        let mut plate = rounded(300.0, 200.0);
        let (lo, hi) = (dvec2(150.0, 40.0), dvec2(150.0 + width, 210.0));
        plate.cuts.push(Cut::through(Contour::rectangle(lo, hi)));
        let machine = machine();
        let (pattern, operations) = operations_of(&machine, &plate).unwrap();
        let sides = GluedSides { left: true, right: true, lower: true, upper: true };
        let outline = operations.last().unwrap();
        let bridges = place(&machine, 8.0, &pattern, sides, outline);
        let is_in = |b: &Bridge| {
            (149.0..151.0 + width).contains(&b.at.x) && b.at.y > 39.0 && b.at.y < 199.0
        };
        assert_eq!(bridges.iter().any(is_in), is_taken, "{width} {bridges:?}");
    }
}

#[test]
fn runs_make_up_the_path_with_its_arcs_and_lift_over_every_bridge() {
    let outline = outline(&rounded(300.0, 200.0));
    let CutPath::Closed(path) = &outline.tool[0] else { panic!("closed") };
    let runs = outline.runs(0);
    assert!(!runs[0].is_lifted);
    assert_eq!(runs.iter().filter(|run| run.is_lifted).count(), outline.bridges.len());
    assert_eq!(runs.len(), 2 * outline.bridges.len());
    let pieces: Vec<&Segment> = runs.iter().flat_map(|run| &run.pieces).collect();
    let length: f64 = pieces.iter().map(|piece| piece.length()).sum();
    assert!((length - path.length()).abs() < 1e-9);
    let turn = |arcs: &mut dyn Iterator<Item = f64>| arcs.sum::<f64>();
    let own = turn(&mut pieces.iter().filter_map(|piece| Some(piece.arc?.sweep)));
    let whole = turn(&mut path.0.iter().filter_map(|piece| Some(piece.arc?.sweep)));
    assert!((own - whole).abs() < 1e-9 && whole > 6.0);
    for (a, b) in pieces.iter().zip(pieces.iter().cycle().skip(1)) {
        assert!(a.end.distance(b.start) < SAME_MM);
    }
    let lifted: f64 =
        runs.iter().filter(|r| r.is_lifted).flat_map(|r| &r.pieces).map(Segment::length).sum();
    assert!((lifted - 12.0 * outline.bridges.len() as f64).abs() < 1e-9);
}
