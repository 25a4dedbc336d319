//! Disjoint sets of indices.

/// Indices `0..n`, in groups that can be joined.
pub(crate) struct Sets(Vec<usize>);

impl Sets {
    pub(crate) fn new(n: usize) -> Self {
        Self((0..n).collect())
    }

    /// The smallest index of the group.
    pub(crate) fn find(&mut self, mut x: usize) -> usize {
        while self.0[x] != x {
            self.0[x] = self.0[self.0[x]];
            x = self.0[x];
        }
        x
    }

    pub(crate) fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.find(a), self.find(b));
        self.0[a.max(b)] = a.min(b);
    }
}
