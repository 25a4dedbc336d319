//! How much a tool leaves standing of what it should take away.

use glam::DVec2;
use plate::{Contour, Segment};

/// Distance of the places at which an edge is looked at, mm.
const STEP_MM: f64 = 1.0;

/// How far the tool stays away from an edge at most, mm: 0 where it leaves all of it, and infinite without a path.
pub(crate) fn left_standing_mm<'a>(
    edges: impl Iterator<Item = &'a Contour>,
    path: &[Contour],
    radius_mm: f64,
) -> f64 {
    let path: Vec<&Segment> = path.iter().flat_map(|contour| &contour.0).collect();
    let boxes: Vec<[DVec2; 2]> = path.iter().map(|piece| piece.bounds()).collect();
    let away = |p: DVec2| {
        let mut least = f64::INFINITY;
        for (piece, [lo, hi]) in path.iter().zip(&boxes) {
            if (p - p.clamp(*lo, *hi)).length() < least {
                least = least.min(piece.distance(p));
            }
        }
        least - radius_mm
    };
    edges.flat_map(|edge| &edge.0).flat_map(places).map(away).fold(0.0, f64::max)
}

fn places(piece: &Segment) -> impl Iterator<Item = DVec2> + '_ {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "no panel is longer than 10 m"
    )]
    let steps = (piece.length() / STEP_MM).ceil().clamp(2.0, 20_000.0) as u32;
    (0..steps).map(move |k| piece.point_at(f64::from(k) / f64::from(steps)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tool::beside;
    use glam::dvec2;

    #[test]
    fn a_square_corner_keeps_what_a_round_tool_cannot_reach() {
        let edge = Contour::rectangle(dvec2(0., 0.), dvec2(100., 50.)).reversed();
        let left = left_standing_mm([&edge].into_iter(), &beside(&edge, 3.0).unwrap(), 3.0);
        assert!((left - 3.0 * (2.0_f64.sqrt() - 1.0)).abs() < 1e-6);
        let edge = Contour::rounded_rectangle(dvec2(0., 0.), dvec2(100., 50.), 3.0).reversed();
        assert!(left_standing_mm([&edge].into_iter(), &beside(&edge, 3.0).unwrap(), 3.0) < 0.003);
        assert!(left_standing_mm([&edge].into_iter(), &[], 3.0).is_infinite());
    }
}
