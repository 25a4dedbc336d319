//! The least sets among many.

use super::obstacles::Groups;

/// Sets of which none holds another: what must be gone, in all its alternatives.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Antichain {
    sets: Vec<Groups>,
}

impl Antichain {
    /// Adds a set, unless one that it holds is known; forgets those that hold it.
    ///
    /// What is left in the end does not depend on the order in which sets come.
    pub(crate) fn add(&mut self, set: Groups) {
        if !self.holds(set) {
            self.sets.retain(|known| set & known != set);
            self.sets.push(set);
        }
    }

    /// Whether a subset of this set is known, so that it says nothing new; or: whether something is left when
    /// these are gone.
    pub(crate) fn holds(&self, set: Groups) -> bool {
        self.sets.iter().any(|known| known & set == *known)
    }

    /// Whether nothing must be gone.
    pub(crate) fn is_free(&self) -> bool {
        self.holds(0)
    }

    /// The sets.
    pub(crate) fn sets(&self) -> &[Groups] {
        &self.sets
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_least_sets_stay() {
        let orders = [[7, 3, 5, 3, 4], [4, 3, 7, 5, 3], [3, 4, 5, 7, 3]];
        for order in orders {
            let mut least = Antichain::default();
            for set in order {
                least.add(set);
            }
            let mut sets = least.sets().to_vec();
            sets.sort_unstable();
            assert_eq!(sets, [3, 4]);
            assert!(least.holds(6) && !least.holds(2) && !least.is_free());
        }
    }
}
