use std::collections::BTreeMap;
use std::ops::Range;

use toml::de::{DeTable, DeValue};

use crate::path;

/// Where each parameter stands in the file: path → bytes of its key and of its value.
///
/// A path looks like `leaf.comb.crest.height` or `along[2].across[0].width`. A name that has other
/// characters than names may have stands in quotes: `leaf."a.b".crest`.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Spans(BTreeMap<String, Place>);

#[derive(Clone, Debug, PartialEq, Eq)]
struct Place {
    key: Option<Range<usize>>,
    value: Range<usize>,
}

impl Spans {
    /// Bytes of the value of `parameter`; of the nearest parameter around it, if the file leaves it
    /// out; `None` if nothing around it stands in the file either.
    ///
    /// The value of a table is its header, `[leaf.comb]`, or the braces with all between.
    pub fn get(&self, parameter: &str) -> Option<Range<usize>> {
        self.nearest(parameter).map(|place| place.value.clone())
    }

    /// Bytes of the key of `parameter`, or of the nearest parameter around it. An item of a list has
    /// no key: its value is given.
    pub fn key(&self, parameter: &str) -> Option<Range<usize>> {
        self.nearest(parameter).map(|place| place.key.as_ref().unwrap_or(&place.value).clone())
    }

    /// Whether the file itself says `parameter`.
    pub fn contains(&self, parameter: &str) -> bool {
        self.0.contains_key(parameter)
    }

    /// All parameters that the file says, in the order of their paths.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }

    /// Bytes of all keys.
    pub(crate) fn keys(&self) -> impl Iterator<Item = &Range<usize>> {
        self.0.values().filter_map(|place| place.key.as_ref())
    }

    fn nearest(&self, parameter: &str) -> Option<&Place> {
        std::iter::successors(Some(parameter), |inner| path::parent(inner))
            .find_map(|at| self.0.get(at))
    }

    pub(crate) fn of(table: &DeTable<'_>) -> Self {
        let mut spans = Self::default();
        spans.add_table(table, "", 0);
        spans
    }

    fn add_table(&mut self, table: &DeTable<'_>, at: &str, depth: usize) {
        for (key, value) in table {
            let at = path::key(at, key.get_ref());
            self.add(value.get_ref(), &at, depth);
            self.0.insert(at, Place { key: Some(key.span()), value: value.span() });
        }
    }

    fn add(&mut self, value: &DeValue<'_>, at: &str, depth: usize) {
        // Nothing of ours is as deep; without an end, a hostile file would make paths of megabytes.
        if depth > path::DEEPEST {
            return;
        }
        match value {
            DeValue::Table(table) => self.add_table(table, at, depth + 1),
            DeValue::Array(items) => {
                for (index, item) in items.iter().enumerate() {
                    let at = path::index(at, index);
                    self.add(item.get_ref(), &at, depth + 1);
                    self.0.insert(at, Place { key: None, value: item.span() });
                }
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "[box]\noutside = { length = 1000 }\n[[along]]\nchamber = \"inlet\"\n[leaf.\"a.b\"]\nmount = 3\n";

    fn text_at(range: Option<Range<usize>>) -> Option<&'static str> {
        range.map(|range| &FILE[range])
    }

    fn spans() -> Spans {
        Spans::of(DeTable::parse(FILE).unwrap().get_ref())
    }

    #[test]
    fn a_value_and_its_key() {
        assert_eq!(text_at(spans().get("box.outside.length")), Some("1000"));
        assert_eq!(text_at(spans().key("box.outside.length")), Some("length"));
        assert_eq!(text_at(spans().get("along[0].chamber")), Some("\"inlet\""));
        assert_eq!(text_at(spans().get("leaf.\"a.b\".mount")), Some("3"));
    }

    #[test]
    fn what_is_left_out_is_where_it_would_stand() {
        assert_eq!(text_at(spans().get("box.outside.width")), Some("{ length = 1000 }"));
        assert_eq!(text_at(spans().get("along[0].across[3].width")), Some("[[along]]"));
        assert_eq!(text_at(spans().key("along[0]")), Some("[[along]]"));
        assert_eq!(text_at(spans().get("leaf.\"a.b\".crest")), Some("[leaf.\"a.b\"]"));
        assert_eq!(spans().get("water.salinity"), None);
    }
}
