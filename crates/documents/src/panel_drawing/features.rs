//! What is cut into a panel, as rows of a table: one row for what repeats at equal steps.

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
}

/// Lower left corner and shape of something that may repeat.
type One = ([DVec2; 2], Form);

/// All features, the most common kinds of holes last, lettered.
pub(super) fn features(pattern: &FlatPattern) -> (Vec<Feature>, Vec<Notches>) {
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
    rows.extend(repeated(ones));
    let outer = pattern.through.iter().filter(|contour| contour.signed_area() > 0.0);
    let notches: Vec<Notches> = outer.flat_map(notches::repeated).collect();
    rows.extend(notches.iter().map(Notches::feature));
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

/// Rows for openings: equal ones at equal steps are one row.
fn repeated(ones: Vec<One>) -> Vec<Feature> {
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

pub(super) fn real(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use glam::dvec2;

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
        let (rows, _) = features(&pattern(grid(20.0, 20.0, 6, 5).collect()));
        assert_eq!(rows.len(), 1);
        assert_eq!((rows[0].tag.as_str(), rows[0].repeat.count), ("A", [6, 5]));
        assert!(
            rows[0].repeat.step.distance(dvec2(20.0, 30.0)) < 1e-9
                && rows[0].point() == dvec2(20.0, 20.0)
        );

        let staggered = grid(20.0, 20.0, 6, 4).chain(grid(30.0, 35.0, 5, 4)).collect();
        let (rows, _) = features(&pattern(staggered));
        assert_eq!(rows.iter().map(|row| row.repeat.count).collect::<Vec<_>>(), [[6, 4], [5, 4]]);
    }

    #[test]
    fn every_hole_is_in_one_row() {
        let at =
            [(10.0, 10.0), (30.0, 10.0), (50.0, 10.0), (75.0, 10.0), (10.0, 40.0), (31.0, 40.0)];
        let holes = at.map(|(x, y)| Contour::circle(dvec2(x, y), 4.0));
        let (rows, _) = features(&pattern(holes.to_vec()));
        assert_eq!(rows.iter().map(Feature::count).sum::<usize>(), 6);
        assert_eq!(rows.len(), 4);
    }

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
