//! Labels side by side: as near to where they belong as they can stand without touching.

/// Middles of items of these widths, in the order of `wanted`, each as near to its wanted middle as can be
/// (least squares) with `gap` between neighbours, within `[lo, hi]`. Items that need more room than that
/// run out over `hi`.
pub(super) fn spread(wanted: &[f64], widths: &[f64], gap: f64, [lo, hi]: [f64; 2]) -> Vec<f64> {
    let n = wanted.len();
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&a, &b| wanted[a].total_cmp(&wanted[b]).then(a.cmp(&b)));
    // With what stands before each item taken off, positions must only not decrease: neighbours that
    // would are pooled to their mean.
    let mut before = vec![0.0; n];
    let mut sum = 0.0;
    for &i in &order {
        before[i] = sum + 0.5 * widths[i];
        sum += widths[i] + gap;
    }
    let room = (hi - (sum - gap)).max(lo);
    let mut pools: Vec<(f64, f64)> = Vec::new();
    for &i in &order {
        let mut pool = (wanted[i] - before[i], 1.0);
        while let Some(&(mean, count)) = pools.last() {
            if mean < pool.0 {
                break;
            }
            pool = ((mean * count + pool.0 * pool.1) / (count + pool.1), count + pool.1);
            pools.pop();
        }
        pools.push(pool);
    }
    let mut middles = vec![0.0; n];
    let mut at = order.iter();
    for (mean, count) in pools {
        let mut left = count;
        while left > 0.5 {
            let Some(&i) = at.next() else { break };
            middles[i] = mean.clamp(lo, room) + before[i];
            left -= 1.0;
        }
    }
    middles
}

/// A label's row, counted from the drawing, and its middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spot {
    pub(super) row: usize,
    pub(super) middle: f64,
}

/// Width that the leader of a label further out takes between the labels of a nearer row.
const LEADER_WIDTH: f64 = 1.6;

/// The same in as few rows as it takes: every second, or third, label stands further out, and its leader
/// has its place between the nearer ones.
pub(super) fn rows(wanted: &[f64], widths: &[f64], gap: f64, within: [f64; 2]) -> Vec<Spot> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|&a, &b| wanted[a].total_cmp(&wanted[b]).then(a.cmp(&b)));
    let mut rank = vec![0; wanted.len()];
    for (k, &i) in order.iter().enumerate() {
        rank[i] = k;
    }
    let room = within[1] - within[0];
    let of_rows = |count: usize| -> (Vec<f64>, bool) {
        // Leaders pass straight through nearer rows, so all rows share their middles.
        let row = |i: usize| rank[i] % count;
        let mut middles = wanted.to_vec();
        let mut fits = true;
        for _ in 0..8 {
            for here in (0..count).rev() {
                let taken: Vec<usize> = (0..wanted.len()).filter(|&i| row(i) >= here).collect();
                let sizes: Vec<f64> = taken
                    .iter()
                    .map(|&i| if row(i) == here { widths[i] } else { LEADER_WIDTH })
                    .collect();
                let total: f64 = sizes.iter().map(|s| s + gap).sum::<f64>() - gap;
                fits &= total <= room;
                let from: Vec<f64> = taken.iter().map(|&i| middles[i]).collect();
                let to = spread(&from, &sizes, gap, within);
                for (&i, middle) in taken.iter().zip(to) {
                    middles[i] = middle;
                }
            }
        }
        let row_is_free = |here: usize| {
            let mut spans: Vec<[f64; 2]> = (0..wanted.len())
                .filter(|&i| row(i) >= here)
                .map(|i| {
                    let half = 0.5 * if row(i) == here { widths[i] } else { LEADER_WIDTH };
                    [middles[i] - half, middles[i] + half]
                })
                .collect();
            spans.sort_by(|a, b| a[0].total_cmp(&b[0]));
            spans.windows(2).all(|w| w[0][1] <= w[1][0] + 1e-6)
        };
        fits &= (0..count).all(row_is_free);
        (middles, fits)
    };
    let most = wanted.len().max(1);
    for count in 1..=most {
        let (middles, fits) = of_rows(count);
        if fits || count == most {
            return (0..wanted.len())
                .map(|i| Spot { row: rank[i] % count, middle: middles[i] })
                .collect();
        }
    }
    Vec::new()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_with_room_stay_and_others_are_pushed_apart_evenly() {
        let middles = spread(&[10.0, 50.0, 52.0], &[6.0; 3], 2.0, [0.0, 100.0]);
        assert_eq!(middles, [10.0, 47.0, 55.0]);
        let at_the_edge = spread(&[1.0, 2.0], &[6.0; 2], 2.0, [0.0, 100.0]);
        assert_eq!(at_the_edge, [3.0, 11.0]);
    }

    #[test]
    fn what_does_not_fit_in_one_row_takes_two_with_room_for_leaders() {
        let wanted = [10.0, 20.0, 30.0, 40.0];
        let spots = rows(&wanted, &[20.0; 4], 2.0, [0.0, 50.0]);
        assert_eq!(spots.iter().map(|s| s.row).collect::<Vec<_>>(), [0, 1, 0, 1]);
        let near: Vec<_> = spots.iter().filter(|s| s.row == 0).collect();
        for far in spots.iter().filter(|s| s.row == 1) {
            assert!(near.iter().all(|s| (s.middle - far.middle).abs() >= 10.0), "{spots:?}");
        }
    }
}
