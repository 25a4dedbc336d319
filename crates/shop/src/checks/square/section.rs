//! A part's section at a line across it, and its corners.

use glam::{DVec2, DVec3};
use plate::{Contour, Face, FlatPattern, Segment};

/// Corners are looked at so far within the part, mm: what lies on the very edge of a groove is in it.
const HAIR_MM: f64 = 0.02;

/// The corners of the section on the line at which coordinate `v` of the part is `at`, a hair within it, in the part's own
/// frame. Where the part has lost a corner to a step or a groove of its own, they are those of what remains: of the tongue,
/// and of the full thickness beside it.
pub(super) fn corners(pattern: &FlatPattern, thickness_mm: f64, v: usize, at: f64) -> Vec<DVec3> {
    let place = |u: f64| if v == 0 { DVec2::new(at, u) } else { DVec2::new(u, at) };
    let mut edges: Vec<f64> = Vec::new();
    for [a, b] in stretches(&pattern.through, v, at) {
        let hair = HAIR_MM.min(0.25 * (b - a));
        edges.extend([a + hair, b - hair]);
        // Both sides of the walls of its own floors.
        let walls = pattern.pockets.iter().flat_map(|pocket| &pocket.loops);
        let walls = walls.flat_map(|contour| &contour.0).flat_map(|s| crossings(s, v, at));
        let beside = walls.flat_map(|u| [u - HAIR_MM, u + HAIR_MM]);
        edges.extend(beside.filter(|u| (a + hair..=b - hair).contains(u)));
    }
    let mut corners = Vec::new();
    for own in edges.into_iter().map(place) {
        let lost = |face: Face| {
            let floors = pattern.pockets.iter().filter(|pocket| pocket.face == face);
            let here = floors.filter(|pocket| winding(&pocket.loops, own) != 0);
            here.map(|pocket| pocket.depth_mm).fold(0.0, f64::max)
        };
        let [low, high] = [lost(Face::Bottom), thickness_mm - lost(Face::Top)];
        if high - low > 2.0 * HAIR_MM {
            corners.extend([low + HAIR_MM, high - HAIR_MM].map(|depth| own.extend(depth)));
        }
    }
    corners
}

pub(super) fn winding(loops: &[Contour], p: DVec2) -> i32 {
    loops.iter().map(|contour| contour.winding(p)).sum()
}

/// From where to where there is material on the line at which coordinate `v` of the part is `at`, by the other coordinate.
pub(super) fn stretches(loops: &[Contour], v: usize, at: f64) -> Vec<[f64; 2]> {
    let mut ends: Vec<f64> =
        loops.iter().flat_map(|contour| &contour.0).flat_map(|s| crossings(s, v, at)).collect();
    ends.sort_by(f64::total_cmp);
    ends.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let is_material = |pair: &&[f64]| {
        let middle = 0.5 * (pair[0] + pair[1]);
        let p = if v == 0 { DVec2::new(at, middle) } else { DVec2::new(middle, at) };
        winding(loops, p) != 0
    };
    let mut all: Vec<[f64; 2]> = Vec::new();
    for pair in ends.windows(2).filter(is_material) {
        match all.last_mut() {
            Some(last) if (last[1] - pair[0]).abs() < 1e-6 => last[1] = pair[1],
            _ => all.push([pair[0], pair[1]]),
        }
    }
    all
}

/// Where a piece crosses that line.
fn crossings(piece: &Segment, v: usize, at: f64) -> Vec<f64> {
    let u = 1 - v;
    let (Some(arc), Some(radius)) = (piece.arc, piece.radius()) else {
        let (a, b) = (piece.start, piece.end);
        if (a[v] - at) * (b[v] - at) > 0.0 || (a[v] - b[v]).abs() < 1e-9 {
            return Vec::new();
        }
        let share = (at - a[v]) / (b[v] - a[v]);
        return vec![a[u] + share * (b[u] - a[u])];
    };
    let off = at - arc.centre[v];
    if off.abs() >= radius {
        return Vec::new();
    }
    let reach = (radius * radius - off * off).sqrt();
    let candidates = [arc.centre[u] - reach, arc.centre[u] + reach];
    let is_on = |x: &f64| {
        let p = if v == 0 { DVec2::new(at, *x) } else { DVec2::new(*x, at) };
        piece.distance(p) < 1e-6
    };
    candidates.into_iter().filter(is_on).collect()
}
