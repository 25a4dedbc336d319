//! What a design is: plain data.

use std::collections::BTreeMap;

use fittings::PrintNotes;
use glam::{DAffine3, DVec2, DVec3};
use params::Material;
use plate::Shape;
use units::System;

use crate::removables::Removable;
use crate::surroundings::Surroundings;
use crate::waterworks::Waterworks;

/// Index into [`Design::pieces`].
pub type PieceId = usize;
/// Index into [`Design::placed`].
pub type PlacedId = usize;
/// Index into [`Design::spares`].
pub type SpareId = usize;

/// A resolved sump.
#[derive(Clone, Debug)]
pub struct Design {
    /// What the sump is called.
    pub title: String,
    /// Units that reports are written in.
    pub report: System,
    /// Outer size of the box along x, y, z, mm.
    pub outside: DVec3,
    /// Height of the inside of the bottom above the underside, mm. Heights in the parameter file count from here.
    pub floor_z: f64,
    /// Sheets, by name.
    pub sheets: BTreeMap<String, Sheet>,
    /// Things to make or buy, each described once. The order is the cut list's.
    pub pieces: Vec<Piece>,
    /// Pieces in their places. A piece that is a spare (an interchangeable leaf that is not in) has none, nor has one
    /// that is only made: a jig.
    pub placed: Vec<Placed>,
    /// Spares in the places that they would have if they were in: an interchangeable leaf with all that
    /// is fixed to it.
    pub spares: Vec<Placed>,
    /// Which placed pieces touch, and how.
    pub joints: Vec<Joint>,
    /// Chambers in flow order.
    pub chambers: Vec<Chamber>,
    /// Water standing in the chambers and between leaves.
    pub waters: Vec<WaterBody>,
    /// What holds the water, what it passes, and the system around the sump.
    pub waterworks: Waterworks,
    /// What can be taken out.
    pub removables: Vec<Removable>,
    /// The cabinet around the sump; `None` when the sump stands free.
    pub surroundings: Option<Surroundings>,
    /// By what fit is judged.
    pub fit: params::Fit,
    /// What reaches into the sump.
    pub reach: params::Reach,
    /// Most that one person lifts, kg.
    pub one_lifts_kg: f64,
}

/// A sheet as bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Name in the file.
    pub name: String,
    /// Material.
    pub material: Material,
    /// Thickness as ordered, mm.
    pub nominal_mm: f64,
    /// Least and greatest thickness to reckon with, mm: measured, or the standard's band.
    pub band_mm: [f64; 2],
    /// Whether the band was measured.
    pub is_measured: bool,
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// Where the density and the band come from.
    pub source: &'static str,
    /// How it looks.
    pub look: Look,
}

impl Sheet {
    /// The thickness that solids are built with, mm: the middle of the band when measured, else as ordered.
    pub fn thickness_mm(&self) -> f64 {
        let mm = if self.is_measured {
            0.5 * (self.band_mm[0] + self.band_mm[1])
        } else {
            self.nominal_mm
        };
        crate::rounding::without_rounding(mm)
    }
}

/// Colour and clearness.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// Red, green, blue, sRGB.
    pub colour: [u8; 3],
    /// Whether one sees through it.
    pub is_clear: bool,
}

/// What a piece is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// The bottom.
    Bottom,
    /// A wall of the box.
    Wall,
    /// The rim with its braces.
    Rim,
    /// A leaf of a divider.
    Leaf,
    /// A door on a leaf.
    Door,
    /// A glued guide strip.
    GuideStrip,
    /// A printed guide channel.
    GuideChannel,
    /// The shelf that holds socks.
    SockHolder,
    /// A ledge that a shelf rests on.
    Ledge,
    /// A printed sock ring.
    SockRing,
    /// A printed knob.
    Knob,
    /// A printed fitting with a place of its own: a clip, a holder, a foot.
    Fitting,
    /// A printed tool for the workshop: it has no place in the sump.
    Jig,
    /// A screw.
    Screw,
    /// A lid.
    Lid,
    /// A filter sock.
    Sock,
    /// A through-wall fitting.
    WallFitting,
    /// A loose drain pipe.
    DrainPipe,
    /// A pump, skimmer, heater, probe …
    Equipment,
}

impl Role {
    /// Whether the maker has it cut from sheet.
    pub fn is_sheet(self) -> bool {
        use Role::{Bottom, Door, GuideStrip, Leaf, Ledge, Lid, Rim, SockHolder, Wall};
        matches!(self, Bottom | Wall | Rim | Leaf | Door | GuideStrip | SockHolder | Ledge | Lid)
    }

    /// Whether the maker prints it.
    pub fn is_printed(self) -> bool {
        use Role::{Fitting, GuideChannel, Jig, Knob, SockRing};
        matches!(self, GuideChannel | SockRing | Knob | Fitting | Jig)
    }

    /// Whether it is bought.
    pub fn is_bought(self) -> bool {
        !self.is_sheet() && !self.is_printed()
    }

    /// The role in words, for lists.
    pub fn words(self) -> &'static str {
        match self {
            Self::Bottom => "bottom",
            Self::Wall => "wall",
            Self::Rim => "rim",
            Self::Leaf => "leaf",
            Self::Door => "door",
            Self::GuideStrip => "guide strip",
            Self::GuideChannel => "guide channel",
            Self::SockHolder => "sock holder",
            Self::Ledge => "ledge",
            Self::SockRing => "sock ring",
            Self::Knob => "knob",
            Self::Fitting => "fitting",
            Self::Jig => "jig",
            Self::Screw => "screw",
            Self::Lid => "lid",
            Self::Sock => "filter sock",
            Self::WallFitting => "wall fitting",
            Self::DrainPipe => "drain pipe",
            Self::Equipment => "equipment",
        }
    }
}

/// A thing to make or buy, described once however often it is used.
#[derive(Clone, Debug)]
pub struct Piece {
    /// Number in the cut list: `01`, `02` …, unique.
    pub number: String,
    /// Name: letters of the file's names, unique among pieces.
    pub name: String,
    /// Path of the parameter it comes from.
    pub parameter: String,
    /// What it is for.
    pub role: Role,
    /// Its shape in its own frame.
    pub shape: Shape,
    /// Name of the sheet it is cut from, for sheet pieces.
    pub sheet: Option<String>,
    /// What it is made of, in words: `cast acrylic`, `printed`, `bought`.
    pub material: String,
    /// Density, kg/m³, where it is known; of equipment whose weight the file gives, the mean of all its bodies.
    pub density_kg_m3: Option<f64>,
    /// How it looks.
    pub look: Look,
    /// How many are needed, spares included.
    pub quantity: usize,
    /// Whether this is a spare that is not in its place: another leaf for the same slot.
    pub is_spare: bool,
    /// How many of them are made and have no place in the sump: jigs, and fittings in store.
    pub only_made: usize,
    /// For a further body of a bought thing that has several: its main body. It is no line of a list
    /// of its own.
    pub body_of: Option<PieceId>,
    /// What to know when making or buying it; may be empty.
    pub notes: Vec<String>,
    /// For what is printed: how it lies on the bed, one of the notes in words, and what it mates.
    pub print: Option<PrintNotes>,
}

/// A piece in its place.
#[derive(Clone, Debug)]
pub struct Placed {
    /// Which piece.
    pub piece: PieceId,
    /// Name of this one, unique: `guide strip first 2`.
    pub name: String,
    /// Path of the parameter it comes from.
    pub parameter: String,
    /// Of a leaf, and of its door with screws and knobs: the leaf's name in the file.
    pub leaf: Option<String>,
    /// From the piece's own frame to the sump's: a rotation and a move.
    pub pose: DAffine3,
    /// Where it belongs when it is loose: `None` for what is glued in.
    pub loose: Option<Loose>,
    /// Boxes `[min, max]` in the sump's frame that must stay free for service. Nothing fixed may stand in
    /// them, and what is loose must be taken out first. Of equipment they are told with its main body: around
    /// each of its bodies but not its stubs, and above those that reach its upper end.
    pub service: Vec<[DVec3; 2]>,
}

/// That a placed piece can be taken out, and how high above its place a picture draws it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loose {
    /// How far above its place it is drawn in an exploded view, mm.
    pub lift_mm: f64,
}

/// Two placed pieces that touch by design.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// One piece.
    pub a: PlacedId,
    /// The other.
    pub b: PlacedId,
    /// How they meet.
    pub kind: JointKind,
    /// Length of the joint, mm; 0 for loose contact.
    pub length_mm: f64,
    /// Width of the bonded strip, mm; 0 for loose contact.
    pub width_mm: f64,
    /// Which face or edge of `a` meets which of `b`, in words: `lower edge`, `upper face`.
    pub faces: [String; 2],
}

/// How two pieces meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum JointKind {
    /// Glued, edge or face against a plain face.
    Butt,
    /// Glued, an edge in a step along the other's edge.
    Rabbet,
    /// Glued, an edge in a groove.
    Dado,
    /// Rests, loose.
    Rests,
    /// Slides, with clearance.
    Slides,
    /// Clamped by a screw, or pressed in.
    Clamped,
    /// A printed fitting that is stuck to a face with an adhesive, once the box stands: no part of the glue-up.
    Stuck,
}

impl JointKind {
    /// Whether it is solvent-welded.
    pub fn is_glued(self) -> bool {
        matches!(self, Self::Butt | Self::Rabbet | Self::Dado)
    }
}

/// A space between dividers.
#[derive(Clone, Debug)]
pub struct Chamber {
    /// Name in the file.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// Least corner of its clear floor, mm, in the sump's x, y.
    pub min: DVec2,
    /// Greatest corner.
    pub max: DVec2,
    /// Height at which its water stands, above the inside of the bottom, mm: the lowest crest that
    /// holds it, until the flow is reckoned with.
    pub level_mm: f64,
    /// What decides the level, in words.
    pub level_reason: String,
}

/// Water standing between dividers or leaves, as a box.
#[derive(Clone, Debug)]
pub struct WaterBody {
    /// Name of the chamber or the space between leaves.
    pub name: String,
    /// Least corner, mm.
    pub min: DVec3,
    /// Greatest corner, mm: its top is the water's surface.
    pub max: DVec3,
}
