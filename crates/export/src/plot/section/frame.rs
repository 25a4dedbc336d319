//! The scale, and the box that is cut open.

use design::{Design, Role};

use super::Sump;
use super::cuts::Cut;
use super::parts;
use crate::plot::paper::Paper;

/// From the sump to the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    /// Where the outside of the inlet end is.
    pub(super) x0: f64,
    /// Where the inside of the bottom is.
    pub(super) y0: f64,
    pub(super) scale: f64,
}

impl Frame {
    pub(super) fn x(&self, mm: f64) -> f64 {
        self.x0 + mm / self.scale
    }

    /// Of a height above the inside of the bottom.
    pub(super) fn y(&self, mm: f64) -> f64 {
        self.y0 - mm / self.scale
    }

    pub(super) fn at(&self, x_mm: f64, height_mm: f64) -> [f64; 2] {
        [self.x(x_mm), self.y(height_mm)]
    }
}

/// Height of the rim above the inside of the bottom.
pub(super) fn rim_mm(design: &Design) -> f64 {
    design.outside.z - design.floor_z
}

/// Style of sheet that is cut through.
pub(super) const CUT: &str = "fill=\"#6d7780\" stroke=\"#2b3238\" stroke-width=\"0.15\"";
/// Style of sheet that is seen behind the cut.
pub(super) const BEHIND: &str = "fill=\"#e3e7ea\" stroke=\"#8d979e\" stroke-width=\"0.15\"";

/// The box: its inside, the rim behind, and what the plane cuts.
pub(super) fn walls(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, frame: &Frame) {
    let design = sump.design;
    let outline = [frame.at(0.0, -design.floor_z), frame.at(design.outside.x, rim_mm(design))];
    paper.rect(outline[0], outline[1], "fill=\"#f7f8f9\" stroke=\"#8d979e\" stroke-width=\"0.15\"");
    for (style, is_drawn) in [(BEHIND, false), (CUT, true)] {
        for part in parts::of(design, &[Role::Bottom, Role::Wall, Role::Rim]) {
            // The rim runs around: its strip along the back is seen over the whole length.
            let is_cut = part.role != Role::Rim && part.crosses(cut.y_mm);
            if is_cut == is_drawn && (is_cut || part.role == Role::Rim) {
                paper.rect(frame.at(part.lo.x, part.lo.z), frame.at(part.hi.x, part.hi.z), style);
            }
        }
    }
}
