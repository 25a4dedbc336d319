//! Openings in an upright wall, made up of rectangles.

use std::f64::consts::PI;

use serde::Serialize;

use super::{Flow, Range, doubt};
use crate::gravity::SQRT_2G;
use crate::smooth::root;

/// A rectangle of an opening.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Strip {
    /// Lower edge, m.
    pub z0_m: f64,
    /// Upper edge, m; infinite where nothing closes it above.
    pub z1_m: f64,
    /// Clear width, m.
    pub width_m: f64,
}

/// Any opening in an upright wall: gap, letterbox, holes, slots, comb, leak, door.
///
/// Every height of the opening passes `C·√(2g·Δ)` per area, where Δ is the head of the upstream level
/// over the downstream level, or over that height itself where it is higher. Summed over a rectangle
/// with sill 0 and height a, with `top = min(a, h1)`, `lo = min(h2, top)`, `F(u) = (2/3)·u^1.5`:
///
/// `Q = C·b·√(2g)·(F(h1 − lo) − F(h1 − top) + lo·√(h1 − h2))`
///
/// This is the theory of the large rectangular orifice and of Dubuat's drowned weir, in one law that is
/// a weir while the top is dry, an orifice when it is under water, and free or drowned by the level
/// behind. Source: e.g. Unwin, "Hydraulics", *Encyclopædia Britannica*, 11th ed. (1911), 14, on large
/// rectangular orifices and drowned weirs. Either way.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Strips {
    /// Coefficient of discharge.
    pub cd: f64,
    /// Relative doubt at heads that the standards cover.
    pub doubt: f64,
    /// Lowest first.
    strips: Vec<Strip>,
}

/// Coefficient of a sharp opening, 0.60 to 0.62. Source: Brater & King, *Handbook of Hydraulics*;
/// Idelchik, *Handbook of Hydraulic Resistance*; from memory.
pub const SHARP: f64 = 0.61;

impl Strips {
    /// An opening of these rectangles; they may stand side by side. The doubt is that of gaps and
    /// holes, 6 % (our judgement).
    pub fn new(cd: f64, mut strips: Vec<Strip>) -> Self {
        strips.retain(|strip| strip.width_m > 0.0 && strip.z1_m > strip.z0_m);
        strips.sort_by(|a, b| a.z0_m.total_cmp(&b.z0_m).then(a.z1_m.total_cmp(&b.z1_m)));
        Self { cd, doubt: 0.06, strips }
    }

    /// The rectangles, lowest first.
    pub fn strips(&self) -> &[Strip] {
        &self.strips
    }

    /// One rectangle: underflow gap, letterbox, leak; open above if `z1_m` is infinite.
    pub fn rectangle(cd: f64, z0_m: f64, z1_m: f64, width_m: f64) -> Self {
        Self::new(cd, vec![Strip { z0_m, z1_m, width_m }])
    }

    /// Comb: slots of this width in all from their bottom up to the tips of the teeth, and the whole
    /// width above the tips. Doubt 12 % (our judgement: narrow slots in thick sheet).
    pub fn comb(
        cd: f64,
        bottom_m: f64,
        tips_m: f64,
        slots_width_m: f64,
        whole_width_m: f64,
    ) -> Self {
        let slots = Strip { z0_m: bottom_m, z1_m: tips_m, width_m: slots_width_m };
        let above = Strip { z0_m: tips_m, z1_m: f64::INFINITY, width_m: whole_width_m };
        Self { doubt: 0.12, ..Self::new(cd, vec![slots, above]) }
    }

    /// Upright slots, closed above, of this clear width in all. Doubt 12 % (our judgement).
    pub fn slots(cd: f64, z0_m: f64, z1_m: f64, slots_width_m: f64) -> Self {
        Self { doubt: 0.12, ..Self::rectangle(cd, z0_m, z1_m, slots_width_m) }
    }

    /// `count` round holes side by side, as `n` strips of equal height that have, each, the area of the
    /// circle between their edges.
    pub fn circles(cd: f64, centre_m: f64, diameter_m: f64, count: f64, n: usize) -> Self {
        Self::slot_round_ends(cd, centre_m - 0.5 * diameter_m, diameter_m, diameter_m, count, n)
    }

    /// One round hole; see [`Self::circles`].
    pub fn circle(cd: f64, centre_m: f64, diameter_m: f64, n: usize) -> Self {
        Self::circles(cd, centre_m, diameter_m, 1.0, n)
    }

    /// `count` equal slots with round ends, upright if they are higher than wide, else lying; the round
    /// ends as `n` strips, each with the area of what it stands for.
    pub fn slot_round_ends(
        cd: f64,
        z0_m: f64,
        height_m: f64,
        width_m: f64,
        count: f64,
        n: usize,
    ) -> Self {
        let r = 0.5 * height_m.min(width_m);
        let (straight_up, straight_across) = (height_m - 2.0 * r, width_m - 2.0 * r);
        // An even number, so that none lies across the middle where an upright slot is cut open.
        let n = n.max(2).next_multiple_of(2);
        let edge = |i: usize| r * (2.0 * i as f64 / n as f64 - 1.0);
        // Area of the circle below the height y over its centre.
        let below = |y: f64| {
            let s = (y / r).clamp(-1.0, 1.0);
            r * r * (s.asin() + s * (1.0 - s * s).max(0.0).sqrt() + 0.5 * PI)
        };
        let mut strips: Vec<Strip> = (0..n)
            .map(|i| {
                let (y0, y1) = (edge(i), edge(i + 1));
                let lift = z0_m + r + if i < n / 2 { 0.0 } else { straight_up };
                let width = (below(y1) - below(y0)) / (y1 - y0) + straight_across;
                Strip { z0_m: lift + y0, z1_m: lift + y1, width_m: count * width }
            })
            .collect();
        if straight_up > 0.0 {
            let (z0_m, z1_m) = (z0_m + r, z0_m + r + straight_up);
            strips.push(Strip { z0_m, z1_m, width_m: count * width_m });
        }
        Self::new(cd, strips)
    }

    /// Area of all that is closed above, m².
    pub fn area_m2(&self) -> f64 {
        let closed = self.strips.iter().filter(|strip| strip.z1_m.is_finite());
        closed.map(|strip| (strip.z1_m - strip.z0_m) * strip.width_m).sum()
    }

    pub(super) fn sill_m(&self) -> Option<f64> {
        self.strips.first().map(|strip| strip.z0_m)
    }

    #[inline(always)]
    pub(super) fn flow(&self, up_m: f64, down_m: f64, lean: f64) -> Flow {
        let mut sum = Flow::default();
        let Some(lowest) = self.strips.first() else { return sum };
        for strip in &self.strips {
            if up_m <= strip.z0_m {
                break; // the others are higher
            }
            let part = strip_flow(up_m - strip.z0_m, down_m - strip.z0_m, strip.z1_m - strip.z0_m);
            sum.q += strip.width_m * part.q;
            sum.up += strip.width_m * part.up;
            sum.down += strip.width_m * part.down;
        }
        let k = self.cd * SQRT_2G;
        let (f, df) = doubt::factor_of_head(lean, self.doubt, up_m - lowest.z0_m);
        Flow { q: k * f * sum.q, up: k * (f * sum.up + df * sum.q), down: k * f * sum.down }
    }

    pub(super) fn range(&self, up_m: f64, down_m: f64) -> Range {
        let Some(sill) = self.sill_m() else { return Range::WITHIN };
        let (high, low) = (up_m.max(down_m), up_m.min(down_m));
        let top = self.strips.iter().map(|strip| strip.z1_m).fold(sill, f64::max);
        // Under water on both sides no nappe can cling; only the difference of levels counts.
        if low >= top { Range::WITHIN } else { Range::of_head(high - sill) }
    }
}

/// Discharge through a rectangle of height `a`, open above if infinite, over its width and `C·√(2g)`;
/// levels over its sill, `h1 > 0`, `h1 ≥ h2`.
#[inline(always)]
pub(crate) fn strip_flow(h1: f64, h2: f64, a: f64) -> Flow {
    if h2 >= a {
        let (s, slope) = root(h1 - h2);
        return Flow { q: a * s, up: a * slope, down: -a * slope };
    }
    let lo = h2.max(0.0);
    let over = h1 - lo;
    let r = over.sqrt();
    let mut flow = Flow { q: 2.0 / 3.0 * over * r, up: r, down: 0.0 };
    if h1 > a {
        let over = h1 - a;
        let r = over.sqrt();
        flow.q -= 2.0 / 3.0 * over * r;
        flow.up -= r;
    }
    if h2 > 0.0 {
        let (s, slope) = root(h1 - h2);
        flow.q += lo * s;
        flow.up += lo * slope;
        flow.down = s - r - lo * slope;
    }
    flow
}
