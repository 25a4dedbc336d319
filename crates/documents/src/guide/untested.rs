//! Seams that a leak test does not reach.

use design::{Design, PlacedId, Role};

/// A seam less far above the water than this is reached by it, mm; our judgement: capillary rise and ripples.
const REACHED_MM: f64 = 1.0;

/// A glued seam of the outside, or what of it stays dry.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Dry {
    /// The two parts.
    pub(super) parts: [String; 2],
    /// Its uppermost so many mm, where it stands upright; `None` for all of it.
    pub(super) upper_mm: Option<f64>,
}

/// The seams between walls, bottom and rim of which something lies above water that stands so high above the inside of
/// the bottom, mm.
pub(super) fn above(design: &Design, height_mm: f64) -> Vec<Dry> {
    let role = |id: PlacedId| design.pieces[design.placed[id].piece].role;
    let is_outside = |id| matches!(role(id), Role::Wall | Role::Bottom | Role::Rim);
    let water = design.floor_z + height_mm;
    let glued = design.joints.iter().filter(|joint| joint.kind.is_glued());
    let outside = glued.filter(|joint| is_outside(joint.a) && is_outside(joint.b));
    let dry = outside.filter_map(|joint| {
        let ([a, b], [c, d]) = (upright(design, joint.a), upright(design, joint.b));
        let [low, high] = [a.max(c), b.min(d)];
        if high - water < REACHED_MM {
            return None;
        }
        let parts = [joint.a, joint.b].map(|id| design.placed[id].name.clone());
        // A seam that lies level, or that begins above the water, stays dry altogether.
        let upper_mm = (low < water).then_some(high - water);
        Some(Dry { parts, upper_mm })
    });
    dry.collect()
}

/// From where to where a part stands, mm.
fn upright(design: &Design, id: PlacedId) -> [f64; 2] {
    let placed = &design.placed[id];
    let [lo, hi] = design.pieces[placed.piece].shape.bounds();
    let [p, q] = [lo, hi].map(|corner| placed.pose.transform_point3(corner).z);
    [p.min(q), p.max(q)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::tests::demo;

    #[test]
    fn what_lies_above_the_water_is_named() {
        let (_, design, _) = demo("mangrove");
        let rim = design.placed.iter().find(|placed| placed.name == "rim").unwrap();
        let under_rim = rim.pose.translation.z - design.floor_z;
        let dry = above(&design, under_rim - 50.0);
        let all: Vec<&Dry> = dry.iter().filter(|dry| dry.upper_mm.is_none()).collect();
        // The four seams of the rim, and the upper ends of the four corners.
        assert_eq!(all.len(), 4, "{dry:?}");
        assert!(all.iter().all(|dry| dry.parts.iter().any(|name| name == "rim")));
        let ends: Vec<f64> = dry.iter().filter_map(|dry| dry.upper_mm).collect();
        assert_eq!(ends.len(), 4, "{dry:?}");
        assert!(ends.iter().all(|mm| (mm - 50.0).abs() < 1.0), "{ends:?}");
        assert!(above(&design, 10_000.0).is_empty());
    }
}
