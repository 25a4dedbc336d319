//! What the return chamber holds in reserve, upwards for what comes down, downwards for what evaporates.

use super::{Reserve, SafeLimit};
use crate::rehearsal::{Failure, Reach, peak_after, rehearse};
use crate::running::Running;
use crate::system::Part;

/// Litres are told every so many metres: a centimetre.
const MARK_STEP_M: f64 = 0.01;
/// The highest safe level is sought to this, m.
const SAFE_WITHIN_M: f64 = 2e-4;

pub(super) fn of(running: &Running<'_>) -> Reserve {
    let system = &running.system;
    let basin = system.tanks.returning;
    let tank = &system.network.tanks[basin];
    let spec = &system.works.basins[basin];
    let kept_m = system.kept_m();
    let dry_m = system.dry_m();
    let litres = |level_m: f64| tank.volume(level_m.max(tank.floor_m())).0 * 1e3;
    let float = system.works.top_up.as_ref().filter(|top_up| top_up.basin == basin);
    let float_m = float.map(|top_up| top_up.float_mm.map(|mm| mm * 1e-3));
    // The float keeps what it keeps, whatever the file says.
    let least_m = float_m.map_or(kept_m, |[on, _]| kept_m.min(on));
    let reserve_l = (litres(least_m) - litres(dry_m)).max(0.0);
    let day_l = system.evaporation_most_m3_s * 86_400e3;
    let rim_m = spec.rim_mm * 1e-3;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a wall is at most a few metres high"
    )]
    let marks = (rim_m / MARK_STEP_M).floor() as usize;
    #[expect(clippy::cast_precision_loss, reason = "at most a few hundred")]
    let mark = |k: usize| k as f64 * MARK_STEP_M;
    let limits = limits(running, rim_m);
    // A limit that no level meets comes first.
    let height = |limit: &&SafeLimit| limit.level_m.unwrap_or(f64::NEG_INFINITY);
    let decides = limits.iter().min_by(|a, b| height(a).total_cmp(&height(b)));
    Reserve {
        chamber: spec.name.clone(),
        basin,
        kept_m,
        kept_is_assumed: spec.kept_level_mm.is_none(),
        highest_safe_m: decides.and_then(|limit| limit.level_m),
        decided_by: decides.map_or_else(String::new, |limit| limit.what.clone()),
        limits: limits.clone(),
        dry_m,
        float_m,
        reserve_l,
        days: if day_l > 0.0 { reserve_l / day_l } else { f64::INFINITY },
        drain_back_l: drain_back_l(running),
        marks: (1..=marks).map(|k| [mark(k), litres(mark(k))]).collect(),
    }
}

/// What limits the level that may be kept: every failure in which water comes down to the return chamber or
/// is added to it must leave the wanted freeboard, and the crest before the chamber must not drown.
fn limits(running: &Running<'_>, rim_m: f64) -> Vec<SafeLimit> {
    let works = running.system.works;
    let mut failures = vec![Failure::PowerCut];
    let lines = || works.lines.iter().enumerate();
    let holes = lines().filter(|(_, l)| l.has_break_hole);
    failures.extend(holes.map(|(line, _)| Failure::BreakHoleBlocked { line }));
    let valves = lines().filter(|(_, l)| l.has_check_valve);
    failures.extend(valves.map(|(line, _)| Failure::CheckValveFails { line }));
    if works.top_up.is_some() {
        failures.push(Failure::TopUpStuck);
    }
    let flood = |failure: &Failure| SafeLimit {
        what: failure.name(works),
        is_flood: true,
        level_m: highest_safe(running, rim_m, failure),
    };
    let mut limits: Vec<SafeLimit> = failures.iter().map(flood).collect();
    limits.extend(last_crest(running));
    limits
}

/// The lowest crest over which water comes down to the return chamber, or to a space that stands level with
/// it through gaps and openings.
fn last_crest(running: &Running<'_>) -> Option<SafeLimit> {
    use design::WayKind::{Comb, Crest, Door};
    let system = &running.system;
    let flowing = || {
        system.parts.iter().enumerate().filter_map(|(i, part)| {
            let Part::Way { kind, .. } = part else { return None };
            let is_edge = matches!(kind, Crest | Comb | Door);
            (running.flows_m3_s[i] > 0.0).then(|| (is_edge, &system.network.elements[i]))
        })
    };
    let mut joined = vec![system.tanks.returning];
    loop {
        let through = flowing()
            .find(|(is_edge, e)| !is_edge && joined.contains(&e.down) && !joined.contains(&e.up));
        let Some((_, e)) = through else { break };
        joined.push(e.up);
    }
    let edges = flowing().filter(|(is_edge, e)| *is_edge && joined.contains(&e.down));
    let sills = edges.filter_map(|(_, e)| Some((e, e.law.sill_m()?)));
    let (e, sill_m) = sills.min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some(SafeLimit {
        what: format!("{}, which it would drown", e.name),
        is_flood: false,
        level_m: Some(sill_m),
    })
}

/// The search tries one corner of the coefficients' doubt; what it finds is played with the whole band, and
/// lowered until that leaves what is wanted. In whole millimetres, as it is engraved.
fn confirmed(running: &Running<'_>, failure: &Failure, level_m: f64) -> Option<f64> {
    let wanted_m = running.system.works.limits.freeboard.to_m();
    let display = running.system.tanks.display;
    let missing_m = |level_m: f64| -> Option<f64> {
        let outcome = rehearse(&running.kept_at(level_m)?, failure).ok()?;
        let sump = outcome.reaches.iter().filter(|r| r.tank != display);
        let least_m = sump.filter_map(Reach::least_freeboard_m).fold(f64::INFINITY, f64::min);
        Some(wanted_m - least_m)
    };
    let mut level_m = (level_m * 1e3).floor() * 1e-3;
    let mut step_m = 1e-3;
    while running.system.dry_m() <= level_m {
        let missing_m = missing_m(level_m)?;
        if missing_m <= 0.0 {
            return Some(level_m);
        }
        // The freeboard falls less than the level rises where more chambers share the water.
        step_m = f64::max(2.0 * step_m, (missing_m * 1e3).ceil() * 1e-3);
        level_m -= step_m;
    }
    None
}

/// Highest level that can be kept so that a failure leaves the wanted freeboard everywhere in the sump.
///
/// More water never lowers a level, so the freeboard falls as the kept level rises, and halving finds it.
fn highest_safe(running: &Running<'_>, rim_m: f64, failure: &Failure) -> Option<f64> {
    let wanted_m = running.system.works.limits.freeboard.to_m();
    let is_safe = |kept_m: f64| {
        running.kept_at(kept_m).is_some_and(|other| {
            let least = peak_after(&other, failure).map(|peaks| {
                peaks.iter().map(|(rim, peak)| rim - peak).fold(f64::INFINITY, f64::min)
            });
            least.is_some_and(|least| least >= wanted_m)
        })
    };
    // Below the dry mark the pump draws air, and just above it much can go wrong that has nothing to do
    // with what comes down: the kept level is the better place to begin, if it is safe.
    let mut high = rim_m - wanted_m;
    let mut low =
        [running.system.kept_m(), running.system.dry_m()].into_iter().find(|&z| is_safe(z))?;
    while high - low > SAFE_WITHIN_M {
        let middle = 0.5 * (low + high);
        if is_safe(middle) { low = middle } else { high = middle }
    }
    confirmed(running, failure, low)
}

/// What comes down from the display and its box until all is at rest after the pumps stop, L.
fn drain_back_l(running: &Running<'_>) -> f64 {
    crate::rehearsal::drained_after_cut_m3(running).map_or(f64::NAN, |m3| m3 * 1e3)
}
