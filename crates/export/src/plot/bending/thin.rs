//! Lines through fewer points, which look the same.

use glam::DVec2;

/// A line is drawn no farther from its points than this, mm on paper: a fifteenth of its width.
pub(super) const FINE: f64 = 0.02;

/// The points of a line that it needs to pass all others within `off`, its ends among them.
///
/// Source: D. H. Douglas, T. K. Peucker, "Algorithms for the reduction of the number of points required to represent a
/// digitized line or its caricature", *Cartographica* 10 (1973), 112–122.
pub(super) fn thinned(line: &[DVec2], off: f64) -> Vec<DVec2> {
    let Some(last) = line.len().checked_sub(1) else { return Vec::new() };
    let mut is_needed = vec![false; line.len()];
    (is_needed[0], is_needed[last]) = (true, true);
    let mut spans = vec![(0, last)];
    while let Some((from, to)) = spans.pop() {
        let away = |k: usize| (distance(line[k], [line[from], line[to]]), k);
        let farthest = (from + 1..to).map(away).max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((_, k)) = farthest.filter(|(far, _)| *far > off) {
            is_needed[k] = true;
            spans.extend([(from, k), (k, to)]);
        }
    }
    line.iter().zip(is_needed).filter(|(_, is_needed)| *is_needed).map(|(p, _)| *p).collect()
}

/// From a point to a straight line between two others.
fn distance(p: DVec2, [a, b]: [DVec2; 2]) -> f64 {
    let along = b - a;
    let share = ((p - a).dot(along) / along.length_squared()).clamp(0.0, 1.0);
    // A closed line begins where it ends.
    if share.is_nan() { p.distance(a) } else { p.distance(a + share * along) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_keeps_its_shape_with_fewer_points() {
        let at = |k: u32| 30.0 * DVec2::from_angle(f64::from(k) * std::f64::consts::TAU / 400.0);
        let circle: Vec<DVec2> = (0..=400).map(at).collect();
        let thin = thinned(&circle, FINE);
        // A chord of a circle is r (1 - cos(a / 2)) off: at most 0.073 rad from point to point; halving may halve that.
        assert!((86..=174).contains(&thin.len()), "{}", thin.len());
        assert_eq!((thin.first(), thin.last()), (circle.first(), circle.last()));
        for p in &circle {
            let least =
                thin.windows(2).map(|w| distance(*p, [w[0], w[1]])).fold(f64::MAX, f64::min);
            assert!(least <= FINE, "{p} is {least} off");
        }
        assert_eq!(thinned(&[], FINE), Vec::<DVec2>::new());
        let straight: Vec<DVec2> = (0..9).map(|k| DVec2::splat(f64::from(k))).collect();
        assert_eq!(thinned(&straight, FINE).len(), 2);
    }
}
