//! What a failure does, and when.

use serde::Serialize;

use super::failure::Failure;
use crate::system::{Part, System};

/// A rehearsal runs as usual for so long before its failure, s, so that its curves show what was.
pub const BEGIN_S: f64 = 60.0;
/// The power comes back after half an hour, s; our judgement: long enough for all to have run down.
const POWER_BACK_S: f64 = BEGIN_S + 1800.0;

/// One thing that happens.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "act", content = "of", rename_all = "kebab-case")]
pub enum Act {
    /// The power goes or comes.
    Power(bool),
    /// An element is closed for good.
    Close(usize),
    /// An element that was closed is open.
    Open(usize),
    /// The float of the top-up sticks, with the pump on or off.
    Stick(bool),
    /// The check valve of a line does not close.
    LoseCheckValve(usize),
    /// The break hole of a line is blocked.
    BlockBreakHole(usize),
}

/// All that a failure does, in the order of time.
pub(crate) fn acts(system: &System<'_>, failure: &Failure) -> Vec<(f64, Act)> {
    let mut acts = of(system, failure);
    acts.sort_by(|a, b| a.0.total_cmp(&b.0));
    acts
}

fn of(system: &System<'_>, failure: &Failure) -> Vec<(f64, Act)> {
    let works = system.works;
    let close = |is_wanted: &dyn Fn(&Part) -> bool| -> Vec<(f64, Act)> {
        system.elements(is_wanted).map(|i| (BEGIN_S, Act::Close(i))).collect()
    };
    let open = |is_wanted: &dyn Fn(&Part) -> bool| -> Vec<(f64, Act)> {
        system.elements(is_wanted).map(|i| (BEGIN_S, Act::Open(i))).collect()
    };
    match failure {
        Failure::PowerCut => vec![(BEGIN_S, Act::Power(false))],
        Failure::PowerBack => vec![(BEGIN_S, Act::Power(false)), (POWER_BACK_S, Act::Power(true))],
        Failure::DrainsBlocked { drains, .. } => close(
            &|part| matches!(part, Part::Siphon { drain } | Part::OpenDrain { drain } if drains.contains(drain)),
        ),
        Failure::SocksClogged => close(&|part| matches!(part, Part::Socks { .. })),
        Failure::StrainersClogged => {
            close(&|part| matches!(part, Part::Way { is_strained: true, .. }))
        }
        Failure::LeafMissing { divider, place, .. } => {
            let is_here = |d: &String, p: &usize| d == divider && p == place;
            let mut acts = close(&|part| match part {
                Part::Way { way, .. } => {
                    is_here(&works.ways[*way].divider, &works.ways[*way].place)
                }
                Part::LeafLeak { divider, place } => is_here(divider, place),
                _ => false,
            });
            acts.extend(open(
                &|part| matches!(part, Part::LeafOut { divider, place } if is_here(divider, place)),
            ));
            acts
        }
        Failure::DoorOff { leaf } => {
            let mut acts = close(&|part| is_door(works, part, leaf) || is_door_leak(part, leaf));
            acts.extend(open(&|part| matches!(part, Part::DoorOff { leaf: l } if l == leaf)));
            acts
        }
        Failure::DoorShut { leaf } => {
            let mut acts = close(&|part| is_door(works, part, leaf));
            acts.extend(open(&|part| matches!(part, Part::DoorShut { leaf: l } if l == leaf)));
            acts
        }
        Failure::TopUpStuck => vec![(BEGIN_S, Act::Stick(true))],
        Failure::NoTopUp => vec![(BEGIN_S, Act::Stick(false))],
        Failure::CheckValveFails { line } => {
            vec![(BEGIN_S, Act::LoseCheckValve(*line)), (BEGIN_S, Act::Power(false))]
        }
        Failure::BreakHoleBlocked { line } => {
            // Nothing holds the water back: neither hole nor valve may be relied on.
            vec![
                (BEGIN_S, Act::BlockBreakHole(*line)),
                (BEGIN_S, Act::LoseCheckValve(*line)),
                (BEGIN_S, Act::Power(false)),
            ]
        }
        Failure::SeamLeaks { basin } => open(&|part| *part == Part::Seam { basin: *basin }),
        Failure::CupOverflows { skimmer, has_blocked_holes } => {
            let mut acts = open(&|part| *part == Part::Cup { skimmer: *skimmer });
            if *has_blocked_holes {
                let basin = works.skimmers[*skimmer].basin;
                acts.extend(close(&|part| {
                    matches!(part, Part::LidHoles { cover } if works.covers[*cover].basin == basin)
                }));
            }
            acts
        }
        Failure::Together(failures) => failures.iter().flat_map(|f| of(system, f)).collect(),
    }
}

fn is_door(works: &design::Waterworks, part: &Part, leaf: &str) -> bool {
    matches!(part, Part::Way { way, kind: design::WayKind::Door, .. } if works.ways[*way].leaf == leaf)
}

fn is_door_leak(part: &Part, leaf: &str) -> bool {
    matches!(part, Part::DoorLeak { leaf: l } if l == leaf)
}
