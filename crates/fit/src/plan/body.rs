//! The part that moves.

use glam::DVec3;

use super::ALLOWANCE_MM;
use super::cluster::{Block, Cluster, clusters};
use crate::convex::Convex;
use crate::motion::Rigid;

/// The part that moves: convex pieces in its place, in the sump's frame, each a little smaller than the real one.
#[derive(Clone, Debug)]
pub struct Body {
    /// Corners of every piece.
    pub(crate) pieces: Vec<Vec<DVec3>>,
    /// The part as it really is, without anything taken off or filled up, and without what can be taken off it: what
    /// is said to be impossible is said of this.
    pub(crate) whole: Vec<Vec<DVec3>>,
    /// By how much the pieces are smaller than the part on every side, mm.
    pub(crate) less: f64,
    /// The box around every piece.
    pub(crate) blocks: Vec<Block>,
    /// Pieces that lie together.
    pub(crate) clusters: Vec<Cluster>,
    /// Middle of the box around it in its place.
    pub(crate) centre: DVec3,
    /// Least and greatest corner of that box.
    pub(crate) bounds: [DVec3; 2],
    /// How far its farthest point is from `centre`.
    pub(crate) radius: f64,
    /// The farthest points in many directions: its shadow for all that only guides the search.
    pub(crate) extremes: Vec<DVec3>,
    /// Whether it is round about the upright axis through its middle, as a pipe or a sock: turned about that axis it is the
    /// same to all that only guides the search.
    pub(crate) is_round: bool,
}

impl Body {
    /// The part made of these pieces, at least one, each taken 0.1 mm smaller per side towards its own middle.
    ///
    /// So a part that stands on a floor or in a guide by design begins with a gap, and needs no list of what it may
    /// touch, in which real hooks could hide.
    pub fn new(pieces: &[Convex]) -> Self {
        Self::of(pieces, ALLOWANCE_MM)
    }

    /// The part as it is, nothing taken off: for puzzles with a known answer, which begin away from everything.
    pub fn exact(pieces: &[Convex]) -> Self {
        Self::of(pieces, 0.0)
    }

    /// The same, of which the real part is made of these pieces rather than of those it is planned with.
    #[must_use]
    pub(crate) fn really(mut self, pieces: &[Convex]) -> Self {
        self.whole = pieces.iter().map(|piece| piece.points.clone()).collect();
        self
    }

    fn of(pieces: &[Convex], less: f64) -> Self {
        let smaller = |piece: &Convex| {
            let middle = (piece.min + piece.max) / 2.0;
            let half = (piece.max - piece.min) / 2.0;
            let scale =
                (half - DVec3::splat(less)).max(DVec3::splat(1e-3)) / half.max(DVec3::splat(1e-3));
            piece.points.iter().map(|p| middle + (*p - middle) * scale).collect()
        };
        let whole = pieces.iter().map(|piece| piece.points.clone()).collect();
        Self::from_points(pieces.iter().map(smaller).collect(), whole, less)
    }

    fn from_points(pieces: Vec<Vec<DVec3>>, whole: Vec<Vec<DVec3>>, less: f64) -> Self {
        let all = || pieces.iter().flatten().copied();
        let bounds = bounds(all());
        let centre = (bounds[0] + bounds[1]) / 2.0;
        let radius = all().map(|p| p.distance(centre)).fold(0.0, f64::max);
        let extremes = extremes(&pieces);
        let blocks: Vec<Block> =
            pieces.iter().map(|piece| Block::around(piece.iter().copied())).collect();
        let clusters = clusters(&blocks);
        let is_round = pieces.iter().all(|piece| is_round(piece, centre));
        Self { pieces, whole, less, blocks, clusters, centre, bounds, radius, extremes, is_round }
    }

    /// The same part smaller by this much in all along each axis: what a change of its size would do.
    #[must_use]
    pub fn narrowed(&self, by: DVec3) -> Self {
        let size = self.bounds[1] - self.bounds[0];
        let scale = (size - by).max(DVec3::splat(1e-2)) / size.max(DVec3::splat(1e-2));
        let narrow = |pieces: &[Vec<DVec3>]| {
            let to = |p: &DVec3| self.centre + (*p - self.centre) * scale;
            pieces.iter().map(|piece| piece.iter().map(to).collect()).collect()
        };
        Self::from_points(narrow(&self.pieces), narrow(&self.whole), self.less)
    }

    /// Its pieces in its place, as they are planned with.
    pub fn pieces(&self) -> &[Vec<DVec3>] {
        &self.pieces
    }

    /// Distance of its farthest point from the axis through `pivot` along `axis` (both in its place), mm.
    pub(crate) fn reach(&self, pivot: DVec3, axis: DVec3) -> f64 {
        let off_axis = |p: &DVec3| {
            let arm = *p - pivot;
            (arm - axis * arm.dot(axis)).length_squared()
        };
        self.pieces.iter().flatten().map(off_axis).fold(0.0, f64::max).sqrt()
    }

    /// The least of `direction · p` over its points when it is displaced.
    pub(crate) fn least_along(&self, at: &Rigid, direction: DVec3) -> f64 {
        let back = at.turn.inverse() * direction;
        let least =
            self.pieces.iter().flatten().map(|p| back.dot(*p)).fold(f64::INFINITY, f64::min);
        least + direction.dot(at.shift)
    }

    /// Where its middle is when it is displaced.
    pub(crate) fn middle(&self, at: &Rigid) -> DVec3 {
        at.apply(self.centre)
    }
}

/// Least and greatest corner of the box around points.
pub(crate) fn bounds(points: impl Iterator<Item = DVec3>) -> [DVec3; 2] {
    points.fold([DVec3::INFINITY, DVec3::NEG_INFINITY], |[lo, hi], p| [lo.min(p), hi.max(p)])
}

/// By how much, as a share of its radius, the corners of a round piece may differ in their distance from its axis, and
/// how many it has at least.
const ROUNDNESS: f64 = 0.01;
const LEAST_CORNERS: usize = 12;

/// Whether all corners of a piece are about as far from an upright axis, all round it.
fn is_round(piece: &[DVec3], axis: DVec3) -> bool {
    let arms = || piece.iter().map(|p| (*p - axis).truncate());
    let radii = || arms().map(glam::DVec2::length);
    let most = radii().fold(0.0, f64::max);
    let mean = arms().sum::<glam::DVec2>().length() / most.max(1e-9);
    #[expect(clippy::cast_precision_loss, reason = "a few hundred")]
    let mean = mean / piece.len().max(1) as f64;
    LEAST_CORNERS <= piece.len()
        && mean < ROUNDNESS
        && radii().all(|r| r > most * (1.0 - ROUNDNESS))
}

/// The farthest points along the 98 directions to a 5 × 5 × 5 grid's surface, each once.
fn extremes(pieces: &[Vec<DVec3>]) -> Vec<DVec3> {
    let mut found: Vec<DVec3> = Vec::new();
    let steps = || (-2..=2).map(f64::from);
    for x in steps() {
        for y in steps() {
            for z in steps() {
                let direction = DVec3::new(x, y, z);
                if direction.abs().max_element() < 1.5 {
                    continue;
                }
                let farther =
                    |a: &DVec3, b: &DVec3| direction.dot(*a).total_cmp(&direction.dot(*b));
                if let Some(p) = pieces.iter().flatten().copied().max_by(farther)
                    && !found.contains(&p)
                {
                    found.push(p);
                }
            }
        }
    }
    found
}
