//! The parameter file as text.

use std::fs;
use std::io::Read;
use std::ops::Range;
use std::path::Path;

use anyhow::{Context, bail};
use serde::Serialize;

/// A parameter file is a few pages long; what is longer than this is something else.
const MOST_BYTES: u64 = 1 << 20;

/// The text of a file, and what it is called.
#[derive(Debug)]
pub(crate) struct Source {
    /// Its path as the user gave it.
    pub(crate) name: String,
    /// What is in it.
    pub(crate) text: String,
}

/// A stretch of a file, as people count: lines and letters from 1. The end is the place behind the last letter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub(crate) struct Stretch {
    pub(crate) line: usize,
    pub(crate) column: usize,
    pub(crate) end_line: usize,
    pub(crate) end_column: usize,
}

impl Source {
    /// Reads a file.
    ///
    /// # Errors
    /// When it is not there, is no text in UTF-8, or is far too long.
    pub(crate) fn read(path: &Path) -> anyhow::Result<Self> {
        let name = path.display().to_string();
        let file = fs::File::open(path).with_context(|| format!("cannot read `{name}`"))?;
        let mut bytes = Vec::new();
        file.take(MOST_BYTES + 1)
            .read_to_end(&mut bytes)
            .with_context(|| format!("cannot read `{name}`"))?;
        if bytes.len() as u64 > MOST_BYTES {
            bail!("`{name}` is longer than {} kB; it is no parameter file", MOST_BYTES / 1024);
        }
        let text = String::from_utf8(bytes).map_err(|error| {
            let good = error.utf8_error().valid_up_to();
            let line = error.as_bytes()[..good].iter().filter(|byte| **byte == b'\n').count() + 1;
            anyhow::anyhow!("`{name}` is not text in UTF-8: line {line}; save it as UTF-8")
        })?;
        Ok(Self { name, text })
    }

    /// Where bytes stand. Bytes beyond the end are taken as the end.
    pub(crate) fn stretch(&self, span: &Range<usize>) -> Stretch {
        let (line, column) = self.place(span.start);
        let (end_line, end_column) = self.place(span.end.max(span.start));
        Stretch { line, column, end_line, end_column }
    }

    /// The same bytes, cut to the text and to whole letters.
    pub(crate) fn whole_letters(&self, span: &Range<usize>) -> Range<usize> {
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
