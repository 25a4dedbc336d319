//! The encoding of ISO 10303-21: numbered entities with attributes, as ASCII text.
use std::fmt::{self, Write};

/// The number of an entity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Id(usize);

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{}", self.0)
    }
}

/// The data section under way.
pub(super) struct Data {
    text: String,
    entities: usize,
}

impl Data {
    /// Ready for about so many bytes.
    pub(super) fn with_capacity(bytes: usize) -> Self {
        Self { text: String::with_capacity(bytes), entities: 0 }
    }

    /// Adds an entity with the attributes that `fill` appends.
    pub(super) fn entity(&mut self, keyword: &str, fill: impl FnOnce(&mut Attributes)) -> Id {
        let id = self.begin();
        self.text.push_str(keyword);
        self.text.push('(');
        fill(&mut Attributes { text: &mut self.text, first: true });
        self.text.push_str(");\n");
        id
    }

    /// Adds an entity given as text, as complex ones are.
    pub(super) fn raw(&mut self, text: fmt::Arguments) -> Id {
        let id = self.begin();
        append(&mut self.text, text);
        self.text.push_str(";\n");
        id
    }

    /// The whole section with the end of the file.
    pub(super) fn finish(mut self) -> String {
        self.text.push_str("ENDSEC;\nEND-ISO-10303-21;\n");
        self.text
    }

    fn begin(&mut self) -> Id {
        self.entities += 1;
        let id = Id(self.entities);
        append_id(&mut self.text, id);
        self.text.push('=');
        id
    }
}

/// Attributes of one entity, in the order of the schema.
pub(super) struct Attributes<'a> {
    text: &'a mut String,
    first: bool,
}

impl Attributes<'_> {
    pub(super) fn string(&mut self, s: &str) -> &mut Self {
        append_string(self.next(), s);
        self
    }

    pub(super) fn integer(&mut self, n: usize) -> &mut Self {
        append(self.next(), format_args!("{n}"));
        self
    }

    pub(super) fn real(&mut self, x: f64) -> &mut Self {
        append_real(self.next(), x);
        self
    }

    /// A list of reals.
    pub(super) fn reals(&mut self, numbers: [f64; 3]) -> &mut Self {
        self.list(&numbers, |text, &x| append_real(text, x))
    }

    pub(super) fn id(&mut self, id: Id) -> &mut Self {
        append_id(self.next(), id);
        self
    }

    /// A list of references.
    pub(super) fn ids(&mut self, ids: &[Id]) -> &mut Self {
        self.list(ids, |text, &id| append_id(text, id))
    }

    pub(super) fn flag(&mut self, is_so: bool) -> &mut Self {
        self.next().push_str(if is_so { ".T." } else { ".F." });
        self
    }

    /// A word of an enumeration.
    pub(super) fn word(&mut self, word: &str) -> &mut Self {
        append(self.next(), format_args!(".{word}."));
        self
    }

    /// An optional attribute that is left out.
    pub(super) fn unset(&mut self) -> &mut Self {
        self.next().push('$');
        self
    }

    /// An attribute that follows from others.
    pub(super) fn derived(&mut self) -> &mut Self {
        self.next().push('*');
        self
    }

    fn list<T>(&mut self, items: &[T], append_item: impl Fn(&mut String, &T)) -> &mut Self {
        let text = self.next();
        text.push('(');
        for (k, item) in items.iter().enumerate() {
            if k > 0 {
                text.push(',');
            }
            append_item(text, item);
        }
        text.push(')');
        self
    }

    fn next(&mut self) -> &mut String {
        if !std::mem::replace(&mut self.first, false) {
            self.text.push(',');
        }
        self.text
    }
}

/// A string in quotes.
pub(super) fn string(s: &str) -> String {
    let mut text = String::new();
    append_string(&mut text, s);
    text
}

/// Quotes and backslashes are doubled; what is not printable ASCII is written by its code point.
fn append_string(text: &mut String, s: &str) {
    text.push('\'');
    for c in s.chars() {
        match c {
            '\'' => text.push_str("''"),
            '\\' => text.push_str("\\\\"),
            ' '..='~' => text.push(c),
            c => match u32::from(c) {
                point @ 0..0x1_0000 => append(text, format_args!("\\X2\\{point:04X}\\X0\\")),
                point => append(text, format_args!("\\X4\\{point:08X}\\X0\\")),
            },
        }
    }
    text.push('\'');
}

/// Smaller numbers are rounding noise around 0, in mm as in directions.
const NOISE: f64 = 1e-12;

/// The shortest digits that give the same number again, in the form the standard wants: with a point,
/// and a capital E.
fn append_real(text: &mut String, x: f64) {
    let start = text.len();
    if x.abs() < NOISE {
        text.push_str("0.");
        return;
    }
    append(text, format_args!("{x:?}"));
    match text[start..].find('e') {
        Some(e) => {
            let has_point = text[start..start + e].contains('.');
            text.replace_range(start + e..=start + e, if has_point { "E" } else { ".E" });
        }
        None if text.ends_with(".0") => {
            text.pop();
        }
        None => {}
    }
}

fn append_id(text: &mut String, id: Id) {
    append(text, format_args!("{id}"));
}

fn append(text: &mut String, arguments: fmt::Arguments) {
    text.write_fmt(arguments).expect("writing to a string does not fail");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reals_have_a_point_and_read_back_exactly() {
        let cases = [
            (0.0, "0."),
            (-0.0, "0."),
            (6.1e-17, "0."),
            (1.0, "1."),
            (-2.5, "-2.5"),
            (1e-7, "1.E-7"),
            (1.5e-7, "1.5E-7"),
            (1e16, "1.E16"),
            (0.1 + 0.2, "0.30000000000000004"),
        ];
        for (x, expected) in cases {
            let mut text = String::from("(");
            append_real(&mut text, x);
            assert_eq!(text, format!("({expected}"));
            let read: f64 = text[1..].parse().expect("a number");
            assert!((read - x).abs() < NOISE);
        }
    }

    #[test]
    fn attributes_are_separated_by_commas() {
        let mut data = Data::with_capacity(0);
        let first = data.entity("A", |_| {});
        data.entity("B", |a| {
            a.string("x").integer(3).reals([1.0, 2.0, 3.0]).ids(&[first, first]).flag(true);
            a.word("BOTH").unset().derived();
        });
        assert!(
            data.finish().starts_with("#1=A();\n#2=B('x',3,(1.,2.,3.),(#1,#1),.T.,.BOTH.,$,*);\n")
        );
    }
}
