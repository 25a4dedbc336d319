//! Pumps with their lines while all is well.

use findings::Finding;

use super::Checks;
use crate::law::Validity;
use crate::report::LineReport;
use crate::system::AIR_OVER_M;

/// Less than this is no flow, m³/s: a litre an hour.
pub(super) const NO_FLOW_M3_S: f64 = 1.0 / 3.6e6;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let mut all: Vec<Finding> = c.report.lines.iter().flat_map(|line| pump(c, line)).collect();
    all.extend(break_holes(c));
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
