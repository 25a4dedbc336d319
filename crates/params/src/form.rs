//! The form of the parameter file, as read from its JSON Schema: what may stand where.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use regex_lite::Regex;
use serde_json::Value;
use units::Kind;

use crate::schema::schema;

/// The forms of all tables, by name, and that of the whole file.
#[derive(Debug)]
pub(crate) struct Forms {
    pub(crate) root: Form,
    named: BTreeMap<String, Form>,
}

/// What a value must be.
#[derive(Clone, Debug)]
pub(crate) enum Form {
    /// The form of this name: always a table.
    Named(String),
    /// A table with these keys.
    Table(Vec<Key>),
    /// A table whose keys are names that the maker chooses.
    Map { of: Box<Self>, names: Text, most: usize },
    /// A list.
    List { of: Box<Self>, least: usize, most: usize },
    /// A number in the kind's bare unit, or text with a unit.
    Quantity { kind: &'static Kind, bounds: Bounds },
    /// A whole number.
    Whole(Bounds),
    /// A number, always of this unit; without one where `unit` is empty.
    Number { bounds: Bounds, unit: String },
    /// Text.
    Text(Text),
    /// `true` or `false`.
    Flag,
    /// One of these texts.
    Choice(Vec<String>),
    /// A table with exactly one of these keys.
    Tagged(Vec<Key>),
    /// Either of these.
    Either(Vec<Self>),
}

/// A key of a table.
#[derive(Clone, Debug)]
pub(crate) struct Key {
    pub(crate) name: String,
    pub(crate) form: Form,
    pub(crate) is_needed: bool,
    /// What it is, in the words of the docs.
    pub(crate) about: String,
}

impl Form {
    /// A number takes on the unit of its key.
    fn in_unit(self, written: &Value) -> Self {
        match (self, written.as_str()) {
            (Self::Number { bounds, .. }, Some(unit)) => {
                Self::Number { bounds, unit: unit.to_owned() }
            }
            (form, _) => form,
        }
    }
}

/// Least and greatest value, in the bare unit.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bounds {
    pub(crate) least: f64,
    pub(crate) most: f64,
    /// Below this, a bare number was probably meant in another unit.
    pub(crate) plausible: f64,
}

/// What a text must be like.
#[derive(Clone, Debug)]
pub(crate) struct Text {
    /// Least and greatest count of characters.
    pub(crate) least: usize,
    pub(crate) most: usize,
    /// What it must match, and the same in words.
    pub(crate) pattern: Option<(Regex, String)>,
}

/// Text is for labels; this is more than any needs, and little enough for every output.
const LONGEST_TEXT: usize = 200;
/// Items of a list or map for which the schema sets no bound.
const MOST_ITEMS: usize = 1000;

impl Forms {
    /// The forms of the parameter file.
    pub(crate) fn get() -> &'static Self {
        static FORMS: LazyLock<Forms> = LazyLock::new(|| Forms::of(&schema()));
        &FORMS
    }

    /// The form itself behind a name.
    pub(crate) fn resolved<'a>(&'a self, form: &'a Form) -> &'a Form {
        match form {
            Form::Named(name) => &self.named[name],
            form => form,
        }
    }

    fn of(schema: &Value) -> Self {
        let definitions = &schema["definitions"];
        let compiler = Compiler { definitions };
        let tables = definitions.as_object().expect("the file has named tables").iter();
        let named = tables
            .filter(|(_, definition)| definition.get("properties").is_some())
            .map(|(name, definition)| (name.clone(), compiler.table(definition)))
            .collect();
        Self { root: compiler.table(schema), named }
    }
}

/// From JSON Schema to forms. It understands what schemars makes of our types, no more: whatever else
/// comes up is an error of ours, which every test meets.
struct Compiler<'a> {
    definitions: &'a Value,
}

impl Compiler<'_> {
    fn table(&self, schema: &Value) -> Form {
        Form::Table(self.keys(schema))
    }

    fn keys(&self, schema: &Value) -> Vec<Key> {
        let needed = schema["required"].as_array().map(Vec::as_slice).unwrap_or_default();
        let properties = schema["properties"].as_object().expect("a table has keys");
        properties
            .iter()
            .map(|(name, property)| Key {
                name: name.clone(),
                form: self.form(property, Bounds::of(property)).in_unit(&property["x-unit"]),
                is_needed: needed.iter().any(|key| key == name),
                about: property["description"].as_str().unwrap_or_default().to_owned(),
            })
            .collect()
    }

    /// `bounds` are those of the property that the schema stands in.
    fn form(&self, schema: &Value, bounds: Bounds) -> Form {
        if let Some(target) =
            schema["$ref"].as_str().or_else(|| schema["allOf"][0]["$ref"].as_str())
        {
            return self.reference(target, bounds);
        }
        if let [only] = list(&schema["allOf"]) {
            return self.form(only, bounds);
        }
        if let Some(kind) = schema["x-quantity"].as_str() {
            return Form::Quantity { kind: Kind::named(kind).expect("a kind of ours"), bounds };
        }
        if !list(&schema["oneOf"]).is_empty() {
            return self.one_of(list(&schema["oneOf"]));
        }
        if !list(&schema["anyOf"]).is_empty() {
            return Form::Either(
                list(&schema["anyOf"]).iter().map(|option| self.form(option, bounds)).collect(),
            );
        }
        if !list(&schema["enum"]).is_empty() {
            return Form::Choice(list(&schema["enum"]).iter().map(text).collect());
        }
        match schema["type"].as_str() {
            Some("array") => Form::List {
                of: Box::new(self.form(&schema["items"], bounds)),
                least: count(&schema["minItems"], 0),
                most: count(&schema["maxItems"], MOST_ITEMS),
            },
            Some("object") => Form::Map {
                of: Box::new(self.form(&schema["additionalProperties"], bounds)),
                names: Text::of(&schema["propertyNames"]),
                most: count(&schema["maxProperties"], MOST_ITEMS),
            },
            Some("integer") => Form::Whole(Bounds {
                least: bounds.least.max(0.0),
                most: bounds.most.min(f64::from(u32::MAX)),
                ..bounds
            }),
            Some("number") => Form::Number { bounds, unit: String::new() },
            Some("string") => Form::Text(Text::of(schema)),
            Some("boolean") => Form::Flag,
            other => panic!("the schema has a type that nobody reads: {other:?}"),
        }
    }

    fn reference(&self, target: &str, bounds: Bounds) -> Form {
        let name = target.trim_start_matches("#/definitions/");
        let definition = &self.definitions[name];
        if definition.get("properties").is_some() {
            Form::Named(name.to_owned())
        } else {
            self.form(definition, bounds)
        }
    }

    /// Variants of a Rust enum: texts, or tables with one key.
    fn one_of(&self, options: &[Value]) -> Form {
        if options.iter().all(|option| option["type"] == "string") {
            Form::Choice(
                options.iter().flat_map(|option| list(&option["enum"])).map(text).collect(),
            )
        } else {
            let with_about = |option: &Value| {
                let about = option["description"].as_str().unwrap_or_default().to_owned();
                self.keys(option)
                    .into_iter()
                    .map(move |key| Key { about: about.clone(), ..key })
                    .collect::<Vec<_>>()
            };
            Form::Tagged(options.iter().flat_map(with_about).collect())
        }
    }
}

impl Bounds {
    fn of(schema: &Value) -> Self {
        let bound = |ours, standard| schema[ours].as_f64().or_else(|| schema[standard].as_f64());
        Self {
            least: bound("x-least", "minimum").unwrap_or(f64::NEG_INFINITY),
            most: bound("x-most", "maximum").unwrap_or(f64::INFINITY),
            plausible: schema["x-plausible"].as_f64().unwrap_or(f64::NEG_INFINITY),
        }
    }
}

impl Text {
    fn of(schema: &Value) -> Self {
        let pattern = schema["pattern"].as_str().map(|pattern| {
            let regex = Regex::new(pattern).expect("a pattern of ours");
            (regex, schema["x-words"].as_str().expect("a pattern in words").to_owned())
        });
        Self {
            least: count(&schema["minLength"], 0),
            most: count(&schema["maxLength"], LONGEST_TEXT),
            pattern,
        }
    }
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map(Vec::as_slice).unwrap_or_default()
}

fn text(value: &Value) -> String {
    value.as_str().expect("choices are texts").to_owned()
}

fn count(value: &Value, otherwise: usize) -> usize {
    value.as_u64().and_then(|count| usize::try_from(count).ok()).unwrap_or(otherwise)
}
