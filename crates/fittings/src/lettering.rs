//! Text that prints: strokes of the engraving font as pockets wide and deep enough for a nozzle.

use glam::DVec2;
use plate::{Contour, Cut, Face, Plate, text};

use crate::printer::Printer;

/// How text is sunk into the upper face of a printed part. Lengths in mm.
///
/// Sunk, not raised: nothing hinders a sheet that slides over it, and it stays when the face is rubbed flat. Strokes are
/// one and a half nozzles wide and 0.4 mm deep or more (common practice of printing services: at least 0.6 mm wide and
/// 0.4 mm deep from a nozzle of 0.4 mm; narrower ones close, shallower ones do not show). Capitals are as high as 7.25
/// strokes, near the seven of the lettering of signs (DIN 1451, from memory): smaller, the insides of letters are no
/// longer printed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Lettering {
    /// Width of a stroke.
    stroke_mm: f64,
    /// Depth below the face: whole layers.
    depth_mm: f64,
}

/// Width of a stroke in nozzles.
const STROKE_NOZZLES: f64 = 1.5;
/// Depth, in whole layers not less than this, mm.
const LEAST_DEPTH_MM: f64 = 0.4;
/// Height of capitals in strokes, between the middles of strokes.
const CAP_STROKES: f64 = 7.25;
/// Where strokes begin, bend and end, in strokes: the letters are drawn on a grid as fine as nobody sees in print, so
/// that no edge is shorter than a printer could follow.
const GRID_STROKES: f64 = 1.0 / 3.0;
/// How far strokes are straightened, in strokes.
const FLATTENING_STROKES: f64 = 0.13;
/// What letters stand farther apart than engraved ones, in strokes: a line of the nozzle is between them.
const SPACING_STROKES: f64 = 2.0 / 3.0;
/// Turns of more than 75° are not mitred: their point would reach far. Cosine of the turn.
const SHARP_COS: f64 = 0.259;

impl Lettering {
    /// The smallest letters that this printer writes well.
    pub(crate) fn least(printer: &Printer) -> Self {
        Self {
            stroke_mm: STROKE_NOZZLES * printer.nozzle_mm,
            depth_mm: printer.height_mm(LEAST_DEPTH_MM),
        }
    }

    /// Height of capitals and digits over all, mm.
    pub(crate) fn height_mm(&self) -> f64 {
        (CAP_STROKES + 1.0) * self.stroke_mm
    }

    /// Room left around text, mm: at least two strokes, or lines of coarse text run together; common practice.
    pub(crate) fn margin_mm(&self) -> f64 {
        (2.0 * self.stroke_mm).max(1.5)
    }

    /// Room that one line of text takes along and across, mm; characters that the font has not take that of a space.
    pub(crate) fn room_mm(&self, words: &str) -> DVec2 {
        let [lo, hi] = bounds(polygons(words).iter().flatten());
        (hi - lo) * self.stroke_mm
    }

    /// An upright stroke at `x` between two heights.
    pub(crate) fn tick(&self, x: f64, [low, high]: [f64; 2]) -> Cut {
        let half = 0.5 * self.stroke_mm;
        let stroke = Contour::rectangle(DVec2::new(x - half, low), DVec2::new(x + half, high));
        Cut::pocket(stroke, Face::Top, self.depth_mm)
    }

    /// Pockets that write one line of text with the middle of its room at `middle`, along the unit vector `along`.
    pub(crate) fn cuts(&self, words: &str, middle: DVec2, along: DVec2) -> Vec<Cut> {
        let polygons = polygons(words);
        let [lo, hi] = bounds(polygons.iter().flatten());
        let centre = 0.5 * (lo + hi);
        let place = |p: DVec2| {
            let p = (p - centre) * self.stroke_mm;
            middle + along * p.x + along.perp() * p.y
        };
        let contour = |polygon: &Vec<DVec2>| {
            Contour::polygon(&polygon.iter().copied().map(place).collect::<Vec<_>>())
        };
        let cut = |polygon| Cut::pocket(contour(polygon), Face::Top, self.depth_mm);
        polygons.iter().map(cut).collect()
    }
}

/// What the text takes away, in widths of a stroke.
fn polygons(words: &str) -> Vec<Vec<DVec2>> {
    on_grid(words).iter().flat_map(|stroke| drawn(stroke)).collect()
}

/// The part without what is written on its upper face; none if nothing is.
///
/// What stands between strokes is no wall that breaks: it is about as thick as it is high. Pockets of at most
/// [`MOST_DEPTH_MM`] count as strokes.
pub(crate) fn without_text(plate: &Plate) -> Option<Plate> {
    let is_stroke = |cut: &Cut| cut.face == Face::Top && cut.depth <= MOST_DEPTH_MM;
    plate.cuts.iter().any(is_stroke).then(|| {
        let mut bare = plate.clone();
        bare.cuts.retain(|cut| !is_stroke(cut));
        bare
    })
}

/// Strokes are no deeper than one layer of the thickest or two of usual ones, mm.
const MOST_DEPTH_MM: f64 = 1.0;

/// Strokes of the text, in widths of a stroke. Every letter is drawn on the grid by itself, so that it is the same
/// wherever it stands.
fn on_grid(words: &str) -> Vec<Vec<DVec2>> {
    let snapped = |p: DVec2| (p / GRID_STROKES).round() * GRID_STROKES;
    let mut written = Vec::new();
    let mut at = 0.0;
    for char in words.chars() {
        let letter = text::strokes(char.encode_utf8(&mut [0; 4]), CAP_STROKES);
        for stroke in letter.strokes {
            let straight = simplified(&stroke, FLATTENING_STROKES);
            let mut points: Vec<DVec2> = straight.into_iter().map(snapped).collect();
            points.dedup();
            let points = simplified(&points, FLATTENING_STROKES);
            written.push(points.into_iter().map(|p| p + DVec2::new(at, 0.0)).collect());
        }
        at += ((letter.width_mm + SPACING_STROKES) / GRID_STROKES).round() * GRID_STROKES;
    }
    written
}

/// What one stroke of width 1 takes away. A dot is one square.
fn drawn(stroke: &[DVec2]) -> Vec<Vec<DVec2>> {
    let [lo, hi] = bounds(stroke);
    if (hi - lo).max_element() < 1.0 {
        let [lo, hi] = [lo - 0.5, hi + 0.5];
        return vec![vec![lo, DVec2::new(hi.x, lo.y), hi, DVec2::new(lo.x, hi.y)]];
    }
    ribbon(stroke, 0.5)
}

fn bounds<'a>(points: impl IntoIterator<Item = &'a DVec2>) -> [DVec2; 2] {
    let mut points = points.into_iter();
    let Some(&first) = points.next() else { return [DVec2::ZERO; 2] };
    points.fold([first; 2], |[lo, hi], &p| [lo.min(p), hi.max(p)])
}

/// The polyline without the points that lie within `off` of the line between those that stay (Douglas and Peucker,
/// 1973, doi:10.3138/FM57-6770-U75U-7727).
fn simplified(points: &[DVec2], off: f64) -> Vec<DVec2> {
    let (Some(&first), Some(&last)) = (points.first(), points.last()) else { return Vec::new() };
    let farthest = (1..points.len().saturating_sub(1))
        .map(|i| (i, distance(points[i], [first, last])))
        .max_by(|a, b| a.1.total_cmp(&b.1));
    match farthest {
        Some((i, far)) if far > off => {
            let mut kept = simplified(&points[..=i], off);
            kept.pop();
            kept.extend(simplified(&points[i..], off));
            kept
        }
        _ => vec![first, last],
    }
}

/// Distance of a point from the piece of a line.
fn distance(p: DVec2, [a, b]: [DVec2; 2]) -> f64 {
    let along = b - a;
    let t = (p - a).dot(along) / along.length_squared().max(f64::MIN_POSITIVE);
    p.distance(a + along * t.clamp(0.0, 1.0))
}

/// Polygons, counter-clockwise, that together are the polyline `half` wide to both sides. Where it turns sharply, and at
/// its ends, they go on by half their width; they are parted, too, where one would come back over itself, and share the
/// mitred edge there.
fn ribbon(points: &[DVec2], half: f64) -> Vec<Vec<DVec2>> {
    let pieces: Vec<[DVec2; 2]> = points.windows(2).map(|w| [w[0], w[1]]).collect();
    let directions: Vec<DVec2> =
        pieces.iter().map(|[a, b]| (*b - *a).normalize_or_zero()).collect();
    let length = |i: usize| pieces[i][0].distance(pieces[i][1]);
    // The turn, and the left and right corner, where piece i ends and the next begins; none at a sharp turn.
    let mitre = |i: usize| {
        let (u, v) = (*directions.get(i)?, *directions.get(i + 1)?);
        let (cos, sin) = (u.dot(v), u.perp_dot(v));
        let reach = half * sin.abs() / (1.0 + cos);
        // On the inner side a mitre takes from the length of both pieces.
        if cos < SHARP_COS || 2.0 * reach > 0.9 * length(i).min(length(i + 1)) {
            return None;
        }
        let arm = (u.perp() + v.perp()) * (half / (1.0 + cos));
        Some((libm::atan2(sin, cos).abs(), [pieces[i][1] + arm, pieces[i][1] - arm]))
    };
    let mut polygons = Vec::new();
    let (mut left, mut right, mut turned) = (Vec::new(), Vec::new(), 0.0);
    for i in 0..pieces.len() {
        let [a, b] = pieces[i];
        let (along, side) = (directions[i] * half, directions[i].perp() * half);
        if left.is_empty() {
            left.push(a - along + side);
            right.push(a - along - side);
        }
        let (turn, [l, r]) = mitre(i).unwrap_or((0.0, [b + along + side, b + along - side]));
        let goes_on = mitre(i).is_some();
        left.push(l);
        right.push(r);
        turned += turn;
        if !goes_on || turned > MOST_TURN {
            let polygon = right.drain(..).chain(left.drain(..).rev()).collect();
            polygons.push(polygon);
            turned = 0.0;
            if goes_on {
                left.push(l);
                right.push(r);
            }
        }
    }
    polygons
}

/// A stroke that turns less than half a circle in all never meets itself; radians.
const MOST_TURN: f64 = 2.0;

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
    use plate::{Arrangement, Tolerance, arrange};

    const WRITTEN: &str =
        "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz.+-×÷/=()°ø";

    /// Text on a plate 3 mm thick, large enough for it.
    fn written(lettering: &Lettering, words: &str, along: DVec2) -> Arrangement {
        let half = 0.5 * lettering.room_mm(words).max_element() + 3.0;
        let outline = Contour::rectangle(DVec2::splat(-half), DVec2::splat(half));
        let cuts = lettering.cuts(words, DVec2::ZERO, along);
        let tol = Tolerance { least_wall: 1e-3, ..Tolerance::default() };
        let arrangement =
            arrange(&Plate { cuts, ..Plate::new(outline, 3.0) }, &tol).expect("an arrangement");
        assert_eq!(arrangement.defects(&tol), [], "{words}");
        arrangement
    }

    #[test]
    fn every_character_makes_a_sound_part_by_every_nozzle_in_every_direction() {
        for nozzle_mm in [0.25, 0.4, 0.6, 0.8, 1.2] {
            let lettering = Lettering::least(&Printer { nozzle_mm, ..Printer::default() });
            for char in WRITTEN.chars() {
                for along in [DVec2::X, DVec2::Y] {
                    written(&lettering, &char.to_string(), along);
                }
            }
        }
    }

    #[test]
    fn letters_stand_a_line_apart() {
        let lettering = Lettering::least(&Printer::default());
        let alone: f64 = "0.45".chars().map(|c| lettering.room_mm(&c.to_string()).x).sum();
        let apart = (lettering.room_mm("0.45").x - alone) / 3.0;
        assert!((0.4..1.5).contains(&apart), "{apart}");
        written(&lettering, "0.10 0.25 8.5 7.75", DVec2::X);
    }

    #[test]
    fn letters_keep_their_insides() {
        let lettering = Lettering::least(&Printer::default());
        // At the height of the face: the face, and one for each inside.
        for (letters, insides) in [("1CEFIJKLMNSTUVWXYZ", 0), ("0469ADOPQR", 1), ("8B", 2)] {
            for letter in letters.chars() {
                let cells = written(&lettering, &letter.to_string(), DVec2::X).cells;
                let at_top = cells.iter().flatten().filter(|[_, top]| *top > 2.999).count();
                assert_eq!(at_top, 1 + insides, "{letter}");
            }
        }
    }

    #[test]
    fn insides_are_two_lines_wide_somewhere() {
        // By sampling, independent of the arrangement: the largest circle inside a digit's closed part.
        for (digit, near) in [('0', [0.4, 0.5]), ('8', [0.4, 0.27]), ('8', [0.4, 0.75])] {
            let strokes = on_grid(&digit.to_string());
            let around = dvec2(near[0], near[1]) * CAP_STROKES;
            let free = |p: DVec2| {
                let pieces = strokes.iter().flat_map(|s| s.windows(2));
                pieces.map(|w| distance(p, [w[0], w[1]])).fold(f64::INFINITY, f64::min) - 0.5
            };
            let steps = (-10..=10).flat_map(|i| (-10..=10).map(move |j| (i, j)));
            let widest = steps
                .map(|(i, j)| free(around + 0.1 * dvec2(f64::from(i), f64::from(j))))
                .fold(0.0, f64::max);
            // In strokes; two nozzles are 1.33 of them.
            assert!(2.0 * widest > 2.0 / STROKE_NOZZLES, "{digit}: {widest}");
        }
    }

    #[test]
    fn text_lies_in_its_room_and_is_as_deep_as_whole_layers() {
        let printer = Printer { layer_mm: 0.3, ..Printer::default() };
        let lettering = Lettering::least(&printer);
        assert!((lettering.depth_mm - 0.6).abs() < 1e-9);
        assert!((lettering.height_mm() - 4.95).abs() < 1e-9);
        let middle = dvec2(20.0, 30.0);
        let half = 0.5 * lettering.room_mm("8.25");
        for cut in lettering.cuts("8.25", middle, DVec2::X) {
            let [lo, hi] = cut.contour.bounds().expect("a contour");
            assert!((lo - (middle - half)).min_element() > -1e-9);
            assert!((middle + half - hi).min_element() > -1e-9);
            assert!(cut.contour.signed_area() > 0.0);
        }
        assert!((lettering.room_mm("8").y - lettering.height_mm()).abs() < 0.3);
    }
}
