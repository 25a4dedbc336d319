//! The tour: chamber by chamber, what it is for, what to look at, and what was found about it.

use findings::Grade;
use glam::{DVec2, DVec3, dvec3};
use params::EquipmentKind;
use show::{Finding, Stop};
use units::Length;

use super::Studied;
use super::found::is_within;
use crate::told::figures::{Figures, time};
use crate::told::ways_out::capital;

/// The whole first, then every chamber in flow order.
pub(super) fn stops(of: &Studied<'_>, findings: &[Finding]) -> Vec<Stop> {
    let chambers = of.design.chambers.iter().enumerate();
    let chambers: Vec<Stop> = chambers.map(|(k, chamber)| stop(of, k, chamber, findings)).collect();
    let told: Vec<usize> = chambers.iter().flat_map(|stop| stop.findings.clone()).collect();
    let others = (0..findings.len()).filter(|k| is_news(&findings[*k]) && !told.contains(k));
    let whole = Stop {
        title: of.design.title.clone(),
        text: whole(of),
        findings: others.collect(),
        about: [DVec3::ZERO, of.design.outside],
        from: dvec3(-0.5, -1.0, 0.6).normalize(),
    };
    std::iter::once(whole).chain(chambers).collect()
}

/// What holds is no news, nor is a check that is not made for any sump.
fn is_news(finding: &Finding) -> bool {
    finding.grade != Grade::Holds && !finding.parameter.is_empty()
}

fn whole(of: &Studied<'_>) -> Vec<String> {
    let design = of.design;
    let [x, y, z] = design.outside.to_array().map(|mm| Length::mm(mm).show(design.report));
    let names: Vec<&str> = design.chambers.iter().map(|chamber| chamber.name.as_str()).collect();
    let mut text = vec![format!("The sump is {x} long, {y} wide and {z} high.")];
    text.push(format!("The water goes through it in this order: {}.", names.join(", ")));
    let figures = Figures(design.report);
    match of.known.and_then(|known| known.in_flow.as_ref()) {
        Some(in_flow) => text.push(format!(
            "{} go up to the display and come down again.",
            figures.flow(in_flow.running.return_flow())
        )),
        None => text.push(
            "The levels are those with nothing flowing: what flows is not known of this file."
                .to_owned(),
        ),
    }
    text
}

fn stop(of: &Studied<'_>, k: usize, chamber: &design::Chamber, findings: &[Finding]) -> Stop {
    let design = of.design;
    let [low, high] = [chamber.min, chamber.max];
    let middle = 0.5 * (low + high);
    // From the front and above, leaning to the end that is nearer.
    let lean = (middle.x / design.outside.x - 0.5) * 0.8;
    Stop {
        title: chamber.name.clone(),
        text: [purpose(of, chamber), water(of, chamber), beyond(of, k)].concat(),
        findings: about(of, chamber, findings),
        about: [low.extend(design.floor_z), high.extend(design.outside.z)],
        from: dvec3(lean, -1.0, 0.8).normalize(),
    }
}

/// What it is for, by what stands in it.
fn purpose(of: &Studied<'_>, chamber: &design::Chamber) -> Vec<String> {
    let Some(file) = &of.reading.file else { return Vec::new() };
    let name = &chamber.name;
    let named = |names: Vec<&String>| {
        let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
        (!names.is_empty()).then(|| fit::listed(&names))
    };
    let mut text = Vec::new();
    let drains = file.drain.iter().filter(|drain| drain.chamber == *name);
    if let Some(drains) = named(drains.map(|drain| &drain.name).collect()) {
        text.push(format!("Here the water comes down from the display, by {drains}."));
    }
    let socks: u32 = of
        .design
        .waterworks
        .shelves
        .iter()
        .filter(|s| is_in(of, s.basin, name))
        .map(|s| s.socks)
        .sum();
    match socks {
        0 => {}
        1 => text.push("A filter sock holds back what is coarse. Look whether water stands high in it: then it is due to be washed.".to_owned()),
        n => text.push(format!("{n} filter socks hold back what is coarse. Look whether water stands high in them: then they are due to be washed.")),
    }
    for kind in KINDS {
        let all = file.equipment.iter().filter(|e| e.chamber == *name && e.kind == kind);
        let Some(names) = named(all.map(|thing| &thing.name).collect()) else { continue };
        text.push(format!("{} {}", capital(&names), look(kind)));
    }
    let lines =
        of.design.waterworks.lines.iter().filter(|l| l.to.is_none() && is_in(of, l.from, name));
    if let Some(pumps) = named(lines.map(|line| &line.pump).collect()) {
        text.push(format!(
            "From here {pumps} take{} the water up to the display again.",
            if pumps.contains(" and ") { "" } else { "s" }
        ));
    }
    if of.design.waterworks.top_up.as_ref().is_some_and(|t| is_in(of, t.basin, name)) {
        text.push(
            "The float of the top-up is here: what evaporates anywhere is missing in this chamber."
                .to_owned(),
        );
    }
    if text.is_empty() {
        text.push("Nothing stands in it: it is free for plants, rock, media or animals, and calms the water.".to_owned());
    }
    text
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

/// What it is for and what to look at: common practice.
fn look(kind: EquipmentKind) -> &'static str {
    match kind {
        EquipmentKind::Skimmer => {
            "(skimmer) takes waste out as foam. It wants a steady depth of water: look at the level here before anything is set on it."
        }
        EquipmentKind::Reactor => {
            "(reactor) has water led through what it holds. Look whether its hoses are free."
        }
        EquipmentKind::Pump => {
            "(pump) draws from this chamber. Look whether its intake is free and well under water."
        }
        EquipmentKind::Heater => {
            "(heater) must stay under water whenever it is on. Look at the lowest level here while the pumps are off."
        }
        EquipmentKind::Probe => "(probe) measures here. Look whether it hangs in moving water.",
        EquipmentKind::Other => "stands here.",
    }
}

fn is_in(of: &Studied<'_>, basin: design::BasinId, chamber: &str) -> bool {
    of.design.waterworks.basins.get(basin).is_some_and(|basin| basin.name == chamber)
}

/// How high the water stands, why, and for how long it stays.
fn water(of: &Studied<'_>, chamber: &design::Chamber) -> Vec<String> {
    let level = Length::mm(chamber.level_mm).show(of.design.report);
    let mut text =
        vec![format!("The water stands {level} above the floor: {}.", chamber.level_reason)];
    let report = of.known.and_then(|known| known.in_flow.as_ref()).map(|flow| &flow.report);
    let basin = report.and_then(|r| r.basins.iter().find(|basin| basin.name == chamber.name));
    if let Some(basin) = basin.filter(|basin| basin.residence_s.is_finite()) {
        let figures = Figures(of.design.report);
        text.push(format!(
            "It holds {}, which stays {} in the mean.",
            figures.volume(basin.volume_m3),
            time(basin.residence_s)
        ));
    }
    text
}

/// Over and through what the water leaves it.
fn beyond(of: &Studied<'_>, k: usize) -> Vec<String> {
    let Some(report) = of.known.and_then(|known| known.in_flow.as_ref()).map(|flow| &flow.report)
    else {
        return Vec::new();
    };
    let name = &of.design.chambers[k].name;
    let Some(basin) = report.basins.iter().find(|basin| basin.name == *name) else {
        return Vec::new();
    };
    let leaves = |way: &&water::WayReport| {
        let [up, down] = way.between;
        (up == basin.tank && way.flow_m3_s > SEEN_M3_S)
            || (down == basin.tank && way.flow_m3_s < -SEEN_M3_S)
    };
    let mut names: Vec<&str> =
        report.ways.iter().filter(leaves).map(|way| way.name.as_str()).collect();
    names.dedup();
    if names.is_empty() {
        Vec::new()
    } else {
        vec![format!("It leaves by {}.", fit::listed(&names))]
    }
}

/// A flow that is told, m³/s: a litre an hour.
const SEEN_M3_S: f64 = 1e-3 / 3600.0;

/// Findings about the chamber itself, about what stands in it, and about leaves over which its water leaves.
fn about(of: &Studied<'_>, chamber: &design::Chamber, findings: &[Finding]) -> Vec<usize> {
    let works = &of.design.waterworks;
    let leaves: Vec<String> = works
        .ways
        .iter()
        .filter(|way| way.is_in && is_in(of, way.up, &chamber.name))
        .map(|way| format!("leaf.{}", way.leaf))
        .collect();
    let middles: Vec<Option<DVec2>> = of
        .scene
        .bodies
        .iter()
        .map(|body| body.bounds().map(|[lo, hi]| (0.5 * (lo + hi)).truncate()))
        .collect();
    let stands_here = |id: &usize| {
        middles.get(*id).copied().flatten().is_some_and(|middle| {
            middle.cmpge(chamber.min).all() && middle.cmple(chamber.max).all()
        })
    };
    let is_about = |finding: &Finding| {
        is_within(&finding.parameter, &chamber.parameter)
            || leaves.iter().any(|leaf| is_within(&finding.parameter, leaf))
            // What all bodies of a kind are about is about no chamber.
            || (finding.things.len() <= MOST_THINGS && finding.things.iter().any(stands_here))
    };
    (0..findings.len()).filter(|k| is_news(&findings[*k]) && is_about(&findings[*k])).collect()
}

/// A finding about more bodies than this is about the whole; our judgement.
const MOST_THINGS: usize = 6;
