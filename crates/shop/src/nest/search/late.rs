//! Late acceptance: what is no worse than what was accepted some rounds ago is accepted (Burke and Bykov 2017).

/// Length of the history; tried on the sets in `tests/outside/packing`.
const LENGTH: usize = 20;

/// What was accepted; less is better.
#[derive(Debug, Default)]
pub(super) struct Late {
    history: Vec<f64>,
    now: f64,
    round: usize,
}

impl Late {
    /// The first is accepted, whatever it is.
    pub(super) fn accepts(&mut self, merit: f64) -> bool {
        if self.history.is_empty() {
            (self.history, self.now) = (vec![merit; LENGTH], merit);
        }
        let then = &mut self.history[self.round % LENGTH];
        self.round += 1;
        let is_accepted = merit <= *then || merit <= self.now;
        if is_accepted {
            self.now = merit;
        }
        *then = self.now;
        is_accepted
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_worse_is_accepted_only_while_it_was_as_bad_before() {
        let mut late = Late::default();
        assert!(late.accepts(5.0));
        assert!((1..LENGTH).all(|_| late.accepts(3.0)));
        assert!(late.accepts(5.0), "it was as bad so many rounds ago");
        assert!(!late.accepts(5.5));
    }
}
