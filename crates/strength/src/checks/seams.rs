//! Whether glued seams hold.

use design::Design;
use findings::Finding;
use params::File;

use crate::seam::Seam;
use crate::seams::left_out;

/// Seams told by name; the rest is counted.
const NAMED: usize = 3;

/// One finding of the seams that fail for certain, one of those that cannot be shown to hold, one of the rest.
pub(crate) fn check(seams: &[Seam], file: &File, design: &Design) -> Vec<Finding> {
    let system = file.report.system();
    let source = "our judgement for the limit; peel 6 M / s² + N / s, shear 3/2 V / s; M of the seam clamped alone is an upper bound: a real seam turns and passes it on";
    let hint = "bond more width: a fillet strip along the inside doubles it and quarters the peel; take thicker sheet, or a rim; where it counts have a test piece glued and broken";
    // The limit is told once, before the names.
    let told = |seam: &Seam| {
        let [peel, shear] = [seam.peel_mpa, seam.shear_mpa].map(|mpa| system.show_stress(mpa));
        format!("{} ({peel} peel, {shear} shear)", seam.words)
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
            "pull and shear alone are more than the limit of these seams, {}: {}",
            limit_words(&fail, file),
            listed(&fail)
        );
        findings.push(
            limit(Finding::fails("seam-strength", &worst.parameter, message), worst)
                .with_hint(hint),
        );
    }
    if let Some(worst) = open.first() {
        let message = format!(
            "these seams cannot be shown to hold: if they were rigid they would carry more than their limit, {}: {}",
            limit_words(&open, file),
            listed(&open)
        );
        findings.push(
            limit(Finding::tight("seam-strength", &worst.parameter, message), worst)
                .with_hint(hint),
        );
    }
    if let (Some(weakest), []) = (hold.first(), findings.as_slice()) {
        let message = format!(
            "all glued seams stay below their limit, {}; the weakest is {}",
            limit_words(&[*weakest], file),
            told(weakest)
        );
        findings.push(limit(Finding::holds("seam-strength", &weakest.parameter, message), weakest));
    }
    findings.extend(not_assessed(seams, design));
    findings
}

/// The limit of seams, and what it is a share of: `1.3 MPa (30 % of the 4.5 MPa that its sheet may carry for years dry; …)`.
/// Of several sheets, the least and the greatest.
fn limit_words(seams: &[&Seam], file: &File) -> String {
    let system = file.report.system();
    let ends = |of: fn(&Seam) -> f64| {
        let all = || seams.iter().map(|seam| of(seam));
        let [least, most] = [all().fold(f64::INFINITY, f64::min), all().fold(0.0, f64::max)]
            .map(|mpa| system.show_stress(mpa));
        if least == most { least } else { format!("{least} to {most}") }
    };
    format!(
        "{} ({:.0} % by `strength.joint` of the {} that their sheet may carry for years dry: tests of joints go by dry sheet, and the share takes in what water and years do)",
        ends(|seam| seam.allowable_mpa),
        100.0 * file.strength.joint,
        ends(|seam| seam.sheet_mpa)
    )
}

/// Glued joints of which nothing is reckoned: what they hold is small, or no panel of this theory.
fn not_assessed(seams: &[Seam], design: &Design) -> Option<Finding> {
    let names = left_out(seams, design);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::changed;

    fn seam(peel_mpa: f64, sheet_mpa: f64) -> Seam {
        Seam {
            joint: 0,
            words: "lower edge of front wall to bottom".to_owned(),
            parameter: "box".to_owned(),
            width_mm: 8.0,
            pull_n_mm: 0.1,
            shear_n_mm: 0.1,
            moment_n: 1.0,
            peel_mpa,
            shear_mpa: 0.1,
            certain_mpa: 0.1,
            sheet_mpa,
            allowable_mpa: 0.3 * sheet_mpa,
            load: "water to the rim".to_owned(),
        }
    }

    #[test]
    fn the_limit_is_named_with_what_it_is_a_share_of() {
        let (file, design) = changed(&[]);
        let told = |seams: &[Seam]| check(seams, &file, &design)[0].message.clone();
        // 30 % of 4 and of 5 MPa.
        let one = told(&[seam(2.0, 5.0)]);
        assert!(
            one.contains("their limit, 1.5 MPa (30 % by `strength.joint` of the 5 MPa"),
            "{one}"
        );
        assert!(one.starts_with("these seams cannot be shown to hold"), "{one}");
        let two = told(&[seam(2.0, 5.0), seam(2.0, 4.0)]);
        assert!(
            two.contains("1.2 MPa to 1.5 MPa (30 % by `strength.joint` of the 4 MPa to 5 MPa"),
            "{two}"
        );
        let hold = told(&[seam(0.5, 5.0)]);
        assert!(hold.starts_with("all glued seams stay below their limit, 1.5 MPa"), "{hold}");
    }
}
