//! A flat part as a shop gets it.

use plate::FlatPattern;

/// What is written for one panel, for however many equal ones are wanted.
#[derive(Clone, Copy, Debug)]
pub struct Panel<'a> {
    /// Number in the cut list.
    pub number: &'a str,
    /// What the panel is called.
    pub name: &'a str,
    /// The material in words.
    pub material: &'a str,
    /// Thickness of the sheet in mm.
    pub thickness_mm: f64,
    /// How many of them are wanted.
    pub quantity: usize,
    /// What the shop must know besides, a sentence each.
    pub notes: &'a [String],
    /// What is cut, pocketed and engraved, in the panel's own x and y, seen from its upper face.
    pub pattern: &'a FlatPattern,
}
