//! Where something is, counted as the file counts.

use design::{Design, Role};
use glam::DVec3;
use plate::Shape;

/// The inner corner of front wall, inlet end wall and bottom, from which the file counts. Both walls are cut from one
/// sheet.
pub fn inside_corner(design: &Design) -> DVec3 {
    let is_wall = |piece: &&design::Piece| piece.role == Role::Wall;
    let thickness = design.pieces.iter().find(is_wall).map_or(0.0, |piece| match &piece.shape {
        Shape::Sheet(plate) => plate.thickness,
        Shape::Turned(_) => 0.0,
    });
    DVec3::new(thickness, thickness, design.floor_z)
}
