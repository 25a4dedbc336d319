//! The sheet that drawings are made on: frame, centring marks and grid in the conventions of ISO 5457.
//!
//! From memory of ISO 5457:1999: 20 mm are left free for filing and 10 mm elsewhere; the frame is 0.7 mm wide; centring
//! marks of 0.7 mm reach 5 mm into the frame (not at the lower edge here, where the title block stands); a reference grid of 50 mm fields, counted from the centring marks, with
//! letters upright and numbers along; letters 3.5 mm high, I and O left out. No conformity is claimed.

use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Lettering, Stroke, style};

/// Left free for filing.
const FILING_MM: f64 = 20.0;
/// Left free on the other sides.
const EDGE_MM: f64 = 10.0;
/// Width of the strip of the reference grid, outside the frame.
const GRID_MM: f64 = 5.0;
/// Length of a field of the grid.
const FIELD_MM: f64 = 50.0;
/// Width of the frame.
const FRAME_MM: f64 = 0.7;

/// Ordinary lettering of drawings: 2.5 mm, to ISO 3098.
pub(crate) const LETTERS: Lettering =
    Lettering { capital_mm: 2.5, is_bold: false, colour: style::INK };
/// Names of fields and heads of columns.
pub(crate) const NAMES: Lettering =
    Lettering { capital_mm: 1.8, is_bold: false, colour: style::QUIET };

/// Visible edges: ISO 128-2, line group 0.5.
pub(crate) fn wide() -> Stroke {
    Stroke::whole(0.5, style::INK)
}

/// Dimension lines, leaders: half as wide.
pub(crate) fn narrow() -> Stroke {
    Stroke::whole(0.25, style::INK)
}

/// The corners of the drawing space on a page of this size: upper left and lower right.
pub(crate) fn space(page: DVec2) -> [DVec2; 2] {
    [dvec2(FILING_MM, EDGE_MM), page - DVec2::splat(EDGE_MM)]
}

/// An empty sheet.
pub(crate) fn empty(page: DVec2) -> Figure {
    let mut figure = Figure::new(page);
    let [lo, hi] = space(page);
    let frame = || Stroke::whole(FRAME_MM, style::INK);
    figure.rectangle(lo, hi, Some(frame()), None);
    let (outer_lo, outer_hi) = (lo - GRID_MM, hi + GRID_MM);
    figure.rectangle(outer_lo, outer_hi, Some(Stroke::whole(0.25, style::QUIET)), None);
    let middle = 0.5 * (lo + hi);
    let mark =
        |figure: &mut Figure, from: DVec2, into: DVec2| figure.line(from, from + into, frame());
    mark(&mut figure, dvec2(outer_lo.x, middle.y), dvec2(2.0 * GRID_MM, 0.0));
    mark(&mut figure, dvec2(outer_hi.x, middle.y), dvec2(-2.0 * GRID_MM, 0.0));
    mark(&mut figure, dvec2(middle.x, outer_lo.y), dvec2(0.0, 2.0 * GRID_MM));
    mark(&mut figure, dvec2(middle.x, outer_hi.y), dvec2(0.0, -GRID_MM));
    let letters = Lettering { capital_mm: 2.5, is_bold: false, colour: style::QUIET };
    let drop = dvec2(0.0, 0.5 * letters.capital_mm);
    for (i, [from, to]) in fields(lo.x, hi.x).into_iter().enumerate() {
        for (y, edge) in [(outer_lo.y, lo.y), (hi.y, outer_hi.y)] {
            if i > 0 {
                figure.line(dvec2(from, y), dvec2(from, edge), Stroke::whole(0.25, style::QUIET));
            }
            let at = dvec2(0.5 * (from + to), 0.5 * (y + edge)) + drop;
            figure.words(at, format!("{}", i + 1), letters, Anchor::Middle);
        }
    }
    for ([from, to], letter) in
        fields(lo.y, hi.y).into_iter().zip("ABCDEFGHJKLMNPQRSTUVWXYZ".chars())
    {
        for (x, edge) in [(outer_lo.x, lo.x), (hi.x, outer_hi.x)] {
            if letter != 'A' {
                figure.line(dvec2(x, from), dvec2(edge, from), Stroke::whole(0.25, style::QUIET));
            }
            let at = dvec2(0.5 * (x + edge), 0.5 * (from + to)) + drop;
            figure.words(at, letter, letters, Anchor::Middle);
        }
    }
    figure
}

/// The fields of the grid between two edges: of 50 mm from the middle outwards, the rest added to the corners.
fn fields(lo: f64, hi: f64) -> Vec<[f64; 2]> {
    let middle = 0.5 * (lo + hi);
    let mut each_side = 1_u32;
    while FIELD_MM * f64::from(each_side) < 0.5 * (hi - lo) - 0.5 * FIELD_MM {
        each_side += 1;
    }
    let at = |k: i64| middle + FIELD_MM * f64::from(i32::try_from(k).unwrap_or(0));
    let n = i64::from(each_side);
    let mut ends: Vec<f64> = (1 - n..n).map(at).collect();
    ends.insert(0, lo);
    ends.push(hi);
    ends.windows(2).map(|pair| [pair[0], pair[1]]).collect()
}

/// Words made smaller, at most to half, and then cut, so that they fit a width.
pub(crate) fn fitted(text: &str, lettering: Lettering, width_mm: f64) -> (String, Lettering) {
    let natural = lettering.width_mm(text);
    let scale = (width_mm / natural.max(1e-9)).clamp(0.6, 1.0);
    let lettering = Lettering { capital_mm: lettering.capital_mm * scale, ..lettering };
    let mut text = text.to_owned();
    if lettering.width_mm(&text) > width_mm + 1e-6 {
        while !text.is_empty() && lettering.width_mm(&format!("{text}…")) > width_mm {
            text.pop();
        }
        text.push('…');
    }
    (text, lettering)
}

#[cfg(test)]
mod tests {
    use paper::PaperForm;

    use super::*;

    #[test]
    fn fields_are_counted_from_the_middle_and_fill_the_edge() {
        for paper in [PaperForm::A, PaperForm::Us] {
            for page in [paper.text(), paper.drawing()] {
                let [lo, hi] = space(page);
                for [a, b] in [[lo.x, hi.x], [lo.y, hi.y]] {
                    let fields = fields(a, b);
                    assert!(
                        (fields[0][0] - a).abs() < 1e-9
                            && (fields[fields.len() - 1][1] - b).abs() < 1e-9
                    );
                    assert!(
                        fields.iter().all(|[from, to]| (24.9..75.1).contains(&(to - from))),
                        "{fields:?}"
                    );
                    assert_eq!(fields.len() % 2, 0);
                }
            }
        }
    }

    #[test]
    fn words_are_cut_when_they_cannot_be_made_small_enough() {
        let (text, lettering) = fitted("a title that is far too long for its field", LETTERS, 20.0);
        assert!(lettering.width_mm(&text) <= 20.0 && text.ends_with('…'), "{text}");
        assert_eq!(fitted("short", LETTERS, 20.0), ("short".to_owned(), LETTERS));
    }
}
