//! The text of a file with some of its settings changed.

use params::Spans;

use crate::edit::{Edit, Spot, applied, quoted};
use crate::reading::Reading;

/// A setting to change, as somebody wrote it: `box.outside.length = 1200`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// Path of the parameter. An item of a list may be told by its name: `along[planted].length`.
    pub parameter: String,
    /// Its new value, as TOML or as text: `1200`, `48 in`, `[45, 80]`.
    pub value: String,
}

/// A setting that was changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// Path of the parameter, with the numbers of items.
    pub parameter: String,
    /// What stood there, as it was written; `None` where the file left it out.
    pub before: Option<String>,
    /// What stands there now.
    pub after: String,
}

/// Why a setting cannot be changed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum NotChanged {
    /// No item of that list has that name.
    #[error("nothing in `{list}` is called `{name}`; it has {}", listed(there))]
    NoItem {
        /// The list.
        list: String,
        /// What was asked for.
        name: String,
        /// What there is.
        there: Vec<String>,
    },
    /// The file has neither the parameter nor its table.
    #[error("the file says nothing of `{0}`: write its table into the file first")]
    NoTable(String),
    /// It is a table or one of its items, not a setting.
    #[error("`{0}` holds several settings: name one of them, such as `{0}.{1}`")]
    IsTable(String, String),
    /// The same setting twice.
    #[error("`{0}` is set twice")]
    Twice(String),
}

fn listed(names: &[String]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    if names.is_empty() { "no items".to_owned() } else { fit::listed(&names) }
}

/// Changes settings in the text of a file; notes and all else stay as they are.
///
/// # Errors
/// When a setting is not there and cannot be put there.
pub fn changed(reading: &Reading, wanted: &[Wanted]) -> Result<(String, Vec<Changed>), NotChanged> {
    let (text, spans) = (&reading.source.text, &reading.spans);
    let (mut edits, mut changes) = (Vec::new(), Vec::<Changed>::new());
    let mut tables = String::new();
    for Wanted { parameter, value } in wanted {
        let parameter = numbered(text, spans, parameter)?;
        if changes.iter().any(|change| change.parameter == parameter) {
            return Err(NotChanged::Twice(parameter));
        }
        let child = format!("{parameter}.");
        if let Some(path) = spans.paths().find(|path| path.starts_with(&child)) {
            let key = path[child.len()..].split(['.', '[']).next().unwrap_or_default().to_owned();
            return Err(NotChanged::IsTable(parameter, key));
        }
        let key = parameter.rsplit_once('.').map_or(parameter.as_str(), |(_, key)| key);
        let value = as_toml(value);
        let before = if spans.contains(&parameter) {
            spans.get(&parameter).and_then(|bytes| text.get(bytes)).map(str::to_owned)
        } else {
            None
        };
        match (Spot::of(text, spans, &parameter), parameter.split_once('.')) {
            (Some(spot), _) => edits.push(Edit::new(&spot, parameter.clone(), key, &value)),
            // A table of the file's own that is not there yet: `cutting.tool`.
            (None, Some((table, key))) if is_bare(table) && is_bare(key) => {
                tables += &match tables.contains(&format!("[{table}]\n")) {
                    true => format!("{key} = {value}\n"),
                    false => format!("\n[{table}]\n{key} = {value}\n"),
                };
            }
            _ => return Err(NotChanged::NoTable(parameter)),
        }
        changes.push(Changed { parameter, before, after: value });
    }
    let mut text = applied(text, edits);
    if !tables.is_empty() && !text.ends_with('\n') {
        text.push('\n');
    }
    Ok((text + &tables, changes))
}

/// A key of one word.
fn is_bare(key: &str) -> bool {
    !key.is_empty() && key.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_')
}

/// A value as it stands in the file: as it is when it is TOML, else as text.
fn as_toml(value: &str) -> String {
    let value = value.trim();
    let is_toml = !value.contains('\n') && format!("v = {value}").parse::<toml::Table>().is_ok();
    if is_toml { value.to_owned() } else { quoted(value) }
}

/// The keys by which items of lists are called.
const NAMES: [&str; 6] = ["name", "chamber", "divider", "section", "pump", "side"];

/// A path with the numbers of its items: `along[planted].length` is `along[2].length`.
fn numbered(text: &str, spans: &Spans, path: &str) -> Result<String, NotChanged> {
    let mut done = String::new();
    let mut rest = path.trim();
    while let Some((before, (name, after))) =
        rest.split_once('[').and_then(|(before, rest)| Some((before, rest.split_once(']')?)))
    {
        done += before;
        let name = name.trim().trim_matches('"');
        if name.parse::<usize>().is_ok() {
            done = format!("{done}[{name}]");
        } else {
            let items = items(text, spans, &done);
            match items.iter().find(|(_, called)| called == name) {
                Some((n, _)) => done = format!("{done}[{n}]"),
                None => {
                    let there = items.into_iter().map(|(_, called)| called).collect();
                    return Err(NotChanged::NoItem { list: done, name: name.to_owned(), there });
                }
            }
        }
        rest = after;
    }
    Ok(done + rest)
}

/// The items of a list that have a name, each with its number.
fn items(text: &str, spans: &Spans, list: &str) -> Vec<(usize, String)> {
    let mut items = Vec::new();
    for n in 0.. {
        let item = format!("{list}[{n}]");
        if !spans.contains(&item) {
            break;
        }
        let name = NAMES.iter().find_map(|key| {
            let path = format!("{item}.{key}");
            let value = spans.contains(&path).then(|| spans.get(&path)).flatten()?;
            Some(text.get(value)?.trim_matches('"').to_owned())
        });
        items.extend(name.map(|name| (n, name)));
    }
    items
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Source;

    const TEXT: &str = include_str!("../../../params/seahorse.toml");

    fn with(wanted: &[(&str, &str)]) -> Result<(String, Vec<Changed>), NotChanged> {
        let source = Source { name: "a.toml".into(), text: TEXT.to_owned() };
        let wanted: Vec<Wanted> = wanted
            .iter()
            .map(|(parameter, value)| Wanted {
                parameter: (*parameter).to_owned(),
                value: (*value).to_owned(),
            })
            .collect();
        changed(&Reading::of(source), &wanted)
    }

    #[test]
    fn settings_change_and_all_else_stays() {
        let (text, changes) = with(&[
            ("box.outside.length", "1200"),
            ("along[inlet].length", "9 1/2 in"),
            ("report", "us"),
        ])
        .expect("changed");
        let expected = TEXT
            .replace("length = 1150", "length = 1200")
            .replace(
                "chamber = \"inlet\"\nlength = 220",
                "chamber = \"inlet\"\nlength = \"9 1/2 in\"",
            )
            .replace("report = \"metric\"", "report = \"us\"");
        assert_eq!(text, expected);
        let change = |n: usize| (changes[n].parameter.as_str(), changes[n].before.as_deref());
        assert_eq!(change(0), ("box.outside.length", Some("1150")));
        assert_eq!(change(1), ("along[0].length", Some("220")));
    }

    #[test]
    fn what_is_left_out_is_put_into_its_table_or_a_new_one() {
        let (text, changes) =
            with(&[("cutting.margin", "12"), ("reach.hand", "1"), ("reach.arm", "2")])
                .expect("put");
        assert!(text.contains("[cutting]\nmargin = 12\ntool = 6"), "{text}");
        assert!(text.ends_with("\n[reach]\nhand = 1\narm = 2\n"), "{text}");
        assert_eq!(changes[0].before, None);
    }

    #[test]
    fn what_cannot_be_set_is_said() {
        let refused = |parameter: &str| with(&[(parameter, "1")]).expect_err("refused").to_string();
        assert_eq!(
            refused("box.outside"),
            "`box.outside` holds several settings: name one of them, such as `box.outside.height`"
        );
        assert_eq!(
            refused("wall_fitting[drain].at"),
            "nothing in `wall_fitting` is called `drain`; it has `return line`"
        );
        assert_eq!(
            refused("leaf.fancy.crest.height"),
            "the file says nothing of `leaf.fancy.crest.height`: write its table into the file first"
        );
        let twice = with(&[("box.outside.length", "1"), ("box.outside.length", "2")]);
        assert_eq!(twice.expect_err("twice").to_string(), "`box.outside.length` is set twice");
    }
}
