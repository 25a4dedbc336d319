//! Places at which the stress of a thin plate has no bound, around which no peak is taken.
//!
//! There a finer mesh gives a larger number, for ever. What lies within the radius is judged by other rules: the corners
//! of openings by [`corner_stress`](crate::corner_stress), supports at points by their forces.

use crate::grid::Grid;
use crate::plate::{Along, Plate, Support};

/// Of each node, whether it lies too close to such a place.
pub(crate) fn near_singular(plate: &Plate, grid: &Grid) -> Vec<bool> {
    let places = places(plate);
    (0..grid.nodes())
        .map(|node| {
            let [x, y] = grid.place(node);
            places.iter().any(|([px, py], radius)| {
                (x - px) * (x - px) + (y - py) * (y - py) < radius * radius
            })
        })
        .collect()
}

/// Every such place with the radius to keep clear, m: the thickness, below which a thin plate says nothing; at openings
/// also the radius of their corners; at openings inside, which have a rule for their corners, also a quarter of their
/// longer side (our judgement).
fn places(plate: &Plate) -> Vec<([f64; 2], f64)> {
    let t = plate.thickness;
    let snap = plate.snap();
    let is_inside = |axis: usize, at: f64| at > snap && at < plate.size[axis] - snap;
    let mut places = Vec::new();
    places.extend(plate.points.iter().map(|point| (point.at, t)));
    for opening in &plate.openings {
        let [x, y] = [opening.rect.x, opening.rect.y];
        let longer = (x[1] - x[0]).max(y[1] - y[0]);
        let corners = x.iter().flat_map(|&x| y.iter().map(move |&y| [x, y]));
        let inner = corners.filter(|&[x, y]| is_inside(0, x) && is_inside(1, y));
        let is_notch = inner.clone().count() < 4;
        let radius = t.max(opening.radius).max(if is_notch { 0.0 } else { 0.25 * longer });
        places.extend(inner.map(|corner| (corner, radius)));
    }
    for line in &plate.lines {
        let (run, other) = if line.along == Along::X { (0, 1) } else { (1, 0) };
        for s in line.span {
            let end = if line.along == Along::X { [s, line.at] } else { [line.at, s] };
            // A line that stops inside the plate or along its edge.
            let stops = is_inside(run, s);
            // A clamped edge, or a rigid line inside, that runs into a free edge.
            let is_stiff = line.support == Support::Clamp
                || line.support.is_rigid() && is_inside(other, line.at);
            if stops || is_stiff && !is_held_across(plate, line.along, end) {
                places.push((end, t));
            }
        }
    }
    places
}

/// Whether a rigid line of the other direction passes through the end of a line.
fn is_held_across(plate: &Plate, along: Along, end: [f64; 2]) -> bool {
    let snap = plate.snap();
    plate.lines.iter().any(|line| {
        let (s, at) = if line.along == Along::X { (end[0], end[1]) } else { (end[1], end[0]) };
        line.along != along
            && line.support.is_rigid()
            && (at - line.at).abs() < snap
            && line.span[0] - snap < s
            && s < line.span[1] + snap
    })
}
