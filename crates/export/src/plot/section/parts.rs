//! Placed pieces as the boxes around them.

use design::{Design, Role};
use glam::{DVec2, DVec3};
use plate::Shape;

/// A placed piece, heights above the inside of the bottom, mm.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Part {
    pub(super) role: Role,
    pub(super) name: String,
    pub(super) lo: DVec3,
    pub(super) hi: DVec3,
}

impl Part {
    /// Whether a plane at this `y` goes through it.
    pub(super) fn crosses(&self, y_mm: f64) -> bool {
        self.lo.y <= y_mm && y_mm <= self.hi.y
    }

    pub(super) fn middle(&self) -> DVec2 {
        0.5 * (self.lo + self.hi).truncate()
    }
}

/// All placed pieces of these roles, in the order of the design.
pub(super) fn of(design: &Design, roles: &[Role]) -> Vec<Part> {
    let placed = design.placed.iter().map(|placed| (placed, &design.pieces[placed.piece]));
    placed
        .filter(|(_, piece)| roles.contains(&piece.role))
        .map(|(placed, piece)| {
            let (lo, hi) = match &piece.shape {
                Shape::Sheet(plate) => {
                    let [lo, hi] = plate.outline.bounds().unwrap_or([DVec2::ZERO; 2]);
                    (lo.extend(0.0), hi.extend(plate.thickness))
                }
                Shape::Turned(turned) => {
                    let (r, [z0, z1]) = turned.extent();
                    (DVec3::new(-r, -r, z0), DVec3::new(r, r, z1))
                }
            };
            let (p, q) = (placed.pose.transform_point3(lo), placed.pose.transform_point3(hi));
            let floor = DVec3::new(0.0, 0.0, design.floor_z);
            Part {
                role: piece.role,
                name: placed.name.clone(),
                lo: p.min(q) - floor,
                hi: p.max(q) - floor,
            }
        })
        .collect()
}
