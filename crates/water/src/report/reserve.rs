//! What the return chamber holds in reserve, upwards for what comes down, downwards for what evaporates.

use super::Reserve;
use crate::rehearsal::{Failure, peak_after};
use crate::running::Running;
use crate::system::AIR_OVER_M;

/// Litres are told every so many metres: a centimetre.
const MARK_STEP_M: f64 = 0.01;
/// The highest safe level is sought to this, m.
const SAFE_WITHIN_M: f64 = 1e-4;

pub(super) fn of(running: &Running<'_>) -> Reserve {
    let system = &running.system;
    let basin = system.tanks.returning;
    let tank = &system.network.tanks[basin];
    let spec = &system.works.basins[basin];
    let kept_m = system.kept_m();
    let lines = system.works.lines.iter().filter(|line| line.from == basin);
    let dry_m = lines.map(|line| line.intake_mm * 1e-3 + AIR_OVER_M).fold(0.0, f64::max);
    let litres = |level_m: f64| tank.volume(level_m.max(tank.floor_m())).0 * 1e3;
    let reserve_l = (litres(kept_m) - litres(dry_m)).max(0.0);
    let day_l = system.evaporation_m3_s * 86_400e3;
    let rim_m = spec.rim_mm * 1e-3;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a wall is at most a few metres high"
    )]
    let marks = (rim_m / MARK_STEP_M).floor() as usize;
    #[expect(clippy::cast_precision_loss, reason = "at most a few hundred")]
    let mark = |k: usize| k as f64 * MARK_STEP_M;
    Reserve {
        chamber: spec.name.clone(),
        basin,
        kept_m,
        kept_is_assumed: spec.kept_level_mm.is_none(),
        highest_safe_m: highest_safe(running, rim_m),
        dry_m,
        reserve_l,
        days: if day_l > 0.0 { reserve_l / day_l } else { f64::INFINITY },
        drain_back_l: drain_back_l(running),
        marks: (1..=marks).map(|k| [mark(k), litres(mark(k))]).collect(),
    }
}

/// Highest level that can be kept so that a power cut leaves the wanted freeboard everywhere in the sump.
///
/// More water never lowers a level, so the freeboard falls as the kept level rises, and halving finds it.
fn highest_safe(running: &Running<'_>, rim_m: f64) -> Option<f64> {
    let wanted_m = running.system.works.limits.freeboard.to_m();
    let is_safe = |kept_m: f64| {
        running.kept_at(kept_m).is_some_and(|other| {
            let least = peak_after(&other, &Failure::PowerCut).map(|peaks| {
                peaks.iter().map(|(rim, peak)| rim - peak).fold(f64::INFINITY, f64::min)
            });
            least.is_some_and(|least| least >= wanted_m)
        })
    };
    let (mut low, mut high) = (AIR_OVER_M, rim_m - wanted_m);
    if !is_safe(low) {
        return None;
    }
    while high - low > SAFE_WITHIN_M {
        let middle = 0.5 * (low + high);
        if is_safe(middle) { low = middle } else { high = middle }
    }
    Some(low)
}

/// What comes down from the display and its box until all is at rest after the pumps stop, L.
fn drain_back_l(running: &Running<'_>) -> f64 {
    crate::rehearsal::drained_after_cut_m3(running).map_or(f64::NAN, |m3| m3 * 1e3)
}
