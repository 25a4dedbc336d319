//! What of a plane face is not covered.

use glam::{DVec2, DVec3};
use plate::hull;

use crate::plan::space::Space;

/// Remains of less than this area, mm², or thinner than [`SLIVER`], are rounding errors between pieces that meet. Nothing
/// that is planned here passes through them.
const CRUMB: f64 = 1e-3;

/// mm.
const SLIVER: f64 = 1e-2;

/// An upright or level plane: all points whose coordinate `axis` is `at`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plane {
    pub(super) axis: usize,
    pub(super) at: f64,
}

impl Plane {
    /// The other two coordinates of a point.
    pub(super) fn flat(&self, p: DVec3) -> DVec2 {
        match self.axis {
            0 => DVec2::new(p.y, p.z),
            1 => DVec2::new(p.x, p.z),
            _ => DVec2::new(p.x, p.y),
        }
    }

    /// The point at `height` along its axis with these other two coordinates.
    pub(super) fn lifted(&self, flat: DVec2, height: f64) -> DVec3 {
        match self.axis {
            0 => DVec3::new(height, flat.x, flat.y),
            1 => DVec3::new(flat.x, height, flat.y),
            _ => flat.extend(height),
        }
    }

    /// Sections of all that is fixed.
    pub(super) fn sections(&self, space: &Space<'_>) -> Vec<Vec<DVec2>> {
        let fixed = space.fixed.iter().map(|obstacle| obstacle.piece);
        fixed
            .filter(|piece| piece.min[self.axis] < self.at && self.at < piece.max[self.axis])
            .map(|piece| self.section(&piece.points))
            .collect()
    }

    /// The section of the hull of points, anticlockwise; empty when the plane misses it.
    pub(super) fn section(&self, points: &[DVec3]) -> Vec<DVec2> {
        let height = |p: &DVec3| p[self.axis] - self.at;
        let mut cut = Vec::new();
        for above in points.iter().filter(|p| height(p) >= 0.0) {
            for below in points.iter().filter(|p| height(p) < 0.0) {
                let share = height(above) / (height(above) - height(below));
                cut.push(self.flat(above.lerp(*below, share)));
            }
        }
        hull(cut)
    }
}

/// What is left of a rectangle after convex polygons (anticlockwise) are taken away, as convex polygons.
pub(super) fn left([lo, hi]: [DVec2; 2], covers: &[Vec<DVec2>]) -> Vec<Vec<DVec2>> {
    let whole = vec![lo, DVec2::new(hi.x, lo.y), hi, DVec2::new(lo.x, hi.y)];
    let mut left = vec![whole];
    for cover in covers.iter().filter(|cover| cover.len() > 2) {
        left = left.into_iter().flat_map(|polygon| without(polygon, cover)).collect();
    }
    left
}

/// One convex polygon without another.
fn without(polygon: Vec<DVec2>, cover: &[DVec2]) -> Vec<Vec<DVec2>> {
    let ([lo, hi], [least, most]) = (around(&polygon), around(cover));
    if lo.cmpge(most).any() || hi.cmple(least).any() {
        return vec![polygon];
    }
    let mut outside = Vec::new();
    let mut inside = polygon;
    for (i, &a) in cover.iter().enumerate() {
        let b = cover[(i + 1) % cover.len()];
        outside.push(clipped(&inside, b, a));
        inside = clipped(&inside, a, b);
        if inside.len() < 3 {
            break;
        }
    }
    outside.retain(|p| is_worth(p));
    outside
}

/// What of a convex polygon is on the left of the line from `a` to `b`.
fn clipped(polygon: &[DVec2], a: DVec2, b: DVec2) -> Vec<DVec2> {
    let along = (b - a).normalize_or_zero();
    let side = |p: DVec2| along.perp_dot(p - a);
    let mut kept = Vec::new();
    for (i, &p) in polygon.iter().enumerate() {
        let q = polygon[(i + 1) % polygon.len()];
        let (sp, sq) = (side(p), side(q));
        if sp >= 0.0 {
            kept.push(p);
        }
        if (sp > 0.0 && sq < 0.0) || (sp < 0.0 && sq > 0.0) {
            kept.push(p.lerp(q, sp / (sp - sq)));
        }
    }
    kept
}

fn is_worth(polygon: &[DVec2]) -> bool {
    let Some(&first) = polygon.first() else { return false };
    let area: f64 =
        polygon.windows(2).map(|e| (e[0] - first).perp_dot(e[1] - first)).sum::<f64>() / 2.0;
    let [lo, hi] = around(polygon);
    area > CRUMB && area > SLIVER * (hi - lo).length()
}

pub(super) fn around(points: &[DVec2]) -> [DVec2; 2] {
    let start = [DVec2::INFINITY, DVec2::NEG_INFINITY];
    points.iter().fold(start, |[lo, hi], p| [lo.min(*p), hi.max(*p)])
}

/// Rectangles around what hangs together; more is taken to hang together than does, never less.
pub(super) fn groups(polygons: &[Vec<DVec2>]) -> Vec<[DVec2; 2]> {
    let mut boxes: Vec<[DVec2; 2]> = polygons.iter().map(|p| around(p)).collect();
    let mut i = 0;
    while i < boxes.len() {
        let [lo, hi] = boxes[i];
        let meets = |b: &[DVec2; 2]| lo.cmple(b[1] + SLIVER).all() && hi.cmpge(b[0] - SLIVER).all();
        match (0..boxes.len()).find(|j| *j != i && meets(&boxes[*j])) {
            Some(j) => {
                let other = boxes[j];
                boxes[i] = [lo.min(other[0]), hi.max(other[1])];
                boxes.remove(j);
                i = 0;
            }
            None => i += 1,
        }
    }
    boxes
}
