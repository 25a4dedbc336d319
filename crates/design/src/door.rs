//! A door: a plate clamped over an opening of a leaf, with its slots, screws and knobs.
//!
//! The slots are in the door and the leaf has round holes that the screws fill, so that nothing leaks
//! past a slot that the door does not cover.

use findings::Finding;
use fittings::Knob;
use glam::{DAffine3, DMat3, DVec2, DVec3, dvec2};
use params::{Door, DoorSide, ScrewSize};
use plate::{Contour, Cut, Face, Plate, Shape, Turned};

use crate::draft::{Builder, Draft, DraftId};
use crate::frame::pose;
use crate::leaf::LeafPlace;
use crate::model::{JointKind, Role, Sheet};

/// Play of a screw in its hole, on the diameter; fine to medium clearance holes of ISO 273 give 0.3–0.5 mm.
const SCREW_PLAY_MM: f64 = 0.5;
/// Land between opening and slot, common practice.
const LEAST_LAND_MM: f64 = 3.0;
/// A slot this many times as wide as its screw still carries head and knob, common practice.
const MOST_SLOT_SHARE: f64 = 1.6;
/// Land between a slot's end and the door's edge, common practice.
const SLOT_END_LAND_MM: f64 = 8.0;

/// Nominal diameter of a metric thread, mm (ISO 261).
fn nominal_mm(screw: ScrewSize) -> f64 {
    match screw {
        ScrewSize::M4 => 4.0,
        ScrewSize::M5 => 5.0,
        ScrewSize::M6 => 6.0,
    }
}

/// Where a door is set, mm above the bottom.
pub(crate) fn set_mm(door: &Door) -> f64 {
    door.set.map_or(0.5 * (door.lowest.to_mm() + door.highest.to_mm()), units::Length::to_mm)
}

/// Adds the opening and the screws' holes to the leaf, and the door with its screws and knobs to the design.
pub(crate) fn build(
    b: &mut Builder<'_>,
    leaf: DraftId,
    name: &str,
    door: &Door,
    leaf_sheet: &Sheet,
    place: &LeafPlace,
    is_spare: bool,
) {
    let sheet = door.sheet.as_ref().map_or_else(|| leaf_sheet.clone(), |s| b.sheet(Some(s)));
    let plan = Plan::new(b, door, leaf_sheet, place);
    plan.check(b, name);
    let r =
        b.inner_corner_mm(leaf_sheet).min(0.5 * (plan.opening[1] - plan.opening[0]).min_element());
    let cuts = &mut b.plate_mut(leaf).cuts;
    cuts.push(Cut::through(Contour::rounded_rectangle(plan.opening[0], plan.opening[1], r)));
    let hole = 0.5 * (plan.screw_mm + SCREW_PLAY_MM);
    for screw in plan.screws() {
        cuts.push(Cut::through(Contour::circle(screw, hole)));
    }
    plan.add_door(b, leaf, name, door, &sheet, is_spare);
}

struct Plan {
    /// Least and greatest corner in the leaf's frame.
    opening: [DVec2; 2],
    lap: f64,
    width: f64,
    height: f64,
    /// Lowest, set and highest height of the upper edge.
    settings: [f64; 3],
    screw_mm: f64,
    /// Width of the slots: the screw with its play, or the cutter if that is wider.
    slot_mm: f64,
    screws_x: [f64; 2],
    /// Heights of the screws, which stay in the leaf.
    screws_y: Vec<f64>,
    /// Local z of the leaf's face that the door lies on, and the direction off it.
    face_z: f64,
    off: f64,
    leaf_thickness: f64,
    clear: [f64; 2],
    door_lowest_edge: f64,
    pose: DAffine3,
}

impl Plan {
    fn new(b: &Builder<'_>, door: &Door, leaf_sheet: &Sheet, place: &LeafPlace) -> Self {
        let [bottom, width, height, lap] =
            [door.bottom, door.width, door.height, door.lap].map(units::Length::to_mm);
        let x = 0.5 * place.length_mm + door.offset.to_mm();
        let opening = [dvec2(x - 0.5 * width, bottom), dvec2(x + 0.5 * width, bottom + height)];
        // At its highest setting the door still laps over the opening's lower edge.
        let door_height = door.highest.to_mm() - bottom + lap;
        let is_on_top = (door.side == DoorSide::Downstream) == (place.downstream == Face::Top);
        let t = leaf_sheet.thickness_mm();
        let screw_mm = nominal_mm(door.screw);
        let slot_mm = (screw_mm + SCREW_PLAY_MM).max(b.file.cutting.tool.to_mm());
        let settings = [door.lowest.to_mm(), set_mm(door), door.highest.to_mm()];
        Self {
            opening,
            lap,
            width: width + 2.0 * lap,
            height: door_height,
            settings,
            screw_mm,
            slot_mm,
            screws_x: [opening[0].x - 0.5 * lap, opening[1].x + 0.5 * lap],
            screws_y: screw_heights(bottom - lap, settings, slot_mm),
            face_z: if is_on_top { t } else { 0.0 },
            off: if is_on_top { 1.0 } else { -1.0 },
            leaf_thickness: t,
            clear: place.clear(),
            door_lowest_edge: door.lowest.to_mm() - door_height,
            pose: place.pose,
        }
    }

    /// Middles of the screws in the leaf's frame.
    fn screws(&self) -> impl Iterator<Item = DVec2> + '_ {
        self.screws_x.into_iter().flat_map(|x| self.screws_y.iter().map(move |&y| dvec2(x, y)))
    }

    fn check(&self, b: &mut Builder<'_>, leaf: &str) {
        let parameter = |field: &str| format!("leaf.{leaf}.door.{field}");
        if self.door_lowest_edge < 0.0 {
            let message = format!(
                "at its lowest setting the door's lower edge would be {:.1} mm below the bottom of the sump",
                -self.door_lowest_edge
            );
            b.find(
                Finding::fails("door-hits-bottom", parameter("lowest"), message)
                    .with_limit(self.door_lowest_edge, 0.0, "mm")
                    .with_hint("raise `lowest`, lower `highest`, or raise the opening's `bottom`"),
            );
        }
        let most = MOST_SLOT_SHARE * self.screw_mm;
        if self.slot_mm > most {
            let message = format!(
                "a cutter of {:.1} mm cuts slots too wide for a screw of {:.0} mm: its head and knob would not hold",
                self.slot_mm, self.screw_mm
            );
            b.find(
                Finding::fails("door-slot-too-wide", parameter("screw"), message)
                    .with_limit(most - self.slot_mm, 0.0, "mm")
                    .with_source("common practice: at most 1.6 times the screw")
                    .with_hint("take a larger `screw` or a thinner cutter (`cutting.tool`)"),
            );
        }
        if self.screws_y.is_empty() {
            let message = "the door is too low for a slot with a land at either end";
            b.find(
                Finding::fails("door-too-low", parameter("lap"), message)
                    .with_source("common practice: 8 mm land at the ends of a slot")
                    .with_hint("widen `lap`, or raise `lowest` above the opening's `bottom`"),
            );
        }
        let land = 0.5 * (self.lap - self.slot_mm);
        if land < LEAST_LAND_MM {
            let message = format!(
                "a lap of {:.1} mm leaves {land:.1} mm beside the slot of the screw; {LEAST_LAND_MM:.0} mm are needed",
                self.lap
            );
            b.find(
                Finding::fails("door-lap-too-narrow", parameter("lap"), message)
                    .with_limit(land, LEAST_LAND_MM, "mm")
                    .with_source("common practice")
                    .with_hint("widen `lap` or take a smaller `screw`"),
            );
        }
        let [a, c] = self.clear;
        let over = (a - (self.opening[0].x - self.lap)).max(self.opening[1].x + self.lap - c);
        if over > 0.0 {
            let message = format!(
                "the door with its laps is {over:.1} mm wider than the leaf has room for beside its guides"
            );
            b.find(
                Finding::fails("door-too-wide", parameter("width"), message)
                    .with_limit(-over, 0.0, "mm")
                    .with_hint(
                        "make the opening narrower, move it with `offset`, or make `lap` smaller",
                    ),
            );
        }
    }

    /// A pose in the leaf's frame, taken to the sump's: local z along `off` the leaf's face.
    fn placed(&self, x: f64, y: f64, z: f64) -> DAffine3 {
        let local = if self.off > 0.0 {
            DAffine3::from_mat3_translation(DMat3::IDENTITY, DVec3::new(x, y, z))
        } else {
            pose(-DVec3::X, DVec3::Y, DVec3::new(x, y, z))
        };
        self.pose * local
    }

    fn add_door(
        &self,
        b: &mut Builder<'_>,
        leaf: DraftId,
        name: &str,
        door: &Door,
        sheet: &Sheet,
        is_spare: bool,
    ) {
        let t = sheet.thickness_mm();
        let eased = b.file.cutting.outer_corner.to_mm();
        // The upper edge stays sharp: it is the crest.
        let (w, h) = (self.width, self.height);
        let outline = Contour::rounded_polygon(&[
            (dvec2(0.0, 0.0), eased),
            (dvec2(w, 0.0), eased),
            (dvec2(w, h), 0.0),
            (dvec2(0.0, h), 0.0),
        ]);
        let mut plate = Plate::new(outline, t);
        let r = 0.5 * self.slot_mm;
        let [lowest, set, highest] = self.settings;
        for x in [0.5 * self.lap, w - 0.5 * self.lap] {
            for y in &self.screws_y {
                // Raised door, low slot: the slot ends are where the screw is at either setting.
                let (low, high) = (h - (highest - y), h - (lowest - y));
                let slot = if high - low > 1e-3 {
                    Contour::slot(dvec2(x, low), dvec2(x, high), r)
                } else {
                    Contour::circle(dvec2(x, low), r)
                };
                plate.cuts.push(Cut::through(slot));
            }
        }
        let parameter = format!("leaf.{name}.door");
        let lift_mm = b.drafts[leaf].loose.map_or(DOOR_LIFT_MM, |loose| loose.lift_mm);
        let near = if self.off > 0.0 {
            self.opening[0].x - self.lap
        } else {
            self.opening[1].x + self.lap
        };
        let pose = self.placed(near, set - h, self.face_z);
        let id = b.add(
            Draft::new(Role::Door, format!("door of leaf {name}"), &parameter, Shape::Sheet(plate))
                .sheet(sheet)
                .pose(pose)
                .lifts(lift_mm),
        );
        b.drafts[id].is_spare = is_spare;
        b.touch(JointKind::Clamped, id, leaf);
        for (n, at) in self.screws().enumerate() {
            self.add_screw(b, [leaf, id], name, n + 1, at, t, door.screw, is_spare);
        }
    }

    #[expect(clippy::too_many_arguments, reason = "a screw joins two parts at a place")]
    fn add_screw(
        &self,
        b: &mut Builder<'_>,
        [leaf, door]: [DraftId; 2],
        name: &str,
        n: usize,
        at: DVec2,
        door_t: f64,
        size: ScrewSize,
        is_spare: bool,
    ) {
        let parameter = format!("leaf.{name}.door");
        let d = self.screw_mm;
        let knob = match fittings::knob(&Knob {
            screw: fitting_screw(size),
            clearance_mm: b.file.printing.clearance.to_mm(),
        }) {
            Ok(fitting) => fitting,
            Err(error) => {
                b.find(
                    Finding::fails("knob", parameter, error.to_string())
                        .with_hint("choose another `screw` or `printing.clearance`"),
                );
                return;
            }
        };
        let (head_r, head_h) = (d, 0.6 * d);
        let shank = self.leaf_thickness + door_t + knob.print.height_mm;
        let profile = vec![
            dvec2(0.0, -head_h),
            dvec2(head_r, -head_h),
            dvec2(head_r, 0.0),
            dvec2(0.5 * d, 0.0),
            dvec2(0.5 * d, shank),
            dvec2(0.0, shank),
        ];
        let lift_mm = b.drafts[door].loose.map_or(DOOR_LIFT_MM, |loose| loose.lift_mm);
        let back = self.face_z - self.off * self.leaf_thickness;
        let screw = b.add(
            Draft::new(
                Role::Screw,
                format!("screw {n} of leaf {name}"),
                &parameter,
                Shape::Turned(Turned { profile }),
            )
            .piece(format!("screw {size:?} x {:.0} with nut", (shank / 5.0).ceil() * 5.0))
            .pose(self.placed(at.x, at.y, back))
            .lifts(lift_mm),
        );
        let knob_id = b.add(
            Draft::new(Role::Knob, format!("knob {n} of leaf {name}"), &parameter, knob.shape)
                .piece(format!("knob {size:?}"))
                .pose(self.placed(at.x, at.y, self.face_z + self.off * door_t))
                .lifts(lift_mm),
        );
        b.drafts[knob_id].notes.push(knob.print.orientation);
        for id in [screw, knob_id] {
            b.drafts[id].is_spare = is_spare;
        }
        b.touch(JointKind::Clamped, screw, leaf);
        b.touch(JointKind::Clamped, knob_id, door);
        b.touch(JointKind::Clamped, screw, knob_id);
    }
}

/// Heights of the screws: two pairs where their slots leave land between them, else one in the middle;
/// none where not even one has land at its ends.
fn screw_heights(
    lower_edge_at_highest: f64,
    [lowest, _, highest]: [f64; 3],
    slot_mm: f64,
) -> Vec<f64> {
    let end = 0.5 * slot_mm + SLOT_END_LAND_MM;
    let (least, most) = (lower_edge_at_highest + end, lowest - end);
    if most < least {
        return Vec::new();
    }
    let apart = highest - lowest + slot_mm + SLOT_END_LAND_MM;
    if most - least >= apart { vec![least, most] } else { vec![0.5 * (least + most)] }
}

fn fitting_screw(size: ScrewSize) -> fittings::ScrewSize {
    match size {
        ScrewSize::M4 => fittings::ScrewSize::M4,
        ScrewSize::M5 => fittings::ScrewSize::M5,
        ScrewSize::M6 => fittings::ScrewSize::M6,
    }
}

/// How far a door is drawn above its place, with its screws and knobs.
const DOOR_LIFT_MM: f64 = 180.0;
