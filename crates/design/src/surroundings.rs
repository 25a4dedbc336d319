//! The cabinet around the sump as solids in the sump's frame.

mod contents;
mod panels;
mod pipes_above;
mod room;

use glam::{DAffine3, DVec2, DVec3, dvec3};
use params::{Cabinet, CabinetSide, DrainAbove};
use plate::{Contour, Plate, Shape};

use crate::draft::{Builder, untaken};
use crate::enclosure::Enclosure;
use crate::rounding::without_rounding;

/// What stands around the sump. All lengths in mm, in the sump's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Surroundings {
    /// Least and greatest corner of the cabinet's clear inside. Without a ceiling it reaches up to where its walls end.
    pub inside: [DVec3; 2],
    /// Whether something closes it above.
    pub has_ceiling: bool,
    /// Height of its floor; the sump stands on a mat above it.
    pub floor_z: f64,
    /// Panels, posts, shelves, fixtures, pipes.
    pub things: Vec<Surrounding>,
    /// Hoses that come down from the display to drain pipes.
    pub hoses: Vec<HoseAbove>,
    /// Doors and other openings.
    pub openings: Vec<Opening>,
}

/// The room that the hose of a drain takes when nobody bends it aside: straight up from the drain pipe's upper end.
#[derive(Clone, Debug, PartialEq)]
pub struct HoseAbove {
    /// Name of the drain pipe's part: `drain main`.
    pub drain: String,
    /// Path of the parameter that says it is a hose.
    pub parameter: String,
    /// Its middle, in the sump's x and y.
    pub middle: DVec2,
    /// Its outer diameter, taken to be that of the pipe.
    pub diameter_mm: f64,
    /// Heights of its ends.
    pub z: [f64; 2],
}

/// Something around the sump that is fixed.
#[derive(Clone, Debug, PartialEq)]
pub struct Surrounding {
    /// What it is called, unique among them: `cabinet ceiling`, `post left`.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// What it is.
    pub kind: SurroundingKind,
    /// Whether it can be taken out: a shelf that the file says so of.
    pub is_removable: bool,
    /// Its shape in its own frame. A panel has its openings cut out; where they cut it in two, each piece is
    /// one of its own.
    pub shape: Shape,
    /// From its own frame to the sump's: a rotation and a move.
    pub pose: DAffine3,
}

/// What something around the sump is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SurroundingKind {
    /// A panel of the cabinet: floor, wall, ceiling.
    Panel,
    /// The mat or board under the sump.
    Mat,
    /// A post.
    Post,
    /// A shelf.
    Shelf,
    /// Whatever else is fixed.
    Fixture,
    /// A pipe that comes down from the display to a drain's upper end.
    PipeAbove,
}

/// An opening of the cabinet.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// Path of its parameter.
    pub parameter: String,
    /// The side it is in.
    pub side: CabinetSide,
    /// Unit vector out of the cabinet.
    pub out: DVec3,
    /// Least and greatest corner of the gap in the panel, through its thickness.
    pub gap: [DVec3; 2],
}

/// The cabinet in the sump's frame, if the file has one.
pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure) -> Option<Surroundings> {
    let spec = b.file.cabinet.as_ref()?;
    let frame = Frame::new(spec, enclosure.outside);
    room::check_place(b, &frame, enclosure);
    let pipes = pipes_above::find(b, &frame, DrainAbove::Rigid);
    let hoses = pipes_above::hoses(b, &frame, enclosure.floor_z);
    let mut things = Things::default();
    let openings = panels::add(&mut things, &frame, &pipes);
    contents::add(b, &mut things, &frame, enclosure);
    pipes_above::add(&mut things, &frame, &pipes);
    let things = things.named_apart(|name| b.drafts.iter().any(|d| d.name == name));
    Some(Surroundings {
        inside: frame.inside,
        has_ceiling: spec.ceiling,
        floor_z: frame.inside[0].z,
        things,
        hoses,
        openings,
    })
}

/// The cabinet of the file, and where its inside is in the sump's frame.
struct Frame<'f> {
    spec: &'f Cabinet,
    inside: [DVec3; 2],
    panel_mm: f64,
}

impl<'f> Frame<'f> {
    fn new(spec: &'f Cabinet, sump: DVec3) -> Self {
        let size = dvec3(
            spec.inside.length.to_mm(),
            spec.inside.width.to_mm(),
            spec.inside.height.to_mm(),
        );
        let [x, y] = match spec.sump_at {
            Some(at) => at.map(units::Length::to_mm),
            None => [size.x - sump.x, size.y - sump.y].map(|room| without_rounding(0.5 * room)),
        };
        let least = -dvec3(x, y, spec.mat.to_mm());
        Self { spec, inside: [least, least + size], panel_mm: spec.panel.to_mm() }
    }

    /// A place that the file gives by its distances from the cabinet's inlet end, front and floor.
    fn at(&self, place: [units::Length; 3]) -> DVec3 {
        self.inside[0] + size(place)
    }
}

/// A size along the sump, from front to back, upwards.
fn size(lengths: [units::Length; 3]) -> DVec3 {
    DVec3::from_array(lengths.map(units::Length::to_mm))
}

/// Collects what stands around the sump.
#[derive(Default)]
struct Things(Vec<Surrounding>);

impl Things {
    fn add(
        &mut self,
        kind: SurroundingKind,
        name: impl Into<String>,
        parameter: impl Into<String>,
        shape: Shape,
        pose: DAffine3,
    ) {
        let (name, parameter) = (name.into(), parameter.into());
        self.0.push(Surrounding { name, parameter, kind, is_removable: false, shape, pose });
    }

    /// A box between two corners.
    fn block(
        &mut self,
        kind: SurroundingKind,
        name: impl Into<String>,
        parameter: impl Into<String>,
        [lo, hi]: [DVec3; 2],
    ) {
        let size = hi - lo;
        let plate = Plate::new(Contour::rectangle(DVec2::ZERO, size.truncate()), size.z);
        self.add(kind, name, parameter, Shape::Sheet(plate), DAffine3::from_translation(lo));
    }

    /// A name that is taken, here or among the parts of the sump, gets a number.
    fn named_apart(mut self, is_part: impl Fn(&str) -> bool) -> Vec<Surrounding> {
        for i in 0..self.0.len() {
            let (before, rest) = self.0.split_at_mut(i);
            let is_taken = |name: &str| is_part(name) || before.iter().any(|t| t.name == name);
            rest[0].name = untaken(&rest[0].name, is_taken);
        }
        self.0
    }
}
