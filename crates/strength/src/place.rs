//! Where parts are in the sump.

use design::{Design, PlacedId};
use glam::{DAffine3, DVec3};
use plate::Shape;

/// Least and greatest corner of a shape in its place.
pub(crate) fn bounds(shape: &Shape, pose: &DAffine3) -> [DVec3; 2] {
    let [a, b] = shape.bounds().map(|corner| pose.transform_point3(corner));
    [a.min(b), a.max(b)]
}

/// Least and greatest corner of a placed part.
pub(crate) fn bounds_of(design: &Design, placed: PlacedId) -> [DVec3; 2] {
    let part = &design.placed[placed];
    bounds(&design.pieces[part.piece].shape, &part.pose)
}

/// The axis of the sump that a direction runs along: 0 for x, 1 for y, 2 for z. Parts stand along the axes.
pub(crate) fn axis_of(direction: DVec3) -> usize {
    direction.abs().max_position()
}
