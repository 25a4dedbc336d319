//! Flat faces: a constrained Delaunay triangulation between the loops.
use super::divide::Polylines;
use crate::brep::BrepFace;
use glam::{DVec2, DVec3, dvec2};
use spade::handles::FixedVertexHandle;
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};
use std::collections::BTreeMap;

/// Two chords of the face cross.
pub(crate) struct Crossing;

/// Adds the triangles of a flat face, spanned by the unit vectors `u` and `v`.
pub(crate) fn triangulate(
    polylines: &Polylines,
    face: &BrepFace,
    [u, v]: [DVec3; 2],
    triangles: &mut Vec<[u32; 3]>,
) -> Result<(), Crossing> {
    let loops: Vec<Vec<u32>> = face.bounds.iter().map(|bound| polylines.around(bound)).collect();
    let flat = |corner: u32| {
        let p = polylines.at(corner);
        dvec2(p.dot(u), p.dot(v))
    };
    if let [only] = loops.as_slice()
        && let &[a, b, c, d] = only.as_slice()
        && is_convex([a, b, c, d].map(flat))
    {
        triangles.extend([[a, b, c], [a, c, d]]);
        return Ok(());
    }
    triangulate_loops(&loops, flat, triangles)
}

fn is_convex(quad: [DVec2; 4]) -> bool {
    (0..4).all(|k| {
        let [a, b, c] = [quad[k], quad[(k + 1) % 4], quad[(k + 2) % 4]];
        let turn = (b - a).perp_dot(c - b);
        turn > 1e-6 * (b - a).length() * (c - b).length()
    })
}

type Cdt = ConstrainedDelaunayTriangulation<Point2<f64>>;

fn triangulate_loops(
    loops: &[Vec<u32>],
    flat: impl Fn(u32) -> DVec2,
    triangles: &mut Vec<[u32; 3]>,
) -> Result<(), Crossing> {
    // A corner where the face touches itself is in two loops, but is one point.
    let mut points = Vec::new();
    let mut corner_of = Vec::new();
    let mut point_of: BTreeMap<u32, usize> = BTreeMap::new();
    let mut constraints = Vec::new();
    for corners in loops {
        let indices: Vec<usize> = corners
            .iter()
            .map(|&corner| {
                *point_of.entry(corner).or_insert_with(|| {
                    points.push(readable(flat(corner)));
                    corner_of.push(corner);
                    points.len() - 1
                })
            })
            .collect();
        let next = indices.iter().cycle().skip(1);
        constraints.extend(indices.iter().zip(next).map(|(&a, &b)| [a, b]));
    }
    let (n_points, n_constraints) = (points.len(), constraints.len());
    let mut crossing = false;
    let cdt =
        Cdt::try_bulk_load_cdt(points, constraints, |_| crossing = true).map_err(|_| Crossing)?;
    // Points or chords that fell together leave fewer than were put in.
    if crossing || cdt.num_vertices() != n_points || cdt.num_constraints() != n_constraints {
        return Err(Crossing);
    }
    let corner = |vertex: FixedVertexHandle| corner_of[vertex.index()];
    let inside = inside(&cdt);
    let kept = cdt.inner_faces().filter(|face| inside[face.index()] == Some(true));
    triangles.extend(kept.map(|face| face.vertices().map(|vertex| corner(vertex.fix()))));
    Ok(())
}

/// spade refuses numbers that are almost, but not quite, zero.
fn readable(p: DVec2) -> Point2<f64> {
    let flush = |x: f64| if x.abs() < 1e-12 { 0.0 } else { x };
    Point2::new(flush(p.x), flush(p.y))
}

/// For every face of the triangulation whether it lies between the loops: found by walking in from
/// the outside and changing sides at every chord.
fn inside(cdt: &Cdt) -> Vec<Option<bool>> {
    let mut inside = vec![None; cdt.num_all_faces()];
    let mut todo = Vec::new();
    for hull in cdt.convex_hull() {
        let inner = hull.rev();
        if let Some(face) = inner.face().as_inner()
            && inside[face.index()].is_none()
        {
            inside[face.index()] = Some(inner.is_constraint_edge());
            todo.push(face);
        }
    }
    while let Some(face) = todo.pop() {
        for edge in face.adjacent_edges() {
            if let Some(neighbour) = edge.rev().face().as_inner()
                && inside[neighbour.index()].is_none()
            {
                inside[neighbour.index()] =
                    inside[face.index()].map(|here| here != edge.is_constraint_edge());
                todo.push(neighbour);
            }
        }
    }
    inside
}
