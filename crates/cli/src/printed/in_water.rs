//! Whether what is made may stay in the water, by its filament.

use fittings::{Filament, UnderWater};

use super::Made;

/// What is said of fittings of a filament that water or warmth does not suit; nothing of jigs, which stay dry.
pub(super) fn warning(made: &[Made], filament: Filament) -> Option<String> {
    let fit = match filament.under_water() {
        UnderWater::Fit => return None,
        UnderWater::WithCare => "needs care in water",
        UnderWater::Unfit => "is for jigs and for trying out, not for what stays in the water",
    };
    let mut names: Vec<&str> =
        made.iter().filter(|made| !made.kind.is_jig).map(|made| made.kind.name).collect();
    names.dedup();
    if names.is_empty() {
        return None;
    }
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    let why = filament
        .advice()
        .first()
        .map_or(String::new(), |advice| format!(": {} ({})", advice.words, advice.source));
    Some(format!(
        "{} {fit}{why}; print {} with `--filament {}` or `{}`",
        filament.name(),
        names.join(", "),
        Filament::Petg.name(),
        Filament::Asa.name()
    ))
}
