//! How time runs along the strip below: the first minute of a failure and its last day both matter.
//!
//! Before the failure time runs evenly. From each happening on (the failure itself, a power that comes back, a pump that
//! draws air) it runs evenly at first and then slower and slower, as a logarithm: what follows a happening follows soon.
//! What plays goes along the same scale, so that it is slow where things happen.

use show::Rehearsal;

/// Time runs evenly for about so long from the failure on, s; our judgement: siphons break within seconds.
const EVEN_S: f64 = 5.0;
/// Later happenings are told apart less finely: evenly for this share of the time since the failure; our judgement.
const EVEN_SHARE: f64 = 0.02;
/// So much of every stretch is told evenly all the same, or the last days of many would be one line; our judgement.
const EVENLY: f64 = 0.2;
/// Most of the strip that the time before the failure takes; our judgement.
const BEFORE_SHARE: f64 = 0.06;

/// The whole strip is played in so many seconds of ours.
const WHOLE_S: f64 = 20.0;

/// From instants to places along a strip and back.
#[derive(Clone, Debug, PartialEq)]
pub struct Timescale {
    stretches: Vec<Stretch>,
}

/// From one happening to the next.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Stretch {
    span_s: [f64; 2],
    /// Where it begins and ends on the strip, from 0 to 1.
    shares: [f64; 2],
    /// Time runs evenly for about so long, s.
    even_s: f64,
}

/// A place along the strip with its words.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// Where, from 0 to 1.
    pub share: f64,
    /// `10 min`.
    pub words: String,
}

impl Timescale {
    /// The scale of a rehearsal.
    pub fn of(rehearsal: &Rehearsal) -> Self {
        let ends = rehearsal.times_s.first().zip(rehearsal.times_s.last());
        let (begin, end) = ends.map_or((0.0, 0.0), |(first, last)| (*first, *last));
        Self::between([begin, end], rehearsal.events.iter().map(|event| event.t_s))
    }

    /// The scale between two instants, with happenings between them in order of time.
    pub fn between([begin, end]: [f64; 2], happenings: impl IntoIterator<Item = f64>) -> Self {
        let mut starts = vec![0.0_f64.max(begin)];
        for t in happenings {
            let last = starts.last().copied().unwrap_or(begin);
            if last + EVEN_S < t && t < end {
                starts.push(t);
            }
        }
        let ends = starts.iter().skip(1).copied().chain([end.max(starts[0])]);
        let spans: Vec<[f64; 2]> = starts.iter().zip(ends).map(|(a, b)| [*a, b]).collect();
        let even = |start: f64| (EVEN_SHARE * start).max(EVEN_S);
        let long = |[a, b]: [f64; 2]| ((b - a) / even(a)).ln_1p();
        let all: f64 = spans.iter().map(|span| long(*span)).sum();
        let before = if begin < 0.0 { BEFORE_SHARE } else { 0.0 };
        let mut stretches = Vec::new();
        if begin < 0.0 {
            stretches.push(Stretch {
                span_s: [begin, 0.0],
                shares: [0.0, before],
                even_s: f64::INFINITY,
            });
        }
        let mut from = before;
        for span_s in spans {
            let to = from + (1.0 - before) * long(span_s) / all.max(1e-12);
            stretches.push(Stretch { span_s, shares: [from, to], even_s: even(span_s[0]) });
            from = to;
        }
        Self { stretches }
    }

    /// Where an instant is, from 0 to 1.
    pub fn share(&self, t_s: f64) -> f64 {
        let at = self.stretches.iter().rev().find(|stretch| stretch.span_s[0] <= t_s);
        at.or(self.stretches.first()).map_or(0.0, |stretch| stretch.share(t_s))
    }

    /// Which instant is at a place, s.
    pub fn time(&self, share: f64) -> f64 {
        let at = self.stretches.iter().rev().find(|stretch| stretch.shares[0] <= share);
        at.or(self.stretches.first()).map_or(0.0, |stretch| stretch.time(share))
    }

    /// How far what plays comes from an instant on in so many seconds of ours, s.
    pub fn played(&self, t_s: f64, dt_s: f64, is_backwards: bool) -> f64 {
        let by = dt_s / WHOLE_S;
        (self.moved(t_s, if is_backwards { -by } else { by }) - t_s).abs()
    }

    /// An instant `by` of the strip later or earlier.
    pub fn moved(&self, t_s: f64, by: f64) -> f64 {
        self.time((self.share(t_s) + by).clamp(0.0, 1.0))
    }

    /// Instants that read well, no two nearer than a share of the strip: round ones before less round ones.
    pub fn ticks(&self, least_apart: f64) -> Vec<Tick> {
        let [begin, end] = self.span_s();
        let mut ticks: Vec<Tick> = Vec::new();
        for round in ROUND_S {
            for t in round.iter().copied().filter(|t| begin <= *t && *t <= end) {
                let share = self.share(t);
                if ticks.iter().all(|tick| least_apart <= (tick.share - share).abs()) {
                    ticks.push(Tick { share, words: words(t) });
                }
            }
        }
        ticks.sort_by(|a, b| a.share.total_cmp(&b.share));
        ticks
    }

    fn span_s(&self) -> [f64; 2] {
        let ends = self.stretches.first().zip(self.stretches.last());
        ends.map_or([0.0, 0.0], |(first, last)| [first.span_s[0], last.span_s[1]])
    }
}

impl Stretch {
    fn share(&self, t_s: f64) -> f64 {
        let [[a, b], [from, to]] = [self.span_s, self.shares];
        let (t, whole) = (t_s.clamp(a, b) - a, b - a);
        if whole <= 0.0 {
            return to;
        }
        let evenly = t / whole;
        let part = if self.even_s.is_finite() {
            let soon = (t / self.even_s).ln_1p() / (whole / self.even_s).ln_1p();
            soon + EVENLY * (evenly - soon)
        } else {
            evenly
        };
        from + (to - from) * part
    }

    fn time(&self, share: f64) -> f64 {
        let [begin, end] = self.span_s;
        if self.shares[1] <= share {
            return end;
        }
        // Halved until it is known as finely as numbers are.
        let (mut a, mut b) = (begin, end);
        for _ in 0..60 {
            let middle = 0.5 * (a + b);
            if self.share(middle) <= share { a = middle } else { b = middle }
        }
        a
    }
}

const MIN: f64 = 60.0;
const H: f64 = 3600.0;
const DAY: f64 = 86_400.0;

/// Instants that read well, the roundest first.
const ROUND_S: [&[f64]; 3] = [
    &[0.0, MIN, H, DAY, 10.0, 10.0 * MIN, 10.0 * DAY],
    &[30.0 * MIN, 6.0 * H, 2.0 * DAY, 7.0 * DAY, 30.0, 4.0 * DAY, 3.0 * H, 12.0 * H],
    &[-MIN, -30.0, 5.0, 20.0, 2.0 * MIN, 5.0 * MIN, 20.0 * MIN, 40.0 * MIN, 2.0 * H, 20.0 * DAY],
];

/// `10 min`: a round instant as people say it.
fn words(t_s: f64) -> String {
    let sign = if t_s < 0.0 { "−" } else { "" };
    let t = t_s.abs();
    let (value, unit) = match t {
        t if t < MIN => (t, "s"),
        t if t < H => (t / MIN, "min"),
        t if t < DAY => (t / H, "h"),
        t => (t / DAY, if t < 1.5 * DAY { "day" } else { "days" }),
    };
    format!("{sign}{value:.0} {unit}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scales() -> [Timescale; 4] {
        [
            Timescale::between([-60.0, 172_800.0], [6.6, 9.2, 1800.0, 1817.0]),
            Timescale::between([-60.0, 864_000.0], []),
            Timescale::between([0.0, 30.0], [5.0]),
            Timescale::between([-60.0, 86_400.0], [380.0, 889.0, 15_066.0]),
        ]
    }

    #[test]
    fn from_instants_to_places_and_back() {
        for scale in scales() {
            let [begin, end] = scale.span_s();
            let mut last = -1.0;
            for k in 0..=1000 {
                let t = begin + (end - begin) * f64::from(k) / 1000.0;
                let share = scale.share(t);
                assert!(last < share && (0.0..=1.0 + 1e-12).contains(&share), "{t} s at {share}");
                assert!((scale.time(share) - t).abs() < 1e-6 * (1.0 + t.abs()), "{t} s");
                last = share;
            }
            assert!(scale.share(begin).abs() < 1e-12 && (scale.share(end) - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn the_first_minute_and_the_last_day_both_have_room() {
        for scale in scales().iter().filter(|scale| scale.span_s()[1] > DAY / 2.0) {
            let first = scale.share(MIN) - scale.share(0.0);
            assert!(0.08 < first, "the first minute takes {first} of the strip");
            let [_, end] = scale.span_s();
            let last = 1.0 - scale.share(end - DAY.min(0.5 * end));
            assert!(0.02 < last, "the last day takes {last} of the strip");
        }
    }

    #[test]
    fn time_is_slow_again_where_something_happens() {
        let scale = Timescale::between([-60.0, 172_800.0], [1800.0]);
        let minute = |t: f64| scale.share(t + MIN) - scale.share(t);
        assert!(10.0 * minute(1700.0) < minute(1800.0));
    }

    #[test]
    fn ticks_are_round_and_apart() {
        for scale in scales() {
            let ticks = scale.ticks(0.06);
            assert!(ticks.windows(2).all(|pair| 0.06 <= pair[1].share - pair[0].share));
        }
        let words: Vec<String> =
            scales()[1].ticks(0.055).into_iter().map(|tick| tick.words).collect();
        for wanted in ["0 s", "10 s", "1 min", "10 min", "1 h", "1 day", "10 days"] {
            assert!(words.iter().any(|words| words == wanted), "{wanted} in {words:?}");
        }
    }

    #[test]
    fn all_of_it_is_played_in_twenty_seconds_and_ends() {
        for scale in scales() {
            let [mut t, end] = scale.span_s();
            let frames = (0..10_000).find(|_| {
                t += scale.played(t, 1.0 / 60.0, false);
                (t - end).abs() < 1e-9
            });
            assert!(frames.is_some_and(|frames| (1190..1210).contains(&frames)), "{frames:?}");
        }
    }

    #[test]
    fn steps_stay_on_the_strip() {
        let scale = &scales()[0];
        assert!((scale.moved(172_800.0, 0.1) - 172_800.0).abs() < 1e-6);
        assert!((scale.moved(-60.0, -0.1) + 60.0).abs() < 1e-9);
        assert!((scale.share(scale.moved(100.0, 0.02)) - scale.share(100.0) - 0.02).abs() < 1e-9);
    }
}
