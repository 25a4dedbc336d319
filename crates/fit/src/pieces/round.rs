//! Turned bodies: whole rounds where they reach their axis, else rings cut like a cake. Circles are drawn around,
//! never within; bores by chords.

use std::f64::consts::TAU;

use glam::{DVec2, DVec3};
use plate::Turned;

use super::outline::{chords, share, tangents};
use super::sweep::{Column, Side, columns};
use super::{COARSE_CHORD_MM, FINE_CHORD_MM, Occupants, chord_error, within_round};
use crate::convex::Convex;

pub(crate) fn fine(turned: &Turned) -> Vec<Convex> {
    let pieces = profile(turned);
    pieces.iter().flat_map(|column| rings(column, FINE_CHORD_MM, FINE_CHORD_MM)).collect()
}

pub(crate) fn coarse(turned: &Turned, occupants: Occupants<'_>) -> Vec<Convex> {
    let mut pieces = profile(turned);
    let mut all = Vec::new();
    for column in &mut pieces {
        let bore = column.left.iter().fold(0.0, |r: f64, p| r.max(p.x));
        let z = [column.left[0].y, column.left[column.left.len() - 1].y];
        let around = [DVec3::new(-bore, -bore, z[0]), DVec3::new(bore, bore, z[1])];
        let within = within_round(DVec2::ZERO, bore, &occupants(around));
        // A pipe, a fitting, a sock: nothing goes through but what already does.
        if within.is_empty() {
            column.left = z.map(|z| DVec2::new(0.0, z)).to_vec();
        }
        let least = column.left.iter().fold(f64::INFINITY, |r: f64, p| r.min(p.x));
        all.extend(rings(column, chord_error(DVec2::ZERO, least, &within), COARSE_CHORD_MM));
    }
    all
}

/// Convex pieces of the profile.
fn profile(turned: &Turned) -> Vec<Column> {
    let side = |[start, end]: [DVec2; 2]| Side { start, end, left: 1, right: 0 };
    let sides: Vec<Side> = turned.sides().map(side).collect();
    // A profile that was checked does not cross itself.
    columns(&sides, &|between| between.what).unwrap_or_default()
}

/// The bodies of one piece of the profile.
fn rings(column: &Column, inner_error: f64, outer_error: f64) -> Vec<Convex> {
    let greatest = |chain: &[DVec2]| chain.iter().fold(0.0, |r: f64, p| r.max(p.x));
    let (bore, radius) = (greatest(&column.left), greatest(&column.right));
    if bore <= 0.0 {
        let n = tangents(radius, TAU, outer_error).max(3);
        let out = 1.0 / libm::cos(0.5 * TAU / super::outline::count(n));
        let ring = |p: &DVec2| {
            let (r, z) = (p.x * out, p.y);
            let count = if r > 0.0 { n } else { 1 };
            (0..count).map(move |k| at(r, TAU * share(k, n), z))
        };
        return vec![Convex::new(column.right.iter().flat_map(ring).collect())];
    }
    let n = chords(bore, TAU, inner_error).max(3);
    let slice = TAU / super::outline::count(n);
    // Tangents within one slice; both ends touch the circle, so the slices fit together.
    let m = tangents(radius, slice, outer_error);
    let turn = slice / super::outline::count(m);
    let out = 1.0 / libm::cos(0.5 * turn);
    let piece = |k: usize| {
        let (from, to) = (TAU * share(k, n), TAU * share(k + 1, n));
        let mut points = Vec::new();
        for p in &column.left {
            points.extend([at(p.x, from, p.y), at(p.x, to, p.y)]);
        }
        for p in &column.right {
            points.extend([at(p.x, from, p.y), at(p.x, to, p.y)]);
            let corner = |j: usize| from + turn * (super::outline::count(j) + 0.5);
            points.extend((0..m).map(|j| at(p.x * out, corner(j), p.y)));
        }
        Convex::new(points)
    };
    (0..n).map(piece).collect()
}

/// A point at a radius, an angle and a height.
fn at(r: f64, angle: f64, z: f64) -> DVec3 {
    DVec3::new(r * libm::cos(angle), r * libm::sin(angle), z)
}
