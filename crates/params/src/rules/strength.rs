//! Strength and tolerance: numbers that must agree.

use findings::Finding;

use super::Rules;

pub(super) fn check(rules: &mut Rules<'_>) {
    let file = rules.file;
    let celsius = file.tolerance.temperature.map(units::Temperature::to_celsius);
    let system = file.report.system();
    let show = move |c: f64| units::Temperature::celsius(c).show(system);
    rules.in_order("tolerance.temperature", celsius, "temperature", show);
    for (name, sheet) in &file.sheet {
        let Some(data) = sheet.data_sheet else { continue };
        unusual(rules, name, data);
        wet_above_dry(rules, name, data);
        let (Some(first), Some(lasting)) = (data.modulus, data.lasting_modulus) else { continue };
        if first < lasting {
            let path = format!("sheet.{name}.data_sheet.lasting_modulus");
            let message = format!(
                "a load of years meets {lasting} MPa, more than the {first} MPa of one of minutes: no sheet stiffens so"
            );
            let other = format!("sheet.{name}.data_sheet.modulus");
            let finding = Finding::fails("not-larger", &path, message)
                .with_hint("change `lasting_modulus` or `modulus`: the first is the creep modulus");
            rules.add(&[&path, &other], finding);
        }
    }
}

/// Moduli of the sheets that a sump is made of, MPa, with room to both sides: makers' data sheets give 2200 to 3300 for minutes;
/// glass, which is no sheet here, has 70 000. Our judgement.
const MODULUS_MPA: [f64; 2] = [1500.0, 5000.0];
/// The same for years: 1000 to 1900 (creep to ISO 899-1, makers' data sheets and from memory); up to that for minutes. Our
/// judgement.
const LASTING_MPA: [f64; 2] = [500.0, 5000.0];

/// A modulus that no such sheet has was probably meant in another unit.
fn unusual(rules: &mut Rules<'_>, name: &str, data: crate::DataSheet) {
    let all = [
        ("modulus", data.modulus, MODULUS_MPA, "2200 to 3300"),
        ("lasting_modulus", data.lasting_modulus, LASTING_MPA, "1000 to 2000"),
    ];
    for (key, given, [least, most], usual) in all {
        let Some(given) = given.filter(|given| *given < least || most < *given) else { continue };
        let path = format!("sheet.{name}.data_sheet.{key}");
        let message = format!("`{key}` is {given} MPa, and sheets of plastic have {usual} MPa");
        let finding = Finding::tight("unusual-modulus", &path, message)
            .with_source("our judgement, from makers' data sheets")
            .with_hint("see in which unit the data sheet gives it: 1 GPa is 1000 MPa, 1000 psi (1 ksi) are 6.895 MPa");
        rules.add(&[&path], finding);
    }
}

/// Water never makes a sheet bear more.
fn wet_above_dry(rules: &mut Rules<'_>, name: &str, data: crate::DataSheet) {
    let (Some(dry), Some(wet)) = (data.lasting_stress, data.lasting_stress_wet) else { return };
    if wet <= dry {
        return;
    }
    let path = format!("sheet.{name}.data_sheet.lasting_stress_wet");
    let other = format!("sheet.{name}.data_sheet.lasting_stress");
    let message =
        format!("in water it is to carry {wet} MPa for years, more than the {dry} MPa in air");
    let finding = Finding::fails("not-larger", &path, message)
        .with_hint("change `lasting_stress_wet` or `lasting_stress`: the first is that in water");
    rules.add(&[&path, &other], finding);
}
