//! Limits that levels of a trial do not keep: those of the findings about levels in flow that are known from the levels alone.

use design::Waterworks;
use units::{Length, System};

use super::Limit;

/// A limit that is not kept.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Passed {
    /// Path of the parameter that it is about.
    pub(super) parameter: String,
    pub(super) limit: Limit,
    pub(super) words: String,
}

/// What is not kept: freeboard to the rim, and the depths that skimmers want.
pub(super) fn passed(works: &Waterworks, levels_m: &[f64], system: System) -> Vec<Passed> {
    let show = |mm: f64| Length::mm(mm).show(system);
    let levels_mm: Vec<f64> = levels_m.iter().map(|m| m * 1e3).collect();
    let wanted_mm = works.limits.freeboard.to_mm();
    let rims = works.basins.iter().zip(&levels_mm).filter_map(|(basin, level_mm)| {
        let (name, free_mm) = (&basin.name, basin.rim_mm - level_mm);
        let (free, wanted) = (show(free_mm), show(wanted_mm));
        let (limit, words) = if free_mm < 0.0 {
            (Limit::Rim, format!("`{name}` runs over the rim"))
        } else {
            let words =
                format!("`{name}` stands {free} below the rim; `limits.freeboard` wants {wanted}");
            (Limit::Freeboard, words)
        };
        let parameter = basin.parameter.clone();
        (free_mm < wanted_mm).then_some(Passed { parameter, limit, words })
    });
    let skimmers = works.skimmers.iter().filter_map(|skimmer| {
        let [least, most] = skimmer.depth_mm?;
        let depth = levels_mm.get(skimmer.basin)? - skimmer.stand_mm;
        let (name, stands) = (&skimmer.name, show(depth));
        let wants = format!("it wants {} to {}", show(least), show(most));
        let words = format!("`{name}` stands in {stands}; {wants}");
        let parameter = format!("{}.depth", skimmer.parameter);
        let limit = if depth < least { Limit::Shallow } else { Limit::Deep };
        (depth < least || most < depth).then_some(Passed { parameter, limit, words })
    });
    rims.chain(skimmers).collect()
}
