use schemars::Schema;
use schemars::generate::SchemaSettings;
use schemars::transform::{RecursiveTransform, ReplaceConstValue, transform_subschemas};
use serde_json::{Value, json};

use crate::File;

/// The JSON Schema of the parameter file, for editors that complete and check it; [`read`](crate::read)
/// checks by the same schema.
///
/// It is written in draft 7, which editors of TOML know best. Beside the standard keywords it has
/// `x-quantity` (the kind of quantity), `x-least` and `x-most` (bounds in the kind's bare unit, of the
/// value or of each item of a list), `x-plausible` (a bare length below it was probably meant in inches where the
/// reports are in US units; our judgement), `x-words` (what a pattern asks for, in words) and `x-unit` (the unit of a number
/// that is always written without one).
pub fn schema() -> Value {
    let settings = SchemaSettings::draft07()
        .with_transform(RecursiveTransform(without_null))
        .with_transform(ReplaceConstValue::default())
        .with_transform(RecursiveTransform(in_one_line))
        .with_transform(bounds_for_editors);
    let mut schema = settings.into_generator().into_root_schema_for::<File>();
    schema.insert("title".to_owned(), json!("sumpwright parameter file"));
    schema.to_value()
}

/// TOML has no null: what may be left out is left out.
fn without_null(schema: &mut Schema) {
    let is_null = |value: &Value| value == "null" || value["type"] == "null";
    if let Some(Value::Array(types)) = schema.get_mut("type") {
        types.retain(|value| !is_null(value));
        if let [only] = types.as_slice() {
            let only = only.clone();
            schema.insert("type".to_owned(), only);
        }
    }
    if let Some(Value::Array(options)) = schema.get_mut("anyOf") {
        options.retain(|value| !is_null(value));
        if options.len() == 1 {
            let only = schema.remove("anyOf").expect("it is there");
            schema.insert("allOf".to_owned(), only);
        }
    }
}

/// A doc comment is broken into lines for the reader of the code, not for the reader of the schema.
fn in_one_line(schema: &mut Schema) {
    if let Some(Value::String(description)) = schema.get_mut("description") {
        *description = description.replace('\n', " ");
    }
    // Names of Rust's types mean nothing to editors.
    if schema.get("format").is_some_and(|format| format == "uint32" || format == "double") {
        schema.remove("format");
    }
}

/// Says the bounds in standard keywords as well. They hold for bare numbers only; a string with a unit
/// is left to [`read`](crate::read).
fn bounds_for_editors(schema: &mut Schema) {
    transform_subschemas(&mut bounds_for_editors, schema);
    let [least, most] = ["x-least", "x-most"].map(|key| schema.get(key).cloned());
    let mut bounds = serde_json::Map::new();
    bounds.extend(least.map(|least| ("minimum".to_owned(), least)));
    bounds.extend(most.map(|most| ("maximum".to_owned(), most)));
    if let Some(items) = schema.get("items").cloned() {
        if !bounds.is_empty() {
            bounds.insert("allOf".to_owned(), json!([items]));
            schema.insert("items".to_owned(), Value::Object(bounds));
        }
    } else {
        schema.ensure_object().extend(bounds);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(value: &Value, found: &mut Vec<Value>) {
        found.push(value.clone());
        match value {
            Value::Array(items) => items.iter().for_each(|item| all(item, found)),
            Value::Object(items) => items.values().for_each(|item| all(item, found)),
            _ => {}
        }
    }

    #[test]
    fn bounds_stand_where_editors_look() {
        let schema = schema();
        let outside = &schema["definitions"]["Outside"]["properties"]["length"];
        assert_eq!(outside["maximum"], 4000.0);
        let size = &schema["definitions"]["StockSize"]["properties"]["size"];
        assert_eq!(size["items"]["minimum"], 50.0);
        assert_eq!(size.get("minimum"), None);
    }

    #[test]
    fn nothing_is_null_and_every_key_is_described() {
        let mut parts = Vec::new();
        all(&schema(), &mut parts);
        for part in parts {
            assert_ne!(part["type"], "null", "{part}");
            if let Some(Value::Object(properties)) = part.get("properties") {
                for (key, property) in properties {
                    let is_described =
                        property["description"].is_string() || part["required"] == json!([key]);
                    assert!(is_described, "{key} has no description");
                }
            }
        }
    }
}
