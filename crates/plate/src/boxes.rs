//! A search tree over bounding boxes.

use glam::DVec2;
use static_aabb2d_index::{StaticAABB2DIndex, StaticAABB2DIndexBuilder};

/// Finds the boxes near a box in logarithmic time.
pub(crate) struct Boxes(StaticAABB2DIndex<f64>);

impl Boxes {
    /// Boxes given by their lower left and upper right corners.
    pub(crate) fn new(boxes: impl ExactSizeIterator<Item = [DVec2; 2]>) -> Self {
        let mut builder = StaticAABB2DIndexBuilder::new(boxes.len());
        for [lo, hi] in boxes {
            builder.add(lo.x, lo.y, hi.x, hi.y);
        }
        Self(builder.build().expect("as many boxes as announced"))
    }

    /// Indices of the boxes within `margin` of a box, in no order that matters.
    pub(crate) fn within(&self, [lo, hi]: [DVec2; 2], margin: f64) -> Vec<usize> {
        self.0.query(lo.x - margin, lo.y - margin, hi.x + margin, hi.y + margin)
    }
}
