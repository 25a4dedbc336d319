use std::ops::Range;

use serde::Serialize;

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
    fn new(grade: Grade, code: &'static str, parameter: impl Into<String>, message: impl Into<String>) -> Self {
        let (parameter, message) = (parameter.into(), message.into());
        Self { grade, code, parameter, message, limit: None, source: None, hint: None, span: None }
    }

    /// A finding that stops the build.
    pub fn fails(code: &'static str, parameter: impl Into<String>, message: impl Into<String>) -> Self {
        Self::new(Grade::Fails, code, parameter, message)
    }

    /// A finding about too little margin.
    pub fn tight(code: &'static str, parameter: impl Into<String>, message: impl Into<String>) -> Self {
        Self::new(Grade::Tight, code, parameter, message)
    }

    /// A check that was made and holds.
    pub fn holds(code: &'static str, parameter: impl Into<String>, message: impl Into<String>) -> Self {
        Self::new(Grade::Holds, code, parameter, message)
    }

    /// A check that could not be made; the message gives the reason.
    pub fn not_checked(code: &'static str, parameter: impl Into<String>, message: impl Into<String>) -> Self {
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

    /// Measured less limit: negative when the limit, a least value, is missed.
    pub fn margin(&self) -> Option<f64> {
        self.limit.map(|l| l.measured - l.limit)
    }
}
