//! When it can be said that there is no way.
//!
//! **The section argument.** Let a part hold a solid disc of radius `r` and thickness `t`, and let it begin wholly inside a
//! closed box whose six faces are covered by obstacles but for openings, no opening reaching an edge of the
//! box. To come out, the disc's middle must cross a face, in an opening `O`. The disc's section by that face's plane is convex and
//! holds the middle; it cannot leave `O`, for `O`'s border is solid. Every plane through a disc's middle cuts from it a set that
//! holds a rectangle `2√(r² − t²/4)` by `t`: at an angle `φ` to the axis the section is as wide as `t / cos φ ≥ t`, and a
//! point at `s` along it and `|w| ≤ t/2` across is within `√(s² + t²/4) ≤ r` of the axis. So: where that rectangle does not
//! fit, turned as it likes, into the rectangle around `O`, there is no way, whatever the motion. A disc holds every
//! thinner disc of the same middle, and a ball, so their sections serve too.
//!
//! **A sheet with openings.** It is enough that the disc's border, at `r` and through its thickness, is material all round. This
//! ring can link with nothing: it begins unlinked, inside the box, and no motion that touches nothing links or
//! unlinks it with the solid parts of the box. Where a plane face cuts the ring, it cuts it in two places; were one of them in
//! `O` and the other elsewhere, the ring would be linked with the border of `O`. So both are in `O`; and when the middle
//! crosses, they hold the corners of the rectangle: the points of the border at `±t/2` across are at
//! `√(r² − (t/2 · sin φ)²) ≥ √(r² − t²/4)` along.
//!
//! **Of real bodies only.** The disc is looked for in fine pieces of what always moves together, and the box in fine
//! pieces of what is never taken out: pieces for planning fill up gaps and bulge, and what is loose may come out first. Fine
//! pieces stand out by the error of their chords, which is granted to the part.
//!
//! Nothing of this is taken for granted: that the box is closed is found by cutting away from each face what the
//! obstacles cover of it; all that is left counts as an opening, wanted or not.

mod cover;
mod discs;
mod shells;

use super::body::Body;
use super::space::Space;
use crate::pieces::FINE_CHORD_MM;
use crate::way::Proof;
use discs::{Disc, discs};
use shells::{Shell, shells};

/// Why there is no way out, if that can be shown.
pub(crate) fn proof(space: &Space<'_>, body: &Body) -> Option<Proof> {
    let closed: Vec<(Shell, Vec<[f64; 2]>)> = shells(space, body)
        .into_iter()
        .filter_map(|shell| shell.openings(space).map(|openings| (shell, openings)))
        .collect();
    if closed.is_empty() {
        return None;
    }
    let discs = discs(body);
    closed
        .iter()
        .find_map(|(shell, openings)| discs.iter().find_map(|disc| shut_in(disc, openings, shell)))
}

/// The proof that a disc passes none of the openings, with the opening that comes nearest to letting it pass.
fn shut_in(disc: &Disc, openings: &[[f64; 2]], shell: &Shell) -> Option<Proof> {
    let mut nearest: Option<(f64, Proof)> = None;
    for opening in openings {
        let (section, takes) = refused(disc, *opening)?;
        let miss = section[0] - takes;
        if nearest.as_ref().is_none_or(|(least, _)| miss < *least) {
            let proof = Proof {
                section_mm: section,
                opening_mm: *opening,
                takes_mm: takes,
                is_cabinet: shell.is_cabinet,
            };
            nearest = Some((miss, proof));
        }
    }
    nearest.map(|(_, proof)| proof)
}

/// A section of the disc that does not fit into an opening, and how long it could be to fit; `None` when all fit.
fn refused(disc: &Disc, opening: [f64; 2]) -> Option<([f64; 2], f64)> {
    let play = 2.0 * FINE_CHORD_MM;
    let granted = opening.map(|side| side + play);
    disc.sections().into_iter().find_map(|[long, broad]| {
        (!fits([long - play, (broad - play).max(0.0)], granted))
            .then(|| ([long, broad], longest(broad, opening)))
    })
}

/// Whether a rectangle fits into another, turned as it likes.
///
/// `p × q`, `p ≥ q`, into `a × b`, `a ≥ b`: `p ≤ a` and `q ≤ b`, or `p > a`, `q ≤ b` and
/// `b ≥ (2pqa + (p² − q²) √(p² + q² − a²)) / (p² + q²)`. Source: W. B. Carver, "Solution to problem E 1225",
/// *Amer. Math. Monthly* 64 (1957) 114; checked against direct maximisation over the angle in the tests.
pub(crate) fn fits([p, q]: [f64; 2], [a, b]: [f64; 2]) -> bool {
    let (p, q) = (p.max(q), p.min(q));
    let (a, b) = (a.max(b), a.min(b));
    if q > b {
        return false;
    }
    let squares = p * p + q * q;
    p <= a
        || squares >= a * a
            && b >= (2.0 * p * q * a + (p * p - q * q) * (squares - a * a).sqrt()) / squares
}

/// The longest rectangle of this breadth that fits into an opening, mm, by bisection; where the breadth is already too
/// much, the breadth of the opening.
fn longest(broad: f64, opening: [f64; 2]) -> f64 {
    let (mut low, mut high) = (0.0, opening[0] + opening[1]);
    if !fits([broad, broad], opening) {
        return opening[0].min(opening[1]);
    }
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if fits([middle, broad], opening) { low = middle } else { high = middle }
    }
    low
}
