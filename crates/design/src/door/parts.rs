//! The parts of a door: its plate, screws and knobs.

use fittings::Fitting;
use glam::{DAffine3, DMat3, DVec2, DVec3, dvec2};
use params::{Door, ScrewSize};
use plate::{Contour, Cut, Plate, Shape, Turned};

use super::{DoorLeaf, Plan};
use crate::draft::{Builder, Draft, DraftId};
use crate::frame::pose;
use crate::model::{JointKind, Role};
use crate::openings::ROUND_MM;

/// How far a door in a glued leaf is drawn above its place, with its screws and knobs.
const DOOR_LIFT_MM: f64 = 180.0;
/// Radius and height of a screw's head over the thread's diameter: near a slotted pan head, which is
/// 9.5 mm wide and 3 mm high for M5 (ISO 1580, from memory).
const HEAD_RADIUS_SHARE: f64 = 1.0;
const HEAD_HEIGHT_SHARE: f64 = 0.6;
/// Lengths in which screws are sold go by this, mm (ISO 888; from memory).
const SCREW_LENGTH_STEP_MM: f64 = 5.0;

/// Adds the door, its screws and its knobs. They stand where the leaf stands, or are spares with it.
pub(super) fn add(
    b: &mut Builder<'_>,
    plan: &Plan,
    leaf: &DoorLeaf<'_>,
    door: &Door,
    knob: &Fitting,
) {
    let sheet = door.sheet.as_ref().map_or_else(|| leaf.sheet.clone(), |s| b.sheet(Some(s)));
    let near =
        if plan.off > 0.0 { plan.opening[0].x - plan.lap } else { plan.opening[1].x + plan.lap };
    let of = b.drafts[leaf.draft].name.clone();
    let kit = Kit {
        leaf: leaf.draft,
        of: &of,
        parameter: format!("leaf.{}.door", leaf.name),
        leaf_name: leaf.name,
        lift_mm: b.drafts[leaf.draft].loose.map_or(DOOR_LIFT_MM, |loose| loose.lift_mm),
        is_spare: b.drafts[leaf.draft].is_spare,
    };
    let plate = plate(b, plan, sheet.thickness_mm());
    let id = kit.add(
        b,
        Draft::new(Role::Door, format!("door of {of}"), &kit.parameter, Shape::Sheet(plate))
            .piece(format!("door of leaf {}", leaf.name))
            .sheet(&sheet)
            .pose(placed(plan, near, plan.settings[1] - plan.height, plan.face_z)),
    );
    b.touch(JointKind::Clamped, id, leaf.draft);
    for (n, at) in plan.screws().enumerate() {
        let screw = kit.add_screw(
            b,
            plan,
            door.screw,
            n + 1,
            at,
            [sheet.thickness_mm(), knob.print.height_mm],
        );
        let knob = kit.add(
            b,
            Draft::new(
                Role::Knob,
                format!("knob {} of {of}", n + 1),
                &kit.parameter,
                knob.shape.clone(),
            )
            .piece(format!("knob {:?}", door.screw))
            .printed(knob.print.clone())
            .pose(placed(
                plan,
                at.x,
                at.y,
                plan.face_z + plan.off * sheet.thickness_mm(),
            )),
        );
        b.touch(JointKind::Clamped, screw, leaf.draft);
        b.touch(JointKind::Clamped, knob, id);
        b.touch(JointKind::Clamped, screw, knob);
    }
}

const SCREW_COLOUR: [u8; 3] = [224, 222, 214];

/// What all parts of one door share.
struct Kit<'a> {
    leaf: DraftId,
    /// Name of the leaf's part.
    of: &'a str,
    parameter: String,
    /// Name of the leaf in the file.
    leaf_name: &'a str,
    lift_mm: f64,
    is_spare: bool,
}

impl Kit<'_> {
    fn add(&self, b: &mut Builder<'_>, draft: Draft) -> DraftId {
        let id = b.add(draft.lifts(self.lift_mm));
        b.drafts[id].is_spare = self.is_spare;
        b.drafts[id].part_of = Some(self.leaf);
        b.drafts[id].leaf = Some(self.leaf_name.to_owned());
        id
    }

    /// A screw from the leaf's other face through leaf and door into the knob.
    fn add_screw(
        &self,
        b: &mut Builder<'_>,
        plan: &Plan,
        size: ScrewSize,
        n: usize,
        at: DVec2,
        [door_t, knob_height]: [f64; 2],
    ) -> DraftId {
        let d = plan.screw_mm;
        let shank = plan.leaf_thickness + door_t + knob_height;
        let (head_r, head_h) = (HEAD_RADIUS_SHARE * d, HEAD_HEIGHT_SHARE * d);
        let profile = vec![
            dvec2(0.0, -head_h),
            dvec2(head_r, -head_h),
            dvec2(head_r, 0.0),
            dvec2(0.5 * d, 0.0),
            dvec2(0.5 * d, shank),
            dvec2(0.0, shank),
        ];
        let length = (shank / SCREW_LENGTH_STEP_MM).ceil() * SCREW_LENGTH_STEP_MM;
        let back = plan.face_z - plan.off * plan.leaf_thickness;
        self.add(
            b,
            Draft::new(
                Role::Screw,
                format!("screw {n} of {}", self.of),
                &self.parameter,
                Shape::Turned(Turned { profile }),
            )
            .piece(format!("screw {size:?} x {length:.0} with nut"))
            .colour(SCREW_COLOUR)
            .pose(placed(plan, at.x, at.y, back)),
        )
    }
}

/// The door's plate with a slot for every screw. The upper edge stays sharp: it is the crest.
fn plate(b: &Builder<'_>, plan: &Plan, thickness_mm: f64) -> Plate {
    let (w, h) = (plan.width, plan.height);
    let eased = b.file.cutting.outer_corner.to_mm().min(0.5 * plan.lap);
    let outline = Contour::rounded_polygon(&[
        (dvec2(0.0, 0.0), eased),
        (dvec2(w, 0.0), eased),
        (dvec2(w, h), 0.0),
        (dvec2(0.0, h), 0.0),
    ]);
    let mut plate = Plate::new(outline, thickness_mm);
    let [lowest, _, highest] = plan.settings;
    for x in [0.5 * plan.lap, w - 0.5 * plan.lap] {
        for y in &plan.screws_y {
            // Raised door, low slot: the slot ends are where the screw is at either setting.
            let (low, high) = (h - (highest - y), h - (lowest - y));
            let (low, high, r) = (dvec2(x, low), dvec2(x, high), 0.5 * plan.slot_mm);
            let slot = if high.y - low.y > ROUND_MM {
                Contour::slot(low, high, r)
            } else {
                Contour::circle(low, r)
            };
            plate.cuts.push(Cut::through(slot));
        }
    }
    plate
}

/// A pose in the leaf's frame, taken to the sump's: local z along `off` the leaf's face.
fn placed(plan: &Plan, x: f64, y: f64, z: f64) -> DAffine3 {
    let local = if plan.off > 0.0 {
        DAffine3::from_mat3_translation(DMat3::IDENTITY, DVec3::new(x, y, z))
    } else {
        pose(-DVec3::X, DVec3::Y, DVec3::new(x, y, z))
    };
    plan.pose * local
}

/// The same thread as the printed fittings know it.
pub(super) fn fitting_screw(size: ScrewSize) -> fittings::ScrewSize {
    match size {
        ScrewSize::M4 => fittings::ScrewSize::M4,
        ScrewSize::M5 => fittings::ScrewSize::M5,
        ScrewSize::M6 => fittings::ScrewSize::M6,
    }
}
