//! What to do when: every failure that was rehearsed, what the water does, and what the keeper does. The advice is common
//! practice; the numbers are the rehearsals'.

use design::Design;
use paper::Block;
use study::InFlow;
use study::told::figures::{Figures, NONE};
use study::told::rehearsals::{freeboard, least_freeboard, verdict};
use water::{Failure, Outcome};

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
        let floor = outcome.spill.sump_l.high + outcome.spill.display_l.high;
        let floor = if floor < DRIP_L { NONE.to_owned() } else { figures.litres(floor) };
        [capital(&outcome.name), capital(&verdict(outcome, system)), left, floor]
    });
    let columns = [
        ("when", Kind::Words),
        ("the water", Kind::Words),
        ("least to a rim", Kind::Words),
        ("on the floor, at most", Kind::Number),
    ];
    // What is done alike is told once.
    let mut advice: Vec<(Vec<String>, Vec<&str>)> = Vec::new();
    for outcome in outcomes {
        let name = capital(&outcome.name);
        let what = what_to_do(&outcome.failure);
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
        words("Numbers are from the rehearsals, at the unfavourable end of their doubt."),
        part("And you (common practice)"),
        items(advice),
    ]
}

/// Less than this on the floor is a drip, L, as the findings have it.
const DRIP_L: f64 = 0.05;

/// What the keeper does.
fn what_to_do(failure: &Failure) -> Vec<&'static str> {
    match failure {
        Failure::PowerCut => vec![
            "Nothing at once: the water comes down and stays.",
            "Keep the animals in air (a battery pump) and do not top up meanwhile.",
        ],
        Failure::PowerBack => {
            vec![
                "Watch the drains start again and the level return; bleed air from a pump that only hums.",
            ]
        }
        Failure::DrainsBlocked { .. } => vec![
            "Pump off. Clear the mouth or the strainer, open the valve fully once, set it anew.",
            "Listen: water in the emergency drain is the sign.",
        ],
        Failure::SocksClogged => vec![
            "Change the socks; water over the bypass is the sign. Note how many days they lasted.",
        ],
        Failure::LeafMissing { .. } => {
            vec!["Pump off before it is put back; let the levels come to rest, then start again."]
        }
        Failure::DoorOff { .. } => {
            vec!["Set the door anew by its height, knobs hand-tight; look for the lost screw."]
        }
        Failure::DoorShut { .. } => vec!["Lower it to its height in the table of doors."],
        Failure::TopUpStuck => vec![
            "Pull the plug of the top-up. Clean and try the float; add a second one above it, or a timer.",
            "Measure the salinity before anything else is added.",
        ],
        Failure::NoTopUp => {
            vec![
                "Fill the reservoir. Top up by hand with fresh water, little by little, to the kept level.",
            ]
        }
        Failure::CheckValveFails { .. } => {
            vec!["A check valve is no plan: clean it, and keep the break hole open."]
        }
        Failure::BreakHoleBlocked { .. } => {
            vec!["Clear the hole with a pick; look at it at every water change."]
        }
        Failure::SeamLeaks { .. } => vec![
            "Pump off, water into buckets down to below the seam, animals first.",
            "Let it dry and mend it as after the leak test.",
        ],
        Failure::CupOverflows { .. } => {
            vec!["Lower the skimmer's water or its air, empty the cup, clear the holes of the lid."]
        }
        Failure::Together(all) => all.iter().flat_map(what_to_do).collect(),
    }
}
