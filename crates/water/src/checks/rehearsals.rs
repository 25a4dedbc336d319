//! What rehearsals say: one finding for each failure, for leaking seams one for all.

use findings::Finding;

use super::Checks;
use crate::rehearsal::{Failure, Outcome};
use crate::solve::Stop;

/// Less than this on the floor is a drip, L; our judgement.
const DRIP_L: f64 = 0.05;
/// A rehearsal must keep all its water to this share.
const LOST_SHARE: f64 = 1e-9;

pub(super) fn all(c: &Checks<'_>, outcomes: &[Outcome]) -> Vec<Finding> {
    let is_seam = |o: &&Outcome| matches!(o.failure, Failure::SeamLeaks { .. });
    let mut found: Vec<Finding> =
        outcomes.iter().filter(|o| !is_seam(o)).map(|o| one(c, o)).collect();
    found.extend(outcomes.iter().filter_map(|o| hunting(c, o)));
    let seams: Vec<&Outcome> = outcomes.iter().filter(is_seam).collect();
    found.extend(worst_seam(c, &seams));
    found
}

/// Stable name of the check.
fn code(failure: &Failure) -> &'static str {
    match failure {
        Failure::PowerCut => "power-cut",
        Failure::PowerBack => "power-back",
        Failure::DrainsBlocked { .. } => "drain-blocked",
        Failure::SocksClogged => "socks-clogged",
        Failure::LeafMissing { .. } => "leaf-missing",
        Failure::DoorOff { .. } => "door-off",
        Failure::DoorShut { .. } => "door-shut",
        Failure::TopUpStuck => "top-up-stuck",
        Failure::NoTopUp => "no-top-up",
        Failure::CheckValveFails { .. } => "check-valve-fails",
        Failure::BreakHoleBlocked { .. } => "break-hole-blocked",
        Failure::SeamLeaks { .. } => "seam-leaks",
        Failure::CupOverflows { .. } => "cup-overflows",
        Failure::Together(_) => "failures-together",
    }
}

/// What to do about a failure that floods.
fn hint(failure: &Failure) -> &'static str {
    match failure {
        Failure::PowerCut | Failure::PowerBack => {
            "keep a lower `level`, raise the line's `break_hole`, or make the sump larger"
        }
        Failure::CheckValveFails { .. } | Failure::BreakHoleBlocked { .. } => {
            "keep a lower `level`, or bring the outlet nearer to the surface: what comes down must find room even without valve or hole"
        }
        Failure::DrainsBlocked { .. } => {
            "give the emergency drain a wider bore or a lower mouth, or raise the display's rim; a float switch at the rim that stops the pump is a second line"
        }
        Failure::SocksClogged => {
            "make the bypass of the holder wider or deeper, or lower the holder"
        }
        Failure::LeafMissing { .. } | Failure::DoorOff { .. } | Failure::DoorShut { .. } => {
            "leave more room below the rim, or lower the crests"
        }
        Failure::TopUpStuck => "take a smaller reservoir, or keep a lower `level`",
        Failure::NoTopUp => "keep a higher `level`, or make the return chamber larger",
        Failure::CupOverflows { .. } => {
            "give the lid more `drain_holes`, or lead the cup's overflow to a container with a float switch"
        }
        Failure::SeamLeaks { .. } => {
            "test for leaks before use; a tray under the sump and a leak alarm catch what comes later"
        }
        Failure::Together(_) => "see what each of the two does alone",
    }
}

fn one(c: &Checks<'_>, o: &Outcome) -> Finding {
    let parameter = parameter(c, o);
    if let Some(reason) = not_known(o) {
        return Finding::not_checked(code(&o.failure), parameter, format!("{}: {reason}", o.name));
    }
    let wanted = c.limits().freeboard.to_m();
    let spilled = [o.spill.sump_l, o.spill.display_l].map(|f| (f.mid, f.high));
    let (mid, high) = (spilled[0].0 + spilled[1].0, spilled[0].1 + spilled[1].1);
    let (tank, free) = least_freeboard(o);
    let mut message = format!("{}: {}", o.name, outcome_words(c, o, tank, free));
    if let Failure::TopUpStuck = o.failure {
        message.push_str(&format!("; salinity ends at {:.1} g/kg", o.salinity_g_kg));
    }
    let code = code(&o.failure);
    let finding = if mid > DRIP_L {
        // That holes of a lid are blocked is a second failure.
        if matches!(
            o.failure,
            Failure::CupOverflows { has_blocked_holes: true, .. } | Failure::Together(_)
        ) {
            Finding::tight(code, parameter, message)
        } else {
            Finding::fails(code, parameter, message)
        }
    } else if high > DRIP_L || free < wanted || dries_out(c, o) {
        Finding::tight(code, parameter, message)
    } else {
        Finding::holds(code, parameter, message)
    };
    finding
        .with_limit(free * 1e3, wanted * 1e3, "mm")
        .with_source("`limits.freeboard`")
        .with_hint(hint(&o.failure))
}

/// The parameter that the maker would change: the kept level for what comes down, else the failure's own.
fn parameter(c: &Checks<'_>, o: &Outcome) -> String {
    match o.failure {
        Failure::PowerCut | Failure::PowerBack | Failure::NoTopUp => c.kept_parameter(),
        _ => o.failure.parameter(c.works()),
    }
}

/// Why nothing can be said, if so.
fn not_known(o: &Outcome) -> Option<String> {
    match o.stop {
        Stop::End => {}
        Stop::TooManyEvents => {
            return Some("it switches so often that the rehearsal was given up".to_owned());
        }
        Stop::TooManySteps | Stop::StepTooSmall => {
            return Some("the rehearsal could not be computed to its end".to_owned());
        }
    }
    if o.drift_m3 > LOST_SHARE * o.total_m3 {
        return Some(format!("{:.1e} m³ of water were lost in the reckoning", o.drift_m3));
    }
    let unknown = [o.spill.sump_l.high, o.spill.display_l.high];
    unknown.iter().any(|l| l.is_nan()).then(|| {
        "with coefficients at the ends of their doubt the rehearsal could not be computed"
            .to_owned()
    })
}

/// The tank that comes nearest to its rim, and how near, m.
fn least_freeboard(o: &Outcome) -> (usize, f64) {
    let free = o.reaches.iter().filter_map(|r| Some((r.tank, r.least_freeboard_m()?)));
    free.min_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or((0, f64::INFINITY))
}

fn outcome_words(c: &Checks<'_>, o: &Outcome, tank: usize, free: f64) -> String {
    let mut said = Vec::new();
    for (litres, whose) in [(o.spill.sump_l, "the sump"), (o.spill.display_l, "the display")] {
        if litres.mid > DRIP_L {
            said.push(format!("{} run on to the floor under {whose}", c.words.litres(litres.mid)));
        } else if litres.high > DRIP_L {
            said.push(format!(
                "up to {} may run on to the floor under {whose}",
                c.words.litres(litres.high)
            ));
        }
    }
    let spills = said.len();
    if comes_down(&o.failure) {
        let returning = &o.reaches[c.report.reserve.basin];
        said.push(format!(
            "the return rises from {} to {}",
            c.words.length(c.report.reserve.kept_m),
            c.words.band(returning.highest_m)
        ));
    }
    if spills == 0 {
        said.push(format!(
            "nothing runs over; {} comes nearest, {} below its rim",
            c.tank(tank).trim_end_matches(','),
            c.words.length(free)
        ));
    }
    if let Failure::CupOverflows { skimmer, .. } = o.failure {
        let basin = c.works().skimmers[skimmer].basin;
        if !c.works().covers.iter().any(|cover| cover.basin == basin) {
            said.push("without a lid under it what the cup throws out is taken to fall back into its chamber; where it can run outside, it does".to_owned());
        }
    }
    if let Some(air) = o.draws_air_s {
        let when = if air.mid.is_finite() { air.mid } else { air.low };
        let may = if air.mid.is_finite() { "draws" } else { "may draw" };
        said.push(format!("the pump {may} air after {}", c.words.time(when)));
    }
    said.join("; ")
}

/// Whether the display runs back into the sump.
fn comes_down(failure: &Failure) -> bool {
    matches!(
        failure,
        Failure::PowerCut
            | Failure::PowerBack
            | Failure::CheckValveFails { .. }
            | Failure::BreakHoleBlocked { .. }
    )
}

/// Whether the pump runs dry where it should not: at once, or before the days that the keeper wants.
fn dries_out(c: &Checks<'_>, o: &Outcome) -> bool {
    let Some(air) = o.draws_air_s else { return false };
    match o.failure {
        Failure::NoTopUp => air.low < c.limits().dry_days * 86_400.0,
        _ => true,
    }
}

/// A siphon that breaks and starts again and again.
fn hunting(c: &Checks<'_>, o: &Outcome) -> Option<Finding> {
    use crate::rehearsal::Happening::SiphonBreaks;
    let breaks = o.events.iter().filter(|e| matches!(e.what, SiphonBreaks { .. })).count();
    let cycle = o.cycles.iter().find(|cycle| cycle.period_s < LONGEST_HUNT_S)?;
    let swing = cycle.swing_m.iter().copied().fold(0.0, f64::max);
    let is_siphon = breaks > 1;
    if !is_siphon {
        return None;
    }
    let message = format!(
        "{}: a main drain breaks and starts again every {}; the water swings by {}",
        o.name,
        c.words.time(cycle.period_s),
        c.words.length(swing)
    );
    Some(
        Finding::tight("siphon-hunts", "drain", message)
            .with_hint("close the valve of the main drain until the secondary carries a trickle, or make the overflow box larger"),
    )
}

/// Slower than this is no hunting, s: the float of a top-up.
const LONGEST_HUNT_S: f64 = 300.0;

/// Every seam can leak; the worst is told.
fn worst_seam(c: &Checks<'_>, seams: &[&Outcome]) -> Option<Finding> {
    // The first of those that leak alike to a tenth of a litre, so that rounding does not choose.
    let leaks = |o: &Outcome| (o.spill.sump_l.high * 10.0).round();
    let worst = seams.iter().rev().max_by(|a, b| leaks(a).total_cmp(&leaks(b)))?;
    let parameter = worst.failure.parameter(c.works());
    if let Some(reason) = not_known(worst) {
        return Some(Finding::not_checked(
            "seam-leaks",
            parameter,
            format!("{}: {reason}", worst.name),
        ));
    }
    let message = format!(
        "{}, by a gap of {} over its whole length: {} on the floor in {}{}; the other chambers leak less",
        worst.name,
        c.works().rehearsals.seam_gap.show_fine(c.words.system),
        c.words.litres(worst.spill.sump_l.mid),
        c.words.time(worst.end_s),
        match worst.draws_air_s {
            Some(air) if air.mid.is_finite() =>
                format!("; the pump draws air after {}", c.words.time(air.mid)),
            _ => String::new(),
        }
    );
    // No design keeps water in behind an open seam; what it comes to is told.
    Some(
        Finding::holds("seam-leaks", parameter, message)
            .with_source("laminar flow through a gap of `rehearsals.seam_gap`, an assumption")
            .with_hint(hint(&worst.failure)),
    )
}
