//! Pages and documents.

use glam::DVec2;

use crate::figure::Figure;
use crate::part::Part;

/// A document: pages with what they are called.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    /// Its title, also for the reader's window.
    pub title: String,
    /// Whose it is; may be empty.
    pub author: String,
    /// Day of issue as `2026-11-26`, when the maker gave one.
    pub date: Option<String>,
    /// Language, as in BCP 47: `en`.
    pub language: &'static str,
    /// Its pages.
    pub pages: Vec<Page>,
}

/// One page.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// What is on it; its size is the paper's.
    pub figure: Figure,
    /// For the outline that readers show beside the pages: words and depth, 1 for the first.
    pub bookmarks: Vec<(u8, String)>,
    /// What its marks are, in the order of reading. None for a drawing, which is one figure.
    pub parts: Vec<Part>,
}

/// Paper to print on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperForm {
    /// ISO 216: text on A4 upright, drawings on A3 lying or A4 upright.
    A,
    /// US: text on Letter upright, drawings on Tabloid lying or Letter upright.
    Us,
}

impl PaperForm {
    /// Upright paper for text, width and height, mm.
    pub fn text(self) -> DVec2 {
        match self {
            Self::A => DVec2::new(210.0, 297.0),
            Self::Us => DVec2::new(215.9, 279.4),
        }
    }

    /// Lying paper for drawings, width and height, mm.
    pub fn drawing(self) -> DVec2 {
        match self {
            Self::A => DVec2::new(420.0, 297.0),
            Self::Us => DVec2::new(431.8, 279.4),
        }
    }

    /// What the paper of [`text`](Self::text) is called.
    pub fn text_name(self) -> &'static str {
        match self {
            Self::A => "A4",
            Self::Us => "Letter",
        }
    }

    /// What the paper of [`drawing`](Self::drawing) is called.
    pub fn drawing_name(self) -> &'static str {
        match self {
            Self::A => "A3",
            Self::Us => "Tabloid",
        }
    }
}
