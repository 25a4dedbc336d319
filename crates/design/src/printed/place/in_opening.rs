//! What is pressed into an opening needs that opening.

use findings::Finding;
use glam::DVec2;
use plate::{Plate, Shape};

use super::Asked;
use crate::draft::{Builder, DraftId};

/// How far an opening may be from where it is to be, and its sizes from those that the fitting is made for, mm: what it
/// gives; our judgement.
const GIVES_MM: f64 = 0.5;

impl Asked<'_> {
    /// Whether a sheet has the opening that a fitting is made for, its middle at `at` in the sheet's own frame; else a
    /// finding. `key` is what moves the fitting.
    pub(super) fn is_in_opening(
        &self,
        b: &mut Builder<'_>,
        sheet: DraftId,
        at: DVec2,
        key: &str,
    ) -> Option<()> {
        let Shape::Sheet(plate) = &b.drafts[sheet].shape else { return None };
        let is_round = self.wanted.known.iter().any(|known| known.measure.name == "hole");
        let names = if is_round { ["hole"; 2] } else { ["width", "height"] };
        let size = DVec2::from(names.map(|name| self.measure(name)));
        let nearest = nearest(plate, at);
        if let Some((middle, across)) = nearest
            && middle.distance(at) <= GIVES_MM
            && (across - size).abs().max_element() <= GIVES_MM
        {
            return Some(());
        }
        let kind = self.wanted.kind.name;
        let name = b.drafts[sheet].name.clone();
        let shown = |size: DVec2| match is_round {
            true => b.show(size.x),
            false => format!("{} × {}", b.show(size.x), b.show(size.y)),
        };
        let what = if is_round { "hole" } else { "opening" };
        let message = format!("here {name} has no {what} of {} for this `{kind}`", shown(size));
        let hint = match nearest {
            Some((middle, across)) => {
                let [x, y] = (middle - at).to_array().map(|mm| b.show(mm));
                format!(
                    "the nearest opening is {} and lies [{x}, {y}] from here, to the right and upwards on its panel: move it with `{key}`, \
                     or give its size in `measures`",
                    shown(across)
                )
            }
            None => "it has none at all: write `loose = true`".to_owned(),
        };
        let parameter = format!("{}.{key}", self.wanted.parameter);
        b.find(Finding::fails("fitting-off-hole", parameter, message).with_hint(hint));
        None
    }
}

/// Middle and size of the opening whose middle is nearest.
fn nearest(plate: &Plate, at: DVec2) -> Option<(DVec2, DVec2)> {
    let openings = plate.cuts.iter().filter(|cut| cut.depth >= plate.thickness);
    let sized = openings.filter_map(|cut| {
        let [lo, hi] = cut.contour.bounds()?;
        Some((0.5 * (lo + hi), hi - lo))
    });
    sized.min_by(|(a, _), (b, _)| a.distance(at).total_cmp(&b.distance(at)))
}
