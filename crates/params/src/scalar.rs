//! Reads numbers, quantities and texts of a file, one at a time.

use findings::Finding;
use toml::Value;
use toml::de::DeValue;
use units::{Kind, Length, ParseError, Quantity, Reading, System};

use crate::form::{Bounds, Form, Text};
use crate::walk::Place;
use crate::words::{counted, is_invisible, listed, nearest, quoted, with_article};

/// No quantity is longer; what is, is not worth reading.
const LONGEST_QUANTITY: usize = 60;

/// Reads a value of the right type.
///
/// # Errors
/// The finding, without its place.
pub(crate) fn read(
    form: &Form,
    value: &DeValue<'_>,
    place: &Place<'_>,
    system: System,
) -> Result<Value, Box<Finding>> {
    match (form, value) {
        (Form::Quantity { kind, bounds }, DeValue::String(text)) => {
            let reading = quantity(kind, text, place)?;
            within(*bounds, reading, place).map(Value::Float)
        }
        (Form::Quantity { kind, bounds }, value) => {
            let reading = kind.bare(number(value, place)?);
            let is_small = reading.to_bare() < bounds.least;
            within(*bounds, reading, place).map(Value::Float).map_err(|mut finding| {
                finding.hint = is_small.then(|| note_on_bare_numbers(kind, reading, system));
                finding
            })
        }
        (Form::Number { bounds, unit }, value) => {
            within_plain(*bounds, unit, number(value, place)?, place).map(Value::Float)
        }
        (Form::Whole(bounds), value) => {
            let whole = within_plain(*bounds, "", number(value, place)?, place)?;
            #[expect(
                clippy::cast_possible_truncation,
                reason = "bounds of whole numbers are small"
            )]
            Ok(Value::Integer(whole as i64))
        }
        (Form::Text(form), DeValue::String(written)) => {
            text(form, written, &place.path, || place.called())?;
            Ok(Value::String(written.to_string()))
        }
        (Form::Choice(choices), DeValue::String(written)) => choice(choices, written, place),
        (_, DeValue::Boolean(flag)) => Ok(Value::Boolean(*flag)),
        _ => unreachable!("the type was looked at before"),
    }
}

/// Checks a text or a name; `called` is what messages call it.
pub(crate) fn text(
    form: &Text,
    written: &str,
    path: &str,
    called: impl Fn() -> String,
) -> Result<(), Box<Finding>> {
    let count = written.chars().count();
    if count < form.least {
        return Err(Box::new(Finding::fails(
            "text-length",
            path,
            format!("{} is empty", called()),
        )));
    }
    if count > form.most {
        let message = format!(
            "{} has {}, but at most {} are allowed",
            called(),
            counted(count, "character"),
            form.most
        );
        return Err(Box::new(Finding::fails("text-length", path, message)));
    }
    if let Some(c) = written.chars().find(|c| is_invisible(*c)) {
        let message = format!("{} has an invisible character, U+{:04X}", called(), u32::from(c));
        let finding = Finding::fails("text-form", path, message);
        return Err(Box::new(finding.with_hint("delete it; type the text anew if need be")));
    }
    match &form.pattern {
        Some((pattern, words)) if !pattern.is_match(written) => {
            let called = called();
            let is_said = called.contains(&quoted(written));
            let is =
                if is_said { "will not do".to_owned() } else { format!("is {}", quoted(written)) };
            Err(Box::new(Finding::fails(
                "text-form",
                path,
                format!("{called} {is}; it must be {words}"),
            )))
        }
        _ => Ok(()),
    }
}

fn choice(choices: &[String], written: &str, place: &Place<'_>) -> Result<Value, Box<Finding>> {
    if choices.iter().any(|choice| choice == written) {
        return Ok(Value::String(written.to_owned()));
    }
    let known = || choices.iter().map(String::as_str);
    let message = format!(
        "{} is {}, but it can only be {}",
        place.called(),
        quoted(written),
        listed(known(), "or")
    );
    let finding = Finding::fails("unknown-choice", &place.path, message);
    Err(Box::new(match nearest(written, known()) {
        Some(near) => finding.with_hint(format!("write `\"{near}\"`")),
        None => finding,
    }))
}

fn quantity(
    kind: &'static Kind,
    written: &str,
    place: &Place<'_>,
) -> Result<Reading, Box<Finding>> {
    if written.len() > LONGEST_QUANTITY || written.contains(is_invisible) {
        let message =
            format!("{} is {}, which is no {}", place.called(), quoted(written), kind.name);
        let hint = format!("write a number and its unit, such as `\"{}\"`", kind.example);
        return Err(Box::new(
            Finding::fails("not-a-quantity", &place.path, message).with_hint(hint),
        ));
    }
    kind.read(written).map_err(|error| {
        let code = if matches!(error, ParseError::WrongUnit { .. }) {
            "wrong-unit"
        } else {
            "not-a-quantity"
        };
        let mut finding = Finding::fails(code, &place.path, format!("{}: {error}", place.called()));
        finding.hint = unit_hint(kind, &error, written);
        Box::new(finding)
    })
}

fn unit_hint(kind: &Kind, error: &ParseError, written: &str) -> Option<String> {
    let ParseError::WrongUnit { unit, .. } = error else { return None };
    if let Some(other) =
        Kind::all().into_iter().find(|other| other.spellings().any(|spelling| spelling == unit))
    {
        return Some(format!(
            "`{unit}` is a unit of {}; {} is needed here",
            other.name,
            with_article(kind.name)
        ));
    }
    let near = nearest(unit, kind.spellings())?;
    let number = written.trim_end().strip_suffix(unit.as_str())?.trim_end();
    Some(format!("write `\"{number} {near}\"`"))
}

/// Where reports are in inches, what a bare length comes to, and how inches are written.
fn note_on_bare_numbers(kind: &Kind, reading: Reading, system: System) -> String {
    let mm = reading.to_bare();
    if system == System::UsCustomary && *kind == *Length::KIND && mm > 0.0 {
        let [number, inches] = [rounded(mm), Length::mm(mm).to_in()];
        let places = if inches < 1.0 { 2 } else { 1 };
        return format!(
            "{number} is {number} mm ({inches:.places$} in); for inches write `\"{number} in\"`"
        );
    }
    format!(
        "a number without a unit is in {}; with one it stands in quotes, such as `\"{}\"`",
        kind.bare_unit, kind.example
    )
}

/// A length without a unit that is allowed, but so small that it was probably meant in inches: in a file whose reports
/// are in these.
pub(crate) fn probably_inches(
    form: &Form,
    value: &DeValue<'_>,
    place: &Place<'_>,
    system: System,
) -> Option<Finding> {
    let (Form::Quantity { kind, bounds }, false) = (form, value.is_str()) else { return None };
    let reading = kind.bare(number(value, place).ok()?);
    let mm = reading.to_bare();
    let in_inches = mm / Length::mm(1.0).to_in();
    let is_doubtful = system == System::UsCustomary
        && *kind == Length::KIND
        && (mm > 0.0 && bounds.least <= mm && mm < bounds.plausible)
        && in_inches <= bounds.most;
    is_doubtful.then(|| {
        let message =
            format!("{} is only {reading}: it has no unit, and so is in mm", place.called());
        Finding::tight("bare-number", &place.path, message)
            .with_hint(note_on_bare_numbers(kind, reading, system))
    })
}

/// A number of the file as we compute with it.
fn number(value: &DeValue<'_>, place: &Place<'_>) -> Result<f64, Box<Finding>> {
    let (written, number) = match value {
        #[expect(clippy::cast_precision_loss, reason = "no bound of ours is near 2^53")]
        DeValue::Integer(whole) => (
            whole.as_str(),
            i64::from_str_radix(whole.as_str(), whole.radix()).ok().map(|n| n as f64),
        ),
        DeValue::Float(float) => (float.as_str(), float.as_str().parse().ok()),
        _ => unreachable!("the type was looked at before"),
    };
    number.filter(|number: &f64| number.is_finite()).ok_or_else(|| {
        let message =
            format!("{} is {}, which is no number to reckon with", place.called(), quoted(written));
        Box::new(Finding::fails("out-of-range", &place.path, message))
    })
}

fn within(bounds: Bounds, reading: Reading, place: &Place<'_>) -> Result<f64, Box<Finding>> {
    let bare = reading.to_bare();
    let Some((limit, words)) = bounds.missed(bare) else {
        return Ok(bare + 0.0); // Turns minus zero, which some formulas mind, into zero.
    };
    let message =
        format!("{} is {reading}, but it must be {words} {}", place.called(), reading.show(limit));
    let finding = Finding::fails("out-of-range", &place.path, message);
    Err(Box::new(finding.with_limit(
        reading.number,
        rounded(reading.in_same_unit(limit)),
        reading.unit,
    )))
}

fn rounded(value: f64) -> f64 {
    (value * 1e4).round() / 1e4
}

/// A number of a unit that is always the same, or of none: then `unit` is empty.
fn within_plain(
    bounds: Bounds,
    unit: &str,
    number: f64,
    place: &Place<'_>,
) -> Result<f64, Box<Finding>> {
    match bounds.missed(number) {
        None => Ok(number + 0.0),
        Some((limit, words)) => {
            let number =
                if number.abs() < 1e9 { number.to_string() } else { format!("{number:e}") };
            let called = place.called();
            if unit.is_empty() {
                let message = format!("{called} is {number}, but it must be {words} {limit}");
                return Err(Box::new(Finding::fails("out-of-range", &place.path, message)));
            }
            let Bounds { least, most, .. } = bounds;
            let message = format!(
                "{called} is {number} {unit}, but it must be {words} {limit} {unit} (from {least} to {most})"
            );
            let mut finding = Finding::fails("out-of-range", &place.path, message);
            finding.hint = other_units(unit).map(str::to_owned);
            Err(Box::new(finding))
        }
    }
}

/// How numbers in other units that data sheets use come to this one (NIST SP 811, B.8).
fn other_units(unit: &str) -> Option<&'static str> {
    match unit {
        "MPa" => Some("write it in MPa, which is N/mm²: 1 GPa is 1000 MPa, 1000 psi are 6.895 MPa"),
        "kg" => Some("write it in kg: 1 lb is 0.4536 kg"),
        _ => None,
    }
}

impl Bounds {
    /// The bound that a value misses, and `at least` or `at most`.
    fn missed(self, value: f64) -> Option<(f64, &'static str)> {
        if value < self.least {
            Some((self.least, "at least"))
        } else if value > self.most {
            Some((self.most, "at most"))
        } else {
            None
        }
    }

    /// A value within.
    pub(crate) fn inner(self) -> f64 {
        if self.least.is_finite() { self.least } else { self.most.min(0.0) }
    }
}
