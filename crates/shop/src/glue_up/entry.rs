//! Whether a part, or several that are glued already, can be moved into its place.

use design::PlacedId;
use glam::DVec3;

use super::block::{lies_in_pocket, overlap};
use super::parts::Parts;

/// So far away a part begins its way, mm: more than any sump is long.
const FAR_MM: f64 = 20_000.0;

/// Ways into the place that are tried, in this order: lowered from above, then pushed in level.
pub(super) const WAYS: [DVec3; 5] = [DVec3::NEG_Z, DVec3::NEG_Y, DVec3::Y, DVec3::NEG_X, DVec3::X];

/// Whether the moving parts pass all that stands, going straight along `way` into their place.
pub(super) fn is_free(
    parts: &Parts<'_>,
    moving: &[PlacedId],
    standing: &[PlacedId],
    way: DVec3,
) -> bool {
    moving.iter().all(|&m| standing.iter().all(|&s| passes(parts, m, s, way)))
}

/// One part past another. What one leaves of a pocket or an opening, the other may pass through.
fn passes(parts: &Parts<'_>, moving: PlacedId, standing: PlacedId, way: DVec3) -> bool {
    let (a, b) = (&parts.blocks[moving], &parts.blocks[standing]);
    let Some(in_standing) = overlap(&a.swept(-way * FAR_MM), b) else { return true };
    let Some(in_moving) = overlap(&b.swept(way * FAR_MM), a) else { return true };
    parts.has_pocket(standing, &in_standing, lies_in_pocket)
        || parts.has_pocket(moving, &in_moving, lies_in_pocket)
}
