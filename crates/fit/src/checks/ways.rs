//! What is said of ways out.

use design::{Design, Removable, RemovableId, RemovableKind, Role};
use findings::Finding;

use super::Checks;
use crate::plan::ALLOWANCE_MM;
use crate::report::{HAND_MM, Step, Way};
use crate::way::{Cure, Proof, Verdict};
use crate::words::{cure, is_bought, listed, tell_proof, thing_name};
use crate::world::ThingId;

/// How many things that stand in the way are named.
const MOST_NAMED: usize = 3;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut told: Vec<(&Way, usize)> = Vec::new();
    // Of a sump that stands free it is only said that this was not asked.
    let asked = |way: &&Way| {
        c.design.surroundings.is_some() || removable(c, way).kind != RemovableKind::Sump
    };
    for way in c.fit.report.ways.iter().filter(asked) {
        if way.steps.is_empty() {
            // Alike things that stand alike are told once: the socks of a holder.
            let alike = told.iter_mut().find(|(other, _)| is_alike(c, other, way));
            if let Some((_, n_more)) = alike {
                *n_more += 1;
                continue;
            }
            told.push((way, 0));
        } else {
            findings.push(found(c, way));
        }
    }
    findings.extend(told.into_iter().map(|(way, n_more)| not_found(c, way, n_more)));
    findings.extend(stands_free(c));
    findings
}

/// Without a cabinet the sump has no question; that is said.
fn stands_free(c: &Checks<'_>) -> Option<Finding> {
    if c.design.surroundings.is_some() {
        return None;
    }
    let message = "the file has no `[cabinet]`: whether the sump goes into one, and whether there is room above \
                   and around it to take things out, is not checked";
    Some(Finding::not_checked(SUMP, "", message))
}

const SUMP: &str = "sump-into-cabinet";

fn removable<'a>(c: &Checks<'a>, way: &Way) -> &'a Removable {
    &c.design.removables[way.removable]
}

fn code(removable: &Removable) -> &'static str {
    if removable.kind == RemovableKind::Sump { SUMP } else { "way-out" }
}

fn is_alike(c: &Checks<'_>, a: &Way, b: &Way) -> bool {
    let [a_is, b_is] = [a, b].map(|way| removable(c, way));
    a_is.kind == b_is.kind
        && a_is.parameter == b_is.parameter
        && std::mem::discriminant(&a.alone) == std::mem::discriminant(&b.alone)
}

/// `leaf a`, or of a spare: `leaf b`, with `leaf a` out.
fn subject(c: &Checks<'_>, way: &Way) -> String {
    let removable = removable(c, way);
    match (removable.kind, removable.instead_of) {
        (RemovableKind::Sump, _) => "the empty sump".to_owned(),
        (_, Some(other)) => {
            format!("{}, in the place of {},", c.name(way.removable), c.name(other))
        }
        _ => c.name(way.removable),
    }
}

fn found(c: &Checks<'_>, way: &Way) -> Finding {
    let removable = removable(c, way);
    let said = way.steps.last().map(Step::sentence).unwrap_or_default();
    let soft = match removable.stiff_from_z {
        Some(_) => "; its soft bag squeezed to a third of its width",
        None => "",
    };
    let smaller = format!(
        "checked for the part taken {} smaller all round{soft}",
        units::Length::mm(ALLOWANCE_MM).show_fine(c.design.report)
    );
    let smaller = match way.steps.last() {
        Some(last) if !last.is_plain() => format!("{}; {smaller}", last.effort()),
        _ => smaller,
    };
    let subject = subject(c, way);
    let left_in = if removable.kind == RemovableKind::Sump {
        c.fit.report.stays_in(c.design)
    } else {
        Vec::new()
    };
    if !left_in.is_empty() {
        return with_things_in(c, way, &left_in, &format!("{said} ({smaller})"));
    }
    let first: Vec<usize> =
        way.steps.iter().map(|step| step.removable).filter(|k| *k != way.removable).collect();
    if first.is_empty() {
        let besides = match removable.kind {
            RemovableKind::Sump => {
                "comes out of the cabinet after everything in it, and goes in backwards"
            }
            _ => "comes out with everything else in place",
        };
        let message = format!("{subject} {besides}: {said} ({smaller})");
        return by_hand(c, way, code(removable), message);
    }
    let how_short = if way.is_shortest {
        "every smaller choice was tried and none found to do"
    } else {
        "fewer may do"
    };
    let too = match &way.alone {
        Verdict::Found(moves) => format!(
            "; with everything in place it comes out too, but by {} moves that are hard to follow",
            moves.len()
        ),
        _ => String::new(),
    };
    let message = format!(
        "{subject} comes out after {}; {how_short}{too}; then: {said} ({smaller})",
        c.in_order(&first)
    );
    let code = if removable.kind == RemovableKind::Sump { SUMP } else { "way-out-order" };
    by_hand(c, way, code, message)
}

/// A way that was found holds, if hands can follow it; else it holds on paper only.
fn by_hand(c: &Checks<'_>, way: &Way, code: &'static str, message: String) -> Finding {
    let parameter = removable(c, way).parameter.clone();
    let Some(why) = way.on_paper(c.design.report) else {
        return Finding::holds(code, parameter, message);
    };
    let message = format!("{message}; this way holds on paper only: {why}");
    let ease = match (&way.passes, is_bought(way.removable, c.design)) {
        (Some(passed), _) if c.design.removables.iter().any(|one| one.name == passed.name) => {
            format!("`{0}` taken out before, or more room beside `{0}`", passed.name)
        }
        (Some(passed), _) => format!("more room beside `{}`", passed.name),
        (None, true) => "a smaller one, or more room above and around it".to_owned(),
        (None, false) => "it smaller, or more room above and around it".to_owned(),
    };
    let finding = Finding::tight(code, parameter, message).with_hint(format!(
        "count it as not coming out: try it with one of cardboard before anything is glued; what would ease it: {ease}"
    ));
    match &way.passes {
        Some(passed) => finding
            .with_limit(passed.gap_mm, HAND_MM, "mm")
            .with_source("our judgement of what a hand can carry a part past"),
        None => finding,
    }
}

/// The sump, of which something stays in because no way of it is known.
fn with_things_in(c: &Checks<'_>, way: &Way, left_in: &[RemovableId], said: &str) -> Finding {
    let removable = removable(c, way);
    let first: Vec<usize> =
        way.steps.iter().map(|step| step.removable).filter(|k| *k != way.removable).collect();
    let after =
        if first.is_empty() { String::new() } else { format!(" after {}", c.in_order(&first)) };
    let message = format!(
        "{} comes out of the cabinet{after} with {} still in it, of which no way out is known: {said}; what of it would stick out of the sump is not looked at",
        subject(c, way),
        c.names(left_in)
    );
    Finding::tight(SUMP, removable.parameter.clone(), message)
        .with_hint("mend the way out of what stays in first")
}

fn not_found(c: &Checks<'_>, way: &Way, n_more: usize) -> Finding {
    let removable = removable(c, way);
    let code = code(removable);
    let subject = subject(c, way);
    let more = match n_more {
        0 => String::new(),
        1 => "; the same goes for one more like it".to_owned(),
        n => format!("; the same goes for {n} more like it"),
    };
    let finding = match &way.alone {
        Verdict::ProvedNone(proof) => return proved(c, way, proof, &more),
        Verdict::StartsInClash { with } => {
            let message = format!(
                "a way out of {subject} was not searched for: {}{more}",
                in_its_place(way.removable, with, c.design)
            );
            return Finding::not_checked(code, removable.parameter.clone(), message)
                .with_hint("mend this first");
        }
        Verdict::NotFound { steps } if fits_no_opening(*steps, c.design) => {
            let message = format!(
                "no way out of {subject} was found: no position was found in which it passes an opening to the outside, whatever else is taken out; this is not a proof{}{more}",
                in_the_way(c, way)
            );
            Finding::not_checked(code, parameter(c, way), message)
        }
        Verdict::NotFound { steps } => {
            let message = format!(
                "no way out of {subject} was found within {steps} steps, whatever else is taken out; this is not a proof{}{more}",
                in_the_way(c, way)
            );
            Finding::not_checked(code, parameter(c, way), message)
        }
        Verdict::Found(_) => {
            let message =
                format!("the way out of {subject} was found, but not checked again{more}");
            Finding::not_checked(code, removable.parameter.clone(), message)
        }
    };
    finding.with_hint(hint(c, way))
}

/// `; in its way are` the worst few, by how much.
fn in_the_way(c: &Checks<'_>, way: &Way) -> String {
    if way.blocked_by.is_empty() {
        return String::new();
    }
    let worst = way.blocked_by.iter().take(MOST_NAMED);
    let worst: Vec<String> =
        worst.map(|(name, mm)| format!("`{name}` by {}", c.length(*mm))).collect();
    format!("; the nearest of the simple tries is stopped by {}", listed(&worst))
}

/// The words for a part that begins in a clash: `in its place it shares room with ..`, or of a sock that a pipe is in,
/// `` `drain 1` hangs in it ``.
pub fn in_its_place(which: RemovableId, with: &[ThingId], design: &Design) -> String {
    let placed = |thing: &ThingId| design.placed.get(*thing);
    let is_pipe = |thing: &ThingId| {
        placed(thing).is_some_and(|placed| design.pieces[placed.piece].role == Role::DrainPipe)
    };
    let names: Vec<String> =
        with.iter().map(|thing| format!("`{}`", thing_name(*thing, design))).collect();
    let is_sock = design.removables.get(which).is_some_and(|r| r.kind == RemovableKind::Sock);
    if is_sock && !with.is_empty() && with.iter().all(is_pipe) {
        let hang = if names.len() == 1 { "hangs" } else { "hang" };
        return format!("{} {hang} in it", listed(&names));
    }
    format!("in its place it shares room with {}", listed(&names))
}

/// Fewer steps looked at than a search by chance makes in any case: then none was made, for no position was found in an
/// opening from which a way leads outside.
pub fn fits_no_opening(steps: u64, design: &Design) -> bool {
    /// A search may also end at 40,000 poses, each of which takes a step at least; our judgement, with room.
    const FULL: u64 = 30_000;
    steps < FULL.min(1000 * u64::from(design.fit.search))
}

fn proved(c: &Checks<'_>, way: &Way, proof: &Proof, more: &str) -> Finding {
    let removable = removable(c, way);
    let told = tell_proof(proof, way.removable, c.design);
    let message =
        format!("{} cannot come out, whatever the motion: {}{more}", subject(c, way), told.reason);
    let parameter = told.parameter.unwrap_or_else(|| removable.parameter.clone());
    Finding::fails(code(removable), parameter, message)
        .with_limit(told.free_mm, told.needed_mm, "mm")
        .with_source(told.source)
        .with_hint(told.remedy)
}

/// The path of what would have to change.
fn parameter(c: &Checks<'_>, way: &Way) -> String {
    match &way.cure {
        Some(Cure::Without { thing, .. }) => c.fit.world.things[*thing].parameter.clone(),
        Some(Cure::Moved { removable, .. }) => c.design.removables[*removable].parameter.clone(),
        Some(Cure::HigherCeiling { .. }) => "cabinet.inside.height".to_owned(),
        Some(Cure::Smaller { .. }) | None => removable(c, way).parameter.clone(),
    }
}

fn hint(c: &Checks<'_>, way: &Way) -> String {
    let is_tried = match &way.alone {
        Verdict::NotFound { steps } => !fits_no_opening(*steps, c.design),
        _ => true,
    };
    // Where nothing was searched by chance, more of it does not help.
    let longer = "search longer with `--thorough`, or with a greater `fit.search`";
    match (&way.cure, is_tried) {
        (Some(cure), true) => format!("{}; or {longer}", self::cure(cure, way.removable, c.design)),
        (Some(cure), false) => self::cure(cure, way.removable, c.design),
        (None, true) => format!("{longer}; no small change was found that lets it out"),
        (None, false) => {
            "make it smaller or the opening larger; no small change was found that lets it out"
                .to_owned()
        }
    }
}
