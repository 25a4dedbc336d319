//! What is told at a stop, as a keeper's guide would: facts of the file and its water; advice is marked as common
//! practice.

use design::WayKind;
use findings::capital;
use params::{Equipment, EquipmentKind};
use units::Length;
use water::{Failure, Outcome};

use super::super::Studied;
use crate::told::figures::{Figures, time};
use crate::told::heights;

/// Of the whole sump.
pub(super) fn of_all(of: &Studied<'_>) -> Vec<String> {
    let design = of.design;
    let [x, y, z] = design.outside.to_array().map(|mm| Length::mm(mm).show(design.report));
    let names: Vec<&str> = design.chambers.iter().map(|chamber| chamber.name.as_str()).collect();
    let mut text = vec![format!("A sump {x} long, {y} deep and {z} high, measured outside.")];
    text.push(match names.as_slice() {
        [one] => format!("It has one chamber, {one}."),
        [one, two] => format!("From the inlet to the return it has two chambers, {one} and {two}."),
        all => format!("From the inlet to the return its chambers are {}.", fit::listed(all)),
    });
    let figures = Figures(design.report);
    text.push(match of.known.and_then(|known| known.in_flow.as_ref()) {
        Some(in_flow) => format!(
            "With the pumps running, {} go up to the display and come down again. All levels are told for that, above the \
             inside of the bottom.",
            figures.flow(in_flow.running.return_flow())
        ),
        None => "What flows is not known of this file: all levels are those with nothing flowing, above the inside of the \
                 bottom."
            .to_owned(),
    });
    text
}

/// Of one chamber: what it is for, what to look at, and its water.
pub(super) fn of_chamber(of: &Studied<'_>, k: usize) -> Vec<String> {
    let chamber = &of.design.chambers[k];
    let mut text = purpose(of, chamber);
    text.push(water(of, chamber));
    text
}

/// What it is for, by what stands in it.
fn purpose(of: &Studied<'_>, chamber: &design::Chamber) -> Vec<String> {
    let Some(file) = &of.reading.file else { return Vec::new() };
    let name = &chamber.name;
    let mut text = Vec::new();
    let drains = file.drain.iter().filter(|drain| drain.chamber == *name);
    let drains: Vec<String> = drains.map(|drain| format!("“{}”", drain.name)).collect();
    match drains.as_slice() {
        [] => {}
        [one] => {
            text.push(format!("Water from the display arrives here, through the drain {one}."));
        }
        all => text.push(format!(
            "Water from the display arrives here, through the drains {}.",
            fit::listed(all)
        )),
    }
    text.extend(socks(of, name));
    for kind in KINDS {
        let things: Vec<&Equipment> =
            file.equipment.iter().filter(|e| e.chamber == *name && e.kind == kind).collect();
        if !things.is_empty() {
            text.push(equipment(of, chamber, kind, &things));
        }
    }
    text.extend(float(of, name));
    if text.is_empty() {
        text.push(
            "Nothing stands here: there is room for plants, rock, media or animals.".to_owned(),
        );
    }
    text
}

/// Of the float of the top-up, if it is in this chamber. Where water leaves over or through a leaf, that holds the level:
/// what evaporates is then missing further on.
fn float(of: &Studied<'_>, name: &str) -> Option<String> {
    let works = &of.design.waterworks;
    let basin = works.top_up.as_ref().map(|top_up| top_up.basin)?;
    if !super::is_in(of, basin, name) {
        return None;
    }
    let holds = |way: &&design::Way| way.is_in && way.up == basin;
    let is_held = works.ways.iter().any(|way| holds(&way) && way.kind != WayKind::Underflow);
    let draws = works.lines.iter().any(|line| line.from == basin && line.to.is_none());
    let more = match (is_held, draws) {
        (false, true) => {
            " What evaporates anywhere goes missing in this chamber: this is the level to watch."
        }
        (true, _) => {
            " The leaf that its water leaves by holds the level here, so what evaporates goes missing further on, where \
             the return pump draws, and the float may notice it late or never: watch the level there, too."
        }
        (false, false) => "",
    };
    Some(format!("The float of the top-up is here.{more}"))
}

fn socks(of: &Studied<'_>, name: &str) -> Option<String> {
    let shelves = of.design.waterworks.shelves.iter().filter(|s| super::is_in(of, s.basin, name));
    match shelves.map(|shelf| shelf.socks).sum::<u32>() {
        0 => None,
        1 => Some(
            "A filter sock catches what is coarse. When water stands high in it, it is time to wash it (common practice)."
                .to_owned(),
        ),
        n => Some(format!(
            "{} filter socks catch what is coarse. When water stands high in one of them, it is time to wash it (common \
             practice).",
            capital(&counted(n))
        )),
    }
}

/// Small numbers in words.
fn counted(n: u32) -> String {
    match n {
        2 => "two".to_owned(),
        3 => "three".to_owned(),
        4 => "four".to_owned(),
        n => n.to_string(),
    }
}

/// In the order in which they are told.
const KINDS: [EquipmentKind; 6] = [
    EquipmentKind::Skimmer,
    EquipmentKind::Reactor,
    EquipmentKind::Pump,
    EquipmentKind::Heater,
    EquipmentKind::Probe,
    EquipmentKind::Other,
];

/// What the equipment of one kind does here, and what to look at.
fn equipment(
    of: &Studied<'_>,
    chamber: &design::Chamber,
    kind: EquipmentKind,
    things: &[&Equipment],
) -> String {
    let names: Vec<String> = things.iter().map(|thing| named(&thing.name, kind)).collect();
    let (all, one) = (capital(&fit::listed(&names)), names.len() == 1);
    let verb = |single: &str, many: &str| if one { single } else { many }.to_owned();
    match kind {
        EquipmentKind::Skimmer => format!(
            "{all} {} waste out of the water as foam. It works best at a steady depth, so look at the level here before \
             you set anything on it (common practice).",
            verb("takes", "take")
        ),
        EquipmentKind::Reactor => format!(
            "{all} {} water through hoses. See that none is kinked or clogged (common practice).",
            verb("is fed with", "are fed with")
        ),
        EquipmentKind::Pump => pumps(of, things),
        EquipmentKind::Heater => format!(
            "{all} must be under water whenever {} on (common practice).{}",
            verb("it is", "they are"),
            lowest(of, chamber).unwrap_or_default()
        ),
        EquipmentKind::Probe => format!(
            "{all} {} here. See that moving water reaches {} (common practice).",
            verb("measures", "measure"),
            verb("it", "them")
        ),
        EquipmentKind::Other => format!("{all} {} here.", verb("stands", "stand")),
    }
}

/// Where the pumps of a chamber send its water, each alike once, and what to look at.
fn pumps(of: &Studied<'_>, things: &[&Equipment]) -> String {
    let works = &of.design.waterworks;
    let mut told: Vec<(String, Vec<String>)> = Vec::new();
    for thing in things {
        let line = works.lines.iter().find(|line| line.pump == thing.name);
        let to = match line.map(|line| line.to.and_then(|basin| works.basins.get(basin))) {
            Some(None) => " back up to the display".to_owned(),
            Some(Some(basin)) => format!(" to {}", basin.name),
            None => String::new(),
        };
        let name = named(&thing.name, EquipmentKind::Pump);
        match told.iter_mut().find(|(known, _)| *known == to) {
            Some((_, names)) => names.push(name),
            None => told.push((to, vec![name])),
        }
    }
    let sentence = |(to, names): &(String, Vec<String>)| {
        let s = if names.len() == 1 { "s" } else { "" };
        match to.as_str() {
            "" => format!("{} draw{s} from here.", capital(&fit::listed(names))),
            to => format!("{} take{s} water from here{to}.", capital(&fit::listed(names))),
        }
    };
    let told: Vec<String> = told.iter().map(sentence).collect();
    let intakes = if things.len() == 1 { "its intake is" } else { "their intakes are" };
    format!("{} See that {intakes} free and well under water (common practice).", told.join(" "))
}

/// `the return pump`; a name that does not say what it is, with that.
fn named(name: &str, kind: EquipmentKind) -> String {
    let what = match kind {
        EquipmentKind::Pump => "pump",
        EquipmentKind::Skimmer => "skimmer",
        EquipmentKind::Heater => "heater",
        EquipmentKind::Probe => "probe",
        EquipmentKind::Reactor => "reactor",
        EquipmentKind::Other => "",
    };
    if name.to_lowercase().contains(what) {
        format!("the {name}")
    } else {
        format!("the {what} “{name}”")
    }
}

/// How far the water of a chamber falls in any failure that was rehearsed, leaks left out: a leak below the water empties
/// a chamber, which is no news.
fn lowest(of: &Studied<'_>, chamber: &design::Chamber) -> Option<String> {
    let known = of.known?;
    let system = &known.in_flow.as_ref()?.running.system;
    let basins = &of.design.waterworks.basins;
    let tank = basins.iter().position(|basin| basin.name == chamber.name)?;
    let zero_m = heights::zero_m(system, tank);
    let least = |outcome: &Outcome| {
        let levels = outcome.samples.iter().map(|sample| sample.levels_m[tank] - zero_m);
        levels.fold(f64::INFINITY, f64::min)
    };
    let (leaks, others): (Vec<&Outcome>, Vec<&Outcome>) =
        known.outcomes.iter().partition(|outcome| is_leak(&outcome.failure));
    let (but, comma) = if leaks.is_empty() { ("", "") } else { (", leaks left out", ",") };
    let all = others.into_iter().map(|outcome| (least(outcome), outcome.name.as_str()));
    let (least, name) = all.min_by(|a, b| a.0.total_cmp(&b.0))?;
    let figures = Figures(of.design.report);
    let told = figures.length(least);
    match (chamber.level_mm * 1e-3 - least) < SAME_M {
        _ if !least.is_finite() => None,
        true => Some(format!(
            " In no failure that was rehearsed{but}{comma} does the water here fall below {told}."
        )),
        false => Some(format!(
            " Of all failures that were rehearsed{but}, the water here falls lowest in “{name}”: to {told}."
        )),
    }
}

fn is_leak(failure: &Failure) -> bool {
    match failure {
        Failure::SeamLeaks { .. } => true,
        Failure::Together(all) => all.iter().any(is_leak),
        _ => false,
    }
}

/// A fall by less is none, m: levels are told to a millimetre.
const SAME_M: f64 = 1e-3;

/// How high the water stands and why, how much there is, and what it leaves by.
fn water(of: &Studied<'_>, chamber: &design::Chamber) -> String {
    let level = Length::mm(chamber.level_mm).show(of.design.report);
    let report = of.known.and_then(|known| known.in_flow.as_ref()).map(|flow| &flow.report);
    let reason = with_leaves(of, &chamber.level_reason);
    let mut text = format!("The water stands {level} above the floor: {reason}.");
    let Some(report) = report else { return text };
    let Some(basin) = report.basins.iter().find(|basin| basin.name == chamber.name) else {
        return text;
    };
    if basin.residence_s.is_finite() {
        let litres = Figures(of.design.report).volume(basin.volume_m3);
        let stays = time(basin.residence_s);
        text += &format!(" There are {litres} of it, and it stays here for {stays} on average.");
    }
    // What the reason has named already is not told again.
    let leaves = |way: &&water::WayReport| {
        let [up, down] = way.between;
        (up == basin.tank && way.flow_m3_s > SEEN_M3_S)
            || (down == basin.tank && way.flow_m3_s < -SEEN_M3_S)
    };
    let ways = report.ways.iter().filter(leaves).map(|way| way.name.as_str());
    let mut ways: Vec<String> = ways
        .filter(|name| !chamber.level_reason.contains(name))
        .map(|name| with_leaves(of, name))
        .collect();
    ways.dedup();
    if !ways.is_empty() {
        text += &format!(" It leaves by {}.", fit::listed(&ways));
    }
    text
}

/// A flow that is told, m³/s: a litre an hour.
const SEEN_M3_S: f64 = 1e-3 / 3600.0;

/// `the crest of over` reads better as `the crest of leaf over`, and pictures call it that.
fn with_leaves(of: &Studied<'_>, words: &str) -> String {
    let ways = of.design.waterworks.ways.iter();
    let mut names: Vec<&str> = ways.map(|way| way.leaf.as_str()).collect();
    // A name that goes on from another is looked for first.
    names.sort_by(|a, b| b.len().cmp(&a.len()).then(a.cmp(b)));
    names.dedup();
    names.into_iter().fold(words.to_owned(), |words, name| told_as_leaf(&words, name))
}

fn told_as_leaf(words: &str, name: &str) -> String {
    let short = format!(" of {name}");
    let mut text = String::new();
    let mut rest = words;
    while let Some(at) = rest.find(&short) {
        let (before, after) = (&rest[..at], &rest[at + short.len()..]);
        let goes_on = after.starts_with(|c: char| c.is_alphanumeric() || c == '-' || c == '_');
        text += before;
        text += &if goes_on { short.clone() } else { format!(" of leaf {name}") };
        rest = after;
    }
    text + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn leaves_are_called_so() {
        let told = told_as_leaf("11 mm above the crest of over, to pass it", "over");
        assert_eq!(told, "11 mm above the crest of leaf over, to pass it");
        assert_eq!(told_as_leaf("the crest of over-again", "over"), "the crest of over-again");
    }

    #[test]
    fn a_name_that_says_what_it_is_stands_alone() {
        assert_eq!(named("pH probe", EquipmentKind::Probe), "the pH probe");
        assert_eq!(named("left", EquipmentKind::Pump), "the pump “left”");
        assert_eq!(named("cutting rack", EquipmentKind::Other), "the cutting rack");
    }
}
