//! How the ends of a leaf are held: glued, or sliding in guides.

use findings::Finding;
use params::{DividerJoint, GuideKind};

use crate::divider::{Slot, leaf_sheet};
use crate::draft::Builder;
use crate::frame::Host;
use crate::guide;
use crate::guide::play::{Play, names, needed_mm};
use crate::printing::printer;
use crate::tolerance::{HELD_AS_DRAWN_MM, written_up};

/// How a leaf's ends are held.
pub(crate) struct Fixing {
    /// From the wall's face to the leaf's end, inwards, mm; negative in a groove.
    pub(crate) ends_mm: [f64; 2],
    /// How far guides cover the leaf from the wall's face, mm.
    pub(crate) covers_mm: [f64; 2],
    /// Width and height of a notch in the leaf's lower corners, mm; 0 for none.
    pub(crate) notch_mm: [f64; 2],
    /// Kind of its guides.
    pub(crate) guide: GuideKind,
    /// How deep the guides are at either side, mm.
    pub(crate) depths_mm: [f64; 2],
}

/// Depth of a printed channel unless the file says otherwise, common practice.
const PRINTED_DEPTH_MM: f64 = 12.0;
/// Room of a leaf's notch around the stop of a printed channel, common practice.
const AROUND_STOP_MM: f64 = 1.0;
/// Play of a leaf in its channel over its thickness, at most; common practice: with more it stands askew.
const MOST_PLAY_SHARE: f64 = 0.5;

impl Fixing {
    /// How a glued leaf's ends meet the walls.
    pub(crate) fn glued(slot: &Slot<'_>) -> Self {
        let depths_mm = match slot.item.joint.unwrap_or_default() {
            DividerJoint::Butt => [0.0; 2],
            DividerJoint::Dado => slot.place.sides.map(|side| side.groove_depth_mm()),
        };
        Self {
            ends_mm: depths_mm.map(|depth| 0.0 - depth),
            covers_mm: [0.0; 2],
            notch_mm: [0.0; 2],
            guide: GuideKind::default(),
            depths_mm,
        }
    }

    /// How far a lift-out leaf reaches into its guides.
    pub(crate) fn guided(b: &mut Builder<'_>, slot: &Slot<'_>, leaf: &str) -> Self {
        let guide = slot.item.guide.unwrap_or_default();
        let [wall, back] = [guide::printed_wall_mm(b), guide::printed_back_mm(b)];
        // Channels are as deep as whole layers make them.
        let in_layers = |depth: f64| printer(&b.file.printing).height_mm(depth);
        let strip = b.sheet(None);
        let depth = |side: &Host| match (guide, slot.item.guide_depth) {
            (GuideKind::Strips, _) => strip.thickness_mm(),
            (GuideKind::Printed, depth) => {
                in_layers(depth.map_or(PRINTED_DEPTH_MM, units::Length::to_mm))
            }
            (_, Some(depth)) => depth.to_mm(),
            (GuideKind::Groove, None) => side.groove_depth_mm(),
        };
        let depths_mm = slot.place.sides.map(|side| depth(&side));
        let play_of_ends = Play::of(b, slot, guide, depths_mm);
        let play = play_of_ends.each_mm();
        let (ends_mm, covers_mm, notch_mm) = match guide {
            GuideKind::Strips => ([play; 2], depths_mm, [0.0; 2]),
            GuideKind::Groove => (depths_mm.map(|d| play - d), [0.0; 2], [0.0; 2]),
            GuideKind::Printed => (
                [back + play; 2],
                depths_mm.map(|d| back + d),
                // The stop at the channel's lower end would lift the leaf: its corner makes way.
                [depths_mm[0] - play + AROUND_STOP_MM, wall + AROUND_STOP_MM],
            ),
        };
        // Strips may be as thin as their sheet may be.
        let least = if guide == GuideKind::Strips { strip.band_mm[0] } else { f64::INFINITY };
        check_hold(b, slot, leaf, depths_mm[0].min(depths_mm[1]).min(least), &play_of_ends);
        if guide == GuideKind::Groove {
            check_grooves(b, slot, depths_mm);
        }
        check_play(b, slot, leaf);
        Self { ends_mm, covers_mm, notch_mm, guide, depths_mm }
    }
}

/// Moved as far to one side as its play lets it, the leaf must still stand in the guide of the other.
fn check_hold(b: &mut Builder<'_>, slot: &Slot<'_>, leaf: &str, depth: f64, play: &Play) {
    let moves = 2.0 * play.each_mm();
    let held = depth - moves;
    if held >= HELD_AS_DRAWN_MM {
        return;
    }
    let holds = if held > 0.0 {
        format!("holds it by {}", b.show(held))
    } else {
        "does not hold it".to_owned()
    };
    let message = format!(
        "leaf `{leaf}` could slip out: a guide {} deep {holds} when it has moved {} to the other side; it needs so much play to swell, by `tolerance`",
        b.show(depth),
        b.show(moves)
    );
    let hint = deeper(b, slot, play.guide);
    b.find(
        Finding::fails("guide-too-shallow", format!("{}.guide", slot.parameter), message)
            .with_limit(held, HELD_AS_DRAWN_MM, "mm")
            .with_source("common practice for the hold; play for the worst case of `tolerance`")
            .with_hint(hint),
    );
}

/// What to write so that a guide holds the leaf at its worst.
fn deeper(b: &Builder<'_>, slot: &Slot<'_>, guide: GuideKind) -> String {
    let printed = needed_mm(b, slot, GuideKind::Printed);
    let depth = |mm: f64| written_up(mm, b.file.report.system());
    let as_printed = if printed > PRINTED_DEPTH_MM {
        format!("`guide = \"printed\"` and `guide_depth = {}`", depth(printed))
    } else {
        "`guide = \"printed\"`".to_owned()
    };
    let groove = needed_mm(b, slot, GuideKind::Groove);
    let thinnest =
        slot.place.sides.map(|side| side.band_mm[0]).into_iter().fold(f64::MAX, f64::min);
    match guide {
        GuideKind::Printed => format!("write `guide_depth = {}`", depth(printed)),
        GuideKind::Groove if groove <= 0.5 * thinnest => {
            format!("write `guide_depth = {}`, or {as_printed}", depth(groove))
        }
        GuideKind::Groove => {
            format!("write {as_printed}: a groove would have to be {} deep", b.show(groove))
        }
        GuideKind::Strips => {
            let strips = needed_mm(b, slot, GuideKind::Strips);
            format!("write {as_printed}: strips would have to be {} thick", b.show(strips))
        }
    }
}

fn check_grooves(b: &mut Builder<'_>, slot: &Slot<'_>, depths_mm: [f64; 2]) {
    for (side, depth) in slot.place.sides.iter().zip(depths_mm) {
        let thinnest = side.band_mm[0];
        if depth <= 0.5 * thinnest {
            continue;
        }
        let message = format!(
            "a groove {} deep leaves {} of a {} {} thick",
            b.show(depth),
            b.show(thinnest - depth),
            b.drafts[side.draft].role.words(),
            b.show(thinnest)
        );
        b.find(
            Finding::fails("groove-too-deep", format!("{}.guide_depth", slot.parameter), message)
                .with_limit(thinnest - depth, 0.5 * thinnest, "mm")
                .with_source("common practice: at most half the sheet")
                .with_hint("make `guide_depth` smaller or that sheet thicker"),
        );
    }
}

/// What to do about too much play: until its sheets are measured, nothing else, for what is too wide for the thinnest place
/// is too narrow for the thickest.
fn less_play(b: &Builder<'_>, slot: &Slot<'_>) -> String {
    let sheets = names(slot).map(|leaf| leaf_sheet(b, leaf));
    let mut names: Vec<String> =
        sheets.filter(|sheet| !sheet.is_measured).map(|sheet| sheet.name.clone()).collect();
    names.sort();
    names.dedup();
    if names.is_empty() {
        return "take the same sheet for all leaves of a slot, or make `clearance` smaller"
            .to_owned();
    }
    let tables: Vec<String> = names.iter().map(|name| format!("`sheet.{name}`")).collect();
    format!(
        "measure the sheet and write `measured` into {}, before you change any `clearance`: until then its whole band of \
         thickness counts",
        tables.join(" and ")
    )
}

/// A leaf much thinner than its channel stands askew and leaks; the channel is made for the thickest leaf
/// of the slot.
fn check_play(b: &mut Builder<'_>, slot: &Slot<'_>, leaf: &str) {
    let channel = slot.through[1] - slot.through[0];
    let spares = slot.item.slot.iter().flatten().map(String::as_str).filter(|name| *name != leaf);
    for name in std::iter::once(leaf).chain(spares) {
        let thinnest = leaf_sheet(b, name).band_mm[0];
        let (play, most) = (channel - thinnest, MOST_PLAY_SHARE * thinnest);
        if play <= most {
            continue;
        }
        let message = format!(
            "leaf `{name}` may be as thin as {} and has {} of play in a channel {} wide",
            b.show(thinnest),
            b.show(play),
            b.show(channel)
        );
        b.find(
            Finding::tight("leaf-loose-in-guide", format!("leaf.{name}.sheet"), message)
                .with_limit(most - play, 0.0, "mm")
                .with_source("common practice: at most half the leaf's thickness")
                .with_hint(less_play(b, slot)),
        );
    }
}
