//! When it can be said that there is no way, whatever the motion: arguments that hold for all slides and turns at once.
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
//! **Under a lid.** Where something closes the room over an opening, the disc may stand only so high above its plane when its middle
//! crosses it, so it is tipped so far that its section is broader. How much is in `discs`, what a lid is in `lids`.
//!
//! **The ball argument** needs no openings, and is in `balls`.
//!
//! **Of real bodies only.** The disc is looked for in fine pieces of what always moves together, and the box in fine
//! pieces of what is never taken out: pieces for planning fill up gaps and bulge, and what is loose may come out first. Fine
//! pieces stand out by the error of their chords, which is granted to the part.
//!
//! Nothing of this is taken for granted: that the box is closed is found by cutting away from each face what the
//! obstacles cover of it; all that is left counts as an opening, wanted or not.

mod balls;
mod cover;
mod discs;
mod lids;
mod shells;

use super::body::Body;
use super::space::Space;
use crate::pieces::FINE_CHORD_MM;
use crate::way::{BallProof, Proof, SectionProof, Under};
use discs::{Disc, discs};
use lids::{Lid, lid};
use shells::{Opening, Shell, boxes, shells};

/// Why there is no way out, if that can be shown.
pub(crate) fn proof(space: &Space<'_>, body: &Body) -> Option<Proof> {
    let by_section = by_section(space, body).map(Proof::Section);
    by_section.or_else(|| by_ball(space, body).map(Proof::Ball))
}

fn by_section(space: &Space<'_>, body: &Body) -> Option<SectionProof> {
    let closed: Vec<(Shell, Vec<Opening>)> = shells(space, body)
        .into_iter()
        .filter_map(|shell| shell.openings(space).map(|openings| (shell, openings)))
        .collect();
    if closed.is_empty() {
        return None;
    }
    let discs = discs(body);
    let reach = discs.iter().map(Disc::reach).fold(0.0, f64::max);
    closed.iter().find_map(|(shell, openings)| {
        let lid = |opening: &Opening| (*opening, lid(space, opening, reach + PLAY));
        let openings: Vec<(Opening, Option<Lid>)> = openings.iter().map(lid).collect();
        discs.iter().find_map(|disc| shut_in(disc, &openings, shell))
    })
}

/// The proof that a disc passes none of the openings, with the opening that comes nearest to letting it pass.
fn shut_in(
    disc: &Disc,
    openings: &[(Opening, Option<Lid>)],
    shell: &Shell,
) -> Option<SectionProof> {
    let mut nearest: Option<(f64, SectionProof)> = None;
    for (opening, lid) in openings {
        let too_low = || too_low(disc, opening, &(*lid)?, shell);
        let proof = refused(disc, opening, shell).or_else(too_low)?;
        let miss = proof.section_mm[0] - proof.takes_mm;
        if nearest.as_ref().is_none_or(|(least, _)| miss < *least) {
            nearest = Some((miss, proof));
        }
    }
    nearest.map(|(_, proof)| proof)
}

/// What is granted to the part in every length: fine pieces stand out by the error of their chords at either end.
const PLAY: f64 = 2.0 * FINE_CHORD_MM;

/// That every plane through the disc's middle cuts a section from it that does not fit into an opening.
fn refused(disc: &Disc, opening: &Opening, shell: &Shell) -> Option<SectionProof> {
    let section = unfit(&disc.sections(), opening)?;
    Some(section_proof(section, opening, shell, None))
}

/// That those planes do that the lid over an opening leaves to it: the higher the disc may stand, the thinner its
/// section.
fn too_low(disc: &Disc, opening: &Opening, lid: &Lid, shell: &Shell) -> Option<SectionProof> {
    let groups = disc.sections_under(lid.headroom + PLAY, lid.hole);
    let mut nearest: Option<SectionProof> = None;
    for group in groups {
        let section = unfit(&group, opening)?;
        let under = Under { thing: lid.thing, free_mm: lid.headroom };
        let proof = section_proof(section, opening, shell, Some(under));
        let miss = |proof: &SectionProof| proof.section_mm[0] - proof.takes_mm;
        if nearest.as_ref().is_none_or(|best| miss(&proof) < miss(best)) {
            nearest = Some(proof);
        }
    }
    nearest
}

fn section_proof(
    section_mm: [f64; 2],
    opening: &Opening,
    shell: &Shell,
    under: Option<Under>,
) -> SectionProof {
    SectionProof {
        section_mm,
        opening_mm: opening.sides,
        takes_mm: longest(section_mm[1], opening.sides),
        is_cabinet: shell.is_cabinet,
        at: opening.middle(),
        under,
    }
}

/// The first of some sections that does not fit into an opening.
fn unfit(sections: &[[f64; 2]], opening: &Opening) -> Option<[f64; 2]> {
    let granted = opening.sides.map(|side| side + PLAY);
    let fits = |[long, broad]: &[f64; 2]| fits([long - PLAY, (broad - PLAY).max(0.0)], granted);
    sections.iter().copied().find(|section| !fits(section))
}

fn by_ball(space: &Space<'_>, body: &Body) -> Option<BallProof> {
    let ball = balls::ball(body)?;
    let obstacles = balls::Near::of(space);
    let granted = ball.radius - PLAY;
    boxes(space, body, &ball).into_iter().find_map(|corners| {
        let tight = balls::shut(&obstacles, corners, granted)?;
        let between = obstacles.between(&tight);
        Some(BallProof {
            needs_mm: 2.0 * ball.radius,
            free_mm: 2.0 * tight.radius,
            at: tight.at,
            between,
        })
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

#[cfg(test)]
mod tests;
