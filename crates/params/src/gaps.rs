use std::collections::BTreeSet;

/// What is not known of a file because it is written wrongly. Checks that would have needed it are left
/// out: the maker gets one finding for one mistake.
#[derive(Clone, Debug, Default)]
pub(crate) struct Gaps {
    lost: BTreeSet<String>,
    partial: BTreeSet<String>,
}

impl Gaps {
    /// The value at `path` is not what it should be, and something else stands in for it.
    pub(crate) fn lose(&mut self, path: &str) {
        self.lost.insert(path.to_owned());
    }

    /// The table at `path` has keys that nobody knows, so that what it says is not all that it meant.
    pub(crate) fn lose_part(&mut self, path: &str) {
        self.partial.insert(path.to_owned());
    }

    /// Whether the value at `path` is what the file says, or is left out there.
    pub(crate) fn knows(&self, path: &str) -> bool {
        std::iter::successors(Some(path), |inner| crate::path::parent(inner))
            .all(|at| !self.lost.contains(at))
    }

    /// Whether it is known which of `keys` the table at `path` has, and what stands in them.
    pub(crate) fn knows_keys(&self, path: &str, keys: &[&str]) -> bool {
        let knows_key = |key: &&str| self.knows(&crate::path::key(path, key));
        self.knows(path) && !self.partial.contains(path) && keys.iter().all(knows_key)
    }

    /// Whether all is known that stands at `path` and below it.
    pub(crate) fn knows_all(&self, path: &str) -> bool {
        self.knows(path) && !holds_within(&self.lost, path) && !holds_within(&self.partial, path)
    }
}

fn holds_within(paths: &BTreeSet<String>, path: &str) -> bool {
    let mut beginning_alike =
        paths.range(path.to_owned()..).take_while(|lost| lost.starts_with(path));
    beginning_alike.any(|lost| {
        path.is_empty() || matches!(lost.as_bytes().get(path.len()), None | Some(b'.' | b'['))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_lost_takes_all_below_it_along() {
        let mut gaps = Gaps::default();
        gaps.lose("leaf.comb.crest");
        gaps.lose_part("box");
        for (path, knows, knows_all) in [
            ("leaf.comb.crest.height", false, false),
            ("leaf.comb.crest", false, false),
            ("leaf.comb", true, false),
            ("leaf.combs", true, true),
            ("leaf", true, false),
            ("box", true, false),
            ("box.outside", true, true),
            ("along[0]", true, true),
        ] {
            assert!(gaps.knows_keys(path, &[]) != (path == "box" || !knows), "{path}");
            assert_eq!((gaps.knows(path), gaps.knows_all(path)), (knows, knows_all), "{path}");
        }
    }
}
