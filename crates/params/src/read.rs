use findings::Finding;
use serde::Deserialize;
use toml::de::DeValue;

use crate::syntax::{self, Parsed, Trust};
use crate::walk::{self, Walked};
use crate::{File, Spans, rules};

/// What reading a parameter file gives.
#[derive(Clone, Debug)]
pub struct Read {
    /// The file; `None` if a finding fails.
    pub file: Option<File>,
    /// Where each parameter stands.
    pub spans: Spans,
    /// All that is wrong with it, each with its place, in reading order.
    pub findings: Vec<Finding>,
}

/// A file has a few pages; what is longer is something else.
const LONGEST_FILE: usize = 1_000_000;
/// Whoever has more mistakes begins with these.
const MOST_FINDINGS: usize = 100;

/// Reads the text of a parameter file and checks all that can be checked without geometry.
///
/// It reports all mistakes, not only the first; where one mistake hides whether there is another,
/// that other is reported once the first is gone. It takes any text, and time in proportion to its length.
pub fn read(text: &str) -> Read {
    if text.len() > LONGEST_FILE {
        let message =
            format!("the file has {} bytes, but at most {LONGEST_FILE} are allowed", text.len());
        return Read {
            file: None,
            spans: Spans::default(),
            findings: vec![Finding::fails("too-long", "", message).at(0..0)],
        };
    }
    let Parsed { table, spans, findings: mut all, trust } = syntax::parse(text);
    if let Some(finding) =
        newer_format(table.get("format").map(|format| (format.get_ref(), format.span())))
    {
        return Read { file: None, spans, findings: vec![finding] };
    }
    let Walked { table, findings, gaps } = walk::walk(&table);
    let mut found = findings;
    let mut file = None;
    // What the walk has mended is of the right form.
    match File::deserialize(toml::Value::Table(table)) {
        Ok(read) => {
            if trust.is_whole {
                rules::check(&read, &gaps, &mut found);
            }
            file = Some(read);
        }
        Err(error) => found.push(disagreement(&error)),
    }
    for finding in &mut found {
        finding.span = finding.span.take().or_else(|| spans.get(&finding.parameter));
    }
    all.extend(found.into_iter().filter(|finding| is_trusted(finding, &trust)));
    all.sort_by(Finding::reading_order);
    all.dedup();
    let file = file.filter(|_| !all.iter().any(|finding| finding.grade == findings::Grade::Fails));
    cut(&mut all);
    Read { file, spans, findings: all }
}

fn newer_format(format: Option<(&DeValue<'_>, std::ops::Range<usize>)>) -> Option<Finding> {
    let (DeValue::Integer(written), span) = format? else { return None };
    let written: i64 = written.as_str().parse().ok()?;
    (written > 1).then(|| {
        let message = format!("the file has format {written}, but this sumpwright reads format 1");
        Finding::fails("newer-format", "format", message)
            .with_hint("read it with a newer sumpwright")
            .at(span)
    })
}

/// The schema and the types come from one source; if they ever disagree, the maker hears of it rather
/// than seeing a crash.
fn disagreement(error: &toml::de::Error) -> Finding {
    let message =
        format!("this file is right by its schema, but cannot be read: {}", error.message());
    Finding::fails("disagreement", "", message)
        .with_hint("this is a mistake of sumpwright; please report it with the file")
        .at(0..0)
}

/// Whether a finding is about the file, or only about what is left of it after wrong TOML.
fn is_trusted(finding: &Finding, trust: &Trust) -> bool {
    let Some(span) = &finding.span else { return trust.is_whole };
    (trust.is_whole || finding.code != "missing-key")
        && (span.end <= trust.until)
        && !trust.lines.iter().any(|line| syntax::is_within(span.start, line))
}

fn cut(findings: &mut Vec<Finding>) {
    let more = findings.len().saturating_sub(MOST_FINDINGS);
    if more > 0 {
        findings.truncate(MOST_FINDINGS);
        let message = format!("{more} more findings are not shown");
        findings.push(
            Finding::fails("more", "", message)
                .with_hint("begin with the first ones; one mistake can cause many")
                .at(0..0),
        );
    }
}
