//! The pairs of group code and value that a DXF file is a list of.

use std::fmt::Write;

use crate::decimal::{coordinate, decimal};

/// A growing list of tags.
#[derive(Debug)]
pub(super) struct Tags(String);

impl Tags {
    pub(super) const fn new() -> Self {
        Self(String::new())
    }

    pub(super) fn append(&mut self, other: Self) {
        self.0 += &other.0;
    }

    pub(super) fn into_text(self) -> String {
        self.0
    }

    /// A tag whose value is a word. It must be ASCII: the version knows no other encoding that is
    /// the same everywhere. Layer names and everything else here are our own words.
    pub(super) fn word(&mut self, code: u16, value: &str) {
        debug_assert!(value.is_ascii() && !value.contains('\n'), "not a word: {value:?}");
        self.tag(code, value);
    }

    pub(super) fn integer(&mut self, code: u16, value: usize) {
        self.tag(code, &value.to_string());
    }

    /// A handle: a hexadecimal number that is the name of an object or refers to it.
    pub(super) fn handle(&mut self, code: u16, handle: u32) {
        self.tag(code, &format!("{handle:X}"));
    }

    /// A length in mm.
    pub(super) fn length(&mut self, code: u16, mm: f64) {
        self.tag(code, &with_point(coordinate(mm)));
    }

    /// A number without a unit, to ten decimals.
    pub(super) fn number(&mut self, code: u16, value: f64) {
        self.tag(code, &with_point(decimal(value, 10)));
    }

    /// A point; the codes of `y` and `z` are 10 and 20 higher than that of `x`.
    pub(super) fn point(&mut self, code: u16, coordinates: &[f64]) {
        for (code, &mm) in (code..).step_by(10).zip(coordinates) {
            self.length(code, mm);
        }
    }

    fn tag(&mut self, code: u16, value: &str) {
        writeln!(self.0, "{code:>3}\n{value}").expect("writing to a String does not fail");
    }
}

/// Some readers take a number without a point for an integer.
fn with_point(mut number: String) -> String {
    if !number.contains('.') {
        number += ".0";
    }
    number
}
