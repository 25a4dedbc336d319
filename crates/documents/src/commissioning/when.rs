//! What to do when: every failure that was rehearsed, what the water does, and what the keeper does. The advice is common
//! practice; the numbers are the rehearsals'.

use design::{Design, Waterworks};
use paper::Block;
use params::DrainDuty;
use study::InFlow;
use study::told::figures::{Figures, NONE};
use study::told::rehearsals::{freeboard, least_freeboard, on_all_floors, verdict};
use water::{Failure, Outcome};

use crate::fresh::is_fresh;
use crate::prose::{Kind, capital, chapter, items, part, table, words};

pub(super) fn blocks(design: &Design, in_flow: &InFlow<'_>, outcomes: &[Outcome]) -> Vec<Block> {
    if outcomes.is_empty() {
        return Vec::new();
    }
    let figures = Figures(design.report);
    let system = &in_flow.running.system;
    let rows = outcomes.iter().map(|outcome| {
        let left = least_freeboard(outcome, system).map_or(NONE.to_owned(), |(tank, m)| {
            format!("{} ({})", freeboard(m, figures), system.network.tanks[tank].name)
        });
        let floor = on_all_floors(outcome, figures).unwrap_or_else(|| NONE.to_owned());
        [capital(&outcome.name), capital(&verdict(outcome, system)), left, floor]
    });
    let columns = [
        ("when", Kind::Words),
        ("the water", Kind::Words),
        ("least to a rim", Kind::Words),
        ("on the floor", Kind::Words),
    ];
    // What is done alike is told once.
    let mut advice: Vec<(Vec<String>, Vec<String>)> = Vec::new();
    for outcome in outcomes {
        let name = capital(&outcome.name);
        let what = what_to_do(&outcome.failure, &design.waterworks);
        match advice.iter_mut().find(|(_, known)| *known == what) {
            Some((names, _)) => names.push(name),
            None => advice.push((vec![name], what)),
        }
    }
    let advice =
        advice.iter().map(|(names, what)| format!("{}: {}", names.join("; "), what.join(" ")));
    vec![
        chapter("What to do when"),
        words(
            "The first line is always the same: dry hands, pull the plugs of pumps and heaters if water is on the floor, and \
             stay out of water that touches a cable or a socket until the breaker is off.",
        ),
        table(columns, rows),
        words(
            "Numbers are from the rehearsals: the least to a rim at the unfavourable end of its doubt; on the floor the best \
             estimate, and in brackets the most that the coefficients allow.",
        ),
        part("And you (common practice)"),
        items(advice),
    ]
}

/// What the keeper does, by what the design has.
fn what_to_do(failure: &Failure, works: &Waterworks) -> Vec<String> {
    let is_salty = !is_fresh(works);
    let words: Vec<&str> = match failure {
        Failure::PowerCut => vec![
            "Nothing at once: the water comes down and stays.",
            "Give the animals air by a pump that runs on a battery, and do not top up meanwhile.",
        ],
        Failure::PowerBack => {
            vec![
                "Watch the drains start again and the level return. A pump that only hums holds air: pull its plug before \
                 you reach for it, let the air out, and plug it in again.",
            ]
        }
        Failure::DrainsBlocked { drains, .. } => return drains_blocked(drains, works),
        Failure::SocksClogged => vec![
            "Water over the bypass is the sign.",
            PLUG,
            "Change the socks, and note how many days they lasted.",
        ],
        Failure::StrainersClogged => vec![
            "Water that stands higher before the strainer is the sign.",
            PLUG,
            "Take the strainer out and brush it in fresh water; look at it every week.",
        ],
        Failure::LeafMissing { .. } => {
            vec![PLUG, "Let the levels come to rest, put it back, then start again."]
        }
        Failure::DoorOff { .. } => vec![
            PLUG,
            "Set the door anew by its height, knobs hand-tight; look for the lost screw.",
        ],
        Failure::DoorShut { .. } => vec![PLUG, "Lower it to its height in the table of doors."],
        Failure::TopUpStuck if is_salty => vec![
            STUCK,
            "Measure the salinity before anything else is added: what ran in was fresh.",
        ],
        Failure::TopUpStuck => vec![STUCK],
        Failure::NoTopUp if works.top_up.is_some() => vec!["Fill the reservoir.", BY_HAND],
        Failure::NoTopUp => vec![BY_HAND],
        Failure::CheckValveFails { .. } => {
            vec![PLUG, "A check valve is no plan: clean it, and keep the break hole open."]
        }
        Failure::BreakHoleBlocked { .. } => {
            vec![PLUG, "Clear the hole with a pick; look at it at every water change."]
        }
        Failure::SeamLeaks { .. } => vec![
            "Pull the plugs of pumps and heaters first, with dry hands. Animals out, then water into buckets down to below the \
             seam.",
            "Let it dry and mend it as after the leak test.",
        ],
        Failure::CupOverflows { .. } => vec![
            "Pull the skimmer's plug first, with dry hands. Empty the cup, clear the holes of the lid, and give it less air or \
             stand it in less water.",
        ],
        Failure::Together(all) => {
            return all.iter().flat_map(|one| what_to_do(one, works)).collect();
        }
    };
    words.into_iter().map(str::to_owned).collect()
}

const STUCK: &str = "Pull the plug of the top-up first, with dry hands. Clean and try the float; add a second one above it, or a timer.";
const BY_HAND: &str = "Top up by hand with fresh water, little by little, to the kept level.";
/// Before a hand goes into the water.
const PLUG: &str = "Pull the plug first, with dry hands.";

/// A siphon has a valve to be set anew; an emergency drain tells by its noise.
fn drains_blocked(blocked: &[usize], works: &Waterworks) -> Vec<String> {
    let has_valve =
        blocked.iter().filter_map(|&k| works.drains.get(k)).any(|d| d.duty == DrainDuty::Main);
    let clear = if has_valve {
        "Clear the mouth or the strainer, open the valve fully; plug in again and set it anew."
    } else {
        "Clear the mouth or the strainer."
    };
    let is_left = |k: &usize| !blocked.contains(k);
    let emergency: Vec<String> = (0..works.drains.len())
        .filter(is_left)
        .map(|k| &works.drains[k])
        .filter(|drain| drain.duty == DrainDuty::Emergency)
        .map(|drain| format!("“{}”", drain.name))
        .collect();
    let listen = (!emergency.is_empty())
        .then(|| format!("Listen: water in {} is the sign.", fit::listed(&emergency)));
    [PLUG, clear].map(str::to_owned).into_iter().chain(listen).collect()
}
