//! How a panel bends under its worst load, for drawings: lines of equal deflection, and a grid of it; and how far the theory
//! holds.

use bending::{Depth, InPlane, stretched};
use units::{MM_PER_IN, System};

use super::Bend;
use crate::panel::{Contour, Shape, Theory};
use crate::panels::solve::Model;

/// Cells of the grid that is told, along each side.
const CELLS: u32 = 24;
/// About how many lines are drawn.
const LINES: f64 = 8.0;
/// Each cell of the mesh is divided so often for smooth lines.
const PARTS: usize = 4;

/// Lines at round numbers of the unit that the file is told in.
pub(super) fn contours(model: &Model, bend: &Bend<'_>, system: System) -> Vec<Contour> {
    let depth = bend.depth_mm();
    let unit_mm = if system == System::UsCustomary { MM_PER_IN } else { 1.0 };
    let step = round_step(depth / LINES / unit_mm) * unit_mm;
    let mut contours = Vec::new();
    let mut k = 1.0;
    while step > 0.0 && k * step < depth {
        let mm = k * step * bend.most.value.signum();
        let lines = bend.solved.bending.contours(bend.bearing, mm * 1e-3 / bend.scale, PARTS);
        for line in lines {
            contours
                .push(Contour { mm, line: line.into_iter().map(|at| model.place(at)).collect() });
        }
        k += 1.0;
    }
    contours
}

/// The nearest of 1, 2, 5, 10 … times a power of ten that is not less.
fn round_step(step: f64) -> f64 {
    if step.is_nan() || step <= 0.0 {
        return 0.0;
    }
    let mut ten = 1e-6;
    while ten * 10.0 < step {
        ten *= 10.0;
    }
    [1.0, 2.0, 5.0, 10.0].map(|n| n * ten).into_iter().find(|s| *s >= step).unwrap_or(step)
}

pub(super) fn nothing() -> Shape {
    Shape { xs_mm: Vec::new(), ys_mm: Vec::new(), mm: Vec::new() }
}

pub(super) fn shape(model: &Model, bend: &Bend<'_>) -> Shape {
    let bending = &bend.solved.bending;
    let [width, height] = bending.plate.size;
    let places = |size: f64| (0..=CELLS).map(move |k| size * f64::from(k) / f64::from(CELLS));
    let at =
        |x: f64, y: f64| bending.deflection_at(bend.bearing, [x, y]).map(|w| w * 1e3 * bend.scale);
    Shape {
        xs_mm: places(width).map(|x| model.board.lo.x + x * 1e3).collect(),
        ys_mm: places(height).map(|y| model.board.lo.y + y * 1e3).collect(),
        mm: places(height).flat_map(|y| places(width).map(move |x| at(x, y))).collect(),
    }
}

/// How far the theory holds for a load.
pub(super) fn theory(bend: &Bend<'_>, thickness_mm: f64) -> Theory {
    match Depth::of(bend.depth_mm(), thickness_mm) {
        Depth::Small => Theory::Holds,
        Depth::Beyond => Theory::Refused,
        Depth::Moderate | Depth::Deep => {
            let solved = stretched(&bend.solved.bending, bend.bearing, InPlane::Free);
            let share = solved.map_or(1.0, |s| share_at(s.share, bend.scale));
            Theory::Overstates { share }
        }
    }
}

/// The share of `bending::stretched` for a deflection `scale` times as deep: there `a + c a³ = 1` with `c` in proportion to the
/// square of the depth.
fn share_at(share: f64, scale: f64) -> f64 {
    let c = (1.0 - share) / (share * share * share) * scale * scale;
    // Newton's steps from 1 come down to the only root.
    (0..40).fold(1.0, |a: f64, _| a - (a + c * a * a * a - 1.0) / (1.0 + 3.0 * c * a * a))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_stand_at_round_numbers() {
        for (step, round) in [(0.13, 0.2), (0.2, 0.2), (0.21, 0.5), (0.7, 1.0), (3.0, 5.0)] {
            assert!((round_step(step) - round).abs() < 1e-9, "{step}");
        }
        assert!(round_step(0.0).abs() < 1e-12 && round_step(f64::NAN).abs() < 1e-12);
    }

    #[test]
    fn half_as_deep_stretches_a_quarter_as_much() {
        assert!((share_at(0.9, 1.0) - 0.9).abs() < 1e-12);
        // c = 0.1 / 0.729; a quarter of it: a + 0.0343 a³ = 1.
        let a = share_at(0.9, 0.5);
        assert!((a + 0.25 * 0.1 / 0.729 * a * a * a - 1.0).abs() < 1e-12 && a > 0.96);
    }
}
