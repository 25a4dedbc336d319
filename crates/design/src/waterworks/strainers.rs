//! Strainers in the openings of leaves: what they leave free.

use std::f64::consts::PI;

use fittings::{Flange, Held, Kind};
use plate::Shape;

use super::{Strainer, WayKind, WayShape};
use crate::draft::{Builder, Draft, DraftId};
use crate::frame::bounds;
use crate::model::{JointKind, Role};
use crate::spaces::{Layout, Pass};

/// The strainers that are pressed into the openings of a pass of this leaf.
pub(super) fn of(b: &Builder<'_>, layout: &Layout, pass: &Pass, leaf: DraftId) -> Vec<Strainer> {
    let Some((opening_mm2, count)) = opening(pass) else { return Vec::new() };
    let held = b.joints.iter().filter(|j| j.kind == JointKind::Clamped && j.b == leaf);
    let fittings = held.map(|joint| &b.drafts[joint.a]).filter(|draft| is_strainer(b, draft));
    let of = |draft: &Draft| {
        let [lo, hi] = bounds(&draft.shape, &draft.pose);
        let middle = 0.5 * (lo + hi);
        let across = pass.axis.across().of(middle.truncate());
        let is_here = (pass.across[0]..=pass.across[1]).contains(&across);
        // The flange stands out of the leaf on one side, the collar on neither.
        let [from, to] = [lo, hi].map(|corner| pass.axis.of(corner.truncate()));
        let is_beyond = to - pass.through[1] > pass.through[0] - from;
        let at = pass.axis.point(if is_beyond { to } else { from }, across);
        let flange_in = (0..layout.spaces.len()).find(|&i| {
            let space = &layout.spaces[i];
            space.min.cmple(at).all() && at.cmple(space.max).all()
        });
        is_here.then(|| Strainer {
            name: draft.name.clone(),
            parameter: draft.parameter.clone(),
            of_way: 1.0 / count,
            free: (slots_mm2(&draft.shape) / opening_mm2).clamp(0.0, 1.0),
            flange_in,
        })
    };
    fittings.filter_map(of).collect()
}

fn is_strainer(b: &Builder<'_>, draft: &Draft) -> bool {
    let index = draft.parameter.strip_prefix("fitting[").and_then(|rest| rest.strip_suffix(']'));
    let spec = index.and_then(|i| b.file.fitting.get(i.parse::<usize>().ok()?));
    draft.role == Role::Fitting
        && spec.and_then(|spec| Kind::named(&spec.kind)).is_some_and(is_passed)
}

/// Whether water passes its slots: what is pressed into an opening with its flange against the flow.
fn is_passed(kind: &Kind) -> bool {
    kind.stand.on_face.is_some_and(|face| face.held == Held::Pressed(Flange::Upstream))
}

/// Area of one opening of a pass, mm², and how many it has; `None` for what no strainer is pressed into.
#[expect(clippy::cast_precision_loss, reason = "at most a few thousand openings")]
fn opening(pass: &Pass) -> Option<(f64, f64)> {
    match (pass.kind, pass.shape) {
        (
            WayKind::Letterbox | WayKind::FingerHoles,
            WayShape::Rectangle { bottom_mm, top_mm, width_mm },
        ) => Some(((top_mm - bottom_mm) * width_mm, 1.0)),
        (_, WayShape::Holes { diameter_mm, rows, columns, .. }) => {
            Some((0.25 * PI * diameter_mm * diameter_mm, (rows * columns) as f64))
        }
        (_, WayShape::Slots { bottom_mm, top_mm, width_mm, count }) => {
            let ends_mm2 = (1.0 - 0.25 * PI) * width_mm * width_mm;
            Some(((top_mm - bottom_mm) * width_mm - ends_mm2, count as f64))
        }
        _ => None,
    }
}

/// Area of all that goes through a flat fitting, mm².
fn slots_mm2(shape: &Shape) -> f64 {
    let Shape::Sheet(plate) = shape else { return 0.0 };
    let through = plate.cuts.iter().filter(|cut| cut.depth >= plate.thickness);
    through.map(|cut| cut.contour.signed_area().abs()).sum()
}
