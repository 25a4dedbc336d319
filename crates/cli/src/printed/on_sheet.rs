//! The sheet that fittings are made for: by caliper with `--sheet`, by a measure of one of them, or as usual.

use anyhow::bail;
use fittings::KINDS;
use units::{Length, System};

use super::asked::Asked;

/// The measure that `--sheet` stands for.
const SHEET: &str = "sheet";
/// How much thinner it is at its thinnest place.
const SPREAD: &str = "spread";
/// The choice of a fitting that holds by being pressed on its sheet.
const PRESSED: &str = "pressed";

/// Makes what sits on a sheet for the one by caliper, if there is one. Gives what is to be known of it.
///
/// # Errors
/// When nothing of what is asked for sits on a sheet.
pub(super) fn laid(
    all: &mut [Asked],
    band: Option<[Length; 2]>,
    system: System,
) -> anyhow::Result<Vec<String>> {
    match band {
        Some(band) => lay(all, band, system),
        None => Ok(as_usual(all, system).into_iter().collect()),
    }
}

/// A fitting goes over the thickest place of its sheet; one that is pressed on must hold at the thinnest. What was given
/// for a kind itself counts more, and where that is another sheet it is said.
fn lay(
    all: &mut [Asked],
    [least, most]: [Length; 2],
    system: System,
) -> anyhow::Result<Vec<String>> {
    let mut is_of_use = all.is_empty();
    let mut said = Vec::new();
    for asked in all {
        let Some(measure) = asked.measure(SHEET).filter(|m| asked.counts(m)) else { continue };
        is_of_use = true;
        let is_pressed = asked.given(PRESSED).is_some_and(|value| value > 0.5);
        let thickness = if is_pressed { least } else { most };
        match asked.given(SHEET) {
            None => asked.given.push((measure.name, thickness.to_mm())),
            Some(mm) if (mm - thickness.to_mm()).abs() > HAIR_MM => said.push(format!(
                "this `{}` is made for the sheet of {} that is given with it, not for that of `--sheet`: there it would be {}",
                asked.kind.name,
                Length::mm(mm).show_fine(system),
                thickness.show_fine(system)
            )),
            Some(_) => {}
        }
        // How uneven it is, for what grips it.
        let spread = asked.measure(SPREAD).filter(|m| asked.counts(m));
        if let Some(spread) = spread.filter(|_| least.to_mm() < most.to_mm())
            && asked.given(SPREAD).is_none()
        {
            asked.given.push((spread.name, most.to_mm() - least.to_mm()));
        }
    }
    if !is_of_use {
        let names: Vec<&str> = KINDS
            .iter()
            .filter(|kind| kind.measures.iter().any(|m| m.name == SHEET))
            .map(|kind| kind.name)
            .collect();
        bail!(
            "`--sheet` is of no use here: nothing of what is asked for sits on a sheet; these do: {}",
            names.join(", ")
        );
    }
    Ok(said)
}

/// What is said where nobody has told the sheet.
fn as_usual(all: &[Asked], system: System) -> Option<String> {
    let untold = all.iter().filter_map(|asked| {
        let measure = asked.measure(SHEET).filter(|m| asked.counts(m))?;
        asked.given(SHEET).is_none().then_some((asked.kind.name, measure.usual))
    });
    let untold: Vec<(&str, f64)> = untold.collect();
    let (_, usual) = untold.first()?;
    let mut names: Vec<String> = untold.iter().map(|(name, _)| format!("`{name}`")).collect();
    names.dedup();
    let verb = if names.len() == 1 { "is" } else { "are" };
    Some(format!(
        "{} {verb} made for a sheet of {}, as usual: give yours with `--sheet 9.8..10.1`, least and greatest thickness by caliper",
        names.join(", "),
        Length::mm(*usual).show_fine(system)
    ))
}

/// A hair of rounding makes no other sheet.
const HAIR_MM: f64 = 1e-9;

#[cfg(test)]
mod tests {
    use super::*;
    use fittings::Kind;

    fn on(
        name: &str,
        given: Vec<(&'static str, f64)>,
        band: Option<[f64; 2]>,
    ) -> (Option<f64>, Vec<String>) {
        let mut all = [Asked { kind: Kind::named(name).expect("there"), given }];
        let band = band.map(|band| band.map(Length::mm));
        let said = laid(&mut all, band, System::Metric).expect("of use");
        (all[0].given(SHEET), said)
    }

    #[test]
    fn what_is_pressed_on_is_made_for_the_thinnest_place() {
        let sheet = |given| on("guide-channel", given, Some([7.7, 8.0]));
        assert_eq!(sheet(vec![]), (Some(8.0), vec![]));
        assert_eq!(sheet(vec![(PRESSED, 1.0)]), (Some(7.7), vec![]));
        let (mm, said) = sheet(vec![(PRESSED, 1.0), (SHEET, 6.0)]);
        assert!(mm == Some(6.0) && said[0].contains("sheet of 6 mm"), "{said:?}");
        assert!(said[0].ends_with("it would be 7.7 mm"), "{said:?}");
    }

    #[test]
    fn a_sheet_that_nobody_told_is_said_and_one_that_is_told_is_not() {
        let (mm, said) = on("guide-channel", vec![], None);
        assert!(mm.is_none() && said.len() == 1 && said[0].contains("sheet of 8 mm"), "{said:?}");
        for (name, given) in [
            ("guide-channel", vec![(SHEET, 8.0)]),
            ("pipe-clip", vec![]),
            ("door-stop", vec![("glued", 1.0)]),
        ] {
            assert_eq!(on(name, given, None).1, Vec::<String>::new(), "{name}");
        }
    }

    #[test]
    fn what_is_glued_needs_no_sheet() {
        let mut all =
            [Asked { kind: Kind::named("door-stop").expect("there"), given: vec![("glued", 1.0)] }];
        let band = Some([7.7, 8.0].map(Length::mm));
        let refused = laid(&mut all, band, System::Metric).expect_err("of no use").to_string();
        assert!(refused.contains("of no use") && all[0].given.len() == 1, "{refused}");
    }
}
