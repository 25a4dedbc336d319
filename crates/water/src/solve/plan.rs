//! What happens to a network while it runs: switches by the clock and by levels.

use crate::network::Element;

/// Why [`Plan::fire`] is called.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Event {
    /// The run begins. Here a plan brings the elements into line with the modes that it begins in.
    Start,
    /// An instant that [`Plan::next_time_s`] gave.
    Clock,
    /// The value of this index of [`Plan::watch`] has risen to zero.
    Watch(usize),
}

/// A leap over a settled cycle: what happened in its last period before `t_s` has happened `count` times
/// more.
#[derive(Clone, Copy, Debug)]
pub struct Leapt<'a> {
    /// When the leap begins, s.
    pub t_s: f64,
    /// How long one period takes, s.
    pub period_s: f64,
    /// How many periods.
    pub count: u32,
    /// How far the level of every tank rises in each of them, m.
    pub rise_m: &'a [f64],
}

/// What is switched, and when. Between two events the elements stay as they are; nothing may switch while
/// discharges are evaluated.
///
/// After each event the plan must look again at every condition that may already be past: only a value
/// that rises through zero fires. Two modes that switch each other need a gap between their levels.
pub trait Plan {
    /// The next instant, strictly after `after_s`, at which the clock switches something, s. First asked
    /// with minus infinity; what lies before the start then fires at the start.
    fn next_time_s(&self, _after_s: f64) -> f64 {
        f64::INFINITY
    }

    /// Appends the values that are watched at these levels (m): always as many in the same order, smooth in
    /// the levels between events. One fires when it goes from below zero to zero or above; what is not
    /// watched just now is a constant below zero.
    fn watch(&self, _levels_m: &[f64], _values: &mut Vec<f64>) {}

    /// Acts on an event, on the elements' scales, laws and leans.
    fn fire(&mut self, _event: Event, _t_s: f64, _levels_m: &[f64], _elements: &mut [Element]) {}

    /// Sees the levels (m) at every step, event and turning point, in the order of time.
    fn see(&mut self, _t_s: f64, _levels_m: &[f64]) {}

    /// Is told of a leap over a settled cycle, right after the event that ended its last period. What
    /// [`Plan::see`] shows next is its end.
    fn leapt(&mut self, _leap: &Leapt<'_>) {}

    /// The furthest that any level may move between two calls of [`Plan::see`], m. Steps in which more
    /// happens are shown in parts, a hundred at most.
    fn resolution_m(&self) -> f64 {
        f64::INFINITY
    }
}

/// A plan in which nothing happens.
impl Plan for () {}
