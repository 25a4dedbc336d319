//! Whether what is known of the sheets holds where they are used.

use design::Design;
use findings::Finding;
use params::{DataSheet, File, Material};
use units::{System, Temperature};

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
            "sheet `{name}` is reckoned at {}, the warmest that the file tells of: that takes {:.0} % of its lasting stress and stiffness, so that a wet face may carry {} for years instead of {} at {}",
            show(warm),
            100.0 * (1.0 - left),
            file.report.system().show_stress(facts.at(warm).lasting_stress_mpa),
            file.report.system().show_stress(facts.lasting_stress_mpa),
            show(TESTED_C)
        )
    } else {
        format!("sheet `{name}` keeps its lasting stress and stiffness at {}", show(warm))
    };
    let mut findings =
        vec![Finding::holds("sheet-warmth", &parameter, words).with_source(facts.source)];
    findings.extend(of_stress(
        &parameter,
        sheet.material,
        sheet.data_sheet.as_ref(),
        name,
        file.report.system(),
    ));
    findings
}

/// Whether the stress that a sheet is to bear for years is one that its kind bears without crazing.
fn of_stress(
    parameter: &str,
    material: Material,
    data: Option<&DataSheet>,
    name: &str,
    system: System,
) -> Vec<Finding> {
    let keys = [
        ("lasting_stress", data.and_then(|data| data.lasting_stress)),
        ("lasting_stress_wet", data.and_then(|data| data.lasting_stress_wet)),
    ];
    let given = keys.into_iter().filter_map(|(key, mpa)| Some(Given { key, mpa: mpa? }));
    // Crazing comes of stress: a stiffness says nothing about it.
    let found: Vec<Option<Finding>> =
        given.map(|given| given.judged(material, data, name, system)).collect();
    if found.is_empty() && material == Material::ExtrudedAcrylic {
        let message = format!(
            "sheet `{name}` is extruded acrylic: makers advise cast sheet for what holds water for years, as extruded crazes at half of the stress"
        );
        return vec![
            Finding::tight("sheet-extruded", parameter, message)
                .with_source(CRAZING_SOURCE)
                .with_hint("take cast acrylic for walls, bottom and rim, or give the stress that its maker vouches for as `data_sheet.lasting_stress`"),
        ];
    }
    found.into_iter().flatten().collect()
}

/// A lasting stress by the data sheet.
struct Given {
    key: &'static str,
    mpa: f64,
}

impl Given {
    fn is_wet(&self) -> bool {
        self.key == "lasting_stress_wet"
    }

    fn judged(
        &self,
        material: Material,
        data: Option<&DataSheet>,
        name: &str,
        system: System,
    ) -> Option<Finding> {
        let (ours, theirs) = (facts(material, None), facts(material, data));
        let parameter = format!("sheet.{name}.data_sheet.{}", self.key);
        let show = |mpa: f64| system.show_stress(mpa);
        let where_it_is = if self.is_wet() { "in water" } else { "in air" };
        let most = SHORT_SHARE * ours.strength_mpa;
        if self.mpa > most {
            let message = format!(
                "sheet `{name}` is to bear {} for years {where_it_is}: that is near what it breaks at in a test of minutes, about {}",
                show(self.mpa),
                show(ours.strength_mpa)
            );
            return Some(
                Finding::fails("sheet-crazes", parameter, message)
                    .with_limit(self.mpa, most, "MPa")
                    .with_source("our judgement: a third of the short strength")
                    .with_hint("write the stress that its maker allows for years (design stress), not its tensile strength"),
            );
        }
        if let Some(known) = material::crazing_mpa(material).filter(|known| self.mpa > *known) {
            let message = format!(
                "sheet `{name}` is to bear {} for years {where_it_is} by its data sheet: {} crazes from {} on in air by another maker's",
                show(self.mpa),
                kind(material),
                show(known)
            );
            return Some(
                Finding::tight("sheet-crazes", parameter, message)
                    .with_limit(self.mpa, known, "MPa")
                    .with_source(CRAZING_SOURCE)
                    .with_hint("see that its maker vouches for it and for years; a strength of a short test is none"),
            );
        }
        let own = if self.is_wet() { ours.lasting_stress_mpa } else { ours.lasting_stress_dry_mpa };
        if self.mpa <= own {
            return None;
        }
        let wet = if self.is_wet() || data.is_some_and(|data| data.lasting_stress_wet.is_some()) {
            String::new()
        } else {
            format!(
                "; in water {} instead of {}",
                show(theirs.lasting_stress_mpa),
                show(ours.lasting_stress_mpa)
            )
        };
        let message = format!(
            "sheet `{name}` is to bear {} for years {where_it_is} by its data sheet, more than the {} that are reckoned with without one{wet}: all panels and seams lean on that number",
            show(self.mpa),
            show(own)
        );
        Some(
            Finding::tight("sheet-above-ours", parameter, message)
                .with_limit(self.mpa, own, "MPa")
                .with_source(ours.source)
                .with_hint("see that the maker gives it for a load of years, and whether in air (`lasting_stress`) or in water (`lasting_stress_wet`); in doubt leave it out"),
        )
    }
}

/// Of those that craze: what they are called.
fn kind(material: Material) -> &'static str {
    match material {
        Material::ExtrudedAcrylic => "extruded acrylic",
        _ => "cast acrylic",
    }
}

/// More than this share of its short strength no plastic bears for years; our judgement.
const SHORT_SHARE: f64 = 1.0 / 3.0;

/// Where the stresses that craze acrylic come from.
const CRAZING_SOURCE: &str =
    "makers' data sheets: 5.2 MPa extruded, 10.3 MPa cast (750 and 1500 psi), in air";

#[cfg(test)]
mod tests;
