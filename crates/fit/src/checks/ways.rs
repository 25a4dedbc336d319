//! What is said of ways out.

use design::{Removable, RemovableKind};
use findings::Finding;

use super::{Checks, listed};
use crate::plan::ALLOWANCE_MM;
use crate::report::{Step, Way};
use crate::way::{Cure, Proof, Verdict};

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
    let subject = subject(c, way);
    let first: Vec<usize> =
        way.steps.iter().map(|step| step.removable).filter(|k| *k != way.removable).collect();
    if first.is_empty() {
        let besides = match removable.kind {
            RemovableKind::Sump => "comes out of the cabinet, and goes in backwards",
            _ => "comes out with everything else in place",
        };
        let message = format!("{subject} {besides}: {said} ({smaller})");
        return Finding::holds(code(removable), removable.parameter.clone(), message);
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
    Finding::holds(code, removable.parameter.clone(), message)
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
            let names: Vec<String> =
                with.iter().map(|thing| format!("`{}`", c.fit.world.things[*thing].name)).collect();
            let message = format!(
                "a way out of {subject} was not searched for: in its place it shares room with {}{more}",
                listed(&names)
            );
            return Finding::not_checked(code, removable.parameter.clone(), message)
                .with_hint("mend where they share room first");
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

fn proved(c: &Checks<'_>, way: &Way, proof: &Proof, more: &str) -> Finding {
    let removable = removable(c, way);
    let by = |[a, b]: [f64; 2]| format!("{} x {}", c.length(a), c.length(b));
    let whose = if proof.is_cabinet { "the cabinet" } else { "the rim" };
    let message = format!(
        "{} cannot come out, whatever the motion: it holds a sheet of {} in every direction, and the largest opening of {whose}, {}, takes at most {}{more}",
        subject(c, way),
        by(proof.section_mm),
        by(proof.opening_mm),
        c.length(proof.takes_mm)
    );
    let short = c.length((proof.section_mm[0] - proof.takes_mm).max(0.1));
    let hint = format!("make it at least {short} smaller, or the opening larger");
    Finding::fails(code(removable), removable.parameter.clone(), message)
        .with_limit(proof.takes_mm, proof.section_mm[0], "mm")
        .with_source(
            "a part passes an opening only if its section through the middle does, in whatever direction it is cut",
        )
        .with_hint(hint)
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
    let longer = "search longer with `--thorough`, or with a greater `fit.search`";
    let Some(cure) = &way.cure else {
        return format!("{longer}; no small change was found that lets it out");
    };
    let change = match cure {
        Cure::Smaller { by_mm } => format!("is {} smaller", c.length(*by_mm)),
        Cure::Without { name, .. } => format!("has not to pass `{name}`"),
        Cure::HigherCeiling { by_mm } => {
            format!("has {} more below the cabinet's ceiling", c.length(*by_mm))
        }
        Cure::Moved { removable, by_mm } => {
            let by = glam::DVec2::from_array(*by_mm);
            let by = crate::words::along(by, c.design.report);
            format!("has {} standing {by}, if there is room for that", c.name(*removable))
        }
    };
    format!("it comes out if it {change}; or {longer}")
}
