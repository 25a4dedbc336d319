//! A table in words, as plain text.

use super::one_line;

/// Lines of text are at most so wide.
const WIDTH: usize = 90;

/// Rows of columns may be wider than text, but not wider than this.
const MOST: usize = 120;

/// A table with what is said under it.
#[derive(Clone, Debug, Default)]
pub struct Table {
    /// What it is about.
    pub title: String,
    /// Heads of the columns.
    pub head: Vec<&'static str>,
    /// As many cells in each as there are heads.
    pub rows: Vec<Vec<String>>,
    /// Sentences under it.
    pub notes: Vec<String>,
}

impl Table {
    /// An empty table.
    pub fn new<const N: usize>(title: impl Into<String>, head: [&'static str; N]) -> Self {
        Self { title: title.into(), head: head.to_vec(), ..Self::default() }
    }

    /// Title, columns, notes.
    pub fn text(&self) -> String {
        format!("{}\n{}", one_line(&self.title), self.body())
    }

    /// The same; rows that are too wide for a terminal are written one cell below the other.
    pub fn text_in_width(&self) -> String {
        let title = one_line(&self.title);
        let head: Vec<String> = self.head.iter().map(|cell| (*cell).to_owned()).collect();
        let is_narrow = columns(&head, &self.rows).lines().all(|line| line.chars().count() <= MOST);
        if is_narrow {
            return self.text();
        }
        let (first, others) = head.split_first().map_or(("", &[][..]), |(f, o)| (f.as_str(), o));
        let wide = others.iter().map(|cell| cell.chars().count()).max().unwrap_or(0);
        let row = |row: &Vec<String>| {
            let about = hanging(&format!("{first}: "), row.first().map_or("", String::as_str));
            let cells = others.iter().zip(row.iter().skip(1));
            let cells = cells.map(|(head, cell)| hanging(&format!("    {head:wide$}  "), cell));
            about + &cells.collect::<String>()
        };
        let notes = self.notes.iter().map(|note| wrapped(note));
        title + "\n" + &self.rows.iter().map(row).chain(notes).collect::<String>()
    }

    /// The same without a title.
    pub fn body(&self) -> String {
        let head: Vec<String> = self.head.iter().map(|cell| (*cell).to_owned()).collect();
        let notes: String = self.notes.iter().map(|note| wrapped(note)).collect();
        columns(&head, &self.rows) + &notes
    }
}

/// Columns as wide as their widest cell, under a head.
pub fn columns(head: &[String], rows: &[Vec<String>]) -> String {
    let plain = |row: &[String]| row.iter().map(|cell| one_line(cell)).collect::<Vec<_>>();
    let rows: Vec<Vec<String>> =
        std::iter::once(plain(head)).chain(rows.iter().map(|row| plain(row))).collect();
    let width = |column: usize| {
        rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.chars().count()).max()
    };
    let widths: Vec<usize> = (0..head.len()).map(|column| width(column).unwrap_or(0)).collect();
    let line = |row: &Vec<String>| {
        let cells: Vec<String> =
            row.iter().zip(&widths).map(|(cell, width)| format!("{cell:width$}")).collect();
        cells.join("  ").trim_end().to_owned() + "\n"
    };
    rows.iter().map(line).collect()
}

/// Lines that break between words.
pub fn wrapped(words: &str) -> String {
    hanging("", words)
}

/// The same behind a mark; the lines after the first begin where its words do.
pub fn hanging(mark: &str, words: &str) -> String {
    let margin = mark.chars().count();
    let mut text = mark.to_owned();
    let mut width = margin;
    for word in one_line(words).split(' ') {
        let letters = word.chars().count();
        if width > margin && width + 1 + letters > WIDTH {
            text.push('\n');
            text += &" ".repeat(margin);
            width = margin;
        } else if width > margin {
            text.push(' ');
            width += 1;
        }
        text += word;
        width += letters;
    }
    text + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up_and_names_cannot_break_them() {
        let mut table = Table::new("Water", ["chamber", "level"]);
        table.rows.push(vec!["a\nb".to_owned(), "1 mm".to_owned()]);
        table.notes.push("So it is.".to_owned());
        assert_eq!(table.text(), "Water\nchamber  level\na\u{fffd}b      1 mm\nSo it is.\n");
    }

    #[test]
    fn rows_that_are_too_wide_are_stacked() {
        let mut table = Table::new("Findings", ["about", "before", "after"]);
        table.rows.push(vec!["a.b".into(), "–".into(), "it does not fit ".repeat(9)]);
        let text = table.text_in_width();
        assert!(
            text.starts_with("Findings\nabout: a.b\n    before  –\n    after   it does not"),
            "{text}"
        );
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH));
        table.rows[0][2].truncate(8);
        assert_eq!(table.text_in_width(), table.text());
    }

    #[test]
    fn lines_hang_behind_their_mark() {
        let words = "raise it ".repeat(11);
        let first = format!("- {}raise", "raise it ".repeat(9));
        assert_eq!(hanging("- ", words.trim_end()), format!("{first}\n  it raise it\n"));
        assert!(first.len() <= WIDTH);
    }
}
