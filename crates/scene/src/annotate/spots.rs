//! Finds room inside the drawing for short texts.

use glam::{DVec2, dvec2};

use super::callouts::cross;
use crate::camera::Frame;

/// What texts inside the drawing should keep clear of.
#[derive(Clone, Debug, Default)]
pub(crate) struct Obstacles {
    /// Texts: never to be covered.
    pub(crate) texts: Vec<Frame>,
    /// Things that are better not covered.
    pub(crate) things: Vec<Frame>,
    /// Leaders.
    pub(crate) lines: Vec<[DVec2; 2]>,
}

impl Obstacles {
    /// The first of the middles where a text of a size is in the way of least; `None` when it would
    /// cover another text everywhere.
    pub(crate) fn best(&self, middles: &[DVec2], size: DVec2) -> Option<Frame> {
        let frames = middles.iter().map(|&m| Frame { min: m - 0.5 * size, max: m + 0.5 * size });
        let open = frames.filter(|f| !self.texts.iter().any(|t| t.overlaps(f)));
        open.map(|f| (self.harm(&f), f)).min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, f)| f)
    }

    fn harm(&self, frame: &Frame) -> f64 {
        let covered = |thing: &Frame| {
            let common = frame.max.min(thing.max) - frame.min.max(thing.min);
            common.max(DVec2::ZERO).element_product()
        };
        let area = frame.size().element_product().max(1.0);
        let things: f64 = self.things.iter().map(covered).sum::<f64>() / area;
        let crossed = self.lines.iter().filter(|line| passes(**line, frame)).count();
        things + crossed as f64
    }
}

fn passes(line: [DVec2; 2], frame: &Frame) -> bool {
    let Frame { min, max } = *frame;
    let (a, b) = (dvec2(min.x, max.y), dvec2(max.x, min.y));
    let inside = |p: DVec2| min.cmple(p).all() && p.cmple(max).all();
    inside(line[0]) || inside(line[1]) || cross(line, [min, max]) || cross(line, [a, b])
}
