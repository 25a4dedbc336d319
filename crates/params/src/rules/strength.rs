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
