//! Why a picture could not be made.

/// Why a picture could not be made or read.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// The size is none that a picture can have.
    #[error(
        "a picture cannot be {width} × {height} pixels; each side must be between {LEAST_SIDE} and {MOST_SIDE}"
    )]
    Size {
        /// Width, px.
        width: usize,
        /// Height, px.
        height: usize,
    },
    /// There are not as many meshes as pieces.
    #[error("there are {meshes} meshes for {pieces} pieces; each piece needs one")]
    Meshes {
        /// How many meshes there are.
        meshes: usize,
        /// How many pieces there are.
        pieces: usize,
    },
    /// The part of a film strip is not there.
    #[error(
        "`{name}` cannot be drawn on its way out: it is no removable part of this design and scene"
    )]
    NoPart {
        /// What it is called.
        name: String,
    },
    /// A step of gluing without anything new to be seen.
    #[error("a step of gluing cannot be drawn: nothing that is new in it is in this scene")]
    NothingNew,
    /// A PNG could not be written.
    #[error("the picture could not be written as PNG")]
    Write(#[source] png::EncodingError),
    /// A PNG could not be read.
    #[error("the picture could not be read as PNG")]
    Read(#[source] png::DecodingError),
    /// A PNG is of a kind that is not compared.
    #[error("the PNG does not have 8 bits for each of red, green and blue")]
    Depth,
}

/// Least side of a picture, px: labels need some room.
pub const LEAST_SIDE: usize = 240;
/// Greatest side of a picture, px.
pub const MOST_SIDE: usize = 8192;
