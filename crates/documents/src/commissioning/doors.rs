//! Heights of doors against flow.

use design::Design;
use paper::{Align, Block, Column, Table};
use study::InFlow;
use study::told::figures::{Figures, UNKNOWN};
use water::{DoorReport, Part, Running, Setting, SteadySolver};

use crate::prose::{chapter, part, words};

/// Shares of the flow that are told: a pump that is throttled, or clogs.
const SHARES: [f64; 3] = [0.6, 0.8, 1.0];
/// Heights of the door that are told, from its lowest to its highest.
const HEIGHTS: u32 = 5;

pub(super) fn blocks(design: &Design, in_flow: &InFlow<'_>) -> Vec<Block> {
    let figures = Figures(design.report);
    let doors: Vec<&DoorReport> =
        in_flow.report.doors.iter().filter(|door| door.has_effect).collect();
    if in_flow.report.doors.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![chapter("Setting the doors")];
    blocks.extend(super::told_doors(in_flow, figures));
    for door in &doors {
        blocks.push(part(format!(
            "Level of {} by the door of {} and the flow",
            door.chamber, door.leaf
        )));
        blocks.push(Block::Table(by_flow(in_flow, door, figures)));
    }
    if !doors.is_empty() {
        blocks.push(words(
            "The door's height is that of its upper edge. The flow is what goes up to the display, all pumps together; the \
             other doors stand as set. Levels are best estimates: their ± is that of the chamber's level above.",
        ));
    }
    blocks
}

/// The level of a chamber: a row for each height of the door, a column for each flow.
fn by_flow(in_flow: &InFlow<'_>, door: &DoorReport, figures: Figures) -> Table {
    let [lowest, _, highest] = door.settings_m;
    let whole = in_flow.report.return_flow_m3_s.mid;
    let column = |head: String| Column { head, align: Align::Right, may_wrap: false };
    let heads = SHARES.map(|share| column(format!("at {}", figures.flow(whole * share))));
    let columns = std::iter::once(column("door at".to_owned())).chain(heads);
    let rows = (0..HEIGHTS).map(|k| {
        let height = lowest + (highest - lowest) * f64::from(k) / f64::from(HEIGHTS - 1);
        let levels = levels(&in_flow.running, door, height);
        let told = levels.map(|level| level.map_or(UNKNOWN.to_owned(), |m| figures.length(m)));
        std::iter::once(figures.length(height)).chain(told).collect()
    });
    Table { columns: columns.collect(), rows: rows.collect(), has_sum: false }
}

/// The chamber's level with the door at a height (m), at each share of the flow; `None` where no method balances it.
fn levels(running: &Running<'_>, door: &DoorReport, height_m: f64) -> [Option<f64>; SHARES.len()] {
    let mut setting: Setting = running.system.setting.clone();
    setting.doors.insert(door.leaf.clone(), height_m * 1e3);
    let Ok(set) = Running::new(running.system.works, setting) else { return [None; SHARES.len()] };
    let is_up = |part: &Part| matches!(part, Part::Line { line } if set.system.works.lines[*line].to.is_none());
    let pumps: Vec<usize> = set.system.elements(is_up).collect();
    SHARES.map(|share| {
        let mut slowed = set.clone();
        for &pump in &pumps {
            slowed.system.network.elements[pump].scale *= share;
        }
        let mut solver = SteadySolver::new(&slowed.system.network).ok()?;
        slowed.settle(&mut solver).ok()?;
        slowed.levels_m.get(door.basin).copied()
    })
}
