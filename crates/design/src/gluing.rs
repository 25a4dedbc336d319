//! Glued joints: what a part touches of the wall or leaf that it is glued to, and the grooves for it.

use findings::Finding;
use glam::{DVec2, DVec3, dvec2};
use params::CornerJoint;
use plate::{Contour, Cut, Shape};

use crate::divider::Slot;
use crate::draft::{Builder, DraftId};
use crate::enclosure::Enclosure;
use crate::fixing::Fixing;
use crate::frame::Host;
use crate::model::{JointKind, Role};

/// Grooves that are open at an edge reach this far beyond it, mm, so that the cutter leaves no rib.
pub(crate) const BEYOND_MM: f64 = 30.0;
/// A part should be glued over at least this share of its height; common practice.
const LEAST_SHARE: f64 = 0.5;

/// Glues a leaf to the bottom and at both ends.
pub(crate) fn leaf(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    slot: &Slot<'_>,
    leaf: DraftId,
    fixing: &Fixing,
) {
    let t = b.sheet(b.drafts[leaf].sheet.clone().as_ref()).thickness_mm();
    let Shape::Sheet(plate) = &b.drafts[leaf].shape else { return };
    let Some([lo, hi]) = plate.outline.bounds() else { return };
    if lo.y <= 0.0 {
        // Under a wall that stands in a step of the bottom nothing touches the leaf.
        let is_stepped = |side: &Host| {
            b.drafts[side.draft].role == Role::Wall && b.file.enclosure.joint == CornerJoint::Rabbet
        };
        let lost = slot.place.sides.iter().zip(fixing.depths_mm);
        let lost: f64 = lost.filter(|(side, _)| is_stepped(side)).map(|(_, depth)| depth).sum();
        let on_bottom = (leaf, enclosure.bottom);
        b.glue(JointKind::Butt, on_bottom, DVec3::NEG_Z, hi.x - lo.x - lost, t);
    }
    let z = [enclosure.floor_z + lo.y, enclosure.floor_z + hi.y];
    for (side, depth) in slot.place.sides.into_iter().zip(fixing.depths_mm) {
        if depth > 0.0 {
            cut_dado(b, slot, &side, depth, z, (leaf, lo.y <= 0.0));
            to_host(b, JointKind::Dado, leaf, &side, z, t + 2.0 * depth, slot.parameter);
        } else {
            to_host(b, JointKind::Butt, leaf, &side, z, t, slot.parameter);
        }
    }
}

/// Glues a part that takes the heights `z` of the sump to the face of a wall or leaf, as far as that reaches.
pub(crate) fn to_host(
    b: &mut Builder<'_>,
    kind: JointKind,
    part: DraftId,
    host: &Host,
    z: [f64; 2],
    width_mm: f64,
    parameter: &str,
) {
    let shared = host.z[1].min(z[1]) - host.z[0].max(z[0]);
    let height = z[1] - z[0];
    let (name, other) = (&b.drafts[part].name, &b.drafts[host.draft].name);
    let hint = "make that leaf higher or its gap lower, or give this divider a place at a wall";
    let finding = if shared <= 0.0 {
        let message = format!("{name} does not reach {other} that it should be glued to");
        Some(Finding::fails("nothing-to-glue-to", parameter, message).with_hint(hint))
    } else if shared < LEAST_SHARE * height {
        let message = format!(
            "{name} is glued to {other} over only {} of its {}",
            b.show(shared),
            b.show(height)
        );
        Some(
            Finding::tight("glued-over-little", parameter, message)
                .with_limit(shared, LEAST_SHARE * height, "mm")
                .with_source("common practice: at least half the height")
                .with_hint(hint),
        )
    } else {
        None
    };
    b.findings.extend(finding);
    if shared > 0.0 {
        b.glue(kind, (part, host.draft), -host.inward, shared, width_mm);
    }
}

/// The groove for a glued leaf: as wide as its thickest sheet, its ends round beyond the leaf, or open
/// where the leaf stands on the bottom.
fn cut_dado(
    b: &mut Builder<'_>,
    slot: &Slot<'_>,
    side: &Host,
    depth: f64,
    z: [f64; 2],
    (leaf, stands_on_bottom): (DraftId, bool),
) {
    let sheet = b.sheet(b.drafts[leaf].sheet.clone().as_ref());
    let width = sheet.band_mm[1].max(sheet.thickness_mm());
    check_cutter(b, &format!("{}.joint", slot.parameter), width);
    let middle = 0.5 * (slot.through[0] + slot.through[1]);
    let at = |z: f64| side.local(slot.place.axis.point(middle, side.plane).extend(z));
    let down = if stands_on_bottom { at(z[0] - BEYOND_MM) } else { at(z[0] - 0.5 * width) };
    let groove = upright_groove(down, at(z[1] + 0.5 * width), width, stands_on_bottom);
    b.cut(side, Cut::pocket(groove, side.face(), depth));
}

/// A groove cannot be narrower than the cutter.
pub(crate) fn check_cutter(b: &mut Builder<'_>, parameter: &str, width_mm: f64) {
    let tool = b.file.cutting.tool.to_mm();
    if width_mm >= tool {
        return;
    }
    let message =
        format!("a cutter of {} cannot cut a groove {} wide", b.show(tool), b.show(width_mm));
    b.find(
        Finding::fails("groove-too-narrow", parameter, message)
            .with_limit(width_mm, tool, "mm")
            .with_hint("take a thinner cutter (`cutting.tool`), thicker sheet, or no groove"),
    );
}

/// A groove between two points one above the other, with a round upper end and a round or open lower end.
fn upright_groove(down: DVec2, up: DVec2, width: f64, open_below: bool) -> Contour {
    if !open_below {
        return Contour::slot(down, up, 0.5 * width);
    }
    let r = 0.5 * width;
    let [lo, hi] = [dvec2(down.x - r, down.y), dvec2(down.x + r, up.y)];
    Contour::rounded_polygon(&[
        (lo, 0.0),
        (dvec2(hi.x, lo.y), 0.0),
        (hi, r),
        (dvec2(lo.x, hi.y), r),
    ])
}
