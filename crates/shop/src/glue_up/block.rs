//! Parts as boxes along the axes: every pose of a sump turns by right angles only.
//!
//! What is cut out of a part counts as material, but for pockets and openings that another part goes into. So what is
//! found free is free; something that passes only through an opening is not found.

use design::{Piece, Placed};
use glam::{DAffine3, DVec3};
use plate::{Cut, Face, Shape};

/// What touches by less than this does not overlap, mm.
pub(super) const TOUCH_MM: f64 = 0.05;
/// A part may stand out of the pocket that it goes into by so much, mm: rounding, and the corners of a cutter.
const OUT_OF_POCKET_MM: f64 = 0.3;

/// A box along the axes, in mm of the sump's frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Block {
    pub(super) lo: DVec3,
    pub(super) hi: DVec3,
}

impl Block {
    /// The least box around a part in its place.
    pub(super) fn of(piece: &Piece, placed: &Placed) -> Self {
        let [lo, hi] = piece.shape.bounds();
        Self::around(&placed.pose, lo, hi)
    }

    fn around(pose: &DAffine3, lo: DVec3, hi: DVec3) -> Self {
        let (p, q) = (pose.transform_point3(lo), pose.transform_point3(hi));
        Self { lo: p.min(q), hi: p.max(q) }
    }

    pub(super) fn size(&self) -> DVec3 {
        self.hi - self.lo
    }

    pub(super) fn middle(&self) -> DVec3 {
        0.5 * (self.lo + self.hi)
    }

    /// What both cover, touching or nearly touching included.
    pub(super) fn shared(&self, other: &Self) -> Self {
        Self { lo: self.lo.max(other.lo), hi: self.hi.min(other.hi) }
    }

    /// What both cover, if it is more than a touch.
    pub(super) fn overlap(&self, other: &Self) -> Option<Self> {
        let shared = self.shared(other);
        shared.size().cmpgt(DVec3::splat(TOUCH_MM)).all().then_some(shared)
    }

    /// What it passes while it moves by `way`.
    pub(super) fn swept(&self, way: DVec3) -> Self {
        Self { lo: self.lo.min(self.lo + way), hi: self.hi.max(self.hi + way) }
    }

    /// The box grown by `mm` on all sides.
    pub(super) fn grown(&self, mm: f64) -> Self {
        Self { lo: self.lo - mm, hi: self.hi + mm }
    }

    /// Whether a straight line from `p` to `q` goes through it (the slab method).
    pub(super) fn is_hit(&self, p: DVec3, q: DVec3) -> bool {
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
    pub(super) fn reach(&self, along: DVec3) -> f64 {
        self.lo.dot(along).max(self.hi.dot(along))
    }
}

/// Whether `part`, given in the sump's frame and all within the piece's box, lies in one of its pockets or openings.
pub(super) fn lies_in_pocket(piece: &Piece, placed: &Placed, part: &Block) -> bool {
    let Shape::Sheet(plate) = &piece.shape else { return false };
    let inside = Block::around(&placed.pose.inverse(), part.lo, part.hi);
    let has_room = |cut: &Cut| {
        let Some([lo, hi]) = cut.contour.bounds() else { return false };
        let depth = cut.depth.min(plate.thickness);
        let (z0, z1) = match cut.face {
            Face::Top => (plate.thickness - depth, plate.thickness),
            Face::Bottom => (0.0, depth),
        };
        let room = Block { lo: lo.extend(z0), hi: hi.extend(z1) }.grown(OUT_OF_POCKET_MM);
        room.lo.cmple(inside.lo).all() && inside.hi.cmple(room.hi).all()
    };
    plate.cuts.iter().any(has_room)
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec3;

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

    #[test]
    fn a_moving_box_passes_all_between() {
        let block = Block { lo: DVec3::ZERO, hi: DVec3::ONE };
        let swept = block.swept(dvec3(0.0, 0.0, 5.0));
        assert_eq!(swept, Block { lo: DVec3::ZERO, hi: dvec3(1.0, 1.0, 6.0) });
        assert!(swept.overlap(&Block { lo: DVec3::splat(0.5), hi: DVec3::splat(9.0) }).is_some());
        assert!(block.overlap(&Block { lo: DVec3::ONE, hi: DVec3::splat(9.0) }).is_none());
    }
}
