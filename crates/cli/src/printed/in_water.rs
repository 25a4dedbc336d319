//! Whether what is made may stay in the water and can be glued, by its filament.

use fittings::{Filament, Glue, SheetPlastic, UnderWater};

use super::Made;

/// What is said of fittings of a filament that does not suit them; nothing of jigs, which stay dry.
pub(super) fn warning(made: &[Made], filament: Filament) -> Vec<String> {
    in_water(made, filament).into_iter().chain(unglued(made, filament)).collect()
}

/// Of those that water harms.
fn in_water(made: &[Made], filament: Filament) -> Option<String> {
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

/// Of those that are glued, where no glue holds. Which sheet they go on is not known here: on none does it hold.
fn unglued(made: &[Made], filament: Filament) -> Option<String> {
    let why = match filament.glue(SheetPlastic::Acrylic) {
        Glue::Takes(_) => return None,
        Glue::Loosens(why) | Glue::Never(why) => why,
    };
    let is_glued = |made: &&Made| {
        let usual =
            |name: &str| made.kind.measures.iter().find(|m| m.name == name).map(|m| m.usual);
        let given = |name: &str| made.given.iter().find(|(n, _)| *n == name).map(|(_, v)| *v);
        made.kind
            .stand
            .is_glued(|name| given(name).or_else(|| usual(name)).is_some_and(|v| v > 0.5))
    };
    let mut names: Vec<String> =
        made.iter().filter(is_glued).map(|made| format!("`{}`", made.kind.name)).collect();
    names.dedup();
    if names.is_empty() {
        return None;
    }
    Some(format!(
        "{} is glued in its place. Printed in {}: {} ({}); print it with `--filament {}` or `{}`",
        names.join(", "),
        filament.name(),
        why.words,
        why.source,
        Filament::Petg.name(),
        Filament::Asa.name()
    ))
}
