//! From where heights are counted: in the sump from the inside of its bottom, above from the inside of the
//! display's bottom, as in the parameter file.

use water::System;

/// Said once beside heights.
pub const NOTE: &str = "Heights in the sump are above the inside of its bottom, those of display, overflow box \
    and drain mouths above the inside of the display's bottom.";

/// Height of the inside of the display's bottom above that of the sump's, m.
pub fn display_m(system: &System<'_>) -> f64 {
    system.works.display.as_ref().map_or(0.0, |display| display.floor_mm * 1e-3)
}

/// Height from which the level in a tank is counted, above the inside of the sump's bottom, m.
pub fn zero_m(system: &System<'_>, tank: usize) -> f64 {
    let is_above = [system.tanks.display, system.tanks.weir_box].contains(&tank);
    if is_above { display_m(system) } else { 0.0 }
}
