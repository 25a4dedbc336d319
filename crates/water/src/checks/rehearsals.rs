//! What rehearsals say: one finding for each failure, for leaking seams one for all.

use design::Waterworks;
use findings::{Finding, Grade};

use super::Checks;
use crate::rehearsal::{BEGIN_S, Failure, Figure, Happening, Outcome, standing};
use crate::solve::Stop;

/// Less than this on the floor is a drip, L; our judgement.
const DRIP_L: f64 = 0.05;
/// A rehearsal must keep all its water to this share.
const LOST_SHARE: f64 = 1e-9;

pub(super) fn all(c: &Checks<'_>, outcomes: &[Outcome]) -> Vec<Finding> {
    let mut found = left_out(c);
    if let Some(trouble) = outcomes.iter().find_map(trouble_before) {
        let message =
            format!("no failure is judged: {trouble} already while all is well; mend that first");
        found.push(Finding::not_checked("failures", "", message));
        return found;
    }
    let is_seam = |o: &&Outcome| matches!(o.failure, Failure::SeamLeaks { .. });
    found.extend(outcomes.iter().filter(|o| !is_seam(o)).map(|o| one(c, o)));
    found.extend(outcomes.iter().filter(|o| o.band_is_doubtful).map(|o| {
        let message = format!(
            "{}: a combination of coefficients that was tried as a check lay outside the bands; they were widened to hold it, but others may lie further out",
            o.name
        );
        Finding::not_checked("rehearsal-band", parameter(c, o), message)
    }));
    found.extend(outcomes.iter().filter_map(|o| hunting(c, o)));
    let seams: Vec<&Outcome> = outcomes.iter().filter(is_seam).collect();
    found.extend(worst_seam(c, &seams));
    found
}

/// What the file leaves out is not judged, and that is said.
fn left_out(c: &Checks<'_>) -> Vec<Finding> {
    let known: Vec<String> = standing(c.works()).iter().map(|f| f.name(c.works())).collect();
    let is_known = |name: &String| known.iter().any(|k| k.eq_ignore_ascii_case(name.trim()));
    let all = c.works().rehearsals.leave_out.iter().enumerate();
    // A name that is none is told where names are.
    let names = all.filter(|(_, name)| is_known(name));
    let of = |(i, name): (usize, &String)| {
        let message = format!("`{name}` is not rehearsed: the file leaves it out");
        Finding::not_checked("rehearsal-left-out", format!("rehearsals.leave_out[{i}]"), message)
    };
    names.map(of).collect()
}

/// What goes wrong before the failure begins, in words.
fn trouble_before(o: &Outcome) -> Option<&'static str> {
    o.events.iter().filter(|e| e.t_s < BEGIN_S).find_map(|e| match e.what {
        Happening::RunsOver { .. } => Some("water runs over"),
        Happening::PumpDrawsAir { .. } => Some("a pump draws air"),
        _ => None,
    })
}

/// How a rehearsal came out.
pub fn grade(works: &Waterworks, o: &Outcome) -> Grade {
    let wanted = works.limits.freeboard.to_m();
    let spilled = |part: fn(Figure) -> f64| part(o.spill.sump_l) + part(o.spill.display_l);
    let is_second_failure = matches!(
        o.failure,
        Failure::CupOverflows { has_blocked_holes: true, .. } | Failure::Together(_)
    );
    if not_known(o).is_some() || trouble_before(o).is_some() {
        Grade::NotChecked
    } else if matches!(o.failure, Failure::SeamLeaks { .. }) {
        Grade::Holds
    } else if spilled(|f| f.mid) > DRIP_L && !is_second_failure {
        Grade::Fails
    } else if spilled(|f| f.high) > DRIP_L || least_freeboard(o).1 < wanted || dries_out(works, o) {
        Grade::Tight
    } else {
        Grade::Holds
    }
}

/// Stable name of the check.
fn code(failure: &Failure) -> &'static str {
    match failure {
        Failure::PowerCut => "power-cut",
        Failure::PowerBack => "power-back",
        Failure::DrainsBlocked { .. } => "drain-blocked",
        Failure::SocksClogged => "socks-clogged",
        Failure::StrainersClogged => "strainers-clogged",
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
        Failure::StrainersClogged => {
            "leave a way beside the strainer that nothing can clog: a lower crest of its leaf, or a second opening"
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
    let (_, free) = least_freeboard(o);
    let mut message = format!("{}: {}", o.name, outcome_words(c, o));
    if let Failure::TopUpStuck = o.failure {
        message.push_str(&format!("; salinity ends at {:.1} g/kg", o.salinity_g_kg));
    }
    let code = code(&o.failure);
    let finding = match grade(c.works(), o) {
        Grade::Fails => Finding::fails(code, parameter, message),
        Grade::Tight => Finding::tight(code, parameter, message),
        Grade::NotChecked => Finding::not_checked(code, parameter, message),
        Grade::Holds => {
            return Finding::holds(code, parameter, message)
                .with_limit(free * 1e3, wanted * 1e3, "mm")
                .with_source("`limits.freeboard`");
        }
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
    let least = freeboards(o).into_iter().min_by(|a, b| a.1.total_cmp(&b.1));
    least.unwrap_or((0, f64::INFINITY))
}

fn outcome_words(c: &Checks<'_>, o: &Outcome) -> String {
    let mut said = Vec::new();
    for (litres, whose) in [(o.spill.sump_l, "the sump"), (o.spill.display_l, "the display")] {
        if litres.mid > DRIP_L {
            let litres = c.words.litres(litres.mid);
            said.push(format!("{litres} run on to the floor under {whose}"));
        } else if litres.high > DRIP_L {
            let litres = c.words.litres(litres.high);
            said.push(format!("up to {litres} may run on to the floor under {whose}"));
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
        let display = c.running.system.tanks.display;
        let (in_display, in_sump): (Vec<_>, Vec<_>) =
            freeboards(o).into_iter().partition(|(tank, _)| *tank == display);
        let nearest = in_sump.into_iter().min_by(|a, b| a.1.total_cmp(&b.1));
        let sump = nearest.map(|(tank, free)| {
            format!("{} comes nearest to its rim, {}", c.tank(tank), c.words.length(free))
        });
        let display =
            in_display.first().map(|(_, free)| format!("the display {}", c.words.length(*free)));
        let both: Vec<String> = sump.into_iter().chain(display).collect();
        said.push(format!("nothing runs over; {}", both.join(", ")));
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

/// Every tank with a rim, and the least height from its water to it, m.
fn freeboards(o: &Outcome) -> Vec<(usize, f64)> {
    o.reaches.iter().filter_map(|r| Some((r.tank, r.least_freeboard_m()?))).collect()
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

/// Whether the pump runs dry where it should not: before the days that the keeper wants, or by the failure
/// rather than by evaporation alone.
fn dries_out(works: &Waterworks, o: &Outcome) -> bool {
    let Some(air) = o.draws_air_s else { return false };
    match o.failure {
        Failure::NoTopUp => air.low < works.limits.dry_days * 86_400.0,
        _ => air.low < SOONER * o.dry_anyway_s,
    }
}

/// A pump that draws air sooner than this share of the time in which all would have evaporated does so by
/// the failure; our judgement.
const SOONER: f64 = 0.5;

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
            .with_hint("give it a secondary drain and close its valve until that carries a trickle, or make the overflow box larger"),
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
