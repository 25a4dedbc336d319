//! The poses in which a limb is tried.

use core::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI, TAU};

use glam::{DQuat, DVec2, DVec3};

use super::antichain::Antichain;
use super::limb::{Limb, Link};
use super::obstacles::{Bar, Obstacles};
use super::shoulder::Shoulder;
use crate::world::{Door, Exits};

/// Steps from upright in which the first link is tipped, and steps around.
const TIPS: u32 = 4;
const TIP_STEP: f64 = PI / 12.0;
const AROUND: u32 = 8;
/// Steps in which a flat end is spun about the link; half a turn brings it back.
const SPINS: u32 = 4;
/// The same for the second link, from straight up to 30° below level.
const LIFTS: u32 = 4;
const LIFT_STEP: f64 = PI / 6.0;
const SIDES: u32 = 12;
/// Points of a door's opening that the second link is aimed at, along and across.
const AIMS: [u32; 2] = [5, 3];
/// How far above the floor fingers or the rim of a net still cover it, mm: they bend, spread and are swept about
/// (our judgement: half a finger's length).
const SWEPT_MM: f64 = 30.0;

/// A way in which the first link stands, seen from the middle of its end.
#[derive(Clone, Debug)]
pub(crate) struct Stance {
    /// Its bars, with the middle of the end at the origin.
    pub(crate) bars: Vec<Bar>,
    /// How far the lowest corner lies below the middle of the end.
    pub(crate) drop: f64,
    /// Half the box around its end, seen from above.
    pub(crate) half_end: DVec2,
    /// Unit vectors along breadth, thickness and length.
    axes: [DVec3; 3],
}

/// First links that point the same way, whatever their spin.
#[derive(Clone, Debug)]
pub(crate) struct Tip {
    /// Unit vector from what touches the floor to the joint.
    pub(crate) up: DVec3,
    /// One for every spin.
    pub(crate) stances: Vec<Stance>,
}

/// All first links, upright first.
pub(crate) fn tips(limb: &Limb) -> Vec<Tip> {
    let upright = core::iter::once(DQuat::IDENTITY);
    let tipped = (1..=TIPS).flat_map(|k| {
        around(AROUND).map(move |azimuth| {
            DQuat::from_rotation_z(azimuth) * DQuat::from_rotation_y(f64::from(k) * TIP_STEP)
        })
    });
    let tip = |turn: DQuat| Tip {
        up: turn * DVec3::Z,
        stances: (0..SPINS)
            .map(|k| Stance::new(limb, turn * DQuat::from_rotation_z(f64::from(k) * FRAC_PI_4)))
            .collect(),
    };
    upright.chain(tipped).map(tip).collect()
}

fn around(count: u32) -> impl Iterator<Item = f64> {
    (0..count).map(move |k| f64::from(k) * TAU / f64::from(count))
}

impl Stance {
    fn new(limb: &Limb, turn: DQuat) -> Self {
        let bars = limb.first.bars(turn);
        let axes = DVec3::AXES.map(|axis| turn * axis);
        let [breadth, thickness] = [axes[0] * limb.end[0], axes[1] * limb.end[1]];
        let half_end = (breadth.abs() + thickness.abs()).truncate();
        let drop = -bars.iter().fold(0.0, |least, bar| f64::min(least, bar.bounds()[0].z));
        Self { bars, drop, half_end, axes }
    }

    /// Whether its end covers a point of the floor that lies `off` from below the middle of the end. `slack` is added on
    /// every side of the end.
    pub(crate) fn covers(&self, off: DVec2, end: [f64; 2], slack: f64) -> bool {
        let [breadth, thickness, length] = self.axes;
        // The point of the end's plane above it, seen from the middle of the end.
        let point = off.extend(-off.dot(length.truncate()) / length.z);
        point.z + self.drop <= SWEPT_MM
            && point.dot(breadth).abs() <= end[0] + slack
            && point.dot(thickness).abs() <= end[1] + slack
    }
}

/// The second links: directions towards the shoulder, and how one knows that it is outside.
#[derive(Clone, Debug)]
pub(crate) struct Arms<'a> {
    exits: &'a Exits,
    shoulder: Shoulder,
    link: &'a Link,
    /// Half its greatest thickness.
    half: f64,
    /// Directions that are always tried, with the link's bars.
    fan: Vec<(DVec3, Vec<Bar>)>,
}

impl<'a> Arms<'a> {
    pub(crate) fn new(limb: &'a Limb, exits: &'a Exits, outside: [DVec2; 2], lean_mm: f64) -> Self {
        let tipped = |k: u32| {
            around(SIDES).map(move |azimuth| {
                DQuat::from_rotation_z(azimuth) * DQuat::from_rotation_y(f64::from(k) * LIFT_STEP)
            })
        };
        let link = &limb.second;
        let turns = core::iter::once(DQuat::IDENTITY).chain((1..=LIFTS).flat_map(tipped));
        let fan = turns.map(|turn| (turn * DVec3::Z, link.bars(turn))).collect();
        let half = link.half();
        let shoulder = Shoulder::new(exits, outside, lean_mm, half);
        Self { exits, shoulder, link, half, fan }
    }

    /// What must be gone for the second link, in all alternatives. `joint_least` is the direction of
    /// the first link and the least cosine to it.
    pub(crate) fn least(
        &self,
        joint: DVec3,
        joint_least: (DVec3, f64),
        obstacles: &Obstacles<'_>,
        recent: &mut usize,
    ) -> Antichain {
        let mut least = Antichain::default();
        let may = |direction: DVec3| {
            direction.dot(joint_least.0) >= joint_least.1
                && self.shoulder.may_be(joint + self.link.length * direction)
        };
        for (_, bars) in self.fan.iter().filter(|(direction, _)| may(*direction)) {
            if let Some(groups) = obstacles.blocking(bars, joint, recent) {
                least.add(groups);
                if least.is_free() {
                    return least;
                }
            }
        }
        let aims = self.exits.doors.iter().flat_map(|door| self.aims(door, joint));
        for turn in aims.filter(|direction| may(*direction)).map(turn_to) {
            if let Some(groups) = obstacles.blocking(&self.link.bars(turn), joint, recent) {
                least.add(groups);
                if least.is_free() {
                    return least;
                }
            }
        }
        least
    }

    /// Whether the shoulder can be where it may be at all, in whatever direction the second link goes.
    pub(crate) fn may_get_out(&self, joint: DVec3) -> bool {
        self.shoulder.may_be_near(joint, self.link.length)
    }

    /// Directions through points of a door's opening; straight out when the joint is beyond it.
    fn aims(&self, door: &'a Door, joint: DVec3) -> impl Iterator<Item = DVec3> {
        let is_beyond = door.out.dot(joint) >= door.beyond;
        let window = door.window;
        let [inner_u, inner_v] =
            [window.half_u, window.half_v].map(|half| f64::max(half - self.half, 0.0));
        let place = |k: u32, count: u32| 2.0 * f64::from(k) / f64::from(count - 1) - 1.0;
        let points = (0..AIMS[0] * AIMS[1]).map(move |k| {
            let u = inner_u * place(k % AIMS[0], AIMS[0]);
            let v = inner_v * place(k / AIMS[0], AIMS[1]);
            (window.centre + u * window.u + v * window.v - joint).normalize_or(door.out)
        });
        is_beyond.then_some(door.out).into_iter().chain(points.filter(move |_| !is_beyond))
    }
}

/// A turn that brings z to this direction: tipped, then swung round. The spin does not matter to what is round.
fn turn_to(direction: DVec3) -> DQuat {
    let level = direction.truncate().length();
    let azimuth = libm::atan2(direction.y, direction.x);
    let tip = FRAC_PI_2 - libm::atan2(direction.z, level);
    DQuat::from_rotation_z(azimuth) * DQuat::from_rotation_y(tip)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_point_where_they_should() {
        for direction in [DVec3::X, DVec3::NEG_Z, DVec3::Z, DVec3::new(1.0, -2.0, 0.5).normalize()]
        {
            assert!((turn_to(direction) * DVec3::Z).distance(direction) < 1e-12);
        }
    }

    #[test]
    fn tips_lean_up_to_60_degrees() {
        let tips = tips(&Limb::hand(&params::Reach::default()));
        assert_eq!(tips.len(), 33);
        let lowest = tips.iter().map(|tip| tip.up.z).fold(1.0, f64::min);
        assert!((lowest - 0.5).abs() < 1e-12);
    }

    #[test]
    fn an_upright_hand_covers_its_breadth_and_thickness() {
        let limb = Limb::hand(&params::Reach::default());
        let stance = &tips(&limb)[0].stances[0];
        assert!(stance.drop.abs() < 1e-12);
        assert!(stance.covers(DVec2::new(49.0, 27.0), limb.end, 0.0));
        assert!(!stance.covers(DVec2::new(51.0, 27.0), limb.end, 0.0));
        assert!(!stance.covers(DVec2::new(49.0, 28.0), limb.end, 0.0));
        // A quarter turn spun.
        let stance = &tips(&limb)[0].stances[2];
        assert!(stance.covers(DVec2::new(27.0, 49.0), limb.end, 0.0));
        assert!(!stance.covers(DVec2::new(49.0, 27.0), limb.end, 0.0));
    }

    #[test]
    fn a_tipped_end_covers_what_is_near_the_floor() {
        let limb = Limb::hand(&params::Reach::default());
        // Tipped by 60° towards x, its breadth that way: the far edge is up at 2 · 50 · sin 60° = 87 mm.
        let tip = tips(&limb).into_iter().find(|tip| tip.up.x > 0.86).expect("there is one");
        let stance = &tip.stances[0];
        assert!((stance.drop - 50.0 * libm::sin(PI / 3.0)).abs() < 1e-9);
        assert!(stance.covers(DVec2::new(24.0, 0.0), limb.end, 0.0));
        assert!(!stance.covers(DVec2::new(-24.0, 0.0), limb.end, 0.0));
    }
}
