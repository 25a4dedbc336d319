//! How far a panel bends where a guide or a ledge holds on to it, and what a leaf's own bow does to its ends.

use std::f64::consts::PI;

use design::PlacedId;
use glam::DVec2;

use crate::panel::{Duration, Load, Panel, Shape};

/// Along a line the deflection is looked at in so many places.
const PLACES: u32 = 24;

/// A panel as it bends under loads that last, or under the worst of all.
///
/// Only the shape under one load is known, that which bends it most. Under another it is taken as the same shape, as deep as
/// that load bends it (our judgement: all of them are water to one height or another).
#[derive(Clone, Copy, Debug)]
pub(super) struct Bent<'a> {
    panel: &'a Panel,
    load: &'a Load,
}

impl<'a> Bent<'a> {
    pub(super) fn of(panels: &'a [Panel], placed: PlacedId, lasts: bool) -> Option<Self> {
        let panel = panels.iter().find(|panel| panel.placed == placed)?;
        let loads = panel.loads.iter().filter(|load| load.is_lasting || !lasts);
        let load = loads.max_by(|a, b| a.deflection_mm.total_cmp(&b.deflection_mm))?;
        Some(Self { panel, load })
    }

    /// Under what, in words.
    pub(super) fn words(&self) -> &'a str {
        &self.load.words
    }

    /// How long that bears.
    pub(super) fn duration(&self) -> Duration {
        self.load.duration
    }

    /// The greatest deflection of all, mm.
    pub(super) fn most_mm(&self) -> f64 {
        self.load.deflection_mm
    }

    /// The greatest deflection along a line in the panel's frame, mm: of a wall outwards, of others to either side.
    pub(super) fn most_along(&self, [from, to]: [DVec2; 2], is_wall: bool) -> f64 {
        let most = self.panel.deflection.value;
        let scale = if most > 0.0 { self.load.deflection_mm / most } else { 0.0 };
        let at = |k: u32| from.lerp(to, f64::from(k) / f64::from(PLACES));
        let told = (0..=PLACES).filter_map(|k| deflection_at(&self.panel.shape, at(k)));
        let away = told.map(|mm| if is_wall { mm } else { mm.abs() });
        scale * away.fold(0.0, f64::max)
    }
}

/// Deflection between the places of the grid, straight from one to the next; beyond its edge that of the edge. Of places
/// beside an opening, the nearest known one.
fn deflection_at(shape: &Shape, at: DVec2) -> Option<f64> {
    let (i, u) = cell(&shape.xs_mm, at.x)?;
    let (j, v) = cell(&shape.ys_mm, at.y)?;
    let columns = shape.xs_mm.len();
    let of = |i: usize, j: usize| shape.mm.get(j * columns + i).copied().flatten();
    let corners = [(i, j), (i + 1, j), (i, j + 1), (i + 1, j + 1)].map(|(i, j)| of(i, j));
    let shares = [(1.0 - u) * (1.0 - v), u * (1.0 - v), (1.0 - u) * v, u * v];
    let known = corners.iter().zip(shares).filter_map(|(mm, share)| Some(((*mm)?, share)));
    let (sum, all) =
        known.fold((0.0, 0.0), |(sum, all), (mm, share)| (sum + mm * share, all + share));
    (all > 0.0).then(|| sum / all)
}

/// The interval of ascending places that one lies in, and how far along it, 0 to 1.
fn cell(places: &[f64], at: f64) -> Option<(usize, f64)> {
    let last = places.len().checked_sub(2)?;
    let after = places.partition_point(|place| *place <= at);
    let low = after.saturating_sub(1).min(last);
    let width = places[low + 1] - places[low];
    Some((low, ((at - places[low]) / width).clamp(0.0, 1.0)))
}

/// How much nearer the ends of a leaf come when it bows by `bow_mm` over `length_mm`, mm: `π² w² / (4 L)`.
///
/// Source: length of the shallow arc `y = w sin(π x / L)`, `∫ ½ y′² dx` over `L`; next to it `w⁴` counts less than 1 % up to
/// `w = L / 20`, and leaving it out makes the shortening larger.
pub(super) fn shortening_mm(bow_mm: f64, length_mm: f64) -> f64 {
    PI * PI * bow_mm * bow_mm / (4.0 * length_mm)
}

/// By how much its ends turn, rad: the slope `π w / L` of the same arc at its ends.
pub(super) fn turn(bow_mm: f64, length_mm: f64) -> f64 {
    PI * bow_mm / length_mm
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The arc measured in small steps: by Pythagoras its length is known without any series.
    #[test]
    fn a_bow_shortens_the_chord_as_the_measured_arc_does() {
        for bow in [2.0_f64, 10.0, 20.0] {
            let length = 400.0;
            let at = |k: u32| {
                let x = f64::from(k) / 10_000.0;
                DVec2::new(length * x, bow * (PI * x).sin())
            };
            let arc: f64 = (0..10_000).map(|k| at(k).distance(at(k + 1))).sum();
            let ours = shortening_mm(bow, length);
            assert!((ours - (arc - length)).abs() < 0.01 * ours, "{bow}: {ours} {}", arc - length);
            let slope = (at(1) - at(0)).y / (at(1) - at(0)).x;
            assert!((turn(bow, length) - slope).abs() < 1e-6);
        }
    }

    #[test]
    fn between_places_it_is_as_between_its_neighbours() {
        let shape = Shape {
            xs_mm: vec![0.0, 10.0, 20.0],
            ys_mm: vec![5.0, 15.0],
            mm: vec![Some(0.0), Some(2.0), None, Some(4.0), Some(6.0), Some(9.0)],
        };
        let is = |x: f64, y: f64, mm: f64| {
            let ours = deflection_at(&shape, DVec2::new(x, y)).expect("it is known");
            assert!((ours - mm).abs() < 1e-12, "{x} {y}: {ours}");
        };
        is(5.0, 10.0, 3.0);
        is(10.0, 15.0, 6.0);
        is(-3.0, 0.0, 0.0);
        is(20.0, 99.0, 9.0);
        is(15.0, 5.0, 2.0);
        assert!(deflection_at(&shape, DVec2::new(20.0, 5.0)).is_none());
        assert!(deflection_at(&Shape::default(), DVec2::ZERO).is_none());
    }
}
