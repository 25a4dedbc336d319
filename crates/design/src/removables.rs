//! What can be taken out of the sump, and what must be undone before.

use crate::draft::Builder;
use crate::model::{PlacedId, SpareId};

/// Index into [`Design::removables`](crate::Design::removables).
pub type RemovableId = usize;

/// Something that is taken out as one.
#[derive(Clone, Debug, PartialEq)]
pub struct Removable {
    /// What it is called, unique: `leaf comb`, `sock inlet 1`.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// What it is.
    pub kind: RemovableKind,
    /// What moves with it. Empty for a leaf that is not in.
    pub parts: Vec<PlacedId>,
    /// Of a leaf that is not in: what moves with it.
    pub spares: Vec<SpareId>,
    /// Of a leaf that is not in: which removable stands in its place.
    pub instead_of: Option<RemovableId>,
    /// Small parts that are undone by hand before it moves, and are out of the way then.
    pub undone: Vec<PlacedId>,
    /// The same for a leaf that is not in.
    pub undone_spares: Vec<SpareId>,
    /// What is undone, in words: `take off its 2 knobs and screws`.
    pub undo: Option<String>,
    /// The chamber that it stands in, or that it is named with, if there is one.
    pub chamber: Option<String>,
}

/// What a removable is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RemovableKind {
    /// A lift-out leaf, with its door.
    Leaf,
    /// A door, off its leaf.
    Door,
    /// A filter sock.
    Sock,
    /// The shelf that holds socks, with its rings.
    SockHolder,
    /// A loose drain pipe.
    DrainPipe,
    /// A pump, skimmer, heater, probe …
    Equipment,
    /// A lid.
    Lid,
    /// A shelf of the cabinet that can be taken out.
    CabinetShelf,
    /// The sump itself, empty.
    Sump,
}

impl RemovableKind {
    /// The kind in words, for lists.
    pub fn words(self) -> &'static str {
        match self {
            Self::Leaf => "lift-out leaf",
            Self::Door => "door",
            Self::Sock => "filter sock",
            Self::SockHolder => "sock holder",
            Self::DrainPipe => "drain pipe",
            Self::Equipment => "equipment",
            Self::Lid => "lid",
            Self::CabinetShelf => "cabinet shelf",
            Self::Sump => "sump",
        }
    }
}

/// Collects what can be taken out, in the order in which it stands in the file.
pub(crate) fn build(_b: &Builder<'_>) -> Vec<Removable> {
    Vec::new()
}
