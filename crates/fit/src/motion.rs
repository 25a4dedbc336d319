//! Rigid displacements of a part from its place, and plain motions between two of them.

use glam::{DQuat, DVec3};
use serde::Serialize;

/// Where a part is, told by how it was displaced from its place: `p ↦ turn · p + shift` for every point
/// `p` of the part in its place, in the sump's frame.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Rigid {
    /// Unit quaternion x, y, z, w.
    pub turn: DQuat,
    /// mm.
    pub shift: DVec3,
}

impl Rigid {
    /// In its place.
    pub const HOME: Self = Self { turn: DQuat::IDENTITY, shift: DVec3::ZERO };

    /// Where a point of the part goes.
    pub fn apply(&self, home: DVec3) -> DVec3 {
        self.turn * home + self.shift
    }

    /// Moved on by `by`.
    #[must_use]
    pub fn moved(&self, by: DVec3) -> Self {
        Self { shift: self.shift + by, ..*self }
    }

    /// Turned on about a fixed point of the sump.
    #[must_use]
    pub fn turned(&self, by: DQuat, about: DVec3) -> Self {
        Self { turn: (by * self.turn).normalize(), shift: about + by * (self.shift - about) }
    }

    /// The point of the part in its place that is now here.
    pub fn home_of(&self, here: DVec3) -> DVec3 {
        self.turn.inverse() * (here - self.shift)
    }
}

/// A motion over `t` from 0 to 1: one point of the part, the pivot, goes straight, while the part turns about it at
/// a constant rate, the short way round.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Motion {
    /// Where it begins.
    pub from: Rigid,
    /// Where it ends.
    pub to: Rigid,
    /// The point that goes straight, given in the part's place.
    pub pivot: DVec3,
}

impl Motion {
    /// A slide.
    pub fn slide(from: Rigid, by: DVec3) -> Self {
        Self { from, to: from.moved(by), pivot: DVec3::ZERO }
    }

    /// A turn about a fixed point of the sump.
    pub fn turn(from: Rigid, by: DQuat, about: DVec3) -> Self {
        Self { from, to: from.turned(by, about), pivot: from.home_of(about) }
    }

    /// Where the part is at `t`.
    pub fn at(&self, t: f64) -> Rigid {
        let turn = between(self.from.turn, self.to.turn, t);
        let pivot = self.from.apply(self.pivot).lerp(self.to.apply(self.pivot), t);
        Rigid { turn, shift: pivot - turn * self.pivot }
    }

    /// How far it turns, rad.
    pub fn angle(&self) -> f64 {
        angle(self.from.turn, self.to.turn)
    }

    /// How far the pivot goes, mm.
    pub fn distance(&self) -> f64 {
        self.from.apply(self.pivot).distance(self.to.apply(self.pivot))
    }

    /// The same backwards.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Self { from: self.to, to: self.from, pivot: self.pivot }
    }
}

/// Angle between two turns, rad, from 0 to π. By the arc tangent: the arc cosine loses small angles.
fn angle(a: DQuat, b: DQuat) -> f64 {
    let d = a.inverse() * b;
    2.0 * libm::atan2(d.xyz().length(), d.w.abs())
}

/// The turn at share `t` of the way from `a` to `b` at a constant rate, the short way round.
///
/// Exact for small angles too, where library versions fall back to a straight line: a motion must be the same
/// to whoever plays or checks it.
fn between(a: DQuat, b: DQuat, t: f64) -> DQuat {
    let d = a.inverse() * b;
    let d = if d.w < 0.0 { -d } else { d };
    let sine = d.xyz().length();
    if sine < 1e-15 {
        return a;
    }
    let half = libm::atan2(sine, d.w) * t;
    let axis = d.xyz() * (libm::sin(half) / sine);
    (a * DQuat::from_xyzw(axis.x, axis.y, axis.z, libm::cos(half))).normalize()
}
