//! Where water stands with nothing flowing: at the lowest crest that holds it.
//!
//! The kept level of the return chamber is the source; every other space stands at the least height
//! from which water can still get there, over whatever way has the lowest highest sill.

use std::collections::BTreeSet;

use findings::Finding;

use crate::draft::Builder;
use crate::enclosure::Enclosure;
use crate::model::{Chamber, WaterBody};
use crate::spaces::{Layout, Pass, Side, Space};

/// Share of the inside height that the last chamber is kept at when the file gives no level: an assumption.
const ASSUMED_SHARE: f64 = 0.4;

/// A space's level and what decides it.
#[derive(Clone, Debug)]
struct Level {
    height_mm: f64,
    /// Highest sill on the way to the return, mm; 0 for the return itself.
    sill_mm: f64,
    reason: String,
}

/// Water at rest.
#[derive(Debug, Default)]
pub(crate) struct Standing {
    pub(crate) chambers: Vec<Chamber>,
    pub(crate) waters: Vec<WaterBody>,
    /// Level of every space, mm above the bottom, as [`Layout::spaces`].
    pub(crate) levels_mm: Vec<f64>,
    /// Highest sill between each space and the return, mm above the bottom.
    pub(crate) sills_mm: Vec<f64>,
}

pub(crate) fn stand(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout) -> Standing {
    let mut levels = sources(enclosure, &layout.spaces);
    spread(layout, &mut levels);
    let mut standing = Standing::default();
    for (space, level) in layout.spaces.iter().zip(&levels) {
        if level.is_none() && space.is_chamber {
            let message =
                format!("no way leads water from chamber `{}` towards the return", space.name);
            b.find(Finding::fails("chamber-without-way", &space.parameter, message).with_hint(
                "give a leaf beside it a crest, an opening or an underflow that opens into it",
            ));
        }
        let (height, reason) =
            level.as_ref().map_or((0.0, "no way for water"), |l| (l.height_mm, l.reason.as_str()));
        let height = height.min(enclosure.inside_height_mm());
        standing.levels_mm.push(height);
        standing.sills_mm.push(level.as_ref().map_or(0.0, |l| l.sill_mm));
        if space.is_chamber {
            standing.chambers.push(Chamber {
                name: space.name.clone(),
                parameter: space.parameter.clone(),
                min: space.min,
                max: space.max,
                level_mm: height,
                level_reason: reason.to_owned(),
            });
        }
        if height > 0.0 {
            standing.waters.push(WaterBody {
                name: space.name.clone(),
                min: space.min.extend(enclosure.floor_z),
                max: space.max.extend(enclosure.floor_z + height),
            });
        }
    }
    standing
}

/// Levels that the file keeps; without any, the last chamber's is assumed.
fn sources(enclosure: &Enclosure, spaces: &[Space]) -> Vec<Option<Level>> {
    let mut levels: Vec<Option<Level>> = spaces
        .iter()
        .map(|s| {
            s.kept_level_mm.map(|height_mm| Level {
                height_mm,
                sill_mm: 0.0,
                reason: "the level that is kept".to_owned(),
            })
        })
        .collect();
    if levels.iter().all(Option::is_none)
        && let Some(last) = spaces.iter().rposition(|s| s.is_chamber)
    {
        let height_mm = ASSUMED_SHARE * enclosure.inside_height_mm();
        levels[last] = Some(Level {
            height_mm,
            sill_mm: 0.0,
            reason: "assumed: 40 % of the inside height".to_owned(),
        });
    }
    levels
}

/// Takes the space with the lowest known level again and again and offers it to its neighbours
/// (Dijkstra's algorithm, with the highest sill on the way as the distance).
fn spread(layout: &Layout, levels: &mut [Option<Level>]) {
    let kept: BTreeSet<usize> = (0..levels.len()).filter(|&i| levels[i].is_some()).collect();
    let ways = ways(layout);
    let mut done = BTreeSet::new();
    let lowest = |levels: &[Option<Level>], done: &BTreeSet<usize>| {
        let open = (0..levels.len())
            .filter(|i| !done.contains(i))
            .filter_map(|i| Some((i, levels[i].as_ref()?.height_mm)));
        open.min_by(|a, b| a.1.total_cmp(&b.1))
    };
    while let Some((here, height)) = lowest(levels, &done) {
        done.insert(here);
        for &(a, c, pass) in &ways {
            let neighbour = if a == here { c } else { a };
            if (a != here && c != here) || kept.contains(&neighbour) || done.contains(&neighbour) {
                continue;
            }
            let offered = pass.sill_mm.max(height);
            if levels[neighbour].as_ref().is_none_or(|known| offered < known.height_mm) {
                let reason = if pass.sill_mm >= height {
                    pass.words()
                } else {
                    levels[here].as_ref().map(|l| l.reason.clone()).unwrap_or_default()
                };
                let sill_mm = pass.sill_mm.max(levels[here].as_ref().map_or(0.0, |l| l.sill_mm));
                levels[neighbour] = Some(Level { height_mm: offered, sill_mm, reason });
            }
        }
    }
}

/// Which two spaces each way joins.
fn ways(layout: &Layout) -> Vec<(usize, usize, &Pass)> {
    let beside = |pass: &Pass, side: Side| -> Vec<usize> {
        (0..layout.spaces.len()).filter(|&i| pass.opens_into(&layout.spaces[i], side)).collect()
    };
    let mut ways = Vec::new();
    for pass in &layout.passes {
        for &a in &beside(pass, Side::Upstream) {
            for &c in &beside(pass, Side::Downstream) {
                ways.push((a, c, pass));
            }
        }
    }
    ways
}
