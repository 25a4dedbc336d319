//! The least gap of two bodies of several convex pieces.

use glam::DVec3;

use crate::convex::Convex;
use crate::nearest::{Nearest, nearest_below};

/// The least gap of two bodies, the first one moved; `None` when it is no less than `below`.
///
/// Pairs of pieces are looked at in the order of the gap of their boxes, which is never more than their own, and
/// no longer than that may be less than the least found.
pub(super) fn least_gap(a: &[Convex], b: &[Convex], moved: DVec3, below: f64) -> Option<Nearest> {
    let mut pairs: Vec<(f64, usize, usize)> = Vec::new();
    for (i, one) in a.iter().enumerate() {
        let bounds = [one.min + moved, one.max + moved];
        for (j, other) in b.iter().enumerate() {
            let least = bounds_gap(bounds, [other.min, other.max]);
            if least < below {
                pairs.push((least, i, j));
            }
        }
    }
    pairs.sort_by(|p, q| p.0.total_cmp(&q.0).then((p.1, p.2).cmp(&(q.1, q.2))));
    let mut best: Option<Nearest> = None;
    let mut here: (usize, Vec<DVec3>) = (usize::MAX, Vec::new());
    for (least, i, j) in pairs {
        let most = best.map_or(below, |best| best.gap_mm);
        if least >= most {
            break;
        }
        if here.0 != i {
            here = (i, a[i].points.iter().map(|p| *p + moved).collect());
        }
        best = nearest_below(&here.1, &b[j].points, most).or(best);
    }
    best
}

/// The gap of two boxes: how far apart they are, or, negative, how far one must be moved along an axis to
/// leave the other.
pub(super) fn bounds_gap(a: [DVec3; 2], b: [DVec3; 2]) -> f64 {
    let apart = (a[0] - b[1]).max(b[0] - a[1]);
    match apart.max_element() {
        most if most > 0.0 => apart.max(DVec3::ZERO).length(),
        most => most,
    }
}
