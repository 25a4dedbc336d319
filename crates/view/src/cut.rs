//! A plane that cuts away what lies before it.

use glam::DVec3;

/// Which way the plane stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Across the sump: what lies nearer to the inlet end is cut away.
    Along,
    /// Along the sump: what lies nearer to the front is cut away.
    Front,
    /// Level: what lies higher is cut away.
    Up,
}

impl Axis {
    /// All.
    pub const ALL: [Self; 3] = [Self::Along, Self::Front, Self::Up];

    /// Words for a button.
    pub fn words(self) -> &'static str {
        match self {
            Self::Along => "across",
            Self::Front => "along",
            Self::Up => "level",
        }
    }

    /// Into what stays.
    fn inwards(self) -> DVec3 {
        match self {
            Self::Along => DVec3::X,
            Self::Front => DVec3::Y,
            Self::Up => -DVec3::Z,
        }
    }
}

/// So far before a sheet it is cut: not into it, mm.
const BEFORE_MM: f64 = 1.0;

/// The cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Which way it stands; `None`: nothing is cut.
    pub axis: Option<Axis>,
    /// How much is cut away, as a share of the size along the axis.
    pub share: f64,
    /// Whether the other side is cut away.
    pub is_flipped: bool,
}

impl Default for Cut {
    fn default() -> Self {
        Self { axis: None, share: 0.5, is_flipped: false }
    }
}

/// A plane: what stays is where `inwards · p ≥ least`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// Unit vector into what stays.
    pub inwards: DVec3,
    /// mm.
    pub least: f64,
}

impl Plane {
    /// Keeps everything that has finite coordinates.
    pub const NOWHERE: Self = Self { inwards: DVec3::ZERO, least: -1.0 };

    /// Whether a point stays.
    pub fn keeps(&self, p: DVec3) -> bool {
        self.least <= self.inwards.dot(p)
    }

    /// What stays of a box, if anything. The plane is square to an axis.
    pub fn keeps_of(&self, [mut lo, mut hi]: [DVec3; 2]) -> Option<[DVec3; 2]> {
        for axis in 0..3 {
            if self.inwards[axis] > 0.5 {
                lo[axis] = lo[axis].max(self.least);
            } else if self.inwards[axis] < -0.5 {
                hi[axis] = hi[axis].min(-self.least);
            }
        }
        lo.cmplt(hi).all().then_some([lo, hi])
    }
}

impl Cut {
    /// Cuts away what lies between an eye and a sheet that stands, looked at along an axis from `side` (from the sheet to the
    /// eye), within a sump that reaches from the origin to `outside`; nothing when no part of the sump is there.
    pub fn before(side: DVec3, [lo, hi]: [DVec3; 2], outside: DVec3) -> Self {
        let along = if side.x.abs() > 0.5 { Some((Axis::Along, 0)) } else { None };
        let across = if side.y.abs() > 0.5 { Some((Axis::Front, 1)) } else { None };
        let Some((axis, k)) = along.or(across) else { return Self::default() };
        let is_flipped = side[k] > 0.0;
        let at = if is_flipped { hi[k] + BEFORE_MM } else { lo[k] - BEFORE_MM };
        let share = at / outside[k].max(1.0);
        if (0.0..1.0).contains(&share) {
            Self { axis: Some(axis), share, is_flipped }
        } else {
            Self::default()
        }
    }

    /// Where it cuts through what lies between two corners.
    pub fn plane(&self, [lo, hi]: [DVec3; 2]) -> Plane {
        let Some(axis) = self.axis else { return Plane::NOWHERE };
        let share = self.share.clamp(0.0, 1.0);
        let inwards = axis.inwards();
        let ends = [lo, hi].map(|p| inwards.dot(p));
        let [from, to] = [ends[0].min(ends[1]), ends[0].max(ends[1])];
        let least = from + (to - from) * share;
        if self.is_flipped {
            Plane { inwards: -inwards, least: -least }
        } else {
            Plane { inwards, least }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec3;

    const BOX: [DVec3; 2] = [DVec3::ZERO, dvec3(900.0, 400.0, 300.0)];

    #[test]
    fn a_cut_keeps_one_side_and_flipped_the_other() {
        for axis in Axis::ALL {
            let cut = Cut { axis: Some(axis), share: 0.25, is_flipped: false };
            let [plane, other] = [cut, Cut { is_flipped: true, ..cut }].map(|c| c.plane(BOX));
            let volume = |[lo, hi]: [DVec3; 2]| (hi - lo).element_product();
            let share =
                |plane: Plane| volume(plane.keeps_of(BOX).expect("some stays")) / volume(BOX);
            assert!((share(plane) - 0.75).abs() < 1e-12, "{axis:?}");
            assert!((share(other) - 0.25).abs() < 1e-12, "{axis:?}");
            let [lo, hi] = plane.keeps_of(BOX).expect("some stays");
            assert!(plane.keeps(0.5 * (lo + hi)) && !other.keeps(0.5 * (lo + hi)));
        }
    }

    #[test]
    fn before_a_sheet_all_is_cut_away_and_nothing_before_an_outer_one() {
        let leaf = [dvec3(300.0, 10.0, 10.0), dvec3(310.0, 390.0, 250.0)];
        for side in [DVec3::X, -DVec3::X] {
            let plane = Cut::before(side, leaf, BOX[1]).plane(BOX);
            assert_eq!(plane.keeps_of(leaf), Some(leaf), "the leaf stays whole");
            let middle = dvec3(305.0, 200.0, 100.0);
            assert!(!plane.keeps(middle + 10.0 * side) && plane.keeps(middle - 10.0 * side));
        }
        let front = [dvec3(0.0, 0.0, 0.0), dvec3(900.0, 10.0, 300.0)];
        assert_eq!(Cut::before(-DVec3::Y, front, BOX[1]).axis, None);
        let behind = Cut::before(DVec3::Y, front, BOX[1]).plane(BOX);
        assert!(behind.keeps_of(front) == Some(front) && !behind.keeps(dvec3(1.0, 50.0, 1.0)));
    }

    #[test]
    fn without_a_cut_all_stays() {
        let plane = Cut::default().plane(BOX);
        assert_eq!(plane.keeps_of(BOX), Some(BOX));
        assert!(plane.keeps(dvec3(-1e6, 1e6, -1e6)));
    }

    #[test]
    fn of_what_is_cut_away_nothing_is_left() {
        let cut = Cut { axis: Some(Axis::Up), share: 0.9, is_flipped: false };
        let high = [dvec3(0.0, 0.0, 100.0), dvec3(10.0, 10.0, 200.0)];
        assert_eq!(cut.plane(BOX).keeps_of(high), None);
    }
}
