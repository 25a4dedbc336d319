//! Whether what is known of the sheets holds where they are used.

use design::Design;
use findings::Finding;
use params::{DataSheet, File, Material};
use units::Temperature;

use crate::material::{self, TESTED_C, facts, warmest_c};

/// One finding for each sheet that something is cut from.
pub(crate) fn check(file: &File, design: &Design) -> Vec<Finding> {
    let is_used = |name: &&String| design.pieces.iter().any(|p| p.sheet.as_ref() == Some(*name));
    let used = file.sheet.keys().filter(is_used);
    used.flat_map(|name| of_sheet(file, name)).collect()
}

fn of_sheet(file: &File, name: &str) -> Vec<Finding> {
    let Some(sheet) = file.sheet.get(name) else { return Vec::new() };
    let facts = facts(sheet.material, sheet.data_sheet.as_ref());
    let warm = warmest_c(file);
    let show = |c: f64| Temperature::celsius(c).show(file.report.system());
    let parameter = format!("sheet.{name}.material");
    if warm > facts.service_c {
        let message = format!(
            "sheet `{name}` may get as warm as {}: above {} nothing is known of what it bears for years, and it is not vouched for",
            show(warm),
            show(facts.service_c)
        );
        return vec![
            Finding::fails("sheet-too-warm", parameter, message)
                .with_limit(facts.service_c - warm, 0.0, "K")
                .with_source(facts.source)
                .with_hint("keep it cooler (`tolerance.temperature`, `water.temperature`), or take another material"),
        ];
    }
    let left = facts.left_at(warm);
    let words = if left < 1.0 {
        format!(
            "sheet `{name}` is reckoned at {}, the warmest that the file tells of: {:.0} % less lasting stress and stiffness than at {}",
            show(warm),
            100.0 * (1.0 - left),
            show(TESTED_C)
        )
    } else {
        format!("sheet `{name}` keeps its lasting stress and stiffness at {}", show(warm))
    };
    let mut findings =
        vec![Finding::holds("sheet-warmth", &parameter, words).with_source(facts.source)];
    findings.extend(of_stress(&parameter, sheet.material, sheet.data_sheet.as_ref(), name));
    findings
}

/// Whether the stress that a sheet is to bear for years is one that its kind bears without crazing.
fn of_stress(
    parameter: &str,
    material: Material,
    data: Option<&DataSheet>,
    name: &str,
) -> Option<Finding> {
    // Crazing comes of stress: a stiffness says nothing about it.
    let Some(given) = data.and_then(|data| data.lasting_stress) else {
        let message = format!(
            "sheet `{name}` is extruded acrylic: makers advise cast sheet for what holds water for years, as extruded crazes at half of the stress"
        );
        let warned = Finding::tight("sheet-extruded", parameter, message)
            .with_source(CRAZING_SOURCE)
            .with_hint("take cast acrylic for walls, bottom and rim, or give the stress that its maker vouches for as `data_sheet.lasting_stress`");
        return (material == Material::ExtrudedAcrylic).then_some(warned);
    };
    let short = facts(material, None).strength_mpa;
    if given > SHORT_SHARE * short {
        let message = format!(
            "sheet `{name}` is to bear {given:.1} MPa for years: that is near what it breaks at in a test of minutes, about {short:.0} MPa"
        );
        return Some(
            Finding::fails("sheet-crazes", format!("sheet.{name}.data_sheet.lasting_stress"), message)
                .with_limit(given, SHORT_SHARE * short, "MPa")
                .with_source("our judgement: a third of the short strength")
                .with_hint("write the stress that its maker allows for years in water (design stress), not its tensile strength"),
        );
    }
    let known = material::crazing_mpa(material)?;
    let kind = match material {
        Material::ExtrudedAcrylic => "extruded acrylic",
        _ => "cast acrylic",
    };
    let message = format!(
        "sheet `{name}` is to bear {given:.1} MPa for years by its data sheet: {kind} crazes from {known:.1} MPa on by another maker's"
    );
    (given > known).then(|| {
        Finding::tight("sheet-crazes", format!("sheet.{name}.data_sheet.lasting_stress"), message)
            .with_limit(given, known, "MPa")
            .with_source(CRAZING_SOURCE)
            .with_hint("see that its maker vouches for it in water and for years; a strength of a short test is none")
    })
}

/// More than this share of its short strength no plastic bears for years; our judgement.
const SHORT_SHARE: f64 = 1.0 / 3.0;

/// Where the stresses that craze acrylic come from.
const CRAZING_SOURCE: &str =
    "makers' data sheets: 5.2 MPa extruded, 10.3 MPa cast (750 and 1500 psi), in air";

#[cfg(test)]
mod tests;
