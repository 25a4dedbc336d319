//! The least height of a strip of given width that takes rectangles.

use super::niche::{self, Effort, Wanted};
use super::{Rect, Size};

/// Runs of the search in each round; each round begins again at the lowest height that is possible.
const ROUNDS: [usize; 3] = [8, 80, 4000];

/// Lays rectangles, each with whether it may be turned, into a strip of a width, as low as it can: its height, and where
/// each lies, with whether it is turned. `None` when one is wider than the strip.
pub fn least_height(width: i32, wanted: &[Wanted]) -> Option<(i32, Vec<(Rect, bool)>)> {
    let lowest = at_least(width, wanted)?;
    let mut high = wanted.iter().map(|(size, _)| size.width.max(size.height)).sum::<i32>();
    let mut best = None;
    for runs in ROUNDS {
        let mut low = lowest;
        while low < high || best.is_none() {
            let middle = low + (high - low) / 2;
            let into = Size { width, height: middle };
            match niche::fill(into, wanted, Effort { runs, niches: 3000 }) {
                Some(places) => (high, best) = (middle, Some(places)),
                None => low = middle + 1,
            }
        }
    }
    best.map(|places| (high, places))
}

/// No strip is lower: by area, and by the highest of what cannot lie lower.
fn at_least(width: i32, wanted: &[Wanted]) -> Option<i32> {
    let area: i64 = wanted.iter().map(|(size, _)| size.area()).sum();
    let by_area = area.div_euclid(i64::from(width)) + i64::from(area % i64::from(width) != 0);
    let mut least = i32::try_from(by_area).ok()?;
    for (size, turns) in wanted {
        let heights = [(size.width, size.height), (size.height, size.width)];
        let heights = heights.into_iter().take(if *turns { 2 } else { 1 });
        let lowest = heights.filter(|(across, _)| *across <= width).map(|(_, up)| up).min()?;
        least = least.max(lowest);
    }
    Some(least)
}
