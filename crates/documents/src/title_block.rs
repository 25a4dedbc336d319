//! The title block, with the fields of ISO 7200.
//!
//! From memory of ISO 7200:2004: at most 180 mm wide; legal owner, identification number, date of issue, sheet, title,
//! approval, creator and document type must be there, revision, language and a supplementary title may. Scale, paper and
//! general tolerance stand below, in our own arrangement. A field that the file leaves empty stays an empty line, to be
//! filled in by hand. No conformity is claimed.

use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Stroke, style};
use params::Papers;

use crate::drawing_sheet::{LETTERS, NAMES, fitted, narrow};

/// Its size, mm.
pub(crate) const SIZE: DVec2 = DVec2::new(180.0, 38.0);

/// What stands in it.
#[derive(Clone, Debug)]
pub(crate) struct TitleBlock<'a> {
    /// Fields that come from the file.
    pub(crate) papers: &'a Papers,
    /// What kind of paper it is.
    pub(crate) kind: &'a str,
    /// What is drawn.
    pub(crate) title: &'a str,
    /// What that is a part of.
    pub(crate) project: &'a str,
    /// Its number.
    pub(crate) number: &'a str,
    /// Which sheet of how many.
    pub(crate) sheet: [usize; 2],
    /// As `1:5`.
    pub(crate) scale: &'a str,
    /// What the paper is called.
    pub(crate) paper: &'a str,
    /// Unit of lengths.
    pub(crate) unit: &'a str,
    /// What holds where no tolerance is written.
    pub(crate) tolerance: &'a str,
}

impl TitleBlock<'_> {
    /// Draws it with its lower right corner here.
    pub(crate) fn draw(&self, figure: &mut Figure, corner: DVec2) {
        let at = corner - SIZE;
        figure.rectangle(at, corner, Some(Stroke::whole(0.5, style::INK)), None);
        let papers = self.papers;
        let sheet = format!("{} / {}", self.sheet[0], self.sheet[1]);
        // Rows of 9.5 mm: name of the field, its words, from where and how wide.
        let rows: [&[(&str, &str, f64, f64)]; 4] = [
            &[("Legal owner", &papers.owner, 0.0, 70.0), ("Title", self.title, 70.0, 110.0)],
            &[
                ("Created by", &papers.creator, 0.0, 35.0),
                ("Approved by", &papers.approved, 35.0, 35.0),
                ("Supplementary title", self.project, 70.0, 110.0),
            ],
            &[
                ("Document type", self.kind, 0.0, 35.0),
                ("Date of issue", &papers.date, 35.0, 35.0),
                ("Identification number", self.number, 70.0, 60.0),
                ("Rev.", &papers.revision, 130.0, 15.0),
                ("Sheet", &sheet, 145.0, 20.0),
                ("Lang.", "en", 165.0, 15.0),
            ],
            &[
                ("Scale", self.scale, 0.0, 20.0),
                ("Paper", self.paper, 20.0, 15.0),
                ("Lengths in", self.unit, 35.0, 35.0),
                ("General tolerance", self.tolerance, 70.0, 110.0),
            ],
        ];
        let height = 0.25 * SIZE.y;
        let mut y = at.y;
        for row in rows {
            for (name, words, x, width) in row {
                let x = at.x + x;
                if x > at.x {
                    figure.line(dvec2(x, y), dvec2(x, y + height), narrow());
                }
                figure.words(dvec2(x + 1.2, y + 3.0), *name, NAMES, Anchor::Start);
                if !words.is_empty() {
                    let lettering = if *name == "Title" { LETTERS.bold() } else { LETTERS };
                    let (words, lettering) = fitted(words, lettering, width - 2.4);
                    figure.words(dvec2(x + 1.2, y + height - 2.0), words, lettering, Anchor::Start);
                }
            }
            if y > at.y {
                figure.line(dvec2(at.x, y), dvec2(corner.x, y), narrow());
            }
            y += height;
        }
    }
}
