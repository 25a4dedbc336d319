//! One mistake of TOML, in the maker's words.

use std::ops::Range;

use findings::Finding;
use toml::de::Error;

use super::line_at;
use crate::spans::Spans;
use crate::words::{is_invisible, quoted};

/// How far a mistake reaches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reach {
    /// One value or key is not what was meant.
    Value,
    /// A line may be missing.
    Line,
    /// Nothing that follows can be trusted.
    All,
}

/// What was done wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    Duplicate,
    NotInQuotes,
    QuotesOpen,
    WrongCharacter,
    WrongEscape,
    WrongNumber,
    NoKeyAndValue,
    SomethingFollows,
    LineEnd,
    CommaTooMany,
    BracketOpen,
    TooDeep,
    Other,
}

/// The words of the `toml` crate, and what they mean. Words that are not here reach farthest.
const MEANINGS: [(&str, What); 33] = [
    ("duplicate key", What::Duplicate),
    ("string values must be quoted", What::NotInQuotes),
    ("invalid boolean", What::NotInQuotes),
    ("missing opening quote", What::NotInQuotes),
    ("invalid basic string, expected `\"`", What::QuotesOpen),
    ("invalid literal string, expected `'`", What::QuotesOpen),
    ("invalid basic string, expected '\"'", What::QuotesOpen),
    ("invalid literal string, expected '''", What::QuotesOpen),
    ("invalid basic string", What::WrongCharacter),
    ("invalid literal string", What::WrongCharacter),
    ("invalid comment character", What::WrongCharacter),
    ("missing escaped value", What::WrongEscape),
    ("too few unicode value digits", What::WrongEscape),
    ("unexpected leading zero", What::WrongNumber),
    ("invalid fraction", What::WrongNumber),
    ("invalid mantissa", What::WrongNumber),
    ("invalid exponent", What::WrongNumber),
    ("`_` may only go between digits", What::WrongNumber),
    ("key with no value", What::NoKeyAndValue),
    ("missing value for key", What::NoKeyAndValue),
    ("invalid unquoted key", What::NoKeyAndValue),
    ("unquoted keys cannot be empty", What::NoKeyAndValue),
    ("extra `=`", What::NoKeyAndValue),
    ("unexpected key or value", What::SomethingFollows),
    ("unexpected content", What::SomethingFollows),
    ("carriage return must", What::LineEnd),
    ("extra comma", What::CommaTooMany),
    ("unclosed", What::BracketOpen),
    ("missing comma", What::BracketOpen),
    ("unexpected `=` in array", What::BracketOpen),
    ("missing key for inline table element", What::BracketOpen),
    ("cannot recurse further", What::TooDeep),
    ("recursion limit", What::TooDeep),
];

/// A mistake, as the parser found it.
pub(super) struct Mistake<'a> {
    what: What,
    /// What the parser said.
    said: &'a str,
    pub(super) span: Range<usize>,
}

/// Message and hint.
type Words = (String, Option<String>);

impl<'a> Mistake<'a> {
    pub(super) fn of(error: &'a Error, text: &str) -> Self {
        let said = error.message();
        let what = MEANINGS
            .iter()
            .find(|(words, _)| said.starts_with(words))
            .map_or(What::Other, |(_, what)| *what);
        Self { what, said, span: error.span().unwrap_or(text.len()..text.len()) }
    }

    pub(super) fn too_deep(at: usize) -> Self {
        Self { what: What::TooDeep, said: "", span: at..at + 1 }
    }

    pub(super) fn is_duplicate(&self) -> bool {
        self.what == What::Duplicate
    }

    pub(super) fn reach(&self) -> Reach {
        use What::{BracketOpen, LineEnd, NoKeyAndValue, Other, SomethingFollows, TooDeep};
        match self.what {
            BracketOpen | TooDeep | Other => Reach::All,
            NoKeyAndValue | SomethingFollows | LineEnd => Reach::Line,
            _ => Reach::Value,
        }
    }

    pub(super) fn finding(&self, text: &str, spans: &Spans) -> Finding {
        let code = if self.is_duplicate() { "duplicate-key" } else { "syntax" };
        let (message, hint) = self.words(text, spans);
        let mut finding = Finding::fails(code, "", message).at(self.shown(text));
        finding.hint = hint;
        finding
    }

    fn words(&self, text: &str, spans: &Spans) -> Words {
        let plain = |message: &str, hint: &str| (message.to_owned(), Some(hint.to_owned()));
        match self.what {
            What::Duplicate => self.duplicate(text, spans),
            What::NotInQuotes => not_in_quotes(value_around(text, &self.span)),
            What::QuotesOpen => {
                plain("the quotes are not closed", "put a quote at the end of the text")
            }
            What::WrongCharacter => {
                let c = text[self.span.start..].chars().next().filter(|c| is_invisible(*c));
                let which = c.map_or(String::new(), |c| format!(", U+{:04X}", u32::from(c)));
                (format!("there is an invisible character{which}"), Some("delete it".to_owned()))
            }
            What::WrongEscape => plain(
                "`\\` is not followed by what may follow it",
                "write `\\\\` for the character itself",
            ),
            What::WrongNumber => wrong_number(value_around(text, &self.span)),
            What::NoKeyAndValue => self.no_key_and_value(text),
            What::SomethingFollows => self.something_follows(text),
            What::LineEnd => plain(
                "the line ends as on very old machines",
                "save the file with line ends LF or CRLF",
            ),
            What::CommaTooMany => plain("there is a comma too many", "delete it"),
            What::BracketOpen => self.bracket_open(),
            What::TooDeep => plain(
                "brackets lie too deep in brackets",
                "nothing in this file needs more than a few",
            ),
            What::Other => (self.said.to_owned(), None),
        }
    }

    fn duplicate(&self, text: &str, spans: &Spans) -> Words {
        let key = text.get(self.span.clone()).unwrap_or_default();
        let line = text[line_at(text, self.span.start)].trim_end();
        let in_list = format!("[{line}]");
        let (first, hint) = if line.starts_with("[[") {
            (None, "this name is taken by a table; all of a list are in double brackets".to_owned())
        } else if line.starts_with('[') && text.contains(&in_list) {
            (
                text.find(&in_list),
                format!("write {}, in double brackets, for one more", quoted(&in_list)),
            )
        } else if line.starts_with('[') {
            (text.find(line), "put its keys into the first, or give it another name".to_owned())
        } else {
            let section = text[..self.span.start].rfind("\n[").unwrap_or(0);
            let keys = spans.keys().filter(|span| text.get(span.start..span.end) == Some(key));
            (
                keys.map(|span| span.start)
                    .filter(|at| (section..self.span.start).contains(at))
                    .max(),
                "delete one of the two".to_owned(),
            )
        };
        let first = first.filter(|first| *first < line_at(text, self.span.start).start);
        let first = first.map_or(String::new(), |first| {
            format!(", first in line {}", text[..first].matches('\n').count() + 1)
        });
        (format!("{} is given twice{first}", quoted(key)), Some(hint))
    }

    fn no_key_and_value(&self, text: &str) -> Words {
        let line = text[line_at(text, self.span.start)].trim();
        let hint = if line.starts_with("//") || line.starts_with(';') {
            "a note begins with `#`"
        } else {
            "write a key, `=` and its value; a key has only letters, digits, `-` and `_`, or stands in quotes"
        };
        ("this is not a key with a value".to_owned(), Some(hint.to_owned()))
    }

    fn something_follows(&self, text: &str) -> Words {
        let rest = &text[self.span.start..line_at(text, self.span.start).end];
        let before = &text[line_at(text, self.span.start).start..self.span.start];
        let hint = if rest.starts_with(',') && before.ends_with(|c: char| c.is_ascii_digit()) {
            "write a point before decimals, as in `7.5`"
        } else if before.ends_with('"') || rest.starts_with('"') || before.matches('"').count() > 1
        {
            "a text with a `\"` in it stands in single quotes, as in `'7 7/8\"'`"
        } else {
            "write one key with one value on a line, and a note after `#`"
        };
        ("something follows that does not belong to the value".to_owned(), Some(hint.to_owned()))
    }

    fn bracket_open(&self) -> Words {
        let closing = match self.said {
            said if said.contains("array table") => "`]]` is",
            said if said.contains("array") => "`]` or `,` is",
            said if said.contains("inline table") || said.contains("key-value pairs") => {
                "`}` or `,` is"
            }
            _ => "`]` is",
        };
        (format!("{closing} missing after this; what follows cannot be read"), None)
    }

    /// An empty place cannot be underlined: takes in the character behind it, or the last before it. A
    /// missing bracket is missing after the last thing before the place.
    fn shown(&self, text: &str) -> Range<usize> {
        let before = || {
            let last = text[..self.span.start].trim_end().char_indices().next_back();
            last.map_or(self.span.clone(), |(at, c)| at..at + c.len_utf8())
        };
        if self.what == What::BracketOpen {
            return before();
        }
        if !self.span.is_empty() {
            return self.span.clone();
        }
        let line = line_at(text, self.span.start);
        let next = text[self.span.start..line.end].chars().next();
        next.map_or_else(before, |next| self.span.start..self.span.start + next.len_utf8())
    }
}

fn not_in_quotes(value: &str) -> Words {
    if value.is_empty() {
        return ("the value is missing".to_owned(), Some("write it after the `=`".to_owned()));
    }
    if let lower @ ("true" | "false") = value.to_lowercase().as_str() {
        return (
            format!("{} is written otherwise", quoted(value)),
            Some(format!("write `{lower}`")),
        );
    }
    if let Some((yes_or_no, is_yes)) = said_otherwise(value) {
        return (
            format!("{} is written otherwise", quoted(yes_or_no)),
            Some(format!("write `{is_yes}`")),
        );
    }
    // `width = 8 gap = 6`: what looks like a text runs into the next key.
    if value.split_whitespace().count() == 2 && value.starts_with(|c: char| c.is_ascii_digit()) {
        let (number, rest) = value.split_once(char::is_whitespace).unwrap_or((value, ""));
        let rest = rest.trim();
        let is_number = number.parse::<f64>().is_ok_and(f64::is_finite);
        let is_key = rest.chars().all(|c| c.is_ascii_alphanumeric() || c == '_');
        if is_number && is_key && !is_unit(rest) {
            return (
                format!("a comma is missing between `{number}` and `{rest}`"),
                Some(format!("write `{number}, {rest} = …`")),
            );
        }
    }
    let message = format!("{} must stand in quotes", quoted(value));
    let bare = value.trim_matches(|c: char| c.is_whitespace() || "“”„‟‘’'".contains(c));
    let quotes = if bare.contains('"') { '\'' } else { '"' };
    let is_fit_to_show = bare.len() < 60 && !bare.contains(is_invisible);
    (message, is_fit_to_show.then(|| format!("write `{quotes}{bare}{quotes}`")))
}

/// A yes or no in other words than `true` and `false`.
fn said_otherwise(value: &str) -> Option<(&str, bool)> {
    match value.to_lowercase().as_str() {
        "yes" | "on" | "y" => Some((value, true)),
        "no" | "off" | "n" => Some((value, false)),
        _ => None,
    }
}

/// Whether a word is a unit of any quantity: then its number forgot its quotes.
fn is_unit(word: &str) -> bool {
    units::Kind::all().iter().any(|kind| kind.spellings().any(|known| known == word))
}

fn wrong_number(value: &str) -> Words {
    let mut right = value.trim_start_matches('0').to_owned();
    if right.starts_with('.') || right.is_empty() {
        right.insert(0, '0');
    }
    if right.ends_with('.') {
        right.push('0');
    }
    let is_right =
        value.len() < 60 && right.parse::<f64>().is_ok_and(f64::is_finite) && right != value;
    (
        format!("{} is not how a number is written here", quoted(value)),
        is_right.then(|| format!("write `{right}`")),
    )
}

/// The value that a place in it belongs to: from the `=`, comma or bracket before to the one after.
fn value_around<'a>(text: &'a str, span: &Range<usize>) -> &'a str {
    let line = line_at(text, span.start);
    let is_end = |c: char| matches!(c, '=' | ',' | '[' | ']' | '{' | '}' | '#');
    let start =
        text[line.start..span.start].rfind(is_end).map_or(line.start, |at| line.start + at + 1);
    let end = text[span.end.min(line.end)..line.end]
        .find(is_end)
        .map_or(line.end, |at| span.end.min(line.end) + at);
    text[start..end.max(start)].trim()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_found_from_a_place_in_it() {
        let text = "a = { b = 08, c = 7 7/8\" } # note";
        assert_eq!(value_around(text, &(11..11)), "08");
        assert_eq!(value_around(text, &(20..20)), "7 7/8\"");
    }

    #[test]
    fn numbers_are_put_right() {
        for (wrong, right) in
            [("08", "8"), ("8.", "8.0"), (".5", "0.5"), ("0.", "0.0"), ("00", "0")]
        {
            assert_eq!(wrong_number(wrong).1, Some(format!("write `{right}`")));
        }
        assert_eq!(wrong_number("1__0").1, None);
    }
}
