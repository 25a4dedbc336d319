//! One convex piece of a body.

use glam::DVec3;
use plate::hull;

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

    /// What is swept between two heights by the hull of points seen from above, at least three that are not in one line.
    pub fn prism(points: impl Iterator<Item = DVec3>, [low, high]: [f64; 2]) -> Self {
        let outline = hull(points.map(|p| p.truncate()).collect());
        Self::new([low, high].iter().flat_map(|z| outline.iter().map(|p| p.extend(*z))).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_prism_has_the_corners_of_the_outline_only() {
        let inside = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0), (2.0, 0.0), (1.0, 1.0)];
        let prism = Convex::prism(inside.iter().map(|(x, y)| DVec3::new(*x, *y, 7.0)), [1.0, 2.0]);
        let block = Convex::block([DVec3::new(0.0, 0.0, 1.0), DVec3::new(4.0, 3.0, 2.0)]);
        assert_eq!(prism.points.len(), block.points.len());
        assert!(block.points.iter().all(|p| prism.points.contains(p)));
    }
}
