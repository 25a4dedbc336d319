//! One convex piece of a body.

use glam::DVec3;

/// The convex hull of its points.
#[derive(Clone, Debug, PartialEq)]
pub struct Convex {
    /// Its corners, mm. Points inside the hull do no harm.
    pub points: Vec<DVec3>,
    /// Least corner of the box around it.
    pub min: DVec3,
    /// Greatest corner.
    pub max: DVec3,
}

impl Convex {
    /// The hull of these points, at least one.
    pub fn new(points: Vec<DVec3>) -> Self {
        let start = (DVec3::INFINITY, DVec3::NEG_INFINITY);
        let (min, max) = points.iter().fold(start, |(lo, hi), p| (lo.min(*p), hi.max(*p)));
        Self { points, min, max }
    }

    /// A box along the axes.
    pub fn block([min, max]: [DVec3; 2]) -> Self {
        let corner = |i: u8| {
            let pick = |bit: u8, k: usize| if i & bit == 0 { min[k] } else { max[k] };
            DVec3::new(pick(1, 0), pick(2, 1), pick(4, 2))
        };
        Self { points: (0..8).map(corner).collect(), min, max }
    }
}
