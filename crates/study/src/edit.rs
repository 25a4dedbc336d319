//! Edits of the file's text: only what changes is written anew, notes and all else stay.

use std::ops::Range;

use params::Spans;

/// Where in the text a parameter is set, or can be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Spot {
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
    pub(crate) fn of(text: &str, spans: &Spans, parameter: &str) -> Option<Self> {
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
pub(crate) struct Edit {
    /// Bytes that go.
    pub(crate) bytes: Range<usize>,
    /// What comes in their place.
    pub(crate) new: String,
    /// Whether it gets a line of its own, below the one with `bytes`.
    pub(crate) is_line: bool,
    /// What is set by it.
    pub(crate) parameter: String,
}

impl Edit {
    /// Gives a parameter a value at its spot.
    pub(crate) fn new(spot: &Spot, parameter: String, key: &str, value: &str) -> Self {
        let new = match &spot.lead {
            Some(lead) => format!("{lead}{key} = {value}{}", spot.tail),
            None => value.to_owned(),
        };
        Self { bytes: spot.bytes.clone(), new, is_line: spot.is_line, parameter }
    }
}

/// The text with these edits made. Of edits of the same place the later one stands below.
pub(crate) fn applied(text: &str, mut edits: Vec<Edit>) -> String {
    edits.sort_by_key(|edit| edit.bytes.start);
    let mut text = text.to_owned();
    for edit in edits.into_iter().rev() {
        if edit.is_line {
            let end =
                text[edit.bytes.end..].find('\n').map_or(text.len(), |at| edit.bytes.end + at);
            text.insert_str(end, &format!("\n{}", edit.new));
        } else {
            text.replace_range(edit.bytes, &edit.new);
        }
    }
    text
}

/// A name as a basic string of TOML.
pub(crate) fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace('\\', "\\\\").replace('"', "\\\""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_quoted() {
        assert_eq!(quoted(r#"a"b\c"#), r#""a\"b\\c""#);
    }

    #[test]
    fn only_what_changes_is_written_anew() {
        let text = "a = 1 # one\n[b] # two\nc = 2\n";
        let read = |parameter: &str| {
            Spot::of(text, &params::read(text).spans, parameter).expect("a place")
        };
        let edits = [("a", "a", "7"), ("b.c", "c", "\"8 in\""), ("b.d", "d", "9")];
        let edits =
            edits.map(|(path, key, value)| Edit::new(&read(path), path.to_owned(), key, value));
        let changed = applied(text, edits.to_vec());
        assert_eq!(changed, "a = 7 # one\n[b] # two\nd = 9\nc = \"8 in\"\n");
    }
}
