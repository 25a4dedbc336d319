//! A door that water pushes off its leaf: it hangs on its screws and bears against the leaf where it turns about them.
//!
//! Screws hold it at points, both ways: the knob before it, the leaf behind it. It turns freely there, for a knob can tilt on
//! its screw, which has play in hole and slot. The leaf only pushes. How much it does beside the screws hangs on how far they
//! stretch, which is not known, so both ends are run and each result takes its worst: screws so soft that the door turns
//! about them freely, and the leaf stops it beside the opening alone, which keeps a door on one pair from tipping
//! (`Run::Hinged`: it bends most); and screws as rigid as the leaf, so that the door levers on its own edges and is as good as
//! clamped (`Run::SidesClamped`: it pulls its screws most). Nothing is counted of the knobs' pressing on before the water
//! comes, and the door is one whole sheet: its slots lie in the lap. Water is taken to get into the lap and push all of it.

use design::{Design, PlacedId, Role};
use glam::{DVec2, DVec3};
use params::{File, ScrewSize};
use plate::Shape;

use super::board::Board;
use super::mount::{Mount, clamped};
use super::props;
use super::solve::Model;
use crate::panel::Run;
use crate::stack::round;
use crate::waters::Waters;

/// Screws of a door, and how it lies on its leaf.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Screwed {
    pub(crate) size: ScrewSize,
    /// Where they stand in the door's frame, mm.
    pub(crate) at_mm: Vec<DVec2>,
    /// Where the leaf stops it: with soft screws, and with rigid ones.
    pub(crate) stops_mm: [Vec<DVec2>; 2],
    /// Face of the door that lies on the leaf: 1 the upper one, −1 the lower.
    pub(crate) face: f64,
    /// What a screw's head presses on, of the leaf, mm².
    pub(crate) head_mm2: f64,
    /// What its knob presses on, of the door, mm².
    pub(crate) knob_mm2: f64,
    /// What the leaf's sheet may carry for years, MPa.
    pub(crate) leaf_mpa: f64,
}

impl Screwed {
    /// Where the leaf stops the door in a run, mm.
    pub(crate) fn stops(&self, run: Run) -> &[DVec2] {
        match run {
            Run::Hinged => &self.stops_mm[0],
            Run::SidesClamped | Run::EndsClamped => &self.stops_mm[1],
        }
    }
}

/// What a door that is pushed off is called.
pub(super) fn name(door: &str) -> String {
    format!("{door}, pushed off")
}

/// A door as it hangs where its board is set; `None` where opening, screws or knobs are not to be found.
pub(super) fn model(
    file: &File,
    design: &Design,
    waters: &Waters,
    mut board: Board,
    mount: &Mount<'_>,
) -> Option<Model> {
    board.openings.clear();
    board.small.clear();
    board.thin.clear();
    let mut screwed = screwed(file, design, &board, mount)?;
    screwed.stops_mm = stops(design, &board, &mount.on, &screwed.at_mm)?;
    let model = super::held_model(file, design, waters, board, Vec::new())?;
    Some(Model { screwed: Some(screwed), ..model })
}

fn screwed(file: &File, design: &Design, door: &Board, mount: &Mount<'_>) -> Option<Screwed> {
    let seat = |screw: PlacedId| design.placed[screw].pose.transform_point3(DVec3::ZERO);
    let to_door = door.pose(design).inverse();
    let leaf = mount.on.placed;
    let screws: Vec<PlacedId> = clamped(design, leaf, Role::Screw).collect();
    let first = *screws.first()?;
    let (head, _) = round::widest(round::turned(design, &design.placed[first])?);
    let hole = round::hole_radius_mm(design, leaf, seat(first))?;
    let knob = clamped(design, door.placed, Role::Knob).next()?;
    let sheet = &design.sheets[design.pieces[design.placed[leaf].piece].sheet.as_ref()?];
    Some(Screwed {
        size: mount.spec.screw,
        stops_mm: [Vec::new(), Vec::new()],
        at_mm: screws.iter().map(|s| to_door.transform_point3(seat(*s)).truncate()).collect(),
        face: mount.face,
        head_mm2: std::f64::consts::PI * (head * head - hole * hole),
        knob_mm2: beside_slot_mm2(foot_radius_mm(design, knob)?, slot_mm(design, door.placed)?),
        leaf_mpa: crate::material::of_sheet(file, sheet).lasting_stress_mpa,
    })
}

/// Radius of the circle within a knob's foot, mm: where its grip has valleys.
fn foot_radius_mm(design: &Design, knob: PlacedId) -> Option<f64> {
    let Shape::Sheet(grip) = &design.pieces[design.placed[knob].piece].shape else { return None };
    grip.outline.0.iter().map(|side| side.distance(DVec2::ZERO)).reduce(f64::min)
}

/// Width of a door's slots, mm.
fn slot_mm(design: &Design, door: PlacedId) -> Option<f64> {
    let Shape::Sheet(sheet) = &design.pieces[design.placed[door].piece].shape else { return None };
    let widths = sheet.cuts.iter().filter_map(|cut| cut.contour.bounds());
    widths.map(|[lo, hi]| hi.x - lo.x).reduce(f64::max)
}

/// A circle without the strip through its middle that a slot takes, as if the slot were longer than the circle is wide:
/// two segments, `2 (r² acos(h / r) − h √(r² − h²))` with half the width h.
fn beside_slot_mm2(radius: f64, slot: f64) -> f64 {
    let h = (0.5 * slot).min(radius);
    2.0 * (radius * radius * libm::acos(h / radius) - h * (radius * radius - h * h).sqrt())
}

/// Where the leaf stops the door, in the run with all hinged and in that with the sides clamped: along the sides of the
/// opening; and along the door's own edges. Of each line its ends and what is beside the screws: there it is touched.
fn stops(design: &Design, door: &Board, on: &Board, screws: &[DVec2]) -> Option<[Vec<DVec2>; 2]> {
    let [open_lo, open_hi] = props::opening_behind(design, door, on.placed)?;
    let [leaf_lo, leaf_hi] = props::in_frame(design, door, on.placed, [on.lo, on.hi]);
    // No farther than the leaf reaches.
    let (lo, hi) = (door.lo.max(leaf_lo), door.hi.min(leaf_hi));
    let upright = |x: f64, [from, to]: [f64; 2]| {
        let beside = screws.iter().map(|screw| screw.y);
        let heights = [from, to].into_iter().chain(beside);
        heights.filter(|y| from <= *y && *y <= to).map(|y| DVec2::new(x, y)).collect::<Vec<_>>()
    };
    let sides = |xs: [f64; 2], ys: [f64; 2]| {
        let is_on = |x: &f64| lo.x <= *x && *x <= hi.x;
        xs.into_iter().filter(is_on).flat_map(|x| upright(x, ys)).collect::<Vec<_>>()
    };
    let inner = sides([open_lo.x, open_hi.x], [open_lo.y.max(lo.y), hi.y]);
    let mut outer = sides([lo.x, hi.x], [lo.y, hi.y]);
    outer.extend(screws.iter().map(|screw| DVec2::new(screw.x, lo.y)));
    Some([inner, outer].map(distinct))
}

/// Two screws beside one another have their stops in common.
fn distinct(stops: Vec<DVec2>) -> Vec<DVec2> {
    let mut kept: Vec<DVec2> = Vec::new();
    for stop in stops {
        if kept.iter().all(|other| other.distance(stop) > 0.1) {
            kept.push(stop);
        }
    }
    kept
}

#[cfg(test)]
mod tests;
