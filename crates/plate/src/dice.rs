//! Numbers that look random and are the same everywhere.

/// `SplitMix64`, a generator of 64-bit numbers by integer arithmetic alone.
///
/// Source: Steele, Lea, Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014,
/// doi:10.1145/2660193.2660195.
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From `lo` up to `hi`.
    pub(crate) fn between(&mut self, lo: f64, hi: f64) -> f64 {
        // 53 bits fill the fraction of an `f64` exactly.
        let share = (self.next() >> 11) as f64 / (1_u64 << 53) as f64;
        lo + share * (hi - lo)
    }

    /// One of `0..n`.
    pub(crate) fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }

    /// True `percent` times of a hundred.
    pub(crate) fn chance(&mut self, percent: u64) -> bool {
        self.below(100) < percent
    }

    /// One of the things in a list that is not empty.
    pub(crate) fn pick<T: Copy>(&mut self, list: &[T]) -> T {
        let n = self.below(list.len() as u64);
        *list.iter().cycle().nth(usize::try_from(n).unwrap_or(0)).expect("the list is not empty")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_numbers_are_those_of_the_published_generator() {
        // Published test values for the state 1234567.
        let mut dice = Dice::new(1_234_567);
        let first = [6_457_827_717_110_365_317, 3_203_168_211_198_807_973];
        assert_eq!([dice.next(), dice.next()], first);
    }
}
