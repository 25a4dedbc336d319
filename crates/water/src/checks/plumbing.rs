//! Pumps, drains and the reserve of the return chamber while all is well.

use findings::Finding;
use params::DrainDuty;

use super::Checks;
use super::words::percent;
use crate::law::Validity;
use crate::report::{DrainReport, LineReport};
use crate::system::AIR_OVER_M;

/// Less than this is no flow, m³/s: a litre an hour.
const NO_FLOW_M3_S: f64 = 1.0 / 3.6e6;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let mut all: Vec<Finding> = c.report.lines.iter().flat_map(|line| pump(c, line)).collect();
    all.extend(drains(c));
    all.extend(display(c));
    all.extend(break_holes(c));
    all.extend(float(c));
    all.extend(kept_level(c));
    all.extend(dry_reserve(c));
    all
}

fn pump(c: &Checks<'_>, line: &LineReport) -> Vec<Finding> {
    let flow = line.flow_m3_s;
    if flow.mid < NO_FLOW_M3_S {
        return vec![no_flow(c, line)];
    }
    let mut found = Vec::new();
    let message = format!(
        "pump `{}` moves {} ({} to {}) to {}, lifting it {}",
        line.pump,
        c.words.flow(flow.mid),
        c.words.flow(flow.low),
        c.words.flow(flow.high),
        if line.to == "display" {
            "the display".to_owned()
        } else {
            format!("chamber `{}`", line.to)
        },
        c.words.length(line.lift_m)
    );
    found.push(if line.validity != Validity::Within {
        let message = format!("{message}; {}: more may flow than that", line.why);
        Finding::not_checked("pump-flow", &line.pump_parameter, message).with_hint(
            "give the points of its `curve` down to no head, or more water over its intake",
        )
    } else if line.curve_is_guessed {
        let message = format!(
            "{message}; its curve is guessed from its two extremes as a parabola (common practice)"
        );
        Finding::tight("pump-flow", &line.pump_parameter, message)
            .with_hint("give the points of its data sheet as `curve`")
    } else {
        Finding::holds("pump-flow", &line.pump_parameter, message)
    });
    found.push(submergence(c, line));
    let most = c.limits().pipe_speed;
    let fastest = line.speed_m_s * flow.high / flow.mid;
    if fastest > most {
        let message = format!(
            "water runs through the line of `{}` at up to {}",
            line.pump,
            c.words.speed(fastest)
        );
        let finding = Finding::tight("pipe-speed", format!("{}.bore", line.parameter), message);
        found.push(
            finding
                .with_limit(fastest, most, "m/s")
                .with_source("`limits.pipe_speed`; common practice")
                .with_hint("take a wider pipe: it is quieter and leaves the pump more flow"),
        );
    }
    found
}

/// A pump that moves nothing stands dry, or is too weak.
fn no_flow(c: &Checks<'_>, line: &LineReport) -> Finding {
    if line.submergence_m < AIR_OVER_M {
        return submergence(c, line);
    }
    let message = format!(
        "pump `{}` moves nothing: it makes {} at most, and the water has to be lifted {}",
        line.pump,
        c.words.length(line.shut_off_m),
        c.words.length(line.lift_m)
    );
    Finding::fails("pump-too-weak", &line.pump_parameter, message)
        .with_limit(line.shut_off_m, line.lift_m, "m")
        .with_hint("take a pump with more head, or check `display.stands` and the line's `outlet`")
}

fn submergence(c: &Checks<'_>, line: &LineReport) -> Finding {
    let (have, want) = (line.submergence_m, line.wanted_submergence_m);
    let parameter = c.kept_parameter();
    let message = format!(
        "the intake of `{}` lies {} under water at the least; {} keep it from drawing air in a whirl",
        line.pump,
        c.words.length(have),
        c.words.length(want)
    );
    let finding = if have < AIR_OVER_M {
        Finding::fails("intake-submergence", &line.pump_parameter, message)
    } else if have < want {
        Finding::tight("intake-submergence", &parameter, message)
    } else {
        Finding::holds("intake-submergence", &parameter, message)
    };
    finding
        .with_limit(have * 1e3, want * 1e3, "mm")
        .with_source(line.wanted_submergence_source)
        .with_hint("keep a higher `level`, take a wider intake or strainer (`intake_diameter`), or a pump that stands lower")
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

/// A hole that should let air in when the pump stops and lies above the water sprays while it runs.
fn break_holes(c: &Checks<'_>) -> Vec<Finding> {
    let lines = c.works().lines.iter().filter(|line| line.has_break_hole && line.to.is_none());
    let of = |line: &design::Line| {
        let under = c.report.display_m.low - line.break_mm * 1e-3;
        let message = format!(
            "the break hole in the line of `{}` lies {} above the water of the running display: it sprays",
            line.pump,
            c.words.length(-under)
        );
        (under < 0.0).then(|| {
            Finding::tight("break-hole-sprays", format!("{}.break_hole", line.parameter), message)
                .with_limit(under * 1e3, 0.0, "mm")
                .with_hint("lower `break_hole` a little below the running level, or raise the overflow's crest")
        })
    };
    lines.filter_map(of).collect()
}

/// The float keeps the level, whatever the file says.
fn float(c: &Checks<'_>) -> Option<Finding> {
    let reserve = &c.report.reserve;
    let [on, off] = reserve.float_m?;
    let is_off = reserve.kept_m < on - FLOAT_PLAY_M || off + FLOAT_PLAY_M < reserve.kept_m;
    let message = format!(
        "the float of the top-up keeps the water between {} and {}, not at the {} of `level`",
        c.words.length(on),
        c.words.length(off),
        c.words.length(reserve.kept_m)
    );
    is_off.then(|| {
        Finding::tight("float-off-level", "top_up", message)
            .with_hint("give the `level` that the float keeps, or leave its `low` and `high` out")
    })
}

/// A float this far off the kept level counts as meant so, m; common practice.
const FLOAT_PLAY_M: f64 = 0.005;

fn kept_level(c: &Checks<'_>) -> Vec<Finding> {
    let reserve = &c.report.reserve;
    // The float may keep more than the file says.
    let kept_m = reserve.float_m.map_or(reserve.kept_m, |[_, off]| reserve.kept_m.max(off));
    let parameter = c.kept_parameter();
    let wanted = c.words.length(c.limits().freeboard.to_m());
    let Some(safe) = reserve.highest_safe_m else {
        let message = format!(
            "no level of the return chamber is safe: after `{}` less than {wanted} would be left to a rim, whatever is kept",
            reserve.decided_by
        );
        return vec![
            Finding::fails("kept-level", parameter, message)
                .with_hint("raise the outlet or the `break_hole` of the line, lower the display's crest, take a smaller reservoir, or make the sump larger"),
        ];
    };
    let floods = reserve.limits.iter().filter(|l| l.is_flood).filter_map(|l| l.level_m);
    let flood = floods.fold(f64::INFINITY, f64::min);
    let message = format!(
        "`{}` is kept at {}; up to {} is safe, as decided by {} ({} come down after a power cut)",
        reserve.chamber,
        c.words.length(kept_m),
        c.words.length(safe),
        reserve.decided_by,
        c.words.litres(reserve.drain_back_l)
    );
    let finding = if kept_m > flood {
        Finding::fails("kept-level", parameter, message).with_hint(
            "keep a lower `level`, or let less run back: raise the outlet or its `break_hole`",
        )
    } else if kept_m > safe {
        Finding::tight("kept-level", parameter, message)
            .with_hint("keep a lower `level`, or raise the crest before the return chamber")
    } else {
        Finding::holds("kept-level", parameter, message)
    };
    vec![finding.with_limit((safe - kept_m) * 1e3, 0.0, "mm").with_source("`limits.freeboard`")]
}

fn dry_reserve(c: &Checks<'_>) -> Vec<Finding> {
    let (reserve, wanted) = (&c.report.reserve, c.limits().dry_days);
    let water = &c.report.water;
    let basis = if water.evaporation_is_computed {
        format!(
            "computed from the room's air by the upper of two estimates; the other gives {}",
            c.words.litres(water.evaporation_l_day)
        )
    } else {
        "as given".to_owned()
    };
    let message = format!(
        "without top-up the return lasts {:.1} days until its pump draws air: {} at {} a day, {basis}",
        reserve.days,
        c.words.litres(reserve.reserve_l),
        c.words.litres(water.evaporation_most_l_day)
    );
    let parameter = c.kept_parameter();
    let finding = if reserve.days < wanted {
        Finding::tight("dry-reserve", parameter, message)
            .with_hint("keep a higher `level`, make the return chamber larger, or take a pump with a lower intake")
    } else {
        Finding::holds("dry-reserve", parameter, message)
    };
    let mut found = vec![
        finding
            .with_limit(reserve.days, wanted, "days")
            .with_source("`limits.dry_days`; Shah (2014), Carrier (1918)"),
    ];
    found.extend(water.evaporation_out_of_range.as_ref().map(|why| {
        let message = format!("evaporation is computed out of the range of its formula: {why}");
        Finding::not_checked("evaporation-range", "room", message)
            .with_hint("measure what evaporates in a week, and give it as `room.evaporation`")
    }));
    found
}
