//! How long the machine takes for a sheet.

use std::collections::BTreeMap;

use design::Design;

use crate::order::{Route, route};
use crate::plan::LaidSheet;
use crate::process::Machine;
use crate::work::{CutPath, Operation, OperationKind, Work};

/// What the machine does to one sheet, and for how long.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetTime {
    /// What the sheet is called.
    pub sheet: String,
    /// Length cut, by what it is for, mm: each pass anew.
    pub cut_mm: BTreeMap<OperationKind, f64>,
    /// How many times the tool goes into the sheet: plunges of a cutter, pierces of a beam, cuts of a saw.
    pub entries: usize,
    /// How far it travels between cuts, mm.
    pub travel_mm: f64,
    /// How far it would travel without a good order, mm.
    pub travel_unordered_mm: f64,
    /// How many bridges are left.
    pub bridges: usize,
    /// Passes through the whole thickness.
    pub passes: u32,
    /// Whether the sheet is turned over.
    pub is_turned_over: bool,
    /// Minutes of cutting, least and greatest, without setting up.
    pub minutes: [f64; 2],
}

impl SheetTime {
    /// Length cut in all, mm.
    pub fn cut_length_mm(&self) -> f64 {
        self.cut_mm.values().sum()
    }
}

/// The time for one laid sheet of this name in the file.
pub fn time_of(
    machine: &Machine,
    design: &Design,
    works: &[Work],
    stock: &str,
    sheet: &LaidSheet,
) -> SheetTime {
    // The machine goes through the thickest sheet that it may get.
    let thickness_mm = design.sheets.get(stock).map_or(0.0, |sheet| sheet.band_mm[1]);
    let route = route(sheet, works);
    let mut time = SheetTime {
        sheet: sheet.name.clone(),
        cut_mm: BTreeMap::new(),
        entries: 0,
        bridges: 0,
        travel_mm: route.travel_mm,
        travel_unordered_mm: route.travel_unordered_mm,
        passes: machine.passes(thickness_mm),
        is_turned_over: route.is_turned_over,
        minutes: [0.0; 2],
    };
    if machine.process == params::Process::Saw {
        time.add_saw_cuts(machine, sheet, thickness_mm);
        return time;
    }
    for operation in operations(&route, sheet, works) {
        time.add(machine, operation, thickness_mm);
    }
    let travel_min = time.travel_mm / machine.travel_mm_min;
    time.minutes = time.minutes.map(|minutes| minutes + travel_min);
    time
}

fn operations<'a>(
    route: &'a Route,
    sheet: &'a LaidSheet,
    works: &'a [Work],
) -> impl Iterator<Item = &'a Operation> {
    route.steps.iter().filter_map(|step| {
        let work = works.iter().find(|work| work.piece == sheet.laid[step.laid].piece)?;
        work.operations.get(step.operation)
    })
}

impl SheetTime {
    fn add(&mut self, machine: &Machine, operation: &Operation, thickness_mm: f64) {
        let length: f64 = operation.tool.iter().map(CutPath::length_mm).sum();
        let is_through = !matches!(operation.kind, OperationKind::Engrave | OperationKind::Pocket);
        let depth =
            if is_through { operation.depth_mm.max(thickness_mm) } else { operation.depth_mm };
        let (passes, feed) = match operation.kind {
            OperationKind::Engrave => (1, machine.engrave_mm_min()),
            _ => (machine.passes(depth), machine.feed_mm_min(thickness_mm)),
        };
        let cut = length * f64::from(passes);
        *self.cut_mm.entry(operation.kind).or_insert(0.0) += cut;
        // The rounds of a pocket follow one another without leaving it.
        let entries =
            if operation.kind == OperationKind::Pocket { 1 } else { operation.tool.len() };
        self.entries += entries;
        let enter = machine.enter_min(depth);
        let links: f64 =
            operation.tool.windows(2).filter_map(|pair| link_mm(&pair[0], &pair[1])).sum();
        self.travel_mm += links;
        self.travel_unordered_mm += links;
        for (end, minutes) in self.minutes.iter_mut().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "a count of paths")]
            let entering = entries as f64 * enter[end];
            *minutes += cut / feed[1 - end] + entering;
        }
        for bridge in &operation.bridges {
            let lift = machine.lift_min(depth, bridge.height_mm);
            self.minutes = [0, 1].map(|end| self.minutes[end] + lift[end]);
        }
        self.bridges += operation.bridges.len();
    }

    fn add_saw_cuts(&mut self, machine: &Machine, sheet: &LaidSheet, thickness_mm: f64) {
        let cut: f64 =
            sheet.saw_cuts.iter().map(|cut| cut.ends_mm[0].distance(cut.ends_mm[1])).sum();
        self.cut_mm.insert(OperationKind::Outline, cut);
        self.entries = sheet.saw_cuts.len();
        (self.travel_mm, self.travel_unordered_mm) = (0.0, 0.0);
        let (feed, enter) = (machine.feed_mm_min(thickness_mm), machine.enter_min(thickness_mm));
        #[expect(clippy::cast_precision_loss, reason = "a count of cuts")]
        let n = sheet.saw_cuts.len() as f64;
        self.minutes = [0, 1].map(|end| cut / feed[1 - end] + n * enter[end]);
    }
}

fn link_mm(from: &CutPath, to: &CutPath) -> Option<f64> {
    Some(from.end()?.distance(to.start()?))
}
