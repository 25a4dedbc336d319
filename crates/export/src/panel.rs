//! A flat part as a shop gets it.

use plate::FlatPattern;

/// What is written for one panel, for however many equal ones are wanted.
#[derive(Clone, Copy, Debug)]
pub struct Panel<'a> {
    /// Number in the cut list.
    pub number: &'a str,
    /// What the panel is called.
    pub name: &'a str,
    /// What it is a part of.
    pub project: &'a str,
    /// The material in words.
    pub material: &'a str,
    /// Thickness that the panel is drawn for, mm.
    pub thickness_mm: f64,
    /// Which sheet to order, in words: `order 8 mm sheet (measured 7.7 to 8 mm)`.
    pub order: &'a str,
    /// Where the upper face is in the finished thing, a sentence; may be empty.
    pub facing: &'a str,
    /// Depth of all engraving in mm, where it is known.
    pub engraving_mm: Option<f64>,
    /// How many of them are wanted.
    pub quantity: usize,
    /// What the shop must know besides, a sentence each.
    pub notes: &'a [String],
    /// What is cut, pocketed and engraved, in the panel's own x and y, seen from its upper face.
    pub pattern: &'a FlatPattern,
}
