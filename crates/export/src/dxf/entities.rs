//! Shapes as entities of the model space.

use std::f64::consts::PI;

use glam::DVec2;
use plate::Segment;

use super::frame::MODEL_SPACE;
use super::tags::Tags;
use crate::layers::Shape;

/// One shape on one layer.
pub(super) fn write(tags: &mut Tags, handle: u32, layer: &str, shape: &Shape) {
    match shape {
        Shape::Circle { centre, radius } => {
            begin(tags, "CIRCLE", handle, layer);
            tags.word(100, "AcDbCircle");
            tags.point(10, &[centre.x, centre.y, 0.0]);
            tags.length(40, *radius);
        }
        Shape::Closed(contour) => {
            begin(tags, "LWPOLYLINE", handle, layer);
            polyline(tags, &corners(&contour.0), true);
        }
        Shape::Run(pieces) => {
            begin(tags, "LWPOLYLINE", handle, layer);
            let mut corners = corners(pieces);
            corners.extend(pieces.last().map(|last| (last.end, 0.0)));
            polyline(tags, &corners, false);
        }
        Shape::Open(stroke) => {
            begin(tags, "LWPOLYLINE", handle, layer);
            let corners: Vec<_> = stroke.iter().map(|&p| (p, 0.0)).collect();
            polyline(tags, &corners, false);
        }
    }
}

fn begin(tags: &mut Tags, entity: &str, handle: u32, layer: &str) {
    tags.word(0, entity);
    tags.handle(5, handle);
    tags.handle(330, MODEL_SPACE);
    tags.word(100, "AcDbEntity");
    tags.word(8, layer);
}

/// Corners and the bulge of the piece that follows each. A closed one does not repeat its first.
fn polyline(tags: &mut Tags, corners: &[(DVec2, f64)], is_closed: bool) {
    tags.word(100, "AcDbPolyline");
    tags.integer(90, corners.len());
    tags.integer(70, usize::from(is_closed));
    tags.length(43, 0.0);
    for &(corner, bulge) in corners {
        tags.point(10, &[corner.x, corner.y]);
        if bulge != 0.0 {
            tags.number(42, bulge);
        }
    }
}

fn corners(pieces: &[Segment]) -> Vec<(DVec2, f64)> {
    let pieces = pieces.iter().flat_map(halved_if_long);
    pieces.map(|s| (s.start, bulge(&s))).collect()
}

/// An arc longer than a half circle has a bulge above 1, which some readers do not expect.
fn halved_if_long(segment: &Segment) -> Vec<Segment> {
    match segment.arc {
        Some(arc) if arc.sweep.abs() > 1.001 * PI => {
            let middle = segment.midpoint();
            let arc = Some(plate::Arc { sweep: 0.5 * arc.sweep, ..arc });
            vec![
                Segment { end: middle, arc, ..*segment },
                Segment { start: middle, arc, ..*segment },
            ]
        }
        _ => vec![*segment],
    }
}

/// Tangent of a quarter of the angle turned, counter-clockwise positive; 0 for a straight piece.
fn bulge(segment: &Segment) -> f64 {
    segment.arc.map_or(0.0, |arc| libm::tan(0.25 * arc.sweep))
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
    use plate::Contour;

    #[test]
    fn half_circles_have_a_bulge_of_one_and_longer_arcs_are_halved() {
        let slot = Contour::slot(dvec2(0.0, 0.0), dvec2(30.0, 0.0), 5.0);
        let bulges: Vec<f64> = corners(&slot.0).iter().map(|c| c.1).collect();
        for (bulge, expected) in bulges.iter().zip([0.0, 1.0, 0.0, 1.0]) {
            assert!((bulge - expected).abs() < 1e-12);
        }
        let long = Contour(vec![
            Segment::arc(dvec2(0.0, 0.0), dvec2(5.0, 0.0), 1.5 * PI),
            Segment::line(dvec2(0.0, -5.0), dvec2(5.0, 0.0)),
        ]);
        let corners = corners(&long.0);
        assert_eq!(corners.len(), 3);
        assert!((corners[0].1 - libm::tan(0.1875 * PI)).abs() < 1e-12);
    }
}
