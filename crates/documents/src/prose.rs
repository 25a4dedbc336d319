//! Small makers of blocks, so that all documents read alike.

use paper::{Align, Block, Caution, Column, Table};
use study::told;
use units::{KG_PER_LB, System};

/// Words as they are printed: what a terminal sets in backticks stands in quotation marks.
fn typeset(text: impl Into<String>) -> String {
    let text: String = text.into();
    let mut parts = text.split('`');
    let mut printed = parts.next().unwrap_or_default().to_owned();
    for (k, part) in parts.enumerate() {
        printed.push(if k.is_multiple_of(2) { '“' } else { '”' });
        printed.push_str(part);
    }
    printed
}

/// The title of a document.
pub(crate) fn title(words: impl Into<String>) -> Block {
    Block::Heading(1, typeset(words))
}

/// A chapter.
pub(crate) fn chapter(words: impl Into<String>) -> Block {
    Block::Heading(2, typeset(words))
}

/// A part of a chapter.
pub(crate) fn part(words: impl Into<String>) -> Block {
    Block::Heading(3, typeset(words))
}

/// A paragraph.
pub(crate) fn words(text: impl Into<String>) -> Block {
    Block::Words(typeset(text))
}

/// A list with dots.
pub(crate) fn items<S: Into<String>>(all: impl IntoIterator<Item = S>) -> Block {
    Block::Items(all.into_iter().map(typeset).collect())
}

/// A list to be ticked.
pub(crate) fn boxes<S: Into<String>>(all: impl IntoIterator<Item = S>) -> Block {
    Block::Boxes(all.into_iter().map(typeset).collect())
}

/// A caution.
pub(crate) fn caution<S: Into<String>>(head: &str, all: impl IntoIterator<Item = S>) -> Block {
    let words = all.into_iter().map(typeset).collect();
    Block::Caution(Caution { head: head.to_owned(), words })
}

/// How a column is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Words that may be broken into lines.
    Words,
    /// Words on one line.
    Name,
    /// Numbers.
    Number,
}

/// A table from its heads and rows.
pub(crate) fn table<const N: usize>(
    columns: [(&str, Kind); N],
    rows: impl IntoIterator<Item = [String; N]>,
) -> Block {
    let columns = columns.map(|(head, kind)| Column {
        head: head.to_owned(),
        align: if kind == Kind::Number { Align::Right } else { Align::Left },
        may_wrap: kind == Kind::Words,
    });
    let rows = rows.into_iter().map(|row| row.map(typeset).to_vec()).collect();
    Block::Table(Table { columns: columns.into(), rows, has_sum: false })
}

/// A table that is told elsewhere too, under its title, with its notes. Nothing when it has no rows.
pub(crate) fn told_table(told: &told::table::Table) -> Vec<Block> {
    if told.rows.is_empty() {
        return Vec::new();
    }
    let columns = told.head.iter().enumerate().map(|(k, head)| {
        let longest =
            told.rows.iter().filter_map(|row| row.get(k)).map(|cell| cell.chars().count());
        Column {
            head: (*head).to_owned(),
            align: Align::Left,
            may_wrap: longest.max().unwrap_or(0) > 14,
        }
    });
    let row = |row: &Vec<String>| row.iter().map(typeset).collect();
    let rows = told.rows.iter().map(row).collect();
    let table = Table { columns: columns.collect(), rows, has_sum: false };
    let title = (!told.title.is_empty()).then(|| part(capital(&told.title)));
    let mut blocks: Vec<Block> = title.into_iter().chain([Block::Table(table)]).collect();
    blocks.extend(told.notes.iter().map(words));
    blocks
}

/// The same words with a capital letter first.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// A mass that is only to be lifted or borne: `14 kg`, `31 lb`.
pub(crate) fn about_kg(kg: f64, system: System) -> String {
    match system {
        System::Metric => format!("{kg:.0} kg"),
        System::UsCustomary => format!("{:.0} lb", kg / KG_PER_LB),
    }
}

/// `1 step`, `3 steps`.
pub(crate) fn count(n: usize, one: &str) -> String {
    if n == 1 { format!("{n} {one}") } else { format!("{n} {one}s") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_without_rows_is_nothing() {
        let mut told = told::table::Table::new("levels", ["what", "how much"]);
        assert!(told_table(&told).is_empty());
        told.rows.push(vec!["a".into(), "1".into()]);
        told.notes.push("note".into());
        let blocks = told_table(&told);
        assert_eq!(blocks.len(), 3);
        assert_eq!(blocks[0], part("Levels"));
    }

    #[test]
    fn masses_are_whole() {
        let told = [System::Metric, System::UsCustomary].map(|system| about_kg(16.2, system));
        assert_eq!(told, ["16 kg", "36 lb"]);
    }

    #[test]
    fn what_stands_in_backticks_is_printed_in_quotation_marks() {
        assert_eq!(words("give `a.b`, not `c`"), Block::Words("give “a.b”, not “c”".to_owned()));
    }

    #[test]
    fn one_and_many() {
        assert_eq!([count(1, "step"), count(2, "step")], ["1 step", "2 steps"]);
    }
}
