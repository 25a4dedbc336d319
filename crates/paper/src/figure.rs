//! What is drawn: outlines, words and pictures at fixed places.

use glam::DVec2;

/// Red, green, blue, sRGB.
pub type Colour = [u8; 3];

/// Marks within a rectangle, from its upper left corner; later ones lie over earlier ones.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figure {
    /// Width and height, mm.
    pub size: DVec2,
    /// What is drawn.
    pub marks: Vec<Mark>,
}

/// One thing on paper.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A line or an area.
    Outline(Outline),
    /// Words on one line.
    Words {
        /// Where their anchor is: on the base line.
        at: DVec2,
        /// The words.
        text: String,
        /// Their look.
        lettering: Lettering,
        /// Which of their places lies at `at`.
        anchor: Anchor,
        /// By how much they are turned about `at`, counter-clockwise as seen, degrees: 90 reads from below.
        turned_deg: f64,
    },
    /// A picture as PNG, drawn to fill a rectangle.
    Picture {
        /// Upper left corner.
        at: DVec2,
        /// Width and height.
        size: DVec2,
        /// The bytes of the file.
        png: std::sync::Arc<[u8]>,
        /// What it shows, for who cannot see it.
        alt: String,
    },
}

/// A path of straight and round pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// Pieces, each beginning where the one before it ends; several loops make holes (even-odd).
    pub loops: Vec<Vec<Piece>>,
    /// Whether each loop is closed.
    pub is_closed: bool,
    /// Its line.
    pub stroke: Option<Stroke>,
    /// Its inside.
    pub fill: Option<Colour>,
}

/// A piece of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Piece {
    /// Straight.
    Line {
        /// From here.
        from: DVec2,
        /// To here.
        to: DVec2,
    },
    /// Part of a circle.
    Arc {
        /// The circle's centre.
        centre: DVec2,
        /// From here.
        from: DVec2,
        /// Angle that it turns through, rad; positive from x towards y, which is clockwise as seen.
        sweep: f64,
    },
}

/// How a line is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// Width, mm.
    pub width: f64,
    /// Colour.
    pub colour: Colour,
    /// Lengths of dashes and gaps, mm; empty for a whole line.
    pub dashes: Vec<f64>,
}

/// How words look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lettering {
    /// Height of a capital letter, mm: the nominal size of ISO 3098.
    pub capital_mm: f64,
    /// Whether they are bold.
    pub is_bold: bool,
    /// Colour.
    pub colour: Colour,
}

/// Which place of a line of words lies at its anchor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}
