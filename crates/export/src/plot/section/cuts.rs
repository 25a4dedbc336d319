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
    /// The basins that it crosses.
    pub(super) basins: Vec<usize>,
}

impl Cut {
    /// Whether of all cuts through a basin this is the nearest to what stands in it so far behind the
    /// front: each thing is drawn once.
    pub(super) fn is_nearest(&self, all: &[Self], basin: usize, y_mm: f64) -> bool {
        let off = (self.y_mm - y_mm).abs();
        self.basins.contains(&basin)
            && all.iter().filter(|other| other.basins.contains(&basin)).all(|other| {
                let its_off = (other.y_mm - y_mm).abs();
                // Half way between two it is the front one's.
                off < its_off || (off <= its_off && self.y_mm <= other.y_mm)
            })
    }

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
        cuts.push(Cut { letter, y_mm, basins });
    }
    cuts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thing_belongs_to_one_cut_through_its_basin() {
        let cut = |letter, y_mm, basins: &[usize]| Cut { letter, y_mm, basins: basins.to_vec() };
        let all = [cut('A', 100.0, &[0, 1]), cut('B', 300.0, &[0, 2])];
        let owner = |basin, y_mm| -> String {
            all.iter().filter(|c| c.is_nearest(&all, basin, y_mm)).map(|c| c.letter).collect()
        };
        let owners = [owner(0, 120.0), owner(0, 200.0), owner(0, 201.0), owner(2, 120.0)];
        assert_eq!(owners, ["A", "A", "B", "B"]);
    }
}
