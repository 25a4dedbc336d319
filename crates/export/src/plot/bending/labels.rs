//! Places for words that touch nothing else.

use glam::{DVec2, dvec2};
use paper::Lettering;

/// Between words and whatever is beside them, mm.
const GAP: f64 = 0.7;

/// What is taken, on paper.
#[derive(Clone, Debug)]
pub(super) struct Labels {
    /// Upper left and lower right corner of where words may stand.
    within: [DVec2; 2],
    taken: Vec<[DVec2; 2]>,
    /// Lines that words do not cross.
    lines: Vec<[DVec2; 2]>,
}

impl Labels {
    pub(super) fn within(within: [DVec2; 2]) -> Self {
        Self { within, taken: Vec::new(), lines: Vec::new() }
    }

    /// No word shall stand in this box.
    pub(super) fn take(&mut self, lo: DVec2, hi: DVec2) {
        self.taken.push([lo.min(hi), lo.max(hi)]);
    }

    /// No word shall cross this line.
    pub(super) fn avoid(&mut self, from: DVec2, to: DVec2) {
        self.lines.push([from, to]);
    }

    /// How far a box is from all that is taken, mm; `None` where it touches something or does not lie within.
    pub(super) fn room(&self, [lo, hi]: [DVec2; 2]) -> Option<f64> {
        let is_within =
            lo.cmpge(self.within[0] + GAP).all() && hi.cmple(self.within[1] - GAP).all();
        let from_box = |[a, b]: &[DVec2; 2]| (*a - hi).max(lo - *b).max_element();
        let from_line = |line: &[DVec2; 2]| {
            if crosses([lo - GAP, hi + GAP], *line) { -1.0 } else { f64::INFINITY }
        };
        let boxes = self.taken.iter().map(from_box);
        let least = boxes.chain(self.lines.iter().map(from_line)).fold(f64::INFINITY, f64::min);
        (is_within && least >= GAP).then_some(least)
    }
}

/// The box of words whose middle is at `middle`.
pub(super) fn around(middle: DVec2, words: &str, lettering: Lettering) -> [DVec2; 2] {
    let half = 0.5 * dvec2(lettering.width_mm(words), lettering.capital_mm + 0.9);
    [middle - half, middle + half]
}

/// Where words begin whose middle is at `middle`, on their base line, for an anchor in their middle.
pub(super) fn base(middle: DVec2, lettering: Lettering) -> DVec2 {
    middle + dvec2(0.0, 0.5 * lettering.capital_mm)
}

/// Whether a straight line comes into a box (Liang and Barsky's clipping).
pub(super) fn crosses([lo, hi]: [DVec2; 2], [from, to]: [DVec2; 2]) -> bool {
    let way = to - from;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for axis in 0..2 {
        if way[axis].abs() < 1e-12 {
            if from[axis] < lo[axis] || hi[axis] < from[axis] {
                return false;
            }
            continue;
        }
        let (a, b) = ((lo[axis] - from[axis]) / way[axis], (hi[axis] - from[axis]) / way[axis]);
        enter = enter.max(a.min(b));
        leave = leave.min(a.max(b));
    }
    enter <= leave
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_clear_of_boxes_and_lines() {
        let mut labels = Labels::within([DVec2::ZERO, dvec2(100.0, 50.0)]);
        labels.take(dvec2(40.0, 20.0), dvec2(60.0, 30.0));
        labels.avoid(dvec2(80.0, 0.0), dvec2(80.0, 50.0));
        let at = |x: f64, y: f64| labels.room([dvec2(x, y), dvec2(x + 5.0, y + 2.0)]);
        assert!(at(50.0, 25.0).is_none(), "in the box");
        assert!(at(78.0, 10.0).is_none(), "over the line");
        assert!(at(97.0, 10.0).is_none(), "outside");
        assert!((at(10.0, 21.0).expect("there is room") - 25.0).abs() < 1e-9);
        let diagonal = [dvec2(0.0, 0.0), dvec2(10.0, 10.0)];
        assert!(crosses([dvec2(4.0, 4.0), dvec2(6.0, 6.0)], diagonal));
        assert!(!crosses([dvec2(4.0, 0.0), dvec2(6.0, 2.0)], diagonal));
        assert!(!crosses([dvec2(20.0, 20.0), dvec2(21.0, 21.0)], diagonal));
    }
}
