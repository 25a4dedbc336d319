//! Short ways to put marks into a figure, and to move and measure them.

use glam::{DVec2, dvec2};

use crate::figure::{Anchor, Colour, Figure, Lettering, Mark, Outline, Piece, Stroke};
use crate::font::DESCENT_PER_EM;

impl Figure {
    /// An empty one.
    pub fn new(size: DVec2) -> Self {
        Self { size, marks: Vec::new() }
    }

    /// All words in it, in the order in which they are drawn.
    pub fn words_in_it(&self) -> String {
        let words = self.marks.iter().filter_map(|mark| match mark {
            Mark::Words { text, .. } => Some(text.as_str()),
            _ => None,
        });
        words.collect::<Vec<_>>().join("; ")
    }

    /// A straight line.
    pub fn line(&mut self, from: DVec2, to: DVec2, stroke: Stroke) {
        self.marks.push(Mark::path(&[from, to], false, Some(stroke), None));
    }

    /// Straight lines from point to point.
    pub fn polyline(&mut self, points: &[DVec2], stroke: Stroke) {
        self.marks.push(Mark::path(points, false, Some(stroke), None));
    }

    /// A rectangle between two corners.
    pub fn rectangle(
        &mut self,
        lo: DVec2,
        hi: DVec2,
        stroke: Option<Stroke>,
        fill: Option<Colour>,
    ) {
        let corners = [lo, dvec2(hi.x, lo.y), hi, dvec2(lo.x, hi.y)];
        self.marks.push(Mark::path(&corners, true, stroke, fill));
    }

    /// A whole circle.
    pub fn circle(
        &mut self,
        centre: DVec2,
        radius: f64,
        stroke: Option<Stroke>,
        fill: Option<Colour>,
    ) {
        let from = centre + dvec2(radius, 0.0);
        let ring = vec![Piece::Arc { centre, from, sweep: std::f64::consts::TAU }];
        self.marks.push(Mark::Outline(Outline {
            loops: vec![ring],
            is_closed: true,
            stroke,
            fill,
        }));
    }

    /// Words on one line that read from below.
    pub fn words(
        &mut self,
        at: DVec2,
        text: impl Into<String>,
        lettering: Lettering,
        anchor: Anchor,
    ) {
        self.marks.push(Mark::Words { at, text: text.into(), lettering, anchor, turned_deg: 0.0 });
    }

    /// Words on one line that read from the right: upwards.
    pub fn words_upwards(
        &mut self,
        at: DVec2,
        text: impl Into<String>,
        lettering: Lettering,
        anchor: Anchor,
    ) {
        self.marks.push(Mark::Words { at, text: text.into(), lettering, anchor, turned_deg: 90.0 });
    }

    /// Puts all of another figure into this one, its upper left corner at `at`, scaled.
    pub fn place(&mut self, other: &Self, at: DVec2, scale: f64) {
        self.marks.extend(other.marks.iter().map(|mark| mark.placed(at, scale)));
    }
}

impl Mark {
    /// Straight lines from point to point, open or closed.
    pub fn path(
        points: &[DVec2],
        is_closed: bool,
        stroke: Option<Stroke>,
        fill: Option<Colour>,
    ) -> Self {
        let next = points.iter().skip(1).chain(is_closed.then(|| points.first()).flatten());
        let pieces = points.iter().zip(next).map(|(&from, &to)| Piece::Line { from, to }).collect();
        Self::Outline(Outline { loops: vec![pieces], is_closed, stroke, fill })
    }

    /// The same made larger or smaller about the origin, then moved. Lines keep their share of the drawing's size.
    #[must_use]
    pub fn placed(&self, by: DVec2, scale: f64) -> Self {
        let point = |p: &DVec2| by + *p * scale;
        match self {
            Self::Outline(outline) => {
                let piece = |piece: &Piece| match piece {
                    Piece::Line { from, to } => Piece::Line { from: point(from), to: point(to) },
                    Piece::Arc { centre, from, sweep } => {
                        Piece::Arc { centre: point(centre), from: point(from), sweep: *sweep }
                    }
                };
                let stroke = outline.stroke.as_ref().map(|stroke| Stroke {
                    width: stroke.width * scale,
                    colour: stroke.colour,
                    dashes: stroke.dashes.iter().map(|dash| dash * scale).collect(),
                });
                let loops = outline.loops.iter().map(|l| l.iter().map(piece).collect()).collect();
                Self::Outline(Outline { loops, stroke, ..*outline })
            }
            Self::Words { at, text, lettering, anchor, turned_deg } => Self::Words {
                at: point(at),
                text: text.clone(),
                lettering: Lettering { capital_mm: lettering.capital_mm * scale, ..*lettering },
                anchor: *anchor,
                turned_deg: *turned_deg,
            },
            Self::Picture { at, size, png, alt } => Self::Picture {
                at: point(at),
                size: *size * scale,
                png: png.clone(),
                alt: alt.clone(),
            },
        }
    }

    /// Corners of the box around it, least and greatest. Of words: from the descenders to the capitals.
    pub fn bounds(&self) -> [DVec2; 2] {
        match self {
            Self::Outline(outline) => {
                let grow = 0.5 * outline.stroke.as_ref().map_or(0.0, |stroke| stroke.width);
                let boxes = outline.loops.iter().flatten().map(Piece::bounds);
                let [lo, hi] = around(boxes);
                [lo - grow, hi + grow]
            }
            Self::Words { at, text, lettering, anchor, turned_deg } => {
                let width = lettering.width_mm(text);
                let start = -width * anchor.share();
                let turn = DVec2::from_angle(-turned_deg.to_radians());
                let (up, down) = (lettering.capital_mm, DESCENT_PER_EM * lettering.em_mm());
                let corners = [
                    dvec2(start, -up),
                    dvec2(start + width, -up),
                    dvec2(start + width, down),
                    dvec2(start, down),
                ];
                around(corners.map(|corner| [*at + turn.rotate(corner); 2]).into_iter())
            }
            Self::Picture { at, size, .. } => [*at, *at + *size],
        }
    }
}

/// The box around boxes.
fn around(boxes: impl Iterator<Item = [DVec2; 2]>) -> [DVec2; 2] {
    boxes.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]).unwrap_or([DVec2::ZERO; 2])
}

impl Anchor {
    /// How much of a line's width lies before its anchor.
    pub const fn share(self) -> f64 {
        match self {
            Self::Start => 0.0,
            Self::Middle => 0.5,
            Self::End => 1.0,
        }
    }
}

impl Piece {
    /// Where it begins.
    pub fn start(&self) -> DVec2 {
        match *self {
            Self::Line { from, .. } | Self::Arc { from, .. } => from,
        }
    }

    /// Where it ends.
    pub fn end(&self) -> DVec2 {
        match *self {
            Self::Line { to, .. } => to,
            Self::Arc { centre, from, sweep } => {
                centre + DVec2::from_angle(sweep).rotate(from - centre)
            }
        }
    }

    /// The box around it.
    pub fn bounds(&self) -> [DVec2; 2] {
        let ends = [self.start().min(self.end()), self.start().max(self.end())];
        let Self::Arc { centre, from, sweep } = *self else { return ends };
        let arm = from - centre;
        let axes = [DVec2::X, DVec2::Y, DVec2::NEG_X, DVec2::NEG_Y];
        let crossed = axes.into_iter().filter(|axis| {
            let turned = arm.angle_to(*axis) * sweep.signum();
            turned.rem_euclid(std::f64::consts::TAU) <= sweep.abs()
        });
        let extremes = crossed.map(|axis| [centre + axis * arm.length(); 2]);
        around(std::iter::once(ends).chain(extremes))
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::{FRAC_PI_2, TAU};

    use super::*;

    #[test]
    fn an_arc_reaches_as_far_as_its_circle_where_it_crosses_an_axis() {
        let quarter = Piece::Arc { centre: DVec2::ZERO, from: dvec2(10.0, 0.0), sweep: FRAC_PI_2 };
        let near = |a: DVec2, b: DVec2| a.distance(b) < 1e-9;
        let [lo, hi] = quarter.bounds();
        assert!(near(lo, DVec2::ZERO) && near(hi, dvec2(10.0, 10.0)), "{lo} {hi}");
        let whole = Piece::Arc { centre: DVec2::ZERO, from: dvec2(7.0, 7.0), sweep: -TAU };
        let r = 7.0 * 2.0_f64.sqrt();
        let [lo, hi] = whole.bounds();
        assert!(near(lo, DVec2::splat(-r)) && near(hi, DVec2::splat(r)), "{lo} {hi}");
    }

    #[test]
    fn words_that_read_upwards_stand_over_their_beginning() {
        let mut figure = Figure::new(dvec2(100.0, 100.0));
        figure.words_upwards(dvec2(50.0, 50.0), "HH", crate::style::TEXT, Anchor::Start);
        let [lo, hi] = figure.marks[0].bounds();
        assert!(lo.y < 50.0 - 3.0 && (hi.y - 50.0).abs() < 1e-9, "{lo} {hi}");
        assert!((lo.x - (50.0 - 2.4)).abs() < 1e-9);
    }
}
