//! Where words find room on a drawing.

use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Lettering};

use crate::drawing_sheet::narrow;

/// Free around words, mm.
const AIR_MM: f64 = 0.9;

/// What is drawn already: words that are to be near something are put where nothing is.
#[derive(Debug, Default)]
pub(crate) struct Room {
    /// Boxes of words and of dimension lines, and where no words may go.
    pub(crate) boxes: Vec<[DVec2; 2]>,
    /// Points of lines.
    pub(crate) points: Vec<DVec2>,
    /// Within this words must lie.
    pub(crate) within: [DVec2; 2],
}

impl Room {
    /// Whether a box is free.
    pub(crate) fn is_free(&self, [lo, hi]: [DVec2; 2]) -> bool {
        let (lo, hi) = (lo - AIR_MM, hi + AIR_MM);
        let is_in = |p: &DVec2| lo.x < p.x && p.x < hi.x && lo.y < p.y && p.y < hi.y;
        let over =
            |b: &[DVec2; 2]| lo.x < b[1].x && b[0].x < hi.x && lo.y < b[1].y && b[0].y < hi.y;
        let is_within = self.within[0].cmple(lo).all() && hi.cmple(self.within[1]).all();
        is_within && !self.boxes.iter().any(over) && !self.points.iter().any(is_in)
    }

    /// Writes words near a box (upper left and lower right corner on paper): inside it if there is room, else outside
    /// with a leader to it, or to the circle in it.
    pub(crate) fn put_near(
        &mut self,
        figure: &mut Figure,
        target: [DVec2; 2],
        is_round: bool,
        text: &str,
        lettering: Lettering,
    ) {
        let size = dvec2(lettering.width_mm(text), lettering.capital_mm);
        let middle = 0.5 * (target[0] + target[1]);
        let inside = [middle - 0.5 * size, middle + 0.5 * size];
        let mut places = vec![inside];
        let half = 0.5 * (target[1] - target[0]);
        for ring in 0..14 {
            let away = 2.0 + 2.5 * f64::from(ring);
            for turn in [1, 3, 5, 7, 0, 2, 4, 6, 8, 9, 10, 11, 12, 13, 14, 15] {
                let angle = if turn < 8 {
                    45.0 * f64::from(turn)
                } else {
                    22.5 + 45.0 * f64::from(turn - 8)
                };
                let way = DVec2::from_angle(-angle.to_radians());
                let reach = half.min(DVec2::splat(40.0)) + 0.5 * size + away;
                // On a box around the target, so that no place lies over it.
                let at =
                    middle + (way * reach / way.abs().max_element().max(1e-9)).clamp(-reach, reach);
                places.push([at - 0.5 * size, at + 0.5 * size]);
            }
        }
        let free = places.iter().find(|place| self.is_free(**place));
        // Without any free place they stand inside, over lines: read by their letter in the table.
        let place = *free.unwrap_or(&inside);
        if place != inside {
            let from = closest(place, middle);
            let to = if is_round {
                middle + (from - middle).normalize_or_zero() * half.x
            } else {
                closest(target, from)
            };
            figure.line(from, to + (from - to).normalize_or_zero() * 0.2, narrow());
            self.points.extend((1..20).map(|i| from.lerp(to, f64::from(i) / 20.0)));
        }
        figure.words(
            dvec2(0.5 * (place[0].x + place[1].x), place[1].y),
            text,
            lettering,
            Anchor::Middle,
        );
        self.boxes.push(place);
    }
}

/// The place of a box that is nearest to a point, a little outside.
fn closest(of: [DVec2; 2], to: DVec2) -> DVec2 {
    to.clamp(of[0] - 0.4, of[1] + 0.4)
}

/// Numbers along a line, each near its place and none nearer to the next than `apart`: the sum of squares of the moves is
/// least (pool adjacent violators). `places` ascend.
pub(super) fn spread(places: &[f64], apart: f64, [from, to]: [f64; 2]) -> Vec<f64> {
    // Without their gaps they only have to ascend.
    let mut pools: Vec<(f64, f64)> = Vec::new();
    for (i, place) in places.iter().enumerate() {
        let mut pool = (place - apart * super::features::real(i), 1.0);
        while let Some(before) = pools.pop_if(|before| before.0 > pool.0) {
            let n = before.1 + pool.1;
            pool = ((before.0 * before.1 + pool.0 * pool.1) / n, n);
        }
        pools.push(pool);
    }
    let least = from;
    let most = (to - apart * super::features::real(places.len().saturating_sub(1))).max(least);
    let flat = pools.iter().flat_map(|(at, n)| std::iter::repeat_n(*at, count(*n)));
    flat.enumerate()
        .map(|(i, at)| at.clamp(least, most) + apart * super::features::real(i))
        .collect()
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of places")]
fn count(n: f64) -> usize {
    n.round() as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_move_apart_as_little_as_they_must() {
        let near = |a: &[f64], b: &[f64]| a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-9);
        assert!(near(&spread(&[10.0, 50.0], 4.0, [0.0, 100.0]), &[10.0, 50.0]));
        assert!(near(&spread(&[10.0, 11.0, 12.0], 4.0, [0.0, 100.0]), &[7.0, 11.0, 15.0]));
        assert!(near(&spread(&[1.0, 1.0], 4.0, [0.0, 100.0]), &[0.0, 4.0]));
        let many: Vec<f64> = (0..30).map(|i| 50.0 + 0.1 * f64::from(i)).collect();
        let placed = spread(&many, 3.0, [0.0, 100.0]);
        assert!(placed.windows(2).all(|pair| pair[1] - pair[0] > 2.999));
    }

    #[test]
    fn words_avoid_lines_and_each_other() {
        let mut room = Room { within: [DVec2::ZERO, DVec2::splat(100.0)], ..Room::default() };
        let mut figure = Figure::new(DVec2::splat(100.0));
        let target = [DVec2::splat(48.0), DVec2::splat(52.0)];
        room.points.extend((0..200).map(|i| dvec2(0.5 * f64::from(i), 50.0)));
        for i in 0..12 {
            room.put_near(
                &mut figure,
                target,
                false,
                &format!("A{i}"),
                crate::drawing_sheet::LETTERS,
            );
        }
        for (i, [lo, hi]) in room.boxes.iter().enumerate() {
            assert!(!(lo.y < 50.0 && 50.0 < hi.y), "{i} lies on the line");
            for [other_lo, other_hi] in &room.boxes[..i] {
                let is_apart = hi.x < other_lo.x
                    || other_hi.x < lo.x
                    || hi.y < other_lo.y
                    || other_hi.y < lo.y;
                assert!(is_apart);
            }
        }
    }
}
