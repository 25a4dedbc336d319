//! The ways that a person tries first.

use glam::{DQuat, DVec3};

use crate::motion::{Motion, Rigid};
use crate::plan::Body;
use crate::world::{Exits, Window};

/// Angles by which a part is tipped or turned, degrees.
const ANGLES_DEG: [f64; 6] = [15.0, 30.0, 45.0, 60.0, 75.0, 90.0];

/// Out at every opening of the rim: straight, or tipped or turned on the way; and out at every door.
pub(super) fn tries(body: &Body, exits: &Exits) -> Vec<Vec<Motion>> {
    let mut tries = Vec::new();
    for window in &exits.rim {
        tries.push(through(body, exits, window, DQuat::IDENTITY));
        for degrees in ANGLES_DEG.into_iter().flat_map(|deg| [deg, -deg]) {
            for axis in [DVec3::X, DVec3::Y, DVec3::Z] {
                let turn = DQuat::from_axis_angle(axis, degrees.to_radians());
                tries.push(through(body, exits, window, turn));
            }
        }
    }
    if exits.rim.is_empty() || exits.rim_z <= body.bounds[0].z {
        tries.extend(exits.doors.iter().map(|door| {
            let back = body.least_along(&Rigid::HOME, door.out);
            vec![Motion::slide(Rigid::HOME, door.out * (door.beyond - back).max(1.0))]
        }));
    }
    tries
}

/// Raised until it can be turned above the floor, turned, brought under the opening, and raised through it.
fn through(body: &Body, exits: &Exits, window: &Window, turn: DQuat) -> Vec<Motion> {
    let mut way = Vec::new();
    let mut at = Rigid::HOME;
    let push = |motion: Motion, way: &mut Vec<Motion>| {
        way.push(motion);
        motion.to
    };
    if turn != DQuat::IDENTITY {
        let turned = at.turned(turn, body.middle(&at));
        let sinks = body.least_along(&at, DVec3::Z) - body.least_along(&turned, DVec3::Z);
        if 0.0 < sinks {
            at = push(Motion::slide(at, DVec3::Z * sinks), &mut way);
        }
        at = push(Motion::turn(at, turn, body.middle(&at)), &mut way);
    }
    let aside = (window.centre - body.middle(&at)).with_z(0.0);
    // Only as far as it has to: a part that is under the opening goes straight up.
    let aside = DVec3::new(
        beyond(aside.x, window.half_u - half(body, &at, DVec3::X)),
        beyond(aside.y, window.half_v - half(body, &at, DVec3::Y)),
        0.0,
    );
    if 0.0 < aside.length() {
        at = push(Motion::slide(at, aside), &mut way);
    }
    let rise = exits.rim_z - body.least_along(&at, DVec3::Z) + 1.0;
    if 0.0 < rise {
        push(Motion::slide(at, DVec3::Z * rise), &mut way);
    }
    way
}

/// Half the part's length along an axis.
fn half(body: &Body, at: &Rigid, axis: DVec3) -> f64 {
    -0.5 * (body.least_along(at, axis) + body.least_along(at, -axis))
}

/// What of `value` is beyond the play on its side; all of it where there is none.
fn beyond(value: f64, play: f64) -> f64 {
    value - value.clamp(-play.max(0.0), play.max(0.0))
}
