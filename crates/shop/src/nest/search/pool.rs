//! Every sheet that was seen.

use std::collections::BTreeMap;

use super::super::space::Laid;
use super::super::{Item, Sheet};

/// Sheets that differ in kind or in what lies on them; items that are alike count as the same.
#[derive(Debug)]
pub(in super::super) struct Pool {
    /// For every item its sort: the first item that is alike.
    pub(in super::super) sorts: Vec<usize>,
    sheets: BTreeMap<(usize, Vec<usize>), Sheet>,
}

/// More are not kept.
const MOST: usize = 20_000;

impl Pool {
    pub(super) fn new(items: &[Item]) -> Self {
        let first = |item: &Item| items.iter().position(|other| other == item).unwrap_or(0);
        Self { sorts: items.iter().map(first).collect(), sheets: BTreeMap::new() }
    }

    pub(super) fn keep(&mut self, laid: &[Laid]) {
        for laid in laid {
            let mut sorts: Vec<usize> = laid.puts.iter().map(|put| self.sorts[put.item]).collect();
            sorts.sort_unstable();
            let key = (laid.kind, sorts);
            if self.sheets.len() < MOST && !self.sheets.contains_key(&key) {
                let sheet = Sheet { kind: laid.kind, puts: laid.puts.clone() };
                self.sheets.insert(key, sheet);
            }
        }
    }

    pub(in super::super) fn sheets(&self) -> impl Iterator<Item = (&[usize], &Sheet)> {
        self.sheets.iter().map(|((_, sorts), sheet)| (sorts.as_slice(), sheet))
    }
}
