//! Leaves of dividers with the openings that they leave for water.

use design::{Basin, Role, Way, WayKind, WayShape};
use water::WayReport;

use super::Sump;
use super::cuts::Cut;
use super::frame::{CUT, Frame};
use super::levels::{LEVEL, WATER};
use super::parts;
use crate::plot::paper::{Area, Paper, dashed};

/// Flows smaller than this have no arrow, m³/s: a twentieth of a litre a minute.
const LEAST_FLOW_M3_S: f64 = 1e-6;

/// A leaf that is in, as the cut meets it.
pub(super) struct Leaf<'a> {
    pub(super) name: &'a str,
    /// From its upstream to its downstream face, mm; along its length where it is not cut.
    pub(super) x_mm: [f64; 2],
    pub(super) top_mm: f64,
    /// It stands across the plane; else along it, behind.
    pub(super) is_cut: bool,
    pub(super) ways: Vec<(&'a Way, &'a WayReport)>,
}

/// Leaves that the cut goes through, and those just behind it along its row.
pub(super) fn of<'a>(sump: &Sump<'a>, cut: &Cut) -> Vec<Leaf<'a>> {
    let works = &sump.design.waterworks;
    let mut leaves: Vec<Leaf<'a>> = Vec::new();
    let mut places: Vec<(&str, usize)> = Vec::new();
    for way in works.ways.iter().filter(|w| w.is_in) {
        let (up, down) = (&works.basins[way.up], &works.basins[way.down]);
        let is_in_row = |i: usize| cut.basins.contains(&i);
        let is_cut = is_along(up, down) && is_in_row(way.up) && is_in_row(way.down);
        let front = if up.min.y < down.min.y { way.up } else { way.down };
        let is_behind = !is_along(up, down) && is_in_row(front);
        let same = |w: &&WayReport| {
            w.leaf == way.leaf && w.kind == way.kind && w.between == [way.up, way.down]
        };
        let Some(report) = sump.report.ways.iter().find(same) else { continue };
        if !is_cut && !is_behind {
            continue;
        }
        let place = (way.divider_parameter.as_str(), way.place);
        let known = places.iter().position(|p| *p == place);
        let k = known.unwrap_or_else(|| {
            let x_mm = if is_cut {
                [up.max.x.min(down.max.x), up.min.x.max(down.min.x)]
            } else {
                [up.min.x.max(down.min.x), up.max.x.min(down.max.x)]
            };
            let top_mm = way.top_mm;
            leaves.push(Leaf { name: &way.leaf, x_mm, top_mm, is_cut, ways: Vec::new() });
            places.push(place);
            leaves.len() - 1
        });
        leaves[k].ways.push((way, report));
    }
    leaves
}

/// Whether one lies before the other along the sump, rather than across it.
fn is_along(a: &Basin, b: &Basin) -> bool {
    a.max.x <= b.min.x || b.max.x <= a.min.x
}

/// Stretches of height that are open to water, mm.
fn openings(shape: &WayShape) -> Vec<[f64; 2]> {
    match *shape {
        WayShape::Crest { .. } => Vec::new(),
        WayShape::Comb { sill_mm, tip_mm, .. } => vec![[sill_mm, tip_mm]],
        WayShape::Rectangle { bottom_mm, top_mm, .. }
        | WayShape::Slots { bottom_mm, top_mm, .. }
        | WayShape::Door { bottom_mm, top_mm, .. } => vec![[bottom_mm, top_mm]],
        WayShape::Holes { bottom_mm, diameter_mm, spacing_mm, rows, .. } => {
            let heights = std::iter::successors(Some(bottom_mm), |z| Some(z + spacing_mm));
            heights.take(rows).map(|z| [z - 0.5 * diameter_mm, z + 0.5 * diameter_mm]).collect()
        }
    }
}

/// Height up to which water can pass, mm.
fn head_room_mm(way: &Way) -> f64 {
    match way.shape {
        WayShape::Crest { .. } | WayShape::Comb { .. } => f64::INFINITY,
        _ => openings(&way.shape).iter().map(|o| o[1]).fold(f64::NEG_INFINITY, f64::max),
    }
}

pub(super) fn draw(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, frame: &Frame) {
    for leaf in of(sump, cut) {
        let [a, b] = leaf.x_mm;
        if !leaf.is_cut {
            let style = dashed("#59636b", 0.25, "2 0.8");
            paper.rect(frame.at(a, 0.0), frame.at(b, leaf.top_mm), &style);
            for opening in leaf.ways.iter().flat_map(|(way, _)| openings(&way.shape)) {
                let style = dashed("#59636b", 0.15, "0.8 0.5");
                paper.rect(frame.at(a, opening[0]), frame.at(b, opening[1]), &style);
            }
            continue;
        }
        paper.rect(frame.at(a, 0.0), frame.at(b, leaf.top_mm), CUT);
        for (way, report) in &leaf.ways {
            for [low, high] in openings(&way.shape) {
                // Teeth, tips and the sheet beside an opening are seen behind it.
                let ground = if way.kind == WayKind::Comb { "#c3cad0" } else { "#f7f8f9" };
                let style = format!("fill=\"{ground}\" stroke=\"#2b3238\" stroke-width=\"0.12\"");
                paper.rect(frame.at(a, low), frame.at(b, high), &style);
                let (up, down) = levels_mm(sump, report);
                let wet = high.min(up.max(down));
                if wet > low {
                    let style = format!("fill=\"{WATER}\"");
                    paper.rect(frame.at(a, low), frame.at(b, wet), &style);
                }
            }
            if matches!(way.kind, WayKind::Crest | WayKind::Comb) {
                nappe(paper, sump, way, report, leaf.x_mm, frame);
            }
        }
    }
    for door in parts::of(sump.design, &[Role::Door]).iter().filter(|d| d.crosses(cut.y_mm)) {
        let style = "fill=\"#3d464d\" stroke=\"#1d2328\" stroke-width=\"0.15\"";
        paper.rect(frame.at(door.lo.x, door.lo.z), frame.at(door.hi.x, door.hi.z), style);
    }
}

/// Levels on both sides of a way, mm.
fn levels_mm(sump: &Sump<'_>, report: &WayReport) -> (f64, f64) {
    let level = |tank: usize| {
        let found = sump.report.basins.iter().find(|b| b.tank == tank);
        found.map_or(0.0, |b| b.level_m.mid * 1e3)
    };
    (level(report.between[0]), level(report.between[1]))
}

/// Water over a crest, from the level before it to half of that over it: close to what a long crest has.
fn nappe(
    paper: &mut Paper,
    sump: &Sump<'_>,
    way: &Way,
    report: &WayReport,
    [a, b]: [f64; 2],
    frame: &Frame,
) {
    let (up, down) = levels_mm(sump, report);
    let crest = match way.shape {
        WayShape::Comb { tip_mm, .. } => tip_mm,
        WayShape::Crest { height_mm, .. } => height_mm,
        _ => return,
    };
    let is_forward = report.flow_m3_s >= 0.0;
    let (high, low) = if is_forward { (up, down) } else { (down, up) };
    if high <= crest {
        return;
    }
    let past = low.max(crest + 0.5 * (high - crest));
    let (at_up, at_down) = if is_forward { (high, past) } else { (past, high) };
    let corners =
        [frame.at(a, crest), frame.at(a, at_up), frame.at(b, at_down), frame.at(b, crest)];
    paper.path(&corners, true, &format!("fill=\"{WATER}\""));
}

/// Arrows through every way that passes water.
pub(super) fn arrows(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, frame: &Frame) {
    for [from, to] in arrow_ends(sump, cut, frame) {
        paper.arrow(from, to, LEVEL, 0.4);
    }
}

/// What the arrows cover.
pub(super) fn arrow_areas(sump: &Sump<'_>, cut: &Cut, frame: &Frame) -> Vec<Area> {
    arrow_ends(sump, cut, frame).into_iter().map(|[a, b]| Area::between(a, b).grown(0.9)).collect()
}

fn arrow_ends(sump: &Sump<'_>, cut: &Cut, frame: &Frame) -> Vec<[[f64; 2]; 2]> {
    let mut all = Vec::new();
    for leaf in of(sump, cut).iter().filter(|l| l.is_cut) {
        for (way, report) in &leaf.ways {
            if report.flow_m3_s.abs() < LEAST_FLOW_M3_S {
                continue;
            }
            let (up, down) = levels_mm(sump, report);
            let sill = report.sill_m * 1e3;
            let height = 0.5 * (sill + up.max(down).min(head_room_mm(way)));
            let works = &sump.design.waterworks;
            let is_rightward = works.basins[way.up].min.x < works.basins[way.down].min.x;
            let ends = [
                [frame.x(leaf.x_mm[0]) - REACH, frame.y(height)],
                [frame.x(leaf.x_mm[1]) + REACH, frame.y(height)],
            ];
            all.push(if is_rightward == (report.flow_m3_s > 0.0) {
                ends
            } else {
                [ends[1], ends[0]]
            });
        }
    }
    all
}

/// How far an arrow reaches out of its leaf, mm on paper.
const REACH: f64 = 2.4;
