//! Whether glued seams hold.

use design::Design;
use findings::Finding;
use params::File;

use crate::seam::Seam;

/// Seams told by name; the rest is counted.
const NAMED: usize = 3;

/// One finding of the seams that fail for certain, one of those that cannot be shown to hold, one of the rest.
pub(crate) fn check(seams: &[Seam], file: &File, design: &Design) -> Vec<Finding> {
    let system = file.report.system();
    let source = "peel 6 M / s² + N / s, shear 3/2 V / s; M of the seam clamped alone is an upper bound: a real seam turns and passes it on";
    let hint = "bond more width: a fillet strip along the inside doubles it and quarters the peel; take thicker sheet, or a rim; where it counts have a test piece glued and broken";
    let told = |seam: &Seam| {
        format!(
            "{} ({} peel, {} shear, of {})",
            seam.words,
            system.show_stress(seam.peel_mpa),
            system.show_stress(seam.shear_mpa),
            system.show_stress(seam.allowable_mpa)
        )
    };
    let listed = |some: &[&Seam]| {
        let mut names: Vec<String> = some.iter().take(NAMED).map(|seam| told(seam)).collect();
        if some.len() > NAMED {
            names.push(format!("{} more", some.len() - NAMED));
        }
        names.join("; ")
    };
    let for_certain = |seam: &&Seam| seam.certain_mpa > seam.allowable_mpa;
    let (fail, others): (Vec<&Seam>, Vec<&Seam>) = seams.iter().partition(for_certain);
    let (open, hold): (Vec<&Seam>, Vec<&Seam>) =
        others.into_iter().partition(|seam| seam.factor() < 1.0);
    let limit = |finding: Finding, seam: &Seam| {
        let [measured, limit] = [seam.peel_mpa.max(seam.shear_mpa), seam.allowable_mpa]
            .map(|mpa| (mpa * 100.0).round() / 100.0);
        finding.with_limit(measured, limit, "MPa").with_source(source)
    };
    let mut findings = Vec::new();
    if let Some(worst) = fail.first() {
        let message = format!(
            "pull and shear alone are more than these seams may carry for years: {}",
            listed(&fail)
        );
        findings.push(
            limit(Finding::fails("seam-strength", &worst.parameter, message), worst)
                .with_hint(hint),
        );
    }
    if let Some(worst) = open.first() {
        let message = format!(
            "these seams cannot be shown to hold: if they were rigid they would carry more than {:.0} % of what the sheet may carry for years: {}",
            100.0 * file.strength.joint,
            listed(&open)
        );
        findings.push(
            limit(Finding::tight("seam-strength", &worst.parameter, message), worst)
                .with_hint(hint),
        );
    }
    if let (Some(weakest), []) = (hold.first(), findings.as_slice()) {
        let message = format!("all glued seams hold; the weakest is {}", told(weakest));
        findings.push(limit(Finding::holds("seam-strength", &weakest.parameter, message), weakest));
    }
    findings.extend(not_assessed(seams, design));
    findings
}

/// Glued joints of which nothing is reckoned: what they hold is small, or no panel of this theory.
fn not_assessed(seams: &[Seam], design: &Design) -> Option<Finding> {
    let is_left = |(index, joint): &(usize, &design::Joint)| {
        joint.kind.is_glued() && seams.iter().all(|seam| seam.joint != *index)
    };
    let left = design.joints.iter().enumerate().filter(is_left);
    let mut names: Vec<&str> =
        left.map(|(_, joint)| design.placed[joint.a].name.as_str()).collect();
    names.dedup();
    let first = names.first()?;
    let parameter = design.placed.iter().find(|p| p.name == *first).map(|p| p.parameter.as_str());
    let more = names.len().saturating_sub(NAMED);
    let mut words = names[..names.len().min(NAMED)].join(", ");
    if more > 0 {
        words.push_str(&format!(" and {more} more"));
    }
    let message = format!(
        "not assessed are the glued joints of {words}; nor the forces at the ends of seams, and the inner corners of the rim"
    );
    Some(
        Finding::not_checked("seams-not-assessed", parameter.unwrap_or_default(), message)
            .with_hint("bond guides and ledges over their whole face: loose leaves and shelves hang on them"),
    )
}
