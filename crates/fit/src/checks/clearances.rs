//! What is said of clearances.

use findings::Finding;

use super::{Checks, listed};
use crate::clearance::taken_out_first;
use crate::report::Clearance;
use crate::world::Origin;

/// Less is no gap, and no shared room either, mm: what rounding leaves; far below what can be cut.
const NOTHING_MM: f64 = 1e-3;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let all = &c.fit.report.clearances;
    let (near, kept): (Vec<&Clearance>, Vec<&Clearance>) =
        all.iter().partition(|clearance| clearance.gap_mm + NOTHING_MM < clearance.limit_mm);
    let mut groups: Vec<Vec<&Clearance>> = Vec::new();
    for clearance in near {
        match groups.iter_mut().find(|group| is_alike(c, group[0], clearance)) {
            Some(group) => group.push(clearance),
            None => groups.push(vec![clearance]),
        }
    }
    let near = groups.iter().filter_map(|group| too_near(c, group));
    near.chain(kept_gaps(c, &kept)).chain(cleared_for_service(c)).collect()
}

/// Pairs between the same entries of the file, held against the same limit, are told once by the worst.
fn is_alike(c: &Checks<'_>, a: &Clearance, b: &Clearance) -> bool {
    let pair = |clearance: &Clearance| {
        let mut pair = clearance.parameters.clone();
        pair.sort();
        pair
    };
    code(c, a) == code(c, b) && pair(a) == pair(b) && a.when.is_some() == b.when.is_some()
}

/// Which limit it is held against, by what the two things are.
fn code(c: &Checks<'_>, clearance: &Clearance) -> &'static str {
    if clearance.gap_mm < -NOTHING_MM && clearance.when.is_none() {
        return "share-room";
    }
    if clearance.when.is_some() {
        return "service-room";
    }
    let is_around = |thing: usize| {
        let things = &c.fit.world.things;
        things.get(thing).is_some_and(|t| matches!(t.origin, Origin::Surrounding(_)))
    };
    let is = |limit: units::Length| (clearance.limit_mm - limit.to_mm()).abs() < 1e-9;
    let fit = &c.design.fit;
    if is(fit.cabinet_gap) && (is_around(clearance.a) || is_around(clearance.b)) {
        "clearance-cabinet"
    } else if is(fit.finger_gap) && !is(fit.gap) {
        "clearance-finger"
    } else {
        "clearance-gap"
    }
}

fn limit_name(code: &str) -> &'static str {
    match code {
        "clearance-cabinet" => "`fit.cabinet_gap`",
        "clearance-finger" => "`fit.finger_gap`",
        _ => "`fit.gap`",
    }
}

fn too_near(c: &Checks<'_>, group: &[&Clearance]) -> Option<Finding> {
    let worst = group.iter().min_by(|a, b| a.gap_mm.total_cmp(&b.gap_mm))?;
    let code = code(c, worst);
    let [a, b] = &worst.names;
    let when = worst.when.as_ref().map(|when| format!(", {when}")).unwrap_or_default();
    let at = worst.at[0].midpoint(worst.at[1]);
    let place = format!(
        "at {} from the inlet end, {} from the front, {} up",
        c.length(at.x),
        c.length(at.y),
        c.length(at.z)
    );
    let so = if worst.when.is_some() && worst.limit_mm <= 0.0 {
        // Not a body but the room that its service needs is stood in.
        format!(
            "`{b}` stands {} deep in the room that `{a}` needs for service",
            c.length(-worst.gap_mm)
        )
    } else if worst.gap_mm < -NOTHING_MM {
        format!("`{a}` and `{b}` share room{when}, {} deep, {place}", c.length(-worst.gap_mm))
    } else if worst.gap_mm < NOTHING_MM {
        format!("`{a}` and `{b}` touch{when}, {place}")
    } else {
        format!("`{a}` and `{b}` are {} apart{when}, {place}", c.length(worst.gap_mm))
    };
    let more = match group.len() - 1 {
        0 => String::new(),
        1 => "; so is one more pair like them".to_owned(),
        n => format!("; so are {n} more pairs like them"),
    };
    let message = format!("{so}{more}");
    let parameter = parameter(c, worst);
    // What is only in the way at times can still be used otherwise.
    let finding = if code == "share-room" {
        Finding::fails(code, parameter, message)
    } else {
        Finding::tight(code, parameter, message)
    };
    let finding = finding.with_limit(worst.gap_mm, worst.limit_mm, "mm");
    let short = c.length(worst.limit_mm - worst.gap_mm);
    Some(
        finding
            .with_source(limit_name(code))
            .with_hint(format!("move one of them {short} away from the other, or make it smaller")),
    )
}

/// The path of what is easier to move: what is loose before what is built in, and that before what is around.
fn parameter(c: &Checks<'_>, clearance: &Clearance) -> String {
    let rank = |thing: usize| match c.fit.world.things.get(thing).map(|thing| thing.origin) {
        Some(Origin::Placed(placed)) => {
            let placed = &c.design.placed[placed];
            let is_bought = c.design.pieces[placed.piece].role.is_bought();
            if is_bought && placed.loose.is_some() {
                0
            } else {
                1 + usize::from(placed.loose.is_none())
            }
        }
        Some(Origin::Spare(_)) => 3,
        _ => 4,
    };
    let [a, b] = &clearance.parameters;
    if rank(clearance.b) < rank(clearance.a) { b.clone() } else { a.clone() }
}

/// All the rest, told once for each limit.
fn kept_gaps(c: &Checks<'_>, kept: &[&Clearance]) -> Vec<Finding> {
    let codes = ["clearance-gap", "clearance-finger", "clearance-cabinet", "service-room"];
    let of = |code_of: &'static str| {
        let those: Vec<&&Clearance> = kept.iter().filter(|k| code(c, k) == code_of).collect();
        let margin = |k: &Clearance| k.gap_mm - k.limit_mm;
        let nearest = those.iter().min_by(|a, b| margin(a).total_cmp(&margin(b)))?;
        let names: Vec<String> = nearest.names.iter().map(|name| format!("`{name}`")).collect();
        let message = format!(
            "{} pairs of parts near each other keep their gap; the nearest to its limit are {}, {} apart",
            those.len(),
            listed(&names),
            c.length(nearest.gap_mm)
        );
        let message = if those.len() == 1 {
            format!("{} keep their gap, {} apart", listed(&names), c.length(nearest.gap_mm))
        } else {
            message
        };
        Some(
            Finding::holds(code_of, "", message)
                .with_limit(nearest.gap_mm, nearest.limit_mm, "mm")
                .with_source(limit_name(code_of)),
        )
    };
    codes.into_iter().filter_map(of).collect()
}

/// What is taken out before equipment is serviced.
fn cleared_for_service(c: &Checks<'_>) -> Vec<Finding> {
    let things = &c.fit.world.things;
    let mut of_each: Vec<(usize, Vec<usize>)> = Vec::new();
    for in_it in taken_out_first(c.design, &c.fit.world) {
        match of_each.iter_mut().find(|(of, _)| *of == in_it.of) {
            Some((_, all)) => all.push(in_it.what),
            None => of_each.push((in_it.of, vec![in_it.what])),
        }
    }
    let tell = |(of, all): (usize, Vec<usize>)| {
        let names: Vec<String> =
            all.iter().map(|what| format!("`{}`", things[*what].name)).collect();
        let message = format!(
            "before `{}` is serviced, {} must be taken out: it stands in the room that this needs",
            things[of].name,
            listed(&names)
        );
        let message =
            if names.len() == 1 { message } else { message.replace(": it stands", ": they stand") };
        Finding::holds("service-room", things[of].parameter.clone(), message)
    };
    of_each.into_iter().map(tell).collect()
}
