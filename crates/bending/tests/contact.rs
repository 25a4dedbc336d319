//! Guards supports that only push: no pull, no way through, and the known cases at both ends.

mod common;

use bending::{Along, Bending, Error, Hold, Line, Plate, Point, Pressure, Side, Support, bend};
use common::{close, field, solved, unit};

/// A leaf against a frame on its front, on all four edges.
fn framed(a: f64, side: Side) -> Plate {
    unit(a, "FFFF").with_edges([Some(Support::Rest(side)); 4])
}

/// Of every node of every frame: it pushes, and the plate is not beyond it.
fn check_contact(bending: &Bending, side: Side) {
    let sign = if side == Side::Front { 1.0 } else { -1.0 };
    for field in &bending.fields {
        let deepest = field.deflection.value.abs();
        for (line, reaction) in bending.plate.lines.iter().zip(&field.reactions.lines) {
            if line.support != Support::Rest(side) {
                continue;
            }
            for (s, force) in reaction.s.iter().zip(&reaction.force) {
                let at = if line.along == Along::X { [*s, line.at] } else { [line.at, *s] };
                let w = bending.deflection_at(0, at).expect("on the plate");
                assert!(sign * force > -1e-6 * field.load.abs(), "pulled by {force} at {at:?}");
                assert!(sign * w < 1e-8 * deepest, "through the frame by {w} at {at:?}");
                assert!(force.abs() < 1e-6 || w.abs() < 1e-12, "pushed where it stands off");
            }
        }
        close(field.reactions.total, field.load, 1e-9);
    }
}

#[test]
fn a_leaf_pushed_onto_its_frame_lifts_its_corners_and_nothing_else() {
    for a in [1.0, 2.0] {
        let bending = solved(&framed(a, Side::Front), Pressure::uniform(1.0));
        check_contact(&bending, Side::Front);
        let held = field(&unit(a, "SSSS"), Pressure::uniform(1.0));
        let free = &bending.fields[0];
        let corner = bending.deflection_at(0, [0.0, 0.0]).expect("there");
        assert!(corner < 0.0, "corners lift: {corner}");
        let more = free.deflection.value / held.deflection.value;
        assert!(1.0 < more && more < 1.15, "{more}");
    }
}

#[test]
fn pushed_away_from_its_frame_it_moves() {
    let away = bend(&framed(1.0, Side::Front), &[vec![Pressure::uniform(-1.0)]]);
    assert!(matches!(away, Err(Error::Moves { .. })), "{away:?}");
    let other = solved(&framed(1.0, Side::Back), Pressure::uniform(-1.0));
    check_contact(&other, Side::Back);
    let front = solved(&framed(1.0, Side::Front), Pressure::uniform(1.0));
    close(other.fields[0].deflection.value, -front.fields[0].deflection.value, 1e-9);
}

/// A frame that is pressed everywhere is a hinge: a plate that cannot lift because it bends along one axis only.
#[test]
fn where_nothing_would_pull_a_frame_is_a_hinge() {
    let strip = |support: Support| {
        let mut plate = Plate::new([2.0, 1.0], 1e-3, 12e9, 0.0);
        plate = plate.with_edges([None, None, Some(support), Some(support)]);
        field(&plate, common::water())
    };
    let (rest, hinge) = (strip(Support::Rest(Side::Front)), strip(Support::Hinge));
    close(rest.deflection.value, hinge.deflection.value, 1e-9);
    close(rest.reactions.lines[0].total, hinge.reactions.lines[0].total, 1e-9);
}

/// A door on two screws near its upper edge, pressed onto the frame around its opening; and away from it, where the
/// screws alone would let it turn.
#[test]
fn a_door_on_two_screws() {
    let mut door = framed(1.0, Side::Front);
    for x in [0.2, 0.8] {
        door.points.push(Point { at: [x, 0.85], hold: Hold::Rigid });
    }
    let bending = solved(&door, common::water());
    check_contact(&bending, Side::Front);
    let away = bend(&door, &[vec![Pressure::water(-1.0, 1.0)]]);
    // The upper edge levers against the frame when the lower one is pulled off.
    let away = away.expect("it levers on its upper edge");
    check_contact(&away, Side::Front);
    assert!(away.fields[0].reactions.lines[3].total > 0.0);
    assert!(away.fields[0].reactions.points.iter().all(|force| *force < 0.0));
    assert!(away.deflection_at(0, [0.5, 0.0]).expect("there") < 0.0);
}

/// One stop under the middle of a hinged plate: pressed on, it is a support; pulled off, it is not there.
#[test]
fn a_stop_in_the_middle() {
    let with = |hold: Option<Hold>, p: f64| {
        let mut plate = unit(1.0, "SSSS");
        plate.points.extend(hold.map(|hold| Point { at: [0.5, 0.5], hold }));
        field(&plate, Pressure::uniform(p))
    };
    let stop = Some(Hold::Rest(Side::Front));
    let (on, rigid) = (with(stop, 1.0), with(Some(Hold::Rigid), 1.0));
    close(on.reactions.points[0], rigid.reactions.points[0], 1e-9);
    let (off, none) = (with(stop, -1.0), with(None, -1.0));
    close(off.deflection.value, none.deflection.value, 1e-5);
    assert!(off.reactions.points[0].abs() < 1e-12);
}

/// A leaf held by guides at the sides, resting on a divider behind it that it lifts off above.
#[test]
fn a_divider_it_partly_lifts_from() {
    let mut leaf = unit(2.0, "SSSF");
    let support = Support::Rest(Side::Front);
    leaf.lines.push(Line { along: Along::Y, at: 0.8, span: [0.0, 1.0], support });
    // Water in front of the divider on one side, behind it on the other.
    let left = bending::Rect { x: [0.0, 0.8], y: [0.0, 1.0] };
    let right = bending::Rect { x: [0.8, 2.0], y: [0.0, 1.0] };
    let case =
        vec![Pressure::water(-1.0, 1.0).within(left), Pressure::water(0.6, 1.0).within(right)];
    let bending = bend(&leaf, &[case]).expect("it settles");
    check_contact(&bending, Side::Front);
    assert!(bending.fields[0].reactions.lines[3].total >= 0.0);
}
