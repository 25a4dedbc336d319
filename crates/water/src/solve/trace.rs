//! A curve of levels in time, thinned to what can be seen.

use crate::solve::plan::Leapt;

/// The levels at one instant.
#[derive(Clone, Debug, PartialEq)]
pub struct Sample {
    /// When, s.
    pub t_s: f64,
    /// Level of every tank, m.
    pub levels_m: Vec<f64>,
    /// Something was switched here; such a sample is kept as long as there is room.
    pub is_marked: bool,
}

/// Keeps a sample when any level has moved far enough, or something was switched.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    samples: Vec<Sample>,
    /// The last that was seen and not kept.
    waiting: Option<Sample>,
    moved_m: f64,
    most: usize,
    /// One in so many of the samples that would be kept is kept.
    stride: usize,
    /// Samples since the last that was kept.
    passed: usize,
}

impl Default for Trace {
    /// A sample when a level has moved 0.2 mm, 2000 at most. Our judgement: finer than a line is wide.
    fn default() -> Self {
        Self::new(2e-4, 2000)
    }
}

impl Trace {
    /// Keeps a sample when any level has moved by `moved_m`. When there are more than `most` (at least 16),
    /// the distance is doubled and the samples so far are thinned; where that does not help, because marks
    /// or leaps to and fro fill the room, only every second is kept from then on.
    pub fn new(moved_m: f64, most: usize) -> Self {
        let most = most.max(16);
        Self { samples: Vec::new(), waiting: None, moved_m, most, stride: 1, passed: 0 }
    }

    /// Takes the levels at an instant, not before the last; to be called from [`Plan::see`](crate::Plan::see).
    pub fn see(&mut self, t_s: f64, levels_m: &[f64]) {
        self.take(t_s, levels_m, false);
    }

    /// Takes the levels at which something is switched; to be called from [`Plan::fire`](crate::Plan::fire).
    pub fn mark(&mut self, t_s: f64, levels_m: &[f64]) {
        self.take(t_s, levels_m, true);
    }

    /// Repeats the curve of a period that was leapt over; to be called from
    /// [`Plan::leapt`](crate::Plan::leapt).
    pub fn repeat(&mut self, leap: &Leapt<'_>) {
        let begin_s = leap.t_s - leap.period_s * (1.0 - 1e-9);
        let first = self.samples.partition_point(|sample| sample.t_s <= begin_s);
        let period = self.samples[first..].to_vec();
        for n in 1..=leap.count {
            let n = f64::from(n);
            for sample in &period {
                let pairs = sample.levels_m.iter().zip(leap.rise_m);
                let levels_m: Vec<f64> = pairs.map(|(z, rise)| z + n * rise).collect();
                self.take(sample.t_s + n * leap.period_s, &levels_m, sample.is_marked);
            }
        }
    }

    /// The curve, in the order of time.
    pub fn into_samples(mut self) -> Vec<Sample> {
        self.samples.extend(self.waiting.take());
        self.samples
    }

    /// The furthest that a level moves between two samples that are kept, m.
    pub fn moved_m(&self) -> f64 {
        self.moved_m
    }

    fn take(&mut self, t_s: f64, levels_m: &[f64], is_marked: bool) {
        let is_far = match self.samples.last() {
            Some(last) => self.moved_m <= distance_m(&last.levels_m, levels_m),
            None => true,
        };
        if !is_far && !is_marked {
            self.wait(t_s, levels_m, is_marked);
            return;
        }
        self.passed += 1;
        if self.passed < self.stride {
            self.wait(t_s, levels_m, is_marked);
            return;
        }
        self.passed = 0;
        // What came just before belongs to the curve: a long rest ends there.
        let waiting = self.waiting.take().filter(|_| self.stride == 1);
        self.samples.extend(waiting);
        self.samples.push(Sample { t_s, levels_m: levels_m.to_vec(), is_marked });
        if self.most < self.samples.len() {
            self.thin();
        }
    }

    /// Keeps a sample in mind in place of the last one, in the same memory.
    fn wait(&mut self, t_s: f64, levels_m: &[f64], is_marked: bool) {
        let mut kept = self.waiting.take().map_or_else(Vec::new, |sample| sample.levels_m);
        kept.clear();
        kept.extend_from_slice(levels_m);
        self.waiting = Some(Sample { t_s, levels_m: kept, is_marked });
    }

    fn thin(&mut self) {
        let mut kept: Vec<Sample> = Vec::new();
        for sample in &self.samples {
            let is_kept = match kept.last() {
                Some(last) => {
                    sample.is_marked
                        || 2.0 * self.moved_m <= distance_m(&last.levels_m, &sample.levels_m)
                }
                None => true,
            };
            if is_kept {
                kept.push(sample.clone());
            }
        }
        if 4 * kept.len() <= 3 * self.samples.len() {
            self.moved_m *= 2.0;
            self.samples = kept;
        } else {
            self.stride *= 2;
            let mut is_kept = false;
            self.samples.retain(|_| {
                is_kept = !is_kept;
                is_kept
            });
        }
    }
}

fn distance_m(a: &[f64], b: &[f64]) -> f64 {
    let pairs = a.iter().zip(b);
    pairs.fold(0.0, |most: f64, (a, b)| most.max((a - b).abs()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_rest_keeps_its_end() {
        let mut trace = Trace::default();
        for i in 0..1000 {
            trace.see(f64::from(i), &[0.1]);
        }
        trace.see(1000.0, &[0.2]);
        let times: Vec<f64> = trace.into_samples().iter().map(|s| s.t_s).collect();
        assert_eq!(times, [0.0, 999.0, 1000.0]);
    }

    #[test]
    fn there_are_never_too_many_samples() {
        for is_marked in [false, true] {
            let mut trace = Trace::new(1e-4, 100);
            for i in 0..10_000 {
                let levels = [if i % 2 == 0 { 0.0 } else { 0.1 }];
                if is_marked {
                    trace.mark(f64::from(i), &levels);
                } else {
                    trace.see(f64::from(i), &levels);
                }
            }
            let samples = trace.into_samples();
            assert!(samples.len() <= 101 && 40 <= samples.len(), "{}", samples.len());
            assert!(samples.is_sorted_by(|a, b| a.t_s < b.t_s));
        }
    }
}
