//! Pages: lines, arcs, words, tables and pictures, and how they flow from page to page.
//!
//! Knows millimetres, letters and paper. Knows no sump and no file format. All lengths in mm; on a page x runs to the
//! right and y **down**, from its upper left corner.
//!
//! ```
//! use paper::{Block, Form, PaperForm, flow};
//!
//! let blocks = [Block::Heading(1, "Glue-up".into()), Block::Words("Wipe every edge.".into())];
//! let pages = flow(&blocks, &Form::text(PaperForm::A, "Glue-up", "spare room"));
//! assert_eq!(pages.len(), 1);
//! ```

mod block;
mod draw;
mod figure;
mod flow;
pub mod font;
mod lines;
mod page;
mod part;
pub mod style;

pub use block::{Align, Block, Caution, Column, Table};
pub use figure::{Anchor, Colour, Figure, Lettering, Mark, Outline, Piece, Stroke};
pub use flow::{Form, flow};
pub use lines::{NO_BREAK, broken};
pub use page::{Document, Page, PaperForm};
pub use part::{Part, Role, Tag};
