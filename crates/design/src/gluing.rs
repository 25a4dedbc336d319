//! Glued joints: what a part touches of the wall or leaf that it is glued to, and the grooves for it.

use std::f64::consts::FRAC_1_SQRT_2;

use findings::Finding;
use glam::{DVec2, DVec3, dvec2};
use params::{CornerJoint, Relief};
use plate::{Contour, Cut, Shape};

use crate::divider::Slot;
use crate::draft::{Builder, DraftId};
use crate::enclosure::Enclosure;
use crate::fixing::Fixing;
use crate::frame::Host;
use crate::model::{JointKind, Role, Sheet};

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

/// The groove for a glued leaf: as wide as its thickest sheet and the fit. Open below where the leaf stands on the
/// bottom; its other ends are as the file's relief wants them.
fn cut_dado(
    b: &mut Builder<'_>,
    slot: &Slot<'_>,
    side: &Host,
    depth: f64,
    z: [f64; 2],
    (leaf, stands_on_bottom): (DraftId, bool),
) {
    let sheet = b.sheet(b.drafts[leaf].sheet.clone().as_ref());
    let width = widened_for(b, &sheet);
    check_cutter(b, &format!("{}.joint", slot.parameter), side.draft, width);
    let middle = 0.5 * (slot.through[0] + slot.through[1]);
    let at = |z: f64| side.local(slot.place.axis.point(middle, side.plane).extend(z));
    let relief = b.file.cutting.relief;
    if relief == Relief::Beyond {
        let down = if stands_on_bottom { at(z[0] - BEYOND_MM) } else { at(z[0] - 0.5 * width) };
        let groove = upright_groove(down, at(z[1] + 0.5 * width), width, stands_on_bottom);
        b.cut(side, Cut::pocket(groove, side.face(), depth));
        return;
    }
    let fit = b.file.cutting.groove_fit.to_mm();
    let down = if stands_on_bottom { at(z[0] - BEYOND_MM) } else { at(z[0] - fit) };
    let up = at(z[1] + fit);
    let groove = square_groove(down, up, width);
    b.cut(side, Cut::pocket(groove, side.face(), depth));
    let radius = 0.5 * cut_width_mm(b, side.draft);
    let ends = [(down, DVec2::NEG_Y, !stands_on_bottom), (up, DVec2::Y, true)];
    for (end, out, _) in ends.into_iter().filter(|(_, _, is_closed)| *is_closed) {
        for bite in bites(relief, end, out, width, radius) {
            b.cut(side, Cut::pocket(bite, side.face(), depth));
        }
    }
}

/// Width of a groove or step for an edge of this sheet, mm: its greatest thickness, and the fit that solvent runs into.
pub(crate) fn widened_for(b: &Builder<'_>, sheet: &Sheet) -> f64 {
    sheet.band_mm[1].max(sheet.thickness_mm()) + b.file.cutting.groove_fit.to_mm()
}

/// Round bites of the tool's radius at both corners of a groove's square end, so that a square part goes to the end.
/// `end` is the middle of that end, `out` points out of the groove.
///
/// A dogbone's circle passes through the corner and has its middle on the corner's diagonal: of all round bites that
/// free the corner it takes the least. A tbone's touches the long side at the corner and so bites into the end alone.
fn bites(relief: Relief, end: DVec2, out: DVec2, width: f64, radius: f64) -> Vec<Contour> {
    let (aside, back) = match relief {
        Relief::Beyond => return Vec::new(),
        Relief::Dogbone => (radius * FRAC_1_SQRT_2, radius * FRAC_1_SQRT_2),
        Relief::Tbone => (radius, 0.0),
    };
    let middle = |side: f64| end + out.perp() * (side * (0.5 * width - aside)) - out * back;
    let [one, other] = [-1.0, 1.0].map(middle);
    // In a groove of just the tool's width both are one.
    let bites = [one, other].map(|middle| Contour::circle(middle, radius));
    if one.distance(other) < 1e-9 { bites[..1].to_vec() } else { bites.to_vec() }
}

/// Width of what is taken away where this part is cut, mm: its sheet may have a process of its own.
fn cut_width_mm(b: &Builder<'_>, draft: DraftId) -> f64 {
    b.file.cutting_of(b.drafts[draft].sheet.as_deref()).cut_width().to_mm()
}

/// A groove cannot be narrower than the cutter of the part that it is in.
pub(crate) fn check_cutter(b: &mut Builder<'_>, parameter: &str, grooved: DraftId, width_mm: f64) {
    let tool = cut_width_mm(b, grooved);
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

/// A groove between two points one above the other, with square ends.
fn square_groove(down: DVec2, up: DVec2, width: f64) -> Contour {
    let r = 0.5 * width;
    Contour::rectangle(dvec2(down.x - r, down.y), dvec2(up.x + r, up.y))
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

#[cfg(test)]
mod tests {
    use super::*;
    use plate::{Face, Plate, Tolerance, arrange, flat_pattern};
    use std::f64::consts::PI;

    /// The floor of a groove 8 mm wide with its bites, in a plate.
    fn floor(relief: Relief, width: f64) -> plate::PocketRegion {
        let mut plate = Plate::new(Contour::rectangle(dvec2(0., 0.), dvec2(200., 300.)), 8.0);
        let [down, up] = [dvec2(100., 50.), dvec2(100., 250.)];
        let groove = square_groove(down, up, width);
        plate.cuts.push(Cut::pocket(groove, Face::Top, 3.0));
        for (end, out) in [(down, DVec2::NEG_Y), (up, DVec2::Y)] {
            let bites = bites(relief, end, out, width, 3.0);
            plate.cuts.extend(bites.into_iter().map(|bite| Cut::pocket(bite, Face::Top, 3.0)));
        }
        let pattern = flat_pattern(&plate, &arrange(&plate, &Tolerance::default()).unwrap());
        assert_eq!(pattern.pockets.len(), 1, "one floor");
        pattern.pockets[0].clone()
    }

    #[test]
    fn a_dogbone_frees_the_corner_and_takes_a_segment_of_a_half_circle_at_each_side() {
        let floor = floor(Relief::Dogbone, 12.0);
        // Each circle passes through its corner; what it takes lies beyond both sides: of each a segment over a chord of
        // √2 r, of a quarter circle: r² (π/2 − 1) / 2.
        let expected = 12.0 * 200.0 + 8.0 * 0.5 * 9.0 * (0.5 * PI - 1.0);
        assert!((floor.area_mm2() - expected).abs() < 1e-9, "{} {expected}", floor.area_mm2());
    }

    #[test]
    fn a_tbone_keeps_the_long_sides_straight() {
        let floor = floor(Relief::Tbone, 12.0);
        // Beyond the end lies a half circle at each corner.
        let expected = 12.0 * 200.0 + 4.0 * 0.5 * PI * 9.0;
        assert!((floor.area_mm2() - expected).abs() < 1e-9);
        let [lo, hi] = floor.loops[0].bounds().unwrap();
        assert!((hi.x - lo.x - 12.0).abs() < 1e-9 && (hi.y - lo.y - 206.0).abs() < 1e-9);
    }

    #[test]
    fn a_groove_of_just_the_tools_width_can_be_relieved() {
        for relief in [Relief::Dogbone, Relief::Tbone] {
            for width in [6.0, 6.1, 8.3] {
                assert!(floor(relief, width).area_mm2() > 200.0 * width);
            }
        }
    }
}
