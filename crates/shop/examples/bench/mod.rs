//! Reads packing problems, one a line, as `tests/outside/packing/README.md` describes them.

use std::collections::BTreeMap;
use std::str::{FromStr, SplitWhitespace};

use shop::nest::{Item, Kind, Size};

/// A problem with a name.
pub(crate) struct Problem {
    pub(crate) name: String,
    pub(crate) task: Task,
}

/// What is asked.
pub(crate) enum Task {
    /// A strip of this width, as low as can be.
    Strip { width: i32, wanted: Vec<(Size, bool)>, optimum: i32 },
    /// The cheapest sheets.
    Sheets { kinds: Vec<Kind>, items: Vec<Item> },
}

/// Problems from files, and the best known prices of some.
#[derive(Default)]
pub(crate) struct Bench {
    pub(crate) problems: Vec<Problem>,
    pub(crate) best_known: BTreeMap<String, u64>,
}

impl Bench {
    pub(crate) fn read<'a>(paths: impl Iterator<Item = &'a String>) -> Self {
        let mut bench = Self::default();
        for path in paths {
            let text =
                std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{path}: {error}"));
            for line in text.lines().filter(|line| !line.starts_with('#')) {
                bench.take(line).unwrap_or_else(|| panic!("{path}: cannot read `{line}`"));
            }
        }
        bench
    }

    fn take(&mut self, line: &str) -> Option<()> {
        let mut words = line.split_whitespace();
        let name = words.next()?.to_owned();
        let task = match words.next()? {
            "S" => {
                let (width, optimum) = (number(&mut words)?, number(&mut words)?);
                let wanted = sizes(&mut words)?.into_iter().map(|size| (size, true)).collect();
                Task::Strip { width, wanted, optimum }
            }
            "B" => {
                let kinds =
                    (0..number(&mut words)?).map(|_| kind(&mut words)).collect::<Option<_>>()?;
                let item = |size| Item { size, turns: true, rooms: vec![], openings: vec![] };
                let items = sizes(&mut words)?.into_iter().map(item).collect();
                Task::Sheets { kinds, items }
            }
            "K" => {
                self.best_known.insert(name, number(&mut words)?);
                return Some(());
            }
            _ => return None,
        };
        self.problems.push(Problem { name, task });
        words.next().is_none().then_some(())
    }
}

fn number<T: FromStr>(words: &mut SplitWhitespace) -> Option<T> {
    words.next()?.parse().ok()
}

fn size(words: &mut SplitWhitespace) -> Option<Size> {
    Some(Size { width: number(words)?, height: number(words)? })
}

fn sizes(words: &mut SplitWhitespace) -> Option<Vec<Size>> {
    (0..number(words)?).map(|_| size(words)).collect()
}

fn kind(words: &mut SplitWhitespace) -> Option<Kind> {
    let (size, cost) = (size(words)?, number(words)?);
    let quantity = Some(number(words)?).filter(|quantity| 0 < *quantity);
    Some(Kind { size, cost, quantity, turns: true })
}
