//! Time while something plays.

/// Where a play is, and how fast it goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    /// Where it is, s of what is played.
    pub t_s: f64,
    /// Where it begins and ends.
    pub span_s: [f64; 2],
    /// So many seconds of what is played in one.
    pub speed: f64,
    /// Whether it goes.
    pub is_running: bool,
    /// Whether it goes backwards: back in the way it came out.
    pub is_backwards: bool,
    /// Where it stops next: the end of a step, when it plays step by step.
    stop_s: Option<f64>,
}

impl Clock {
    /// From the start on.
    pub fn started(span_s: [f64; 2], speed: f64) -> Self {
        Self { t_s: span_s[0], span_s, speed, is_running: true, is_backwards: false, stop_s: None }
    }

    /// So many seconds of ours later. It stops at the ends.
    pub fn advance(&mut self, by_s: f64) {
        if !self.is_running {
            return;
        }
        let [begin, end] = self.span_s;
        let (by, end) = if self.is_backwards { (-by_s, begin) } else { (by_s, end) };
        let t_s = self.t_s + by * self.speed;
        if let Some(stop) = self.stop_s.filter(|stop| *stop <= t_s) {
            self.stand_at(stop);
            return;
        }
        self.set(t_s);
        self.is_running = (self.t_s - end).abs() > 1e-9;
    }

    /// Goes on to an instant and stops there.
    pub fn go_on_to(&mut self, t_s: f64) {
        self.is_backwards = false;
        self.is_running = self.t_s < t_s;
        self.stop_s = self.is_running.then_some(t_s);
    }

    /// To an instant, and stops.
    pub fn stand_at(&mut self, t_s: f64) {
        self.set(t_s);
        self.is_running = false;
        self.stop_s = None;
    }

    /// To an instant, as near as there is one.
    pub fn set(&mut self, t_s: f64) {
        self.t_s = t_s.min(self.span_s[1]).max(self.span_s[0]);
    }

    /// Goes or stops; at its end it starts anew.
    pub fn toggle(&mut self) {
        self.stop_s = None;
        let [begin, end] = self.span_s;
        if !self.is_running {
            if self.is_backwards && self.t_s <= begin {
                self.is_backwards = false;
            } else if !self.is_backwards && end <= self.t_s {
                self.t_s = begin;
            }
        }
        self.is_running = !self.is_running;
    }

    /// Goes towards the start.
    pub fn go_back(&mut self) {
        self.stop_s = None;
        self.is_backwards = true;
        self.is_running = self.span_s[0] < self.t_s;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_stops_at_the_end_and_starts_anew() {
        let mut clock = Clock::started([-1.0, 9.0], 10.0);
        clock.advance(0.5);
        assert!((clock.t_s - 4.0).abs() < 1e-12 && clock.is_running);
        clock.advance(3.0);
        assert!((clock.t_s - 9.0).abs() < 1e-12 && !clock.is_running);
        clock.toggle();
        assert!((clock.t_s + 1.0).abs() < 1e-12 && clock.is_running);
    }

    #[test]
    fn it_goes_back_to_the_start() {
        let mut clock = Clock::started([0.0, 9.0], 1.0);
        clock.set(5.0);
        clock.go_back();
        clock.advance(3.0);
        assert!((clock.t_s - 2.0).abs() < 1e-12);
        clock.advance(3.0);
        assert!(clock.t_s.abs() < 1e-12 && !clock.is_running);
        clock.toggle();
        assert!(clock.is_running && !clock.is_backwards);
    }

    #[test]
    fn it_stops_where_it_was_told_to() {
        let mut clock = Clock::started([0.0, 9.0], 1.0);
        clock.go_on_to(2.5);
        clock.advance(2.0);
        assert!(clock.is_running);
        clock.advance(2.0);
        assert!((clock.t_s - 2.5).abs() < 1e-12 && !clock.is_running);
        clock.toggle();
        clock.advance(2.0);
        assert!((clock.t_s - 4.5).abs() < 1e-12 && clock.is_running);
        clock.stand_at(1.0);
        clock.advance(2.0);
        assert!((clock.t_s - 1.0).abs() < 1e-12);
    }

    #[test]
    fn stopped_it_stands() {
        let mut clock = Clock::started([0.0, 9.0], 1.0);
        clock.toggle();
        clock.advance(3.0);
        assert!(clock.t_s.abs() < 1e-12);
    }
}
