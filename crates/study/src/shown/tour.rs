//! The tour: chamber by chamber, what it is for, what to look at, and what was found about it.

mod words;

use findings::Grade;
use glam::{DVec2, DVec3, dvec3};
use show::{Finding, Stop};

use super::Studied;
use super::found::is_within;

/// The whole first, then every chamber in flow order.
pub(super) fn stops(of: &Studied<'_>, findings: &[Finding]) -> Vec<Stop> {
    let chambers = of.design.chambers.iter().enumerate();
    let chambers: Vec<Stop> = chambers.map(|(k, chamber)| stop(of, k, chamber, findings)).collect();
    let told: Vec<usize> = chambers.iter().flat_map(|stop| stop.findings.clone()).collect();
    let others = (0..findings.len()).filter(|k| is_news(&findings[*k]) && !told.contains(k));
    let whole = Stop {
        title: of.design.title.clone(),
        text: words::of_all(of),
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

fn stop(of: &Studied<'_>, k: usize, chamber: &design::Chamber, findings: &[Finding]) -> Stop {
    let design = of.design;
    let [low, high] = [chamber.min, chamber.max];
    let middle = 0.5 * (low + high);
    // From the front and above, leaning to the end that is nearer.
    let lean = (middle.x / design.outside.x - 0.5) * 0.8;
    Stop {
        title: chamber.name.clone(),
        text: words::of_chamber(of, k),
        findings: about(of, chamber, findings),
        about: [low.extend(design.floor_z), high.extend(design.outside.z)],
        from: dvec3(lean, -1.0, 0.8).normalize(),
    }
}

fn is_in(of: &Studied<'_>, basin: design::BasinId, chamber: &str) -> bool {
    of.design.waterworks.basins.get(basin).is_some_and(|basin| basin.name == chamber)
}

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
        if let Some(reached) = reached(of, finding) {
            return reached == chamber.name;
        }
        is_within(&finding.parameter, &chamber.parameter)
            || leaves.iter().any(|leaf| is_within(&finding.parameter, leaf))
            // What all bodies of a kind are about is about no chamber.
            || (finding.things.len() <= MOST_THINGS && finding.things.iter().any(stands_here))
    };
    (0..findings.len()).filter(|k| is_news(&findings[*k]) && is_about(&findings[*k])).collect()
}

/// The chamber whose floor a finding is about: its parameter is that of what is in the way.
fn reached<'a>(of: &'a Studied<'_>, finding: &Finding) -> Option<&'a str> {
    let names = of.design.chambers.iter().map(|chamber| chamber.name.as_str());
    let is_it = |name: &&str| finding.message.contains(&format!("floor of chamber `{name}`"));
    names.filter(|_| finding.code == "reach-floor").find(is_it)
}

/// A finding about more bodies than this is about the whole; our judgement.
const MOST_THINGS: usize = 6;
