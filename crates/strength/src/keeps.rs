//! Which parts keep the water in the sump.

use design::{Design, PlacedId, Role};

/// Whether water may run on to the floor if a part gives way: a glued leaf holds the walls that it stands between.
pub(crate) fn water_in(design: &Design, placed: PlacedId) -> bool {
    let part = &design.placed[placed];
    match design.pieces[part.piece].role {
        Role::Wall | Role::Bottom => true,
        Role::Leaf => part.loose.is_none(),
        _ => false,
    }
}
