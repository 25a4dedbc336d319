//! What fit and access say of the design: findings, each with its limit and what to do.
//!
//! A way that was found and checked again holds; a part that is proved to have none fails; of a part of which none
//! was found it is said that this is no proof.

mod clearances;
mod reach;
mod ways;

#[cfg(test)]
mod tests;

use design::{Design, RemovableId};
use findings::Finding;
use units::Length;

use crate::report::Fit;

/// All findings about fit and access, in the units that the maker wants reports in.
pub fn grade(fit: &Fit, design: &Design) -> Vec<Finding> {
    let checks = Checks { fit, design };
    let mut findings = clearances::all(&checks);
    findings.extend(ways::all(&checks));
    findings.extend(reach::all(&checks));
    findings
}

/// What the checks work with.
struct Checks<'a> {
    fit: &'a Fit,
    design: &'a Design,
}

impl Checks<'_> {
    fn length(&self, mm: f64) -> String {
        Length::mm(mm).show(self.design.report)
    }

    fn name(&self, which: RemovableId) -> String {
        format!("`{}`", self.design.removables[which].name)
    }

    /// Several names: `a`, `b` and `c`.
    fn names(&self, which: &[RemovableId]) -> String {
        listed(&which.iter().map(|k| self.name(*k)).collect::<Vec<_>>())
    }

    /// Several names of what is taken out one after the other.
    fn in_order(&self, which: &[RemovableId]) -> String {
        let order = if which.len() < 2 { "" } else { ", in this order" };
        format!("{}{order}", self.names(which))
    }
}

/// Things in a sentence: `a`, `a and b`, `a, b and c`.
fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// A share as per cent, never rounded up to all or down to nothing.
fn percent(share: f64) -> String {
    let least = if 0.0 < share { 1.0 } else { 0.0 };
    let most = if share < 1.0 { 99.0 } else { 100.0 };
    format!("{:.0} %", (share * 100.0).round().clamp(least, most))
}
