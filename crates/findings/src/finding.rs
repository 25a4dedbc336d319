use std::cmp::Ordering;
use std::fmt;
use std::ops::Range;

use serde::Serialize;

use crate::family::Family;

/// How a check came out. Ordered from worst to best.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Grade {
    /// It cannot be built or used like this.
    Fails,
    /// It works, but with less margin than it should have.
    Tight,
    /// The check was not made; the message gives the reason.
    NotChecked,
    /// It works.
    Holds,
}

/// A number against its limit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Limit {
    /// What was measured, in `unit`.
    pub measured: f64,
    /// What it is held against, in `unit`.
    pub limit: f64,
    /// The unit of both: `mm`, `L`, `MPa`.
    pub unit: &'static str,
}

/// One result of one check. Plain data.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[must_use]
pub struct Finding {
    /// How the check came out.
    pub grade: Grade,
    /// Stable name of the check, such as `hole-near-edge`.
    pub code: &'static str,
    /// Path of the parameter it is about, such as `leaf.comb.crest.height` or `along[2].length`; empty
    /// for the whole file.
    pub parameter: String,
    /// What is so, with number and unit, in the user's words.
    pub message: String,
    /// Measured against limit, where the check is one of numbers.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit: Option<Limit>,
    /// Where the limit comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// What to do.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hint: Option<String>,
    /// Bytes in the file, when known better than by `parameter`.
    #[serde(skip)]
    pub span: Option<Range<usize>>,
}

impl Finding {
    fn new(
        grade: Grade,
        code: &'static str,
        parameter: impl Into<String>,
        message: impl Into<String>,
    ) -> Self {
        let (parameter, message) = (parameter.into(), message.into());
        Self { grade, code, parameter, message, limit: None, source: None, hint: None, span: None }
    }

    /// A finding that stops the build.
    pub fn fails(
        code: &'static str,
        parameter: impl Into<String>,
        message: impl Into<String>,
    ) -> Self {
        Self::new(Grade::Fails, code, parameter, message)
    }

    /// A finding about too little margin.
    pub fn tight(
        code: &'static str,
        parameter: impl Into<String>,
        message: impl Into<String>,
    ) -> Self {
        Self::new(Grade::Tight, code, parameter, message)
    }

    /// A check that was made and holds.
    pub fn holds(
        code: &'static str,
        parameter: impl Into<String>,
        message: impl Into<String>,
    ) -> Self {
        Self::new(Grade::Holds, code, parameter, message)
    }

    /// A check that could not be made; the message gives the reason.
    pub fn not_checked(
        code: &'static str,
        parameter: impl Into<String>,
        message: impl Into<String>,
    ) -> Self {
        Self::new(Grade::NotChecked, code, parameter, message)
    }

    /// Adds what was measured and what it was held against.
    pub fn with_limit(mut self, measured: f64, limit: f64, unit: &'static str) -> Self {
        self.limit = Some(Limit { measured, limit, unit });
        self
    }

    /// Adds where the limit comes from.
    pub fn with_source(mut self, source: impl Into<String>) -> Self {
        self.source = Some(source.into());
        self
    }

    /// Adds what to do.
    pub fn with_hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// Adds the place in the file, where it is known better than by the parameter.
    pub fn at(mut self, span: Range<usize>) -> Self {
        self.span = Some(span);
        self
    }

    /// The order in which findings are read: worst first, of one grade what is graver ([`Family`]), then
    /// by their place in the file, then by parameter (`along[2]` before `along[10]`) and code. Those without a place come after those with one.
    pub fn reading_order(&self, other: &Self) -> Ordering {
        let place = |f: &Self| f.span.as_ref().map_or(usize::MAX, |span| span.start);
        (self.grade.cmp(&other.grade))
            .then_with(|| Family::of(self.code).cmp(&Family::of(other.code)))
            .then_with(|| place(self).cmp(&place(other)))
            .then_with(|| pieces(&self.parameter).cmp(pieces(&other.parameter)))
            .then_with(|| (self.code, &self.message).cmp(&(other.code, &other.message)))
    }

    /// Measured less limit: negative when the limit, a least value, is missed.
    pub fn margin(&self) -> Option<f64> {
        self.limit.map(|l| l.measured - l.limit)
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Fails => "fails",
            Self::Tight => "tight",
            Self::NotChecked => "not checked",
            Self::Holds => "holds",
        })
    }
}

impl fmt::Display for Finding {
    /// Plain text of several lines, the last without a line end, numbers to four decimals:
    /// ```text
    /// fails[hole-near-edge] wall_fitting[0].hole
    ///   the hole is 12 mm from the edge of the wall
    ///   measured 12 mm, limit 44 mm
    ///   source: common practice
    ///   help: move the hole
    /// ```
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}[{}]", self.grade, self.code)?;
        if !self.parameter.is_empty() {
            write!(f, " {}", self.parameter)?;
        }
        write!(f, "\n  {}", self.message)?;
        if let Some(Limit { measured, limit, unit }) = self.limit {
            let [measured, limit] = [measured, limit].map(|number| (number * 1e4).round() / 1e4);
            write!(f, "\n  measured {measured} {unit}, limit {limit} {unit}")?;
        }
        if let Some(source) = &self.source {
            write!(f, "\n  source: {source}")?;
        }
        if let Some(hint) = &self.hint {
            write!(f, "\n  help: {hint}")?;
        }
        Ok(())
    }
}

/// A path in pieces that compare as people count: text by letters, digits by value.
fn pieces(path: &str) -> impl Iterator<Item = (&str, u64)> {
    path.split_inclusive(|c: char| !c.is_ascii_digit()).map(|piece| {
        let text = piece.trim_start_matches(|c: char| c.is_ascii_digit());
        let digits = &piece[..piece.len() - text.len()];
        // An index too great for a number sorts last.
        (text, if digits.is_empty() { 0 } else { digits.parse().unwrap_or(u64::MAX) })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sorted(mut findings: Vec<Finding>) -> Vec<String> {
        findings.sort_by(Finding::reading_order);
        findings.into_iter().map(|f| f.parameter).collect()
    }

    #[test]
    fn the_worst_comes_first() {
        let findings = vec![
            Finding::holds("a", "c", ""),
            Finding::tight("a", "b", ""),
            Finding::fails("a", "z", ""),
        ];
        assert_eq!(sorted(findings), ["z", "b", "c"]);
    }

    #[test]
    fn places_come_in_the_order_of_the_file() {
        let findings = vec![
            Finding::fails("a", "a", ""),
            Finding::fails("a", "b", "").at(9..10),
            Finding::fails("a", "c", "").at(3..4),
        ];
        assert_eq!(sorted(findings), ["c", "b", "a"]);
    }

    #[test]
    fn of_one_grade_what_is_graver_comes_first_wherever_it_stands() {
        let findings = vec![
            Finding::tight("small-part-under-vacuum", "d", "").at(0..1),
            Finding::tight("hole-near-edge", "c", "").at(1..2),
            Finding::tight("power-cut", "b", "").at(2..3),
            Finding::tight("panel-strength", "a", "").at(3..4),
            Finding::fails("price-of-nothing", "first", "").at(9..10),
        ];
        assert_eq!(sorted(findings), ["first", "a", "b", "c", "d"]);
    }

    #[test]
    fn indices_are_counted() {
        let names =
            ["along[10].length", "along[2].length", "along[2]", "box", "along[2].across[0]"];
        let findings = names.map(|name| Finding::fails("a", name, "")).to_vec();
        assert_eq!(
            sorted(findings),
            ["along[2]", "along[2].across[0]", "along[2].length", "along[10].length", "box"]
        );
    }

    #[test]
    fn plain_text_says_all() {
        let finding = Finding::fails(
            "hole-near-edge",
            "wall_fitting[0].hole",
            "the hole is 12 mm from the edge",
        )
        .with_limit(12.0, 44.0, "mm")
        .with_source("common practice")
        .with_hint("move the hole");
        assert_eq!(
            finding.to_string(),
            "fails[hole-near-edge] wall_fitting[0].hole\n  the hole is 12 mm from the edge\n  measured 12 mm, limit 44 mm\n  source: common practice\n  help: move the hole"
        );
    }
}
