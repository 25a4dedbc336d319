use findings::Grade;

use super::*;
use crate::sample::changed;

fn stress(peel_mpa: f64, shared_peel_mpa: f64, duration: Duration) -> SeamStress {
    SeamStress {
        pull_n_mm: 0.1,
        shear_n_mm: 0.1,
        moment_n: peel_mpa * 64.0 / 6.0,
        shared_moment_n: shared_peel_mpa * 64.0 / 6.0,
        peel_mpa,
        shared_peel_mpa,
        shear_mpa: 0.1,
        load: match duration {
            Duration::Years => "the level in flow".to_owned(),
            _ => "water to the rim".to_owned(),
        },
        duration,
    }
}

/// Of sheet that may carry so much for years, and 9 MPa for hours.
fn seam(most: SeamStress, years: Option<SeamStress>, sheet_mpa: f64) -> Seam {
    Seam {
        joint: 0,
        words: "lower edge of front wall to bottom".to_owned(),
        parameter: "box".to_owned(),
        width_mm: 8.0,
        most,
        years,
        certain_mpa: 0.1,
        sheet_mpa,
        sheet_brief_mpa: 9.0,
        allowable_mpa: 0.3 * sheet_mpa,
    }
}

fn brief(peel_mpa: f64, sheet_mpa: f64) -> Seam {
    seam(stress(peel_mpa, peel_mpa, Duration::Hours), None, sheet_mpa)
}

fn found(seams: &[Seam]) -> Finding {
    let (file, design) = changed(&[]);
    check(seams, &file, &design).remove(0)
}

#[test]
fn the_limit_is_named_with_what_it_is_a_share_of() {
    let told = |seams: &[Seam]| found(seams).message;
    // 30 % of 4 and of 5 MPa.
    let one = told(&[brief(2.0, 5.0)]);
    assert!(one.contains("their limit, 1.5 MPa for years"), "{one}");
    assert!(one.contains("(30 % by `strength.joint` of the 5 MPa"), "{one}");
    assert!(one.starts_with("these seams cannot be shown to hold"), "{one}");
    let two = told(&[brief(2.0, 5.0), brief(2.0, 4.0)]);
    assert!(two.contains("1.2 MPa to 1.5 MPa for years"), "{two}");
    assert!(two.contains("(30 % by `strength.joint` of the 4 MPa to 5 MPa"), "{two}");
    let hold = told(&[brief(0.5, 5.0)]);
    assert!(hold.starts_with("all glued seams stay below their limit, 1.5 MPa"), "{hold}");
}

/// What is there for years comes first, then what is there for hours.
#[test]
fn years_are_told_before_hours() {
    let seam =
        seam(stress(3.0, 3.0, Duration::Hours), Some(stress(1.6, 1.6, Duration::Years)), 5.0);
    let finding = found(&[seam]);
    assert_eq!(finding.grade, Grade::Tight);
    let message = finding.message;
    assert!(message.starts_with("for years these seams carry more than their limit"), "{message}");
    assert!(
        message.contains(
            "(at most 1.6 MPa peel for years with the level in flow; at most 3 MPa peel for hours with water to the rim)"
        ),
        "{message}"
    );
}

#[test]
fn an_estimate_is_told_where_it_is_less_than_the_bound() {
    let both = stress(2.0, 1.2, Duration::Years);
    let message = found(&[seam(both.clone(), Some(both), 5.0)]).message;
    assert!(message.contains("(about 1.2 MPa, at most 2 MPa peel for years"), "{message}");
}

/// A limit of 1.5 MPa.
#[test]
fn words_and_grades_go_in_steps() {
    let years = |bound: f64, estimate: f64| {
        let stress = stress(bound, estimate, Duration::Years);
        let finding = found(&[seam(stress.clone(), Some(stress), 5.0)]);
        (finding.grade, finding.message.chars().take(9).collect::<String>())
    };
    let is = |grade: Grade, words: &str| (grade, words.to_owned());
    assert_eq!(years(1.4, 1.4), is(Grade::Holds, "all glued"));
    assert_eq!(years(4.6, 1.4), is(Grade::Tight, "these sea"), "both panels share the moment");
    assert_eq!(years(4.4, 1.6), is(Grade::Tight, "for years"));
    assert_eq!(years(4.6, 1.6), is(Grade::Fails, "far beyon"));
    let hours = |mpa: f64| found(&[brief(mpa, 5.0)]).grade;
    assert_eq!(hours(8.9), Grade::Tight, "what its sheet may carry for hours");
    assert_eq!(hours(9.1), Grade::Fails, "it would craze the sheet beside it");
}

/// The width that the hint gives, put into the formula, gives the limit.
#[test]
fn the_wanted_width_is_enough() {
    let seam = brief(4.0, 5.0);
    let wanted = seam.wanted_width_mm();
    let peel = 6.0 * seam.most.moment_n / (wanted * wanted) + seam.most.pull_n_mm / wanted;
    assert!((peel - 1.5).abs() < 1e-9, "{peel}");
    let hint = |seam: Seam| found(&[seam]).hint.expect("a hint");
    let told = hint(seam);
    assert!(told.starts_with("about 14 mm of bonded width"), "{told}");
    assert!(told.contains("does not reckon with"), "{told}");
    assert!(hint(brief(60.0, 5.0)).contains("thicker sheet alone does not do"));
}

#[test]
fn a_rim_is_advised_where_there_is_none() {
    let advised = |file: &File| hint(&[&brief(4.0, 5.0)], file).contains("a rim takes load off");
    let (mut file, _) = changed(&[]);
    let rim = file.enclosure.rim.take();
    assert!(advised(&file));
    file.enclosure.rim = rim.or_else(|| {
        let (file, _) = changed(&[("[box]", "[box]\nrim = { width = 50 }")]);
        file.enclosure.rim
    });
    assert!(file.enclosure.rim.is_some() && !advised(&file));
}
