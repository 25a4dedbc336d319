//! The free place nearest to the middle of a chamber.
//!
//! Seen from above, every block that stands at the height of a body keeps the compound's middle out of a
//! rectangle with rounded corners: the block, wider by half the body, and by the gap on every side. Along
//! a line of the chamber these are stretches, and what they leave is free, exactly. Lines are tried every
//! 5 mm; where that finds nothing, lines at which the compound just fits between two things.

use glam::{DVec2, dvec2};

use super::blocks::{Block, blocks};
use super::compound::{BodyKind, Compound, Place, Quarters};

/// Places are searched every so many mm.
const GRID_MM: f64 = 5.0;
/// The middle of the grid is rounded to this, mm, so that places read well.
const ROUND_MM: f64 = 0.5;
/// Gaps may be smaller by so much, mm: rounding.
const ROUNDING_MM: f64 = 1e-6;
/// A place that misses least is told this exactly, mm.
const NEAREST_MISS_MM: f64 = 0.05;

/// Something that has its place already.
#[derive(Clone, Debug)]
pub(super) struct Thing {
    pub(super) name: String,
    pub(super) parameter: String,
    pub(super) kind: ThingKind,
    pub(super) blocks: Vec<Block>,
}

/// How a thing is to be kept clear of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum ThingKind {
    /// Walls: bodies are kept within the chamber in any case, service room is kept within these.
    Wall,
    /// Glued in: neither a body nor its service room may reach into it.
    Fixed,
    /// Loose: it can be taken out of a service room, but better stands beside it.
    Loose,
    /// Lies over the chamber: bodies are kept below it, and it is lifted off for service.
    Lid,
    /// Room for the service of something, better left free.
    ServiceRoom,
}

/// How much is asked of a place, most first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Comfort {
    /// Fingers have room all around, service rooms are clear.
    Fingers,
    /// The least gap all around, service rooms are clear.
    Clear,
    /// The least gap all around; what can be taken out stands in a service room.
    Crowded,
}

/// A free place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Found {
    pub(super) place: Place,
    pub(super) comfort: Comfort,
}

/// The place that misses least when none is free.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Miss {
    pub(super) place: Place,
    /// By how much it lacks room, gap counted in, mm.
    pub(super) short_mm: f64,
    /// What is in the way; `None` for the chamber's own sides.
    pub(super) obstacle: Option<Obstacle>,
}

/// What is in the way of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Obstacle {
    /// Index into the things.
    pub(super) thing: usize,
    /// Whether it stands in the way of the service room and not of a body.
    pub(super) is_in_service_room: bool,
}

/// What a place is searched for, and where.
pub(super) struct Search<'a> {
    pub(super) compound: &'a Compound<'a>,
    /// The chamber's floor.
    pub(super) floor: [DVec2; 2],
    /// Height of the compound's foot.
    pub(super) foot_z: f64,
    pub(super) things: &'a [Thing],
    /// Least gap to everything, mm.
    pub(super) gap_mm: f64,
    /// Gap around it that fingers need, mm.
    pub(super) finger_gap_mm: f64,
}

impl Search<'_> {
    /// The free place nearest to the middle of the chamber, with as much comfort as there is; turned
    /// only if it finds none otherwise.
    pub(super) fn nearest(&self) -> Result<Found, Miss> {
        let straight: &[Quarters] = &[0];
        for turns in [straight, self.compound.turns()] {
            for comfort in [Comfort::Fingers, Comfort::Clear, Comfort::Crowded] {
                let mut found: Option<(f64, Place)> = None;
                for &quarters in turns {
                    let field = self.field(quarters, comfort);
                    let Some(middle) = field.nearest(self.middle()) else { continue };
                    let far = middle.distance(self.middle());
                    if found.is_none_or(|(least, _)| far < least - ROUNDING_MM) {
                        found = Some((far, self.place(middle, quarters)));
                    }
                }
                if let Some((_, place)) = found {
                    return Ok(Found { place, comfort });
                }
            }
        }
        Err(self.miss())
    }

    fn middle(&self) -> DVec2 {
        0.5 * (self.floor[0] + self.floor[1])
    }

    fn place(&self, middle: DVec2, quarters: Quarters) -> Place {
        Place { middle, foot_z: self.foot_z, quarters }
    }

    /// Where in the chamber it would lack least.
    fn miss(&self) -> Miss {
        let turns = std::iter::once(0).chain(self.compound.turns().iter().copied());
        let misses = turns.map(|quarters| {
            let field = self.field(quarters, Comfort::Crowded);
            let (middle, (short_mm, obstacle)) = field.least_miss(self.floor, self.middle());
            Miss { place: self.place(middle, quarters), short_mm, obstacle }
        });
        let least = misses.reduce(|a, b| if b.short_mm < a.short_mm - ROUNDING_MM { b } else { a });
        least.expect("it is tried unturned at least")
    }

    /// What keeps the compound's middle out, turned so.
    fn field(&self, quarters: Quarters, comfort: Comfort) -> Field {
        let at_zero = self.place(DVec2::ZERO, quarters);
        let gap = match comfort {
            Comfort::Fingers => self.finger_gap_mm.max(self.gap_mm),
            Comfort::Clear | Comfort::Crowded => self.gap_mm,
        };
        let mut field =
            Field { corner: self.floor[0], range: [DVec2::MIN, DVec2::MAX], keeps: Vec::new() };
        for body in &self.compound.bodies {
            // A stub is no place to take hold of.
            let is_stub = matches!(body.kind, BodyKind::Stub(_));
            let gap = if is_stub { self.gap_mm } else { gap };
            for block in blocks(&body.shape, &body.pose(&at_zero)) {
                let [lo, hi] = block.plan();
                field.range[0] = field.range[0].max(self.floor[0] - lo + gap);
                field.range[1] = field.range[1].min(self.floor[1] - hi - gap);
                for (thing, other) in self.things.iter().enumerate() {
                    // Room that is only to be left free needs no gap.
                    let gaps = match other.kind {
                        ThingKind::Wall => continue,
                        ThingKind::ServiceRoom if comfort == Comfort::Crowded => continue,
                        ThingKind::ServiceRoom => [0.0; 2],
                        ThingKind::Fixed | ThingKind::Loose | ThingKind::Lid => [gap, self.gap_mm],
                    };
                    let obstacle = Obstacle { thing, is_in_service_room: false };
                    field.keep_out(&block, gaps, &other.blocks, obstacle);
                }
            }
        }
        for room in self.compound.service(&at_zero) {
            for (thing, other) in self.things.iter().enumerate() {
                let is_kept_clear = match other.kind {
                    ThingKind::Wall | ThingKind::Fixed => true,
                    ThingKind::Loose => comfort != Comfort::Crowded,
                    ThingKind::Lid | ThingKind::ServiceRoom => false,
                };
                if is_kept_clear {
                    let obstacle = Obstacle { thing, is_in_service_room: true };
                    field.keep_out(&Block::of_box(room), [0.0; 2], &other.blocks, obstacle);
                }
            }
        }
        field
    }
}

/// Where the middle of a compound may be.
struct Field {
    /// The chamber's corner, from which the file counts.
    corner: DVec2,
    /// Least and greatest place within the chamber; the least may lie beyond the greatest.
    range: [DVec2; 2],
    keeps: Vec<KeepOut>,
}

/// A rectangle with rounded corners that the middle is kept out of.
struct KeepOut {
    core: [DVec2; 2],
    radius_mm: f64,
    /// How much higher or lower one of the two would have to be, mm.
    in_height_mm: f64,
    obstacle: Obstacle,
}

impl KeepOut {
    /// How far from its edge inwards a point is, mm; negative outside.
    fn depth_mm(&self, p: DVec2) -> f64 {
        let outside = (self.core[0] - p).max(p - self.core[1]);
        let distance = if outside.max_element() > 0.0 {
            outside.max(DVec2::ZERO).length()
        } else {
            outside.max_element()
        };
        self.radius_mm - distance
    }

    /// From where to where it closes the line across x.
    fn closes(&self, x: f64) -> Option<[f64; 2]> {
        let off = (self.core[0].x - x).max(x - self.core[1].x).max(0.0);
        let reach = self.radius_mm - ROUNDING_MM;
        // Where nothing is to be kept clear of, touching is free; a face on a face is not closed.
        if off > 0.0 && off >= reach {
            return None;
        }
        let half = if off > 0.0 { (reach * reach - off * off).sqrt() } else { reach };
        let (from, to) = (self.core[0].y - half, self.core[1].y + half);
        let is_edge = reach <= 0.0 && (x - self.core[0].x).min(self.core[1].x - x) <= -reach;
        (to > from && !is_edge).then_some([from, to])
    }
}

impl Field {
    /// Keeps the middle of a compound with such a block `gap` away from others, to the side and upwards.
    fn keep_out(
        &mut self,
        block: &Block,
        [gap, gap_up]: [f64; 2],
        others: &[Block],
        obstacle: Obstacle,
    ) {
        for far in others {
            let apart = (far.z[0] - block.z[1]).max(block.z[0] - far.z[1]);
            let in_height_mm = gap_up - apart;
            if in_height_mm > ROUNDING_MM {
                self.keeps.push(KeepOut {
                    core: [far.core[0] - block.core[1], far.core[1] - block.core[0]],
                    radius_mm: far.radius_mm + block.radius_mm + gap,
                    in_height_mm,
                    obstacle,
                });
            }
        }
    }

    /// The free place nearest to the middle: on the grid, else wherever there is one.
    fn nearest(&self, middle: DVec2) -> Option<DVec2> {
        if (self.range[1] - self.range[0]).min_element() < -ROUNDING_MM {
            return None;
        }
        let origin = self.corner + ((middle - self.corner) / ROUND_MM).round() * ROUND_MM;
        let on_grid = self.nearest_on(&self.grid(origin), middle, |[from, to]| {
            let nearest = origin.y.clamp(from, to);
            let steps = (nearest - origin.y) / GRID_MM;
            let y = origin.y + GRID_MM * if steps > 0.0 { steps.ceil() } else { steps.floor() };
            (from..=to).contains(&y).then_some(y)
        });
        on_grid.or_else(|| {
            let tight = self.nearest_on(&self.snug(middle), middle, |[from, to]| {
                Some(middle.y.clamp(from, to))
            })?;
            Some(self.rounded(tight, middle))
        })
    }

    /// Lines every 5 mm.
    fn grid(&self, origin: DVec2) -> Vec<f64> {
        let [from, to] = [self.range[0].x, self.range[1].x].map(|x| (x - origin.x) / GRID_MM);
        #[expect(clippy::cast_possible_truncation, reason = "some metres over 5 mm")]
        let (from, to) = (from.ceil() as i32, to.floor() as i32);
        (from..=to).map(|i| origin.x + GRID_MM * f64::from(i)).collect()
    }

    /// Lines along the edges of all that the middle is kept out of, and halfway between them.
    fn snug(&self, middle: DVec2) -> Vec<f64> {
        let [from, to] = self.range.map(|p| p.x);
        let edges = self
            .keeps
            .iter()
            .flat_map(|keep| [keep.core[0].x - keep.radius_mm, keep.core[1].x + keep.radius_mm]);
        let mut lines: Vec<f64> = edges.chain([from, middle.x, to]).collect();
        lines.retain(|x| (from - ROUNDING_MM..=to + ROUNDING_MM).contains(x));
        lines.sort_by(f64::total_cmp);
        lines.dedup_by(|a, b| (*a - *b).abs() <= ROUNDING_MM);
        let between: Vec<f64> = lines.windows(2).map(|w| 0.5 * (w[0] + w[1])).collect();
        lines.extend(between);
        lines
    }

    /// The nearest place on these lines; `pick` takes one out of a free stretch.
    fn nearest_on(
        &self,
        lines: &[f64],
        middle: DVec2,
        pick: impl Fn([f64; 2]) -> Option<f64>,
    ) -> Option<DVec2> {
        let mut nearest: Option<(f64, DVec2)> = None;
        for &x in lines {
            let so_far = nearest.map_or(f64::INFINITY, |(far, _)| far);
            if (x - middle.x).abs() >= so_far {
                continue;
            }
            for y in self.free(x).into_iter().filter_map(&pick) {
                let place = dvec2(x, y);
                let far = place.distance(middle);
                if nearest.is_none_or(|(least, _)| far < least - ROUNDING_MM) {
                    nearest = Some((far, place));
                }
            }
        }
        nearest.map(|(_, place)| place)
    }

    /// The free stretches of the line across x.
    fn free(&self, x: f64) -> Vec<[f64; 2]> {
        let mut closed: Vec<[f64; 2]> = self.keeps.iter().filter_map(|k| k.closes(x)).collect();
        closed.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let [mut from, end] = self.range.map(|p| p.y);
        let mut free = Vec::new();
        for [low, high] in closed {
            if low >= from {
                free.push([from, low.min(end)]);
            }
            from = from.max(high);
            if from > end {
                return free;
            }
        }
        if from <= end + ROUNDING_MM {
            free.push([from.min(end), end]);
        }
        free
    }

    /// The nearest place to a free one that reads well, if that is free as well.
    fn rounded(&self, place: DVec2, middle: DVec2) -> DVec2 {
        let tenths = |at: f64, corner: f64| {
            let tenths = (at - corner) * 10.0;
            [corner + tenths.floor() / 10.0, corner + tenths.ceil() / 10.0]
        };
        let [xs, ys] = [tenths(place.x, self.corner.x), tenths(place.y, self.corner.y)];
        let mut round: Vec<DVec2> =
            xs.iter().flat_map(|&x| ys.iter().map(move |&y| dvec2(x, y))).collect();
        round.retain(|p| self.miss(*p).0 <= ROUNDING_MM);
        let nearest = |a: &DVec2, b: &DVec2| a.distance(middle).total_cmp(&b.distance(middle));
        round.into_iter().min_by(nearest).unwrap_or(place)
    }

    /// By how much a place misses, mm, and what is in the way; nothing is short when it is free.
    fn miss(&self, p: DVec2) -> (f64, Option<Obstacle>) {
        let beyond = (self.range[0] - p).max(p - self.range[1]).max_element();
        let mut worst = (beyond.max(0.0), None);
        for keep in &self.keeps {
            let short = keep.depth_mm(p).min(keep.in_height_mm);
            if short > worst.0 + ROUNDING_MM {
                worst = (short, Some(keep.obstacle));
            }
        }
        worst
    }

    /// The place in the chamber that misses least: the best of the grid, followed by ever smaller steps.
    fn least_miss(&self, floor: [DVec2; 2], middle: DVec2) -> (DVec2, (f64, Option<Obstacle>)) {
        let mut best = (middle, self.miss(middle));
        let lines = |from: f64, middle: f64, to: f64| {
            #[expect(clippy::cast_possible_truncation, reason = "some metres over 5 mm")]
            let ends = [from, to].map(|x| ((x - middle) / GRID_MM) as i32);
            (ends[0]..=ends[1]).map(move |i| middle + GRID_MM * f64::from(i))
        };
        for x in lines(floor[0].x, middle.x, floor[1].x) {
            for y in lines(floor[0].y, middle.y, floor[1].y) {
                self.take_better(&mut best, dvec2(x, y));
            }
        }
        let mut step = 0.5 * GRID_MM;
        while step > NEAREST_MISS_MM {
            let (from, before) = (best.0, best.1.0);
            for (x, y) in [(-1, 0), (1, 0), (0, -1), (0, 1), (-1, -1), (1, 1), (-1, 1), (1, -1)] {
                self.take_better(&mut best, from + step * dvec2(f64::from(x), f64::from(y)));
            }
            if best.1.0 >= before - ROUNDING_MM {
                step *= 0.5;
            }
        }
        best
    }

    fn take_better(&self, best: &mut (DVec2, (f64, Option<Obstacle>)), p: DVec2) {
        let miss = self.miss(p);
        if miss.0 < best.1.0 - ROUNDING_MM {
            *best = (p, miss);
        }
    }
}
