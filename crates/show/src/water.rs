//! Where water stands, in flow and in every rehearsal.

use glam::DVec2;
use serde::Serialize;

/// What holds water in the sump: a chamber, or the space between two leaves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Basin {
    /// Its name.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// `false` for the space between leaves.
    pub is_chamber: bool,
    /// Least corner of its clear floor, mm.
    pub min_mm: DVec2,
    /// Greatest corner.
    pub max_mm: DVec2,
    /// Level in flow, mm above the inside of the bottom.
    pub level_mm: f64,
}

/// A failure played in time.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Rehearsal {
    /// What it is called.
    pub name: String,
    /// What happens, in a sentence.
    pub words: String,
    /// What comes of it.
    pub verdict: String,
    /// Instants that are known, s after the failure began; the first may be before it.
    pub times_s: Vec<f64>,
    /// For every basin its level at these instants, mm above the inside of the bottom.
    pub levels_mm: Vec<Vec<f64>>,
    /// Level in the display, mm above its bottom.
    pub display_mm: Vec<f64>,
    /// Water on the floor under the sump, and under the display, L.
    pub spilled_l: [Vec<f64>; 2],
    /// What flows, where it is known.
    pub flows: Vec<Flows>,
    /// What happened, in order of time.
    pub events: Vec<Event>,
}

/// What flows through one pump or drain at the instants of a rehearsal.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Flows {
    /// Its name.
    pub name: String,
    /// L/h.
    pub l_h: Vec<f64>,
}

/// Something that happened.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Event {
    /// When, s after the failure began.
    pub t_s: f64,
    /// What.
    pub words: String,
}

impl Rehearsal {
    /// What is between two instants of `values` at an instant: in a straight line, as it is at the ends beyond them.
    pub fn at(&self, values: &[f64], t_s: f64) -> f64 {
        let after = self.times_s.partition_point(|t| *t <= t_s);
        let value = |k: usize| values.get(k).or(values.last()).copied().unwrap_or(0.0);
        let (Some(before), Some(next)) = (after.checked_sub(1), self.times_s.get(after)) else {
            return value(after.saturating_sub(1));
        };
        let begin = self.times_s[before];
        let share = (t_s - begin) / (next - begin).max(1e-9);
        value(before) + (value(after) - value(before)) * share
    }

    /// The level of every basin at an instant, mm above the inside of the bottom.
    pub fn levels_at(&self, t_s: f64) -> Vec<f64> {
        self.levels_mm.iter().map(|levels| self.at(levels, t_s)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels_are_read_between_instants() {
        let rehearsal = Rehearsal {
            name: String::new(),
            words: String::new(),
            verdict: String::new(),
            times_s: vec![-1.0, 0.0, 0.0, 10.0],
            levels_mm: vec![vec![5.0, 5.0, 6.0, 8.0]],
            display_mm: Vec::new(),
            spilled_l: [Vec::new(), Vec::new()],
            flows: Vec::new(),
            events: Vec::new(),
        };
        for (t_s, level) in
            [(-9.0, 5.0), (-0.5, 5.0), (0.0, 6.0), (5.0, 7.0), (10.0, 8.0), (99.0, 8.0)]
        {
            assert_eq!(rehearsal.levels_at(t_s), [level], "{t_s}");
        }
        assert!(rehearsal.at(&rehearsal.display_mm, 3.0).abs() < 1e-12);
    }
}
