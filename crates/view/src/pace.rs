//! How finely frames are drawn while something moves, so that they come often enough. All bounds are our judgement, held
//! against made-up machines in the tests below.

/// Slower frames than this are drawn more coarsely, s: thirty a second, with some room.
const SLOW_S: f64 = 0.030;
/// Faster frames than this are drawn more finely: the next finer grain has a bit more than twice as many samples.
const FAST_S: f64 = 0.012;
/// Longer gaps are rests between two motions, not slow frames, s.
const REST_S: f64 = 0.4;
/// So many frames are drawn with a grain before it is judged.
const FRAMES: u32 = 6;
/// A new time counts for so much in the mean.
const SHARE: f64 = 0.25;

/// Coarser and coarser.
pub const GRAINS: usize = 3;

/// What is known of the times of frames.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pace {
    /// 0 the finest, up to [`GRAINS`] less one.
    pub grain: usize,
    mean_s: f64,
    frames: u32,
}

impl Pace {
    /// Draws no more finely than with the second grain, until frames are found to come fast.
    pub fn be_coarse(&mut self) {
        if self.grain == 0 {
            *self = Self { grain: 1, ..Self::default() };
        }
    }

    /// Counts a frame that came so long after the one before, s.
    pub fn count(&mut self, dt_s: f64) {
        if REST_S < dt_s {
            return;
        }
        // The first of a grain makes ready for it.
        self.frames += 1;
        match self.frames {
            1 => return,
            2 => self.mean_s = dt_s,
            _ => self.mean_s += SHARE * (dt_s - self.mean_s),
        }
        if self.frames < FRAMES {
            return;
        }
        if SLOW_S < self.mean_s && self.grain + 1 < GRAINS {
            *self = Self { grain: self.grain + 1, ..Self::default() };
        } else if self.mean_s < FAST_S && 0 < self.grain {
            *self = Self { grain: self.grain - 1, ..Self::default() };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The grain after many frames on a machine that takes so long for each, from the finest to the coarsest, and how
    /// often it changed in the last half of them.
    fn settled(times_s: [f64; GRAINS]) -> (usize, usize) {
        let mut pace = Pace::default();
        let grains: Vec<usize> = (0..400)
            .map(|_| {
                pace.count(times_s[pace.grain]);
                pace.grain
            })
            .collect();
        (pace.grain, grains[200..].windows(2).filter(|pair| pair[0] != pair[1]).count())
    }

    #[test]
    fn it_settles_where_frames_come_often_enough() {
        assert_eq!(settled([0.016, 0.010, 0.008]), (0, 0));
        assert_eq!(settled([0.045, 0.025, 0.017]), (1, 0));
        assert_eq!(settled([0.090, 0.045, 0.028]), (2, 0));
        assert_eq!(settled([0.400, 0.200, 0.100]), (2, 0));
    }

    #[test]
    fn a_fast_machine_is_coarse_only_for_some_frames() {
        let mut pace = Pace::default();
        pace.be_coarse();
        assert_eq!(pace.grain, 1);
        (0..10).for_each(|_| pace.count(0.008));
        assert_eq!(pace.grain, 0);
    }

    #[test]
    fn rests_are_no_slow_frames() {
        let mut pace = Pace::default();
        (0..50).for_each(|_| pace.count(2.0));
        assert_eq!(pace.grain, 0);
    }
}
