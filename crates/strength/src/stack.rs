//! What is told of a fit under its tolerances.

mod bent;
mod cabinet;
mod channel;
mod code;
mod door;
mod leaf;
mod lid;
mod parts;
pub(crate) mod round;
mod shelf;
mod sock;

use design::Design;
use params::{File, GuideKind};
use serde::Serialize;

use crate::panel::{Duration, Panel};
pub use code::StackCode;
pub(crate) use door::spec as door_spec;
use parts::Causes;

/// One fit: a gap that must stay between limits while sizes, places, water and warmth vary.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Stack {
    /// Its kind.
    pub code: StackCode,
    /// What it is about: `leaf comb in its channels, across its thickness`.
    pub words: String,
    /// Path of the parameter.
    pub parameter: String,
    /// Gap as drawn, mm.
    pub nominal_mm: f64,
    /// Least and greatest gap with everything at its worst, mm.
    pub worst_mm: [f64; 2],
    /// The same as it is likely: independent chances added by their squares, as fitted and after years in water, mm.
    pub likely_mm: [f64; 2],
    /// Least gap that works, mm.
    pub least_mm: f64,
    /// Greatest gap that works, mm, if there is one.
    pub most_mm: Option<f64>,
    /// What it is made of, each with its share to both sides, mm.
    pub parts: Vec<Part>,
    /// What loads make of it that bear for hours or days, where they make less of it than those that bear for years.
    pub briefly: Option<Briefly>,
    /// What guides the leaf, of fits of loose leaves.
    pub guide: Option<GuideKind>,
    /// Name of the sheet whose band of thickness is part of it.
    pub sheet: Option<String>,
}

/// A gap under a load that bears for hours or days.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Briefly {
    /// Under what, in words: `water to its upper edge on one side and none on the other`.
    pub words: String,
    /// How long that bears.
    pub duration: Duration,
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
    /// How it adds up.
    pub cause: Cause,
}

/// How a contribution adds up with others.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Cause {
    /// A chance of its own.
    Chance,
    /// One chance with others of the same name: they add up straight before.
    OneChance,
    /// No chance: it comes with water and years, and then wholly. At one end of its range is the sump as fitted, at the other
    /// wet through and bent for years; a spare that comes in dry meets a box that is wet.
    Certain,
}

/// What a stack is about.
pub(crate) struct Subject {
    pub(crate) code: StackCode,
    pub(crate) words: String,
    pub(crate) parameter: String,
}

impl Stack {
    /// Adds up the parts of a gap.
    ///
    /// Worst case: all parts at the end that is worse at once, `Σ tᵢ`. Likely: what is chance by the middle of its range, and
    /// around that `√(Σ tᵢ²)` of half ranges, those of one cause added straight before; what is certain (swelling once wet
    /// through, what bends for years) shifts that range wholly, so that it reaches from the sump as fitted to the sump in
    /// use. Independent chances stay within it about as often as each stays within its own.
    ///
    /// Source: arithmetic and root-sum-square tolerancing, F. Scholz, "Tolerance Stack Analysis Methods", Boeing Information
    /// & Support Services 1995; the square root of the sum of squares of independent contributions is also eq. (10) of
    /// JCGM 100:2008. A shift of the mean adds to it straight there as here. It holds for causes that are independent and of
    /// ranges meant alike (say, that few parts exceed). Checked against a published worked example, see the tests.
    pub(crate) fn new(
        subject: Subject,
        nominal_mm: f64,
        [least_mm, most_mm]: [Option<f64>; 2],
        parts: Vec<Part>,
    ) -> Self {
        let is_certain = |part: &&Part| part.cause == Cause::Certain;
        let sum = |end: usize| parts.iter().map(|part| part.mm[end]).sum::<f64>();
        let certain = |end: usize| parts.iter().filter(is_certain).map(|p| p.mm[end]).sum::<f64>();
        let middle =
            nominal_mm + [0, 1].map(|end| 0.5 * (sum(end) - certain(end))).iter().sum::<f64>();
        let half = half_ranges(&parts).iter().map(|half| half * half).sum::<f64>().sqrt();
        Self {
            code: subject.code,
            words: subject.words,
            parameter: subject.parameter,
            nominal_mm,
            worst_mm: [nominal_mm + sum(0), nominal_mm + sum(1)],
            likely_mm: [middle - half + certain(0), middle + half + certain(1)],
            least_mm: least_mm.unwrap_or(0.0),
            most_mm,
            parts,
            briefly: None,
            guide: None,
            sheet: None,
        }
    }

    /// The same gap under a load that bears less than years: told where it is less by `less_mm` than the worst.
    pub(crate) fn with_brief(self, words: &str, duration: Duration, less_mm: f64) -> Self {
        let worst_mm = self.worst_mm[0] - less_mm;
        let briefly = Briefly { words: words.to_owned(), duration, worst_mm };
        Self { briefly: (less_mm > 0.0).then_some(briefly), ..self }
    }

    /// The same gap, of a leaf in guides of a kind.
    pub(crate) fn in_guide(self, guide: GuideKind) -> Self {
        Self { guide: Some(guide), ..self }
    }

    /// The same gap, that hangs on a sheet's band of thickness.
    pub(crate) fn of_sheet(self, sheet: &str) -> Self {
        Self { sheet: Some(sheet.to_owned()), ..self }
    }

    /// How far it is from its limits, mm, negative beyond them: at worst and as it is likely.
    pub fn margins_mm(&self) -> [f64; 2] {
        [self.worst_mm, self.likely_mm].map(|[low, high]| {
            let over = self.most_mm.map_or(f64::INFINITY, |most| most - high);
            (low - self.least_mm).min(over)
        })
    }
}

/// Half of the range of each independent chance.
fn half_ranges(parts: &[Part]) -> Vec<f64> {
    let half = |part: &Part| 0.5 * (part.mm[1] - part.mm[0]);
    let are_one = |a: &Part, b: &Part| {
        a.cause == Cause::OneChance && b.cause == Cause::OneChance && a.words == b.words
    };
    let chances: Vec<&Part> = parts.iter().filter(|part| part.cause != Cause::Certain).collect();
    let is_first = |i: &usize| !chances[..*i].iter().any(|earlier| are_one(earlier, chances[*i]));
    (0..chances.len())
        .filter(is_first)
        .map(|i| {
            let same = chances[i + 1..].iter().filter(|later| are_one(later, chances[i]));
            half(chances[i]) + same.map(|part| half(part)).sum::<f64>()
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
