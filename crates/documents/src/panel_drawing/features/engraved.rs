//! Engravings as rows of the table: a scale by its marks, anything else by the box around it.

use glam::DVec2;
use plate::Engraving;

use super::{Depth, Feature, Form, SAME_MM};

/// So many marks at least are a scale.
const LEAST: usize = 3;

/// The row of an engraving; `None` without any line.
pub(super) fn feature(engraving: &Engraving, depth_mm: Option<f64>) -> Option<Feature> {
    let depth = Depth::Engraved(engraving.face, depth_mm);
    if let Some((count, bounds)) = scale(engraving) {
        let form = Form::Scale(count, bounds[1] - bounds[0]);
        return Some(Feature::once(bounds, form, depth));
    }
    let bounds = around(engraving.strokes.iter().flatten().copied())?;
    Some(Feature::once(bounds, Form::Engraving(bounds[1] - bounds[0]), depth))
}

/// The marks of a scale: straight lines along one axis that begin on one line. How many, and the box around them.
fn scale(engraving: &Engraving) -> Option<(usize, [DVec2; 2])> {
    let lines: Vec<[DVec2; 2]> = engraving
        .strokes
        .iter()
        .filter_map(|stroke| <[DVec2; 2]>::try_from(stroke.as_slice()).ok())
        .collect();
    let level = |[a, b]: &[DVec2; 2]| (a.y - b.y).abs() < SAME_MM;
    let upright = |[a, b]: &[DVec2; 2]| (a.x - b.x).abs() < SAME_MM;
    let found = [
        marks(lines.iter().filter(|line| level(line)), |p| p.x),
        marks(lines.iter().filter(|line| upright(line)), |p| p.y),
    ];
    let most = found.into_iter().max_by_key(Vec::len)?;
    let bounds = around(most.iter().flat_map(|line| line.iter().copied()))?;
    (LEAST <= most.len()).then_some((most.len(), bounds))
}

/// The most of these lines that have an end at one place along the axis.
fn marks<'a>(
    lines: impl Iterator<Item = &'a [DVec2; 2]>,
    along: impl Fn(DVec2) -> f64,
) -> Vec<[DVec2; 2]> {
    let lines: Vec<[DVec2; 2]> = lines.copied().collect();
    let ends = lines.iter().flatten().map(|p| along(*p));
    let at = |place: f64| {
        let has = |line: &&[DVec2; 2]| line.iter().any(|p| (along(*p) - place).abs() < SAME_MM);
        lines.iter().filter(has).copied().collect::<Vec<_>>()
    };
    ends.map(at).max_by_key(Vec::len).unwrap_or_default()
}

fn around(points: impl Iterator<Item = DVec2>) -> Option<[DVec2; 2]> {
    points.map(|p| [p, p]).reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
}

#[cfg(test)]
mod tests {
    use glam::dvec2;
    use plate::Face;

    use super::*;

    #[test]
    fn a_scale_is_where_its_marks_are() {
        let mark = |k: u32| {
            let y = 40.0 + 5.0 * f64::from(k);
            vec![dvec2(100.0, y), dvec2(if k.is_multiple_of(2) { 112.0 } else { 107.0 }, y)]
        };
        let mut strokes: Vec<Vec<DVec2>> = (0..9).map(mark).collect();
        // A number beside a mark, a line across all, a word.
        strokes.push(vec![dvec2(114.5, 37.5), dvec2(118.0, 42.5), dvec2(114.5, 42.5)]);
        strokes.push(vec![dvec2(96.0, 61.3), dvec2(116.0, 61.3)]);
        let row = feature(&Engraving { face: Face::Top, strokes }, Some(0.3)).expect("a row");
        assert_eq!(row.shape, Form::Scale(9, dvec2(12.0, 40.0)));
        assert_eq!(row.point(), dvec2(100.0, 40.0));
    }

    #[test]
    fn two_lines_are_no_scale() {
        let strokes =
            vec![vec![dvec2(1.0, 2.0), dvec2(5.0, 2.0)], vec![dvec2(1.0, 4.0), dvec2(5.0, 8.0)]];
        let row = feature(&Engraving { face: Face::Top, strokes }, None).expect("a row");
        assert_eq!((row.shape, row.point()), (Form::Engraving(dvec2(4.0, 6.0)), dvec2(1.0, 2.0)));
        assert_eq!(feature(&Engraving { face: Face::Top, strokes: Vec::new() }, None), None);
    }
}
