//! Pages: lines, arcs, words, tables and pictures, and how they flow from page to page.
//!
//! Knows millimetres, letters and paper. Knows no sump and no file format. All lengths in mm; on a page x runs to the
//! right and y **down**, from its upper left corner.

mod block;
mod figure;
mod page;

pub use block::{Align, Block, Caution, Column, Table};
pub use figure::{Anchor, Colour, Figure, Lettering, Mark, Outline, Piece, Stroke};
pub use page::{Document, Page, PaperForm};
