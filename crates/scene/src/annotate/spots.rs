//! Finds room inside the drawing for short texts.

use glam::DVec2;

use crate::camera::Frame;

/// A text with more than this share of it on other things goes elsewhere.
const MOST_COVERED: f64 = 0.35;

/// What texts inside the drawing should keep clear of.
#[derive(Clone, Debug, Default)]
pub(crate) struct Obstacles {
    /// Texts: never to be covered.
    pub(crate) texts: Vec<Frame>,
    /// Things that are better not covered.
    pub(crate) things: Vec<Frame>,
}

impl Obstacles {
    /// The first of the middles where a text of a size covers least; `None` when it would cover another
    /// text, or much of other things, everywhere.
    pub(crate) fn best(&self, middles: &[DVec2], size: DVec2) -> Option<Frame> {
        let frames = middles.iter().map(|&m| Frame { min: m - 0.5 * size, max: m + 0.5 * size });
        let open = frames.filter(|f| !self.texts.iter().any(|t| t.overlaps(f)));
        let weighed = open.map(|f| (self.covered(&f), f));
        let best = weighed.min_by(|a, b| a.0.total_cmp(&b.0));
        best.filter(|(covered, _)| *covered < MOST_COVERED).map(|(_, frame)| frame)
    }

    /// Share of a frame that lies on other things.
    fn covered(&self, frame: &Frame) -> f64 {
        let covered = |thing: &Frame| {
            let common = frame.max.min(thing.max) - frame.min.max(thing.min);
            common.max(DVec2::ZERO).element_product()
        };
        let area = frame.size().element_product().max(1.0);
        self.things.iter().map(covered).sum::<f64>() / area
    }
}
