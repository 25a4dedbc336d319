//! Round walls: flat strips from column to column.
//!
//! A free triangulation would not do: a corner half way up one side (the floor of a pocket meets it
//! there) could be joined right across the arc.
use super::divide::Polylines;
use crate::brep::{Bound, Brep, BrepFace};
use crate::geometry::Curve;

/// Adds the triangles of a part of a cylinder or cone: between an arc, straight sides, and a second
/// arc or the tip of the cone.
pub(crate) fn triangulate(
    brep: &Brep,
    polylines: &Polylines,
    face: &BrepFace,
    triangles: &mut Vec<[u32; 3]>,
) {
    for pair in columns(brep, polylines, &face.bounds[0]).windows(2) {
        strip(polylines, &pair[0], &pair[1], triangles);
    }
}

/// For every corner of the first arc, in the direction of the loop: the corners from there straight
/// across the wall.
fn columns(brep: &Brep, polylines: &Polylines, bound: &Bound) -> Vec<Vec<u32>> {
    let is_arc = |step: &(usize, bool)| brep.edges[step.0].curve != Curve::Line;
    let mut steps = bound.clone();
    steps.rotate_left(bound.iter().position(is_arc).expect("a round wall has an arc"));
    let near = polylines.following(steps[0]);
    let across = match steps[1..].iter().position(is_arc) {
        Some(k) => {
            let last = side(polylines, near[near.len() - 1], &steps[1..=k]);
            let mut far = polylines.following(steps[k + 1]);
            far.reverse();
            (last, far, &steps[k + 2..])
        }
        None => {
            let last = side(polylines, near[near.len() - 1], &steps[1..2]);
            let tip = last[last.len() - 1];
            (last, vec![tip; near.len()], &steps[2..])
        }
    };
    let (last, far, way_back) = across;
    let mut first = side(polylines, far[0], way_back);
    first.reverse();
    let mut columns: Vec<Vec<u32>> = near.iter().zip(&far).map(|(&a, &b)| vec![a, b]).collect();
    let n = columns.len();
    columns[0] = first;
    columns[n - 1] = last;
    columns
}

/// Corners along straight edges, from the corner where they begin.
fn side(polylines: &Polylines, start: u32, steps: &[(usize, bool)]) -> Vec<u32> {
    let ends =
        steps.iter().map(|&step| *polylines.following(step).last().expect("an edge has two ends"));
    std::iter::once(start).chain(ends).collect()
}

/// Triangles between two columns, climbing on whichever is lower.
fn strip(polylines: &Polylines, a: &[u32], b: &[u32], triangles: &mut Vec<[u32; 3]>) {
    let height =
        |column: &[u32], k: usize| (polylines.at(column[k]).z - polylines.at(column[0]).z).abs();
    let (mut i, mut j) = (0, 0);
    while i + 1 < a.len() || j + 1 < b.len() {
        let climb_a = j + 1 == b.len() || (i + 1 < a.len() && height(a, i + 1) < height(b, j + 1));
        let next = if climb_a { a[i + 1] } else { b[j + 1] };
        // At the tip of a cone both columns end in one corner.
        if next != a[i] && next != b[j] {
            triangles.push([a[i], b[j], next]);
        }
        if climb_a {
            i += 1;
        } else {
            j += 1;
        }
    }
}
