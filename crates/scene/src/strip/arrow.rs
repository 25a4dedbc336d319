//! An arrow: a line on the picture, from a dot to a head.

use glam::DVec2;

use crate::annotate::canvas::{Canvas, Ink};

pub(crate) const INK: Ink = Ink([20, 48, 92], 1.0);
pub(crate) const HALO: Ink = Ink([255, 255, 255], 0.85);

/// Draws an arrow along a line of points.
pub(crate) fn draw(canvas: &mut Canvas, line: &[DVec2], unit: f64) {
    let length = length(line);
    let Some(head) = Head::at_end(line, (13.0 * unit).min(0.5 * length)) else { return };
    let Some((start, shaft)) = line.first().zip(head.shaft(line)) else { return };
    canvas.line(&shaft, 6.0 * unit, HALO);
    canvas.outline(&head.corners, 3.2 * unit, HALO);
    canvas.disc(*start, 5.0 * unit, HALO);
    canvas.line(&shaft, 2.6 * unit, INK);
    canvas.polygon(&head.corners, INK);
    canvas.disc(*start, 3.2 * unit, INK);
}

/// Length of a line of points, px.
pub(super) fn length(line: &[DVec2]) -> f64 {
    line.windows(2).map(|w| w[0].distance(w[1])).sum()
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
