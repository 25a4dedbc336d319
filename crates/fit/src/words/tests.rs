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
    assert_eq!(kind_and_words(&motion, System::Metric), (kind, words.to_owned()));
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
        "tip its top 35° towards the front and the inlet end",
    );
    check(
        turn(dvec3(1.0, 0.0, 1.0), 35.0),
        MoveKind::TurnWhileSliding,
        "turn it 35° aslant, its top towards the front and anticlockwise seen from above",
    );
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
    let moves = tell(&[first, second, third], System::UsCustomary, "out of the cabinet");
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
