//! From a path to a design and its findings: what `check`, `make` and `picture` begin with.

use std::path::Path;

use design::Design;
use findings::Finding;
use params::Spans;

use crate::Outcome;
use crate::not_yet;
use crate::report::Report;
use crate::source::Source;

/// A parameter file that was read, and what came of it.
#[derive(Debug)]
pub(crate) struct Reading {
    pub(crate) source: Source,
    pub(crate) spans: Spans,
    /// What the file says, when it could be understood.
    pub(crate) file: Option<params::File>,
    /// The design, if there is one.
    pub(crate) design: Option<Design>,
    /// Findings of reading and resolving.
    pub(crate) findings: Vec<Finding>,
}

impl Reading {
    /// Reads and resolves a file.
    ///
    /// # Errors
    /// When the file is not there or is no text.
    pub(crate) fn of(path: &Path) -> anyhow::Result<Self> {
        let source = Source::read(path)?;
        let params::Read { file, spans, mut findings } = params::read(&source.text);
        let mut design = None;
        if let Some(file) = &file {
            let resolved = design::resolve(file);
            findings.extend(resolved.findings);
            design = resolved.design;
            findings.extend(not_yet::findings());
        }
        Ok(Self { source, spans, file, design, findings })
    }

    /// The findings, with `more` of later steps, sorted.
    pub(crate) fn report(&self, more: &[Finding]) -> Report<'_> {
        let findings = self.findings.iter().chain(more).cloned().collect();
        Report::new(&self.source, &self.spans, findings)
    }

    /// How a command comes out that found `report`.
    pub(crate) fn outcome(&self, report: &Report<'_>) -> Outcome {
        if self.file.is_some() { report.outcome() } else { Outcome::WrongFile }
    }
}
