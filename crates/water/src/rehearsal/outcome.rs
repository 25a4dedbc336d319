//! What a failure does: a run of the network with what switches in it, and the band of its figures.

use serde::Serialize;

use super::act::{BEGIN_S, acts};
use super::failure::Failure;
use super::figure::Figure;
use super::plan::Play;
use crate::band::{Leans, band};
use crate::evaporation;
use crate::network::{Element, Kind, Network};
use crate::running::Running;
use crate::solve::{Cycle, Sample, Stop, Trace, TransientError, TransientOptions, transient};
use crate::system::System;

/// Something that happened.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Incident {
    /// When, s from the start of the rehearsal.
    pub t_s: f64,
    /// What.
    #[serde(flatten)]
    pub what: Happening,
}

/// What can happen. Indices are those of the waterworks or of the network's tanks.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "event", rename_all = "kebab-case")]
pub enum Happening {
    /// The power goes.
    PowerOut,
    /// The power comes.
    PowerBack,
    /// Air gets into a main drain.
    SiphonBreaks {
        /// The drain.
        drain: usize,
    },
    /// A main drain runs full again.
    SiphonPrimes {
        /// The drain.
        drain: usize,
    },
    /// Air gets into a line that runs back.
    BackSiphonBreaks {
        /// The line.
        line: usize,
    },
    /// A pump draws air.
    PumpDrawsAir {
        /// The line.
        line: usize,
    },
    /// The float switches the top-up on.
    TopUpOn,
    /// The float switches the top-up off.
    TopUpOff,
    /// The reservoir is empty.
    ReservoirEmpty,
    /// Water runs over a rim.
    RunsOver {
        /// The tank.
        tank: usize,
    },
}

/// An element opened, closed or set anew.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Switch {
    /// From when on, s from the start of the rehearsal.
    pub t_s: f64,
    /// Which element of the network.
    pub element: usize,
    /// Share of its law's discharge that passes from then on.
    pub scale: f64,
}

/// How high and how low water came in a tank.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reach {
    /// The tank.
    pub tank: usize,
    /// Highest level, m.
    pub highest_m: Figure,
    /// When it was reached, s.
    pub highest_at_s: f64,
    /// Lowest level, m.
    pub lowest_m: Figure,
    /// When it was reached, s.
    pub lowest_at_s: f64,
    /// Level at the end, m.
    pub end_m: f64,
    /// Height at which it runs over on to a floor, if it can, m.
    pub rim_m: Option<f64>,
}

impl Reach {
    /// Least height from water to rim at the unfavourable end of the band, m; negative when it ran over.
    pub fn least_freeboard_m(&self) -> Option<f64> {
        self.rim_m.map(|rim| rim - self.highest_m.high)
    }
}

/// Water on the floor.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Spill {
    /// Under the sump, over its rim, over a lid or through a seam, L.
    pub sump_l: Figure,
    /// Over the rim of the display, L.
    pub display_l: Figure,
}

/// What a failure did.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The failure.
    pub failure: Failure,
    /// What reports call it.
    pub name: String,
    /// What happens, in a sentence.
    pub words: String,
    /// How long it was played, s.
    pub end_s: f64,
    /// Levels in time.
    pub samples: Vec<Sample>,
    /// What happened, in order of time.
    pub events: Vec<Incident>,
    /// What was switched, in order of time; elements that are not named stay as they run with all well. What was switched
    /// in periods that were leapt over is not here.
    pub switches: Vec<Switch>,
    /// How high and low every tank came.
    pub reaches: Vec<Reach>,
    /// Water on the floor.
    pub spill: Spill,
    /// When a pump of the display first drew air, s after the failure began; the low end of the band is the
    /// earliest, infinite where it never does.
    pub draws_air_s: Option<Figure>,
    /// After so long the pump would draw air by evaporation alone, with the reservoir used up, s.
    pub dry_anyway_s: f64,
    /// Salinity at the end, all water mixed, g/kg.
    pub salinity_g_kg: f64,
    /// Why the run ended.
    pub stop: Stop,
    /// Cycles that had settled, such as those of a siphon that hunts. Periods of them were leapt over, and what
    /// happened in those is not among the events. Those of the float are not here: all its events are there.
    pub cycles: Vec<Cycle>,
    /// Largest change of the sum of all volumes, m³, and that sum.
    pub drift_m3: f64,
    /// Sum of all volumes, m³.
    pub total_m3: f64,
    /// Steps and events, for a look at the cost.
    pub steps: usize,
    /// Whether a corner tried as a check lay outside the band that the signs had given.
    pub band_is_doubtful: bool,
    /// Whether the failure could be played at all ends of the coefficients' doubt. Where not, low and high
    /// of a figure are its best estimate.
    pub band_is_known: bool,
}

impl Outcome {
    /// What passes these elements of the running network at every sample, all together, m³/s: before and after what is
    /// switched at that instant. From the upstream to the downstream tank is positive.
    pub fn flows_m3_s(&self, network: &Network, elements: &[usize]) -> Vec<[f64; 2]> {
        let mut flows = vec![[0.0; 2]; self.samples.len()];
        for &i in elements {
            let Some(mut element) = network.elements.get(i).cloned() else { continue };
            let mut switches = self.switches.iter().filter(|s| s.element == i).peekable();
            for ([before, after], sample) in flows.iter_mut().zip(&self.samples) {
                let passes = |element: &Element| {
                    let level_m = |tank: usize| sample.levels_m[tank];
                    let flow = || element.flow(level_m(element.up), level_m(element.down)).q;
                    if element.is_open() { flow() } else { 0.0 }
                };
                while let Some(switch) = switches.next_if(|switch| switch.t_s < sample.t_s) {
                    element.scale = switch.scale;
                }
                *before += passes(&element);
                while let Some(switch) = switches.next_if(|switch| switch.t_s <= sample.t_s) {
                    element.scale = switch.scale;
                }
                *after += passes(&element);
            }
        }
        flows
    }
}

/// How far the bands of a rehearsal may be trusted.
#[derive(Clone, Copy)]
struct Trust {
    is_known: bool,
    is_doubtful: bool,
}

/// What one run gives.
struct Raw {
    play: Play,
    run: crate::solve::Run,
    begun_m3: Vec<f64>,
}

/// Plays a failure from the running system for as long as the file says, with the bands of its figures.
///
/// # Errors
/// When the network is unsound; a run that was given up is told by [`Outcome::stop`].
pub fn rehearse(running: &Running<'_>, failure: &Failure) -> Result<Outcome, TransientError> {
    let system = &running.system;
    let end_s = duration_s(system, failure);
    let trace = Some(Trace::default());
    let raw = play(running, failure, end_s, trace, &TransientOptions::default())?;
    let kinds: Vec<Kind> = Kind::ALL.into_iter().filter(|kind| uses(system, *kind)).collect();
    let rims = system.rims();
    let quantities = |raw: &Raw| quantities(system, raw, &rims, end_s);
    let mid = quantities(&raw);
    let n = mid.len();
    let band_end_s = band_end_s(system, &raw, end_s);
    let mut eval = |leans: &Leans| -> Vec<f64> {
        if *leans == Leans::NONE {
            return mid.clone();
        }
        let Ok(leaning) = running.leaning(leans) else { return vec![f64::NAN; n] };
        let known = |end_s: f64| {
            let raw = play(&leaning, failure, end_s, None, &COARSE).ok()?;
            (raw.run.stop == Stop::End).then_some(raw)
        };
        let is_losing = |raw: &Raw| spilled_l(system, raw).iter().any(|&l| l > 0.0);
        // What is lost at this end of the doubt must be followed to the end, too.
        let raw = known(band_end_s).and_then(|raw| {
            if is_losing(&raw) && band_end_s < end_s { known(end_s) } else { Some(raw) }
        });
        raw.map_or_else(|| vec![f64::NAN; n], |raw| quantities(&raw))
    };
    let band = band(&kinds, n, &mut eval);
    let figure = |q: usize| Figure::of(&band.quantities[q]);
    let trust = Trust {
        is_known: band.quantities.iter().all(|b| !b.low.is_nan() && !b.high.is_nan()),
        is_doubtful: band.is_outside_at_check_corner.iter().any(|&is| is),
    };
    Ok(outcome(running, failure, end_s, raw, &rims, &figure, trust))
}

/// The same without bands: every figure is its best estimate.
///
/// # Errors
/// As [`rehearse`].
pub fn rehearse_once(running: &Running<'_>, failure: &Failure) -> Result<Outcome, TransientError> {
    let system = &running.system;
    let end_s = duration_s(system, failure);
    let trace = Some(Trace::default());
    let raw = play(running, failure, end_s, trace, &TransientOptions::default())?;
    let rims = system.rims();
    let mid = quantities(system, &raw, &rims, end_s);
    Ok(outcome(
        running,
        failure,
        end_s,
        raw,
        &rims,
        &|q| Figure::exact(mid[q]),
        Trust { is_known: true, is_doubtful: false },
    ))
}

/// How long the ends of the band are played: a while beyond the last news of the best estimate, since
/// after it the same comes again and again. While water is still being lost, to the end.
fn band_end_s(system: &System<'_>, raw: &Raw, end_s: f64) -> f64 {
    let is_losing = spilled_l(system, raw).iter().any(|&l| l > 0.0);
    if is_losing { end_s } else { (BEGIN_S + 2.0 * raw.play.last_news_s + NO_NEWS_S).min(end_s) }
}

/// So long without news, s: our judgement, several times what a float takes from on to off and on again.
const NO_NEWS_S: f64 = 2.0 * 3600.0;

/// For the ends of a band an event need not be right to the millisecond. Levels stay as exact: coarser
/// than the smoothing of a signed root (0.01 mm) the steps hop to and fro across equal levels.
const COARSE: TransientOptions = TransientOptions {
    level_m: 1e-5,
    time_s: 1.0,
    max_step_s: f64::INFINITY,
    max_events: 20_000,
    max_steps: 500_000,
    leaps: true,
};

/// Height of every rim of the sump, and how high the water came below it after a failure, both m, at the
/// end of the band that stands highest; `None` when the run was given up.
///
/// Tried at the best estimate and at the corner at which most comes down and least runs on: drains, lips
/// and siphons pass most, crests and openings least. That is near the end of the band, not always at it.
pub(crate) fn peak_after(running: &Running<'_>, failure: &Failure) -> Option<Vec<(f64, f64)>> {
    let mut all: Vec<(f64, f64)> = Vec::new();
    let slow = Leans::NONE
        .with(Kind::Crest, -1.0)
        .with(Kind::Slots, -1.0)
        .with(Kind::Opening, -1.0)
        .with(Kind::Sock, -1.0)
        .with(Kind::Pump, 1.0)
        .with(Kind::Pipe, 1.0)
        .with(Kind::Lip, 1.0);
    for leans in [Leans::NONE, slow] {
        let leaning = running.leaning(&leans).ok()?;
        let end_s = BEGIN_S + SETTLED_S + emptying_s(&running.system, failure);
        let raw = play(&leaning, failure, end_s, None, &COARSE).ok()?;
        if raw.run.stop != Stop::End {
            return None;
        }
        let system = &running.system;
        let rims = system.rims().into_iter().filter(|(tank, _)| *tank != system.tanks.display);
        all.extend(rims.map(|(tank, rim_m)| (rim_m, raw.play.peaks[tank].0)));
    }
    Some(all)
}

/// How long a stuck top-up takes to empty its reservoir, s.
fn emptying_s(system: &System<'_>, failure: &Failure) -> f64 {
    match (failure, &system.works.top_up) {
        (Failure::TopUpStuck, Some(t)) => t.reservoir_l / t.rate_l_h * 3600.0,
        _ => 0.0,
    }
}

/// After so long a drain-back is over, s; our judgement, several times what the slowest demo takes.
const SETTLED_S: f64 = 7200.0;

/// What comes down from the display and its box after the pumps stop, m³; `None` when the run was given
/// up.
pub(crate) fn drained_after_cut_m3(running: &Running<'_>) -> Option<f64> {
    let raw = play(running, &Failure::PowerCut, BEGIN_S + SETTLED_S, None, &COARSE).ok()?;
    let above = |volumes: &[f64]| -> f64 {
        let t = &running.system.tanks;
        volumes[t.display] + volumes[t.weir_box]
    };
    (raw.run.stop == Stop::End).then(|| above(&raw.begun_m3) - above(&raw.run.volumes_m3))
}

fn uses(system: &System<'_>, kind: Kind) -> bool {
    kind != Kind::Given && system.network.elements.iter().any(|e| e.kind == kind)
}

fn duration_s(system: &System<'_>, failure: &Failure) -> f64 {
    let spec = &system.works.rehearsals;
    let is_long = match failure {
        Failure::NoTopUp => true,
        Failure::Together(all) => all.contains(&Failure::NoTopUp),
        _ => false,
    };
    let hours = if is_long { spec.days_without_top_up * 24.0 } else { spec.hours };
    // What sticks runs until the reservoir is empty, and then for an hour more.
    let emptying_s = match emptying_s(system, failure) {
        s if s > 0.0 => s + 3600.0,
        _ => 0.0,
    };
    BEGIN_S + f64::max(hours * 3600.0, emptying_s)
}

fn play(
    running: &Running<'_>,
    failure: &Failure,
    end_s: f64,
    trace: Option<Trace>,
    options: &TransientOptions,
) -> Result<Raw, TransientError> {
    let mut network = running.system.network.clone();
    let begun_m3 = network.volumes(&running.levels_m);
    let mut play = Play::new(&running.system, acts(&running.system, failure), trace);
    let run = transient(&mut network, &begun_m3, end_s, &mut play, options)?;
    Ok(Raw { play, run, begun_m3 })
}

/// What has a band: peaks of all that can run over, the lowest level of the return chamber, the spills,
/// the instant at which a pump draws air (the end of the rehearsal where none does).
fn quantities(system: &System<'_>, raw: &Raw, rims: &[(usize, f64)], end_s: f64) -> Vec<f64> {
    let mut all: Vec<f64> = rims.iter().map(|&(tank, _)| raw.play.peaks[tank].0).collect();
    all.push(raw.play.lows[system.tanks.returning].0);
    all.extend(spilled_l(system, raw));
    all.push(draws_air_s(system, raw).unwrap_or(end_s));
    all
}

fn spilled_l(system: &System<'_>, raw: &Raw) -> [f64; 2] {
    [system.tanks.sump_floor, system.tanks.display_floor]
        .map(|tank| (raw.run.volumes_m3[tank] - raw.begun_m3[tank]) * 1e3)
}

fn draws_air_s(system: &System<'_>, raw: &Raw) -> Option<f64> {
    let is_it = |e: &&Incident| matches!(e.what, Happening::PumpDrawsAir { line } if system.works.lines[line].to.is_none());
    raw.play.events.iter().find(is_it).map(|e| e.t_s)
}

fn outcome(
    running: &Running<'_>,
    failure: &Failure,
    end_s: f64,
    raw: Raw,
    rims: &[(usize, f64)],
    figure: &dyn Fn(usize) -> Figure,
    trust: Trust,
) -> Outcome {
    let system = &running.system;
    let n = rims.len();
    let reach = |tank: usize| {
        let rim = rims.iter().position(|(t, _)| *t == tank);
        let (highest, highest_at_s) = raw.play.peaks[tank];
        let (lowest, lowest_at_s) = raw.play.lows[tank];
        let is_returning = tank == system.tanks.returning;
        Reach {
            tank,
            highest_m: rim.map_or(Figure::exact(highest), figure),
            highest_at_s,
            lowest_m: if is_returning { figure(n) } else { Figure::exact(lowest) },
            lowest_at_s,
            end_m: raw.run.levels_m[tank],
            rim_m: rim.map(|k| rims[k].1),
        }
    };
    let air = figure(n + 3);
    let draws_air_s = (air.low < end_s).then(|| {
        // Where no air is drawn by the end, nothing is known beyond it.
        air.map(|t| if t < end_s { t - BEGIN_S } else { f64::INFINITY })
    });
    Outcome {
        failure: failure.clone(),
        name: failure.name(system.works),
        words: failure.words(system.works),
        end_s: raw.run.t_s,
        reaches: (0..system.network.tanks.len()).map(reach).collect(),
        spill: Spill { sump_l: figure(n + 1), display_l: figure(n + 2) },
        draws_air_s,
        dry_anyway_s: dry_anyway_s(running),
        salinity_g_kg: salinity_g_kg(system, &raw),
        stop: raw.run.stop,
        cycles: raw.run.cycles.iter().filter(|c| !raw.play.is_told(c)).cloned().collect(),
        drift_m3: raw.run.drift_m3,
        total_m3: raw.begun_m3.iter().sum(),
        steps: raw.run.steps,
        band_is_doubtful: trust.is_doubtful,
        band_is_known: trust.is_known,
        events: raw.play.events,
        switches: raw.play.switches,
        samples: raw.play.trace.map_or_else(Vec::new, Trace::into_samples),
    }
}

/// What stands over the dry mark and in the reservoir, over what evaporates.
fn dry_anyway_s(running: &Running<'_>) -> f64 {
    let system = &running.system;
    let basin = system.tanks.returning;
    let tank = &system.network.tanks[basin];
    let over_m3 = tank.volume(running.levels_m[basin]).0 - tank.volume(system.dry_m()).0;
    let reservoir_m3 = system.works.top_up.as_ref().map_or(0.0, |t| t.reservoir_l * 1e-3);
    (over_m3.max(0.0) + reservoir_m3) / system.evaporation_m3_s
}

/// All water mixed: the reservoir brings its own salt, what evaporates takes none, what is spilled takes
/// its share. Volumes are taken at the density that the water begins with; fresh water is 3 % lighter.
fn salinity_g_kg(system: &System<'_>, raw: &Raw) -> f64 {
    let t = &system.tanks;
    let kg = |m3: f64| m3 * system.water.density;
    let pairs = raw.begun_m3.iter().zip(system.is_outside());
    let begun: f64 = pairs.filter(|(_, is_outside)| !is_outside).map(|(m3, _)| m3).sum();
    let added = t.reservoir.map_or(0.0, |r| raw.begun_m3[r] - raw.run.volumes_m3[r]);
    let gone = raw.run.volumes_m3[t.air] - raw.begun_m3[t.air];
    let brought = system.works.top_up.as_ref().map_or(0.0, |top_up| top_up.salinity_g_kg);
    let salt = system.works.water.salinity.to_g_per_kg();
    let mixed = evaporation::salinity_mixed(kg(begun), salt, kg(added), brought);
    evaporation::salinity_after_loss(kg(begun + added), mixed, kg(gone))
}
