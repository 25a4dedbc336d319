//! What is pressed into a round hole needs that hole.

use findings::Finding;
use glam::DVec2;
use plate::{Plate, Shape};

use super::Asked;
use crate::draft::{Builder, DraftId};

/// How far a hole may be from where a plug goes, and its diameter from that which the plug is made for, mm: what the
/// plug gives; our judgement.
const GIVES_MM: f64 = 0.5;

impl Asked<'_> {
    /// Whether a sheet has the hole that a plug is made for, its middle at `at` in the sheet's own frame; else a finding.
    /// `key` is what moves the plug.
    pub(super) fn is_in_hole(
        &self,
        b: &mut Builder<'_>,
        sheet: DraftId,
        at: DVec2,
        key: &str,
    ) -> Option<()> {
        let Shape::Sheet(plate) = &b.drafts[sheet].shape else { return None };
        let diameter = self.measure("hole");
        let nearest = nearest(plate, at);
        if let Some((middle, across)) = nearest
            && middle.distance(at) <= GIVES_MM
            && (across - diameter).abs() <= GIVES_MM
        {
            return Some(());
        }
        let kind = self.wanted.kind.name;
        let name = b.drafts[sheet].name.clone();
        let message = format!("here {name} has no hole of {} for this `{kind}`", b.show(diameter));
        let hint = match nearest {
            Some((middle, across)) => {
                let [x, y] = (middle - at).to_array().map(|mm| b.show(mm));
                format!(
                    "the nearest hole is {} wide and lies [{x}, {y}] from here, to the right and upwards on its panel: move it with `{key}`, or give `measures.hole`",
                    b.show(across)
                )
            }
            None => "it has none at all: write `loose = true`".to_owned(),
        };
        let parameter = format!("{}.{key}", self.wanted.parameter);
        b.find(Finding::fails("fitting-off-hole", parameter, message).with_hint(hint));
        None
    }
}

/// Middle and width of the hole whose middle is nearest.
fn nearest(plate: &Plate, at: DVec2) -> Option<(DVec2, f64)> {
    let holes = plate.cuts.iter().filter(|cut| cut.depth >= plate.thickness);
    let sized = holes.filter_map(|cut| {
        let [lo, hi] = cut.contour.bounds()?;
        Some((0.5 * (lo + hi), (hi - lo).max_element()))
    });
    sized.min_by(|(a, _), (b, _)| a.distance(at).total_cmp(&b.distance(at)))
}
