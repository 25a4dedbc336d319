//! Fittings arranged on print beds: as few plates as a quick search finds.

use crate::fitting::Fitting;
use crate::printer::Printer;

/// A fitting's place on a plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnBed {
    /// Which of the fittings given.
    pub fitting: usize,
    /// Which plate, from 0.
    pub plate: usize,
    /// Lower left corner of the room it takes, from that of the bed, mm.
    pub at_mm: [f64; 2],
    /// Whether it is turned by 90°, counter-clockwise.
    pub is_turned: bool,
}

impl OnBed {
    /// Room that the fitting takes on the bed as it lies there, mm.
    pub fn size_mm(&self, fitting: &Fitting) -> [f64; 2] {
        turned(fitting.print.bed_footprint_mm, self.is_turned)
    }
}

/// Why fittings cannot be arranged.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BedError {
    /// One is larger than the room for printing, lying as it is and turned by 90°.
    #[error(
        "fitting {fitting} takes {:.1} × {:.1} mm and is {:.1} mm high; the printer has {} × {} × {} mm",
        size_mm[0], size_mm[1], size_mm[2], bed_mm[0], bed_mm[1], bed_mm[2]
    )]
    TooLarge {
        /// Which of the fittings given.
        fitting: usize,
        /// Its length, width and height.
        size_mm: [f64; 3],
        /// The room for printing.
        bed_mm: [f64; 3],
    },
    /// The gap or the bed is no number that makes sense.
    #[error("fittings {gap_mm} mm apart on a bed of {} × {} mm: neither may be negative", bed_mm[0], bed_mm[1])]
    NoBed {
        /// The gap given.
        gap_mm: f64,
        /// The room for printing.
        bed_mm: [f64; 3],
    },
}

/// Gap between fittings: nozzle and brim pass between them; common practice.
pub const USUAL_GAP_MM: f64 = 5.0;

/// Places each of the fittings on a plate, `gap_mm` apart, in the order given.
///
/// The largest are placed first, each in the free rectangles of the first plate that has room: where least is left
/// beside it, or lowest, turned or not; the way with the fewest plates is kept (maximal rectangles with the rules best
/// short side fit and bottom-left; Jylänki, *A Thousand Ways to Pack the Bin*, 2010). It is quick and good, not proved
/// to be the fewest. Rooms are rectangles around the fittings.
///
/// # Errors
/// [`BedError::TooLarge`] names the first that fits neither way; diagonal places are not tried.
pub fn arranged(
    fittings: &[Fitting],
    printer: &Printer,
    gap_mm: f64,
) -> Result<Vec<OnBed>, BedError> {
    let bed_mm = printer.bed_mm;
    if !(gap_mm >= 0.0 && gap_mm.is_finite() && bed_mm.iter().all(|b| *b > 0.0 && b.is_finite())) {
        return Err(BedError::NoBed { gap_mm, bed_mm });
    }
    for (fitting, print) in fittings.iter().map(|f| &f.print).enumerate() {
        let [length, width] = print.bed_footprint_mm;
        let lies = |[l, w]: [f64; 2]| l <= bed_mm[0] + HAIR_MM && w <= bed_mm[1] + HAIR_MM;
        let fits = lies([length, width]) || lies([width, length]);
        if !fits || print.height_mm > bed_mm[2] + HAIR_MM {
            let size_mm = [length, width, print.height_mm];
            return Err(BedError::TooLarge { fitting, size_mm, bed_mm });
        }
    }
    let mut order: Vec<usize> = (0..fittings.len()).collect();
    let size = |i: usize| fittings[i].print.bed_footprint_mm;
    let long = |i: usize| size(i)[0].max(size(i)[1]);
    let short = |i: usize| size(i)[0].min(size(i)[1]);
    order.sort_by(|&i, &j| {
        long(j).total_cmp(&long(i)).then(short(j).total_cmp(&short(i))).then(i.cmp(&j))
    });

    let tries =
        RULES.iter().map(|rule| placed(fittings, &order, [bed_mm[0], bed_mm[1]], gap_mm, rule));
    let fewest = tries.min_by_key(|placed| placed.iter().map(|p| p.plate + 1).max().unwrap_or(0));
    let mut placed = fewest.unwrap_or_default();
    placed.sort_by_key(|place| place.fitting);
    Ok(placed)
}

/// Places them in this order by one rule. Each fits on an empty bed.
fn placed(
    fittings: &[Fitting],
    order: &[usize],
    bed_mm: [f64; 2],
    gap_mm: f64,
    rule: &Rule,
) -> Vec<OnBed> {
    let mut plates: Vec<Plate> = Vec::new();
    let mut placed = Vec::with_capacity(order.len());
    for &fitting in order {
        let size = fittings[fitting].print.bed_footprint_mm;
        let on = |plate: &Plate| plate.best(size, gap_mm, rule);
        let mut found = plates.iter().enumerate().find_map(|(i, plate)| Some((i, on(plate)?)));
        if found.is_none() {
            plates.push(Plate::empty(bed_mm, gap_mm));
            found = plates.last().and_then(on).map(|place| (plates.len() - 1, place));
        }
        let (plate, place) = found.expect("every fitting fits on an empty bed");
        plates[plate].take(&place.room);
        let at_mm = [place.room.x[0], place.room.y[0]];
        placed.push(OnBed { fitting, plate, at_mm, is_turned: place.is_turned });
    }
    placed
}

/// By what a place is chosen: the least score, of the sides left beside the fitting and its place.
struct Rule {
    score: fn([f64; 2], &Room) -> [f64; 2],
    /// Whether a fitting is turned only where it fits no other way.
    keeps_upright: bool,
}

fn short_side([x, y]: [f64; 2], _: &Room) -> [f64; 2] {
    [x.min(y), x.max(y)]
}

fn lowest(_: [f64; 2], room: &Room) -> [f64; 2] {
    [room.y[1], room.x[0]]
}

const RULES: &[Rule] = &[
    Rule { score: short_side, keeps_upright: true },
    Rule { score: lowest, keeps_upright: true },
    Rule { score: short_side, keeps_upright: false },
    Rule { score: lowest, keeps_upright: false },
];

/// A hair of rounding keeps no fitting off a bed of just its size.
const HAIR_MM: f64 = 1e-9;

fn turned([x, y]: [f64; 2], is_turned: bool) -> [f64; 2] {
    if is_turned { [y, x] } else { [x, y] }
}

/// A rectangle on the bed.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Room {
    x: [f64; 2],
    y: [f64; 2],
}

impl Room {
    fn is_within(&self, other: &Self) -> bool {
        let within = |a: [f64; 2], b: [f64; 2]| b[0] <= a[0] && a[1] <= b[1];
        within(self.x, other.x) && within(self.y, other.y)
    }

    fn overlaps(&self, other: &Self) -> bool {
        let overlap = |a: [f64; 2], b: [f64; 2]| a[0] < b[1] && b[0] < a[1];
        overlap(self.x, other.x) && overlap(self.y, other.y)
    }

    /// The largest rectangles that are left of it beside `taken`.
    fn without(&self, taken: &Self) -> Vec<Self> {
        if !self.overlaps(taken) {
            return vec![*self];
        }
        let beside = [
            Self { x: [self.x[0], taken.x[0]], ..*self },
            Self { x: [taken.x[1], self.x[1]], ..*self },
            Self { y: [self.y[0], taken.y[0]], ..*self },
            Self { y: [taken.y[1], self.y[1]], ..*self },
        ];
        beside.into_iter().filter(|r| r.x[0] < r.x[1] && r.y[0] < r.y[1]).collect()
    }
}

/// What is free on a plate: rectangles that may overlap, none within another.
struct Plate {
    free: Vec<Room>,
}

/// A place that was found; its room has the gap on its right and upper side.
struct Place {
    room: Room,
    is_turned: bool,
}

impl Plate {
    /// The bed and one gap more: the last fitting of a row needs none beside it.
    fn empty([length, width]: [f64; 2], gap_mm: f64) -> Self {
        let room = Room { x: [0.0, length + gap_mm + HAIR_MM], y: [0.0, width + gap_mm + HAIR_MM] };
        Self { free: vec![room] }
    }

    /// The best place by a rule.
    fn best(&self, size: [f64; 2], gap_mm: f64, rule: &Rule) -> Option<Place> {
        let upright = self.best_way(size, gap_mm, false, rule);
        if rule.keeps_upright && upright.is_some() {
            return upright.map(|(_, place)| place);
        }
        let ways = [upright, self.best_way(size, gap_mm, true, rule)].into_iter().flatten();
        ways.min_by(|a, b| least(&a.0, &b.0)).map(|(_, place)| place)
    }

    fn best_way(
        &self,
        size: [f64; 2],
        gap_mm: f64,
        is_turned: bool,
        rule: &Rule,
    ) -> Option<([f64; 2], Place)> {
        let [l, w] = turned(size, is_turned).map(|side| side + gap_mm);
        let places = self.free.iter().filter_map(|free| {
            let left = [free.x[1] - free.x[0] - l, free.y[1] - free.y[0] - w];
            let room = Room { x: [free.x[0], free.x[0] + l], y: [free.y[0], free.y[0] + w] };
            let fits = left[0] >= 0.0 && left[1] >= 0.0;
            fits.then(|| ((rule.score)(left, &room), Place { room, is_turned }))
        });
        places.min_by(|a, b| least(&a.0, &b.0))
    }

    fn take(&mut self, room: &Room) {
        let pieces: Vec<Room> = self.free.iter().flat_map(|free| free.without(room)).collect();
        let is_spare = |i: usize| {
            pieces.iter().enumerate().any(|(j, other)| {
                j != i && pieces[i].is_within(other) && (pieces[i] != *other || j < i)
            })
        };
        self.free = (0..pieces.len()).filter(|&i| !is_spare(i)).map(|i| pieces[i]).collect();
    }
}

fn least(a: &[f64; 2], b: &[f64; 2]) -> std::cmp::Ordering {
    a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fitting::PrintNotes;
    use glam::{DVec2, dvec2};
    use plate::{Contour, Plate, Shape};
    use proptest::prelude::*;

    fn block([x, y, z]: [f64; 3]) -> Fitting {
        let outline = Contour::rectangle(DVec2::ZERO, dvec2(x, y));
        Fitting {
            shape: Shape::Sheet(Plate::new(outline, z)),
            print: PrintNotes {
                orientation: String::new(),
                bed_footprint_mm: [x, y],
                height_mm: z,
                mates: Vec::new(),
            },
        }
    }

    fn printer(x: f64, y: f64) -> Printer {
        Printer { bed_mm: [x, y, 150.0], ..Printer::default() }
    }

    #[test]
    fn four_quarters_fill_one_bed_and_a_fifth_begins_another() {
        let quarters = vec![block([97.5, 72.5, 5.0]); 5];
        let placed = arranged(&quarters, &printer(200.0, 150.0), 5.0).expect("they fit");
        assert!(placed[..4].iter().all(|p| p.plate == 0), "{placed:?}");
        assert_eq!(placed[4].plate, 1);
    }

    #[test]
    fn what_fits_only_turned_is_turned() {
        let placed = arranged(&[block([90.0, 190.0, 5.0])], &printer(200.0, 100.0), 5.0);
        assert!(placed.expect("it fits")[0].is_turned);
        let just = arranged(&[block([200.0, 100.0, 150.0])], &printer(200.0, 100.0), 5.0);
        assert!(just.expect("it fits")[0].at_mm.iter().all(|at| at.abs() < 1e-9));
    }

    #[test]
    fn the_one_that_is_too_large_is_named() {
        let some = [block([10.0, 10.0, 5.0]), block([201.0, 10.0, 5.0])];
        let refused = arranged(&some, &printer(200.0, 100.0), 5.0).expect_err("too long");
        assert_eq!(
            refused.to_string(),
            "fitting 1 takes 201.0 × 10.0 mm and is 5.0 mm high; the printer has 200 × 100 × 150 mm"
        );
        let tall = arranged(&[block([10.0, 10.0, 151.0])], &printer(200.0, 100.0), 5.0);
        assert!(matches!(tall, Err(BedError::TooLarge { fitting: 0, .. })));
        let gap = arranged(&some[..1], &printer(200.0, 100.0), f64::NAN);
        assert!(matches!(gap, Err(BedError::NoBed { .. })));
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 300,
            rng_seed: proptest::test_runner::RngSeed::Fixed(8),
            failure_persistence: None,
            ..ProptestConfig::default()
        })]

        #[test]
        fn nothing_overlaps_and_all_lies_on_the_bed(
            sizes in prop::collection::vec((1.0..150.0_f64, 1.0..100.0_f64), 0..30), gap in 0.0..10.0_f64,
        ) {
            let fittings: Vec<Fitting> = sizes.iter().map(|&(x, y)| block([x, y, 5.0])).collect();
            let placed = arranged(&fittings, &printer(160.0, 120.0), gap).expect("all fit");
            prop_assert_eq!(placed.len(), fittings.len());
            for (i, p) in placed.iter().enumerate() {
                prop_assert_eq!(p.fitting, i);
                let [l, w] = p.size_mm(&fittings[i]);
                prop_assert!(p.at_mm[0] >= 0.0 && p.at_mm[0] + l <= 160.0 + 1e-6);
                prop_assert!(p.at_mm[1] >= 0.0 && p.at_mm[1] + w <= 120.0 + 1e-6);
                for q in placed[..i].iter().filter(|q| q.plate == p.plate) {
                    let [m, v] = q.size_mm(&fittings[q.fitting]);
                    let apart = p.at_mm[0] + l + gap <= q.at_mm[0] + 1e-6
                        || q.at_mm[0] + m + gap <= p.at_mm[0] + 1e-6
                        || p.at_mm[1] + w + gap <= q.at_mm[1] + 1e-6
                        || q.at_mm[1] + v + gap <= p.at_mm[1] + 1e-6;
                    prop_assert!(apart, "{:?} {:?}", p, q);
                }
            }
            // No plate is begun that the area does not ask for by far: at most four times the least, and one.
            let area: f64 = sizes.iter().map(|(x, y)| (x + gap) * (y + gap)).sum();
            let plates = placed.iter().map(|p| p.plate + 1).max().unwrap_or(0);
            let plates = f64::from(u32::try_from(plates).expect("few"));
            prop_assert!(plates <= 4.0 * area / (160.0 * 120.0) + 1.0);
        }
    }
}
