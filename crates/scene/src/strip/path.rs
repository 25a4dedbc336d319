//! The arrow of a move: the way of the part's middle, or of a far corner where it turns more than it goes.

use glam::{DVec2, DVec3};

use super::cast::Cast;
use super::moments::Moment;
use crate::annotate::canvas::{Canvas, Ink};
use crate::camera::{Camera, Frame};

const ARROW: Ink = Ink([20, 48, 92], 1.0);
const HALO: Ink = Ink([255, 255, 255], 0.85);
/// Shorter arrows than this say nothing, in fine lines.
const LEAST: f64 = 9.0;

pub(super) fn draw(
    canvas: &mut Canvas,
    cast: &Cast<'_>,
    moment: &Moment,
    camera: &Camera,
    unit: f64,
) {
    let line = way(cast, moment, camera);
    let length: f64 = line.windows(2).map(|w| w[0].distance(w[1])).sum();
    let Some(head) = Head::at_end(&line, (11.0 * unit).min(0.5 * length)) else { return };
    if length < LEAST * unit {
        return;
    }
    let Some((start, shaft)) = line.first().zip(head.shaft(&line)) else { return };
    canvas.line(&shaft, 6.0 * unit, HALO);
    canvas.outline(&head.corners, 3.2 * unit, HALO);
    canvas.disc(*start, 5.0 * unit, HALO);
    canvas.line(&shaft, 2.6 * unit, ARROW);
    canvas.polygon(&head.corners, ARROW);
    canvas.disc(*start, 3.2 * unit, ARROW);
}

/// The way on the picture.
fn way(cast: &Cast<'_>, moment: &Moment, camera: &Camera) -> Vec<DVec2> {
    let of = |p: DVec3| -> Vec<DVec2> {
        moment.passed.iter().map(|place| camera.project(place.apply(p))).collect()
    };
    let middle = of(cast.middle());
    let extent =
        |line: &[DVec2]| Frame::around(line.iter().copied()).map_or(0.0, |f| f.size().length());
    let corners = cast.points(24).into_iter().map(of);
    let far = corners.max_by(|a, b| extent(a).total_cmp(&extent(b))).unwrap_or_default();
    if extent(&far) > 2.0 * extent(&middle) { far } else { middle }
}

/// The head of an arrow.
struct Head {
    corners: [DVec2; 3],
    length: f64,
}

impl Head {
    fn at_end(line: &[DVec2], length: f64) -> Option<Self> {
        let tip = *line.last()?;
        // Where the line comes from, seen from as far away as the head is long.
        let from = line.iter().rev().find(|p| p.distance(tip) >= length).or(line.first())?;
        let along = (tip - *from).try_normalize()?;
        let foot = tip - along * length;
        let side = along.perp() * 0.42 * length;
        Some(Self { corners: [tip, foot + side, foot - side], length })
    }

    /// The line up to the foot of the head.
    fn shaft(&self, line: &[DVec2]) -> Option<Vec<DVec2>> {
        let tip = self.corners[0];
        let kept = line.iter().copied().filter(|p| p.distance(tip) > self.length);
        let mut shaft: Vec<DVec2> = kept.collect();
        if shaft.is_empty() {
            shaft.push(*line.first()?);
        }
        shaft.push(0.5 * (self.corners[1] + self.corners[2]));
        Some(shaft)
    }
}
