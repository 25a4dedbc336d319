//! On a lid: glued or screwed on it, or pressed into a hole of it.

use findings::Finding;
use fittings::{OnLid, Side};
use glam::{DAffine3, DVec2, DVec3};
use plate::{Contour, Cut, Plate};

use super::in_opening::MovedBy;
use super::{Asked, Place, ROUNDING_MM, contact_mm, flange_z};
use crate::draft::{Builder, DraftId};
use crate::model::{JointKind, Role};
use crate::printed::stand::turned;

impl Asked<'_> {
    /// On the lid of a chamber, its middle `at` from the lid's corner; it moves with the lid.
    pub(super) fn on_lid(&self, b: &mut Builder<'_>, chamber: &str, at: DVec2) -> Option<Place> {
        let Some(stands) = self.stand.on_lid else { return self.cannot(b, "lid") };
        let Some(i) = b.file.lid.iter().position(|lid| lid.chamber == chamber) else {
            let message = format!(
                "chamber `{chamber}` has no lid: this `{}` is made, but not shown there",
                self.wanted.kind.name
            );
            self.not_placed(
                b,
                "lid",
                message,
                "add it in a table `[[lid]]`, or name a chamber with a lid",
            );
            return None;
        };
        // A lid that could not be made was told of where it was refused.
        let parameter = format!("lid[{i}]");
        let is_it = |d: &crate::draft::Draft| d.role == Role::Lid && d.parameter == parameter;
        let lid = b.drafts.iter().position(is_it)?;
        let plate = b.plate_mut(lid).clone();
        let shape = &self.wanted.fitting.shape;
        let foot = 0.5 * contact_mm(shape, Side::Top)[0];
        match stands {
            OnLid::Foot => self.is_on_lid(b, lid, &plate, at, foot)?,
            OnLid::Plug => self.is_in_opening(b, lid, at, &MovedBy::At)?,
        }
        let (z, kind) = match stands {
            OnLid::Foot => (shape.bounds()[1].z, JointKind::Stuck),
            OnLid::Plug => (flange_z(shape), JointKind::Clamped),
        };
        if self.is_set("screwed") {
            let hole = Contour::circle(at, 0.5 * through_hole_mm(self.measure("screw")));
            b.plate_mut(lid).cuts.push(Cut::through(hole));
        }
        let pose = turned([Side::Top, Side::Crown], [DVec3::NEG_Z, DVec3::Y]);
        let lid_pose = b.drafts[lid].pose;
        let spot = lid_pose.transform_point3(at.extend(plate.thickness));
        let own = pose.transform_point3(DVec3::Z * z);
        let is_glued = kind == JointKind::Stuck && !self.is_set("screwed");
        Some(Place {
            pose: DAffine3::from_translation(spot - own) * pose,
            loose: b.drafts[lid].loose,
            part_of: Some(lid),
            kind: if is_glued { JointKind::Stuck } else { JointKind::Clamped },
            glued: is_glued.then_some((Side::Top, DVec3::NEG_Z)),
            grips: stands == OnLid::Plug,
            ..Place::on(lid)
        })
    }

    /// Whether all of a round foot lies on the lid, over no hole of it; else a finding.
    fn is_on_lid(
        &self,
        b: &mut Builder<'_>,
        lid: DraftId,
        plate: &Plate,
        at: DVec2,
        foot_mm: f64,
    ) -> Option<()> {
        let kind = self.wanted.kind.name;
        let name = b.drafts[lid].name.clone();
        let parameter = format!("{}.at", self.wanted.parameter);
        let [lo, hi] = plate.outline.bounds()?;
        let over = (lo + foot_mm - at).max(at + foot_mm - hi).max_element();
        if over > ROUNDING_MM {
            let message =
                format!("this `{kind}` would reach {} beyond the edge of {name}", b.show(over));
            let [x, y] = (hi - lo).to_array().map(|mm| b.show(mm));
            b.find(
                Finding::fails("fitting-off-sheet", parameter, message)
                    .with_limit(-over, 0.0, "mm")
                    .with_hint(format!("move it with `at`; the lid is {x} × {y}")),
            );
            return None;
        }
        let apart = |cut: &Cut| {
            let [lo, hi] = cut.contour.bounds()?;
            let (middle, radius) = (0.5 * (lo + hi), 0.5 * (hi - lo).max_element());
            Some(at.distance(middle) - radius - foot_mm)
        };
        let least = plate.cuts.iter().filter_map(apart).fold(f64::INFINITY, f64::min);
        if least < -ROUNDING_MM {
            let message =
                format!("this `{kind}` would reach {} over a hole of {name}", b.show(-least));
            b.find(
                Finding::fails("fitting-over-hole", parameter, message)
                    .with_limit(least, 0.0, "mm")
                    .with_hint(
                        "move it with `at`, away from the finger hole, drain holes and pipes",
                    ),
            );
            return None;
        }
        Some(())
    }

    fn is_set(&self, name: &str) -> bool {
        self.measure(name) > 0.5
    }
}

/// Diameter of the hole through a sheet for a screw, mm: ISO 273, medium series: 4.5, 5.5 and 6.6 mm for M4, M5 and M6
/// (from memory of the standard).
fn through_hole_mm(screw: f64) -> f64 {
    match screw {
        s if s < 4.5 => 4.5,
        s if s < 5.5 => 5.5,
        _ => 6.6,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn screws_pass_with_room() {
        for screw in [4.0, 5.0, 6.0] {
            let room = through_hole_mm(screw) - screw;
            assert!((0.5 - 1e-9..=0.6 + 1e-9).contains(&room));
        }
    }
}
