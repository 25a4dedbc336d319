//! Notches that repeat along an edge at equal steps: the gaps of a comb.

use glam::{DVec2, dvec2};
use plate::{Contour, Segment};

use super::features::{Depth, Feature, Form, Repeat, SAME_MM, real};

/// Equal notches along one edge.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Notches {
    /// Lower left and upper right corner of the first.
    pub(super) first: [DVec2; 2],
    /// Whether the edge runs along x, else along y.
    pub(super) is_along_x: bool,
    /// How many.
    pub(super) count: usize,
    /// From one to the next, mm.
    pub(super) step: f64,
    /// Radius of their corners, where all have one.
    pub(super) radius: Option<f64>,
}

/// One notch: the box from its walls and bottom to the edge that it opens to.
#[derive(Clone, Copy)]
struct Notch {
    lo: DVec2,
    hi: DVec2,
    is_along_x: bool,
    radius: Option<f64>,
}

/// All rows of three equal notches or more.
pub(super) fn repeated(outline: &Contour) -> Vec<Notches> {
    let mut notches = notches(outline);
    notches.sort_by(|a, b| {
        let key = |n: &Notch| if n.is_along_x { (n.lo.y, n.lo.x) } else { (n.lo.x, n.lo.y) };
        let round = |v: f64| (v / SAME_MM).round();
        let ((a0, a1), (b0, b1)) = (key(a), key(b));
        a.is_along_x
            .cmp(&b.is_along_x)
            .then(round(a0).total_cmp(&round(b0)))
            .then(a1.total_cmp(&b1))
    });
    let mut rows = Vec::new();
    let mut i = 0;
    while i < notches.len() {
        let first = notches[i];
        let along = |n: &Notch| if first.is_along_x { n.lo.x } else { n.lo.y };
        let is_like = |n: &Notch| {
            n.is_along_x == first.is_along_x
                && (n.hi - n.lo).distance(first.hi - first.lo) < SAME_MM
                && if first.is_along_x {
                    (n.lo.y - first.lo.y).abs() < SAME_MM
                } else {
                    (n.lo.x - first.lo.x).abs() < SAME_MM
                }
        };
        let step = notches.get(i + 1).map_or(0.0, |next| along(next) - along(&first));
        let mut n = 1;
        while notches.get(i + n).is_some_and(|next| {
            is_like(next) && (along(next) - along(&first) - real(n) * step).abs() < SAME_MM
        }) {
            n += 1;
        }
        if n >= 3 {
            let Notch { lo, hi, is_along_x, radius } = first;
            rows.push(Notches { first: [lo, hi], is_along_x, count: n, step, radius });
            i += n;
        } else {
            i += 1;
        }
    }
    rows
}

/// Notches of an outline that runs counter-clockwise: a wall that goes into the material, a bottom, and a wall that comes
/// out again.
fn notches(outline: &Contour) -> Vec<Notch> {
    let pieces = &outline.0;
    let n = pieces.len();
    let mut found = Vec::new();
    for (i, wall) in pieces.iter().enumerate() {
        let Some(inward) = upright(wall) else { continue };
        let mut bottoms = 0;
        for k in 1..=5_usize.min(n.saturating_sub(2)) {
            let other = &pieces[(i + k) % n];
            let Some(way) = upright(other) else { continue };
            if inward.dot(way).abs() < 0.5 {
                bottoms += 1;
                if bottoms > 1 {
                    break;
                }
                continue;
            }
            // Material lies to the left: between the walls is air when the way out lies to the right of the way in.
            if inward.dot(way) < 0.0 && (other.start - wall.end).perp_dot(inward) > 0.0 {
                let between: Vec<&Segment> = (0..=k).map(|j| &pieces[(i + j) % n]).collect();
                let beside = [&pieces[(i + n - 1) % n], &pieces[(i + k + 1) % n]];
                found.extend(notch(&between, beside, inward));
            }
            break;
        }
    }
    found
}

fn notch(pieces: &[&Segment], [before, after]: [&Segment; 2], inward: DVec2) -> Option<Notch> {
    let boxes = pieces.iter().map(|piece| piece.bounds());
    let [mut lo, mut hi] = boxes.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])?;
    let (wall, other) = (pieces.first()?, pieces.last()?);
    let depth_of = |p: DVec2| p.dot(inward);
    // A wall ends where the edge begins: behind the rounding, if it has one. The notch is as deep as its shorter wall.
    let rounded = |end: DVec2, next: &Segment, far: DVec2| {
        if next.arc.is_some() { depth_of(far) } else { depth_of(end) }
    };
    let top = rounded(wall.start, before, before.start).max(rounded(other.end, after, after.end));
    if inward.x.abs() > 0.5 {
        if inward.x > 0.0 { lo.x = top } else { hi.x = -top }
    } else if inward.y > 0.0 {
        lo.y = top;
    } else {
        hi.y = -top;
    }
    let radii: Vec<f64> = pieces.iter().filter_map(|piece| piece.radius()).collect();
    let radius =
        radii.first().copied().filter(|first| radii.iter().all(|r| (r - first).abs() < SAME_MM));
    Some(Notch { lo, hi, is_along_x: inward.y.abs() > 0.5, radius })
}

/// The direction of a straight piece along an axis.
fn upright(piece: &Segment) -> Option<DVec2> {
    let along = piece.end - piece.start;
    if piece.arc.is_some() || along.abs().min_element() > SAME_MM {
        return None;
    }
    Some(if along.x.abs() > along.y.abs() {
        dvec2(along.x.signum(), 0.0)
    } else {
        dvec2(0.0, along.y.signum())
    })
}

impl Notches {
    /// As a row of the table.
    pub(super) fn feature(&self) -> Feature {
        let size = self.first[1] - self.first[0];
        let (size, repeat) = if self.is_along_x {
            (size, Repeat { count: [self.count, 1], step: dvec2(self.step, 0.0) })
        } else {
            (dvec2(size.y, size.x), Repeat { count: [1, self.count], step: dvec2(0.0, self.step) })
        };
        Feature {
            repeat,
            ..Feature::once(self.first, Form::Notch(size, self.radius), Depth::Through)
        }
    }

    /// Whether a straight piece of the outline is one of their walls or bottoms, which the row tells of.
    pub(super) fn tells_of(&self, piece: &Segment) -> bool {
        let [lo, hi] = self.first;
        let middle = piece.midpoint();
        let (at, from, width, across) = if self.is_along_x {
            (middle.x, lo.x, hi.x - lo.x, lo.y - SAME_MM < middle.y && middle.y < hi.y + SAME_MM)
        } else {
            (middle.y, lo.y, hi.y - lo.y, lo.x - SAME_MM < middle.x && middle.x < hi.x + SAME_MM)
        };
        let nth = ((at - from) / self.step).floor().clamp(0.0, real(self.count - 1));
        let off = at - from - nth * self.step;
        across && -SAME_MM <= off && off <= width + SAME_MM
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A comb as wide as its notches need, open above.
    fn comb(n: u32, radius: f64) -> Contour {
        let mut corners =
            vec![(dvec2(0.0, 0.0), 0.0), (dvec2(20.0 * f64::from(n) + 12.0, 0.0), 0.0)];
        corners.push((dvec2(20.0 * f64::from(n) + 12.0, 100.0), 0.0));
        for i in (0..n).rev() {
            let x = 12.0 + 20.0 * f64::from(i);
            let ends = [
                (x + 8.0, 100.0, 0.0),
                (x + 8.0, 60.0, radius),
                (x, 60.0, radius),
                (x, 100.0, 0.0),
            ];
            corners.extend(ends.map(|(x, y, r)| (dvec2(x, y), r)));
        }
        corners.push((dvec2(0.0, 100.0), 0.0));
        Contour::rounded_polygon(&corners)
    }

    #[test]
    fn the_gaps_of_a_comb_are_counted_and_measured() {
        for radius in [0.0, 2.0] {
            let outline = comb(17, radius);
            let [row] = repeated(&outline)[..].to_vec().try_into().expect("one row");
            let Notches { first, count, step, is_along_x, .. } = row.clone();
            assert_eq!((count, is_along_x), (17, true));
            assert!(
                first[0].distance(dvec2(12.0, 60.0)) < 1e-9
                    && first[1].distance(dvec2(20.0, 100.0)) < 1e-9,
                "{first:?}"
            );
            assert!((step - 20.0).abs() < 1e-9);
            assert_eq!(row.radius, (radius > 0.0).then_some(radius));
            let told =
                outline.0.iter().filter(|piece| piece.arc.is_none() && row.tells_of(piece)).count();
            assert_eq!(told, 17 * 3);
        }
    }

    #[test]
    fn a_plain_panel_and_one_with_teeth_outwards_have_none() {
        assert_eq!(repeated(&Contour::rectangle(dvec2(0.0, 0.0), dvec2(90.0, 50.0))), []);
        let tee = [
            (0., 0.),
            (90., 0.),
            (90., 20.),
            (50., 20.),
            (50., 60.),
            (40., 60.),
            (40., 20.),
            (0., 20.),
        ];
        let corners: Vec<DVec2> = tee.iter().map(|&(x, y)| dvec2(x, y)).collect();
        assert_eq!(repeated(&Contour::polygon(&corners)), []);
    }
}
