//! Guards how a way is told.

use glam::{DQuat, DVec3, dvec3};

use super::*;
use crate::motion::Rigid;

fn home() -> Rigid {
    Rigid::HOME
}

fn slide(x: f64, y: f64, z: f64) -> Motion {
    Motion::slide(home(), dvec3(x, y, z))
}

fn turn(axis: DVec3, degrees: f64) -> Motion {
    let by = DQuat::from_axis_angle(axis.normalize(), degrees.to_radians());
    Motion::turn(home(), by, dvec3(10.0, 20.0, 30.0))
}

#[track_caller]
fn check(motion: Motion, kind: MoveKind, words: &str) {
    assert_eq!(kind_and_words(&motion, System::Metric, false), (kind, words.to_owned()));
}

#[test]
fn slides() {
    check(slide(0.0, 0.0, 40.0), MoveKind::Raise, "raise it 40 mm");
    check(slide(0.0, 0.0, -7.26), MoveKind::Lower, "lower it 7.3 mm");
    check(slide(-120.4, 0.0, 0.0), MoveKind::Slide, "slide it 120 mm towards the inlet end");
    check(
        slide(30.0, -60.0, 0.0),
        MoveKind::Slide,
        "slide it 60 mm towards the front and 30 mm towards the far end",
    );
    check(
        slide(0.0, 20.0, 40.0),
        MoveKind::SlideSlanting,
        "raise it 40 mm while you slide it 20 mm towards the back",
    );
    // Three degrees off an axis are along it to a person.
    check(slide(2.0, 0.0, 100.0), MoveKind::Raise, "raise it 100 mm");
}

#[test]
fn turns() {
    check(turn(DVec3::Z, -40.0), MoveKind::Turn, "turn it 40° clockwise, seen from above");
    check(turn(DVec3::Z, 2.6), MoveKind::Turn, "turn it 2.5° anticlockwise, seen from above");
    // About the axis from front to back a positive turn brings what is above towards the far end.
    check(turn(DVec3::Y, 35.0), MoveKind::Tip, "tip its top 35° towards the far end");
    check(turn(DVec3::Y, -35.0), MoveKind::Tip, "tip its top 35° towards the inlet end");
    check(turn(DVec3::X, 35.0), MoveKind::Tip, "tip its top 35° towards the front");
    check(
        turn(dvec3(1.0, -0.5, 0.0), 35.0),
        MoveKind::Tip,
        "tip its top 35° towards the corner of the front and the inlet end, 27° off the front",
    );
    check(
        turn(dvec3(1.0, 0.0, 1.0), 35.0),
        MoveKind::TurnWhileSliding,
        "tip its top 25° towards the corner of the front and the inlet end, 13° off the front while you turn it 25° anticlockwise, seen from above",
    );
}

/// Of what lies flat an edge goes up, until it stands.
#[test]
fn what_lies_is_lifted_by_an_edge() {
    let said = |motion: Motion| kind_and_words(&motion, System::Metric, true).1;
    assert_eq!(said(turn(DVec3::X, 45.0)), "lift its back edge 45°");
    assert_eq!(said(turn(DVec3::X, -45.0)), "lift its front edge 45°");
    assert_eq!(said(turn(DVec3::Y, 30.0)), "lift its edge at the inlet end 30°");
    assert_eq!(
        said(turn(dvec3(1.0, -0.5, 0.0), 35.0)),
        "lift its side towards the corner of the back and the far end, 27° off the back, 35°"
    );
    let stood = turn(DVec3::X, 80.0).to;
    let by = DQuat::from_axis_angle(DVec3::X, 0.1);
    assert_eq!(said(Motion::turn(stood, by, DVec3::ZERO)), "tip its top 5.5° towards the front");
    // The edge that is said to be lifted goes up.
    let back = dvec3(10.0, 120.0, 30.0);
    let motion = turn(DVec3::X, 45.0);
    assert!(0.0 < (motion.to.apply(back) - back).z);
    assert!(is_flat([DVec3::ZERO, dvec3(100.0, 200.0, 40.0)]));
    assert!(!is_flat([DVec3::ZERO, dvec3(8.0, 200.0, 300.0)]));
}

/// A slanting turn is the tip and the turn that it is told as, one after the other.
#[test]
fn a_slanting_turn_is_its_parts() {
    let whole = DQuat::from_axis_angle(dvec3(1.0, 0.0, 1.0).normalize(), 35_f64.to_radians());
    let tip_axis = DQuat::from_rotation_z(-12.5_f64.to_radians()) * DVec3::X;
    let tip = DQuat::from_axis_angle(tip_axis, 24.55_f64.to_radians());
    let parts = DQuat::from_rotation_z(25.15_f64.to_radians()) * tip;
    assert!(whole.angle_between(parts).to_degrees() < 0.5, "{whole} {parts}");
}

/// What is said of the top must be where a point above the pivot goes.
#[test]
fn the_top_goes_where_it_is_said_to() {
    let above = dvec3(10.0, 20.0, 130.0);
    let gone = |motion: Motion| motion.to.apply(above) - above;
    assert!(0.0 < gone(turn(DVec3::Y, 35.0)).x);
    assert!(gone(turn(DVec3::X, 35.0)).y < 0.0);
}

#[test]
fn both_at_once() {
    let by = DQuat::from_axis_angle(DVec3::Y, -0.5);
    let pivot = dvec3(10.0, 20.0, 30.0);
    let to = home().turned(by, pivot).moved(dvec3(0.0, 0.0, 55.0));
    let motion = Motion { from: home(), to, pivot };
    check(
        motion,
        MoveKind::TurnWhileSliding,
        "tip its top 29° towards the inlet end while you raise it 55 mm",
    );
    let by = DQuat::from_axis_angle(DVec3::Z, -0.5);
    let to = home().turned(by, pivot).moved(dvec3(0.0, 0.0, 55.0));
    let motion = Motion { from: home(), to, pivot };
    check(
        motion,
        MoveKind::TurnWhileSliding,
        "turn it 29° clockwise, seen from above, while you raise it 55 mm",
    );
}

#[test]
fn a_way_has_times_and_an_end() {
    let first = slide(0.0, 0.0, 100.0);
    let by = DQuat::from_axis_angle(DVec3::X, 45_f64.to_radians());
    let second = Motion::turn(first.to, by, first.to.apply(DVec3::ZERO));
    let third = Motion::slide(second.to, dvec3(0.0, -254.0, 0.0));
    let moves = tell(&[first, second, third], System::UsCustomary, "out of the cabinet", false);
    let told: Vec<&str> = moves.iter().map(|m| m.words.as_str()).collect();
    assert_eq!(
        told,
        [
            "raise it 3 7/8 in",
            "tip its top 45° towards the front",
            "slide it 10 in towards the front, out of the cabinet"
        ]
    );
    let times: Vec<(f64, f64)> = moves.iter().map(|m| (m.begin_s, m.end_s)).collect();
    for ((begin, end), known) in times.iter().zip([(0.0, 2.0), (2.5, 4.0), (4.5, 9.58)]) {
        assert!((begin - known.0).abs() < 1e-9 && (end - known.1).abs() < 1e-9, "{times:?}");
    }
}

#[test]
fn inches_are_those_of_a_rule() {
    let told = |inches: f64| length(inches * 25.4, System::UsCustomary);
    let cases = [(3.5, "3 1/2 in"), (3.52, "3 1/2 in"), (0.19, "3/16 in"), (0.97, "1 in")];
    for (inches, words) in cases.into_iter().chain([(12.0, "12 in"), (0.01, "less than 1/16 in")]) {
        assert_eq!(told(inches), words);
    }
}

/// A wall is not left out but opened, a pipe from above made a hose, a bought thing chosen and not made smaller.
#[test]
fn cures_are_what_people_do() {
    use crate::way::Cure;
    use design::{RemovableKind, SurroundingKind};
    let text = include_str!("../../../../params/seahorse.toml");
    let file = params::read(text).file.expect("it reads");
    let mut design = design::resolve(&file).design.expect("it resolves");
    design.report = System::Metric;
    let first = design.placed.len() + design.spares.len();
    let around = design.surroundings.as_mut().expect("it has a cabinet");
    let wall = around.things.iter().position(|thing| thing.name.contains("front wall"));
    let wall = wall.expect("it has a front wall");
    let pipe = usize::from(wall == 0);
    around.things[pipe].kind = SurroundingKind::PipeAbove;
    around.things[pipe].parameter = "drain[0].above".to_owned();
    let said = |design: &design::Design, k: usize| {
        cure(&Cure::Without { thing: first + k, name: "it".to_owned() }, 0, design)
    };
    let told = said(&design, wall);
    assert!(
        told.contains("the opening in `it` is wider or higher (`cabinet.opening[0]`"),
        "{told}"
    );
    let told = said(&design, pipe);
    assert!(told.contains("(`drain[0].above = \"hose\"`)"), "{told}");
    for (kind, words) in [
        (RemovableKind::Leaf, "it comes out if it is 40 mm shorter"),
        (RemovableKind::Sock, "it comes out if another is chosen that is 40 mm shorter"),
    ] {
        design.removables[0].kind = kind;
        let told = cure(&Cure::Smaller { by_mm: 40.0 }, 0, &design);
        assert!(told.starts_with(words), "{told}");
    }
}
