//! Placed parts as boxes along the sump's axes, and where two of them meet. Every pose turns by right angles only.

use glam::{DAffine3, DVec3};

use crate::model::{Design, Placed, PlacedId};

/// A box along the axes, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    /// Least corner.
    pub lo: DVec3,
    /// Greatest corner.
    pub hi: DVec3,
}

impl Block {
    /// The least box around `lo` and `hi` moved by a pose along the axes.
    pub fn moved(pose: &DAffine3, [lo, hi]: [DVec3; 2]) -> Self {
        let (p, q) = (pose.transform_point3(lo), pose.transform_point3(hi));
        Self { lo: p.min(q), hi: p.max(q) }
    }

    /// Its size; negative along an axis where [`Block::shared`] of two apart has none.
    pub fn size(&self) -> DVec3 {
        self.hi - self.lo
    }

    /// Its middle.
    pub fn middle(&self) -> DVec3 {
        0.5 * (self.lo + self.hi)
    }

    /// What two cover, touching included; of two that stand apart, the gap, with a negative size.
    pub fn shared(&self, other: &Self) -> Self {
        Self { lo: self.lo.max(other.lo), hi: self.hi.min(other.hi) }
    }

    /// What it passes while it moves by `way`.
    pub fn swept(&self, way: DVec3) -> Self {
        Self { lo: self.lo.min(self.lo + way), hi: self.hi.max(self.hi + way) }
    }

    /// The box grown by `mm` on all sides.
    pub fn grown(&self, mm: f64) -> Self {
        Self { lo: self.lo - mm, hi: self.hi + mm }
    }

    /// Whether a straight line from `p` to `q` goes through it (the slab method).
    pub fn is_hit(&self, p: DVec3, q: DVec3) -> bool {
        let way = q - p;
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for k in 0..3 {
            if way[k].abs() < 1e-12 {
                if p[k] <= self.lo[k] || self.hi[k] <= p[k] {
                    return false;
                }
                continue;
            }
            let (a, b) = ((self.lo[k] - p[k]) / way[k], (self.hi[k] - p[k]) / way[k]);
            from = from.max(a.min(b));
            to = to.min(a.max(b));
        }
        from < to
    }

    /// The farthest place along a unit vector that lies along an axis.
    pub fn reach(&self, along: DVec3) -> f64 {
        self.lo.dot(along).max(self.hi.dot(along))
    }
}

impl Design {
    /// The box around a placed piece, in the sump's frame.
    pub fn block(&self, placed: PlacedId) -> Block {
        let Placed { piece, pose, .. } = &self.placed[placed];
        Block::moved(pose, self.pieces[*piece].shape.bounds())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::{DMat3, dvec3};

    #[test]
    fn a_turned_box_keeps_its_sides_along_the_axes() {
        let pose = DAffine3::from_mat3_translation(
            DMat3::from_cols(-DVec3::X, DVec3::Z, DVec3::Y),
            dvec3(800.0, 0.0, 8.0),
        );
        let block = Block::moved(&pose, [DVec3::ZERO, dvec3(800.0, 300.0, 8.0)]);
        assert_eq!(block, Block { lo: dvec3(0.0, 0.0, 8.0), hi: dvec3(800.0, 8.0, 308.0) });
    }

    #[test]
    fn what_is_apart_shares_less_than_nothing() {
        let a = Block { lo: DVec3::ZERO, hi: DVec3::ONE };
        let b = Block { lo: dvec3(3.0, 0.0, 0.0), hi: dvec3(4.0, 1.0, 1.0) };
        assert_eq!(a.shared(&b).size(), dvec3(-2.0, 1.0, 1.0));
    }

    #[test]
    fn a_line_beside_a_box_does_not_hit_it() {
        let block = Block { lo: DVec3::ZERO, hi: dvec3(10.0, 10.0, 10.0) };
        assert!(block.is_hit(dvec3(-5.0, 5.0, 5.0), dvec3(15.0, 5.0, 5.0)));
        assert!(block.is_hit(dvec3(-1.0, 5.0, 5.0), dvec3(5.0, 11.0, 5.0)));
        assert!(!block.is_hit(dvec3(-5.0, 11.0, 5.0), dvec3(15.0, 11.0, 5.0)));
        assert!(!block.is_hit(dvec3(-5.0, 5.0, 5.0), dvec3(-1.0, 5.0, 5.0)));
        // Along a face is beside it.
        assert!(!block.is_hit(dvec3(-5.0, 10.0, 5.0), dvec3(15.0, 10.0, 5.0)));
    }
}
