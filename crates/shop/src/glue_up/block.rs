//! Parts as boxes along the axes: every pose of a sump turns by right angles only.
//!
//! What is cut out of a part counts as material, but for pockets and openings that another part goes into. So what is
//! found free is free; something that passes only through an opening is not found.

pub(super) use design::Block;
use design::{Piece, Placed};
use glam::DVec3;
use plate::{Cut, Face, Shape};

/// What touches by less than this does not overlap, mm.
pub(super) const TOUCH_MM: f64 = 0.05;
/// A part may stand out of the pocket that it goes into by so much, mm: rounding, and the corners of a cutter.
const OUT_OF_POCKET_MM: f64 = 0.3;

/// What both cover, if it is more than a touch.
pub(super) fn overlap(a: &Block, b: &Block) -> Option<Block> {
    let shared = a.shared(b);
    shared.size().cmpgt(DVec3::splat(TOUCH_MM)).all().then_some(shared)
}

/// Whether `part`, given in the sump's frame and all within the piece's box, lies in one of its pockets or openings.
pub(super) fn lies_in_pocket(piece: &Piece, placed: &Placed, part: &Block) -> bool {
    let Shape::Sheet(plate) = &piece.shape else { return false };
    let inside = Block::moved(&placed.pose.inverse(), [part.lo, part.hi]);
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
    fn a_moving_box_passes_all_between() {
        let block = Block { lo: DVec3::ZERO, hi: DVec3::ONE };
        let swept = block.swept(dvec3(0.0, 0.0, 5.0));
        assert_eq!(swept, Block { lo: DVec3::ZERO, hi: dvec3(1.0, 1.0, 6.0) });
        assert!(overlap(&swept, &Block { lo: DVec3::splat(0.5), hi: DVec3::splat(9.0) }).is_some());
        assert!(overlap(&block, &Block { lo: DVec3::ONE, hi: DVec3::splat(9.0) }).is_none());
    }
}
