//! Why a part cannot come out, and what must change at least.

use design::{Design, Opening, RemovableId, RemovableKind, Role, Surrounding, SurroundingKind};
use glam::DVec3;
use params::CabinetSide;
use units::Length;

use super::listed;
use crate::way::{BallProof, Proof, SectionProof, Under};
use crate::world::ThingId;

/// A proof in words.
#[derive(Clone, Debug, PartialEq)]
pub struct ToldProof {
    /// Why, as a sentence about the part as `it`, without its end.
    pub reason: String,
    /// What must change at least, in the same way.
    pub remedy: String,
    /// Path of the cabinet's parameter that is too small or in the way; `None` where it is the part and the sump.
    pub parameter: Option<String>,
    /// What there is, mm.
    pub free_mm: f64,
    /// What is needed, mm.
    pub needed_mm: f64,
    /// The argument.
    pub source: &'static str,
}

/// No more than that is proved: what is less than this away from the limit may not come out either.
const NECESSARY: &str = "necessary, not sure to be enough";

/// A shortage is told as at least this, mm, so that it is not told as none.
const LEAST_MM: f64 = 0.1;

/// Why a part cannot come out, and what must change at least: what it comes to first, the argument after.
pub fn tell_proof(proof: &Proof, which: RemovableId, design: &Design) -> ToldProof {
    match proof {
        Proof::Section(section) => by_section(section, which, design),
        Proof::Ball(ball) => by_ball(ball, which, design),
    }
}

fn by_section(proof: &SectionProof, which: RemovableId, design: &Design) -> ToldProof {
    let length = |mm: f64| Length::mm(mm).show(design.report);
    let by = |[a, b]: [f64; 2]| format!("{} x {}", length(a), length(b));
    let opening = opening_at(proof.at, design);
    let whose = match opening {
        Some(opening) => format!("of the cabinet (`{}`)", opening.parameter),
        None if proof.is_cabinet => "of the cabinet".to_owned(),
        None => match rim(design) {
            Some(parameter) => format!("of the rim (`{parameter}`)"),
            None => "of the rim".to_owned(),
        },
    };
    let [long, broad] = proof.section_mm;
    let is_too_broad = proof.opening_mm[0].min(proof.opening_mm[1]) < broad;
    // Of a round of this section the radius and the thickness are those of the diagonal.
    let (is_too, less, needed_mm, short) = if is_too_broad {
        ("thick", "thinner", broad, broad - proof.takes_mm)
    } else {
        let short = libm::hypot(long, broad) - libm::hypot(proof.takes_mm, broad);
        ("wide", "narrower", long, short)
    };
    let short = length(short.max(LEAST_MM));
    let (holds, passing) = match proof.under {
        Some(Under { thing, free_mm }) => (
            format!(
                "`{}` leaves {} above that opening, so that it passes only tipped, with a section of at least {} through its middle",
                name(thing, design),
                length(free_mm),
                by(proof.section_mm)
            ),
            "pass tipped through",
        ),
        None => (
            format!("a sheet of {} fits in it in every direction", by(proof.section_mm)),
            if is_too_broad { "pass" } else { "turn out through" },
        ),
    };
    let reason = format!(
        "it is {short} too {is_too} to {passing} the opening {whose}: {holds}, and that opening, {}, the one that comes nearest to letting it through, takes at most {}",
        by(proof.opening_mm),
        length(proof.takes_mm)
    );
    let over = proof.under.map(|under| culprit(under.thing, design));
    let larger = match (&over, opening) {
        (Some(over), _) => format!("more room under it: {}", over.remedy),
        (None, Some(opening)) => format!("make `{}` larger", opening.parameter),
        (None, None) => "make the opening larger".to_owned(),
    };
    // Of a round the lesser side is the one that counts: across the other it may be as long as it is.
    let side = if is_too_broad { "" } else { ", by the lesser of its two sides" };
    let change = match is_bought(which, design) {
        true => format!("choose one that is at least {short} {less}"),
        false => format!("make it at least {short} {less}{side}"),
    };
    ToldProof {
        reason,
        remedy: format!("{change}, or {larger}; {NECESSARY}"),
        parameter: over
            .map(|over| over.parameter)
            .or_else(|| opening.map(|opening| opening.parameter.clone())),
        free_mm: proof.takes_mm,
        needed_mm,
        source: "a part passes an opening only if its section through the middle does, in whatever direction it is cut",
    }
}

fn by_ball(proof: &BallProof, which: RemovableId, design: &Design) -> ToldProof {
    let length = |mm: f64| Length::mm(mm).show(design.report);
    let [needs, free] = [proof.needs_mm, proof.free_mm].map(length);
    let short = length((proof.needs_mm - proof.free_mm).max(LEAST_MM));
    let culprits = || proof.between.iter().map(|thing| culprit(*thing, design));
    let (place, through, parameter, change) = match opening_at(proof.at, design) {
        Some(Opening { parameter, .. }) => {
            let change = format!("make `{parameter}` at least {short} higher or wider");
            let place = format!("`{parameter}` lets at most {free} through");
            (place, format!("`{parameter}`"), parameter.clone(), Some(change))
        }
        None => {
            let names: Vec<String> =
                proof.between.iter().map(|thing| format!("`{}`", name(*thing, design))).collect();
            let (place, through) = match names.as_slice() {
                [] => (format!("on its way there are at most {free}"), "its way out".to_owned()),
                [one] => (
                    format!("beside {one} there are at most {free}"),
                    format!("the room beside {one}"),
                ),
                _ => (
                    format!("between {} there are at most {free}", listed(&names)),
                    format!("the room between {}", listed(&names)),
                ),
            };
            let around = culprits().find(|culprit| culprit.is_around);
            let first = around.or_else(|| culprits().next());
            let change = first.as_ref().map(|c| format!("{}, by at least {short}", c.remedy));
            (place, through, first.map(|c| c.parameter).unwrap_or_default(), change)
        }
    };
    let change = change.map(|change| format!("{change}; or ")).unwrap_or_default();
    let thinner = match is_bought(which, design) {
        true => format!("choose one that is at least {short} thinner"),
        false => format!("make the part at least {short} thinner"),
    };
    ToldProof {
        reason: format!(
            "it is {short} too thick for {through}: it needs {needs} of room however it is turned, and {place}"
        ),
        remedy: format!("{change}{thinner}; {NECESSARY}"),
        parameter: (!parameter.is_empty()).then_some(parameter),
        free_mm: proof.free_mm,
        needed_mm: proof.needs_mm,
        source: "the largest ball in a part passes only where its middle keeps its radius away from everything fixed",
    }
}

/// Whether it comes as it is, so that another is chosen and none made smaller.
pub(crate) fn is_bought(which: RemovableId, design: &Design) -> bool {
    let kind = design.removables.get(which).map(|one| one.kind);
    matches!(kind, Some(RemovableKind::Equipment | RemovableKind::Sock | RemovableKind::DrainPipe))
}

/// What is in the way.
struct Culprit {
    parameter: String,
    /// What to do about it.
    remedy: String,
    /// Whether it stands around the sump, and is not of it.
    is_around: bool,
}

fn culprit(thing: ThingId, design: &Design) -> Culprit {
    let Some(around) = surrounding(thing, design) else {
        let placed = design.placed.get(thing);
        let parameter = placed.map(|placed| placed.parameter.clone()).unwrap_or_default();
        let remedy = format!("make more room at `{}` (`{parameter}`)", name(thing, design));
        return Culprit { parameter, remedy, is_around: false };
    };
    let is_ceiling = around.kind == SurroundingKind::Panel && around.parameter == "cabinet.ceiling";
    // How high the ceiling is stands elsewhere in the file than that there is one.
    let parameter =
        if is_ceiling { "cabinet.inside.height".to_owned() } else { around.parameter.clone() };
    let remedy = match around.kind {
        SurroundingKind::Panel if is_ceiling => format!("raise the ceiling (`{parameter}`)"),
        SurroundingKind::Panel => match openings_in(around, design).as_slice() {
            [] => format!("widen the cabinet (`{parameter}`)"),
            paths => format!("make the opening in it larger ({})", listed(paths)),
        },
        SurroundingKind::PipeAbove => {
            format!(
                "let a hose come down there instead of `{}` (`{parameter} = \"hose\"`)",
                around.name
            )
        }
        SurroundingKind::Shelf => {
            format!("raise the shelf, or make it one that comes out (`{parameter}`)")
        }
        _ => format!("move `{}` away (`{parameter}`)", around.name),
    };
    Culprit { parameter, remedy, is_around: true }
}

/// Paths of the openings that are cut out of a panel of the cabinet, each in backticks.
pub(super) fn openings_in(panel: &Surrounding, design: &Design) -> Vec<String> {
    let openings = design.surroundings.iter().flat_map(|around| &around.openings);
    let is_in = |opening: &&Opening| panel.name.contains(side_words(opening.side));
    openings.filter(is_in).map(|opening| format!("`{}`", opening.parameter)).collect()
}

fn side_words(side: CabinetSide) -> &'static str {
    match side {
        CabinetSide::Front => "front",
        CabinetSide::Back => "back",
        CabinetSide::InletEnd => "inlet end",
        CabinetSide::FarEnd => "far end",
    }
}

/// The opening of the cabinet that a place is in.
fn opening_at(at: DVec3, design: &Design) -> Option<&Opening> {
    /// Rounding, mm.
    const NEAR_MM: f64 = 0.01;
    let is_in = |opening: &&Opening| {
        let [lo, hi] = opening.gap;
        (lo - NEAR_MM).cmple(at).all() && at.cmple(hi + NEAR_MM).all()
    };
    design.surroundings.as_ref()?.openings.iter().find(is_in)
}

/// Path of the rim.
fn rim(design: &Design) -> Option<&str> {
    let rim = design.placed.iter().find(|placed| design.pieces[placed.piece].role == Role::Rim);
    rim.map(|placed| placed.parameter.as_str())
}

/// Things are what is placed, then spares, then what is around, each in the order of the design.
pub(crate) fn name(thing: ThingId, design: &Design) -> &str {
    let placed = design.placed.iter().map(|placed| placed.name.as_str());
    let spares = design.spares.iter().map(|spare| spare.name.as_str());
    let around = design.surroundings.iter().flat_map(|s| &s.things).map(|t| t.name.as_str());
    placed.chain(spares).chain(around).nth(thing).unwrap_or_default()
}

pub(super) fn surrounding(thing: ThingId, design: &Design) -> Option<&Surrounding> {
    let k = thing.checked_sub(design.placed.len() + design.spares.len())?;
    design.surroundings.as_ref()?.things.get(k)
}
