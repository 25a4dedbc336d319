//! A short way through cuts of which each has a place where the tool goes in and one where it comes out.

use glam::DVec2;

/// Rounds of improvement at most; it ends when nothing gets better.
const MOST_ROUNDS: usize = 60;
/// More cuts than this are only put in order by the nearest neighbour: letters have thousands of strokes.
const MOST_IMPROVED: usize = 1500;
/// Links are exchanged with the next so many places of the way only.
const WINDOW: usize = 400;
/// What counts as shorter, mm.
const SHORTER_MM: f64 = 1e-6;

/// The cuts (in, out) in an order of little travel, from `at`; the way ends wherever it does.
pub(super) fn short(ends: &[[DVec2; 2]], at: DVec2) -> Vec<usize> {
    let mut way = nearest_neighbour(ends, at);
    if ends.len() > MOST_IMPROVED {
        return way;
    }
    for _ in 0..MOST_ROUNDS {
        let turned = exchange_links(&mut way, ends, at);
        let moved = move_runs(&mut way, ends, at);
        if !turned && !moved {
            break;
        }
    }
    way
}

fn nearest_neighbour(ends: &[[DVec2; 2]], mut at: DVec2) -> Vec<usize> {
    let mut left: Vec<usize> = (0..ends.len()).collect();
    let mut way = Vec::with_capacity(ends.len());
    let distance = |at: DVec2, i: usize| at.distance_squared(ends[i][0]);
    while let Some(k) = (0..left.len()).min_by(|&a, &b| {
        distance(at, left[a]).total_cmp(&distance(at, left[b])).then(left[a].cmp(&left[b]))
    }) {
        let next = left.remove(k);
        at = ends[next][1];
        way.push(next);
    }
    way
}

/// Travel from place `i - 1` of the way (or where it begins) to cut `to`.
fn link(way: &[usize], ends: &[[DVec2; 2]], at: DVec2, i: usize, to: usize) -> f64 {
    let from = if i == 0 { at } else { ends[way[i - 1]][1] };
    from.distance(ends[to][0])
}

/// 2-opt: runs part of the way the other way round where that is shorter. Cuts keep their own sense.
fn exchange_links(way: &mut [usize], ends: &[[DVec2; 2]], at: DVec2) -> bool {
    let mut is_better = false;
    for i in 0..way.len() {
        // What the links inside come to, forth and back, grows with the run.
        let (mut forth, mut back) = (0.0, 0.0);
        for j in i + 1..way.len().min(i + WINDOW) {
            forth += ends[way[j - 1]][1].distance(ends[way[j]][0]);
            back += ends[way[j]][1].distance(ends[way[j - 1]][0]);
            let after = |last: usize| {
                way.get(j + 1).map_or(0.0, |&next| ends[last][1].distance(ends[next][0]))
            };
            let now = link(way, ends, at, i, way[i]) + forth + after(way[j]);
            let then = link(way, ends, at, i, way[j]) + back + after(way[i]);
            if then < now - SHORTER_MM {
                way[i..=j].reverse();
                std::mem::swap(&mut forth, &mut back);
                is_better = true;
            }
        }
    }
    is_better
}

/// Or-opt: moves runs of one to three cuts to where they lengthen the way less.
fn move_runs(way: &mut Vec<usize>, ends: &[[DVec2; 2]], at: DVec2) -> bool {
    let mut is_better = false;
    for length in 1..=3_usize {
        let mut i = 0;
        while i + length <= way.len() {
            if let Some(to) = better_place(way, ends, at, i, length) {
                let run: Vec<usize> = way.drain(i..i + length).collect();
                way.splice(to..to, run);
                is_better = true;
            }
            i += 1;
        }
    }
    is_better
}

/// Where a run is better put, as a place of the way without it.
fn better_place(
    way: &[usize],
    ends: &[[DVec2; 2]],
    at: DVec2,
    i: usize,
    length: usize,
) -> Option<usize> {
    let (first, last) = (way[i], way[i + length - 1]);
    let rest: Vec<usize> = way[..i].iter().chain(&way[i + length..]).copied().collect();
    let cost = |to: usize| {
        let from = if to == 0 { at } else { ends[rest[to - 1]][1] };
        let joined = |after: DVec2| rest.get(to).map_or(0.0, |&next| after.distance(ends[next][0]));
        from.distance(ends[first][0]) + joined(ends[last][1]) - joined(from)
    };
    let here = cost(i);
    let best = (0..=rest.len()).min_by(|&a, &b| cost(a).total_cmp(&cost(b)))?;
    (cost(best) < here - SHORTER_MM).then_some(best)
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
    use proptest::prelude::*;

    fn length(way: &[usize], ends: &[[DVec2; 2]], at: DVec2) -> f64 {
        (0..way.len()).map(|i| link(way, ends, at, i, way[i])).sum()
    }

    #[test]
    fn a_row_is_gone_along() {
        let ends: Vec<[DVec2; 2]> = [5.0, 1.0, 4.0, 2.0, 3.0].map(|x| [dvec2(x, 0.0); 2]).to_vec();
        assert_eq!(short(&ends, DVec2::ZERO), [1, 3, 4, 2, 0]);
    }

    proptest! {
        /// Every cut once; never longer than by the nearest neighbour; and of few cuts at most 1.4 times as long as by
        /// the best of all orders, found by trying them (our judgement).
        #[test]
        fn ways_are_short(points in prop::collection::vec((0.0..500.0_f64, 0.0..500.0_f64, 0.0..500.0_f64, 0.0..500.0_f64), 1..7)) {
            let ends: Vec<[DVec2; 2]> = points.iter().map(|&(a, b, c, d)| [dvec2(a, b), dvec2(c, d)]).collect();
            let at = DVec2::ZERO;
            let way = short(&ends, at);
            let mut sorted = way.clone();
            sorted.sort_unstable();
            prop_assert_eq!(sorted, (0..ends.len()).collect::<Vec<_>>());
            let ours = length(&way, &ends, at);
            prop_assert!(ours <= length(&nearest_neighbour(&ends, at), &ends, at) + 1e-6);
            let best = best_of_all(&ends, at, &mut Vec::new());
            prop_assert!(ours <= 1.4 * best + 1e-6, "{} against {}", ours, best);
        }
    }

    fn best_of_all(ends: &[[DVec2; 2]], at: DVec2, way: &mut Vec<usize>) -> f64 {
        if way.len() == ends.len() {
            return length(way, ends, at);
        }
        let mut best = f64::INFINITY;
        for i in 0..ends.len() {
            if !way.contains(&i) {
                way.push(i);
                best = best.min(best_of_all(ends, at, way));
                way.pop();
            }
        }
        best
    }
}
