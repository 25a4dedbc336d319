//! Where the middle of a compound may be in a chamber.
//!
//! Seen from above, every block that stands at the height of a body keeps the compound's middle out of a
//! rectangle with rounded corners: the block, wider by half the body, and by the gap on every side. Along
//! a line of the chamber these are stretches, and what they leave is free, exactly. Lines are tried every
//! 5 mm; where that finds nothing, lines at which the compound just fits between two things.

use glam::{DVec2, dvec2};

use super::blocks::Block;

/// Places are searched every so many mm.
const GRID_MM: f64 = 5.0;
/// The middle of the grid is rounded to this, mm, so that places read well.
const ROUND_MM: f64 = 0.5;
/// Gaps may be smaller by so much, mm: rounding.
pub(super) const ROUNDING_MM: f64 = 1e-6;
/// A place that misses least is told this exactly, mm.
const NEAREST_MISS_MM: f64 = 0.05;

/// What is in the way of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Obstacle {
    /// Index into the things.
    pub(super) thing: usize,
    /// Whether it stands in the way of the service room and not of a body.
    pub(super) is_in_service_room: bool,
}

/// Where the middle of a compound may be, and where it may not.
pub(super) struct Field {
    /// Least and greatest corner of the chamber's floor. The file counts from the least.
    floor: [DVec2; 2],
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
    /// Everywhere, as far as nothing is said.
    pub(super) fn over(floor: [DVec2; 2]) -> Self {
        Self { floor, range: [DVec2::MIN, DVec2::MAX], keeps: Vec::new() }
    }

    /// Keeps the middle between two corners; the least may lie beyond the greatest.
    pub(super) fn keep_within(&mut self, lo: DVec2, hi: DVec2) {
        self.range = [self.range[0].max(lo), self.range[1].min(hi)];
    }

    /// Keeps the middle of a compound with such a block `gap` away from others, to the side and upwards.
    pub(super) fn keep_out(
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
    pub(super) fn nearest(&self) -> Option<DVec2> {
        let middle = self.middle();
        if (self.range[1] - self.range[0]).min_element() < -ROUNDING_MM {
            return None;
        }
        let origin = self.origin();
        let on_grid = self.nearest_on(&self.grid(origin), middle, |[from, to]| {
            let nearest = origin.y.clamp(from, to);
            let steps = (nearest - origin.y) / GRID_MM;
            let outwards = (steps.abs() - ROUNDING_MM).max(0.0).ceil().copysign(steps);
            let y = origin.y + GRID_MM * outwards;
            (from - ROUNDING_MM..=to + ROUNDING_MM).contains(&y).then_some(y)
        });
        on_grid.or_else(|| {
            let tight = self.nearest_on(&self.snug(middle), middle, |[from, to]| {
                Some(middle.y.clamp(from, to))
            })?;
            Some(self.rounded(tight, middle))
        })
    }

    fn middle(&self) -> DVec2 {
        0.5 * (self.floor[0] + self.floor[1])
    }

    /// The middle of the grid.
    fn origin(&self) -> DVec2 {
        self.floor[0] + ((self.middle() - self.floor[0]) / ROUND_MM).round() * ROUND_MM
    }

    /// Lines every 5 mm.
    fn grid(&self, origin: DVec2) -> Vec<f64> {
        let [from, to] = [self.range[0].x, self.range[1].x].map(|x| (x - origin.x) / GRID_MM);
        #[expect(clippy::cast_possible_truncation, reason = "some metres over 5 mm")]
        let (from, to) = ((from - ROUNDING_MM).ceil() as i32, (to + ROUNDING_MM).floor() as i32);
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
        let [from, end] = self.range.map(|p| p.y);
        // A chamber that is just wide enough may seem narrower by rounding.
        let mut from = from.min(end);
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
        free.push([from, end]);
        free
    }

    /// The nearest place to a free one that reads well, if that is free as well.
    fn rounded(&self, place: DVec2, middle: DVec2) -> DVec2 {
        let tenths = |at: f64, corner: f64| {
            let tenths = (at - corner) * 10.0;
            [corner + tenths.floor() / 10.0, corner + tenths.ceil() / 10.0]
        };
        let [xs, ys] = [tenths(place.x, self.floor[0].x), tenths(place.y, self.floor[0].y)];
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
    pub(super) fn least_miss(&self) -> (DVec2, (f64, Option<Obstacle>)) {
        let (floor, middle) = (self.floor, self.origin());
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const FLOOR: [DVec2; 2] = [dvec2(8.3, 12.0), dvec2(248.1, 200.0)];

    /// A box: corner and size.
    fn any_box() -> impl Strategy<Value = ([f64; 3], [f64; 3])> {
        ([0.0..220.0_f64, 0.0..180.0, 0.0..120.0], [10.0..120.0_f64, 10.0..120.0, 10.0..120.0])
    }

    fn block((corner, size): ([f64; 3], [f64; 3])) -> Block {
        let lo = glam::DVec3::from_array(corner);
        Block::of_box([lo, lo + glam::DVec3::from_array(size)])
    }

    /// How far two stretches are apart; negative where they overlap.
    fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
        (b[0] - a[1]).max(a[0] - b[1])
    }

    /// By how much a box with its middle at `p` lacks its gap, by plain arithmetic.
    fn short(size: [f64; 3], p: DVec2, gap: f64, obstacles: &[Block]) -> f64 {
        let sides = |k: usize| [p[k] - 0.5 * size[k], p[k] + 0.5 * size[k]];
        let within = [0, 1].map(|k| {
            let side = sides(k);
            (FLOOR[0][k] - side[0]).max(side[1] - FLOOR[1][k]) + gap
        });
        let to_one = |far: &Block| {
            let [dx, dy] = [0, 1].map(|k| apart(sides(k), [far.core[0][k], far.core[1][k]]));
            let beside = if dx > 0.0 && dy > 0.0 { dx.hypot(dy) } else { dx.max(dy) };
            gap - beside.max(apart([0.0, size[2]], far.z))
        };
        obstacles.iter().map(to_one).fold(within[0].max(within[1]).max(0.0), f64::max)
    }

    fn field(size: [f64; 3], gap: f64, obstacles: &[Block]) -> Field {
        let half = 0.5 * dvec2(size[0], size[1]);
        let body = Block { core: [-half, half], radius_mm: 0.0, z: [0.0, size[2]] };
        let mut field = Field::over(FLOOR);
        field.keep_within(FLOOR[0] + half + gap, FLOOR[1] - half - gap);
        for (thing, far) in obstacles.iter().enumerate() {
            let obstacle = Obstacle { thing, is_in_service_room: false };
            field.keep_out(&body, [gap; 2], std::slice::from_ref(far), obstacle);
        }
        field
    }

    /// Places every `step` around the middle of the grid, over the whole floor.
    fn every(step: u32, origin: DVec2) -> impl Iterator<Item = DVec2> {
        let count = 260 / i64::from(step);
        #[expect(clippy::cast_precision_loss, reason = "small")]
        let at = move |i: i64| (i * i64::from(step)) as f64;
        (-count..=count)
            .flat_map(move |i| (-count..=count).map(move |j| origin + dvec2(at(i), at(j))))
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 300,
            failure_persistence: None,
            rng_seed: proptest::test_runner::RngSeed::Fixed(5),
            ..ProptestConfig::default()
        })]

        #[test]
        fn the_place_is_the_nearest_that_plain_arithmetic_finds_free(
            size in [20.0..150.0_f64, 20.0..150.0, 20.0..120.0],
            gap in 0.0..12.0_f64,
            boxes in prop::collection::vec(any_box(), 0..7),
        ) {
            let obstacles: Vec<Block> = boxes.into_iter().map(block).collect();
            let field = field(size, gap, &obstacles);
            let miss = |p: DVec2| short(size, p, gap, &obstacles);
            let middle = field.middle();
            let on_grid = every(5, field.origin()).filter(|p| miss(*p) <= 1e-9);
            let nearest = on_grid.map(|p| p.distance(middle)).min_by(f64::total_cmp);
            match (field.nearest(), nearest) {
                (Some(found), Some(far)) => {
                    prop_assert!(miss(found) <= 1e-5, "{found} lacks {}", miss(found));
                    prop_assert!(found.distance(middle) <= far + 1e-5, "{far} is nearer than {found}");
                }
                (Some(found), None) => prop_assert!(miss(found) <= 1e-5, "{found} is not free"),
                (None, Some(far)) => prop_assert!(false, "there is a free place {far} away"),
                (None, None) => {
                    prop_assert!(every(1, field.origin()).all(|p| miss(p) > 0.0), "one is free");
                    let (place, (least, obstacle)) = field.least_miss();
                    prop_assert!((miss(place) - least).abs() < 1e-6, "{} is not {least}", miss(place));
                    prop_assert!(least > 0.0);
                    prop_assert!(every(5, field.origin()).all(|p| miss(p) >= least - 1e-5));
                    if let Some(obstacle) = obstacle {
                        let alone = std::slice::from_ref(&obstacles[obstacle.thing]);
                        prop_assert!((short(size, place, gap, alone) - least).abs() < 1e-5);
                    }
                }
            }
        }
    }

    #[test]
    fn a_body_finds_the_slot_that_just_takes_it_off_the_grid() {
        // Left and right of a slot 31.4 wide stand blocks from front to back.
        let wall = |x: [f64; 2]| Block {
            core: [dvec2(x[0], 0.0), dvec2(x[1], 300.0)],
            radius_mm: 0.0,
            z: [0.0, 50.0],
        };
        let obstacles = [wall([0.0, 61.7]), wall([93.1, 300.0])];
        let found = field([27.4, 30.0, 40.0], 2.0, &obstacles).nearest().expect("it just fits");
        assert!((found.x - 77.4).abs() < 1e-6, "{found}");
        assert_eq!(field([27.6, 30.0, 40.0], 2.0, &obstacles).nearest(), None);
        let (_, (short, obstacle)) = field([27.6, 30.0, 40.0], 2.0, &obstacles).least_miss();
        assert!((short - 0.1).abs() < 0.06 && obstacle.is_some(), "{short}");
    }

    #[test]
    fn round_things_are_kept_clear_of_as_round_ones() {
        // A rod in the very middle, and a cylinder that goes where its bounding box would not.
        let disc = |at: DVec2, r: f64| Block { core: [at; 2], radius_mm: r, z: [0.0, 50.0] };
        let floor = [DVec2::ZERO, dvec2(150.0, 150.0)];
        let mut field = Field::over(floor);
        let (r, rod) = (48.0, 10.0);
        field.keep_within(DVec2::splat(r), DVec2::splat(150.0 - r));
        let obstacle = Obstacle { thing: 0, is_in_service_room: false };
        let corner = disc(dvec2(15.0, 15.0), rod);
        field.keep_out(&disc(DVec2::ZERO, r), [1.0; 2], &[corner], obstacle);
        let far = disc(dvec2(140.0, 140.0), 5.0);
        field.keep_out(&disc(DVec2::ZERO, r), [1.0; 2], &[far], obstacle);
        let found = field.nearest().expect("there is room");
        assert!(found.distance(dvec2(15.0, 15.0)) >= r + rod + 1.0 - 1e-5, "{found}");
        assert!(found.distance(dvec2(140.0, 140.0)) >= r + 5.0 + 1.0 - 1e-5, "{found}");
        assert_eq!(found, dvec2(75.0, 75.0));
    }
}
