//! What is told of a fit under its tolerances.

mod bent;
mod cabinet;
mod channel;
mod door;
mod leaf;
mod lid;
mod parts;
pub(crate) mod round;
mod shelf;
mod sock;

use design::Design;
use params::File;
use serde::Serialize;

use crate::panel::Panel;
use parts::Causes;

/// One fit: a gap that must stay between limits while sizes, places, water and warmth vary.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Stack {
    /// Stable name of the kind:
    /// - `leaf-slides` across its thickness, `leaf-fits` between the ends of its channels, `leaf-held` in them when it is
    ///   pushed to one side;
    /// - `door-covers` its opening, `door-slides` on its screws, `door-clear` of the guides of its leaf;
    /// - `sock-sits` on its hole, `ring-fits` its hole;
    /// - `shelf-fits` between its walls, `shelf-rests` on its ledges;
    /// - `lid-rests` on the rim; `groove-takes` a glued leaf; `sump-enters` its cabinet.
    pub code: &'static str,
    /// What it is about: `leaf comb in its channels, across its thickness`.
    pub words: String,
    /// Path of the parameter.
    pub parameter: String,
    /// Gap as drawn, mm.
    pub nominal_mm: f64,
    /// Least and greatest gap with everything at its worst, mm.
    pub worst_mm: [f64; 2],
    /// The same as it is likely: independent parts added by their squares, mm.
    pub likely_mm: [f64; 2],
    /// Least gap that works, mm.
    pub least_mm: f64,
    /// Greatest gap that works, mm, if there is one.
    pub most_mm: Option<f64>,
    /// What it is made of, each with its share to both sides, mm.
    pub parts: Vec<Part>,
    /// What loads make of it that bear for hours, where they make less of it than those that bear for years.
    pub for_hours: Option<ForHours>,
}

/// A gap under loads that bear for hours.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ForHours {
    /// Under what, in words: `water to its upper edge on one side and none on the other`.
    pub words: String,
    /// Least gap with everything at its worst, mm.
    pub worst_mm: f64,
}

/// One contribution to a gap.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Part {
    /// What: `thickness of the sheet`.
    pub words: String,
    /// How far it lowers and raises the gap: `[-0.4, 0.3]`, mm.
    pub mm: [f64; 2],
    /// Whether it is one cause with others of the same name, and adds up straight instead of by squares.
    pub is_shared: bool,
}

/// What a stack is about.
pub(crate) struct Subject {
    pub(crate) code: &'static str,
    pub(crate) words: String,
    pub(crate) parameter: String,
}

impl Stack {
    /// Adds up the parts of a gap.
    ///
    /// Worst case: all parts at the end that is worse at once, `Σ tᵢ`. Likely: every part by the middle of its range, and
    /// around that `√(Σ tᵢ²)` of half ranges, those of one cause added straight before. Independent parts stay within the
    /// likely range about as often as each stays within its own.
    ///
    /// Source: arithmetic and root-sum-square tolerancing, F. Scholz, "Tolerance Stack Analysis Methods", Boeing Information
    /// & Support Services 1995; the square root of the sum of squares of independent contributions is also eq. (10) of
    /// JCGM 100:2008. What acts to one side only moves the middle, as a shift of the mean does there. It holds for
    /// causes that are independent and of ranges meant alike (say, that few parts exceed). Checked against a published
    /// worked example, see the tests.
    pub(crate) fn new(
        subject: Subject,
        nominal_mm: f64,
        [least_mm, most_mm]: [Option<f64>; 2],
        parts: Vec<Part>,
    ) -> Self {
        let sum = |end: usize| parts.iter().map(|part| part.mm[end]).sum::<f64>();
        let middle = nominal_mm + 0.5 * (sum(0) + sum(1));
        let half = half_ranges(&parts).iter().map(|half| half * half).sum::<f64>().sqrt();
        Self {
            code: subject.code,
            words: subject.words,
            parameter: subject.parameter,
            nominal_mm,
            worst_mm: [nominal_mm + sum(0), nominal_mm + sum(1)],
            likely_mm: [middle - half, middle + half],
            least_mm: least_mm.unwrap_or(0.0),
            most_mm,
            parts,
            for_hours: None,
        }
    }

    /// The same gap while a load bears for hours: told where it is less by `less_mm` than the worst.
    pub(crate) fn with_hours(self, words: &str, less_mm: f64) -> Self {
        let for_hours = ForHours { words: words.to_owned(), worst_mm: self.worst_mm[0] - less_mm };
        Self { for_hours: (less_mm > 0.0).then_some(for_hours), ..self }
    }

    /// How far it is from its limits, mm, negative beyond them: at worst and as it is likely.
    pub fn margins_mm(&self) -> [f64; 2] {
        [self.worst_mm, self.likely_mm].map(|[low, high]| {
            let over = self.most_mm.map_or(f64::INFINITY, |most| most - high);
            (low - self.least_mm).min(over)
        })
    }
}

/// Half of the range of each independent cause.
fn half_ranges(parts: &[Part]) -> Vec<f64> {
    let half = |part: &Part| 0.5 * (part.mm[1] - part.mm[0]);
    let is_first = |i: usize| !parts[..i].iter().any(|p| p.is_shared && p.words == parts[i].words);
    let causes = (0..parts.len()).filter(|&i| !parts[i].is_shared || is_first(i));
    causes
        .map(|i| {
            let same = parts[i..].iter().filter(|p| p.is_shared && p.words == parts[i].words);
            if parts[i].is_shared { same.map(half).sum() } else { half(&parts[i]) }
        })
        .collect()
}

/// All fits of a design that this crate knows, in the order of its parts.
///
/// `panels` say how walls and leaves bend under their water, as far as it is known: that takes from what holds a leaf or a
/// shelf at its ends.
pub(crate) fn stacks(file: &File, design: &Design, panels: &[Panel]) -> Vec<Stack> {
    let causes = Causes::of(file, design, panels);
    let mut stacks = leaf::stacks(&causes);
    stacks.extend(door::stacks(&causes));
    stacks.extend(shelf::stacks(&causes));
    stacks.extend(sock::stacks(&causes));
    stacks.extend(lid::stacks(&causes));
    stacks.extend(cabinet::stacks(&causes));
    stacks
}

#[cfg(test)]
mod tests;
