//! What the viewer is told, as JSON.

use serde_json::{Map, Value, json};
use show::Show;

/// Places and turns to this, mm and parts of a unit quaternion: a micrometre at a metre's arm.
const FINE: f64 = 1e6;
/// Levels and times of rehearsals to this, mm, L and s.
const COARSE: f64 = 10.0;

/// All that is played and picked. What is only read stands in the page as text and is left out.
pub(super) fn json(show: &Show) -> String {
    let mut all = json!(show);
    if let Value::Object(fields) = &mut all {
        for unread in ["parts", "title", "outside_mm", "slots", "doors"] {
            fields.remove(unread);
        }
        for (name, value) in fields.iter_mut() {
            round(value, if name == "rehearsals" { COARSE } else { FINE });
        }
        trim(fields);
    }
    all.to_string()
}

/// Leaves out of findings, stops and moves what the viewer does not ask for.
fn trim(fields: &mut Map<String, Value>) {
    strip(fields.get_mut("findings"), &["code", "hint", "parameter", "line", "things"]);
    strip(fields.get_mut("stops"), &["title", "text", "findings"]);
    let unread = ["kind", "distance_mm", "angle_deg"];
    let strip_moves = |steps: &mut Value| {
        for step in steps.as_array_mut().into_iter().flatten() {
            strip(step.get_mut("moves"), &unread);
        }
    };
    for way in fields.get_mut("ways").and_then(Value::as_array_mut).into_iter().flatten() {
        if let Some(steps) = way.get_mut("steps") {
            strip_moves(steps);
        }
    }
    if let Some(steps) = fields.get_mut("emptying") {
        strip_moves(steps);
    }
    if let Some(steps) = fields.get_mut("rescue").and_then(|rescue| rescue.get_mut("steps")) {
        strip_moves(steps);
    }
}

fn strip(list: Option<&mut Value>, names: &[&str]) {
    for item in list.and_then(Value::as_array_mut).into_iter().flatten() {
        if let Value::Object(fields) = item {
            for name in names {
                fields.remove(*name);
            }
        }
    }
}

/// Every number that is not whole, to the next part of one.
fn round(value: &mut Value, parts: f64) {
    match value {
        Value::Array(items) => items.iter_mut().for_each(|item| round(item, parts)),
        Value::Object(fields) => fields.values_mut().for_each(|item| round(item, parts)),
        Value::Number(number) if number.is_f64() => {
            let rounded = number.as_f64().map(|x| (x * parts).round() / parts);
            #[expect(clippy::cast_possible_truncation, reason = "whole and less than 2^53")]
            let short = rounded.map(|x| match x {
                // `12.0` and `-0.0` are longer than they need be.
                x if x.fract().abs() < f64::MIN_POSITIVE && x.abs() < 9e15 => json!(x as i64),
                x => json!(x),
            });
            *value = short.unwrap_or(Value::Null);
        }
        _ => {}
    }
}
