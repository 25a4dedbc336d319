//! Openings that repeat at equal steps: one row of the table for all.

use glam::DVec2;

use super::{Depth, Feature, Form, One, Repeat, SAME_MM, real};

/// Rows for openings: equal ones at equal steps are one row.
pub(super) fn repeated(ones: Vec<One>) -> Vec<Feature> {
    let mut kinds: Vec<(Form, Vec<[DVec2; 2]>)> = Vec::new();
    for (bounds, shape) in ones {
        match kinds.iter_mut().find(|(other, _)| same(*other, shape)) {
            Some((_, all)) => all.push(bounds),
            None => kinds.push((shape, vec![bounds])),
        }
    }
    let mut rows = Vec::new();
    for (shape, mut all) in kinds {
        all.sort_by(|a, b| {
            let key = |v: f64| (v / SAME_MM).round();
            key(a[0].y).total_cmp(&key(b[0].y)).then(a[0].x.total_cmp(&b[0].x))
        });
        for (first, repeat) in grids(&all) {
            rows.push(Feature { repeat, ..Feature::once(first, shape, Depth::Through) });
        }
    }
    rows
}

fn same(a: Form, b: Form) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() < SAME_MM;
    let both = |a: DVec2, b: DVec2| near(a.x, b.x) && near(a.y, b.y);
    match (a, b) {
        (Form::Round(a), Form::Round(b)) | (Form::AllRound(a), Form::AllRound(b)) => near(a, b),
        (Form::Slot(a), Form::Slot(b)) | (Form::Other(a), Form::Other(b)) => both(a, b),
        (Form::Rectangle(a, r), Form::Rectangle(b, s)) => {
            both(a, b) && near(r.unwrap_or(0.0), s.unwrap_or(0.0))
        }
        _ => false,
    }
}

/// Boxes of equal shape, sorted by y and x, as rows at equal steps, and equal rows at equal steps as grids. Fewer than
/// three in a row stay alone.
fn grids(all: &[[DVec2; 2]]) -> Vec<([DVec2; 2], Repeat)> {
    let mut lines: Vec<Vec<[DVec2; 2]>> = Vec::new();
    for &bounds in all {
        match lines.last_mut() {
            Some(line) if (line[0][0].y - bounds[0].y).abs() < SAME_MM => line.push(bounds),
            _ => lines.push(vec![bounds]),
        }
    }
    let mut found: Vec<([DVec2; 2], Repeat)> = Vec::new();
    for line in lines {
        for (first, count, step) in runs(&line) {
            // A line like one before it, one step above the last of them, belongs to its grid.
            let grid = found.iter_mut().find(|(before, repeat)| {
                let rows = real(repeat.count[1]);
                let up = first[0].y - before[0].y;
                let is_step = repeat.count[1] == 1 || (up - rows * repeat.step.y).abs() < SAME_MM;
                repeat.count[0] == count
                    && count > 1
                    && (repeat.step.x - step).abs() < SAME_MM
                    && (before[0].x - first[0].x).abs() < SAME_MM
                    && is_step
            });
            match grid {
                Some((before, repeat)) => {
                    if repeat.count[1] == 1 {
                        repeat.step.y = first[0].y - before[0].y;
                    }
                    repeat.count[1] += 1;
                }
                None => {
                    found.push((first, Repeat { count: [count, 1], step: DVec2::new(step, 0.0) }));
                }
            }
        }
    }
    found
}

/// The longest runs of equal steps along a line: the first box, how many, and the step.
fn runs(line: &[[DVec2; 2]]) -> Vec<([DVec2; 2], usize, f64)> {
    let mut runs = Vec::new();
    let mut i = 0;
    while i < line.len() {
        let step = line.get(i + 1).map_or(0.0, |next| next[0].x - line[i][0].x);
        let mut n = 1;
        while line
            .get(i + n)
            .is_some_and(|next| (next[0].x - line[i][0].x - real(n) * step).abs() < SAME_MM)
        {
            n += 1;
        }
        if n >= 3 {
            runs.push((line[i], n, step));
            i += n;
        } else {
            runs.push((line[i], 1, 0.0));
            i += 1;
        }
    }
    runs
}

#[cfg(test)]
mod tests {
    use glam::dvec2;
    use plate::{Contour, FlatPattern};

    use super::super::features;
    use super::*;

    fn pattern(holes: Vec<Contour>) -> FlatPattern {
        let mut through = vec![Contour::rectangle(dvec2(0.0, 0.0), dvec2(400.0, 300.0))];
        through.extend(holes.into_iter().map(|hole| hole.reversed()));
        FlatPattern { through, pockets: vec![], engravings: vec![] }
    }

    #[test]
    fn a_grid_of_holes_is_one_row_and_a_staggered_one_two() {
        let grid = |x0: f64, y0: f64, nx: u32, ny: u32| {
            (0..nx * ny).map(move |i| {
                let at = dvec2(x0 + 20.0 * f64::from(i % nx), y0 + 30.0 * f64::from(i / nx));
                Contour::circle(at, 5.0)
            })
        };
        let (rows, _) = features(&pattern(grid(20.0, 20.0, 6, 5).collect()), None);
        assert_eq!(rows.len(), 1);
        assert_eq!((rows[0].tag.as_str(), rows[0].repeat.count), ("A", [6, 5]));
        assert!(
            rows[0].repeat.step.distance(dvec2(20.0, 30.0)) < 1e-9
                && rows[0].point() == dvec2(20.0, 20.0)
        );

        let staggered = grid(20.0, 20.0, 6, 4).chain(grid(30.0, 35.0, 5, 4)).collect();
        let (rows, _) = features(&pattern(staggered), None);
        assert_eq!(rows.iter().map(|row| row.repeat.count).collect::<Vec<_>>(), [[6, 4], [5, 4]]);
    }

    #[test]
    fn every_hole_is_in_one_row() {
        let at =
            [(10.0, 10.0), (30.0, 10.0), (50.0, 10.0), (75.0, 10.0), (10.0, 40.0), (31.0, 40.0)];
        let holes = at.map(|(x, y)| Contour::circle(dvec2(x, y), 4.0));
        let (rows, _) = features(&pattern(holes.to_vec()), None);
        assert_eq!(rows.iter().map(Feature::count).sum::<usize>(), 6);
        assert_eq!(rows.len(), 4);
    }
}
