//! What is wrong with a file as TOML, in the maker's words.

use std::ops::Range;

use findings::Finding;
use toml::de::{DeTable, Error};

use crate::spans::Spans;
use crate::words::quoted;

/// A file as far as it is TOML.
#[derive(Debug)]
pub(crate) struct Parsed<'a> {
    pub(crate) table: DeTable<'a>,
    pub(crate) spans: Spans,
    /// What is wrong, in the order of the file.
    pub(crate) findings: Vec<Finding>,
    /// How much of the file the table can be trusted for.
    pub(crate) trust: Trust,
}

/// How much a table that was recovered from wrong TOML says about the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Trust {
    /// Where the file stops making sense: a bracket that is never closed swallows all that follows.
    pub(crate) until: usize,
    /// Whether all before that place is in the table, though a value may be another than was meant.
    pub(crate) is_whole: bool,
    /// Lines with a mistake; what else is wrong with them is likely the same mistake.
    pub(crate) lines: Vec<Range<usize>>,
}

/// Wrong files that are longer are told only their first mistake: a megabyte of rubbish would need
/// a hundred times its room for messages.
const LONGEST_WITH_ALL_MISTAKES: usize = 100_000;

/// Parses a text, whether it is TOML or not.
pub(crate) fn parse(text: &str) -> Parsed<'_> {
    let (table, errors) = match DeTable::parse(text) {
        Ok(table) => (table.into_inner(), Vec::new()),
        Err(error) if text.len() > LONGEST_WITH_ALL_MISTAKES => (DeTable::new(), vec![error]),
        Err(_) => {
            let (table, errors) = DeTable::parse_recoverable(text);
            (table.into_inner(), errors)
        }
    };
    let spans = Spans::of(&table);
    let mut trust = Trust { until: text.len(), is_whole: true, lines: Vec::new() };
    let mut findings: Vec<Finding> = Vec::new();
    let mut errors: Vec<_> = errors.iter().map(|error| Mistake::of(error, text)).collect();
    errors.sort_by_key(|mistake| mistake.span.start);
    for mistake in errors {
        let line = line_at(text, mistake.span.start);
        // The parser may stumble twice over one mistake.
        if trust.lines.last() != Some(&line) {
            findings.push(mistake.finding(text, &spans));
            trust.lines.push(line);
        }
        trust.is_whole &= mistake.reach == Reach::Value;
        if mistake.reach == Reach::All {
            trust.until = mistake.span.start;
            break;
        }
    }
    if text.len() > LONGEST_WITH_ALL_MISTAKES && !findings.is_empty() {
        trust = Trust { until: 0, is_whole: false, ..trust };
    }
    Parsed { table, spans, findings, trust }
}

/// How far a mistake reaches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Reach {
    /// One value or key is not what was meant.
    Value,
    /// A line is not in the table.
    Line,
    /// Nothing that follows can be trusted.
    All,
}

struct Mistake<'a> {
    said: &'a str,
    span: Range<usize>,
    reach: Reach,
}

impl<'a> Mistake<'a> {
    fn of(error: &'a Error, text: &str) -> Self {
        let said = error.message();
        let span = error.span().unwrap_or(text.len()..text.len());
        let starts =
            |beginnings: &[&str]| beginnings.iter().any(|beginning| said.starts_with(beginning));
        // The words are those of the `toml` crate; words that are not known here reach farthest.
        let reach = if starts(&[
            "string values must",
            "duplicate key",
            "invalid boolean",
            "unexpected leading zero",
            "invalid fraction",
            "invalid mantissa",
            "missing escaped value",
            "missing opening quote",
            "unquoted keys cannot",
            "invalid unquoted key",
        ]) {
            Reach::Value
        } else if starts(&[
            "key with no value",
            "unexpected key or value",
            "unclosed table",
            "cannot extend value",
            "carriage return must",
        ]) {
            Reach::Line
        } else {
            Reach::All
        };
        Self { said, span, reach }
    }

    fn finding(&self, text: &str, spans: &Spans) -> Finding {
        let (code, message, hint) = self.words(text, spans);
        let mut finding = Finding::fails(code, "", message).at(shown(text, &self.span));
        finding.hint = hint;
        finding
    }

    fn words(&self, text: &str, spans: &Spans) -> (&'static str, String, Option<String>) {
        let at = text.get(self.span.clone()).unwrap_or_default();
        let rest = &text[self.span.start..line_at(text, self.span.start).end];
        let is = |beginning: &str| self.said.starts_with(beginning);
        let hint = |hint: &str| Some(hint.to_owned());
        if is("duplicate key") {
            let first = first_place(at, self.span.start, text, spans);
            let message = format!("{} is given twice{first}", quoted(at));
            return (
                "duplicate-key",
                message,
                hint(
                    "delete one of the two; items of a list have a header in double brackets each",
                ),
            );
        }
        if is("string values must") {
            let bare = at.trim_matches(|c: char| c.is_whitespace() || "“”„‟\"‘’'".contains(c));
            return (
                "syntax",
                format!("{} must stand in quotes", quoted(at)),
                Some(format!("write {}", in_quotes(bare))),
            );
        }
        if is("missing opening quote") {
            let value = &text[value_start(text, self.span.start)..self.span.end];
            let value = format!("{value}{}", rest.trim_end());
            return (
                "syntax",
                format!("{} must stand in quotes", quoted(&value)),
                Some(format!("write {}", in_quotes(&value))),
            );
        }
        if is("key with no value") || is("invalid unquoted key") {
            let line = text[line_at(text, self.span.start)].trim();
            let note = if line.starts_with("//") || line.starts_with(';') {
                "a note begins with `#`"
            } else {
                "write a key, `=` and its value; a key has only letters, digits, `-` and `_`, or stands in quotes"
            };
            return ("syntax", "this line is no key with a value".to_owned(), hint(note));
        }
        if is("unexpected key or value") {
            let note = if rest.starts_with(',') {
                "write a point before decimals, as in `7.5`"
            } else {
                "write one key with one value on a line; text stands in quotes, and a quote within it as `\\\"`"
            };
            return (
                "syntax",
                "something follows that does not belong to the value".to_owned(),
                hint(note),
            );
        }
        if is("unclosed") {
            return (
                "syntax",
                format!("{}: nothing after this can be read", self.said),
                hint("close the bracket"),
            );
        }
        if is("carriage return must") {
            return (
                "syntax",
                "the line ends as on very old machines".to_owned(),
                hint("save the file with line ends LF or CRLF"),
            );
        }
        ("syntax", self.said.to_owned(), None)
    }
}

/// Where a key was given first, if that is plain to see.
fn first_place(key: &str, second: usize, text: &str, spans: &Spans) -> String {
    let section = text[..second].rfind("\n[").map_or(0, |header| header + 1);
    let is_header = text[..second].ends_with('[');
    let first = if is_header {
        let line = text[line_at(text, second)].trim_end();
        text[..section.min(second)].find(&format!("{line}\n"))
    } else {
        spans
            .keys()
            .filter(|span| {
                (section..second).contains(&span.start)
                    && text.get(span.start..span.end) == Some(key)
            })
            .map(|span| span.start)
            .max()
    };
    first.map_or(String::new(), |first| {
        format!(", first in line {}", text[..first].matches('\n').count() + 1)
    })
}

/// The line that a byte stands in, without its end.
fn line_at(text: &str, at: usize) -> Range<usize> {
    let at = at.min(text.len());
    let start = text.as_bytes()[..at].iter().rposition(|b| *b == b'\n').map_or(0, |end| end + 1);
    let end =
        text.as_bytes()[at..].iter().position(|b| *b == b'\n').map_or(text.len(), |end| at + end);
    start..end
}

/// An empty place cannot be underlined: takes in the character behind it, or the last of the line.
fn shown(text: &str, span: &Range<usize>) -> Range<usize> {
    if !span.is_empty() || text.is_empty() {
        return span.clone();
    }
    let line = line_at(text, span.start);
    let next = text[span.start..line.end].chars().next();
    let last = text[line.start..span.start].chars().next_back();
    match (next, last) {
        (Some(next), _) => span.start..span.start + next.len_utf8(),
        (None, Some(last)) => span.start - last.len_utf8()..span.start,
        (None, None) => span.clone(),
    }
}

fn value_start(text: &str, at: usize) -> usize {
    let line = line_at(text, at);
    let before = &text[line.start..at];
    let after_equals = before.rfind('=').map_or(0, |equals| equals + 1);
    line.start
        + after_equals
        + (before[after_equals..].len() - before[after_equals..].trim_start().len())
}

/// `"8 mm"`; `'36"'` where the text has a quote of its own.
fn in_quotes(text: &str) -> String {
    if text.contains('"') { format!("`'{text}'`") } else { format!("`\"{text}\"`") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_found_from_any_of_its_bytes() {
        let text = "ab\n\ncd";
        for (at, line) in [(0, 0..2), (2, 0..2), (3, 3..3), (4, 4..6), (6, 4..6), (99, 4..6)] {
            assert_eq!(line_at(text, at), line, "{at}");
        }
    }

    #[test]
    fn an_empty_place_takes_in_a_character() {
        assert_eq!(shown("é", &(2..2)), 0..2);
        assert_eq!(shown("aé", &(1..1)), 1..3);
        assert_eq!(shown("\n", &(0..0)), 0..0);
    }
}
