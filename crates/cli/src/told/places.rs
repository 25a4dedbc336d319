//! Where something is in the sump, in words.

use design::{Design, Role};
use glam::DVec3;
use plate::Shape;
use units::Length;

/// How [`place`] counts, for under a table.
pub(crate) const NOTE: &str = "Places are told from the inner face of the inlet end wall, from that of the front wall, \
    and above the inside of the bottom.";

/// A point of the sump's frame, mm, as [`NOTE`] has it: `412 mm, 150 mm, 285 mm`.
pub(crate) fn place(design: &Design, at: DVec3) -> String {
    let from = at - inside_corner(design);
    from.to_array().map(|mm| Length::mm(mm.round()).show(design.report)).join(", ")
}

/// The inner corner of front wall, inlet end wall and bottom. Both walls are cut from one sheet.
pub(crate) fn inside_corner(design: &Design) -> DVec3 {
    let is_wall = |piece: &&design::Piece| piece.role == Role::Wall;
    let thickness = design.pieces.iter().find(is_wall).map_or(0.0, |piece| match &piece.shape {
        Shape::Sheet(plate) => plate.thickness,
        Shape::Turned(_) => 0.0,
    });
    DVec3::new(thickness, thickness, design.floor_z)
}
