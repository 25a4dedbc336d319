//! What was asked for on the command line: kinds and their measures.

use std::path::Path;

use anyhow::{Context, bail};
use fittings::{KINDS, Kind, Measure, Of};
use study::in_flow::name_hint;

use super::options::length;
use crate::args::FittingsArgs;

/// A kind and the measures that were given for it.
#[derive(Debug)]
pub(super) struct Asked {
    pub(super) kind: &'static Kind,
    pub(super) given: Vec<(&'static str, f64)>,
}

/// Kinds with the measures behind each, in the order given.
///
/// # Errors
/// A word that is no kind, a measure before any kind, of another kind, given twice, or that cannot be read.
pub(super) fn asked(args: &FittingsArgs) -> anyhow::Result<Vec<Asked>> {
    let mut all: Vec<Asked> = Vec::new();
    refuse_blanks(&args.what)?;
    for (index, word) in args.what.iter().enumerate() {
        if is_file(word) {
            if !Path::new(word).exists() {
                bail!("there is no file `{word}`");
            }
            bail!(
                "`{word}` is a parameter file, and a file stands first: `sumpwright fittings {word}` tells what is printed for its sump"
            );
        }
        match (word.split_once('='), all.last_mut()) {
            (None, last) => {
                let measure = last.and_then(|asked| asked.measure(word));
                if let (Err(_), Some(measure)) = (kind(word), measure) {
                    let value = args.what.get(index + 1).filter(|next| begins_with_digit(next));
                    let value = value.map_or("VALUE", String::as_str);
                    bail!("`{word}` is a measure; write it as `{}={value}`", measure.name);
                }
                all.push(Asked { kind: kind(word)?, given: Vec::new() });
            }
            (Some(_), None) => bail!(
                "`{word}` stands before any kind; write the kind first, as in `pipe-clip {word}`"
            ),
            (Some((name, value)), Some(asked)) => {
                let kind = asked.kind;
                let given = given(kind, name.trim(), value.trim())
                    .with_context(|| format!("cannot make a `{}` with `{word}`", kind.name))?;
                if asked.given.iter().any(|(name, _)| *name == given.0) {
                    bail!("`{}` is given twice for `{}`", given.0, kind.name);
                }
                asked.given.push(given);
            }
        }
    }
    refuse_what_does_not_count(&all)?;
    Ok(all)
}

impl Asked {
    /// A measure of its kind.
    pub(super) fn measure(&self, name: &str) -> Option<&'static Measure> {
        self.kind.measures.iter().find(|measure| measure.name == name)
    }

    /// What was given for a measure of this name.
    pub(super) fn given(&self, name: &str) -> Option<f64> {
        self.given.iter().find(|(other, _)| *other == name).map(|(_, value)| *value)
    }

    /// Whether a measure counts, by the choices that were made.
    pub(super) fn counts(&self, measure: &Measure) -> bool {
        self.kind.counts(measure, &self.given)
    }
}

/// `pipe = 32` comes as three words, and as two where the blank is on one side.
fn refuse_blanks(words: &[String]) -> anyhow::Result<()> {
    let Some(at) = words.iter().position(|word| word.starts_with('=') || word.ends_with('='))
    else {
        return Ok(());
    };
    let word = words[at].as_str();
    let before = words[..at].last().filter(|_| word.starts_with('='));
    let after = words.get(at + 1).filter(|_| word.ends_with('='));
    let all: Vec<&str> = before
        .map(String::as_str)
        .into_iter()
        .chain([word])
        .chain(after.map(String::as_str))
        .collect();
    if !all
        .concat()
        .split_once('=')
        .is_some_and(|(name, value)| !name.is_empty() && !value.is_empty())
    {
        bail!("`{word}`: write a measure and its value, as in `pipe=32`");
    }
    bail!("`{}`: write measure and value without blanks, `{}`", all.join(" "), all.concat())
}

fn begins_with_digit(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_digit())
}

/// A measure that was given although a choice leaves it out.
///
/// # Errors
/// When there is one, with the choice to make.
fn refuse_what_does_not_count(all: &[Asked]) -> anyhow::Result<()> {
    for asked in all {
        let measures = asked.kind.measures.iter();
        let mut idle = measures.filter(|m| asked.given(m.name).is_some() && !asked.counts(m));
        if let Some(Measure { name, only: Some((choice, is_made)), .. }) = idle.next() {
            let is = if *is_made { "yes" } else { "no" };
            bail!(
                "cannot make a `{}`: `{name}` counts only with `{choice}={is}`; write that too, or leave `{name}` out",
                asked.kind.name
            );
        }
    }
    Ok(())
}

/// Whether a word is a parameter file, by its ending, because it is a path, or because there is one and no kind of that
/// name.
pub(super) fn is_file(word: &str) -> bool {
    let path = Path::new(word);
    let is_path =
        word.contains(std::path::MAIN_SEPARATOR) && !word.contains('=') && !begins_with_digit(word);
    is_path
        || path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("toml"))
        || (kind(word).is_err() && path.is_file())
}

fn kind(name: &str) -> anyhow::Result<&'static Kind> {
    // Names are told with a hyphen; a space or an underline between words is meant as one.
    let plain = name.trim().to_lowercase().replace([' ', '_'], "-");
    let Some(kind) = Kind::named(&plain) else {
        let known: Vec<String> = KINDS.iter().map(|kind| kind.name.to_owned()).collect();
        bail!("no fitting is called `{name}`; {}", name_hint(&plain, &known));
    };
    Ok(kind)
}

fn given(kind: &Kind, name: &str, value: &str) -> anyhow::Result<(&'static str, f64)> {
    let Some(measure) = kind.measures.iter().find(|measure| measure.name == name) else {
        let known: Vec<String> = kind.measures.iter().map(|m| m.name.to_owned()).collect();
        bail!("it has no measure `{name}`; {}", name_hint(name, &known));
    };
    let number = |text: &str| text.parse::<f64>().ok().filter(|number| number.is_finite());
    let read = match measure.of {
        Of::Mm => return Ok((measure.name, length(value).map_err(anyhow::Error::msg)?.to_mm())),
        Of::Count => number(value),
        Of::Degrees => number(value.trim_end_matches("deg").trim_end_matches('°').trim_end()),
        Of::Screw => number(value.trim_start_matches(['M', 'm'])),
        Of::Choice => match value.to_lowercase().as_str() {
            "yes" | "1" | "true" => Some(1.0),
            "no" | "0" | "false" => Some(0.0),
            _ => None,
        },
    };
    let such = match measure.of {
        Of::Mm | Of::Count => "a number such as `4`",
        Of::Degrees => "an angle in degrees such as `110`",
        Of::Screw => "a metric screw such as `M5`",
        Of::Choice => "`yes` or `no`",
    };
    let number = read.with_context(|| format!("`{value}` is no value for it; write {such}"))?;
    Ok((measure.name, number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_read_by_what_they_count() {
        let clip = Kind::named("pipe-clip").expect("there");
        assert_eq!(given(clip, "pipe", "1 1/4 in").expect("a length"), ("pipe", 31.75));
        assert_eq!(given(clip, "mouth", "100°").expect("an angle"), ("mouth", 100.0));
        assert!(given(clip, "mouth", "wide").is_err());
    }
}
