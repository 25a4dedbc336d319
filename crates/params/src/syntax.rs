//! A file as TOML, right or wrong: what can be read of it, and how far that can be trusted.

mod depth;
mod mistake;

use std::ops::Range;

use findings::Finding;
use toml::de::DeTable;

use crate::spans::Spans;
use mistake::{Mistake, Reach};

/// A file as far as it is TOML.
#[derive(Debug)]
pub(crate) struct Parsed<'a> {
    pub(crate) table: DeTable<'a>,
    pub(crate) spans: Spans,
    /// What is wrong, in the order of the file.
    pub(crate) findings: Vec<Finding>,
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

/// Whoever has more mistakes begins with these.
const MOST_MISTAKES: usize = 100;

/// Parses a text, whether it is TOML or not.
pub(crate) fn parse(text: &str) -> Parsed<'_> {
    if let Some(at) = depth::too_deep(text) {
        return nothing(Mistake::too_deep(at).finding(text, &Spans::default()));
    }
    let error = match DeTable::parse(text) {
        Ok(table) => {
            let table = table.into_inner();
            let trust = Trust { until: text.len(), is_whole: true, lines: Vec::new() };
            return Parsed { spans: Spans::of(&table), table, findings: Vec::new(), trust };
        }
        Err(error) => error,
    };
    if text.len() > LONGEST_WITH_ALL_MISTAKES {
        return nothing(Mistake::of(&error, text).finding(text, &Spans::default()));
    }
    let (table, errors) = DeTable::parse_recoverable(text);
    let table = table.into_inner();
    let spans = Spans::of(&table);
    let mut mistakes: Vec<_> = errors.iter().map(|error| Mistake::of(error, text)).collect();
    mistakes.sort_by_key(|mistake| mistake.span.start);
    let (findings, trust) = reported(&mistakes, text, &spans);
    Parsed { table, spans, findings, trust }
}

/// A file of which nothing can be said but one thing.
fn nothing(finding: Finding) -> Parsed<'static> {
    let trust = Trust { until: 0, is_whole: false, lines: Vec::new() };
    Parsed { table: DeTable::new(), spans: Spans::default(), findings: vec![finding], trust }
}

/// One finding for each mistake, up to the one after which nothing can be trusted.
fn reported(mistakes: &[Mistake<'_>], text: &str, spans: &Spans) -> (Vec<Finding>, Trust) {
    let mut findings = Vec::new();
    let mut trust = Trust { until: text.len(), is_whole: true, lines: Vec::new() };
    let mut section_twice = 0..0;
    for mistake in mistakes {
        if mistake.is_duplicate() && section_twice.contains(&mistake.span.start) {
            continue; // All keys of a table that is there twice may be, too.
        }
        trust.is_whole &= mistake.reach() == Reach::Value;
        // The parser may stumble over one mistake more than once.
        if !trust.lines.last().is_some_and(|last| is_within(mistake.span.start, last)) {
            let line = line_at(text, mistake.span.start);
            findings.push(mistake.finding(text, spans));
            if mistake.is_duplicate() && text[line.clone()].starts_with('[') {
                let next = text[line.end..].find("\n[");
                section_twice = line.end..next.map_or(text.len(), |next| line.end + next);
            }
            trust.lines.push(line);
        }
        if mistake.reach() == Reach::All || findings.len() == MOST_MISTAKES {
            trust.is_whole = false;
            trust.until = mistake.span.start;
            break;
        }
    }
    (findings, trust)
}

/// Whether a byte is in a line, or is its end.
pub(crate) fn is_within(at: usize, line: &Range<usize>) -> bool {
    line.start <= at && at <= line.end
}

/// The line that a byte stands in, without its end.
fn line_at(text: &str, at: usize) -> Range<usize> {
    let at = at.min(text.len());
    let start = text.as_bytes()[..at].iter().rposition(|b| *b == b'\n').map_or(0, |end| end + 1);
    let end =
        text.as_bytes()[at..].iter().position(|b| *b == b'\n').map_or(text.len(), |end| at + end);
    start..end
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
}
