//! What was found, and which bodies it is about.

use show::{Finding, Thing, ThingId};

use super::Studied;
use crate::source::Source;

/// Every finding with the bodies that it is about; told to these bodies, too.
pub(super) fn all(of: &Studied<'_>, things: &mut [Thing]) -> Vec<Finding> {
    let Studied { reading, report, .. } = of;
    let mut all = Vec::new();
    for (k, finding) in report.findings.iter().enumerate() {
        let about = about(&finding.parameter, things);
        for id in &about {
            things[*id].findings.push(k);
        }
        all.push(Finding { things: about, ..one(finding, &reading.source) });
    }
    all
}

/// One finding as it is shown, with its line, and no bodies yet.
pub fn one(finding: &findings::Finding, source: &Source) -> Finding {
    Finding {
        grade: finding.grade,
        code: finding.code.to_owned(),
        message: finding.message.clone(),
        hint: finding.hint.clone(),
        parameter: finding.parameter.clone(),
        line: finding.span.as_ref().map(|span| source.stretch(span).line),
        things: Vec::new(),
    }
}

/// The bodies whose parameter is nearest around that of a finding: a door before its leaf. Where there are none, those
/// that are made from what lies within it.
fn about(parameter: &str, things: &[Thing]) -> Vec<ThingId> {
    if parameter.is_empty() {
        return Vec::new();
    }
    let around = things.iter().filter(|thing| is_within(parameter, &thing.parameter));
    let longest = around.map(|thing| thing.parameter.len()).max();
    let is_about = |thing: &Thing| match longest {
        Some(length) => thing.parameter.len() == length && is_within(parameter, &thing.parameter),
        None => is_within(&thing.parameter, parameter),
    };
    (0..things.len()).filter(|id| is_about(&things[*id])).collect()
}

/// Whether a path of a parameter is another or leads on from it.
pub(super) fn is_within(inner: &str, outer: &str) -> bool {
    !outer.is_empty()
        && inner
            .strip_prefix(outer)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_lead_on_only_at_their_joints() {
        assert!(is_within("leaf.comb.crest", "leaf.comb"));
        assert!(is_within("drain[1]", "drain"));
        assert!(is_within("drain[1]", "drain[1]"));
        assert!(!is_within("leaf.combs", "leaf.comb"));
        assert!(!is_within("leaf", ""));
    }
}
