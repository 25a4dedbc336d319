//! Edges as polylines: how many chords an arc needs, and the corners they share.
use crate::brep::{Bound, Brep, BrepFace};
use crate::geometry::{Curve, Surface};
use glam::DVec3;
use plate::Sets;
use std::f64::consts::PI;

/// A chord turns by 30° at most, however coarse the chord error: a hole of 1 mm is still round.
const LARGEST_TURN: f64 = PI / 6.0;

/// The corners of the mesh, and which of them lie along every edge.
pub(crate) struct Polylines {
    pub(crate) positions: Vec<DVec3>,
    /// For every edge, from its first end to its second.
    along: Vec<Vec<u32>>,
}

impl Polylines {
    /// More than 2³² corners are counted wrongly; the caller looks at the number of positions.
    pub(crate) fn new(brep: &Brep, chord_error_mm: f64) -> Self {
        let mut positions = brep.vertices.clone();
        let mut along = Vec::with_capacity(brep.edges.len());
        for (edge, n) in brep.edges.iter().zip(chords(brep, chord_error_mm)) {
            let stretch = brep.stretch(edge);
            let mut line = Vec::with_capacity(n + 1);
            line.push(index(edge.ends[0]));
            for k in 1..n {
                line.push(index(positions.len()));
                positions.push(stretch.at(k as f64 / n as f64));
            }
            line.push(index(edge.ends[1]));
            along.push(line);
        }
        Self { positions, along }
    }

    pub(crate) fn at(&self, corner: u32) -> DVec3 {
        self.positions[corner as usize]
    }

    /// Corners along an edge, in its own direction.
    pub(crate) fn along(&self, edge: usize) -> &[u32] {
        &self.along[edge]
    }

    /// Corners along an edge in the direction a loop follows it.
    pub(crate) fn following(&self, (edge, forward): (usize, bool)) -> Vec<u32> {
        let mut line = self.along[edge].clone();
        if !forward {
            line.reverse();
        }
        line
    }

    /// Corners around a loop, each once.
    pub(crate) fn around(&self, bound: &Bound) -> Vec<u32> {
        let mut corners = Vec::new();
        for &step in bound {
            corners.extend(self.following(step));
            corners.pop(); // the next edge begins with it
        }
        corners
    }

    /// Volume between a face and its chords, positive where chords cut material off, in mm³.
    ///
    /// At every height a round wall of radius `r` and its `n` chords of angle `φ` enclose `n` circular
    /// segments, together `n r² (φ - sin φ) / 2`; the integral of `r²` over the height is elementary.
    ///
    /// A bound for it: a segment is no higher than the chord error `e` and no longer than its arc, so
    /// the volume is at most `e` times the area of the wall.
    pub(crate) fn chord_loss_mm3(&self, brep: &Brep, face: &BrepFace) -> f64 {
        let [z0, z1] = brep.height_range(face);
        let (r0, r1, outward) = match face.surface {
            Surface::Plane { .. } => return 0.0,
            Surface::Cylinder { radius, outward, .. } => (radius, radius, outward),
            Surface::Cone { centre, radius, slope, outward } => {
                let radius_at = |z: f64| radius + slope * (z - centre.z);
                (radius_at(z0), radius_at(z1), outward)
            }
        };
        let n = face
            .bounds
            .iter()
            .flatten()
            .map(|&(edge, _)| self.along[edge].len() - 1)
            .max()
            .unwrap_or(1) as f64;
        let turn = brep.swept_angle(face) / n;
        let mean_square_radius = (r0 * r0 + r0 * r1 + r1 * r1) / 3.0;
        let volume = 0.5 * n * less_its_sine(turn) * mean_square_radius * (z1 - z0);
        if outward { volume } else { -volume }
    }
}

/// `φ - sin φ` without cancellation for small angles (five terms of the series: exact to rounding
/// below 0.6, and a chord turns by 0.52 at most).
fn less_its_sine(turn: f64) -> f64 {
    let t = turn * turn;
    turn * t / 6.0
        * (1.0
            - t / 20.0
                * (1.0 - t / 42.0 * (1.0 - t / 72.0 * (1.0 - t / 110.0 * (1.0 - t / 156.0)))))
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "the mesher refuses more corners than u32 can count"
)]
fn index(i: usize) -> u32 {
    i as u32
}

/// Number of chords for every edge. Arcs that face each other across a round wall get the same
/// number, so that the wall is made of flat strips.
fn chords(brep: &Brep, chord_error_mm: f64) -> Vec<usize> {
    let mut together = Sets::new(brep.edges.len());
    for face in brep.faces.iter().filter(|face| !matches!(face.surface, Surface::Plane { .. })) {
        let arcs = face
            .bounds
            .iter()
            .flatten()
            .map(|step| step.0)
            .filter(|&e| brep.edges[e].curve != Curve::Line);
        let arcs: Vec<usize> = arcs.collect();
        arcs.windows(2).for_each(|pair| together.join(pair[0], pair[1]));
    }
    let mut most = vec![1; brep.edges.len()];
    for (i, edge) in brep.edges.iter().enumerate() {
        if let Curve::Arc { centre, sweep } = edge.curve {
            let radius = brep.vertices[edge.ends[0]].distance(centre);
            let of_set = &mut most[together.find(i)];
            *of_set = chords_of_arc(radius, sweep, chord_error_mm).max(*of_set);
        }
    }
    (0..brep.edges.len()).map(|i| most[together.find(i)]).collect()
}

/// Chords whose sagitta `r (1 - cos(φ/2))` is at most the chord error; two at least, so that an arc
/// and the line between its ends stay apart.
fn chords_of_arc(radius: f64, sweep: f64, chord_error_mm: f64) -> usize {
    // 1 - cos(φ/2) = 2 sin²(φ/4), which keeps its precision for small chord errors.
    let turn = 4.0 * libm::asin((0.5 * chord_error_mm / radius).min(1.0).sqrt());
    let n = (sweep.abs() / turn.min(LARGEST_TURN)).ceil();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "positive; saturates if absurdly large"
    )]
    let n = n as usize;
    n.max(2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sagitta_is_at_most_the_chord_error() {
        for radius in [0.5, 5.0, 200.0, 1e5] {
            for chord_error in [1.0, 0.1, 1e-3, 1e-6] {
                let n = chords_of_arc(radius, 3.0, chord_error) as f64;
                let sagitta = |n: f64| radius * (1.0 - (1.5 / n).cos());
                assert!(
                    sagitta(n) <= chord_error * 1.000_001,
                    "radius {radius}, chord error {chord_error}"
                );
            }
        }
    }

    #[test]
    fn no_arc_has_many_more_chords_than_it_needs() {
        let n = chords_of_arc(200.0, 3.0, 0.01) as f64;
        assert!(200.0 * (1.0 - (1.5 / (n - 1.0)).cos()) > 0.01);
    }

    #[test]
    fn angle_less_its_sine() {
        for turn in [1e-3, 0.1, 0.5, LARGEST_TURN] {
            let direct: f64 = turn - f64::sin(turn);
            assert!((less_its_sine(turn) - direct).abs() < 1e-15, "{turn}");
        }
    }
}
