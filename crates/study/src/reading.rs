//! From the text of a file to a design and its findings, and on to its water and its ways out.

use design::Design;
use findings::{Finding, Grade};
use fit::Fit;
use params::Spans;

use crate::in_flow::{self, Known};
use crate::levels_shown::with_levels;
use crate::report::Report;
use crate::shopped::Shopped;
use crate::source::Source;
use crate::strong::Strong;

/// A parameter file that was read, and what came of it.
#[derive(Debug)]
pub struct Reading {
    /// The text, and what it is called.
    pub source: Source,
    /// Where in the text every parameter stands.
    pub spans: Spans,
    /// What the file says, when it could be understood.
    pub file: Option<params::File>,
    /// The design, if there is one.
    pub design: Option<Design>,
    /// Findings of reading and resolving.
    pub findings: Vec<Finding>,
}

impl Reading {
    /// Reads and resolves the text of a file.
    pub fn of(source: Source) -> Self {
        let params::Read { file, spans, mut findings } = params::read(&source.text);
        let mut design = None;
        if let Some(file) = &file {
            let resolved = design::resolve(file);
            findings.extend(resolved.findings);
            design = resolved.design;
        }
        Self { source, spans, file, design, findings }
    }

    /// The design, unless a finding about it fails: what follows from a mistake would hide the mistake.
    fn sound_design(&self) -> Option<&Design> {
        let has_failed = self.findings.iter().any(|finding| finding.grade == Grade::Fails);
        self.design.as_ref().filter(|_| !has_failed)
    }

    /// The water of the design, unless a finding about the design fails.
    pub fn wet(&self) -> Option<Wet<'_>> {
        Some(Wet::of(self, self.sound_design()?))
    }

    /// What was found about the water, or why nothing was.
    pub fn of_water(&self, wet: Option<&Wet<'_>>) -> Vec<Finding> {
        match wet {
            Some(wet) => wet.findings.clone(),
            None if self.file.is_some() => in_flow::not_while_failing().to_vec(),
            None => Vec::new(),
        }
    }

    /// How everything fits and comes out, unless a finding about the design fails.
    pub fn fitted(&self) -> Option<Fitted> {
        let design = self.sound_design()?;
        let fit = Fit::of(design);
        let findings = fit::grade(&fit, design);
        Some(Fitted { fit, findings })
    }

    /// What was found about fit, or why nothing was.
    pub fn of_fit(&self, fitted: Option<&Fitted>) -> Vec<Finding> {
        match fitted {
            Some(fitted) => fitted.findings.clone(),
            None if self.file.is_some() => vec![not_fitted()],
            None => Vec::new(),
        }
    }

    /// What the shop does, unless a finding about the design fails. `wet` is the water of the same file: its design has
    /// everything engraved.
    pub fn shopped(&self, wet: Option<&Wet<'_>>) -> Option<Shopped> {
        let design = self.sound_design()?;
        Some(Shopped::of(self.file.as_ref()?, wet.map_or(design, |wet| &wet.design)))
    }

    /// What was found about it, or why nothing was.
    pub fn of_shop(&self, shopped: Option<&Shopped>) -> Vec<Finding> {
        match shopped {
            Some(shopped) => shopped.findings.clone(),
            None if self.file.is_some() => vec![not_shopped()],
            None => Vec::new(),
        }
    }

    /// Whether it holds, unless a finding about the design fails. `wet` is the water of the same file.
    pub fn strong(&self, wet: Option<&Wet<'_>>) -> Option<Strong> {
        let design = wet.map_or(self.sound_design()?, |wet| &wet.design);
        Some(Strong::of(self.file.as_ref()?, design, wet.map(|wet| &wet.known)))
    }

    /// What was found about it, or why nothing was.
    pub fn of_strength(&self, strong: Option<&Strong>) -> Vec<Finding> {
        match strong {
            Some(strong) => strong.findings.clone(),
            None if self.file.is_some() => vec![not_judged()],
            None => Vec::new(),
        }
    }

    /// The findings, with `more` of later steps, sorted.
    pub fn report(&self, more: &[Finding]) -> Report<'_> {
        let findings = self.findings.iter().chain(more).cloned().collect();
        Report::new(&self.source, &self.spans, findings)
    }

    /// The same, naming what of `fit` is not known to come out.
    pub fn report_of_fit(&self, more: &[Finding], fit: Option<&Fit>) -> Report<'_> {
        let names = self.design.as_ref().zip(fit).map_or(Vec::new(), |(design, fit)| {
            let no_way = fit.report.no_way(design);
            no_way.into_iter().map(|which| design.removables[which].name.clone()).collect()
        });
        self.report(more).without_way(names)
    }
}

/// What is said of fit where there is nothing to look at.
fn not_fitted() -> Finding {
    let what =
        "clearances, ways out and reach: not looked at while a finding about the design fails";
    Finding::not_checked("way-out", "", what)
}

/// What is said of the shop where there is nothing to cut.
fn not_shopped() -> Finding {
    let what = "sheets, cutting and gluing: not looked at while a finding about the design fails";
    Finding::not_checked("sheets", "", what)
}

/// What is said of strength where there is nothing to load.
fn not_judged() -> Finding {
    let what =
        "strength, weight and tolerances: not looked at while a finding about the design fails";
    Finding::not_checked("strength", "", what)
}

/// How everything fits and comes out.
#[derive(Debug)]
pub struct Fitted {
    /// Clearances, ways out, reach.
    pub fit: Fit,
    /// Findings about them.
    pub findings: Vec<Finding>,
}

/// A design with what is known of its water.
#[derive(Debug)]
pub struct Wet<'a> {
    /// Levels, failures and their findings.
    pub known: Known<'a>,
    /// The design to make things from: the highest safe level is engraved on its scales, and its water
    /// stands where it does in flow.
    pub design: Design,
    /// Findings about the water.
    pub findings: Vec<Finding>,
}

impl<'a> Wet<'a> {
    fn of(reading: &Reading, dry: &'a Design) -> Self {
        let known = Known::of(dry);
        let mut findings = known.findings.clone();
        let mut design = dry.clone();
        let Some(in_flow) = &known.in_flow else { return Self { known, design, findings } };
        if let (Some(file), Some(level)) = (&reading.file, in_flow.safe_level()) {
            let resolved = design::resolve_with(file, &level);
            findings
                .extend(resolved.findings.into_iter().filter(|f| !reading.findings.contains(f)));
            design = resolved.design.unwrap_or(design);
        }
        design = with_levels(&design, &in_flow.report);
        Self { known, design, findings }
    }
}
