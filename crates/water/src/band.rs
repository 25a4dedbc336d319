//! How far results can lie from the best estimate when coefficients are off.
//!
//! Order in water is monotone, order in coefficients is not: a larger coefficient lowers the level
//! upstream and, with the same water in all, raises it downstream. So the band is not found by all-low and
//! all-high. It is found by signs: lean one kind at a time, note for every quantity which way it goes, then
//! lean all kinds together the way that is worst for that quantity. That is exact while each kind's effect
//! keeps its sign over the whole box; one more corner is tried as a check.

use std::collections::BTreeMap;

use crate::network::Kind;

/// Where every kind of element leans, from -1 (passes least) to 1 (passes most).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Leans([f64; Kind::ALL.len()]);

impl Leans {
    /// Nothing leans: the best estimate.
    pub const NONE: Self = Self([0.0; Kind::ALL.len()]);

    /// The lean of a kind.
    pub fn of(&self, kind: Kind) -> f64 {
        self.0[kind as usize]
    }

    /// The same with one kind leaning so far.
    #[must_use]
    pub fn with(mut self, kind: Kind, lean: f64) -> Self {
        self.0[kind as usize] = lean.clamp(-1.0, 1.0);
        self
    }
}

/// The band of one quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// The best estimate.
    pub mid: f64,
    /// The lowest found; never above `mid`.
    pub low: f64,
    /// The highest found; never below `mid`.
    pub high: f64,
}

/// The bands of several quantities.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// One for each quantity, in the order in which they are evaluated.
    pub quantities: Vec<Bounds>,
    /// How often they were evaluated.
    pub runs: usize,
    /// For each quantity, whether the check corner lay outside what the signs had found, by more than
    /// a twentieth of that. The band has been widened to hold it, but other corners may lie further out.
    pub is_outside_at_check_corner: Vec<bool>,
}

/// The band of `n` quantities over the given kinds, each leaning from -1 to 1. `eval` gives the quantities
/// for some leans; what it leaves out or gives as not a number is not a number in the band.
pub fn band(kinds: &[Kind], n: usize, eval: &mut dyn FnMut(&Leans) -> Vec<f64>) -> Band {
    let mut kinds = kinds.to_vec();
    kinds.sort_unstable();
    kinds.dedup();
    let mut corners = Corners { kinds: &kinds, n, eval, known: BTreeMap::new() };
    let none = vec![0; kinds.len()];
    let mid = corners.at(&none);
    let mut found = Found::new(&mid);

    // effects[k][q]: from the lean of kind k that passes least to the one that passes most.
    let mut effects: Vec<Vec<f64>> = Vec::new();
    for k in 0..kinds.len() {
        let lean = |lean| {
            let mut signs = none.clone();
            signs[k] = lean;
            signs
        };
        let (less, more) = (corners.at(&lean(-1)), corners.at(&lean(1)));
        effects.push(more.iter().zip(&less).map(|(more, less)| more - less).collect());
    }
    for signs in worst(&effects, n) {
        corners.at(&signs);
    }
    // Any corner is in the box, so every corner that was run counts for every quantity.
    let known: Vec<Vec<f64>> = corners.known.values().cloned().collect();
    for values in &known {
        found.widen(values);
    }
    let check = corners.at(&check_corner(kinds.len()));
    let is_outside_at_check_corner = (0..n).map(|q| found.is_outside(q, check[q])).collect();
    found.widen(&check);
    Band { quantities: found.0, runs: corners.known.len(), is_outside_at_check_corner }
}

/// A kind that moves a quantity by less than this share of what all move it has no say in its corners.
const NO_SAY: f64 = 1e-6;

/// A corner, and which of its signs were asked for.
struct Asked {
    signs: Vec<i8>,
    is_firm: Vec<bool>,
}

/// Corners at which the quantities are largest and least, by the effect of each kind on each of them. Where
/// a kind has no say, it leans as another quantity wants, so that one corner serves for several. What no
/// kind moves asks for all least and all most: they show what several kinds do only together.
fn worst(effects: &[Vec<f64>], n: usize) -> Vec<Vec<i8>> {
    let mut corners: Vec<Asked> = Vec::new();
    for q in 0..n {
        let all: f64 = effects.iter().map(|effect| effect[q].abs()).sum();
        let is_firm: Vec<bool> =
            effects.iter().map(|effect| NO_SAY * all <= effect[q].abs()).collect();
        let largest: Vec<i8> =
            effects.iter().map(|effect| if 0.0 < effect[q] { 1 } else { -1 }).collect();
        let least: Vec<i8> = largest.iter().map(|sign| -sign).collect();
        for signs in [largest, least] {
            let agrees = |corner: &&mut Asked| {
                (0..signs.len())
                    .all(|k| signs[k] == corner.signs[k] || !is_firm[k] || !corner.is_firm[k])
            };
            match corners.iter_mut().find(agrees) {
                Some(corner) => {
                    for k in (0..signs.len()).filter(|&k| is_firm[k]) {
                        (corner.signs[k], corner.is_firm[k]) = (signs[k], true);
                    }
                }
                None => corners.push(Asked { signs, is_firm: is_firm.clone() }),
            }
        }
    }
    corners.into_iter().map(|corner| corner.signs).collect()
}

/// A corner without a pattern: the signs of the first binary digits of π after the point (0010 0100 0011
/// 1111 …; Bailey, Borwein & Plouffe, Math. Comp. 66 (1997) 903 give them in hexadecimal as 243F6A88).
fn check_corner(kinds: usize) -> Vec<i8> {
    (0..kinds).map(|k| if 0x243F_6A88_u32 << (k % 32) >> 31 == 1 { 1 } else { -1 }).collect()
}

/// Corners of the box, each evaluated once.
struct Corners<'a> {
    kinds: &'a [Kind],
    n: usize,
    eval: &'a mut dyn FnMut(&Leans) -> Vec<f64>,
    known: BTreeMap<Vec<i8>, Vec<f64>>,
}

impl Corners<'_> {
    fn at(&mut self, signs: &[i8]) -> Vec<f64> {
        if let Some(values) = self.known.get(signs) {
            return values.clone();
        }
        let pairs = self.kinds.iter().zip(signs);
        let leans = pairs.fold(Leans::NONE, |leans, (&k, &s)| leans.with(k, f64::from(s)));
        let mut values = (self.eval)(&leans);
        values.resize(self.n, f64::NAN);
        self.known.insert(signs.to_vec(), values.clone());
        values
    }
}

/// What has been found so far.
struct Found(Vec<Bounds>);

impl Found {
    fn new(mid: &[f64]) -> Self {
        Self(mid.iter().map(|&mid| Bounds { mid, low: mid, high: mid }).collect())
    }

    fn widen(&mut self, values: &[f64]) {
        for (q, &value) in values.iter().enumerate().take(self.0.len()) {
            self.widen_one(q, value);
        }
    }

    fn widen_one(&mut self, q: usize, value: f64) {
        let b = &mut self.0[q];
        if b.mid.is_nan() || value.is_nan() {
            *b = Bounds { mid: b.mid, low: f64::NAN, high: f64::NAN };
        } else if !b.low.is_nan() {
            b.low = b.low.min(value);
            b.high = b.high.max(value);
        }
    }

    fn is_outside(&self, q: usize, value: f64) -> bool {
        let Bounds { low, high, .. } = self.0[q];
        let slack = 0.05 * (high - low);
        value < low - slack || high + slack < value
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KINDS: [Kind; 4] = [Kind::Crest, Kind::Opening, Kind::Pipe, Kind::Pump];

    fn all_corners(eval: impl Fn(&Leans) -> f64) -> (f64, f64) {
        let mut bounds = (f64::INFINITY, f64::NEG_INFINITY);
        for corner in 0..1_u32 << KINDS.len() {
            let lean = |k: usize| if corner >> k & 1 == 1 { 1.0 } else { -1.0 };
            let kinds = KINDS.iter().enumerate();
            let leans = kinds.fold(Leans::NONE, |leans, (k, &kind)| leans.with(kind, lean(k)));
            let value = eval(&leans);
            bounds = (bounds.0.min(value), bounds.1.max(value));
        }
        bounds
    }

    #[test]
    fn effects_that_keep_their_sign_are_bounded_as_by_all_corners() {
        let quantity = |leans: &Leans| {
            let [a, b, c, d] = KINDS.map(|kind| leans.of(kind));
            (0.3 * a - 0.2 * b + 0.1 * c).exp() - 0.5 * d
        };
        let other = |leans: &Leans| leans.of(Kind::Opening) - leans.of(Kind::Pump);
        let band = band(&KINDS, 2, &mut |leans| vec![quantity(leans), other(leans)]);
        for (bounds, (low, high)) in
            band.quantities.iter().zip([all_corners(quantity), all_corners(other)])
        {
            assert!((bounds.low - low).abs() < 1e-15 && (bounds.high - high).abs() < 1e-15);
            assert!(bounds.low <= bounds.mid && bounds.mid <= bounds.high);
        }
        assert_eq!(band.is_outside_at_check_corner, [false, false]);
        // One estimate, eight one at a time, two corners for each quantity, one check.
        assert!(band.runs <= 14);
    }

    #[test]
    fn equal_signs_are_run_once() {
        let mut runs = 0;
        let band = band(&KINDS, 3, &mut |leans| {
            runs += 1;
            vec![leans.of(Kind::Crest); 3]
        });
        assert_eq!(runs, band.runs);
        assert!(runs <= 12);
    }

    #[test]
    fn an_effect_that_turns_its_sign_is_found_outside() {
        // At the check corner (-1, -1, 1, -1) the product is large, one at a time nothing moves.
        let quantity = |leans: &Leans| {
            let [a, b, c, d] = KINDS.map(|kind| leans.of(kind));
            a * b * c * d
        };
        let band = band(&KINDS, 1, &mut |leans| vec![0.2 * quantity(leans).min(0.0)]);
        assert_eq!(check_corner(4), [-1, -1, 1, -1]);
        assert!(band.is_outside_at_check_corner[0]);
        assert!((band.quantities[0].low + 0.2).abs() < 1e-15);
    }

    #[test]
    fn what_cannot_be_told_is_not_a_number() {
        let band = band(&KINDS, 1, &mut |leans| {
            vec![if 0.5 < leans.of(Kind::Pipe) { f64::NAN } else { 1.0 }]
        });
        assert!(band.quantities[0].low.is_nan() && band.quantities[0].high.is_nan());
    }
}
