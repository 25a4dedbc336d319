//! What switches while a failure is played: power, siphons, back-siphons, the float.

mod rules;

use super::act::Act;
use super::outcome::{Happening, Incident, Switch};
use crate::network::Element;
use crate::solve::{self, Trace};
use crate::system::{AIR_OVER_M, Part, System};

pub use rules::{FloatRule, LineRule, Script, SiphonRule, Timed, script};

/// A siphon breaks when the water over its mouth has fallen to this share of the height over which air
/// enters; our judgement. There it passes half of what it could: one that takes up to twice what comes
/// gulps air and comes to a balance, a stronger one breaks, and starts again when the box has filled.
const BREAK_SHARE: f64 = 0.5;
/// A pipe primes when its mouth is this many bores under water, over the height at which air enters; our
/// judgement from what is said of self-purging pipes (Wisner, Mohsen and Kouwen, J. Hydraul. Div. ASCE
/// 101 (1975)).
const PRIME_BORES: f64 = 1.0;

/// A value that is watched.
#[derive(Clone, Debug, PartialEq)]
enum Watch {
    Breaks(usize),
    Primes(usize),
    BackBreaks(usize),
    DrawsAir(usize),
    FloatOn,
    FloatOff,
    ReservoirEmpty,
    RunsOver { tank: usize, crest_m: f64 },
}

/// A main drain and where its siphon breaks and primes.
struct Siphon {
    drain: usize,
    siphon: usize,
    open: usize,
    weir_box: usize,
    breaks_m: f64,
    primes_m: f64,
    is_primed: bool,
}

/// A pump's line.
struct Line {
    line: usize,
    pump: usize,
    back: usize,
    from: usize,
    to: usize,
    draws_air_m: f64,
    breaks_m: f64,
    outlet_m: f64,
    has_check_valve: bool,
    runs_back: bool,
    has_drawn_air: bool,
}

/// The top-up's float.
struct Float {
    element: usize,
    tank: usize,
    reservoir: usize,
    on_m: f64,
    off_m: f64,
    is_on: bool,
    stuck: Option<bool>,
    is_empty: bool,
}

/// A failure while it is played.
pub(super) struct Play {
    acts: Vec<(f64, Act)>,
    has_power: bool,
    siphons: Vec<Siphon>,
    lines: Vec<Line>,
    float: Option<Float>,
    cups: Vec<usize>,
    /// Scale of each element when it is open.
    base: Vec<f64>,
    is_closed: Vec<bool>,
    /// Opened by the failure.
    is_opened: Vec<bool>,
    watches: Vec<Watch>,
    /// What the watched values are since the last event.
    marks: Vec<Mark>,
    has_run_over: Vec<bool>,
    pub(super) peaks: Vec<(f64, f64)>,
    pub(super) lows: Vec<(f64, f64)>,
    pub(super) events: Vec<Incident>,
    /// When a level last went further up or down than ever before, by more than [`NEWS_M`], s.
    pub(super) last_news_s: f64,
    /// Tanks that are no part of the loop: floors, air, reservoir. A little goes there all the time.
    is_outside: Vec<bool>,
    /// Highest and lowest level of every tank when that was noted.
    noted: Vec<[f64; 2]>,
    pub(super) trace: Option<Trace>,
    /// What was switched, for whoever wants the flows; noted beside a trace only.
    pub(super) switches: Vec<Switch>,
    /// The scale of every element as it was noted last.
    scales: Vec<f64>,
}

/// A level that comes this much further than before is news, m.
const NEWS_M: f64 = 1e-4;

impl Play {
    pub(super) fn new(system: &System<'_>, acts: Vec<(f64, Act)>, trace: Option<Trace>) -> Self {
        let elements = &system.network.elements;
        let element = |part: &Part| system.parts.iter().position(|p| p == part);
        let siphons: Vec<Siphon> = (system.works.drains.iter().enumerate())
            .filter_map(|(drain, d)| {
                let intake_m = d.intake_mm? * 1e-3;
                Some(Siphon {
                    drain,
                    siphon: element(&Part::Siphon { drain })?,
                    open: element(&Part::OpenDrain { drain })?,
                    weir_box: system.tanks.weir_box,
                    breaks_m: intake_m + BREAK_SHARE * AIR_OVER_M,
                    primes_m: intake_m + AIR_OVER_M + PRIME_BORES * d.bore_mm * 1e-3,
                    is_primed: true,
                })
            })
            .collect();
        let lines: Vec<Line> = (system.works.lines.iter().enumerate())
            .filter_map(|(line, l)| {
                let pump = element(&Part::Line { line })?;
                Some(Line {
                    line,
                    pump,
                    back: element(&Part::BackSiphon { line })?,
                    from: elements[pump].up,
                    to: elements[pump].down,
                    draws_air_m: l.intake_mm * 1e-3 + AIR_OVER_M,
                    breaks_m: l.break_mm * 1e-3,
                    outlet_m: l.mouth_mm * 1e-3,
                    has_check_valve: l.has_check_valve,
                    runs_back: false,
                    has_drawn_air: false,
                })
            })
            .collect();
        let float = system.works.top_up.as_ref().and_then(|top_up| {
            Some(Float {
                element: element(&Part::TopUp)?,
                tank: top_up.basin,
                reservoir: system.tanks.reservoir?,
                on_m: top_up.float_mm[0] * 1e-3,
                off_m: top_up.float_mm[1] * 1e-3,
                is_on: false,
                stuck: None,
                is_empty: false,
            })
        });
        let tanks = system.network.tanks.len();
        let watches = watches(system, siphons.len(), lines.len(), float.is_some());
        Self {
            acts,
            has_power: true,
            siphons,
            lines,
            float,
            cups: system.elements(|p| matches!(p, Part::Cup { .. })).collect(),
            base: elements.iter().map(|e| if e.scale > 0.0 { e.scale } else { 1.0 }).collect(),
            is_closed: vec![false; elements.len()],
            is_opened: vec![false; elements.len()],
            has_run_over: vec![false; watches.len()],
            watches,
            marks: Vec::new(),
            peaks: vec![(f64::NEG_INFINITY, 0.0); tanks],
            lows: vec![(f64::INFINITY, 0.0); tanks],
            events: Vec::new(),
            last_news_s: 0.0,
            is_outside: system.is_outside(),
            noted: vec![[f64::NEG_INFINITY, f64::INFINITY]; tanks],
            trace,
            switches: Vec::new(),
            scales: elements.iter().map(|e| e.scale).collect(),
        }
    }

    /// Whether all that happens in a cycle is told by the events.
    pub(super) fn is_told(&self, cycle: &solve::Cycle) -> bool {
        let is_float = |&k: &usize| matches!(self.watches[k], Watch::FloatOn | Watch::FloatOff);
        cycle.fired.iter().all(is_float)
    }

    fn log(&mut self, t_s: f64, what: Happening) {
        self.events.push(Incident { t_s, what });
    }

    fn act(&mut self, t_s: f64, act: &Act) {
        match *act {
            Act::Power(is_on) => {
                self.has_power = is_on;
                self.log(t_s, if is_on { Happening::PowerBack } else { Happening::PowerOut });
            }
            Act::Close(element) => self.is_closed[element] = true,
            Act::Open(element) => self.is_opened[element] = true,
            Act::Stick(is_on) => {
                if let Some(float) = &mut self.float {
                    float.stuck = Some(is_on);
                    float.is_on = is_on;
                }
            }
            Act::LoseCheckValve(line) => {
                for l in self.lines.iter_mut().filter(|l| l.line == line) {
                    l.has_check_valve = false;
                }
            }
            Act::BlockBreakHole(line) => {
                for l in self.lines.iter_mut().filter(|l| l.line == line) {
                    l.breaks_m = l.breaks_m.min(l.outlet_m);
                }
            }
        }
    }

    /// A line runs back while its pump is off, down to where air gets in.
    fn look_at_lines(&mut self, levels_m: &[f64]) {
        let has_power = self.has_power;
        for l in &mut self.lines {
            let may_run_back = !has_power && !l.has_check_valve;
            l.runs_back = may_run_back && levels_m[l.to] > l.breaks_m;
        }
    }

    /// What is already past its level when something else has switched.
    fn look_at_float(&mut self, t_s: f64, levels_m: &[f64]) {
        let Some(float) = &mut self.float else { return };
        if float.stuck.is_some() {
            return;
        }
        let level = levels_m[float.tank];
        if float.is_on && level >= float.off_m {
            float.is_on = false;
            self.log(t_s, Happening::TopUpOff);
        } else if !float.is_on && level < float.on_m {
            float.is_on = true;
            self.log(t_s, Happening::TopUpOn);
        }
    }

    fn watched(&mut self, t_s: f64, k: usize) {
        match self.watches[k].clone() {
            Watch::Breaks(s) => {
                self.siphons[s].is_primed = false;
                let drain = self.siphons[s].drain;
                self.log(t_s, Happening::SiphonBreaks { drain });
            }
            Watch::Primes(s) => {
                self.siphons[s].is_primed = true;
                let drain = self.siphons[s].drain;
                self.log(t_s, Happening::SiphonPrimes { drain });
            }
            Watch::BackBreaks(l) => {
                self.lines[l].runs_back = false;
                let line = self.lines[l].line;
                self.log(t_s, Happening::BackSiphonBreaks { line });
            }
            Watch::DrawsAir(l) => {
                self.lines[l].has_drawn_air = true;
                let line = self.lines[l].line;
                self.log(t_s, Happening::PumpDrawsAir { line });
            }
            Watch::FloatOn => self.switch_float(t_s, true),
            Watch::FloatOff => self.switch_float(t_s, false),
            Watch::ReservoirEmpty => {
                if let Some(float) = &mut self.float {
                    float.is_empty = true;
                }
                self.log(t_s, Happening::ReservoirEmpty);
            }
            Watch::RunsOver { tank, .. } => {
                self.has_run_over[k] = true;
                self.log(t_s, Happening::RunsOver { tank });
            }
        }
    }

    fn switch_float(&mut self, t_s: f64, is_on: bool) {
        if let Some(float) = &mut self.float {
            float.is_on = is_on;
        }
        self.log(t_s, if is_on { Happening::TopUpOn } else { Happening::TopUpOff });
    }

    /// Brings the elements into line with the modes.
    fn apply(&self, elements: &mut [Element]) {
        let mut set = |i: usize, is_open: bool| {
            let is_open = is_open && !self.is_closed[i];
            elements[i].scale = if is_open { self.base[i] } else { 0.0 };
        };
        for i in 0..self.is_closed.len() {
            if self.is_closed[i] {
                set(i, false);
            } else if self.is_opened[i] {
                set(i, true);
            }
        }
        for s in &self.siphons {
            set(s.siphon, s.is_primed);
            set(s.open, !s.is_primed);
        }
        for l in &self.lines {
            set(l.pump, self.has_power);
            set(l.back, l.runs_back);
        }
        if let Some(float) = &self.float {
            set(float.element, float.is_on && self.has_power);
        }
        for &cup in &self.cups {
            set(cup, self.is_opened[cup] && self.has_power);
        }
    }

    /// What a watched value is just now.
    fn mark(&self, k: usize) -> Mark {
        match &self.watches[k] {
            Watch::Breaks(s) => {
                let s = &self.siphons[*s];
                Mark::fall(s.weir_box, s.breaks_m).only_if(s.is_primed)
            }
            Watch::Primes(s) => {
                let s = &self.siphons[*s];
                Mark::rise(s.weir_box, s.primes_m).only_if(!s.is_primed)
            }
            Watch::BackBreaks(l) => {
                let l = &self.lines[*l];
                Mark::fall(l.to, l.breaks_m).only_if(l.runs_back)
            }
            Watch::DrawsAir(l) => {
                let l = &self.lines[*l];
                Mark::fall(l.from, l.draws_air_m).only_if(self.has_power && !l.has_drawn_air)
            }
            Watch::FloatOn => self.float.as_ref().map_or(Mark::NONE, |f| {
                Mark::fall(f.tank, f.on_m).only_if(f.stuck.is_none() && !f.is_on)
            }),
            Watch::FloatOff => self.float.as_ref().map_or(Mark::NONE, |f| {
                Mark::rise(f.tank, f.off_m).only_if(f.stuck.is_none() && f.is_on)
            }),
            Watch::ReservoirEmpty => self
                .float
                .as_ref()
                .map_or(Mark::NONE, |f| Mark::fall(f.reservoir, EMPTY_M).only_if(!f.is_empty)),
            Watch::RunsOver { tank, crest_m } => {
                Mark::rise(*tank, *crest_m).only_if(!self.has_run_over[k])
            }
        }
    }
}

/// A level that is watched: `sign (level − at) + shift` is below zero until it is met.
#[derive(Clone, Copy)]
struct Mark {
    tank: usize,
    at_m: f64,
    sign: f64,
    shift: f64,
}

impl Mark {
    /// Not watched just now: a constant below zero.
    const NONE: Self = Self { tank: 0, at_m: 0.0, sign: 0.0, shift: -1.0 };

    fn rise(tank: usize, at_m: f64) -> Self {
        Self { tank, at_m, sign: 1.0, shift: 0.0 }
    }

    fn fall(tank: usize, at_m: f64) -> Self {
        Self { tank, at_m, sign: -1.0, shift: 0.0 }
    }

    fn only_if(self, is_watched: bool) -> Self {
        if is_watched { self } else { Self::NONE }
    }
}

/// The reservoir counts as empty with this much in it, m.
const EMPTY_M: f64 = 5e-4;

fn watches(system: &System<'_>, siphons: usize, lines: usize, has_float: bool) -> Vec<Watch> {
    let mut watches: Vec<Watch> = Vec::new();
    watches.extend((0..siphons).flat_map(|s| [Watch::Breaks(s), Watch::Primes(s)]));
    watches.extend((0..lines).flat_map(|l| [Watch::BackBreaks(l), Watch::DrawsAir(l)]));
    if has_float {
        watches.extend([Watch::FloatOn, Watch::FloatOff, Watch::ReservoirEmpty]);
    }
    watches.extend(
        system.edges().into_iter().map(|(tank, crest_m)| Watch::RunsOver { tank, crest_m }),
    );
    watches
}

impl solve::Plan for Play {
    fn next_time_s(&self, after_s: f64) -> f64 {
        let later = self.acts.iter().map(|(t, _)| *t).filter(|&t| t > after_s);
        later.fold(f64::INFINITY, f64::min)
    }

    fn watch(&self, levels_m: &[f64], values: &mut Vec<f64>) {
        let value = |mark: &Mark| mark.sign * (levels_m[mark.tank] - mark.at_m) + mark.shift;
        values.extend(self.marks.iter().map(value));
    }

    fn fire(&mut self, event: solve::Event, t_s: f64, levels_m: &[f64], elements: &mut [Element]) {
        match event {
            solve::Event::Start => {
                for s in &mut self.siphons {
                    s.is_primed = levels_m[s.weir_box] > s.breaks_m;
                }
            }
            solve::Event::Clock => {
                let due: Vec<Act> = (self.acts.iter())
                    .filter(|(t, _)| (*t - t_s).abs() <= f64::EPSILON * t_s.abs())
                    .map(|(_, act)| act.clone())
                    .collect();
                for act in &due {
                    self.act(t_s, act);
                }
                self.look_at_lines(levels_m);
            }
            solve::Event::Watch(k) => self.watched(t_s, k),
        }
        if !matches!(event, solve::Event::Watch(k) if matches!(self.watches[k], Watch::FloatOn | Watch::FloatOff))
        {
            self.look_at_float(t_s, levels_m);
        }
        self.apply(elements);
        let mut marks = std::mem::take(&mut self.marks);
        marks.clear();
        marks.extend((0..self.watches.len()).map(|k| self.mark(k)));
        self.marks = marks;
        if let Some(trace) = &mut self.trace {
            trace.mark(t_s, levels_m);
            for (element, (noted, now)) in self.scales.iter_mut().zip(&*elements).enumerate() {
                if (*noted - now.scale).abs() > 0.0 {
                    *noted = now.scale;
                    self.switches.push(Switch { t_s, element, scale: now.scale });
                }
            }
        }
    }

    /// What the float does is told for every period, since it takes hours. What a siphon does is not.
    fn leapt(&mut self, leap: &solve::Leapt<'_>) {
        let begin_s = leap.t_s - leap.period_s * (1.0 - 1e-9);
        let first = self.events.partition_point(|event| event.t_s <= begin_s);
        let period = self.events[first..].to_vec();
        let is_float = |what: &Happening| matches!(what, Happening::TopUpOn | Happening::TopUpOff);
        if !period.iter().all(|event| is_float(&event.what)) {
            return;
        }
        for n in 1..=leap.count {
            let later_s = f64::from(n) * leap.period_s;
            let again = |e: &Incident| Incident { t_s: e.t_s + later_s, what: e.what.clone() };
            self.events.extend(period.iter().map(again));
        }
        if let Some(trace) = &mut self.trace {
            trace.repeat(leap);
        }
    }

    fn see(&mut self, t_s: f64, levels_m: &[f64]) {
        for (i, &level) in levels_m.iter().enumerate() {
            let [highest, lowest] = &mut self.noted[i];
            if !self.is_outside[i] && (level > *highest + NEWS_M || level < *lowest - NEWS_M) {
                self.last_news_s = t_s;
                *highest = highest.max(level);
                *lowest = lowest.min(level);
            }
            if level > self.peaks[i].0 {
                self.peaks[i] = (level, t_s);
            }
            if level < self.lows[i].0 {
                self.lows[i] = (level, t_s);
            }
        }
        if let Some(trace) = &mut self.trace {
            trace.see(t_s, levels_m);
        }
    }

    fn resolution_m(&self) -> f64 {
        self.trace.as_ref().map_or(f64::INFINITY, |_| 1e-3)
    }
}
