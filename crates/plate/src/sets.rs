//! Disjoint sets of the numbers `0..n`.

/// Which numbers belong together.
pub(crate) struct Sets(Vec<usize>);

impl Sets {
    /// Every number alone.
    pub(crate) fn new(n: usize) -> Self {
        Self((0..n).collect())
    }

    /// The number that stands for the set of `x`: its smallest.
    pub(crate) fn find(&mut self, mut x: usize) -> usize {
        while self.0[x] != x {
            self.0[x] = self.0[self.0[x]];
            x = self.0[x];
        }
        x
    }

    /// Makes the sets of `a` and `b` one.
    pub(crate) fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.find(a), self.find(b));
        self.0[a.max(b)] = a.min(b);
    }
}
