//! How much a tool leaves standing of what it should take away.

use glam::DVec2;
use plate::{Contour, Segment};

use super::EASE_MM;

/// Distance of the places at which an edge is looked at, mm.
const STEP_MM: f64 = 1.0;

/// What a tool leaves standing along edges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Left {
    /// How far the tool stays away from an edge at most, mm: 0 where it leaves all of it, infinite without a path.
    pub(crate) most_mm: f64,
    /// Where that is.
    pub(crate) at: DVec2,
    /// The same summed along the edges, mm².
    pub(crate) sum_mm2: f64,
}

/// What the tool leaves standing along edges.
pub(crate) fn left_standing<'a>(
    edges: impl Iterator<Item = &'a Contour>,
    path: &[Contour],
    radius_mm: f64,
) -> Left {
    let path: Vec<(&Segment, [DVec2; 2])> =
        path.iter().flat_map(|contour| &contour.0).map(|piece| (piece, piece.bounds())).collect();
    let away = |p: DVec2| {
        let mut least = f64::INFINITY;
        for (piece, [lo, hi]) in &path {
            if (p - p.clamp(*lo, *hi)).length_squared() < least * least {
                least = least.min(piece.distance(p));
            }
        }
        (least - radius_mm).max(0.0)
    };
    let mut left = Left { most_mm: 0.0, at: DVec2::ZERO, sum_mm2: 0.0 };
    for piece in edges.flat_map(|edge| &edge.0) {
        let steps = steps_along(piece);
        for k in 0..steps {
            let p = piece.point_at(f64::from(k) / f64::from(steps));
            let away = away(p);
            if away > left.most_mm {
                (left.most_mm, left.at) = (away, p);
            }
            // What the tool is eased by is as good as nothing.
            if away > 2.0 * EASE_MM {
                left.sum_mm2 += away * piece.length() / f64::from(steps);
            }
        }
    }
    left
}

fn steps_along(piece: &Segment) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "no panel is longer than 10 m"
    )]
    let steps = (piece.length() / STEP_MM).ceil().clamp(2.0, 20_000.0) as u32;
    steps
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tool::beside;
    use glam::dvec2;

    #[test]
    fn a_square_corner_keeps_what_a_round_tool_cannot_reach() {
        let edge = Contour::rectangle(dvec2(0., 0.), dvec2(100., 50.)).reversed();
        let left = left_standing([&edge].into_iter(), &beside(&edge, 3.0).unwrap(), 3.0);
        assert!((left.most_mm - 3.0 * (2.0_f64.sqrt() - 1.0)).abs() < 1e-6);
        let edge = Contour::rounded_rectangle(dvec2(0., 0.), dvec2(100., 50.), 3.0).reversed();
        let left = left_standing([&edge].into_iter(), &beside(&edge, 3.0).unwrap(), 3.0);
        assert!(left.most_mm < 0.003 && left.sum_mm2 <= 0.0);
        assert!(left_standing([&edge].into_iter(), &[], 3.0).most_mm.is_infinite());
    }
}
