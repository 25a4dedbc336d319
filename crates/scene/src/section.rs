//! Cuts a scene along the sump's length and fills what the cut has opened.

use std::collections::BTreeMap;

use glam::{DVec2, DVec3, dvec2, dvec3};
use units::Length;

use crate::nearest::near_face;
use crate::scene::{Body, Label, Scene, Side, Triangle};

/// Levels closer than this look like one, mm.
const SAME_LEVEL_MM: f64 = 0.5;
/// Ends of a cut's pieces closer than this are one, mm.
const SAME_POINT_MM: f64 = 1e-6;

impl Scene {
    /// The scene without what lies in front of the plane `y = at` (mm). Bodies that it cuts get a face
    /// there, of [`Side::Cut`]; their labels move onto it.
    pub fn cut(&self, at: f64) -> Self {
        let mut places = vec![None; self.bodies.len()];
        let mut bodies = Vec::new();
        for (i, body) in self.bodies.iter().enumerate() {
            if let Some(rest) = cut_body(body, at) {
                places[i] = Some(bodies.len());
                bodies.push(rest);
            }
        }
        let waters = self.waters.iter().filter(|w| w.max.y > at).cloned();
        let waters = waters.map(|mut water| {
            water.min.y = water.min.y.max(at);
            water
        });
        let levels = self.levels.iter().filter(|l| l.min.y < at && at < l.max.y).cloned();
        let levels: Vec<_> = levels.collect();
        let labels = self.labels.iter().filter_map(|label| {
            let body = match label.body {
                Some(body) => Some((*places.get(body)?)?),
                None if levels.iter().any(|l| l.chamber == label.text) => None,
                None => return self.label_behind(label, at),
            };
            let mut anchor = label.anchor;
            if anchor.y < at {
                anchor.y = at;
                if let Some(body) = body {
                    anchor = near_face(&bodies[body], anchor);
                }
            }
            Some(Label { body, anchor, ..label.clone() })
        });
        Self {
            waters: waters.collect(),
            labels: labels.collect(),
            bodies,
            levels,
            guides: self.guides.iter().filter(|g| g.iter().all(|p| p.y >= at)).cloned().collect(),
            section_y: at,
            ..self.clone_frame()
        }
    }

    /// The label of a chamber that lies behind the plane: its water is seen through the one before it,
    /// so the label says so, with the level.
    fn label_behind(&self, label: &Label, at: f64) -> Option<Label> {
        let level = self.levels.iter().find(|l| l.chamber == label.text && at <= l.min.y)?;
        // Where the water before it stands as high there is nothing to tell apart.
        let is_hidden = self.levels.iter().any(|l| {
            let is_before = l.min.y < at && l.min.x < level.max.x && level.min.x < l.max.x;
            is_before && (l.height_mm - level.height_mm).abs() < SAME_LEVEL_MM
        });
        if is_hidden {
            return None;
        }
        let height = Length::mm(level.height_mm).show(self.report);
        // Off the middle, where the chamber before it has its own mark.
        let x = level.min.x + 0.3 * (level.max.x - level.min.x);
        let anchor = DVec3::new(x, level.min.y, level.floor_z + level.height_mm);
        Some(Label { text: format!("{}, behind, {height}", label.text), anchor, ..label.clone() })
    }

    /// The scene with nothing in it.
    pub(crate) fn clone_frame(&self) -> Self {
        Self {
            title: self.title.clone(),
            report: self.report,
            outside: self.outside,
            bodies: Vec::new(),
            waters: Vec::new(),
            labels: Vec::new(),
            levels: Vec::new(),
            guides: Vec::new(),
            section_y: self.section_y,
            spares: Vec::new(),
            cabinet: None,
        }
    }
}

/// What is left of a body; `None` when all of it lies in front.
pub(crate) fn cut_body(body: &Body, at: f64) -> Option<Body> {
    let [lo, hi] = body.bounds()?;
    if hi.y <= at + SAME_POINT_MM {
        return None;
    }
    if lo.y >= at {
        return Some(body.clone());
    }
    let mut rest = Body { triangles: Vec::new(), edges: Vec::new(), ..body.clone() };
    let mut opened = Vec::new();
    for triangle in &body.triangles {
        cut_triangle(triangle, at, &mut rest.triangles, &mut opened);
    }
    rest.triangles.extend(fill(&opened).into_iter().map(|corners| Triangle {
        corners: corners.map(|p| dvec3(p.x, at, p.y)),
        normals: [-DVec3::Y; 3],
        side: Side::Cut,
    }));
    rest.edges = cut_lines(&body.edges, at);
    rest.engraved = cut_lines(&body.engraved, at);
    let outlines = loops(&opened).into_iter();
    rest.edges.extend(outlines.map(|l| l.into_iter().map(|p| dvec3(p.x, at, p.y)).collect()));
    Some(rest)
}

/// Keeps the part of a triangle behind the plane, and notes the piece of the plane that it opens, as
/// `(x, z)`. Corners on the plane count as behind, so that each triangle decides alike.
fn cut_triangle(
    triangle: &Triangle,
    at: f64,
    kept: &mut Vec<Triangle>,
    opened: &mut Vec<[DVec2; 2]>,
) {
    let stays = triangle.corners.map(|p| p.y >= at);
    match stays.iter().filter(|&&s| s).count() {
        0 => return,
        3 => {
            kept.push(*triangle);
            return;
        }
        _ => {}
    }
    let mut polygon = Vec::with_capacity(4);
    let mut crossings = Vec::with_capacity(2);
    for i in 0..3 {
        let j = (i + 1) % 3;
        let (a, b) = (triangle.corners[i], triangle.corners[j]);
        if stays[i] {
            polygon.push((a, triangle.normals[i]));
        }
        if stays[i] != stays[j] {
            // From the lower index always, so that the neighbour finds the very same point.
            let swap = (a.to_array()) > (b.to_array());
            let (from, to) = if swap { (b, a) } else { (a, b) };
            let t = (at - from.y) / (to.y - from.y);
            let p = from.lerp(to, t);
            let weight = if swap { 1.0 - t } else { t };
            polygon.push((p, triangle.normals[i].lerp(triangle.normals[j], weight).normalize()));
            crossings.push(dvec2(p.x, p.z));
        }
    }
    for i in 2..polygon.len() {
        let fan = [polygon[0], polygon[i - 1], polygon[i]];
        let (corners, normals) = (fan.map(|c| c.0), fan.map(|c| c.1));
        kept.push(Triangle { corners, normals, side: triangle.side });
    }
    if let [a, b] = crossings[..]
        && a.distance(b) > SAME_POINT_MM
    {
        opened.push([a, b]);
    }
}

/// The parts of lines behind the plane.
fn cut_lines(lines: &[Vec<DVec3>], at: f64) -> Vec<Vec<DVec3>> {
    let mut kept = Vec::new();
    for line in lines {
        let mut run: Vec<DVec3> = Vec::new();
        for (i, &p) in line.iter().enumerate() {
            if i > 0 && (line[i - 1].y >= at) != (p.y >= at) {
                let q = line[i - 1];
                run.push(q.lerp(p, (at - q.y) / (p.y - q.y)));
            }
            if p.y >= at {
                run.push(p);
            } else if !run.is_empty() {
                kept.push(std::mem::take(&mut run));
            }
        }
        kept.push(run);
    }
    kept.retain(|line| line.len() > 1);
    kept
}

/// Joins pieces end to end into loops; each begins and ends at the same point if the pieces close.
fn loops(pieces: &[[DVec2; 2]]) -> Vec<Vec<DVec2>> {
    let key = |p: DVec2| (p / (2.0 * SAME_POINT_MM)).round().as_i64vec2().to_array();
    let mut at: BTreeMap<[i64; 2], Vec<usize>> = BTreeMap::new();
    for (i, piece) in pieces.iter().enumerate() {
        for &end in piece {
            at.entry(key(end)).or_default().push(i);
        }
    }
    let mut used = vec![false; pieces.len()];
    let mut found = Vec::new();
    for first in 0..pieces.len() {
        if std::mem::replace(&mut used[first], true) {
            continue;
        }
        let mut line = pieces[first].to_vec();
        while let Some(&last) = line.last() {
            let here = at.get(&key(last)).map_or(&[][..], Vec::as_slice);
            let Some(&next) = here.iter().find(|&&i| !used[i]) else { break };
            used[next] = true;
            let [a, b] = pieces[next];
            line.push(if key(a) == key(last) { b } else { a });
        }
        found.push(line);
    }
    found
}

/// Triangles that fill what the pieces enclose (by the even-odd rule): level strips between the
/// heights of all ends, each cut by the pieces into trapezoids.
fn fill(pieces: &[[DVec2; 2]]) -> Vec<[DVec2; 3]> {
    let mut heights: Vec<f64> = pieces.iter().flatten().map(|p| p.y).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|a, b| *a - *b < SAME_POINT_MM);
    let mut triangles = Vec::new();
    for strip in heights.windows(2) {
        let [low, high] = [strip[0], strip[1]];
        let middle = 0.5 * (low + high);
        let mut crossed: Vec<[f64; 2]> = pieces
            .iter()
            .filter(|[a, b]| (a.y < middle) != (b.y < middle))
            .map(|[a, b]| [low, high].map(|z| a.x + (b.x - a.x) * (z - a.y) / (b.y - a.y)))
            .collect();
        crossed.sort_by(|a, b| (a[0] + a[1]).total_cmp(&(b[0] + b[1])));
        for pair in crossed.chunks_exact(2) {
            let [left, right] = [pair[0], pair[1]];
            let (a, b) = (dvec2(left[0], low), dvec2(right[0], low));
            let (c, d) = (dvec2(right[1], high), dvec2(left[1], high));
            // Seen from the front, `x` to the right and `z` up, this order has its outside in front.
            triangles.extend([[a, b, c], [a, c, d]]);
        }
    }
    triangles
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(triangles: &[[DVec2; 3]]) -> f64 {
        triangles.iter().map(|[a, b, c]| 0.5 * (*b - *a).perp_dot(*c - *a)).sum()
    }

    fn ring(corners: &[(f64, f64)]) -> Vec<[DVec2; 2]> {
        let n = corners.len();
        (0..n).map(|i| [corners[i].into(), corners[(i + 1) % n].into()]).collect()
    }

    #[test]
    fn a_frame_is_filled_without_its_hole() {
        let mut pieces = ring(&[(0., 0.), (10., 0.), (10., 8.), (0., 8.)]);
        pieces.extend(ring(&[(2., 2.), (5., 2.), (7., 6.), (2., 6.)]));
        assert!((area(&fill(&pieces)) - (80.0 - 16.0)).abs() < 1e-9);
        let found = loops(&pieces);
        assert_eq!(found.len(), 2);
        assert!(found.iter().all(|l| l.first() == l.last()));
    }

    #[test]
    fn a_polygon_with_points_up_and_down_is_filled() {
        let zigzag = ring(&[(0., 0.), (9., 0.), (9., 5.), (7., 2.), (5., 6.), (3., 1.), (1., 7.)]);
        let shoelace: f64 = zigzag.iter().map(|[a, b]| 0.5 * a.perp_dot(*b)).sum();
        assert!((area(&fill(&zigzag)) - shoelace).abs() < 1e-9);
    }

    #[test]
    fn lines_end_at_the_plane() {
        let line =
            vec![dvec3(0., -1., 0.), dvec3(0., 1., 0.), dvec3(4., 1., 0.), dvec3(4., -3., 0.)];
        let kept = cut_lines(&[line], 0.0);
        assert_eq!(kept.len(), 1);
        assert_eq!(kept[0].first(), Some(&dvec3(0., 0., 0.)));
        assert_eq!(kept[0].last(), Some(&dvec3(4., 0., 0.)));
    }
}
