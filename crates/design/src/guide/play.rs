//! Play of lift-out leaves in their guides: so much as they need at the worst of what the file's `tolerance` says.

use params::GuideKind;

use crate::divider::{Slot, leaf_names, leaf_sheet};
use crate::draft::Builder;
use crate::frame::Host;
use crate::guide::printed_back_mm;
use crate::model::Role;
use crate::tolerance::{
    Grown, HELD_AS_DRAWN_MM, HELD_AT_WORST_MM, SLIDES_MM, Tolerances, rounded_up,
};

/// Play of a leaf at its ends.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Play {
    /// Kind of its guides.
    pub(crate) guide: GuideKind,
    each_mm: f64,
}

impl Play {
    /// That of the leaves of a slot: what the one that needs most takes by water, warmth, cuts and places, all at their
    /// worst, half of it at each end, rounded up to 0.1 mm.
    pub(crate) fn of(
        b: &Builder<'_>,
        slot: &Slot<'_>,
        guide: GuideKind,
        depths_mm: [f64; 2],
    ) -> Self {
        let room_mm = room_mm(b, slot, guide, depths_mm);
        let takes = names(slot)
            .map(|leaf| room_mm * grows(b, leaf).most() + errors_mm(b, slot, guide, leaf));
        Self { guide, each_mm: rounded_up(0.5 * takes.fold(0.0, f64::max)) }
    }

    /// From either end of a leaf in the middle of its guides to where it stops, mm.
    pub(crate) fn each_mm(&self) -> f64 {
        self.each_mm
    }
}

/// How deep guides of a kind must be to hold every leaf of a slot at its worst, mm, rounded up to 0.1 mm. How walls and
/// leaf bend is left out: that is known to `strength` only.
pub(crate) fn needed_mm(b: &Builder<'_>, slot: &Slot<'_>, guide: GuideKind) -> f64 {
    // A leaf is longer by what its grooves are deep, and by that needs a little more play.
    (0..3).fold(0.0, |depth_mm, _| needed_at(b, slot, guide, [depth_mm; 2]))
}

fn needed_at(b: &Builder<'_>, slot: &Slot<'_>, guide: GuideKind, depths_mm: [f64; 2]) -> f64 {
    let room_mm = room_mm(b, slot, guide, depths_mm);
    let play_mm = 2.0 * Play::of(b, slot, guide, depths_mm).each_mm();
    // A spare comes in dry, or what lay outside for weeks, when the box is wet.
    let swollen_mm = room_mm * Tolerances::of(b.file).of_box().water;
    let loses = names(slot)
        .map(|leaf| room_mm * grows(b, leaf).least() + errors_mm(b, slot, guide, leaf) + swollen_mm)
        .fold(0.0, f64::max);
    let sheet = b.sheet(None);
    // Strips may be as thin as their sheet may be.
    let thinner_mm = match guide {
        GuideKind::Strips => sheet.thickness_mm() - sheet.band_mm[0],
        GuideKind::Groove | GuideKind::Printed => 0.0,
    };
    let held_mm = HELD_AS_DRAWN_MM.max(HELD_AT_WORST_MM + loses);
    rounded_up(play_mm + held_mm + thinner_mm)
}

/// Clearance of a leaf in its channel, in all, that leaves it to slide at the worst, mm.
pub(crate) fn clearance_mm(b: &Builder<'_>, guide: GuideKind, leaves: &[&String]) -> f64 {
    let tolerances = Tolerances::of(b.file);
    let width_mm = match guide {
        // The second strip is set by the first and a gauge of the channel's width (common practice).
        GuideKind::Strips => tolerances.assembly_mm,
        GuideKind::Printed => tolerances.printed_width_mm(),
        // Both of its edges are cut in one go by one tool.
        GuideKind::Groove => {
            let cuts = b.file.sheet.keys().map(|name| tolerances.cut_mm(Some(name)));
            cuts.fold(0.0, f64::max)
        }
    };
    let grows = leaves.iter().map(|leaf| {
        let sheet = leaf_sheet(b, leaf);
        tolerances.alone(sheet.material).most() * sheet.band_mm[1]
    });
    rounded_up(SLIDES_MM + width_mm + grows.fold(0.0, f64::max))
}

/// All leaves that may stand in a slot.
pub(crate) fn names<'a>(slot: &'a Slot<'_>) -> impl Iterator<Item = &'a str> {
    let several = slot.item.slot.iter().flatten();
    several.chain(leaf_names(slot.item)).map(String::as_str)
}

/// From the bottom of one channel to that of the other, mm.
fn room_mm(b: &Builder<'_>, slot: &Slot<'_>, guide: GuideKind, depths_mm: [f64; 2]) -> f64 {
    let between = slot.place.span[1] - slot.place.span[0];
    match guide {
        GuideKind::Strips => between,
        GuideKind::Groove => between + depths_mm[0] + depths_mm[1],
        GuideKind::Printed => between - 2.0 * printed_back_mm(b),
    }
}

fn grows(b: &Builder<'_>, leaf: &str) -> Grown {
    Tolerances::of(b.file).between_walls(leaf_sheet(b, leaf).material)
}

/// What cuts, places and prints take from a leaf's play, mm.
fn errors_mm(b: &Builder<'_>, slot: &Slot<'_>, guide: GuideKind, leaf: &str) -> f64 {
    let tolerances = Tolerances::of(b.file);
    let sides = &slot.place.sides;
    let is_wall = |side: &Host| b.drafts[side.draft].role == Role::Wall;
    // Walls are set against others that are cut to length between them.
    let places = if sides.iter().all(is_wall) { 1.0 } else { 2.0 };
    let cut_of =
        |side: &Host| tolerances.cut_mm(Some(&b.sheet(b.drafts[side.draft].sheet.as_ref()).name));
    let channels = match guide {
        GuideKind::Strips => 0.0,
        GuideKind::Printed => 2.0 * tolerances.printed_mm,
        GuideKind::Groove => sides.iter().map(cut_of).sum(),
    };
    let ends = 2.0 * tolerances.cut_mm(Some(&leaf_sheet(b, leaf).name));
    ends + places * tolerances.assembly_mm + channels
}
