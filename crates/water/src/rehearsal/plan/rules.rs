//! By which levels what switches, as plain data: whoever repeats a rehearsal by other means needs them.

use serde::Serialize;

use super::{EMPTY_M, Play};
use crate::rehearsal::act::acts;
use crate::rehearsal::{Act, Failure};
use crate::running::Running;

/// A failure as it is played: what happens by the clock, and what switches by levels. Indices are those of
/// the network's tanks and elements; heights are m.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Script {
    /// What happens by the clock: when, s, and what.
    pub acts: Vec<Timed>,
    /// Main drains.
    pub siphons: Vec<SiphonRule>,
    /// Pumps with their lines.
    pub lines: Vec<LineRule>,
    /// The float of the top-up.
    pub float: Option<FloatRule>,
    /// Elements that pass only while there is power and they are opened.
    pub cups: Vec<usize>,
    /// Tanks that can run over on to a floor, lids among them, and the height at which they do.
    pub rims: Vec<(usize, f64)>,
    /// Scale of each element while it is open.
    pub open_scale: Vec<f64>,
}

/// Something that happens by the clock.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Timed {
    /// When, s.
    pub t_s: f64,
    /// What.
    #[serde(flatten)]
    pub act: Act,
}

/// A main drain: one of its two elements is open. It begins full if the level is above `breaks_m`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SiphonRule {
    /// Element while it runs full.
    pub full: usize,
    /// Element while there is air in it.
    pub open: usize,
    /// Tank whose level decides.
    pub tank: usize,
    /// Sinking below this lets air in.
    pub breaks_m: f64,
    /// Rising above this fills it.
    pub primes_m: f64,
}

/// A pump's line: the pump's element is open with power; without, the way back is open while `to` stands
/// above `breaks_m`, looked at when the power changes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LineRule {
    /// Element of the pump.
    pub pump: usize,
    /// Element of the way back.
    pub back: usize,
    /// Tank of the pump.
    pub from: usize,
    /// Tank of the outlet.
    pub to: usize,
    /// The pump draws air when its tank sinks below this; it is told, and nothing switches.
    pub draws_air_m: f64,
    /// Sinking below this lets air into the way back.
    pub breaks_m: f64,
    /// The same when the break hole is blocked.
    pub breaks_by_outlet_m: f64,
    /// Whether a check valve keeps the way back shut.
    pub has_check_valve: bool,
}

/// The float: it switches an element that needs power.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FloatRule {
    /// Element of the top-up's pump.
    pub element: usize,
    /// Tank with the float.
    pub tank: usize,
    /// Tank that feeds it.
    pub reservoir: usize,
    /// Sinking below this switches it on.
    pub on_m: f64,
    /// Rising above this switches it off.
    pub off_m: f64,
    /// The reservoir is told to be empty below this; nothing switches.
    pub empty_m: f64,
}

/// The script of a failure for a sump that runs.
pub fn script(running: &Running<'_>, failure: &Failure) -> Script {
    let system = &running.system;
    let all = acts(system, failure);
    let play = Play::new(system, all.clone(), None);
    Script {
        acts: all.into_iter().map(|(t_s, act)| Timed { t_s, act }).collect(),
        siphons: (play.siphons.iter())
            .map(|s| SiphonRule {
                full: s.siphon,
                open: s.open,
                tank: s.weir_box,
                breaks_m: s.breaks_m,
                primes_m: s.primes_m,
            })
            .collect(),
        lines: (play.lines.iter())
            .map(|l| LineRule {
                pump: l.pump,
                back: l.back,
                from: l.from,
                to: l.to,
                draws_air_m: l.draws_air_m,
                breaks_m: l.breaks_m,
                breaks_by_outlet_m: l.breaks_m.min(l.outlet_m),
                has_check_valve: l.has_check_valve,
            })
            .collect(),
        float: play.float.as_ref().map(|f| FloatRule {
            element: f.element,
            tank: f.tank,
            reservoir: f.reservoir,
            on_m: f.on_m,
            off_m: f.off_m,
            empty_m: EMPTY_M,
        }),
        cups: play.cups.clone(),
        rims: system.edges(),
        open_scale: play.base.clone(),
    }
}
