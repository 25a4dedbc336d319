//! Flat faces: a constrained Delaunay triangulation between the loops.
use super::divide::Polylines;
use crate::brep::BrepFace;
use glam::{DVec2, DVec3, dvec2};
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};
use std::collections::BTreeMap;

/// Two chords of the face cross.
pub(crate) struct Crossing;

/// Triangles between loops, as indices into the corners of all loops, one loop after the other.
type Pattern = Vec<[usize; 3]>;

/// Large level faces seen so far, seen from above. The two sides of a sheet are often the same but
/// for their height, and triangulating them is most of the work on a part.
#[derive(Default)]
pub(crate) struct Known(Vec<(Vec<Vec<DVec2>>, Pattern)>);

/// Smaller faces are not worth remembering.
const LARGE: usize = 64;

/// Adds the triangles of a flat face, spanned by the unit vectors `u` and `v`.
pub(crate) fn triangulate(
    polylines: &Polylines,
    face: &BrepFace,
    [u, v]: [DVec3; 2],
    known: &mut Known,
    triangles: &mut Vec<[u32; 3]>,
) -> Result<(), Crossing> {
    let mut loops: Vec<Vec<u32>> =
        face.bounds.iter().map(|bound| polylines.around(bound)).collect();
    let rise = u.cross(v).z;
    let from_below = rise < -0.5;
    if from_below {
        // Seen from above, the loops run the other way. Where they begin stays.
        loops.iter_mut().for_each(|corners| corners[1..].reverse());
    }
    let [u, v] = if rise.abs() > 0.5 { [DVec3::X, DVec3::Y] } else { [u, v] };
    let flat = |corner: &u32| {
        let p = polylines.at(*corner);
        dvec2(p.dot(u), p.dot(v))
    };
    let points: Vec<Vec<DVec2>> =
        loops.iter().map(|corners| corners.iter().map(flat).collect()).collect();
    let corners = loops.concat();
    let mut add = |pattern: &[[usize; 3]]| {
        let turned = |[a, b, c]: [usize; 3]| if from_below { [a, c, b] } else { [a, b, c] };
        triangles.extend(pattern.iter().map(|&t| turned(t).map(|k| corners[k])));
    };
    if is_convex_quad(&points) {
        add(&[[0, 1, 2], [0, 2, 3]]);
    } else if let Some((_, pattern)) = known.0.iter().find(|(seen, _)| *seen == points) {
        add(pattern);
    } else {
        let pattern = triangulate_loops(&loops, &points)?;
        add(&pattern);
        if corners.len() >= LARGE && rise.abs() > 0.5 {
            known.0.push((points, pattern));
        }
    }
    Ok(())
}

fn is_convex_quad(loops: &[Vec<DVec2>]) -> bool {
    let [quad] = loops else { return false };
    let turns_left = |k: usize| {
        let [a, b, c] = [quad[k], quad[(k + 1) % 4], quad[(k + 2) % 4]];
        let turn = (b - a).perp_dot(c - b);
        turn > 1e-6 * (b - a).length() * (c - b).length()
    };
    quad.len() == 4 && (0..4).all(turns_left)
}

type Cdt = ConstrainedDelaunayTriangulation<Point2<f64>>;

fn triangulate_loops(loops: &[Vec<u32>], points: &[Vec<DVec2>]) -> Result<Pattern, Crossing> {
    // A corner where the face touches itself is in two loops, but is one vertex.
    let mut vertices = Vec::new();
    let mut index_of = Vec::new();
    let mut vertex_of: BTreeMap<u32, usize> = BTreeMap::new();
    let mut constraints = Vec::new();
    let mut n_before = 0;
    for (corners, points) in loops.iter().zip(points) {
        let mut around = Vec::with_capacity(corners.len());
        for (k, (&corner, &point)) in corners.iter().zip(points).enumerate() {
            around.push(*vertex_of.entry(corner).or_insert_with(|| {
                vertices.push(readable(point + nudge(vertices.len())));
                index_of.push(n_before + k);
                vertices.len() - 1
            }));
        }
        let next = around.iter().cycle().skip(1);
        constraints.extend(around.iter().zip(next).map(|(&a, &b)| [a, b]));
        n_before += corners.len();
    }
    let (n_vertices, n_constraints) = (vertices.len(), constraints.len());
    let mut crossing = false;
    let cdt =
        Cdt::try_bulk_load_cdt(vertices, constraints, |_| crossing = true).map_err(|_| Crossing)?;
    // Vertices or chords that fell together leave fewer than were put in.
    if crossing || cdt.num_vertices() != n_vertices || cdt.num_constraints() != n_constraints {
        return Err(Crossing);
    }
    let inside = inside(&cdt);
    let kept = cdt.inner_faces().filter(|face| inside[face.index()] == Some(true));
    Ok(kept.map(|face| face.vertices().map(|vertex| index_of[vertex.fix().index()])).collect())
}

/// A shift of at most 1e-7 mm, another for every vertex; the mesh itself keeps the exact corners.
///
/// All corners of an arc lie on one circle, so whether a fourth is inside the circle of three others
/// hangs on rounding, and would be computed in exact arithmetic every time. Any answer does: shifted
/// a little, the corners have one, and meshing takes half the time.
#[expect(clippy::cast_precision_loss, reason = "only the fraction matters, and any will do")]
fn nudge(k: usize) -> DVec2 {
    // A sequence that fills the square evenly: powers of the inverse of the plastic number.
    let share = dvec2(0.754_877_666_246_693, 0.569_840_290_998_053) * k as f64;
    (share.fract() - 0.5) * 2e-7
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
    let mut unvisited = Vec::new();
    for hull in cdt.convex_hull() {
        let inner = hull.rev();
        if let Some(face) = inner.face().as_inner()
            && inside[face.index()].is_none()
        {
            inside[face.index()] = Some(inner.is_constraint_edge());
            unvisited.push(face);
        }
    }
    while let Some(face) = unvisited.pop() {
        for edge in face.adjacent_edges() {
            if let Some(neighbour) = edge.rev().face().as_inner()
                && inside[neighbour.index()].is_none()
            {
                inside[neighbour.index()] =
                    inside[face.index()].map(|here| here != edge.is_constraint_edge());
                unvisited.push(neighbour);
            }
        }
    }
    inside
}
