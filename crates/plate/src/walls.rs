//! Walls between two cuts, or between a cut and the outline, that are too thin to stand.

use std::collections::{BTreeMap, BTreeSet};

use glam::DVec2;

use crate::arrangement::{Arrangement, Edge, Interval};
use crate::boxes::Boxes;
use crate::segment::Segment;
use crate::sets::Sets;

/// The thinnest place of a wall.
#[derive(Clone, Copy, Debug)]
pub(crate) struct ThinWall {
    /// The middle of the wall there.
    pub(crate) at: DVec2,
    /// Its width in mm.
    pub(crate) width_mm: f64,
}

/// Walls thinner than `least` (mm), one for each cell and pair of loops between which it stands.
///
/// A wall is material that stands between two edges and is higher, or lower, than what lies beyond
/// both. Edges are compared pair by pair where their boxes come near each other. Not seen: wedges
/// between edges that meet in a corner, and the slivers beside small roundings.
pub(crate) fn thin_walls(a: &Arrangement, least: f64) -> Vec<ThinWall> {
    let segments: Vec<Segment> = a.edges.iter().map(|e| a.segment(e)).collect();
    let boxes: Vec<[DVec2; 2]> = segments.iter().map(Segment::bounds).collect();
    let tree = Boxes::new(boxes.iter().copied());
    let loops = loops_of_edges(a);
    let joined = corners_joined_by_edges(a);
    let mut thinnest: BTreeMap<[usize; 3], ThinWall> = BTreeMap::new();
    for (i, edge) in a.edges.iter().enumerate() {
        let mut near = tree.within(boxes[i], least);
        near.retain(|&j| j > i && !edge.ends.iter().any(|v| a.edges[j].ends.contains(v)));
        near.sort_unstable();
        for j in near {
            let Some((wall, cell)) = wall_between(a, &joined, [i, j], [&segments[i], &segments[j]])
            else {
                continue;
            };
            if wall.width_mm < least {
                let (l, m) = (loops[i].min(loops[j]), loops[i].max(loops[j]));
                let known = thinnest.entry([cell, l, m]).or_insert(wall);
                if wall.width_mm < known.width_mm {
                    *known = wall;
                }
            }
        }
    }
    thinnest.into_values().collect()
}

/// For every edge a number that it shares with all edges it hangs together with.
fn loops_of_edges(a: &Arrangement) -> Vec<usize> {
    let mut sets = Sets::new(a.corners.len());
    for edge in &a.edges {
        sets.join(edge.ends[0], edge.ends[1]);
    }
    a.edges.iter().map(|e| sets.find(e.ends[0])).collect()
}

fn corners_joined_by_edges(a: &Arrangement) -> BTreeSet<[usize; 2]> {
    a.edges.iter().map(|e| [e.ends[0].min(e.ends[1]), e.ends[0].max(e.ends[1])]).collect()
}

/// The wall between two edges that share no corner, and the cell it is part of.
fn wall_between(
    a: &Arrangement,
    joined: &BTreeSet<[usize; 2]>,
    edges: [usize; 2],
    segments: [&Segment; 2],
) -> Option<(ThinWall, usize)> {
    let [e, f] = edges.map(|i| &a.edges[i]);
    if ![e.left, e.right].iter().any(|c| [f.left, f.right].contains(c)) {
        return None;
    }
    let pairs = close_points(segments[0], segments[1]).into_iter();
    // Ends of a small rounding or chamfer are close together, but there is no wall between them.
    let pairs = pairs.filter(|&[p, q]| !are_ends_of_one_edge(a, joined, [e, f], [p, q]));
    let [p, q] = pairs.min_by(|x, y| x[0].distance(x[1]).total_cmp(&y[0].distance(y[1])))?;
    let (cell, beyond_e) = sides(e, segments[0], p, q)?;
    let (cell_f, beyond_f) = sides(f, segments[1], q, p)?;
    let wall = ThinWall { at: 0.5 * (p + q), width_mm: p.distance(q) };
    let stands = stands_alone(a.cells[cell]?, a.cells[beyond_e], a.cells[beyond_f]);
    (cell == cell_f && stands).then_some((wall, cell))
}

/// Pairs of points, one on each piece, among which are the two closest.
fn close_points(a: &Segment, b: &Segment) -> Vec<[DVec2; 2]> {
    let on = |piece: &Segment, p: DVec2| nearest_on(piece, p);
    // The middles count where two pieces run beside each other.
    let mut pairs: Vec<[DVec2; 2]> =
        [a.start, a.end, a.midpoint()].into_iter().map(|p| [p, on(b, p)]).collect();
    pairs.extend([b.start, b.end, b.midpoint()].into_iter().map(|q| [on(a, q), q]));
    // Where round pieces come closest, the line between the points runs through the centre.
    for (round, other) in [(a, b), (b, a)] {
        if let Some(arc) = round.arc {
            let facing = match other.arc {
                None => nearest_on(other, arc.centre),
                Some(other) => other.centre,
            };
            let axis = (facing - arc.centre).normalize_or_zero();
            let radius = round.start.distance(arc.centre);
            for p in [arc.centre + axis * radius, arc.centre - axis * radius] {
                let p = nearest_on(round, p);
                let q = nearest_on(other, p);
                pairs.push(if std::ptr::eq(round, a) { [p, q] } else { [q, p] });
            }
        }
    }
    pairs
}

/// The point of a piece that is closest to `p`.
fn nearest_on(piece: &Segment, p: DVec2) -> DVec2 {
    let t = piece.parameter(p);
    if !(0.0..=1.0).contains(&t) {
        let start_is_nearer = p.distance(piece.start) < p.distance(piece.end);
        return if start_is_nearer { piece.start } else { piece.end };
    }
    match piece.arc {
        None => piece.point_at(t),
        // From the centre all points are equally far.
        Some(arc) => (p - arc.centre)
            .try_normalize()
            .map_or(piece.start, |spoke| arc.centre + spoke * piece.start.distance(arc.centre)),
    }
}

/// Whether `p` and `q` are corners of the two edges that a third edge joins.
fn are_ends_of_one_edge(
    a: &Arrangement,
    joined: &BTreeSet<[usize; 2]>,
    [e, f]: [&Edge; 2],
    [p, q]: [DVec2; 2],
) -> bool {
    let corner = |edge: &Edge, p: DVec2| edge.ends.into_iter().find(|&v| a.corners[v] == p);
    let (Some(v), Some(w)) = (corner(e, p), corner(f, q)) else { return false };
    joined.contains(&[v.min(w), v.max(w)])
}

/// The cells before and behind an edge at `p`, looking at it from `q`.
fn sides(edge: &Edge, segment: &Segment, p: DVec2, q: DVec2) -> Option<(usize, usize)> {
    let along = match segment.arc {
        None => segment.end - segment.start,
        Some(arc) => (p - arc.centre).perp() * arc.sweep.signum(),
    };
    let side = along.normalize_or_zero().perp_dot(q - p);
    match side.abs() > 0.0 {
        true if side > 0.0 => Some((edge.left, edge.right)),
        true => Some((edge.right, edge.left)),
        false => None,
    }
}

/// Whether some height of the wall is empty on both sides.
fn stands_alone(wall: Interval, left: Option<Interval>, right: Option<Interval>) -> bool {
    let mut levels: Vec<f64> = [Some(wall), left, right].into_iter().flatten().flatten().collect();
    levels.sort_by(f64::total_cmp);
    let is_in = |[bottom, top]: Interval, z: f64| bottom < z && z < top;
    levels
        .windows(2)
        .map(|w| 0.5 * (w[0] + w[1]))
        .any(|z| is_in(wall, z) && ![left, right].into_iter().flatten().any(|side| is_in(side, z)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plate::Face::{Bottom, Top};
    use crate::{Contour, Cut, Plate, Tolerance, arrange};
    use glam::dvec2;

    fn walls(plate: &Plate) -> Vec<(String, DVec2)> {
        let a = arrange(plate, &Tolerance::default()).expect("an arrangement");
        let walls = thin_walls(&a, 0.5);
        walls.into_iter().map(|w| (format!("{:.6}", w.width_mm), w.at)).collect()
    }

    #[track_caller]
    fn check(cuts: Vec<Cut>, expected: &[&str]) {
        let outline = Contour::rectangle(DVec2::ZERO, dvec2(100.0, 60.0));
        let mut widths: Vec<String> =
            walls(&Plate { cuts, ..Plate::new(outline, 6.0) }).into_iter().map(|w| w.0).collect();
        widths.sort();
        assert_eq!(widths, expected);
    }

    fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Contour {
        Contour::rectangle(dvec2(x0, y0), dvec2(x1, y1))
    }

    fn hole(x: f64, y: f64, r: f64) -> Cut {
        Cut::through(Contour::circle(dvec2(x, y), r))
    }

    #[test]
    fn between_holes_and_beside_the_outline() {
        check(vec![hole(20.0, 30.0, 10.0), hole(40.3, 30.0, 10.0)], &["0.300000"]);
        check(vec![hole(20.0, 10.4, 10.0)], &["0.400000"]);
        check(vec![hole(20.0, 10.6, 10.0)], &[]);
        // A corner of a window towards a hole, and towards the outline.
        check(
            vec![Cut::through(rect(30.3, 30.0, 50.0, 50.0)), hole(20.0, 30.0, 10.0)],
            &["0.300000"],
        );
        check(vec![Cut::through(rect(30.0, 30.0, 50.0, 59.75))], &["0.250000"]);
    }

    #[test]
    fn inside_a_ring_and_each_only_once() {
        // A disc's hole off centre: the wall is thinnest on one side.
        let plate = Plate {
            cuts: vec![hole(5.8, 0.0, 14.0)],
            ..Plate::new(Contour::circle(DVec2::ZERO, 20.0), 6.0)
        };
        let walls = walls(&plate);
        assert_eq!(walls.len(), 1);
        let (width, at) = &walls[0];
        assert_eq!(width, "0.200000");
        assert!(at.distance(dvec2(19.9, 0.0)) < 1e-9);
    }

    #[test]
    fn of_one_width_all_round() {
        let ring = Plate {
            cuts: vec![hole(0.0, 0.0, 19.6)],
            ..Plate::new(Contour::circle(DVec2::ZERO, 20.0), 6.0)
        };
        assert_eq!(walls(&ring)[0].0, "0.400000");
    }

    #[test]
    fn thin_teeth_and_thin_parts() {
        let gap = |x: f64| Cut::through(rect(x, 30.0, x + 4.0, 70.0));
        check(vec![gap(20.0), gap(24.4)], &["0.400000"]);
        let strip = Plate::new(rect(0.0, 0.0, 50.0, 0.3), 6.0);
        assert_eq!(walls(&strip).len(), 1);
    }

    #[test]
    fn ribs_between_pockets_but_not_steps() {
        let pocket = |x, face, depth| Cut::pocket(rect(x, 20.0, x + 20.0, 40.0), face, depth);
        check(vec![pocket(20.0, Top, 3.0), pocket(40.3, Top, 2.0)], &["0.300000"]);
        // From opposite faces each wall is held by the other side's floor.
        check(vec![pocket(20.0, Top, 2.0), pocket(40.3, Bottom, 2.0)], &[]);
        // A narrow slot and a narrow step are no walls.
        check(vec![Cut::through(rect(20.0, 20.0, 20.3, 40.0))], &[]);
        check(
            vec![pocket(20.0, Top, 2.0), Cut::pocket(rect(20.3, 20.3, 39.7, 39.7), Top, 3.0)],
            &[],
        );
    }

    #[test]
    fn small_roundings_are_no_walls() {
        let lo = dvec2(20.0, 20.0);
        let small = Contour::rounded_rectangle(lo, lo + 20.0, 0.1);
        check(vec![Cut::through(small.clone())], &[]);
        assert_eq!(walls(&Plate::new(small, 6.0)), []);
    }
}
