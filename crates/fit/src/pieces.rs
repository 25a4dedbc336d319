//! Shapes as convex pieces: the same body drawn twice, once to measure by and once to plan by.

mod fill;
mod outline;
mod round;
mod sheet;
mod sweep;

use glam::{DAffine3, DVec2, DVec3};
use plate::{Arrangement, Shape, Tolerance, Turned, arrange};

use crate::convex::Convex;

/// How far a chord may lie from its arc, mm, in pieces for measuring.
pub const FINE_CHORD_MM: f64 = 0.02;
/// The same for planning, where something has little play beside the arc. Our judgement: a sock has 1 mm on each
/// side, of which its own arc and that of its ring leave half.
pub(crate) const COARSE_CHORD_MM: f64 = 0.25;
/// The same for planning around openings in which nothing is; our judgement: it costs room in their corners only.
pub(crate) const OPEN_CHORD_MM: f64 = 1.6;
/// The same where what is within has much play, of which the chords may take a quarter. Our judgement.
const WIDE_CHORD_MM: f64 = 4.0;
/// Share of the play that chords may take.
const SHARE_OF_PLAY: f64 = 0.25;
/// Openings of leaves, doors, walls and the bottom, and gaps between their teeth, are filled up for planning when they
/// are narrower than this and nothing is in them. Our judgement: nothing is taken out through a leaf or a wall, however
/// narrow it is, so that no way is lost by it; what is in an opening already keeps it open. The rim, lids, shelves and
/// cabinets, through which things do come out, keep all openings that any part could pass.
pub(crate) const NARROW_MM: f64 = 40.0;

/// What is within a box of the body's own frame and can move against the body: boxes around its pieces, within
/// that box.
pub(crate) type Occupants<'a> = &'a dyn Fn([DVec3; 2]) -> Vec<[DVec3; 2]>;

/// Whether narrow openings may be filled up for planning.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Openings {
    /// Something may be taken out through them, but for those that are smaller both ways than this, mm.
    Stay(f64),
    /// Nothing is ever taken out through them.
    Fill,
}

/// A shape ready to be taken apart.
pub(crate) enum Source<'a> {
    /// Cut from sheet.
    Sheet(Box<Arrangement>),
    /// Turned.
    Turned(&'a Turned),
    /// A shape that cannot be made, which is told of elsewhere: the box around it.
    Bounds([DVec3; 2]),
}

impl<'a> Source<'a> {
    /// Arranges the shape, if it is of sheet.
    pub(crate) fn of(shape: &'a Shape) -> Self {
        match shape {
            Shape::Sheet(plate) => match arrange(plate, &Tolerance::default()) {
                Ok(arrangement) => Self::Sheet(Box::new(arrangement)),
                Err(_) => {
                    let [lo, hi] = plate.outline.bounds().unwrap_or([DVec2::ZERO; 2]);
                    Self::Bounds([lo.extend(0.0), hi.extend(plate.thickness)])
                }
            },
            Shape::Turned(turned) if turned.check().is_ok() => Self::Turned(turned),
            Shape::Turned(turned) => {
                let (r, [z0, z1]) = turned.extent();
                Self::Bounds([DVec3::new(-r, -r, z0), DVec3::new(r, r, z1)])
            }
        }
    }

    /// Pieces to measure by, in the shape's own frame: all openings open, chords within
    /// [`FINE_CHORD_MM`] of their arcs.
    pub(crate) fn fine(&self) -> Vec<Convex> {
        match self {
            Self::Sheet(arrangement) => sheet::fine(arrangement),
            Self::Turned(turned) => round::fine(turned),
            Self::Bounds(bounds) => vec![Convex::block(*bounds)],
        }
    }

    /// Pieces to plan by, in the shape's own frame: few, and never smaller than the body itself. Arcs bulge outwards by
    /// [`COARSE_CHORD_MM`] at most; openings and gaps narrower than [`NARROW_MM`] with nothing in them are
    /// filled up where nothing is taken out through them.
    pub(crate) fn coarse(&self, openings: Openings, occupants: Occupants<'_>) -> Vec<Convex> {
        match self {
            Self::Sheet(arrangement) => sheet::coarse(arrangement, openings, occupants),
            Self::Turned(turned) => round::coarse(turned, occupants),
            Self::Bounds(bounds) => vec![Convex::block(*bounds)],
        }
    }
}

/// Of these boxes those that are within a round opening, not only within the square around it.
fn within_round(centre: DVec2, radius: f64, boxes: &[[DVec3; 2]]) -> Vec<[DVec3; 2]> {
    let is_within = |[lo, hi]: &&[DVec3; 2]| {
        let (lo, hi) = (lo.truncate(), hi.truncate());
        centre.clamp(lo, hi).distance(centre) < radius - FINE_CHORD_MM
    };
    boxes.iter().filter(is_within).copied().collect()
}

/// How far chords of a round opening may lie from it, when these things are within.
fn chord_error(centre: DVec2, radius: f64, boxes: &[[DVec3; 2]]) -> f64 {
    let within = within_round(centre, radius, boxes);
    if within.is_empty() {
        return OPEN_CHORD_MM;
    }
    let farthest = |[lo, hi]: &[DVec3; 2]| {
        let (lo, hi) = (lo.truncate() - centre, hi.truncate() - centre);
        lo.abs().max(hi.abs()).length()
    };
    let reach = within.iter().map(farthest).fold(0.0, f64::max);
    (SHARE_OF_PLAY * (radius - reach)).clamp(COARSE_CHORD_MM, WIDE_CHORD_MM)
}

/// Pieces put into their place.
pub(crate) fn placed(pieces: &[Convex], pose: &DAffine3) -> Vec<Convex> {
    let place = |piece: &Convex| {
        Convex::new(piece.points.iter().map(|p| pose.transform_point3(*p)).collect())
    };
    pieces.iter().map(place).collect()
}

/// Least and greatest corner of the box around pieces.
pub(crate) fn bounds(pieces: &[Convex]) -> [DVec3; 2] {
    let start = [DVec3::INFINITY, DVec3::NEG_INFINITY];
    pieces.iter().fold(start, |[lo, hi], piece| [lo.min(piece.min), hi.max(piece.max)])
}

#[cfg(test)]
mod tests;
