//! Drains and the display above them while all is well.

use findings::Finding;
use params::DrainDuty;

use super::Checks;
use super::pumps::NO_FLOW_M3_S;
use super::words::percent;
use crate::report::DrainReport;
use crate::system::AIR_OVER_M;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let mut all = drains(c);
    all.extend(display(c));
    all
}

fn drains(c: &Checks<'_>) -> Vec<Finding> {
    let of = |duty: DrainDuty| -> Vec<&DrainReport> {
        c.report.drains.iter().filter(|d| d.duty == duty).collect()
    };
    let (mains, secondaries, emergencies) =
        (of(DrainDuty::Main), of(DrainDuty::Secondary), of(DrainDuty::Emergency));
    let mut found = Vec::new();
    if let (Some(main), true) = (mains.first(), secondaries.is_empty()) {
        let message = "a main drain that runs full needs a secondary one that carries the rest: alone it either runs dry and gulps, or the water rises until the emergency drain takes it";
        found.push(
            Finding::tight("no-secondary-drain", &main.parameter, message)
                .with_source("common practice")
                .with_hint("add a `[[drain]]` with `duty = \"secondary\"`"),
        );
    }
    if let (Some(main), true) = (mains.first().or(secondaries.first()), emergencies.is_empty()) {
        let message = "no emergency drain: when a drain is blocked, only the display's rim is left";
        found.push(
            Finding::tight("no-emergency-drain", &main.parameter, message)
                .with_source("common practice")
                .with_hint(
                    "add a `[[drain]]` with `duty = \"emergency\"`, its mouth above the others",
                ),
        );
    }
    for drain in
        c.report.drains.iter().filter(|d| d.ends_in_return && d.flow_m3_s.mid > NO_FLOW_M3_S)
    {
        let message = format!(
            "drain `{}` ends in the return chamber: its water passes all the other chambers by and falls beside the pump",
            drain.name
        );
        found.push(
            Finding::tight("drain-into-return", &drain.parameter, message)
                .with_hint("let it end in the first chamber, unless you mean it so"),
        );
    }
    found.extend(trickle(c, &mains, &secondaries));
    for main in mains {
        found.extend(main_drain(c, main));
    }
    for emergency in emergencies {
        let share = emergency.flow_m3_s.high / c.report.return_flow_m3_s.mid.max(NO_FLOW_M3_S);
        if share > 0.01 {
            let message = format!(
                "the emergency drain `{}` carries up to {} while all is well; it should be dry",
                emergency.name,
                c.words.flow(emergency.flow_m3_s.high)
            );
            found.push(
                Finding::tight("emergency-drain-wet", &emergency.parameter, message)
                    .with_hint("raise its `intake`, or give the other drains more room"),
            );
        }
    }
    found
}

fn trickle(
    c: &Checks<'_>,
    mains: &[&DrainReport],
    secondaries: &[&DrainReport],
) -> Option<Finding> {
    let [least, most] = c.limits().trickle;
    let (first, _) = (secondaries.first()?, mains.first()?);
    let share: f64 = secondaries.iter().map(|d| d.share).sum();
    let valves: Vec<String> = mains
        .iter()
        .filter_map(|d| {
            Some(format!("`{}` open by {} of its bore", d.name, percent(d.valve_open?)))
        })
        .collect();
    let message = format!(
        "with the valve of {} the secondary drain carries {} of the flow",
        valves.join(" and "),
        percent(share)
    );
    // Shares are set to the middle of the range; rounding must not miss it.
    let finding = if least <= share && share <= most {
        Finding::holds("trickle", &first.parameter, message)
    } else {
        let hint = if share > most {
            "open the valve of the main drain further, or take a wider main drain"
        } else {
            "close the valve of the main drain a little"
        };
        Finding::tight("trickle", &first.parameter, message).with_hint(hint)
    };
    Some(
        finding
            .with_limit(share * 100.0, if share > most { most } else { least } * 100.0, "%")
            .with_source("`limits.trickle`; common practice"),
    )
}

fn main_drain(c: &Checks<'_>, main: &DrainReport) -> Vec<Finding> {
    let mut found = Vec::new();
    let over = c.report.weir_box_m.low - main.intake_m;
    if over < AIR_OVER_M && main.flow_m3_s.mid > NO_FLOW_M3_S {
        let message = format!(
            "the main drain `{}` takes more than comes: the water stands only {} over its mouth and air gets in, so it gulps",
            main.name,
            c.words.length(over.max(0.0))
        );
        found.push(
            Finding::tight("siphon-too-strong", &main.parameter, message)
                .with_limit(over * 1e3, AIR_OVER_M * 1e3, "mm")
                .with_source("our judgement: air enters below 20 mm of water")
                .with_hint(if c.works().drains.iter().any(|d| d.duty == DrainDuty::Secondary) {
                    "close its valve until the secondary drain carries a trickle, or lower its `intake`"
                } else {
                    "add a secondary drain, so that the valve of this one can be closed until that carries a trickle"
                }),
        );
    }
    let most = c.limits().pipe_speed;
    if main.speed_m_s > most {
        let message = format!(
            "water runs through the main drain `{}` at {}",
            main.name,
            c.words.speed(main.speed_m_s)
        );
        found.push(
            Finding::tight("pipe-speed", format!("{}.diameter", main.parameter), message)
                .with_limit(main.speed_m_s, most, "m/s")
                .with_source("`limits.pipe_speed`; common practice")
                .with_hint("take a wider drain"),
        );
    }
    found
}

fn display(c: &Checks<'_>) -> Vec<Finding> {
    let free = c.report.display_rim_m - c.report.display_m.high;
    let wanted = c.limits().freeboard.to_m();
    let message =
        format!("the display stands {} below its rim while the pump runs", c.words.length(free));
    let finding = if free < 0.0 {
        let message = format!(
            "the drains do not take what the pump brings: the display runs over its rim, {} over it",
            c.words.length(-free)
        );
        Finding::fails("display-runs-over", "display.overflow", message)
    } else if free < wanted {
        Finding::tight("display-freeboard", "display.overflow", message)
    } else {
        Finding::holds("display-freeboard", "display.overflow", message)
    };
    vec![
        finding
            .with_limit(free * 1e3, wanted * 1e3, "mm")
            .with_source("`limits.freeboard`")
            .with_hint("give the overflow a longer or lower crest, or wider drains, or let less water through"),
    ]
}
