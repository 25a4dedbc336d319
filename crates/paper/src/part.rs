//! What the marks of a page are, for readers that read aloud or let words flow anew.

use std::ops::Range;

/// Marks of a page that are one thing, in the order in which they are read. What is in no part is decoration: rules,
/// frames, head and foot of a page.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Which marks of the page's figure.
    pub marks: Range<usize>,
    /// What they are.
    pub tag: Tag,
}

/// What something is. Parts of equal tag that follow each other are one thing, if need be on two pages.
#[derive(Clone, Debug, PartialEq)]
pub struct Tag {
    /// Number of the heading, paragraph, list, table or figure in its document.
    pub thing: usize,
    /// What of it.
    pub role: Role,
}

/// What a part is of its thing.
#[derive(Clone, Debug, PartialEq)]
pub enum Role {
    /// A heading of this level, with its words.
    Heading(u8, String),
    /// A paragraph.
    Words,
    /// The number before the nth item of a list.
    Label(usize),
    /// The words of the nth item of a list.
    Item(usize),
    /// Head of a column of a table.
    Head(usize),
    /// A cell of a table, row and column.
    Cell(usize, usize),
    /// A figure, with words for who does not see it.
    Figure(String),
}
