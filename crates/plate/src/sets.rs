//! Disjoint sets of the numbers `0..n`.

/// Which of the numbers `0..n` belong together: cells of one region, corners of one component.
///
/// ```
/// let mut sets = plate::Sets::new(4);
/// sets.join(3, 1);
/// assert_eq!([0, 1, 2, 3].map(|x| sets.find(x)), [0, 1, 2, 1]);
/// ```
#[derive(Clone, Debug)]
pub struct Sets(Vec<usize>);

impl Sets {
    /// Every number alone.
    pub fn new(n: usize) -> Self {
        Self((0..n).collect())
    }

    /// The number that stands for the set of `x`: its smallest.
    pub fn find(&mut self, mut x: usize) -> usize {
        while self.0[x] != x {
            self.0[x] = self.0[self.0[x]];
            x = self.0[x];
        }
        x
    }

    /// Makes the sets of `a` and `b` one.
    pub fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.find(a), self.find(b));
        self.0[a.max(b)] = a.min(b);
    }
}
