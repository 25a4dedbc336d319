//! Straight-sided regions of a plane cut into few convex pieces.
//!
//! The plane is swept upwards. Between two heights at which a side begins or ends every region falls into
//! trapezoids (the trapezoidal map; de Berg et al., *Computational Geometry*, 3rd ed., Springer 2008, section 6.1), and
//! trapezoids that lie on each other, with the whole of their level sides in common, are joined while the union is
//! convex. So rectilinear regions become boxes, a disc one piece, and a hole of `n` sides about `n` pieces.
//! Sweeping the other way may give fewer; the caller tries both.

use glam::{DVec2, Vec2Swizzles, dvec2};

/// Heights closer than this are one, and corners closer than this to a straight line lie on it, mm. Far above rounding
/// (1e-13 mm) and far below what anybody measures.
const SAME_MM: f64 = 1e-9;

/// A straight side between two regions. Regions are numbered; the number says what is in them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Side {
    /// Where it begins.
    pub(crate) start: DVec2,
    /// Where it ends.
    pub(crate) end: DVec2,
    /// What is to its left, going from start to end.
    pub(crate) left: usize,
    /// What is to its right.
    pub(crate) right: usize,
}

impl Side {
    /// As in a mirror that swaps x and y.
    pub(crate) fn transposed(self) -> Self {
        Self { start: self.start.yx(), end: self.end.yx(), left: self.right, right: self.left }
    }
}

/// A convex piece: what it is a piece of, and its two chains of corners from bottom to top.
#[derive(Clone, Debug)]
pub(crate) struct Column {
    /// The number of its region.
    pub(crate) what: usize,
    /// Corners at its left, upwards.
    pub(crate) left: Vec<DVec2>,
    /// Corners at its right, upwards.
    pub(crate) right: Vec<DVec2>,
}

impl Column {
    /// All corners, counter-clockwise, each once.
    pub(crate) fn corners(&self) -> Vec<DVec2> {
        let mut corners = self.right.clone();
        corners.extend(self.left.iter().rev());
        corners.dedup_by(|a, b| a.distance(*b) <= SAME_MM);
        while corners.len() > 1 && corners[0].distance(corners[corners.len() - 1]) <= SAME_MM {
            corners.pop();
        }
        corners
    }
}

/// What lies between two sides in one layer of the sweep.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Between {
    /// The region.
    pub(crate) what: usize,
    /// What is left and right of it, in this layer.
    pub(crate) beside: [usize; 2],
    /// Least and greatest `x`.
    pub(crate) x: [f64; 2],
    /// Greatest width in this layer.
    pub(crate) width: f64,
}

/// Two sides cross.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Crossing;

/// Cuts all regions but number 0 into convex pieces. `becomes` may say that what lies between two sides in a layer counts
/// as another region.
pub(crate) fn columns(
    sides: &[Side],
    becomes: &dyn Fn(&Between) -> usize,
) -> Result<Vec<Column>, Crossing> {
    let levels = levels(sides);
    let mut uprights: Vec<Upright> =
        sides.iter().filter_map(|side| Upright::new(side, &levels)).collect();
    uprights.sort_by_key(|u| u.from);
    let mut waiting = uprights.into_iter().peekable();
    let mut active: Vec<Upright> = Vec::new();
    let (mut open, mut done) = (Vec::new(), Vec::new());
    for k in 0..levels.len().saturating_sub(1) {
        active.retain(|u| u.to > k);
        while let Some(next) = waiting.next_if(|u| u.from <= k) {
            active.push(next);
        }
        let layer = Layer::new(k, &levels, &mut active)?;
        let mut still_open = Vec::new();
        for trapezoid in layer.trapezoids(becomes) {
            let at = open.iter().position(|column| trapezoid.continues(column));
            let mut column = match at {
                Some(at) => open.swap_remove(at),
                None => trapezoid.begun(),
            };
            if !trapezoid.extend(&mut column) {
                done.push(column);
                column = trapezoid.begun();
                trapezoid.extend(&mut column);
            }
            still_open.push(column);
        }
        done.append(&mut open);
        open = still_open;
    }
    done.append(&mut open);
    done.retain(|column| column.corners().len() > 2);
    Ok(done)
}

/// Heights of all ends, upwards, close ones as one.
fn levels(sides: &[Side]) -> Vec<f64> {
    let mut all: Vec<f64> = sides.iter().flat_map(|s| [s.start.y, s.end.y]).collect();
    all.sort_by(f64::total_cmp);
    let mut levels: Vec<f64> = Vec::with_capacity(all.len());
    let mut last = f64::NEG_INFINITY;
    for y in all {
        if y - last > SAME_MM {
            levels.push(y);
        }
        last = y;
    }
    levels
}

/// A side that is not level, from its lower to its upper end.
#[derive(Clone, Copy)]
struct Upright {
    low: DVec2,
    high: DVec2,
    /// Levels at which it begins and ends.
    from: usize,
    to: usize,
    left: usize,
    right: usize,
}

impl Upright {
    fn new(side: &Side, levels: &[f64]) -> Option<Self> {
        let level_of = |p: DVec2| levels.partition_point(|y| *y <= p.y) - 1;
        let at = |p: DVec2| (dvec2(p.x, levels[level_of(p)]), level_of(p));
        let ((start, from), (end, to)) = (at(side.start), at(side.end));
        match from.cmp(&to) {
            std::cmp::Ordering::Less => {
                Some(Self { low: start, high: end, from, to, left: side.left, right: side.right })
            }
            std::cmp::Ordering::Greater => Some(Self {
                low: end,
                high: start,
                from: to,
                to: from,
                left: side.right,
                right: side.left,
            }),
            std::cmp::Ordering::Equal => None,
        }
    }

    /// Its point at a level, to the last bit its end where it ends.
    fn at(&self, level: usize, levels: &[f64]) -> DVec2 {
        if level == self.from {
            self.low
        } else if level == self.to {
            self.high
        } else {
            self.at_height(levels[level])
        }
    }

    fn at_height(&self, y: f64) -> DVec2 {
        let share = (y - self.low.y) / (self.high.y - self.low.y);
        dvec2(self.low.x + (self.high.x - self.low.x) * share, y)
    }
}

/// All between two neighbouring levels, from left to right.
struct Layer {
    /// Lower and upper point of every side.
    sides: Vec<[DVec2; 2]>,
    /// What is right of every side but the last.
    between: Vec<usize>,
}

impl Layer {
    fn new(k: usize, levels: &[f64], active: &mut [Upright]) -> Result<Self, Crossing> {
        let middle = 0.5 * (levels[k] + levels[k + 1]);
        active.sort_by(|a, b| a.at_height(middle).x.total_cmp(&b.at_height(middle).x));
        let sides: Vec<[DVec2; 2]> =
            active.iter().map(|u| [u.at(k, levels), u.at(k + 1, levels)]).collect();
        let is_crossed = |w: &[[DVec2; 2]]| (0..2).any(|end| w[0][end].x - w[1][end].x > SAME_MM);
        let is_torn = |w: &[Upright]| w[0].right != w[1].left;
        if sides.windows(2).any(is_crossed) || active.windows(2).any(is_torn) {
            return Err(Crossing);
        }
        Ok(Self { sides, between: active.iter().map(|u| u.right).collect() })
    }

    /// What is in this layer, neighbours of one region joined.
    fn trapezoids(&self, becomes: &dyn Fn(&Between) -> usize) -> Vec<Trapezoid> {
        let mut all: Vec<Trapezoid> = Vec::new();
        for i in 1..self.sides.len() {
            let (l, r) = (self.sides[i - 1], self.sides[i]);
            let what = becomes(&Between {
                what: self.between[i - 1],
                beside: [if i > 1 { self.between[i - 2] } else { 0 }, self.between[i]],
                x: [l[0].x.min(l[1].x), r[0].x.max(r[1].x)],
                width: (r[0].x - l[0].x).max(r[1].x - l[1].x),
            });
            match all.last_mut() {
                Some(last) if last.what == what && last.right == l => last.right = r,
                _ => all.push(Trapezoid { what, left: l, right: r }),
            }
        }
        all.retain(|t| t.what != 0);
        all
    }
}

/// One region between two sides in one layer; lower and upper point of each side.
struct Trapezoid {
    what: usize,
    left: [DVec2; 2],
    right: [DVec2; 2],
}

impl Trapezoid {
    fn begun(&self) -> Column {
        Column { what: self.what, left: vec![self.left[0]], right: vec![self.right[0]] }
    }

    /// Whether it stands on the whole of the column's upper side.
    fn continues(&self, column: &Column) -> bool {
        let meets = |chain: &[DVec2], p: DVec2| {
            chain.last().is_some_and(|last| last.distance(p) <= SAME_MM)
        };
        column.what == self.what
            && meets(&column.left, self.left[0])
            && meets(&column.right, self.right[0])
    }

    /// Puts it on the column; `false`, with nothing done, when they are not convex together.
    fn extend(&self, column: &mut Column) -> bool {
        let bend = |chain: &[DVec2], next: DVec2| match chain {
            [.., before, last] => {
                let along = next - *before;
                along.perp_dot(*last - *before) / along.length()
            }
            _ => f64::NAN,
        };
        // A corner of the left chain must stand out to the left, one of the right chain to the right.
        let bends = [bend(&column.left, self.left[1]), -bend(&column.right, self.right[1])];
        if bends.iter().any(|out| *out < -SAME_MM) {
            return false;
        }
        for (chain, next, out) in [
            (&mut column.left, self.left[1], bends[0]),
            (&mut column.right, self.right[1], bends[1]),
        ] {
            if out <= SAME_MM {
                chain.pop();
            }
            chain.push(next);
        }
        true
    }
}
