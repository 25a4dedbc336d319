//! On the bottom of a chamber: glued or loose, one on the other where they stack.

use fittings::{OnBottom, Side};
use glam::{DAffine3, DVec2, DVec3};

use super::{Asked, LIFT_MM, Place, flange_z};
use crate::frame::bounds;
use crate::model::{JointKind, Loose};
use crate::printed::stand::turned;

impl Asked<'_> {
    /// On the bottom, its middle at a spot.
    pub(super) fn on_bottom(&self, middle: DVec2, stands: OnBottom) -> Place {
        let aside = if stands.by == Side::Bed { Side::Crown } else { Side::Top };
        let pose = turned([stands.by, aside], [DVec3::NEG_Z, DVec3::Y]);
        let [lo, hi] = bounds(&self.wanted.fitting.shape, &pose);
        let own = (0.5 * (lo + hi)).with_z(lo.z);
        let spot = middle.extend(self.enclosure.floor_z);
        Place {
            pose: DAffine3::from_translation(spot - own) * pose,
            loose: (!stands.is_glued).then_some(Loose { lift_mm: LIFT_MM }),
            kind: if stands.is_glued { JointKind::Stuck } else { JointKind::Rests },
            glued: stands.is_glued.then_some((stands.by, DVec3::NEG_Z)),
            // The next one stands on its upper face, around what keeps it in its place.
            step_mm: stands.stacks_by.map(|_| flange_z(&self.wanted.fitting.shape)),
            ..Place::on(self.enclosure.bottom)
        }
    }
}
