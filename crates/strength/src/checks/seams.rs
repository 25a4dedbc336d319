//! Whether glued seams hold.

use design::{Design, Placed};
use findings::Finding;
use params::File;
use units::Length;

use crate::panel::Duration;
use crate::seam::{FAR, Seam, SeamStanding, SeamStress};
use crate::seams::left_out;

/// Seams told by name; the rest is counted.
const NAMED: usize = 3;
/// An estimate that is told beside its bound is less than this share of it.
const TELLING: f64 = 0.95;
/// Sheet that is thicker is rarely sold, mm (common practice).
const THICKEST_MM: f64 = 30.0;

const SOURCE: &str = "our judgement for the limit; peel 6 M / s² + N / s, shear 3/2 V / s; M of the seam clamped alone is an upper bound, for a real seam turns and passes it on; where two panels of the box meet, the estimate is their moments shared by stiffness (moment distribution, Cross)";

/// One finding for each way in which seams stand to their limit; that all hold is told only where all do.
pub(crate) fn check(seams: &[Seam], file: &File, design: &Design) -> Vec<Finding> {
    let mut findings: Vec<Finding> = [
        SeamStanding::Fails,
        SeamStanding::FarBeyond,
        SeamStanding::BeyondForYears,
        SeamStanding::Open,
    ]
    .into_iter()
    .filter_map(|standing| {
        let of_it: Vec<&Seam> = seams.iter().filter(|seam| seam.standing() == standing).collect();
        weak(standing, &of_it, file)
    })
    .collect();
    if let (Some(weakest), []) = (seams.first(), findings.as_slice()) {
        let message = format!(
            "all glued seams stay below their limit, {}; the weakest is {}",
            limit_words(&[weakest], file),
            told(weakest, file)
        );
        findings.push(
            Finding::holds("seam-strength", &weakest.parameter, message)
                .with_limit(
                    rounded(weakest.most.bound_mpa()),
                    rounded(weakest.allowable_mpa),
                    "MPa",
                )
                .with_source(SOURCE),
        );
    }
    findings.extend(not_assessed(seams, design));
    findings
}

/// Seams that stand alike and are not shown to hold.
fn weak(standing: SeamStanding, seams: &[&Seam], file: &File) -> Option<Finding> {
    let worst = seams.first()?;
    let finding = if standing.is_failing() { Finding::fails } else { Finding::tight };
    let limit = limit_words(seams, file);
    let times = seams.iter().map(|seam| 1.0 / seam.factor()).fold(0.0, f64::max);
    let (what, mpa) = match standing {
        SeamStanding::Fails => (
            format!("pull and shear alone are more than the limit of these seams, {limit}"),
            worst.certain_mpa,
        ),
        SeamStanding::FarBeyond => (
            format!(
                "far beyond, do not build so: what stands against these seams for years is more than {FAR:.0} times their limit, {limit}, or what is on them for a shorter time more than the sheet beside them may carry for so long"
            ),
            worst.most.bound_mpa(),
        ),
        SeamStanding::BeyondForYears => (
            format!(
                "for years these seams carry more than their limit, {limit}, by an estimate that takes them as rigid; they may leak or crack after months or years"
            ),
            worst.years.as_ref().map_or(0.0, SeamStress::estimate_mpa),
        ),
        SeamStanding::Open => (
            format!(
                "these seams cannot be shown to hold: an upper bound, that of a rigid seam, is up to {times:.1} times their limit, {limit}"
            ),
            worst.most.bound_mpa(),
        ),
        SeamStanding::Holds => return None,
    };
    let mut names: Vec<String> = seams.iter().take(NAMED).map(|seam| told(seam, file)).collect();
    if seams.len() > NAMED {
        names.push(format!("{} more", seams.len() - NAMED));
    }
    let message = format!("{what}: {}", names.join("; "));
    Some(
        finding("seam-strength", &worst.parameter, message)
            .with_limit(rounded(mpa), rounded(worst.allowable_mpa), "MPa")
            .with_source(SOURCE)
            .with_hint(hint(seams, file)),
    )
}

fn rounded(mpa: f64) -> f64 {
    (mpa * 100.0).round() / 100.0
}

/// A seam with what it carries for years, then with what it carries at most for a shorter time.
fn told(seam: &Seam, file: &File) -> String {
    let system = file.report.system();
    let much = |stress: &SeamStress| {
        let (peel, shear) = (stress.peel_mpa, stress.shear_mpa);
        let kind = if peel >= shear { "peel" } else { "shear" };
        let estimate = stress.estimate_mpa();
        let about = if estimate < TELLING * stress.bound_mpa() {
            format!("about {}, ", system.show_stress(estimate))
        } else {
            String::new()
        };
        let how_long = match stress.duration {
            Duration::Hours => "for hours",
            Duration::Days => "for days",
            Duration::Years => "for years",
        };
        format!(
            "{about}at most {} {kind} {how_long} with {}",
            system.show_stress(stress.bound_mpa()),
            stress.load
        )
    };
    let years = seam.years.iter().map(much);
    let brief = (seam.most.duration != Duration::Years).then(|| much(&seam.most));
    let all: Vec<String> = years.chain(brief).collect();
    format!("{} ({})", seam.words, all.join("; "))
}

/// What to do: how much bonded width would do, and what this program does not reckon with.
fn hint(seams: &[&Seam], file: &File) -> String {
    let wanted = seams.iter().map(|seam| seam.wanted_width_mm()).fold(0.0, f64::max);
    let show = |mm: f64| Length::mm(mm).show(file.report.system());
    let width = if wanted > THICKEST_MM {
        format!(
            "they would need {} of bonded width, more than sheet is sold thick: thicker sheet alone does not do, make the box lower or shorter",
            show(wanted.ceil())
        )
    } else {
        format!(
            "about {} of bonded width would hold even as rigid seams: take the panels whose edges are glued there of sheet so thick",
            show(wanted.ceil())
        )
    };
    let rim = if file.enclosure.rim.is_some() {
        ""
    } else {
        "; a rim takes load off the ends of upright seams (not tried here)"
    };
    format!(
        "{width}{rim}. Fillet strips along the inside help, but sumpwright does not reckon with them: the finding stays, so have a test piece glued so and broken"
    )
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
        "{} for years, to which loads of hours are held too ({:.0} % by `strength.joint` of the {} that their sheet may carry for years dry: tests of joints go by dry sheet, and the share takes in what water and years do)",
        ends(|seam| seam.allowable_mpa),
        100.0 * file.strength.joint,
        ends(|seam| seam.sheet_mpa)
    )
}

/// Glued joints of which nothing is reckoned: what they hold is small, or no panel of this theory.
fn not_assessed(seams: &[Seam], design: &Design) -> Option<Finding> {
    let parts = left_out(seams, design);
    let first: &Placed = parts.first()?;
    let more = parts.len().saturating_sub(NAMED);
    let named: Vec<&str> = parts.iter().take(NAMED).map(|part| part.name.as_str()).collect();
    let mut words = named.join(", ");
    if more > 0 {
        words.push_str(&format!(" and {more} more"));
    }
    let message = format!(
        "not assessed are the glued joints of {words}; nor the forces at the ends of seams, and the inner corners of the rim"
    );
    Some(Finding::not_checked("seams-not-assessed", &first.parameter, message).with_hint(
        "bond guides and ledges over their whole face: loose leaves and shelves hang on them",
    ))
}

#[cfg(test)]
mod tests;
