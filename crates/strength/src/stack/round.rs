//! Round measures: holes in sheet and what stands in them.

use design::{Design, Placed, PlacedId};
use glam::DVec3;
use plate::{Shape, Turned};

/// Radius of the round hole through a sheet part nearest to a point of the sump, mm, if the point lies in it.
pub(crate) fn hole_radius_mm(design: &Design, host: PlacedId, point: DVec3) -> Option<f64> {
    let placed = &design.placed[host];
    let Shape::Sheet(plate) = &design.pieces[placed.piece].shape else { return None };
    let local = placed.pose.matrix3.transpose() * (point - placed.pose.translation);
    let holes = plate.cuts.iter().filter_map(|cut| cut.contour.as_circle());
    let around = holes.filter(|(centre, r)| centre.distance(local.truncate()) < *r);
    around.map(|(_, radius)| radius).reduce(f64::min)
}

/// The profile of a turned part.
pub(crate) fn turned<'a>(design: &'a Design, placed: &Placed) -> Option<&'a Turned> {
    match &design.pieces[placed.piece].shape {
        Shape::Turned(turned) => Some(turned),
        Shape::Sheet(_) => None,
    }
}

/// Greatest radius of a turned part, mm, and up to which height it reaches.
pub(crate) fn widest(turned: &Turned) -> (f64, f64) {
    turned.profile.iter().fold((0.0, f64::NEG_INFINITY), |(r, z), p| {
        let is_as_wide = (p.x - r).abs() <= SAME_MM;
        match () {
            () if is_as_wide => (r.max(p.x), z.max(p.y)),
            () if p.x > r => (p.x, p.y),
            () => (r, z),
        }
    })
}

/// Greatest radius of a turned part above a height, mm.
pub(super) fn widest_above(turned: &Turned, z: f64) -> Option<f64> {
    turned.profile.iter().filter(|p| p.y > z + SAME_MM).map(|p| p.x).reduce(f64::max)
}

/// Heights and radii are the same if they differ by no more, mm.
const SAME_MM: f64 = 1e-6;
