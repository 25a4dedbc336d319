//! The view of the upper face: edges, floors, engraving, and which edges are glued.

use glam::{DVec2, dvec2};
use paper::{Figure, Mark, Outline, Stroke, style};
use plate::{Contour, Face, FlatPattern};

use super::features::SAME_MM;
use super::place::Room;
use crate::drawing_sheet::{narrow, wide};
use crate::outline::{loops, samples};

/// How far outside an edge the line runs that marks it as glued, mm on paper.
pub(super) const GLUE_OFF_MM: f64 = 1.6;

/// From the panel to paper.
#[derive(Clone, Copy, Debug)]
pub(super) struct View {
    /// Corners of the panel's box, in its own frame.
    pub(super) bounds: [DVec2; 2],
    /// Where its lower left corner lies on paper.
    pub(super) origin: DVec2,
    /// How much smaller: 0.2 for 1:5.
    pub(super) scale: f64,
}

impl View {
    /// A point of the panel on paper.
    pub(super) fn point(&self, p: DVec2) -> DVec2 {
        let off = (p - self.bounds[0]) * self.scale;
        self.origin + dvec2(off.x, -off.y)
    }

    /// A box of the panel on paper, upper left and lower right corner.
    pub(super) fn corners(&self, [lo, hi]: [DVec2; 2]) -> [DVec2; 2] {
        let (a, b) = (self.point(lo), self.point(hi));
        [a.min(b), a.max(b)]
    }
}

/// An edge of the panel's box that is glued.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Side {
    Left,
    Right,
    Lower,
    Upper,
}

/// Draws the panel.
pub(super) fn draw(
    figure: &mut Figure,
    view: &View,
    pattern: &FlatPattern,
    glued: &[Side],
    room: &mut Room,
) {
    let place = |p: DVec2| view.point(p);
    let mut outline = |contours: &[Contour], stroke: Option<Stroke>, fill| {
        let loops = loops(contours, &place);
        figure.marks.push(Mark::Outline(Outline { loops, is_closed: true, stroke, fill }));
    };
    for pocket in &pattern.pockets {
        outline(&pocket.loops, None, Some(style::TINT));
    }
    for pocket in &pattern.pockets {
        // A floor seen from above has visible edges, one in the lower face hidden ones.
        let hidden = Stroke { dashes: vec![3.0, 1.0], ..narrow() };
        let stroke = if pocket.face == Face::Top { wide() } else { hidden };
        outline(&pocket.loops, Some(stroke), None);
    }
    outline(&pattern.through, Some(wide()), None);
    let drawn = pattern.pockets.iter().flat_map(|pocket| &pocket.loops).chain(&pattern.through);
    room.points.extend(samples(drawn, 1.0 / view.scale).map(place));
    for engraving in &pattern.engravings {
        let stroke = Stroke::whole(0.18, style::ACCENT);
        let dashes = if engraving.face == Face::Top { Vec::new() } else { vec![1.5, 0.8] };
        for line in &engraving.strokes {
            let points: Vec<DVec2> = line.iter().map(|&p| view.point(p)).collect();
            room.points.extend(points.windows(2).flat_map(|pair| {
                let steps = 1 + crate::panel_drawing::whole(pair[0].distance(pair[1]));
                (0..=steps).map(move |i| {
                    pair[0].lerp(pair[1], super::features::real(i) / super::features::real(steps))
                })
            }));
            figure.polyline(&points, Stroke { dashes: dashes.clone(), ..stroke.clone() });
        }
    }
    centre_lines(figure, view, pattern, room);
    mark_glued(figure, view, pattern, glued, room);
}

/// A long-dashed dotted line beside every straight piece of the outline that lies on a glued side. ISO 128-2 has this
/// line, drawn wide, for surfaces that need a treatment.
fn mark_glued(
    figure: &mut Figure,
    view: &View,
    pattern: &FlatPattern,
    glued: &[Side],
    room: &mut Room,
) {
    let [lo, hi] = view.bounds;
    let stroke = Stroke { width: 0.5, colour: style::ACCENT, dashes: vec![4.5, 1.0, 0.5, 1.0] };
    let outer = pattern.through.iter().filter(|contour| contour.signed_area() > 0.0);
    let pieces = outer.flat_map(|contour| &contour.0).filter(|piece| piece.arc.is_none());
    for piece in pieces {
        for side in glued {
            let (limit, ends, off) = match side {
                Side::Left => (lo.x, [piece.start.x, piece.end.x], dvec2(-1.0, 0.0)),
                Side::Right => (hi.x, [piece.start.x, piece.end.x], dvec2(1.0, 0.0)),
                Side::Lower => (lo.y, [piece.start.y, piece.end.y], dvec2(0.0, 1.0)),
                Side::Upper => (hi.y, [piece.start.y, piece.end.y], dvec2(0.0, -1.0)),
            };
            if ends.iter().all(|end| (end - limit).abs() < SAME_MM) {
                let [a, b] = [piece.start, piece.end].map(|p| view.point(p) + GLUE_OFF_MM * off);
                figure.line(a, b, stroke.clone());
                let steps = 1 + crate::panel_drawing::whole(a.distance(b));
                room.points.extend(
                    (0..=steps).map(|i| {
                        a.lerp(b, super::features::real(i) / super::features::real(steps))
                    }),
                );
            }
        }
    }
}

/// A cross of thin lines over every round hole: long-dashed dotted where there is room for the dashes.
fn centre_lines(figure: &mut Figure, view: &View, pattern: &FlatPattern, room: &mut Room) {
    for (centre, radius) in pattern.through.iter().filter_map(Contour::as_circle) {
        let (centre, reach) = (view.point(centre), radius * view.scale + 1.5);
        let dashes = if reach > 6.0 { vec![5.0, 0.8, 0.6, 0.8] } else { Vec::new() };
        let width = if reach > 3.0 { 0.25 } else { 0.13 };
        for way in [DVec2::X, DVec2::Y] {
            let (a, b) = (centre - reach * way, centre + reach * way);
            figure.line(a, b, Stroke { width, dashes: dashes.clone(), ..narrow() });
            room.points.extend((0..=20).map(|i| a.lerp(b, f64::from(i) / 20.0)));
        }
    }
}
