//! All findings of one file, worst first.

use findings::{Finding, Grade};
use params::Spans;
use serde::Serialize;
use serde_json::{Value, json};

use crate::source::{Source, Stretch};

/// Findings with the file that they are about.
#[derive(Debug)]
pub struct Report<'a> {
    /// The file.
    pub source: &'a Source,
    /// Sorted, each with its place where it has one.
    pub findings: Vec<Finding>,
    /// Names of all of which no way out is known.
    no_way: Vec<String>,
}

/// How many findings there are of each grade.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Counts {
    /// Fail: nothing is made.
    pub fails: usize,
    /// Are tight.
    pub tight: usize,
    /// Are not made.
    pub not_checked: usize,
    /// Hold.
    pub holds: usize,
}

/// A finding as it is written to JSON.
#[derive(Serialize)]
struct Placed<'a> {
    #[serde(flatten)]
    finding: &'a Finding,
    #[serde(skip_serializing_if = "Option::is_none")]
    place: Option<Stretch>,
}

/// Whether it is a check that is not made for any sump: it has no place in the file.
pub fn is_missing_check(finding: &Finding) -> bool {
    finding.grade == Grade::NotChecked && finding.parameter.is_empty()
}

impl<'a> Report<'a> {
    /// Sorts findings: the worst first, of one grade what is graver, then in the order of the file.
    pub fn new(source: &'a Source, spans: &Spans, findings: Vec<Finding>) -> Self {
        let place = |mut finding: Finding| {
            let place =
                || if is_missing_check(&finding) { None } else { spans.get(&finding.parameter) };
            let span = finding.span.clone().or_else(place);
            finding.span = span.map(|span| source.whole_letters(&span));
            finding
        };
        let mut findings: Vec<Finding> = findings.into_iter().map(place).collect();
        findings.sort_by(Finding::reading_order);
        Self { source, findings, no_way: Vec::new() }
    }

    /// Tells in the summary that no way out is known of these.
    #[must_use]
    pub fn without_way(self, no_way: Vec<String>) -> Self {
        Self { no_way, ..self }
    }

    /// ``NO WAY OUT is known of 2 parts: `a` and `b` ``; `None` where every way is known.
    pub fn no_way(&self) -> Option<String> {
        let names: Vec<String> = self.no_way.iter().map(|name| format!("`{name}`")).collect();
        let n = names.len();
        let parts = if n == 1 { "part" } else { "parts" };
        (0 < n).then(|| format!("NO WAY OUT is known of {n} {parts}: {}", fit::listed(&names)))
    }

    /// How many there are of each grade.
    pub fn counts(&self) -> Counts {
        let mut counts = Counts::default();
        for finding in &self.findings {
            *match finding.grade {
                Grade::Fails => &mut counts.fails,
                Grade::Tight => &mut counts.tight,
                Grade::NotChecked => &mut counts.not_checked,
                Grade::Holds => &mut counts.holds,
            } += 1;
        }
        counts
    }

    /// Whether a finding fails.
    pub fn fails(&self) -> bool {
        self.counts().fails > 0
    }

    /// `2 fail, 1 is tight, 30 hold; 6 checks are not made`. It never reads as if all were well
    /// while checks are missing; what is not known to come out is named first.
    pub fn summary(&self) -> String {
        let Counts { fails, tight, not_checked, holds } = self.counts();
        let parts =
            [(fails, "fails", "fail"), (tight, "is tight", "are tight"), (holds, "holds", "hold")];
        let parts: Vec<String> = parts
            .iter()
            .filter(|(n, ..)| *n > 0)
            .map(|(n, one, many)| format!("{n} {}", if *n == 1 { one } else { many }))
            .collect();
        let nothing = fails + tight == 0 && self.no_way.is_empty();
        let nothing = nothing.then(|| "nothing found in what is checked".to_owned());
        let found: Vec<String> = nothing.into_iter().chain(parts).collect();
        let found = (!found.is_empty()).then(|| found.join(", "));
        let found: Vec<String> = self.no_way().into_iter().chain(found).collect();
        let missing = match not_checked {
            0 => String::new(),
            1 => "; 1 check is not made".to_owned(),
            n => format!("; {n} checks are not made"),
        };
        found.join("; ") + &missing
    }

    /// The checks that are not made, for any sump: a sentence each.
    pub fn not_checked(&self) -> impl Iterator<Item = &Finding> {
        self.findings.iter().filter(|finding| is_missing_check(finding))
    }

    /// The report as JSON.
    pub fn to_json(&self) -> Value {
        let placed = self.findings.iter().map(|finding| {
            let place = finding.span.as_ref().map(|span| self.source.stretch(span));
            serde_json::to_value(Placed { finding, place }).expect("a finding is plain data")
        });
        json!({
            "sumpwright": env!("CARGO_PKG_VERSION"),
            "file": self.source.name,
            "counts": self.counts(),
            "findings": placed.collect::<Vec<_>>(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn missing_checks_are_counted_beside_what_is_found() {
        let source = Source { name: "a.toml".into(), text: "a = 1\n".into() };
        let summary = |findings| Report::new(&source, &Spans::default(), findings).summary();
        let missing = || Finding::not_checked("strength", "", "how strong it is");
        assert_eq!(summary(vec![]), "nothing found in what is checked");
        assert_eq!(
            summary(vec![missing()]),
            "nothing found in what is checked; 1 check is not made"
        );
        let found = vec![Finding::fails("a", "", "a"), missing(), missing()];
        assert_eq!(summary(found), "1 fails; 2 checks are not made");
    }

    #[test]
    fn what_is_not_known_to_come_out_is_never_nothing() {
        let source = Source { name: "a.toml".into(), text: "a = 1\n".into() };
        let summary = |findings: Vec<Finding>, names: &[&str]| {
            let names = names.iter().map(|name| (*name).to_owned()).collect();
            Report::new(&source, &Spans::default(), findings).without_way(names).summary()
        };
        let stuck = Finding::not_checked("sump-into-cabinet", "a", "no way was found");
        let holds = Finding::holds("b", "", "b");
        assert_eq!(
            summary(vec![stuck, holds], &["sump"]),
            "NO WAY OUT is known of 1 part: `sump`; 1 holds; 1 check is not made"
        );
        assert_eq!(summary(vec![], &["a", "b"]), "NO WAY OUT is known of 2 parts: `a` and `b`");
        assert_eq!(summary(vec![], &[]), "nothing found in what is checked");
    }

    #[test]
    fn the_worst_comes_first_and_then_the_order_of_the_file() {
        let source = Source { name: "a.toml".into(), text: "a = 1\nb = 2\n".into() };
        let findings = vec![
            Finding::holds("h", "", "h"),
            Finding::fails("b", "", "b").at(6..7),
            Finding::tight("t", "", "t"),
            Finding::fails("a", "", "a").at(0..1),
        ];
        let report = Report::new(&source, &Spans::default(), findings);
        let codes: Vec<_> = report.findings.iter().map(|finding| finding.code).collect();
        assert_eq!(codes, ["a", "b", "t", "h"]);
        assert_eq!(report.summary(), "2 fail, 1 is tight, 1 holds");
        assert_eq!(report.to_json()["findings"][1]["place"]["line"], 2);
        assert!(report.fails());
    }
}
