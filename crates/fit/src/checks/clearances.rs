//! What is said of clearances.

use findings::Finding;

use super::{Checks, service};
use crate::report::{Clearance, HeldTo};
use crate::words::listed;
use crate::world::Origin;

/// Less is no gap, and no shared room either, mm: what rounding leaves; far below what can be cut.
const NOTHING_MM: f64 = 1e-3;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let all = &c.fit.report.clearances;
    let (near, kept): (Vec<&Clearance>, Vec<&Clearance>) =
        all.iter().partition(|clearance| clearance.gap_mm + NOTHING_MM < clearance.limit_mm);
    let mut groups: Vec<Vec<&Clearance>> = Vec::new();
    for clearance in near {
        match groups.iter_mut().find(|group| is_alike(group[0], clearance)) {
            Some(group) => group.push(clearance),
            None => groups.push(vec![clearance]),
        }
    }
    let near = groups.iter().filter_map(|group| too_near(c, group));
    near.chain(kept_gaps(c, &kept)).chain(service::cleared(c)).collect()
}

/// Pairs between the same entries of the file, held against the same limit, are told once by the worst.
fn is_alike(a: &Clearance, b: &Clearance) -> bool {
    let pair = |clearance: &Clearance| {
        let mut pair = clearance.parameters.clone();
        pair.sort();
        pair
    };
    code(a) == code(b)
        && a.held_to == b.held_to
        && pair(a) == pair(b)
        && a.when.is_some() == b.when.is_some()
}

/// Under which code it is told.
fn code(clearance: &Clearance) -> &'static str {
    if clearance.gap_mm < -NOTHING_MM && clearance.when.is_none() {
        return "share-room";
    }
    if clearance.when.is_some() {
        return "service-room";
    }
    match clearance.held_to {
        HeldTo::Gap => "clearance-gap",
        HeldTo::FingerGap => "clearance-finger",
        HeldTo::CabinetGap => "clearance-cabinet",
        HeldTo::OwnPlay | HeldTo::NoRoomShared => "clearance-play",
        HeldTo::ServiceRoom => "service-room",
    }
}

fn limit_name(held_to: HeldTo) -> &'static str {
    match held_to {
        HeldTo::Gap => "`fit.gap`",
        HeldTo::FingerGap => "`fit.finger_gap`",
        HeldTo::CabinetGap => "`fit.cabinet_gap`",
        HeldTo::OwnPlay => "they have their own play by the file, and only must not share room",
        HeldTo::NoRoomShared => "what is built in must not share room",
        HeldTo::ServiceRoom => "the room that the service of equipment needs",
    }
}

fn too_near(c: &Checks<'_>, group: &[&Clearance]) -> Option<Finding> {
    let worst = group.iter().min_by(|a, b| a.gap_mm.total_cmp(&b.gap_mm))?;
    let code = code(worst);
    let [a, b] = &worst.names;
    let when = worst.when.as_ref().map(|when| format!(", {when}")).unwrap_or_default();
    let at = worst.at[0].midpoint(worst.at[1]);
    let place = c.place(at);
    let so = if worst.held_to == HeldTo::ServiceRoom {
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
            .with_source(limit_name(worst.held_to))
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

/// All the rest, told once for each limit, and once for what is moved in service.
fn kept_gaps(c: &Checks<'_>, kept: &[&Clearance]) -> Vec<Finding> {
    let codes = [
        "clearance-gap",
        "clearance-finger",
        "clearance-cabinet",
        "clearance-play",
        "service-room",
    ];
    let of = |code_of: &'static str| {
        let those: Vec<&&Clearance> = kept.iter().filter(|k| code(k) == code_of).collect();
        let margin = |k: &Clearance| k.gap_mm - k.limit_mm;
        let nearest = those.iter().min_by(|a, b| margin(a).total_cmp(&margin(b)))?;
        let names: Vec<String> = nearest.names.iter().map(|name| format!("`{name}`")).collect();
        let (names, apart) = (listed(&names), c.length(nearest.gap_mm));
        let message = match (code_of, those.len()) {
            ("clearance-play", 1) => format!("{names} have their own play, {apart} apart"),
            ("clearance-play", n) => {
                format!(
                    "{n} pairs of parts have their own play; the nearest are {names}, {apart} apart"
                )
            }
            (_, 1) => format!("{names} keep their gap, {apart} apart"),
            (_, n) => format!(
                "{n} pairs of parts near each other keep their gap; the nearest to its limit are {names}, {apart} apart"
            ),
        };
        Some(
            Finding::holds(code_of, "", message)
                .with_limit(nearest.gap_mm, nearest.limit_mm, "mm")
                .with_source(limit_name(nearest.held_to)),
        )
    };
    codes.into_iter().filter_map(of).collect()
}
