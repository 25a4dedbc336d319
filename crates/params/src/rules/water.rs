//! The water: a number that is surely another quantity.

use findings::Finding;
use units::Salinity;

use super::Rules;

/// Specific gravity 25 °C/25 °C of sea water of practical salinity 35 (TEOS-10, computed with gsw 3.6).
const GRAVITY_AT_35: f64 = 1.02637;

pub(super) fn check(rules: &mut Rules<'_>) {
    gravity(rules, "water.salinity", rules.file.water.salinity);
    if let Some(top_up) = &rules.file.top_up {
        gravity(rules, "top_up.salinity", top_up.salinity);
    }
}

fn gravity(rules: &mut Rules<'_>, path: &str, salinity: Salinity) {
    let salinity = salinity.to_g_per_kg();
    if !(1.0 < salinity && salinity <= 1.04) {
        return;
    }
    // Gravity grows nearly in proportion to salinity; good enough to say what may have been meant.
    let meant = 35.0 * (salinity - 1.0) / (GRAVITY_AT_35 - 1.0);
    let message = format!(
        "{salinity} g/kg is almost fresh water; as a specific gravity it would be sea water of about {meant:.0} g/kg"
    );
    let finding = Finding::tight("salinity-as-gravity", path, message)
        .with_source("TEOS-10: specific gravity 25/25 of sea water of salinity 35 is 1.02637")
        .with_hint(format!("salinity is salt by mass: write `salinity = {meant:.0}`"));
    rules.add(&[path], finding);
}
