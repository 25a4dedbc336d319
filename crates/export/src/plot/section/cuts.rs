//! Where the section runs: through every row of chambers once.

use design::Design;
use units::{Length, System};

/// A plane across the sump's width, looking to the back.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Cut {
    /// `A`, `B` …
    pub(super) letter: char,
    /// How far behind the front, mm.
    pub(super) y_mm: f64,
    /// What stands between these is nearer to this plane than to another, mm.
    pub(super) nearer_mm: [f64; 2],
    /// The basins that it crosses.
    pub(super) basins: Vec<usize>,
}

impl Cut {
    pub(super) fn name(&self, units: System) -> String {
        let behind = Length::mm(self.y_mm).show(units);
        format!("Section {0}–{0}: {behind} behind the front", self.letter)
    }
}

/// As few planes as cross every basin, from front to back, each in the middle of what its row has in
/// common.
pub(super) fn cuts(design: &Design) -> Vec<Cut> {
    let basins = &design.waterworks.basins;
    let mut left: Vec<usize> = (0..basins.len()).collect();
    let mut cuts: Vec<Cut> = Vec::new();
    let letters = ('A'..='Z').cycle();
    for letter in letters {
        // The classic way to stab spans: as far back as the first span to end allows.
        let Some(end) = left.iter().map(|&i| basins[i].max.y).min_by(f64::total_cmp) else { break };
        let row: Vec<usize> = left.iter().copied().filter(|&i| basins[i].min.y < end).collect();
        let front = row.iter().map(|&i| basins[i].min.y).fold(f64::NEG_INFINITY, f64::max);
        let y_mm = 0.5 * (front + end);
        left.retain(|i| !row.contains(i));
        let is_crossed = |i: &usize| basins[*i].min.y < y_mm && y_mm < basins[*i].max.y;
        let basins = (0..basins.len()).filter(is_crossed).collect();
        let mut nearer_mm = [f64::NEG_INFINITY, f64::INFINITY];
        if let Some(before) = cuts.last_mut() {
            nearer_mm[0] = 0.5 * (before.y_mm + y_mm);
            before.nearer_mm[1] = nearer_mm[0];
        }
        cuts.push(Cut { letter, y_mm, nearer_mm, basins });
    }
    cuts
}
