//! Edits of the file's text, told as whole lines.

use std::ops::Range;

use params::Spans;

use super::Kept;

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

/// Where in the text a parameter is set, or can be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Spot {
    /// Bytes that its new value takes the place of; none where it is put in.
    bytes: Range<usize>,
    /// What stands before the key, `None` where the key stands already.
    lead: Option<String>,
    /// What stands behind the value.
    tail: &'static str,
    /// Whether it gets a line of its own, below the one with `bytes`.
    is_line: bool,
}

impl Spot {
    /// Where a parameter stands, or where its table leaves it out; `None` when the file says nothing around it.
    pub(super) fn of(text: &str, spans: &Spans, parameter: &str) -> Option<Self> {
        if spans.contains(parameter) {
            let bytes = spans.get(parameter)?;
            return Some(Self { bytes, lead: None, tail: "", is_line: false });
        }
        let (table, _) = parameter.rsplit_once('.')?;
        if !spans.contains(table) {
            return None;
        }
        let around = spans.get(table)?;
        let inside = text.get(around.clone())?;
        let at = |byte: usize, lead: String, is_line: bool| {
            Some(Self { bytes: byte..byte, lead: Some(lead), tail: "", is_line })
        };
        // The last thing that the table says.
        let last = spans.paths().filter(|path| is_child(path, table));
        let last = last.filter_map(|path| Some((spans.key(path)?, spans.get(path)?)));
        let last = last.max_by_key(|(key, _)| key.start);
        if inside.starts_with('{') {
            return match last {
                Some((_, value)) => at(value.end, ", ".to_owned(), false),
                None => Some(Self {
                    bytes: around,
                    lead: Some("{ ".to_owned()),
                    tail: " }",
                    is_line: false,
                }),
            };
        }
        if inside.starts_with('[') {
            return at(around.start, String::new(), true);
        }
        // Keys with dots: `door.lowest = 170`, in lines of their own or between braces.
        let (key, value) = last?;
        let before = text.get(..key.start)?;
        let dotted = before.rfind(['\n', '{', ',']).map_or(before, |from| &before[from + 1..]);
        let in_braces = before.get(..before.len() - dotted.len())?.ends_with(['{', ',']);
        let dotted = dotted.trim_start().to_owned();
        if in_braces {
            at(value.end, format!(", {dotted}"), false)
        } else {
            at(value.end, dotted, true)
        }
    }
}

/// Whether a path is that of something right in a table.
fn is_child(path: &str, table: &str) -> bool {
    let name = path.strip_prefix(table).and_then(|rest| rest.strip_prefix('.'));
    name.is_some_and(|name| !name.contains(['.', '[']))
}

/// Something to change in the text.
#[derive(Clone, Debug)]
pub(super) struct Edit {
    bytes: Range<usize>,
    new: String,
    is_line: bool,
    parameter: String,
}

impl Edit {
    /// Gives a parameter a value at its spot.
    pub(super) fn new(spot: &Spot, parameter: String, key: &str, value: &str) -> Self {
        let new = match &spot.lead {
            Some(lead) => format!("{lead}{key} = {value}{}", spot.tail),
            None => value.to_owned(),
        };
        Self { bytes: spot.bytes.clone(), new, is_line: spot.is_line, parameter }
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
