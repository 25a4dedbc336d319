//! The stress at the rounded corner of an opening, by a rule: the mesh, whose corners are sharp, has no bound for it.
//!
//! `σ = 1.15 · K_t · σ_gross` with `K_t = 1 + 2 (1 + ν) / (3 + ν) · √(L / 2r)`: `L` the longer side of the opening, `r` the
//! radius of its corners, `σ_gross` the largest bending stress that the same plate without the opening has where the opening
//! is. `K_t` is that of an elliptical hole in a wide thin plate in bending, with the half length `L/2` and the radius `r` at
//! its end (Goodier 1936, Savin, Stress Distribution around Holes, and Peterson's Stress Concentration Factors, ch. 4; all
//! from memory); with a circle, `L = 2r`, it is Kirchhoff's `(5 + 3ν) / (3 + ν)`. The 1.15 is ours: with it the rule is on
//! the safe side of all that was computed with finite elements in a wide plate with ν = 0.37: rounded squares, bent along
//! one axis, along both, and twisted, and 2 : 1 rectangles, bent along one axis and along both, with radii of 0.1, 0.2 and 0.4
//! of half the shorter side. It is high by 4 % in the nearest case, and by a factor of 2.2 in the mildest.

use crate::solve::bend_keeping;
use crate::{Along, Error, Opening, Plate, Pressure, Rect};

/// What is said of the corners of an opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CornerStress {
    /// By the rule.
    Assessed {
        /// `1.15 K_t`.
        factor: f64,
        /// The largest stress, Pa, in the plate without the opening.
        gross: f64,
        /// Their product, Pa, of either sign.
        stress: f64,
    },
    /// The rule does not reach it.
    NotAssessed(NotAssessed),
}

/// Why nothing is said of a corner. Lengths in m.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NotAssessed {
    /// A thin plate understates what happens at a radius below its thickness.
    #[error("corners with a radius of {:.1} mm are sharper than the plate is thick, {:.1} mm", 1e3 * radius, 1e3 * thickness)]
    Sharp {
        /// Of the corner.
        radius: f64,
        /// Of the plate.
        thickness: f64,
    },
    /// The opening reaches an edge: the rule is one for holes.
    #[error("the opening reaches the edge of the plate")]
    Notch,
    /// Something else is so near that both disturb each other.
    #[error("{:.1} mm from {what}; the rule needs {:.1} mm", 1e3 * distance, 1e3 * needed)]
    Near {
        /// An edge, an opening, a support.
        what: &'static str,
        /// How far it is.
        distance: f64,
        /// How far it would have to be: `2r + t`, of a circle `2r`; our judgement.
        needed: f64,
    },
    /// The opening takes more than half of the plate.
    #[error("the opening takes {:.0} % of the plate's side; the rule reaches to 50 %", 1e2 * share)]
    Large {
        /// Its share of a side.
        share: f64,
    },
}

/// Stress at the corners of one opening, for each case.
///
/// # Errors
///
/// As [`bend`](crate::bend), of the plate without the opening; [`Error::Outside`] if there is no such opening.
pub fn corner_stress(
    plate: &Plate,
    opening: usize,
    cases: &[Vec<Pressure>],
) -> Result<Vec<CornerStress>, Error> {
    let Some(of) = plate.openings.get(opening) else {
        return Err(Error::Outside { what: "opening", index: opening });
    };
    plate.check()?;
    if let Some(reason) = not_assessed(plate, opening, of) {
        return Ok(vec![CornerStress::NotAssessed(reason); cases.len()]);
    }
    let factor = 1.15 * factor(of, plate.poisson);
    let mut whole = plate.clone();
    whole.openings.remove(opening);
    let bending = bend_keeping(&whole, cases, &[of.rect])?;
    let (grid, rect, snap) = (&bending.grid, of.rect, plate.snap());
    let is_under = |[x, y]: [f64; 2]| {
        let is_in = |at: f64, range: [f64; 2]| range[0] - snap < at && at < range[1] + snap;
        is_in(x, rect.x) && is_in(y, rect.y)
    };
    let under: Vec<usize> = (0..grid.nodes()).filter(|&node| is_under(grid.place(node))).collect();
    let of_case = |field: &crate::Field| {
        let either = |node: &usize| field.moments[*node].principal().map(f64::abs);
        let most = under.iter().flat_map(either).fold(0.0, f64::max);
        let gross = plate.stress(most);
        CornerStress::Assessed { factor, gross, stress: factor * gross }
    };
    Ok(bending.fields.iter().map(of_case).collect())
}

/// `K_t` of the rule above.
fn factor(opening: &Opening, nu: f64) -> f64 {
    let Rect { x, y } = opening.rect;
    let longer = (x[1] - x[0]).max(y[1] - y[0]);
    1.0 + 2.0 * (1.0 + nu) / (3.0 + nu) * (0.5 * longer / opening.radius).sqrt()
}

fn not_assessed(plate: &Plate, index: usize, opening: &Opening) -> Option<NotAssessed> {
    let Opening { rect, radius } = *opening;
    if radius < plate.thickness {
        return Some(NotAssessed::Sharp { radius, thickness: plate.thickness });
    }
    let sides = [(rect.x, plate.size[0]), (rect.y, plate.size[1])];
    let to_edge =
        sides.iter().map(|(side, size)| side[0].min(size - side[1])).fold(f64::INFINITY, f64::min);
    if to_edge < plate.snap() {
        return Some(NotAssessed::Notch);
    }
    let is_round =
        sides.iter().all(|(side, _)| (side[1] - side[0] - 2.0 * radius).abs() < plate.snap());
    // A circle disturbs less far than a corner: its own diameter, our judgement.
    let needed = if is_round { 2.0 * radius } else { 2.0 * radius + plate.thickness };
    let near = |what, distance: f64| {
        (distance < needed).then_some(NotAssessed::Near { what, distance, needed })
    };
    if let Some(reason) = near("an edge", to_edge) {
        return Some(reason);
    }
    for other in plate.openings.iter().enumerate().filter(|(other, _)| *other != index) {
        if let Some(reason) = near("an opening", distance(rect, other.1.rect)) {
            return Some(reason);
        }
    }
    let of_line = |line: &crate::Line| match line.along {
        Along::X => Rect { x: line.span, y: [line.at; 2] },
        Along::Y => Rect { x: [line.at; 2], y: line.span },
    };
    let of_point = |point: &crate::Point| Rect { x: [point.at[0]; 2], y: [point.at[1]; 2] };
    let supports = plate.lines.iter().map(of_line).chain(plate.points.iter().map(of_point));
    if let Some(reason) = supports.into_iter().find_map(|at| near("a support", distance(rect, at)))
    {
        return Some(reason);
    }
    let share = sides.iter().map(|(side, size)| (side[1] - side[0]) / size).fold(0.0, f64::max);
    (share > 0.5).then_some(NotAssessed::Large { share })
}

/// Between two rectangles, m; nought if they touch.
pub(crate) fn distance(a: Rect, b: Rect) -> f64 {
    let gap = |a: [f64; 2], b: [f64; 2]| (b[0] - a[1]).max(a[0] - b[1]).max(0.0);
    libm::hypot(gap(a.x, b.x), gap(a.y, b.y))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn opening(width: f64, height: f64, radius: f64) -> Opening {
        Opening { rect: Rect { x: [0.0, width], y: [0.0, height] }, radius }
    }

    #[test]
    fn a_circle_has_the_factor_of_kirchhoff() {
        for nu in [0.0, 0.3, 0.37] {
            let want = (5.0 + 3.0 * nu) / (3.0 + nu);
            assert!((factor(&opening(0.02, 0.02, 0.01), nu) - want).abs() < 1e-12);
        }
    }

    /// Largest moment at rounded corners, as a multiple of the moment far away, in a wide Kirchhoff plate with ν = 0.37:
    /// finite elements of Argyris on a mesh that follows the corner (± 3 %); bent along one axis, alike along both, and (squares
    /// only) twisted. Radius as a share of half the shorter side.
    #[test]
    fn the_rule_covers_finite_elements_of_rounded_holes() {
        let square = [[2.53, 3.80, 3.32], [2.13, 3.09, 2.66], [1.84, 2.52, 2.12]];
        let oblong = [[3.19, 4.31, 0.0], [2.65, 3.50, 0.0], [2.25, 2.85, 0.0]];
        for (length, found) in [(2.0, square), (4.0, oblong)] {
            for (radius, found) in [0.1, 0.2, 0.4].into_iter().zip(found) {
                let rule = 1.15 * factor(&opening(length, 2.0, radius), 0.37);
                assert!(found.iter().all(|found| *found < rule), "{length} {radius}: {rule}");
            }
        }
    }
}
