//! From contours of parts to paths on paper.

use glam::DVec2;
use paper::Piece;
use plate::Contour;

/// Contours as loops on paper. `place` turns the y axis over, as paper counts downwards; it may turn and scale, not
/// mirror besides.
pub(crate) fn loops<'a>(
    contours: impl IntoIterator<Item = &'a Contour>,
    place: &impl Fn(DVec2) -> DVec2,
) -> Vec<Vec<Piece>> {
    let piece = |segment: &plate::Segment| match segment.arc {
        None => Piece::Line { from: place(segment.start), to: place(segment.end) },
        // Counter-clockwise on the part is against the angles of paper.
        Some(arc) => {
            Piece::Arc { centre: place(arc.centre), from: place(segment.start), sweep: -arc.sweep }
        }
    };
    contours.into_iter().map(|contour| contour.0.iter().map(piece).collect()).collect()
}

/// Points along contours, at most so far apart on the part.
pub(crate) fn samples<'a>(
    contours: impl IntoIterator<Item = &'a Contour> + 'a,
    step_mm: f64,
) -> impl Iterator<Item = DVec2> + 'a {
    contours.into_iter().flat_map(|contour| &contour.0).flat_map(move |segment| {
        let parts = count((segment.length() / step_mm).ceil().clamp(1.0, 2000.0));
        (0..parts).map(move |i| segment.point_at(f64::from(i) / f64::from(parts)))
    })
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped by the caller to 1..=2000"
)]
fn count(value: f64) -> u32 {
    value as u32
}
