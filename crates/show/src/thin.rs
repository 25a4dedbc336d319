//! A rehearsal with fewer instants, for what has little room.

use crate::water::{Flows, Rehearsal};

impl Rehearsal {
    /// The same with at most `most` instants (at least 2): the first and the last, the highest and lowest of every curve,
    /// those at which something happened, and then whichever lie farthest from the straight line that stands in for
    /// them. Where even the first of these are too many, the later in that order are left out.
    #[must_use]
    pub fn thinned(&self, most: usize) -> Self {
        let count = self.times_s.len();
        if count <= most.max(2) {
            return self.clone();
        }
        let mut kept = Kept::of(self, most.max(2));
        self.first_of_all().into_iter().for_each(|k| kept.keep(k));
        kept.fill();
        let at: Vec<usize> = (0..count).filter(|k| kept.is_kept[*k]).collect();
        let some = |values: &Vec<f64>| -> Vec<f64> {
            at.iter().filter_map(|k| values.get(*k).copied()).collect()
        };
        let flow = |flow: &Flows| Flows { name: flow.name.clone(), l_h: some(&flow.l_h) };
        Self {
            name: self.name.clone(),
            words: self.words.clone(),
            verdict: self.verdict.clone(),
            times_s: some(&self.times_s),
            levels_mm: self.levels_mm.iter().map(some).collect(),
            display_mm: some(&self.display_mm),
            spilled_l: self.spilled_l.each_ref().map(some),
            flows: self.flows.iter().map(flow).collect(),
            events: self.events.clone(),
        }
    }

    /// Every curve with what is much of it: levels share one measure, so that what hardly moves is not shown finely.
    fn curves(&self) -> Vec<(&[f64], f64)> {
        let levels = self.levels_mm.iter().chain([&self.display_mm]).collect();
        let flows = self.flows.iter().map(|flow| &flow.l_h).collect();
        [group(levels), group(self.spilled_l.iter().collect()), group(flows)].concat()
    }

    /// What is kept before anything else, the most wanted first.
    fn first_of_all(&self) -> Vec<usize> {
        let mut first = vec![0, self.times_s.len() - 1];
        first.extend(self.curves().iter().flat_map(|(values, _)| ends(values)));
        // Both sides of a leap are at the same instant.
        let is_at = |k: usize, t_s: f64| (self.times_s[k] - t_s).abs() < SAME_S;
        for event in &self.events {
            let begin = self.times_s.partition_point(|t| *t < event.t_s - SAME_S);
            first.extend((begin..self.times_s.len()).take_while(|k| is_at(*k, event.t_s)));
        }
        first
    }
}

/// Curves that share one measure of what is much: the range of the one that moves most.
fn group(all: Vec<&Vec<f64>>) -> Vec<(&[f64], f64)> {
    let range = |values: &Vec<f64>| {
        let [low, high] = ends(values).map(|k| values.get(k).copied().unwrap_or(0.0));
        high - low
    };
    let most = all.iter().map(|values| range(values)).fold(1e-9, f64::max);
    all.into_iter().map(|values| (values.as_slice(), most)).collect()
}

/// Instants are told to a hundredth of a second.
const SAME_S: f64 = 0.015;

/// Where the lowest and the highest of these is, the first of equals.
fn ends(values: &[f64]) -> [usize; 2] {
    let (mut low, mut high) = (0, 0);
    for (k, value) in values.iter().enumerate() {
        if *value < values[low] {
            low = k;
        }
        if *value > values[high] {
            high = k;
        }
    }
    [low, high]
}

/// Which instants are kept so far.
struct Kept<'a> {
    times_s: &'a [f64],
    curves: Vec<(&'a [f64], f64)>,
    is_kept: Vec<bool>,
    left: usize,
}

impl<'a> Kept<'a> {
    fn of(rehearsal: &'a Rehearsal, most: usize) -> Self {
        let times_s = rehearsal.times_s.as_slice();
        let is_kept = vec![false; times_s.len()];
        Self { times_s, curves: rehearsal.curves(), is_kept, left: most }
    }

    fn keep(&mut self, k: usize) {
        if self.left > 0 && !self.is_kept[k] {
            self.is_kept[k] = true;
            self.left -= 1;
        }
    }

    /// Keeps what is told worst, until there is no room.
    fn fill(&mut self) {
        let kept: Vec<usize> = (0..self.is_kept.len()).filter(|k| self.is_kept[*k]).collect();
        let pairs = kept.windows(2).map(|pair| [pair[0], pair[1]]);
        let mut gaps: Vec<(f64, usize, [usize; 2])> =
            pairs.filter_map(|pair| self.worst(pair)).collect();
        while self.left > 0 {
            let worst = (0..gaps.len()).max_by(|a, b| gaps[*a].0.total_cmp(&gaps[*b].0));
            let Some(worst) = worst else { return };
            let (_, k, [begin, end]) = gaps.swap_remove(worst);
            self.keep(k);
            gaps.extend([[begin, k], [k, end]].into_iter().filter_map(|pair| self.worst(pair)));
        }
    }

    /// Which instant between two is farthest from the straight lines between these, and by how much.
    fn worst(&self, [begin, end]: [usize; 2]) -> Option<(f64, usize, [usize; 2])> {
        let span_s = (self.times_s[end] - self.times_s[begin]).max(1e-9);
        let off = |k: usize| {
            let share = (self.times_s[k] - self.times_s[begin]) / span_s;
            let offs = self.curves.iter().filter(|(values, _)| end < values.len());
            let offs = offs.map(|(values, much)| {
                let line = values[begin] + (values[end] - values[begin]) * share;
                (values[k] - line).abs() / much
            });
            offs.fold(0.0, f64::max)
        };
        let all = (begin + 1..end).map(|k| (off(k), k, [begin, end]));
        all.max_by(|a, b| a.0.total_cmp(&b.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Event;

    /// A level that leaps at once, a short spike, and a long rest.
    fn leaping() -> Rehearsal {
        let times_s: Vec<f64> = (0..1000).map(|k| f64::from(k) - 60.0).collect();
        let level = |t: &f64| if *t < 0.0 { 100.0 } else { 150.0 - 0.01 * t };
        let mut level: Vec<f64> = times_s.iter().map(level).collect();
        level[700] = 180.0;
        let none = vec![0.0; 1000];
        Rehearsal {
            name: "leap".to_owned(),
            words: String::new(),
            verdict: String::new(),
            levels_mm: vec![level],
            display_mm: none.clone(),
            spilled_l: [none.clone(), none],
            flows: Vec::new(),
            events: vec![Event { t_s: 300.0, words: "it clicks".to_owned() }],
            times_s,
        }
    }

    #[test]
    fn few_instants_tell_the_same_curve() {
        let full = leaping();
        let thin = full.thinned(12);
        assert_eq!(thin.times_s.len(), 12);
        for t_s in [-60.0, -2.0, 0.0, 200.0, 300.0, 500.0, 640.0, 900.0, 939.0] {
            let [is, was] = [&thin, &full].map(|r| r.levels_at(t_s)[0]);
            assert!((is - was).abs() < 0.01, "{is} for {was} at {t_s} s");
        }
        assert!(thin.times_s.iter().any(|t| (t - 300.0).abs() < 1e-9), "where it clicks");
    }

    #[test]
    fn what_is_short_stays_as_it_is() {
        let full = leaping();
        assert_eq!(full.thinned(1000), full);
        assert_eq!(full.thinned(0).times_s, [-60.0, 939.0]);
    }
}
