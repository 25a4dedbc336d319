//! Cycles that have settled, as when a siphon breaks and primes every few seconds, and leaps over them.
//!
//! When the same event has come back after the same time with the same change of all volumes, the next
//! many periods are taken in one: volumes plus so many times the change. That is linear, so it keeps
//! their sum. A leap never reaches a switch of the clock, and stops short of where another watched value
//! would rise to zero. How far a level may drift in a leap is limited, except where nothing answers to the
//! level: in what only collects, and in a reservoir out of which a pump doses.

use serde::Serialize;

use crate::law::Law;
use crate::network::Network;
use crate::solve::dense::Vector;

/// Longest period that is leapt over, s. Our judgement: hunting takes seconds to minutes, a float that is
/// topped up against evaporation up to hours.
const LONGEST_PERIOD_S: f64 = 6.0 * 3600.0;
/// Two periods are alike within this share.
const ALIKE: f64 = 1e-3;
/// Two changes of levels are alike within this, m.
const ALIKE_M: f64 = 1e-5;
/// While the mismatch of two changes is above this, m, and still falls by a third with every period, waiting
/// pays: the leap may then be longer.
const SETTLED_M: f64 = 5e-7;
/// No level drifts further than this in one leap, m.
const TRAVEL_M: f64 = 1e-3;
/// The mismatch of two periods, times the periods leapt over, is at most this, m. Measured on a siphon that
/// hunts all day: the lowest and highest levels are then right within 0.03 mm.
const MISMATCH_M: f64 = 2e-4;

/// A cycle that had settled, so that periods of it were leapt over.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cycle {
    /// The watched value whose rise to zero came back.
    pub watch: usize,
    /// How long one period took when last seen, s.
    pub period_s: f64,
    /// From the lowest to the highest level of every tank in that period, m.
    pub swing_m: Vec<f64>,
    /// When it was first found settled, s.
    pub from_s: f64,
    /// When it was last seen, s.
    pub until_s: f64,
    /// How many periods were leapt over in all.
    pub leapt: f64,
    /// The largest error that a leap may have made in a level, m: half of what the drift per period changed
    /// over the leap, times the periods.
    pub mismatch_m: f64,
    /// The watched values that rose to zero in one period.
    #[serde(skip)]
    pub fired: Vec<usize>,
}

/// One period of a watched value, at its end.
#[derive(Clone, Debug)]
struct Lap<const W: usize> {
    t: f64,
    volumes: Vector<W>,
    seen: Seen<W>,
}

/// What was seen since a watched value last rose to zero.
#[derive(Clone, Debug)]
struct Seen<const W: usize> {
    low: Vector<W>,
    high: Vector<W>,
    /// Highest of each watched value at the ends of steps.
    peaks: Vec<f64>,
    /// How often each rose to zero.
    fired: Vec<u32>,
}

impl<const W: usize> Default for Seen<W> {
    fn default() -> Self {
        Self {
            low: [f64::INFINITY; W],
            high: [f64::NEG_INFINITY; W],
            peaks: Vec::new(),
            fired: Vec::new(),
        }
    }
}

/// Of one watched value.
#[derive(Clone, Debug)]
struct History<const W: usize> {
    /// The last three at most.
    laps: Vec<Lap<W>>,
    since: Seen<W>,
    /// Change of volumes per period before the last leap, and how many periods that was.
    leapt: Option<(Vector<W>, f64)>,
    /// Most periods in the next leap.
    most: f64,
    /// Mismatch of the last two periods, m.
    mismatch: f64,
}

impl<const W: usize> Default for History<W> {
    fn default() -> Self {
        Self {
            laps: Vec::new(),
            since: Seen::default(),
            leapt: None,
            most: f64::INFINITY,
            mismatch: f64::INFINITY,
        }
    }
}

/// A leap that is proposed.
#[derive(Clone, Debug)]
pub(crate) struct Leap<const W: usize> {
    /// How many periods.
    pub(crate) count: f64,
    /// How long one takes, s.
    pub(crate) period: f64,
    /// Change of volumes in one, m³.
    pub(crate) change: Vector<W>,
}

/// The memory of all watched values.
#[derive(Debug, Default)]
pub(crate) struct Cycles<const W: usize> {
    histories: Vec<History<W>>,
    found: Vec<Cycle>,
}

impl<const W: usize> Cycles<W> {
    /// The cycles found.
    pub(crate) fn into_found(self) -> Vec<Cycle> {
        self.found
    }

    /// Takes levels into account.
    pub(crate) fn see(&mut self, levels: &Vector<W>) {
        for history in self.histories.iter_mut().filter(|h| !h.laps.is_empty()) {
            for (i, z) in levels.iter().enumerate() {
                history.since.low[i] = history.since.low[i].min(*z);
                history.since.high[i] = history.since.high[i].max(*z);
            }
        }
    }

    /// Takes watched values at the end of a step into account.
    pub(crate) fn see_values(&mut self, values: &[f64]) {
        for history in self.histories.iter_mut().filter(|h| !h.laps.is_empty()) {
            let peaks = &mut history.since.peaks;
            peaks.resize(values.len(), f64::NEG_INFINITY);
            for (peak, value) in peaks.iter_mut().zip(values) {
                *peak = peak.max(*value);
            }
        }
    }

    /// The clock has switched something: what was seen does not hold any longer.
    pub(crate) fn forget(&mut self) {
        for history in &mut self.histories {
            *history = History::default();
        }
    }

    /// A watched value has risen to zero.
    pub(crate) fn fired(&mut self, watch: usize, t: f64, volumes: &Vector<W>, levels: &Vector<W>) {
        if self.histories.len() <= watch {
            self.histories.resize_with(watch + 1, History::default);
        }
        self.see(levels);
        for history in &mut self.histories {
            if history.since.fired.len() <= watch {
                history.since.fired.resize(watch + 1, 0);
            }
            history.since.fired[watch] += 1;
        }
        let history = &mut self.histories[watch];
        let seen = std::mem::take(&mut history.since);
        if history.laps.len() == 3 {
            history.laps.remove(0);
        }
        history.laps.push(Lap { t, volumes: *volumes, seen });
        self.see(levels);
    }

    /// A leap over the cycle that a watched value has just ended, if it has settled. `until` is when the
    /// clock switches next, `per_area` turns a volume into a level.
    pub(crate) fn leap(
        &mut self,
        watch: usize,
        until: f64,
        network: &Network,
        per_area: &Vector<W>,
    ) -> Option<Leap<W>> {
        let history = self.histories.get_mut(watch)?;
        let [first, second, third] = history.laps.as_slice() else { return None };
        let (before, period) = (second.t - first.t, third.t - second.t);
        let change: Vector<W> = std::array::from_fn(|i| third.volumes[i] - second.volumes[i]);
        let change_before: Vector<W> =
            std::array::from_fn(|i| second.volumes[i] - first.volumes[i]);
        let furthest = |a: &Vector<W>, b: &Vector<W>| {
            let tanks = network.tanks.iter().enumerate().filter(|(_, tank)| !tank.is_sink);
            tanks.fold(0.0_f64, |most, (i, _)| most.max((a[i] - b[i]).abs() * per_area[i]))
        };
        let mismatch = furthest(&change, &change_before);
        let mismatch_before = std::mem::replace(&mut history.mismatch, mismatch);
        let is_settled = (mismatch < SETTLED_M || 0.67 * mismatch_before < mismatch)
            && 0.0 < period
            && period < LONGEST_PERIOD_S
            && (period - before).abs() < ALIKE * period
            && mismatch < ALIKE_M
            && second.seen.fired == third.seen.fired;
        if !is_settled {
            return None;
        }
        // How far the last leap may have missed tells how far the next may go.
        let mut missed = 0.0;
        if let Some((change_then, count)) = history.leapt.take() {
            missed = 0.5 * count * furthest(&change, &change_then);
            history.most = if MISMATCH_M < missed { 0.5 * count } else { 2.0 * count };
        }
        let mut count = ((until - third.t) / period - 1.0)
            .min(MISMATCH_M / mismatch.max(1e-13))
            .min(headroom(&second.seen, &third.seen))
            .min(history.most)
            .max(0.0);
        for (i, _) in network.tanks.iter().enumerate().filter(|(_, tank)| !tank.is_sink) {
            let drift = change[i] * per_area[i];
            let lowest_m = third.seen.low[i] + (count * drift).min(0.0);
            if TRAVEL_M < count * drift.abs() && !is_deaf(network, i, lowest_m) {
                count = TRAVEL_M / drift.abs();
            }
        }
        let count = count.floor();
        let seen = &third.seen;
        let fired = seen.fired.iter().enumerate().filter(|(_, times)| 0 < **times);
        let cycle = Cycle {
            watch,
            period_s: period,
            swing_m: (0..network.tanks.len()).map(|i| seen.high[i] - seen.low[i]).collect(),
            from_s: first.t,
            until_s: third.t,
            leapt: 0.0,
            mismatch_m: missed,
            fired: fired.map(|(k, _)| k).collect(),
        };
        self.note(cycle);
        (1.0 <= count).then_some(Leap { count, period, change })
    }

    fn note(&mut self, now: Cycle) {
        match self.found.iter_mut().find(|cycle| cycle.watch == now.watch) {
            Some(cycle) => {
                let Cycle { from_s, leapt, .. } = *cycle;
                let mismatch_m = cycle.mismatch_m.max(now.mismatch_m);
                *cycle = Cycle { from_s, leapt, mismatch_m, ..now };
            }
            None => self.found.push(now),
        }
    }

    /// The leap was made, and ended at this time with these volumes.
    pub(crate) fn leapt(&mut self, watch: usize, leap: &Leap<W>, t: f64, volumes: &Vector<W>) {
        for (k, history) in self.histories.iter_mut().enumerate() {
            history.since = Seen::default();
            history.laps.clear();
            history.mismatch = f64::INFINITY;
            if k == watch {
                history.laps.push(Lap { t, volumes: *volumes, seen: Seen::default() });
                history.leapt = Some((leap.change, leap.count));
            } else {
                history.leapt = None;
            }
        }
        if let Some(cycle) = self.found.iter_mut().find(|cycle| cycle.watch == watch) {
            cycle.leapt += leap.count;
            cycle.until_s = t;
        }
    }
}

/// Whether no discharge answers to the level of a tank that comes no lower than this: only given rates lead
/// into it and out of it, and their mouths stay under water.
fn is_deaf(network: &Network, tank: usize, lowest_m: f64) -> bool {
    let mut elements = network.elements.iter().filter(|e| e.up == tank || e.down == tank);
    elements.all(|e| match &e.law {
        Law::Rate(rate) => {
            let gate = rate.gate.filter(|_| e.up == tank);
            gate.is_none_or(|gate| gate.z_m + gate.over_m <= lowest_m)
        }
        _ => false,
    })
}

/// Periods until a watched value that does not belong to the cycle would rise to zero, judged by how its
/// peak has risen from one period to the next; nine tenths of them, to stop short.
fn headroom<const W: usize>(before: &Seen<W>, last: &Seen<W>) -> f64 {
    let mut least = f64::INFINITY;
    for (k, (a, b)) in before.peaks.iter().zip(&last.peaks).enumerate() {
        let belongs = last.fired.get(k).is_some_and(|fired| 0 < *fired);
        if !belongs && *b < 0.0 && a < b {
            least = least.min(-0.9 * b / (b - a));
        }
    }
    least
}
