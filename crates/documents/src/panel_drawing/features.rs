//! What is cut into a panel, as rows of a table: one row for what repeats at equal steps.

mod engraved;
mod repeats;

use glam::DVec2;
use plate::{Contour, Face, FlatPattern};

use super::notches::{self, Notches};

/// Two lengths of a panel are the same within this, mm.
pub(super) const SAME_MM: f64 = 0.005;

/// One row of the table.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Feature {
    /// Its letter on the drawing.
    pub(super) tag: String,
    /// What shape it has.
    pub(super) shape: Form,
    /// Lower left and upper right corner of the first of them, in the panel's own frame.
    pub(super) first: [DVec2; 2],
    /// How many there are along x and y, and their steps.
    pub(super) repeat: Repeat,
    /// How deep.
    pub(super) depth: Depth,
}

/// A shape, as a drawing names it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Form {
    /// Round, of this diameter.
    Round(f64),
    /// With half circles at its ends, width and height.
    Slot(DVec2),
    /// With a half circle at one end, width and height.
    RoundEnd(DVec2),
    /// A rectangle, width and height, with this radius at its corners.
    Rectangle(DVec2, Option<f64>),
    /// All round along the outline, so wide.
    AllRound(f64),
    /// Engraved marks of a scale: how many, the box around them.
    Scale(usize, DVec2),
    /// Anything else that is engraved, width and height.
    Engraving(DVec2),
    /// Open to an edge: width along it, depth from it; radius at its inner corners.
    Notch(DVec2, Option<f64>),
    /// Any other, width and height.
    Other(DVec2),
}

/// How often something is there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Repeat {
    /// Along x and y.
    pub(super) count: [usize; 2],
    /// From one to the next, mm.
    pub(super) step: DVec2,
}

/// How deep something goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Depth {
    /// Through the sheet.
    Through,
    /// So far below a face.
    Pocket(Face, f64),
    /// Engraved into a face, so deep if it is known.
    Engraved(Face, Option<f64>),
}

/// Lower left corner and shape of something that may repeat.
type One = ([DVec2; 2], Form);

/// All features, the most common kinds of holes last, lettered; engravings are so deep.
pub(super) fn features(
    pattern: &FlatPattern,
    engraving_mm: Option<f64>,
) -> (Vec<Feature>, Vec<Notches>) {
    let mut rows: Vec<Feature> = Vec::new();
    for pocket in &pattern.pockets {
        let depth = Depth::Pocket(pocket.face, pocket.depth_mm);
        let Some(first) = pocket.loops.first().and_then(Contour::bounds) else { continue };
        let shape = all_round(&pocket.loops).or_else(|| pocket.loops.first().map(form));
        rows.extend(shape.map(|shape| Feature::once(first, shape, depth)));
    }
    let openings = pattern.through.iter().filter(|contour| contour.signed_area() < 0.0);
    let ones: Vec<One> =
        openings.filter_map(|contour| Some((contour.bounds()?, form(contour)))).collect();
    rows.extend(repeats::repeated(ones));
    let outer = pattern.through.iter().filter(|contour| contour.signed_area() > 0.0);
    let notches: Vec<Notches> = outer.flat_map(notches::repeated).collect();
    rows.extend(notches.iter().map(Notches::feature));
    rows.extend(pattern.engravings.iter().filter_map(|one| engraved::feature(one, engraving_mm)));
    for (i, row) in rows.iter_mut().enumerate() {
        row.tag = tag(i);
    }
    (rows, notches)
}

/// `A` … `Z` without I and O, then `AA`.
fn tag(i: usize) -> String {
    const LETTERS: &[u8] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";
    let n = LETTERS.len();
    let letter = |i: usize| char::from(LETTERS[i % n]);
    if i < n { letter(i).to_string() } else { format!("{}{}", letter(i / n - 1), letter(i)) }
}

impl Feature {
    pub(super) fn once(first: [DVec2; 2], shape: Form, depth: Depth) -> Self {
        Self {
            tag: String::new(),
            shape,
            first,
            repeat: Repeat { count: [1, 1], step: DVec2::ZERO },
            depth,
        }
    }

    /// How many there are.
    pub(super) fn count(&self) -> usize {
        self.repeat.count[0] * self.repeat.count[1]
    }

    /// The point that the table gives: the centre of what is round, else the lower left corner.
    pub(super) fn point(&self) -> DVec2 {
        match self.shape {
            Form::Round(_) => 0.5 * (self.first[0] + self.first[1]),
            _ => self.first[0],
        }
    }
}

/// A rabbet all round: the outer loop and one hole, equally far from it on all sides.
fn all_round(loops: &[Contour]) -> Option<Form> {
    let [outer, inner] = loops else { return None };
    let [[lo, hi], [inner_lo, inner_hi]] = [outer.bounds()?, inner.bounds()?];
    let widths = [inner_lo - lo, hi - inner_hi].map(|width| width.to_array()).concat();
    let is_even = widths.iter().all(|width| (width - widths[0]).abs() < SAME_MM);
    is_even.then_some(Form::AllRound(widths[0]))
}

/// What a closed contour is called.
pub(super) fn form(contour: &Contour) -> Form {
    if let Some((_, radius)) = contour.as_circle() {
        return Form::Round(2.0 * radius);
    }
    let [lo, hi] = contour.bounds().unwrap_or([DVec2::ZERO; 2]);
    let size = hi - lo;
    let radii: Vec<f64> = contour.0.iter().filter_map(plate::Segment::radius).collect();
    let radius =
        radii.first().copied().filter(|first| radii.iter().all(|r| (r - first).abs() < SAME_MM));
    let is_upright = contour.0.iter().filter(|segment| segment.arc.is_none()).all(|segment| {
        let along = (segment.end - segment.start).abs();
        along.min_element() < SAME_MM
    });
    match (contour.0.len(), radii.len(), radius) {
        (4, 0, _) if is_upright => Form::Rectangle(size, None),
        (8, 4, Some(radius)) if is_upright => Form::Rectangle(size, Some(radius)),
        (4, 2, Some(radius))
            if is_upright && (2.0 * radius - size.min_element()).abs() < SAME_MM =>
        {
            Form::Slot(size)
        }
        // A groove may run out of a face at one end: there it has the corners of the outline.
        (4, 1, Some(radius))
            if is_upright && (2.0 * radius - size.min_element()).abs() < SAME_MM =>
        {
            Form::RoundEnd(size)
        }
        _ => Form::Other(size),
    }
}

pub(super) fn real(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use glam::dvec2;

    use super::*;

    #[test]
    fn shapes_have_their_names() {
        let (lo, hi) = (dvec2(10.0, 10.0), dvec2(90.0, 50.0));
        assert_eq!(form(&Contour::rectangle(lo, hi)), Form::Rectangle(dvec2(80.0, 40.0), None));
        assert_eq!(
            form(&Contour::rounded_rectangle(lo, hi, 6.0)),
            Form::Rectangle(dvec2(80.0, 40.0), Some(6.0))
        );
        assert_eq!(
            form(&Contour::slot(dvec2(0.0, 0.0), dvec2(0.0, 30.0), 4.0)),
            Form::Slot(dvec2(8.0, 38.0))
        );
        assert!(
            matches!(form(&Contour::circle(lo, 4.0)), Form::Round(d) if (d - 8.0).abs() < 1e-9)
        );
    }
}
