//! Edits of the file's text, told as whole lines.

use std::ops::Range;

use super::Kept;
use crate::edit::Edit;

/// Which lines of the file something goes to, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lines {
    /// In place of all from the first to the last of these.
    InPlaceOf([usize; 2]),
    /// Below this one, which stays.
    Below(usize),
}

impl Lines {
    /// The first and the last line that go: of none the last is the one before the first.
    pub fn replaced(self) -> [usize; 2] {
        match self {
            Self::InPlaceOf(lines) => lines,
            Self::Below(line) => [line + 1, line],
        }
    }

    /// `in place of a.toml:47`, `in place of a.toml:47 to 49`, `below a.toml:45`.
    pub fn words(self, file: &str) -> String {
        match self {
            Self::InPlaceOf([first, last]) if first == last => {
                format!("in place of {file}:{first}")
            }
            Self::InPlaceOf([first, last]) => format!("in place of {file}:{first} to {last}"),
            Self::Below(line) => format!("below {file}:{line}"),
        }
    }
}

/// The edits as whole lines, from the beginning of the text to its end. Edits of the same lines are told as one.
pub(super) fn as_lines(text: &str, mut edits: Vec<Edit>) -> Vec<Kept> {
    edits.sort_by_key(|edit| (edit.bytes.start, edit.bytes.end));
    let line_of = |byte: usize| text[..byte].matches('\n').count() + 1;
    let mut kept = Vec::new();
    // Edits within lines that overlap, and the bytes of these lines.
    let mut groups: Vec<(Range<usize>, Vec<Edit>)> = Vec::new();
    for edit in edits {
        if edit.is_line {
            let lines = Lines::Below(line_of(edit.bytes.start));
            let lines = Some(lines);
            kept.push(Kept { text: edit.new, parameters: vec![edit.parameter], lines });
            continue;
        }
        let start = text[..edit.bytes.start].rfind('\n').map_or(0, |at| at + 1);
        let end = text[edit.bytes.end..].find('\n').map_or(text.len(), |at| edit.bytes.end + at);
        match groups.last_mut() {
            Some((lines, group)) if start < lines.end => {
                lines.end = lines.end.max(end);
                group.push(edit);
            }
            _ => groups.push((start..end, vec![edit])),
        }
    }
    for (bytes, group) in groups {
        let mut new = String::new();
        let mut from = bytes.start;
        for edit in &group {
            new.push_str(&text[from..edit.bytes.start]);
            new.push_str(&edit.new);
            from = edit.bytes.end;
        }
        new.push_str(&text[from..bytes.end]);
        let lines = [bytes.start, bytes.end].map(line_of);
        kept.push(Kept {
            text: new.trim_end_matches('\r').to_owned(),
            parameters: group.into_iter().map(|edit| edit.parameter).collect(),
            lines: Some(Lines::InPlaceOf(lines)),
        });
    }
    kept.sort_by_key(|kept| match kept.lines {
        Some(Lines::InPlaceOf([line, _]) | Lines::Below(line)) => line,
        None => usize::MAX,
    });
    kept
}
