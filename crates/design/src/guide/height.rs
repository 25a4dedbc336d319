//! How high guides reach, so that the leaves in them can be taken out past the rim.

use findings::Finding;
use glam::{DVec2, dvec2};
use units::Length;

use crate::divider::Slot;
use crate::draft::{Builder, DraftId};
use crate::enclosure::Enclosure;
use crate::fixing::Fixing;
use crate::frame::bounds;

/// Play between a leaf raised out of its guides and the rim above it, mm; our judgement: leaf, wall and guide
/// are each cut and glued to about 1 mm.
const UNDER_RIM_MM: f64 = 3.0;
/// Guides lower than this hardly hold a leaf upright, mm; our judgement: in a clearance of 0.8 mm it leans by
/// 1 in 50.
const LEAST_HOLD_MM: f64 = 40.0;

/// The leaves that can stand in one slot, between the bottom and the rim. Heights count from the bottom.
pub(super) struct Stack<'a> {
    pub(super) enclosure: &'a Enclosure,
    pub(super) slot: &'a Slot<'a>,
    pub(super) leaves: &'a [(&'a str, DraftId)],
}

/// A leaf that the rim keeps from being lifted straight up, and how far it can be raised.
struct UnderRim<'a> {
    leaf: &'a str,
    top_mm: f64,
    room_mm: f64,
}

impl Stack<'_> {
    /// Height of strips or channels: what the file gives; else up to the lowest crest, or where the rim lies
    /// over a leaf so high only that every leaf leaves them before it meets the rim. Once out of them it can be
    /// tipped; in them it cannot.
    pub(super) fn height_mm(&self, b: &mut Builder<'_>) -> f64 {
        if let Some(given) = self.slot.item.guide_height {
            return given.to_mm();
        }
        let crest_mm = self.lowest_crest_mm(b);
        let Some(under_rim) = self.under_rim(b) else { return crest_mm };
        let most_mm = under_rim.room_mm - UNDER_RIM_MM;
        if most_mm < LEAST_HOLD_MM.min(crest_mm) {
            let UnderRim { leaf, top_mm, room_mm } = under_rim;
            let message = format!(
                "leaf `{leaf}` may not come out: {} high, it can be raised {} to the rim above it, and its guides should hold it over {}",
                b.show(top_mm),
                b.show(room_mm.max(0.0)),
                b.show(LEAST_HOLD_MM.min(crest_mm))
            );
            let source = format!(
                "our judgement: guides hold a leaf over at least {}, and it leaves them {} below the rim",
                b.show(LEAST_HOLD_MM),
                b.show(UNDER_RIM_MM)
            );
            b.find(
                Finding::tight("guides-under-rim", format!("leaf.{leaf}.crest.height"), message)
                    .with_limit(most_mm, LEAST_HOLD_MM.min(crest_mm), "mm")
                    .with_source(source)
                    .with_hint("lower its crest, raise the box, or make the rim so narrow that its opening takes the leaf"),
            );
        }
        crest_mm.min(most_mm.max(LEAST_HOLD_MM))
    }

    /// Grooves reach up to where their walls end, and leaves leave them there only: they are longer than the
    /// walls' faces are apart, so that in between they can be neither turned nor drawn out to a side. A leaf that has so
    /// much play at its ends that it can be drawn out of one groove is not held; of that `guide-too-shallow` tells.
    pub(super) fn check_grooves(&self, b: &mut Builder<'_>, fixing: &Fixing) {
        if self.slot.item.guide_height.is_some() {
            let message = "a groove reaches up to the upper edge of its wall: the leaf gets into it from there only";
            let parameter = format!("{}.guide_height", self.slot.parameter);
            b.find(
                Finding::tight("guide-height-of-groove", parameter, message)
                    .with_hint("leave it out, or take strips or printed channels"),
            );
        }
        let Some(UnderRim { leaf, room_mm, .. }) = self.under_rim(b) else { return };
        // With one end out of its groove a leaf could be turned out of the other.
        let tops = self.slot.place.sides.map(|side| side.z[1] - self.enclosure.floor_z);
        let groove_mm = tops[0].min(tops[1]);
        let held_mm = held_mm(fixing);
        if room_mm >= groove_mm || held_mm <= self.gained_by_turning_mm() {
            return;
        }
        let message = format!(
            "leaf `{leaf}` cannot come out: pushed into one groove as deep as it goes it still stands {} in the other, so it leaves them upwards only, after {}, and meets the rim after {}",
            Length::mm(held_mm).show_fine(b.file.report.system()),
            b.show(groove_mm),
            b.show(room_mm.max(0.0))
        );
        b.find(
            Finding::fails("groove-under-rim", format!("{}.guide", self.slot.parameter), message)
                .with_limit(room_mm, groove_mm, "mm")
                .with_hint("take strips or printed channels, which end below the rim; or a box without a rim"),
        );
    }

    /// By how much a leaf may get shorter, seen along the divider, when it is turned askew in its grooves as far as their
    /// width `c` lets it, mm: it turns by no more than `c / L`, whatever its thickness, and `L (1 − cos(c / L))` is less
    /// than `c² / 2L`.
    fn gained_by_turning_mm(&self) -> f64 {
        let Slot { through, place, .. } = self.slot;
        let play = through[1] - through[0];
        play * play / (2.0 * (place.span[1] - place.span[0]))
    }

    fn lowest_crest_mm(&self, b: &Builder<'_>) -> f64 {
        let crests = self.leaves.iter().filter_map(|(name, _)| b.file.leaf.get(*name));
        crests.map(|leaf| leaf.crest.height.to_mm()).fold(f64::INFINITY, f64::min)
    }

    /// The highest of the leaves that the rim lies over.
    fn under_rim(&self, b: &Builder<'_>) -> Option<UnderRim<'_>> {
        let rim = b.file.enclosure.rim.as_ref().filter(|_| self.enclosure.rim.is_some())?;
        let corner = rim.corner.to_mm();
        let inside = self.enclosure.inside_height_mm();
        let covered = self.leaves.iter().filter_map(|&(leaf, id)| {
            let [lo, hi] = bounds(&b.drafts[id].shape, &b.drafts[id].pose);
            let print = [lo.truncate(), hi.truncate()];
            let mut openings = self.enclosure.rim_openings.iter();
            let top_mm = hi.z - self.enclosure.floor_z;
            (!openings.any(|opening| passes(print, *opening, corner))).then_some(UnderRim {
                leaf,
                top_mm,
                room_mm: inside - top_mm,
            })
        });
        covered.min_by(|a, c| a.room_mm.total_cmp(&c.room_mm))
    }
}

/// How deep a leaf at least stands in one of its grooves, wherever its play at the ends lets it be, mm; 0 or less when
/// it can be drawn out of one.
fn held_mm(fixing: &Fixing) -> f64 {
    let [a, c] = fixing.depths_mm;
    // Its end lies this far from the groove's own when it stands in the middle.
    let play = fixing.ends_mm[0] + a;
    a.min(c) - 2.0 * play
}

/// Whether an upright rectangle passes straight through an opening with rounded corners.
fn passes([lo, hi]: [DVec2; 2], [from, to]: [DVec2; 2], corner: f64) -> bool {
    let middles = [from + corner, to - corner];
    [lo, dvec2(hi.x, lo.y), hi, dvec2(lo.x, hi.y)].into_iter().all(|p| {
        let is_in = p.cmpge(from).all() && p.cmple(to).all();
        // Off the nearest of the lines through the corners' middles in both directions: beside a rounding.
        let off = (middles[0] - p).max(p - middles[1]).max(DVec2::ZERO);
        is_in && (off.min_element() <= 0.0 || off.length() <= corner)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_leaf_passes_an_opening_that_is_as_large_but_for_its_roundings() {
        let opening = [dvec2(40.0, 40.0), dvec2(340.0, 240.0)];
        let fits = |x: [f64; 2], y: [f64; 2]| {
            passes([dvec2(x[0], y[0]), dvec2(x[1], y[1])], opening, 20.0)
        };
        assert!(fits([100.0, 108.0], [40.0, 240.0]));
        assert!(!fits([100.0, 108.0], [39.9, 240.0]));
        assert!(!fits([36.0, 44.0], [60.0, 220.0]), "under the frame or a brace");
        assert!(!fits([336.0, 344.0], [60.0, 220.0]), "under the frame or a brace");
        // At x = 44 the rounding begins at 40 + 20 − √(20² − 16²) = 48.
        assert!(fits([44.0, 52.0], [48.1, 231.9]));
        assert!(!fits([44.0, 52.0], [47.9, 231.9]));
    }
}
