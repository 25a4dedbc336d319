//! What flows: headings, words, lists, tables and pictures, which find their places on pages by themselves.

use crate::figure::Figure;

/// A piece of a text that flows from page to page.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading; 1 is the title of a document, 2 a chapter, 3 a part of one. It stays with what follows it.
    Heading(u8, String),
    /// A paragraph.
    Words(String),
    /// A list with a dot before each.
    Items(Vec<String>),
    /// A list with a box before each, to be ticked by hand.
    Boxes(Vec<String>),
    /// A list with numbers, from this one on.
    Numbered(usize, Vec<String>),
    /// A table. Its head is repeated on every page that it reaches.
    Table(Table),
    /// A figure with words below it, not parted from them. Drawn at its own size, or made smaller to fit the width when
    /// it may be.
    Figure {
        /// What is drawn.
        figure: Figure,
        /// Whether it may be made smaller: not when it has a scale.
        may_shrink: bool,
        /// Words below; may be empty.
        caption: String,
    },
    /// Words of caution, in a frame.
    Caution(Caution),
    /// What must not be parted by the end of a page, if it fits on one.
    Together(Vec<Self>),
    /// Side by side, each with its share of the width.
    Beside(Vec<(f64, Vec<Self>)>),
    /// What follows begins a new page.
    NewPage,
}

/// A warning where it counts.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// What may happen, in a few words: `Solvent fumes`.
    pub head: String,
    /// What to do.
    pub words: Vec<String>,
}

/// A table of words.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows: a cell for each column.
    pub rows: Vec<Vec<String>>,
    /// Whether the last row is a sum and set apart.
    pub has_sum: bool,
}

/// A column of a table. It is as wide as its words need; what is left of the page, or is missing, goes to those that may
/// wrap.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its head.
    pub head: String,
    /// To which side its cells keep.
    pub align: Align,
    /// Whether its cells may be broken into lines.
    pub may_wrap: bool,
}

/// To which side words keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// To the left: words.
    Left,
    /// To the right: numbers.
    Right,
}
