//! Limits that levels of a trial do not keep: those of the findings about levels in flow that are known from the levels alone.

use design::Waterworks;
use units::{Length, System};

/// What is not kept, each with its parameter, in words: freeboard to the rim, and the depths that skimmers want.
pub(super) fn passed(
    works: &Waterworks,
    levels_m: &[f64],
    system: System,
) -> Vec<(String, String)> {
    let show = |mm: f64| Length::mm(mm).show(system);
    let levels_mm: Vec<f64> = levels_m.iter().map(|m| m * 1e3).collect();
    let wanted_mm = works.limits.freeboard.to_mm();
    let rims = works.basins.iter().zip(&levels_mm).filter_map(|(basin, level_mm)| {
        let (name, free_mm) = (&basin.name, basin.rim_mm - level_mm);
        let (free, wanted) = (show(free_mm), show(wanted_mm));
        let words = if free_mm < 0.0 {
            format!("`{name}` runs over the rim")
        } else {
            format!("`{name}` stands {free} below the rim; `limits.freeboard` wants {wanted}")
        };
        (free_mm < wanted_mm).then(|| (basin.parameter.clone(), words))
    });
    let skimmers = works.skimmers.iter().filter_map(|skimmer| {
        let [least, most] = skimmer.depth_mm?;
        let depth = levels_mm.get(skimmer.basin)? - skimmer.stand_mm;
        let (name, stands) = (&skimmer.name, show(depth));
        let wants = format!("it wants {} to {}", show(least), show(most));
        let words = format!("`{name}` stands in {stands}; {wants}");
        let parameter = format!("{}.depth", skimmer.parameter);
        (depth < least || most < depth).then_some((parameter, words))
    });
    rims.chain(skimmers).collect()
}
