//! Where something is in the sump, in words.

use design::Design;
use fit::inside_corner;
use glam::DVec3;
use units::Length;

/// How [`place`] counts, for under a table.
pub const NOTE: &str = "Places are told from the inner face of the inlet end wall, from that of the front wall, \
    and above the inside of the bottom.";

/// A point of the sump's frame, mm, as [`NOTE`] has it: `412 mm, 150 mm, 285 mm`.
pub fn place(design: &Design, at: DVec3) -> String {
    let from = at - inside_corner(design);
    from.to_array().map(|mm| Length::mm(mm.round()).show(design.report)).join(", ")
}
