//! The parameter file as text.

use std::ops::Range;

use serde::Serialize;

/// The text of a file, and what it is called.
#[derive(Debug)]
pub struct Source {
    /// Its path as the user gave it.
    pub name: String,
    /// What is in it.
    pub text: String,
}

/// A stretch of a file, as people count: lines and letters from 1. The end is the place behind the last letter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Stretch {
    /// Line of its first letter.
    pub line: usize,
    /// Its first letter in that line.
    pub column: usize,
    /// Line where it ends.
    pub end_line: usize,
    /// The place behind its last letter in that line.
    pub end_column: usize,
}

impl Source {
    /// Where bytes stand. Bytes beyond the end are taken as the end.
    pub fn stretch(&self, span: &Range<usize>) -> Stretch {
        let (line, column) = self.place(span.start);
        let (end_line, end_column) = self.place(span.end.max(span.start));
        Stretch { line, column, end_line, end_column }
    }

    /// The same bytes, cut to the text and to whole letters.
    pub fn whole_letters(&self, span: &Range<usize>) -> Range<usize> {
        let start = self.text.floor_char_boundary(span.start);
        let end = self.text.ceil_char_boundary(span.end.min(self.text.len()));
        start..end.max(start)
    }

    fn place(&self, byte: usize) -> (usize, usize) {
        let before = &self.text[..self.text.floor_char_boundary(byte)];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let line = before.bytes().filter(|byte| *byte == b'\n').count() + 1;
        (line, before[line_start..].chars().count() + 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_counted_in_letters() {
        let source = Source { name: "a.toml".into(), text: "a = 1\nöl = \"µ\"\n".into() };
        let at = source.text.find('µ').expect("there");
        let stretch = source.stretch(&(at..at + 2));
        assert_eq!(stretch, Stretch { line: 2, column: 7, end_line: 2, end_column: 8 });
        assert_eq!(source.place(1000), (3, 1));
    }

    #[test]
    fn half_letters_are_made_whole() {
        let source = Source { name: "a.toml".into(), text: "öl".into() };
        assert_eq!(source.whole_letters(&(1..1)), 0..2);
        assert_eq!(source.whole_letters(&(2..900)), 2..3);
        assert_eq!(source.whole_letters(&(900..901)), 3..3);
    }
}
