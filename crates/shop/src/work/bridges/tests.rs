//! Guards where bridges stand, and how they are spread.

use super::places::CORNER_MM;
use super::*;
use crate::work::operations_of;
use glam::dvec2;
use params::{Cutting, Holding};
use plate::{Contour, Cut, Face, Plate};

fn machine() -> Machine {
    Machine::new(&Cutting { holding: Holding::Tabs, ..Cutting::default() })
}

fn outline(plate: &Plate) -> Operation {
    operations_of(&machine(), plate).unwrap().1.pop().unwrap()
}

fn rounded(width: f64, height: f64) -> Plate {
    Plate::new(Contour::rounded_rectangle(DVec2::ZERO, dvec2(width, height), 12.0), 8.0)
}

/// One in 150 to 300 mm, and none at a corner.
#[test]
fn larger_parts_have_more_bridges_evenly_around_and_none_at_a_corner() {
    // Round with corners of 12 mm: 339, 979, 2679 and 4779 mm.
    for (size, n) in
        [([100.0, 80.0], 2), ([300.0, 200.0], 5), ([900.0, 450.0], 13), ([1800.0, 600.0], 24)]
    {
        let outline = outline(&rounded(size[0], size[1]));
        assert_eq!(outline.bridges.len(), n, "{size:?}");
        let CutPath::Closed(edge) = &outline.edge else { panic!("closed") };
        let mut at: Vec<f64> = outline.bridges.iter().map(|b| along(edge, b.at)).collect();
        at.sort_by(f64::total_cmp);
        let again = at[0] + edge.length();
        at.push(again);
        let gaps: Vec<f64> = at.windows(2).map(|pair| pair[1] - pair[0]).collect();
        assert!(gaps.iter().all(|gap| (130.0..=300.0).contains(gap)), "{size:?} {gaps:?}");
        let longest = gaps.iter().copied().fold(0.0, f64::max);
        assert!((longest_unheld_mm(edge, &outline.bridges) - longest).abs() < 1.0);
        for bridge in &outline.bridges {
            let (lo, hi) = (DVec2::splat(12.0), dvec2(size[0], size[1]) - 12.0);
            let [a, b] =
                [-0.5, 0.5].map(|share| bridge.at + share * bridge.length_mm * bridge.along);
            for p in [a, b] {
                let along =
                    if bridge.along.x.abs() > 0.5 { [p.x, lo.x, hi.x] } else { [p.y, lo.y, hi.y] };
                assert!(along[1] + CORNER_MM <= along[0] && along[0] <= along[2] - CORNER_MM);
            }
            assert!((bridge.lifted[0].distance(bridge.lifted[1]) - 12.0).abs() < 1e-9);
            assert!((bridge.height_mm - 1.5).abs() < 1e-12);
        }
    }
}

/// How far along an edge a place of it is, by its own pieces.
fn along(edge: &Contour, p: DVec2) -> f64 {
    let mut before = 0.0;
    for piece in &edge.0 {
        if piece.arc.is_none() && piece.distance(p) < 1e-6 {
            return before + piece.start.distance(p);
        }
        before += piece.length();
    }
    panic!("{p} is on no straight piece");
}

/// Parts that lie beside a plate of 300 × 200 mm, at these of its left, right, lower and upper side.
fn beside(sides: [bool; 4]) -> GluedEdges {
    let all = [
        [dvec2(-8.0, 0.0), dvec2(0.0, 200.0)],
        [dvec2(300.0, 0.0), dvec2(308.0, 200.0)],
        [dvec2(0.0, -8.0), dvec2(300.0, 0.0)],
        [dvec2(0.0, 200.0), dvec2(300.0, 208.0)],
    ];
    let lie = all.into_iter().zip(sides).filter(|(_, is_there)| *is_there);
    GluedEdges::to_areas(lie.map(|([lo, hi], _)| Contour::rectangle(lo, hi)), 8.0)
}

fn placed(plate: &Plate, glued: &GluedEdges) -> Vec<Bridge> {
    let (pattern, operations) = operations_of(&machine(), plate).unwrap();
    place(&machine(), 8.0, &pattern, glued, operations.last().unwrap())
}

#[test]
fn glued_edges_stay_clean_while_another_is_free() {
    let plate = rounded(300.0, 200.0);
    let bridges = placed(&plate, &beside([true, true, true, false]));
    // The free way is about 300 mm: two bridges.
    assert_eq!(bridges.len(), 2, "{bridges:?}");
    assert!(bridges.iter().all(|b| b.at.y > 199.0 && !b.is_on_glued_edge), "{bridges:?}");
    assert!((100.0..200.0).contains(&bridges[0].at.distance(bridges[1].at)), "{bridges:?}");
}

#[test]
fn in_glued_edges_stand_the_fewest_and_far_from_one_another() {
    let all = placed(
        &rounded(900.0, 450.0),
        &GluedEdges::to_areas([Contour::rectangle(DVec2::splat(-10.0), dvec2(910.0, 460.0))], 8.0),
    );
    assert_eq!(all.len(), 2, "{all:?}");
    assert!(all.iter().all(|b| b.is_on_glued_edge));
    assert!(all[0].at.distance(all[1].at) > 450.0, "{all:?}");
}

/// A part that is glued along half of an edge takes bridges in the other half.
#[test]
fn an_edge_is_glued_only_where_another_part_lies() {
    let half = Contour::rectangle(dvec2(0.0, -8.0), dvec2(450.0, 0.0));
    let rest = [
        Contour::rectangle(dvec2(-8.0, 0.0), dvec2(0.0, 450.0)),
        Contour::rectangle(dvec2(900.0, 0.0), dvec2(908.0, 450.0)),
        Contour::rectangle(dvec2(0.0, 450.0), dvec2(900.0, 458.0)),
    ];
    let glued = GluedEdges::to_areas(rest.into_iter().chain([half]), 8.0);
    let bridges = placed(&rounded(900.0, 450.0), &glued);
    assert!(bridges.len() >= 2, "{bridges:?}");
    for bridge in &bridges {
        assert!(!bridge.is_on_glued_edge && bridge.at.y < 1.0 && bridge.at.x > 453.0, "{bridge:?}");
    }
}

/// By the parts of a design: both ends and the foot of a wall between two others are glued, whatever the rim does.
#[test]
fn glued_edges_of_a_design_are_where_its_parts_meet() {
    let path = format!("{}/../../params/fragfarm.toml", env!("CARGO_MANIFEST_DIR"));
    let file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
    let design = design::resolve(&file).design.unwrap();
    let placed = design.placed.iter().find(|placed| placed.name == "inlet end wall").unwrap();
    let piece = &design.pieces[placed.piece];
    let plate::Shape::Sheet(plate) = &piece.shape else { panic!("it is sheet") };
    let [lo, hi] = plate.outline.bounds().unwrap();
    let middle = 0.5 * (lo + hi);
    let glued = GluedEdges::of(&design, placed.piece);
    let is_at = |at: DVec2, out: DVec2| glued.is_at(at, out, plate.thickness);
    assert!(is_at(dvec2(lo.x, middle.y), DVec2::NEG_X));
    assert!(is_at(dvec2(hi.x, middle.y), DVec2::X));
    assert!(is_at(dvec2(middle.x, lo.y), DVec2::NEG_Y));
    assert!(!GluedEdges::default().is_at(dvec2(middle.x, lo.y), DVec2::NEG_Y, plate.thickness));
}

/// The teeth of a comb take no bridges and do not crowd those beside it.
#[test]
fn a_comb_does_not_bunch_bridges() {
    let mut plate = rounded(900.0, 300.0);
    for k in 0..25 {
        let x = 150.0 + 24.0 * f64::from(k);
        plate.cuts.push(Cut::through(Contour::rectangle(dvec2(x, 250.0), dvec2(x + 12.0, 310.0))));
    }
    let outline = outline(&plate);
    // The hull is about 2380 mm around, of which a quarter has no room.
    assert!((8..=12).contains(&outline.bridges.len()), "{:?}", outline.bridges);
    for (i, a) in outline.bridges.iter().enumerate() {
        for b in &outline.bridges[..i] {
            assert!(a.at.distance(b.at) > 75.0, "{a:?} {b:?}");
        }
    }
    let CutPath::Closed(edge) = &outline.edge else { panic!("closed") };
    assert!(longest_unheld_mm(edge, &outline.bridges) > 500.0);
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
        let bridges = placed(&plate, &beside([true; 4]));
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
