//! Walks a file along its form: reports all that is not as it should be, and keeps the rest.

use std::ops::Range;

use findings::Finding;
use toml::de::{DeTable, DeValue};
use toml::{Spanned, Value};
use units::System;

use crate::form::{Bounds, Form, Forms, Key, Text};
use crate::gaps::Gaps;
use crate::path;
use crate::scalar;
use crate::words::{counted, listed, nearest, quoted, with_article};

/// Rows lie in rows at most this deep.
const DEEPEST_NEST: usize = 6;

/// A file that has been walked.
#[derive(Debug)]
pub(crate) struct Walked {
    /// The file with something of the right form in place of all that was wrong.
    pub(crate) table: toml::Table,
    pub(crate) findings: Vec<Finding>,
    /// What was wrong.
    pub(crate) gaps: Gaps,
}

/// Walks the whole file.
pub(crate) fn walk(table: &DeTable<'_>) -> Walked {
    let forms = Forms::get();
    let mut walker = Walker {
        forms,
        system: system(table),
        findings: Vec::new(),
        gaps: Gaps::default(),
        nest: Vec::new(),
    };
    let Form::Table(keys) = &forms.root else { unreachable!("the file is a table") };
    let table = walker.table(keys, table, &(0..0), &Place::root());
    Walked { table, findings: walker.findings, gaps: walker.gaps }
}

/// Units of reports, as far as the file says so rightly.
fn system(table: &DeTable<'_>) -> System {
    let report = table.get("report").map(|report| report.get_ref());
    let is_us = matches!(report, Some(DeValue::String(report)) if report.as_ref() == "us");
    if is_us { System::UsCustomary } else { System::Metric }
}

struct Walker {
    forms: &'static Forms,
    /// Units of reports.
    system: System,
    findings: Vec<Finding>,
    gaps: Gaps,
    /// Names of the forms that we are in.
    nest: Vec<&'static str>,
}

/// Where we are.
pub(crate) struct Place<'a> {
    /// The parameter's path.
    pub(crate) path: String,
    step: Step<'a>,
}

/// The last step to where we are.
enum Step<'a> {
    File,
    Key(&'a str),
    Item(usize, &'a Place<'a>),
}

impl<'a> Place<'a> {
    fn root() -> Self {
        Self { path: String::new(), step: Step::File }
    }

    fn key(&self, key: &'a str) -> Self {
        Self { path: path::key(&self.path, key), step: Step::Key(key) }
    }

    fn item(&'a self, index: usize) -> Self {
        Self { path: path::index(&self.path, index), step: Step::Item(index, self) }
    }

    /// What messages call it: `` `thickness` ``, ``item 2 of `measured` ``.
    pub(crate) fn called(&self) -> String {
        match self.step {
            Step::File => "this file".to_owned(),
            Step::Key(key) => quoted(key),
            Step::Item(index, list) => format!("item {} of {}", index + 1, list.called()),
        }
    }

    /// The place as a whole: `` `box.outside` ``, or this file.
    fn in_full(&self) -> String {
        if self.path.is_empty() { self.called() } else { quoted(&self.path) }
    }
}

impl Walker {
    /// `None` when the value is not of this form; the finding has been made.
    fn value(
        &mut self,
        form: &'static Form,
        value: &Spanned<DeValue<'_>>,
        place: &Place<'_>,
    ) -> Option<Value> {
        let span = &value.span();
        match (form, value.get_ref()) {
            (Form::Named(name), _) => self.named(name, form, value, place),
            (Form::Table(keys), DeValue::Table(table)) => {
                Some(Value::Table(self.table(keys, table, span, place)))
            }
            (Form::Map { of, names, most }, DeValue::Table(table)) => {
                Some(Value::Table(self.map(of, names, *most, table, span, place)))
            }
            (Form::Tagged(keys), DeValue::Table(table)) => {
                self.tagged(keys, table, span, place).map(Value::Table)
            }
            (Form::List { of, least, most }, DeValue::Array(items)) => {
                self.list(of, [*least, *most], items, span, place).map(Value::Array)
            }
            (Form::Either(options), value_) => {
                match options.iter().find(|option| self.takes(option, value_)) {
                    Some(option) => self.value(option, value, place),
                    None => self.wrong_type(form, value_, span, place),
                }
            }
            (form, value) if !self.takes(form, value) => self.wrong_type(form, value, span, place),
            (form, value) => {
                let doubtful = scalar::probably_inches(form, value, place, self.system);
                self.findings.extend(doubtful.map(|finding| finding.at(span.clone())));
                let read = scalar::read(form, value, place, self.system);
                read.map_err(|finding| self.findings.push(finding.at(span.clone()))).ok()
            }
        }
    }

    /// A table that has a name of its own, and may lie within itself.
    fn named(
        &mut self,
        name: &'static str,
        form: &'static Form,
        value: &Spanned<DeValue<'_>>,
        place: &Place<'_>,
    ) -> Option<Value> {
        if self.nest.iter().filter(|outer| **outer == name).count() >= DEEPEST_NEST {
            let message = format!("{} lies more than {DEEPEST_NEST} rows deep", place.called());
            let hint = "lay the sump out in fewer rows, one within the other";
            self.findings.push(
                Finding::fails("too-deep", &place.path, message).with_hint(hint).at(value.span()),
            );
            return None;
        }
        self.nest.push(name);
        let read = self.value(self.forms.resolved(form), value, place);
        self.nest.pop();
        read
    }

    fn table(
        &mut self,
        keys: &'static [Key],
        table: &DeTable<'_>,
        span: &Range<usize>,
        place: &Place<'_>,
    ) -> toml::Table {
        let meant = self.unknown_keys(keys, table, place);
        let mut read = toml::Table::new();
        for key in keys {
            let at = place.key(&key.name);
            let value = match table.get(key.name.as_str()) {
                Some(value) => self.value(&key.form, value, &at).ok_or(()),
                None if key.is_needed => {
                    if !meant.contains(&key.name.as_str()) {
                        self.missing(key, span, place);
                    }
                    Err(())
                }
                None => continue,
            };
            if value.is_err() {
                self.gaps.lose(&at.path);
            }
            let value = value.ok().or_else(|| key.is_needed.then(|| self.stand_in(&key.form)));
            read.extend(value.map(|value| (key.name.clone(), value)));
        }
        read
    }

    /// Reports the keys of a table that it does not have, and returns the ones that were probably meant.
    fn unknown_keys(
        &mut self,
        keys: &'static [Key],
        table: &DeTable<'_>,
        place: &Place<'_>,
    ) -> Vec<&'static str> {
        let mut meant = Vec::new();
        for key in table.keys() {
            let written = key.get_ref().as_ref();
            if keys.iter().any(|key| key.name == written) {
                continue;
            }
            let free =
                keys.iter().map(|key| key.name.as_str()).filter(|name| !table.contains_key(*name));
            let near = nearest(written, free);
            meant.extend(near);
            let message = format!("{} is not a key of {}", quoted(written), place.in_full());
            let hint = match near {
                Some(near) => format!("write `{near}`"),
                None if !place.path.is_empty() && is_key_of_file(self.forms, written) => {
                    format!(
                        "`{written}` belongs at the top of the file, above the first line in brackets"
                    )
                }
                None => format!(
                    "its keys are {}",
                    listed(keys.iter().map(|key| key.name.as_str()), "and")
                ),
            };
            let path = path::key(&place.path, written);
            self.findings
                .push(Finding::fails("unknown-key", path, message).with_hint(hint).at(key.span()));
            self.gaps.lose_part(&place.path);
        }
        meant
    }

    fn missing(&mut self, key: &Key, span: &Range<usize>, place: &Place<'_>) {
        let message = format!("`{}` is missing from {}", key.name, place.in_full());
        let about =
            key.about.split_once(". ").map_or(key.about.trim_end_matches('.'), |(first, _)| first);
        let hint = match &key.form {
            Form::Whole(Bounds { least, most, .. }) if least.total_cmp(most).is_eq() => {
                format!("add `{} = {least}`", key.name)
            }
            form => {
                format!("add `{}`, {}: {}", key.name, needed(self.forms, form), lower_first(about))
            }
        };
        let path = path::key(&place.path, &key.name);
        self.findings
            .push(Finding::fails("missing-key", path, message).with_hint(hint).at(span.clone()));
    }

    fn map(
        &mut self,
        of: &'static Form,
        names: &Text,
        most: usize,
        table: &DeTable<'_>,
        span: &Range<usize>,
        place: &Place<'_>,
    ) -> toml::Table {
        self.not_too_many(table.len(), most, span, place);
        let mut read = toml::Table::new();
        for (key, value) in table.iter().take(most) {
            let at = place.key(key.get_ref());
            let called = || format!("the name {}", at.called());
            if let Err(finding) = scalar::text(names, key.get_ref(), &at.path, called) {
                self.findings.push(finding.at(key.span()));
            }
            let value = self.value(of, value, &at).unwrap_or_else(|| {
                self.gaps.lose(&at.path);
                self.stand_in(of)
            });
            read.insert(key.get_ref().to_string(), value);
        }
        read
    }

    fn tagged(
        &mut self,
        keys: &'static [Key],
        table: &DeTable<'_>,
        span: &Range<usize>,
        place: &Place<'_>,
    ) -> Option<toml::Table> {
        let meant = self.unknown_keys(keys, table, place);
        let given: Vec<_> =
            keys.iter().filter_map(|key| Some((key, table.get(key.name.as_str())?))).collect();
        if let [(key, value)] = given[..] {
            let at = place.key(&key.name);
            let value = self.value(&key.form, value, &at)?;
            return Some(std::iter::once((key.name.clone(), value)).collect());
        }
        if given.len() > 1 || meant.is_empty() {
            let what = if given.is_empty() { "none" } else { "more than one" };
            let choice = listed(keys.iter().map(|key| key.name.as_str()), "and");
            let message =
                format!("{} has {what} of {choice}, but exactly one is needed", place.in_full());
            let hint =
                format!("write `{{ {} = {{ … }} }}`, each in braces of its own", keys[0].name);
            self.findings.push(
                Finding::fails("not-one", &place.path, message).with_hint(hint).at(span.clone()),
            );
        }
        None
    }

    fn list(
        &mut self,
        of: &'static Form,
        [least, most]: [usize; 2],
        items: &[Spanned<DeValue<'_>>],
        span: &Range<usize>,
        place: &Place<'_>,
    ) -> Option<Vec<Value>> {
        if items.len() < least || (least == most && items.len() != most) {
            let needed = if least == most {
                format!("{least} are needed")
            } else {
                format!("at least {least} are needed")
            };
            let message =
                format!("{} has {}, but {needed}", place.called(), counted(items.len(), "item"));
            self.findings
                .push(Finding::fails("wrong-count", &place.path, message).at(span.clone()));
            return None;
        }
        self.not_too_many(items.len(), most, span, place);
        let mut read = Vec::new();
        for (index, item) in items.iter().take(most).enumerate() {
            let at = place.item(index);
            read.push(self.value(of, item, &at).unwrap_or_else(|| {
                self.gaps.lose(&at.path);
                self.stand_in(of)
            }));
        }
        Some(read)
    }

    fn not_too_many(&mut self, count: usize, most: usize, span: &Range<usize>, place: &Place<'_>) {
        if count > most {
            let message =
                format!("{} has {count} items, but at most {most} are allowed", place.called());
            self.findings.push(Finding::fails("too-many", &place.path, message).at(span.clone()));
            self.gaps.lose(&place.path);
        }
    }

    fn wrong_type(
        &mut self,
        form: &Form,
        value: &DeValue<'_>,
        span: &Range<usize>,
        place: &Place<'_>,
    ) -> Option<Value> {
        let message = format!(
            "{} is {}, but {} is needed",
            place.called(),
            what_is(value),
            needed(self.forms, form)
        );
        let mut finding = Finding::fails("wrong-type", &place.path, message).at(span.clone());
        finding.hint = self.hint_for_type(form, value, place);
        self.findings.push(finding);
        None
    }

    fn hint_for_type(&self, form: &Form, value: &DeValue<'_>, place: &Place<'_>) -> Option<String> {
        let is_header = place.path.chars().all(|c| !matches!(c, '[' | '"'));
        match (self.forms.resolved(form), value) {
            (Form::List { of, .. }, DeValue::Table(_))
                if self.is_table(of) && !place.path.contains('.') =>
            {
                Some(format!("write `[[{}]]` in double brackets, once for each", place.path))
            }
            (Form::List { .. }, _) => Some("put it in brackets, items parted by commas".to_owned()),
            (form, DeValue::Array(items))
                if self.is_table(form)
                    && is_header
                    && items.iter().all(|item| item.get_ref().is_table()) =>
            {
                Some(format!("write `[{}]` in single brackets, and once", place.path))
            }
            (Form::Table(keys), _) => {
                let needed: Vec<_> = keys
                    .iter()
                    .filter(|key| key.is_needed)
                    .map(|key| format!("{} = …", key.name))
                    .collect();
                Some(format!(
                    "write `{{ {} }}`",
                    if needed.is_empty() { "…".to_owned() } else { needed.join(", ") }
                ))
            }
            (Form::Quantity { kind, .. }, _) => Some(format!(
                "write a number of {}, or a number and its unit in quotes such as `\"{}\"`",
                kind.bare_unit, kind.example
            )),
            (
                Form::Text(_) | Form::Choice(_),
                DeValue::Integer(_) | DeValue::Float(_) | DeValue::Boolean(_),
            ) => Some("put it in quotes".to_owned()),
            (form @ (Form::Whole(_) | Form::Number { .. } | Form::Flag), DeValue::String(_)) => {
                Some(format!("write {} without quotes", needed(self.forms, form)))
            }
            _ => None,
        }
    }

    fn is_table(&self, form: &Form) -> bool {
        matches!(self.forms.resolved(form), Form::Table(_) | Form::Map { .. } | Form::Tagged(_))
    }

    /// Whether a value is of the right kind for a form, whatever it says.
    fn takes(&self, form: &Form, value: &DeValue<'_>) -> bool {
        let (is_text, is_whole) = (value.is_str(), value.is_integer());
        match self.forms.resolved(form) {
            Form::Named(_) => false,
            Form::Table(_) | Form::Map { .. } | Form::Tagged(_) => value.is_table(),
            Form::List { .. } => value.is_array(),
            Form::Quantity { .. } => is_text || is_whole || value.is_float(),
            Form::Whole(_) => is_whole,
            Form::Number { .. } => is_whole || value.is_float(),
            Form::Text(_) | Form::Choice(_) => is_text,
            Form::Flag => value.is_bool(),
            Form::Either(options) => options.iter().any(|option| self.takes(option, value)),
        }
    }

    /// A value of the right form, in place of one that is missing or wrong. Nobody builds from it.
    fn stand_in(&self, form: &Form) -> Value {
        let table = |keys: &[Key]| {
            keys.iter().map(|key| (key.name.clone(), self.stand_in(&key.form))).collect()
        };
        match self.forms.resolved(form) {
            Form::Named(_) => unreachable!("a resolved form has no name"),
            Form::Table(keys) => {
                let needed: Vec<_> = keys.iter().filter(|key| key.is_needed).cloned().collect();
                Value::Table(table(&needed))
            }
            Form::Tagged(keys) => Value::Table(table(&keys[..1])),
            Form::Map { .. } => Value::Table(toml::Table::new()),
            Form::List { of, least, .. } => Value::Array(vec![self.stand_in(of); *least]),
            Form::Quantity { bounds, .. } | Form::Number { bounds, .. } => {
                Value::Float(bounds.inner())
            }
            #[expect(
                clippy::cast_possible_truncation,
                reason = "bounds of whole numbers are small"
            )]
            Form::Whole(bounds) => Value::Integer(bounds.inner() as i64),
            Form::Text(_) => Value::String("x".to_owned()),
            Form::Choice(choices) => Value::String(choices[0].clone()),
            Form::Flag => Value::Boolean(false),
            Form::Either(options) => self.stand_in(&options[0]),
        }
    }
}

fn is_key_of_file(forms: &Forms, written: &str) -> bool {
    matches!(&forms.root, Form::Table(keys) if keys.iter().any(|key| key.name == written && !matches!(key.form, Form::List { .. } | Form::Map { .. } | Form::Named(_))))
}

/// What a form asks for: `a length`, `a list of 2 lengths`.
fn needed(forms: &Forms, form: &Form) -> String {
    match forms.resolved(form) {
        Form::Named(_) => unreachable!("a resolved form has no name"),
        Form::Table(_) | Form::Map { .. } | Form::Tagged(_) => "a table".to_owned(),
        Form::List { of, least, most } => {
            let item = needed(forms, of);
            let item = item.trim_start_matches("an ").trim_start_matches("a ");
            let items = if item == "text" { "texts".to_owned() } else { format!("{item}s") };
            if least == most {
                format!("a list of {least} {items}")
            } else {
                format!("a list of {items}")
            }
        }
        Form::Quantity { kind, .. } => with_article(kind.name),
        Form::Whole(_) => "a whole number".to_owned(),
        Form::Number { unit, .. } if unit.is_empty() => "a number".to_owned(),
        Form::Number { unit, .. } => format!("a number in {unit}"),
        Form::Text(_) => "text".to_owned(),
        Form::Choice(choices) => {
            format!("one of {}", listed(choices.iter().map(String::as_str), "and"))
        }
        Form::Flag => "`true` or `false`".to_owned(),
        Form::Either(options) => {
            options.iter().map(|option| needed(forms, option)).collect::<Vec<_>>().join(" or ")
        }
    }
}

/// What a value is, in plain words.
fn what_is(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "`true` or `false`",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| first.to_lowercase().chain(chars).collect())
}
