//! Where the shoulder of whoever reaches in may be.

use glam::{DVec2, DVec3};

use crate::world::{Door, Exits};

/// An opening takes head and shoulders when it is at least so wide: the breadth of most men's shoulders (bideltoid,
/// 95th percentile, about 530 mm in anthropometric surveys, from memory), a little turned.
const SHOULDERS_MM: f64 = 500.0;
/// And when it is at least so high above the sump's rim: a head, chin to crown about 250 mm (95th percentile of men,
/// from memory), with a hand's breadth to move it.
const HEAD_MM: f64 = 300.0;

/// Out of one of the cabinet's openings, or leant in through one that takes head and shoulders; of a sump that stands free,
/// above its rim or beside it.
#[derive(Clone, Debug)]
pub(crate) struct Shoulder {
    doors: Vec<Sill>,
    rim_z: f64,
    /// The sump's outer corners seen from above, with half an arm around.
    beside: [DVec2; 2],
}

/// An opening, and the plane up to which the shoulder comes in through it.
#[derive(Clone, Copy, Debug)]
struct Sill {
    door: Door,
    /// The shoulder is far enough out where `out · p` is at least this, mm.
    plane: f64,
}

impl Shoulder {
    /// `lean_mm`: how far in it may come; `half_arm_mm`: half the thickness of its arm.
    pub(crate) fn new(
        exits: &Exits,
        [min, max]: [DVec2; 2],
        lean_mm: f64,
        half_arm_mm: f64,
    ) -> Self {
        let sill = |door: &Door| {
            let lean = if takes_shoulders(door, exits.rim_z) { lean_mm } else { 0.0 };
            Sill { door: *door, plane: door.beyond - lean }
        };
        let doors = exits.doors.iter().map(sill).collect();
        Self { doors, rim_z: exits.rim_z, beside: [min - half_arm_mm, max + half_arm_mm] }
    }

    /// Whether it may be here.
    pub(crate) fn may_be(&self, shoulder: DVec3) -> bool {
        if self.doors.is_empty() {
            let [min, max] = self.beside;
            let seen = shoulder.truncate();
            return seen.cmplt(min).any() || seen.cmpgt(max).any() || shoulder.z >= self.rim_z;
        }
        self.doors.iter().any(|sill| {
            let out = sill.door.out.dot(shoulder);
            let is_in_line = || {
                let window = &sill.door.window;
                let off = shoulder - window.centre;
                off.dot(window.u).abs() <= window.half_u
                    && off.dot(window.v).abs() <= window.half_v
                    && shoulder.z >= self.rim_z
            };
            out >= sill.door.beyond || (out >= sill.plane && is_in_line())
        })
    }

    /// Whether it may be anywhere within this distance of a point.
    pub(crate) fn may_be_near(&self, point: DVec3, distance_mm: f64) -> bool {
        let reaches = |sill: &Sill| sill.door.out.dot(point) + distance_mm >= sill.plane;
        self.doors.is_empty() || self.doors.iter().any(reaches)
    }
}

/// Whether head and shoulders go through a door above the rim.
fn takes_shoulders(door: &Door, rim_z: f64) -> bool {
    let window = &door.window;
    let level = DVec3::Z.cross(door.out).abs();
    let half = window.half_u * window.u + window.half_v * window.v;
    let wide = 2.0 * half.abs().dot(level);
    let top =
        window.centre.z + (window.half_u * window.u).z.abs() + (window.half_v * window.v).z.abs();
    wide >= SHOULDERS_MM && top - rim_z >= HEAD_MM
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::world::Window;

    fn exits(width: f64, top: f64) -> Exits {
        let window = Window {
            centre: DVec3::new(500.0, -60.0, 0.5 * top),
            u: DVec3::X,
            v: DVec3::Z,
            half_u: 0.5 * width,
            half_v: 0.5 * top,
        };
        let door = Door { window, out: -DVec3::Y, beyond: 60.0 };
        let room = [DVec3::ZERO, DVec3::splat(1000.0)];
        Exits { rim_z: 400.0, rim: Vec::new(), doors: vec![door], room }
    }

    #[test]
    fn one_leans_in_where_head_and_shoulders_pass_and_not_elsewhere() {
        let leant = DVec3::new(500.0, 150.0, 550.0);
        let may = |width, top, shoulder| {
            Shoulder::new(&exits(width, top), [DVec2::ZERO, DVec2::splat(900.0)], 250.0, 60.0)
                .may_be(shoulder)
        };
        assert!(may(600.0, 750.0, leant));
        assert!(!may(450.0, 750.0, leant), "narrower than shoulders");
        assert!(!may(600.0, 650.0, leant), "no room for a head above the rim");
        assert!(!may(600.0, 750.0, leant + 100.0 * DVec3::Y), "farther in than one leans");
        assert!(!may(600.0, 750.0, leant - 200.0 * DVec3::Z), "in the sump");
        assert!(!may(600.0, 750.0, leant + 350.0 * DVec3::X), "behind the panel beside the door");
        assert!(may(450.0, 650.0, DVec3::new(500.0, -70.0, 300.0)), "outside");
    }
}
