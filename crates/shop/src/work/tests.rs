//! Guards what is done to a panel, and in which order.

use super::*;
use glam::dvec2;
use params::{Cutting, Process};
use plate::{Cut, Engraving};
use proptest::prelude::*;

fn machine(process: Process) -> Machine {
    Machine::new(&Cutting { process, ..Cutting::default() })
}

fn panel() -> Plate {
    let mut plate = Plate::new(Contour::rectangle(dvec2(0., 0.), dvec2(300., 200.)), 8.0);
    plate.cuts.push(Cut::through(Contour::rounded_rectangle(
        dvec2(50., 50.),
        dvec2(150., 90.),
        8.0,
    )));
    plate.cuts.push(Cut::through(Contour::circle(dvec2(250., 100.), 20.0)));
    plate.cuts.push(Cut::pocket(
        Contour::slot(dvec2(200., 20.), dvec2(200., 180.), 4.0),
        Face::Top,
        3.0,
    ));
    plate
        .engravings
        .push(Engraving { face: Face::Top, strokes: vec![vec![dvec2(10., 10.), dvec2(30., 10.)]] });
    plate
}

#[test]
fn the_outline_comes_last_and_engraving_first() {
    let (_, operations) = operations_of(&machine(Process::Router), &panel()).unwrap();
    let kinds: Vec<OperationKind> = operations.iter().map(|operation| operation.kind).collect();
    use OperationKind::{Engrave, Hole, Inside, Outline, Pocket};
    assert_eq!(kinds, [Engrave, Pocket, Hole, Inside, Outline]);
    assert!(operations.iter().all(|operation| !operation.tool.is_empty()));
}

#[test]
fn a_laser_makes_no_floor_and_a_saw_only_sides() {
    let (_, operations) = operations_of(&machine(Process::Laser), &panel()).unwrap();
    assert!(operations.iter().all(|o| o.tool.is_empty() == (o.kind == OperationKind::Pocket)));
    let (_, operations) = operations_of(&machine(Process::Saw), &panel()).unwrap();
    for operation in operations {
        let sides = if operation.kind == OperationKind::Outline { 4 } else { 0 };
        assert_eq!(operation.tool.len(), sides, "{:?}", operation.kind);
    }
    // The blade runs outside of the part.
    let (_, operations) = operations_of(&machine(Process::Saw), &panel()).unwrap();
    let CutPath::Open(side) = &operations.last().unwrap().tool[0] else { panic!("a line") };
    assert_eq!(side[..], [dvec2(0.0, -1.5), dvec2(300.0, -1.5)]);
}

/// The same pocket from either face, seen from the side of the tool: around its floor the way runs clockwise, so that the
/// part lies on its left.
#[test]
fn the_cutter_turns_against_the_feed_from_both_faces() {
    for face in [Face::Top, Face::Bottom] {
        let mut plate = Plate::new(Contour::rectangle(dvec2(0., 0.), dvec2(300., 200.)), 8.0);
        let floor = Contour::rounded_rectangle(dvec2(50., 50.), dvec2(150., 120.), 8.0);
        plate.cuts.push(Cut::pocket(floor, face, 3.0));
        let (_, operations) = operations_of(&machine(Process::Router), &plate).unwrap();
        let pocket = operations.iter().find(|o| o.kind == OperationKind::Pocket).unwrap();
        assert!(pocket.tool.len() > 5);
        for path in &pocket.tool {
            let CutPath::Closed(path) = path else { panic!("rounds are closed") };
            let is_mirrored = face == Face::Bottom;
            let seen = path.moved(|p| if is_mirrored { dvec2(-p.x, p.y) } else { p }, is_mirrored);
            assert!(seen.signed_area() < 0.0, "{face:?}");
            let turned: f64 =
                seen.0.iter().filter_map(|piece| piece.arc).map(|arc| arc.sweep).sum();
            assert!(turned <= 0.0, "{face:?}");
        }
    }
}

#[test]
fn only_convex_polygons_can_be_sawn() {
    let corners = [(0., 0.), (40., 0.), (40., 20.), (20., 20.), (20., 40.), (0., 40.)];
    assert!(!is_sawable(&Contour::polygon(&corners.map(|(x, y)| dvec2(x, y)))));
    assert!(!is_sawable(&Contour::rounded_rectangle(dvec2(0., 0.), dvec2(40., 20.), 3.0)));
    assert!(is_sawable(&Contour::polygon(&[dvec2(0., 0.), dvec2(40., 0.), dvec2(30., 20.)])));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// No point of a path is nearer to the edge that it leaves than the tool's radius, and every path lies beside it.
    #[test]
    fn the_tool_never_cuts_into_the_part(seed in 0..5000_u64) {
        let machine = machine(Process::Router);
        let made = operations_of(&machine, &plate::sample::plate(seed)).ok();
        // What falls into several pieces is no part: a design never asks for it.
        let is_one = |pattern: &FlatPattern| pattern.through.iter().filter(|c| c.signed_area() > 0.0).count() == 1;
        if let Some((pattern, operations)) = made.filter(|(pattern, _)| is_one(pattern)) {
            let edges: Vec<_> = pattern.through.iter().flat_map(|contour| &contour.0).collect();
            for operation in operations.iter().filter(|o| o.depth_mm >= 1.0 && o.pocket.is_none()) {
                for path in &operation.tool {
                    let CutPath::Closed(path) = path else { continue };
                    for piece in &path.0 {
                        for t in [0.0, 0.25, 0.5, 0.75] {
                            let p = piece.point_at(t);
                            let near = edges.iter().map(|edge| edge.distance(p)).fold(f64::INFINITY, f64::min);
                            prop_assert!(near > machine.radius_mm() - 0.003, "{seed}: {near} at {p}");
                        }
                    }
                }
            }
        }
    }
}
