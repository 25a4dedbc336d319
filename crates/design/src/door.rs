//! A door: a plate clamped over an opening of a leaf, with its slots, screws and knobs.
//!
//! The slots are in the door and the leaf has round holes that the screws fill, so that nothing leaks
//! past a slot that the door does not cover.

mod parts;

use findings::Finding;
use fittings::{Fitting, Knob};
use glam::{DAffine3, DVec2, dvec2};
use params::{Door, DoorSide};
use plate::{Contour, Cut, Face};

use crate::draft::{Builder, DraftId};
use crate::leaf::LeafPlace;
use crate::model::Sheet;

/// Play of a screw in its hole, on the diameter; fine to medium clearance holes of ISO 273 give 0.3–0.5 mm.
const SCREW_PLAY_MM: f64 = 0.5;
/// Least sheet between a screw's hole or slot and an edge, common practice.
const LEAST_LAND_MM: f64 = 3.0;
/// A slot this many times as wide as its screw still carries head and knob, common practice.
const MOST_SLOT_SHARE: f64 = 1.6;
/// Land between a slot's end and the door's edge, common practice.
const SLOT_END_LAND_MM: f64 = 8.0;
/// Room between two knobs for turning them, common practice.
const BETWEEN_KNOBS_MM: f64 = 2.0;

/// Where a door is set, mm above the bottom.
pub(crate) fn set_mm(door: &Door) -> f64 {
    door.set.map_or(0.5 * (door.lowest.to_mm() + door.highest.to_mm()), units::Length::to_mm)
}

/// Least and greatest corner of a door's opening in the frame of a leaf of this length.
pub(crate) fn opening(door: &Door, leaf_length_mm: f64) -> [DVec2; 2] {
    let x = 0.5 * leaf_length_mm + door.offset.to_mm();
    let [half, bottom, height] =
        [door.width * 0.5, door.bottom, door.height].map(units::Length::to_mm);
    [dvec2(x - half, bottom), dvec2(x + half, bottom + height)]
}

/// Room on the leaf that opening and door take between the door's lowest and highest setting.
pub(crate) fn travel(door: &Door, leaf_length_mm: f64) -> [DVec2; 2] {
    let ([lo, hi], lap) = (opening(door, leaf_length_mm), door.lap.to_mm());
    let lowest_edge = door.lowest.to_mm() - height_mm(door);
    [dvec2(lo.x - lap, lowest_edge), dvec2(hi.x + lap, hi.y)]
}

/// At its highest setting a door still laps over the opening's lower edge.
fn height_mm(door: &Door) -> f64 {
    (door.highest - door.bottom + door.lap).to_mm()
}

/// A leaf that gets a door.
#[derive(Clone, Copy)]
pub(crate) struct DoorLeaf<'a> {
    pub(crate) draft: DraftId,
    pub(crate) name: &'a str,
    pub(crate) sheet: &'a Sheet,
    pub(crate) place: &'a LeafPlace,
    /// Height of its lower edge above the bottom, mm.
    pub(crate) lower_edge_mm: f64,
}

/// Adds the opening and the screws' holes to the leaf, and the door with its screws and knobs to the design.
pub(crate) fn build(b: &mut Builder<'_>, leaf: &DoorLeaf<'_>, door: &Door) {
    let spec = Knob {
        screw: parts::fitting_screw(door.screw),
        clearance_mm: b.file.printing.clearance.to_mm(),
    };
    let knob = match fittings::knob(&spec, &crate::printing::printer(&b.file.printing)) {
        Ok(knob) => knob,
        Err(error) => {
            b.find(
                Finding::fails("knob", format!("leaf.{}.door.screw", leaf.name), error.to_string())
                    .with_hint("choose another `screw` or `printing.clearance`"),
            );
            return;
        }
    };
    let plan = Plan::new(b, door, leaf, &knob);
    plan.check(b, leaf);
    let [lo, hi] = plan.opening;
    let r = b.inner_corner_mm(leaf.sheet).min(0.5 * (hi - lo).min_element());
    let cuts = &mut b.plate_mut(leaf.draft).cuts;
    cuts.push(Cut::through(Contour::rounded_rectangle(lo, hi, r)));
    for screw in plan.screws() {
        cuts.push(Cut::through(Contour::circle(screw, plan.hole_radius())));
    }
    parts::add(b, &plan, leaf, door, &knob);
}

/// Measures of a door that follow from the file.
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
    pose: DAffine3,
}

impl Plan {
    fn new(b: &Builder<'_>, door: &Door, leaf: &DoorLeaf<'_>, knob: &Fitting) -> Self {
        let opening = opening(door, leaf.place.length_mm);
        let (lap, height) = (door.lap.to_mm(), height_mm(door));
        let is_on_top = (door.side == DoorSide::Downstream) == (leaf.place.downstream == Face::Top);
        let t = leaf.sheet.thickness_mm();
        let screw_mm = parts::fitting_screw(door.screw).diameter_mm();
        // The slots are in the door, which may be of a sheet of its own.
        let sheet = door.sheet.as_deref().unwrap_or(&leaf.sheet.name);
        let tool_mm = b.file.cutting_of(Some(sheet)).cut_width().to_mm();
        let slot_mm = (screw_mm + SCREW_PLAY_MM).max(tool_mm);
        let settings = [door.lowest.to_mm(), set_mm(door), door.highest.to_mm()];
        let [knob_x, knob_y] = knob.print.bed_footprint_mm;
        let knob_mm = knob_x.max(knob_y);
        Self {
            opening,
            lap,
            width: opening[1].x - opening[0].x + 2.0 * lap,
            height,
            settings,
            screw_mm,
            slot_mm,
            screws_x: [opening[0].x - 0.5 * lap, opening[1].x + 0.5 * lap],
            screws_y: screw_heights(settings[2] - height, settings, slot_mm, knob_mm),
            face_z: if is_on_top { t } else { 0.0 },
            off: if is_on_top { 1.0 } else { -1.0 },
            leaf_thickness: t,
            pose: leaf.place.pose,
        }
    }

    /// Middles of the screws in the leaf's frame.
    fn screws(&self) -> impl Iterator<Item = DVec2> + '_ {
        self.screws_x.into_iter().flat_map(|x| self.screws_y.iter().map(move |&y| dvec2(x, y)))
    }

    /// Radius of the screws' holes in the leaf.
    fn hole_radius(&self) -> f64 {
        0.5 * (self.screw_mm + SCREW_PLAY_MM)
    }

    fn check(&self, b: &mut Builder<'_>, leaf: &DoorLeaf<'_>) {
        let parameter = |field: &str| format!("leaf.{}.door.{field}", leaf.name);
        self.check_height(b, &parameter);
        self.check_slots(b, &parameter);
        self.check_screws(b, &parameter, leaf.lower_edge_mm);
        let [a, c] = leaf.place.clear();
        let over = (a - (self.opening[0].x - self.lap)).max(self.opening[1].x + self.lap - c);
        if over > 0.0 {
            let message = format!(
                "the door with its laps is {} wider than the leaf has room for beside its guides",
                b.show(over)
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

    fn check_height(&self, b: &mut Builder<'_>, parameter: &impl Fn(&str) -> String) {
        let lowest_edge = self.settings[0] - self.height;
        if lowest_edge < 0.0 {
            let message = format!(
                "at its lowest setting the door's lower edge would be {} below the bottom of the sump",
                b.show(-lowest_edge)
            );
            b.find(
                Finding::fails("door-hits-bottom", parameter("lowest"), message)
                    .with_limit(lowest_edge, 0.0, "mm")
                    .with_hint("raise `lowest`, lower `highest`, or raise the opening's `bottom`"),
            );
        }
    }

    fn check_slots(&self, b: &mut Builder<'_>, parameter: &impl Fn(&str) -> String) {
        let most = MOST_SLOT_SHARE * self.screw_mm;
        if self.slot_mm > most {
            let message = format!(
                "a cutter of {} cuts slots too wide for a screw of {}: its head and knob would not hold",
                b.show(self.slot_mm),
                b.show(self.screw_mm)
            );
            b.find(
                Finding::fails("door-slot-too-wide", parameter("screw"), message)
                    .with_limit(most - self.slot_mm, 0.0, "mm")
                    .with_source("common practice: at most 1.6 times the screw")
                    .with_hint("take a larger `screw` or a thinner cutter (`cutting.tool`)"),
            );
        }
        let land = 0.5 * (self.lap - self.slot_mm);
        if land < LEAST_LAND_MM {
            let message = format!(
                "a lap of {} leaves {} beside the slot of the screw; {} are needed",
                b.show(self.lap),
                b.show(land),
                b.show(LEAST_LAND_MM)
            );
            b.find(
                Finding::fails("door-lap-too-narrow", parameter("lap"), message)
                    .with_limit(land, LEAST_LAND_MM, "mm")
                    .with_source("common practice")
                    .with_hint("widen `lap` or take a smaller `screw`"),
            );
        }
    }

    /// There is a place for the screws, in the door and in the leaf.
    fn check_screws(
        &self,
        b: &mut Builder<'_>,
        parameter: &impl Fn(&str) -> String,
        lower_edge_mm: f64,
    ) {
        let Some(&lowest) = self.screws_y.first() else {
            let message = "the door is too low for a slot with a land at either end";
            b.find(
                Finding::fails("door-too-low", parameter("lap"), message)
                    .with_source("common practice: 8 mm land at the ends of a slot")
                    .with_hint("widen `lap`, or raise `lowest` above the opening's `bottom`"),
            );
            return;
        };
        let land = lowest - self.hole_radius() - lower_edge_mm;
        if land < LEAST_LAND_MM {
            let message = format!(
                "the leaf has {} of sheet under the holes of the door's screws; {} are needed",
                b.show(land.max(0.0)),
                b.show(LEAST_LAND_MM)
            );
            b.find(
                Finding::fails("door-screw-near-edge", parameter("bottom"), message)
                    .with_limit(land, LEAST_LAND_MM, "mm")
                    .with_source("common practice")
                    .with_hint("raise `bottom`, or lower the leaf's `underflow`"),
            );
        }
    }
}

/// Heights of the screws, upwards: two pairs where their slots leave land and their knobs room between
/// them, else one in the middle; none where not even one has land at its ends.
fn screw_heights(
    lower_edge_at_highest: f64,
    [lowest, _, highest]: [f64; 3],
    slot_mm: f64,
    knob_mm: f64,
) -> Vec<f64> {
    let end = 0.5 * slot_mm + SLOT_END_LAND_MM;
    let (least, most) = (lower_edge_at_highest + end, lowest - end);
    if most < least {
        return Vec::new();
    }
    let apart = (highest - lowest + slot_mm + SLOT_END_LAND_MM).max(knob_mm + BETWEEN_KNOBS_MM);
    if most - least >= apart { vec![least, most] } else { vec![0.5 * (least + most)] }
}
