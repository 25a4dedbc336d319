//! The panel itself: its outline and openings.

use design::Design;
use glam::DVec2;
use paper::{Figure, Mark, Outline, Piece, Stroke};
use plate::{Contour, FlatPattern, Segment, Shape, Tolerance, arrange, flat_pattern};
use strength::Panel;

use super::labels::Labels;
use super::{FAINT, Frame, SHEET};

/// Corners of the panel in its frame, mm.
pub(super) fn bounds(design: &Design, panel: &Panel) -> [DVec2; 2] {
    let [lo, hi] = design.pieces[panel.piece].shape.bounds();
    [lo.truncate(), hi.truncate()]
}

/// What goes through the sheet; its outline alone where there is no pattern.
fn contours(design: &Design, panel: &Panel) -> Vec<Contour> {
    let Shape::Sheet(plate) = &design.pieces[panel.piece].shape else { return Vec::new() };
    let arranged = arrange(plate, &Tolerance::default());
    let pattern = arranged.map(|arrangement| flat_pattern(plate, &arrangement));
    pattern.map_or_else(|_| vec![plate.outline.clone()], |FlatPattern { through, .. }| through)
}

/// Boxes around what goes through within its outline, on paper: numbers of lines do not stand in an opening.
pub(super) fn openings(frame: &Frame<'_>) -> Vec<[DVec2; 2]> {
    let contours = contours(frame.design, frame.panel);
    let boxes: Vec<[DVec2; 2]> =
        contours.iter().filter_map(|contour| around(frame, contour)).collect();
    let area = |[lo, hi]: &[DVec2; 2]| (*hi - *lo).element_product();
    let whole = boxes.iter().map(area).fold(0.0, f64::max);
    boxes.into_iter().filter(|opening| area(opening) < 0.999 * whole).collect()
}

fn around(frame: &Frame<'_>, contour: &Contour) -> Option<[DVec2; 2]> {
    let steps = (0..=STEPS).map(|k| f64::from(k) / f64::from(STEPS));
    let points = contour.0.iter().flat_map(|segment| steps.clone().map(|t| segment.point_at(t)));
    let boxes = points.map(|point| frame.place(point)).map(|point| [point, point]);
    boxes.reduce(|[lo, hi], [a, b]| [lo.min(a), hi.max(b)])
}

/// Steps of an arc that words keep clear of.
const STEPS: u32 = 8;

pub(super) fn draw(figure: &mut Figure, frame: &Frame<'_>, labels: &mut Labels) {
    let contours = contours(frame.design, frame.panel);
    for segment in contours.iter().flat_map(|contour| &contour.0) {
        let steps = if segment.arc.is_some() { STEPS } else { 1 };
        let at = |k: u32| frame.place(segment.point_at(f64::from(k) / f64::from(steps)));
        for k in 0..steps {
            labels.avoid(at(k), at(k + 1));
        }
    }
    let piece = |segment: &Segment| match segment.arc {
        None => Piece::Line { from: frame.place(segment.start), to: frame.place(segment.end) },
        // Paper counts y downwards, and so angles the other way round.
        Some(arc) => Piece::Arc {
            centre: frame.place(arc.centre),
            from: frame.place(segment.start),
            sweep: -arc.sweep,
        },
    };
    figure.marks.push(Mark::Outline(Outline {
        loops: contours.iter().map(|contour| contour.0.iter().map(piece).collect()).collect(),
        is_closed: true,
        stroke: Some(Stroke::whole(0.18, FAINT)),
        fill: Some(SHEET),
    }));
}
