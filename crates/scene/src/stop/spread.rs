//! Findings spread over columns.

use super::sheet::Line;

/// Blocks of lines in their order over so many columns at most, so that the longest is as short as it can be. `line` is the height
/// of a line, px.
pub(super) fn spread(blocks: Vec<Vec<Line>>, columns: usize, line: f64) -> Vec<Vec<Line>> {
    let tall = |block: &Vec<Line>| block.iter().map(|l| line + l.before).sum::<f64>();
    let heights: Vec<f64> = blocks.iter().map(tall).collect();
    let mut starts = split(&heights, columns);
    starts.push(blocks.len());
    let mut rest = blocks.into_iter();
    starts.windows(2).map(|w| rest.by_ref().take(w[1] - w[0]).flatten().collect()).collect()
}

/// Where each column begins, such that the tallest is least: the blocks go on until a limit, and the limit is the
/// least of the heights of all runs with which the columns suffice.
fn split(heights: &[f64], columns: usize) -> Vec<usize> {
    let filled = |limit: f64| {
        let mut starts = vec![0];
        let mut height = 0.0;
        for (k, block) in heights.iter().enumerate() {
            if height > 0.0 && height + block > limit {
                starts.push(k);
                height = 0.0;
            }
            height += block;
        }
        starts
    };
    let run = |from: usize| {
        let sums = heights[from..].iter().scan(0.0, |sum, h| {
            *sum += h;
            Some(*sum)
        });
        sums.collect::<Vec<f64>>()
    };
    let mut limits: Vec<f64> = (0..heights.len()).flat_map(run).collect();
    let tallest = heights.iter().copied().fold(0.0, f64::max);
    limits.retain(|limit| *limit >= tallest);
    limits.sort_by(f64::total_cmp);
    // A hair more, for sums of the same blocks differ by rounding.
    let all = limits.into_iter().map(|limit| filled(limit + 1e-6));
    all.into_iter().find(|starts| starts.len() <= columns).unwrap_or_else(|| vec![0])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tallest_column_is_as_short_as_it_can_be() {
        for (heights, starts) in [
            (vec![3.0, 3.0, 3.0], vec![0, 1, 2]),
            (vec![9.0, 1.0, 1.0, 1.0], vec![0, 1]),
            (vec![2.0, 2.0, 2.0, 6.0, 3.0, 3.0], vec![0, 3, 4]),
            (vec![1.0, 1.0, 1.0, 1.0], vec![0, 2]),
            (vec![5.0], vec![0]),
        ] {
            assert_eq!(split(&heights, 3), starts, "{heights:?}");
        }
    }
}
