//! Solid discs in a part.

use std::f64::consts::{FRAC_PI_2, TAU};

use glam::DVec2;
use plate::hull;

use super::cover::{Plane, around};
use crate::plan::body::Body;

/// A solid disc, or one of which only the border is material.
#[derive(Clone, Copy, Debug)]
pub(super) struct Disc {
    radius: f64,
    thickness: f64,
    /// Whether it is material to its middle, so that thinner discs and balls in it are so too.
    is_solid: bool,
}

impl Disc {
    #[cfg(test)]
    pub(super) fn solid(radius: f64, thickness: f64) -> Self {
        Self { radius, thickness, is_solid: true }
    }

    /// How far its farthest point is from its middle, mm.
    pub(super) fn reach(&self) -> f64 {
        self.radius.hypot(self.thickness / 2.0)
    }

    /// Rectangles that level planes through its middle cut from it while it stays below a lid `headroom` above them, with
    /// holes of at most `hole` across: length and breadth, mm. In two groups, for the disc lying and standing; every
    /// such plane cuts from it all of one group. None of a group that cannot be.
    ///
    /// At a tilt `α` of the disc against the plane a chord `hole` long on the upper edge of its border is
    /// `√(r² − hole²/4) sin α + t/2 cos α` above it, and what is above the lid is no broader than a hole. This height is at most
    /// the headroom only up to a tilt `α₁`, lying, and from a tilt `α₂` on, standing. Through a hole as wide as the disc it may
    /// stand as it likes. A point of the plane at `x` the
    /// steepest way and `y` across is at `x sin α` along the disc's axis and `√(x² cos² α + y²)` from it. So the plane cuts from
    /// the disc, and from its border too, the corners of all rectangles `2x` by `2y` with `x sin α ≤ t/2` and
    /// `x² cos² α + y² ≤ r²`: lying those with `x ≤ t / (2 sin α₁)` and `y = √(r² − x²)`, standing those with
    /// `x ≤ t/2` and `y = √(r² − x² cos² α₂)`.
    pub(super) fn sections_under(&self, headroom: f64, hole: f64) -> Vec<Vec<[f64; 2]>> {
        /// How finely rectangles of a group are told apart.
        const STEPS: u32 = 32;
        let (r, half) = (self.radius, self.thickness / 2.0);
        // rise sin α + t/2 cos α = most · cos(α − steepest).
        let rise = (r * r - hole * hole / 4.0).max(0.0).sqrt();
        let (steepest, most) = (libm::atan2(rise, half), rise.hypot(half));
        if most <= headroom || headroom <= 0.0 || 2.0 * r <= hole {
            return vec![self.sections()];
        }
        let off = libm::acos(headroom / most);
        let (lying, standing) = (steepest - off, steepest + off);
        let shares = || (1..=STEPS).map(|k| f64::from(k) / f64::from(STEPS));
        let mut groups = Vec::new();
        if lying >= 0.0 {
            let most = r.min(half / libm::sin(lying).max(1e-9));
            groups.push(shares().map(|s| rectangle(most * s, r, most * s)).collect());
        }
        if standing <= FRAC_PI_2 {
            let flat = libm::cos(standing);
            let most = half.min(r / flat.max(1e-9));
            groups.push(shares().map(|s| rectangle(most * s, r, most * s * flat)).collect());
        }
        if self.is_solid {
            let thickest = self.thickness.min(2.0 * r);
            groups.iter_mut().for_each(|group: &mut Vec<_>| group.push([thickest, thickest]));
        }
        groups
    }

    /// Rectangles that every plane through its middle cuts from it: length and breadth, mm.
    pub(super) fn sections(&self) -> Vec<[f64; 2]> {
        let section = |t: f64| [2.0 * (self.radius * self.radius - t * t / 4.0).max(0.0).sqrt(), t];
        if !self.is_solid {
            return vec![section(self.thickness)];
        }
        let thickest = self.thickness.min(2.0 * self.radius);
        let mut sections: Vec<[f64; 2]> =
            (1..=16).rev().map(|k| section(thickest * f64::from(k) / 16.0)).collect();
        sections.retain(|[long, broad]| long >= broad);
        // Every section holds a great circle of the largest ball. As long as it is broad, this fits where the circle does.
        sections.push([thickest, thickest]);
        sections
    }
}

/// Twice `x` by twice `√(r² − off²)`, the longer first.
fn rectangle(x: f64, r: f64, off: f64) -> [f64; 2] {
    let y = (r * r - off * off).max(0.0).sqrt();
    [2.0 * x.max(y), 2.0 * x.min(y)]
}

/// Shares of the largest radius at which a ring is looked for.
const SHRINKS: u32 = 12;

/// The largest solid disc of every piece that is a prism along an axis, and the largest ring of prisms of one thickness that
/// lie side by side, as those of a sheet with openings do; the largest first.
pub(super) fn discs(body: &Body) -> Vec<Disc> {
    let mut discs = Vec::new();
    for axis in 0..3 {
        let plane = Plane { axis, at: 0.0 };
        let prisms: Vec<Prism> =
            body.whole.iter().filter_map(|points| Prism::of(points, &plane)).collect();
        for prism in &prisms {
            let [lo, hi] = around(&prism.base);
            let radius = inscribed(&prism.base, (lo + hi) / 2.0);
            discs.push(Disc { radius, thickness: prism.thickness(), is_solid: true });
        }
        for prism in &prisms {
            let layer: Vec<&Prism> = prisms.iter().filter(|p| p.is_level_with(prism)).collect();
            if layer.len() > 1 && layer.first().is_some_and(|first| std::ptr::eq(*first, prism)) {
                discs.extend(ring(&layer));
            }
        }
    }
    discs.sort_by(|a, b| b.radius.total_cmp(&a.radius));
    discs
}

/// A piece that is a prism along an axis: its outline, and where it begins and ends.
pub(super) struct Prism {
    pub(super) base: Vec<DVec2>,
    pub(super) heights: [f64; 2],
}

impl Prism {
    /// The piece, if all its points are at two heights, and the same outline is at both.
    pub(super) fn of(points: &[glam::DVec3], plane: &Plane) -> Option<Self> {
        let height = |p: &glam::DVec3| p[plane.axis];
        let low = points.iter().map(height).fold(f64::INFINITY, f64::min);
        let high = points.iter().map(height).fold(f64::NEG_INFINITY, f64::max);
        let at = |level: f64| -> Vec<DVec2> {
            let there = points.iter().filter(|p| (height(p) - level).abs() < 1e-9);
            hull(there.map(|p| plane.flat(*p)).collect())
        };
        let (lower, upper) = (at(low), at(high));
        let near = |(p, q): (&DVec2, &DVec2)| p.distance(*q) < 1e-6;
        let is_prism = lower.len() > 2
            && lower.len() == upper.len()
            && lower.iter().zip(&upper).all(near)
            && points.iter().all(|p| height(p) - low < 1e-9 || high - height(p) < 1e-9);
        is_prism.then_some(Self { base: lower, heights: [low, high] })
    }

    pub(super) fn thickness(&self) -> f64 {
        self.heights[1] - self.heights[0]
    }

    fn is_level_with(&self, other: &Self) -> bool {
        (0..2).all(|i| (self.heights[i] - other.heights[i]).abs() < 1e-6)
    }
}

/// Distance from a point to the nearest side of a convex polygon; negative outside.
pub(super) fn inscribed(polygon: &[DVec2], at: DVec2) -> f64 {
    sides(polygon).map(|(normal, offset)| offset - normal.dot(at)).fold(f64::INFINITY, f64::min)
}

/// Outward unit normals of the sides of an anticlockwise polygon and their offsets.
fn sides(polygon: &[DVec2]) -> impl Iterator<Item = (DVec2, f64)> {
    let n = polygon.len();
    (0..n).map(move |i| {
        let (a, b) = (polygon[i], polygon[(i + 1) % n]);
        let normal = -(b - a).normalize_or_zero().perp();
        (normal, normal.dot(a))
    })
}

/// The largest ring about five places along the sheet whose border is material all round. None that is thicker than wide: a
/// plane along its axis cuts that in a section as long as its thickness, but no plane need.
fn ring(layer: &[&Prism]) -> Option<Disc> {
    let all: Vec<DVec2> = layer.iter().flat_map(|p| p.base.iter().copied()).collect();
    let [lo, hi] = around(&all);
    let size = hi - lo;
    let most = size.min_element() / 2.0;
    let thickness = layer.first()?.thickness();
    let radii = (0..SHRINKS).map(|k| most * (1.0 - f64::from(k) / f64::from(SHRINKS)));
    radii.take_while(|radius| thickness <= 2.0 * radius).find_map(|radius| {
        let play = size / 2.0 - radius;
        let places = (-2..=2).map(|i| (lo + hi) / 2.0 + play * (f64::from(i) / 2.0));
        let corners = [DVec2::new(1.0, -1.0)].map(|s| (lo + hi) / 2.0 + play * s);
        places.chain(corners).any(|middle| is_material(layer, middle, radius)).then_some(Disc {
            radius,
            thickness,
            is_solid: false,
        })
    })
}

/// Whether the circle about a point is covered by the polygons: every direction by one of them.
fn is_material(layer: &[&Prism], middle: DVec2, radius: f64) -> bool {
    let mut covered: Vec<[f64; 2]> = Vec::new();
    for prism in layer {
        covered.extend(directions(&prism.base, middle, radius));
    }
    covered.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut reached = 0.0;
    for [begin, end] in covered {
        if begin > reached + 1e-7 {
            return false;
        }
        reached = f64::max(reached, end);
    }
    reached >= TAU - 1e-7
}

/// The directions, as ranges within 0 to 2π, in which the radius ends within a convex polygon.
fn directions(polygon: &[DVec2], middle: DVec2, radius: f64) -> Vec<[f64; 2]> {
    let mut free = vec![[0.0, TAU]];
    for (normal, offset) in sides(polygon) {
        // Outside this side where radius · cos(direction − towards) > clear.
        let clear = offset - normal.dot(middle);
        if clear >= radius {
            continue;
        }
        let half = libm::acos((clear / radius).max(-1.0));
        let begin = (libm::atan2(normal.y, normal.x) - half).rem_euclid(TAU);
        for shift in [-TAU, 0.0] {
            let gone = [begin + shift, begin + shift + 2.0 * half];
            free = free.into_iter().flat_map(|range| minus(range, gone)).collect();
        }
    }
    free
}

fn minus([a, b]: [f64; 2], [c, d]: [f64; 2]) -> Vec<[f64; 2]> {
    let parts = [[a, b.min(c)], [a.max(d), b]];
    parts.into_iter().filter(|[x, y]| x < y).collect()
}
