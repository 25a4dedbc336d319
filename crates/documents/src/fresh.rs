//! Whether a tank is a fresh one.

use design::Waterworks;

/// Fresh water has less salt than this, g/kg: the limit of the Venice system (1958).
const FRESH_G_KG: f64 = 0.5;

/// Whether the file's water is fresh.
pub(crate) fn is_fresh(works: &Waterworks) -> bool {
    works.water.salinity.to_g_per_kg() < FRESH_G_KG
}
