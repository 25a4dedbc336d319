//! Leaves: their crest, openings and doors, each in itself.

use findings::Finding;

use super::{At, Rules, each, each_named};
use crate::words::quoted;
use crate::{Door, Leaf, Mount, Opening};

/// Openings of a leaf that every later step still handles in a moment.
const MOST_OPENINGS: u32 = 2000;
/// Openings of all leaves.
const MOST_IN_ALL: u32 = 10_000;

pub(super) fn check(rules: &mut Rules<'_>) {
    let mut count = 0_u32;
    for (name, leaf) in each_named("leaf", &rules.file.leaf) {
        crest(rules, &leaf);
        count = count.saturating_add(openings(rules, &leaf));
        if leaf.value.finger_holes == Some(true) && leaf.value.mount == Mount::Glued {
            let path = leaf.key("finger_holes");
            let message =
                format!("{} is glued, so nobody lifts it by its finger holes", quoted(name));
            let finding = Finding::tight("no-effect", &path, message)
                .with_hint("delete it, or write `mount = \"lift-out\"`");
            rules.add(&[&path, &leaf.key("mount")], finding);
        }
        if let Some(door) = &leaf.value.door {
            self::door(rules, &At { path: leaf.key("door"), value: door });
        }
    }
    if count > MOST_IN_ALL {
        let message =
            format!("the leaves have {count} openings, but at most {MOST_IN_ALL} are allowed");
        rules.add(
            &["leaf"],
            Finding::fails("too-many", "leaf", message).with_hint("use larger ones"),
        );
    }
}

/// There is sheet left below the teeth; whether that is so. `path` is that of the crest.
pub(super) fn teeth_in_sheet(
    rules: &mut Rules<'_>,
    path: &str,
    height: units::Length,
    teeth: Option<crate::Teeth>,
) -> bool {
    let Some(teeth) = teeth.filter(|teeth| teeth.depth >= height) else { return true };
    let [height_path, depth_path] =
        [crate::path::key(path, "height"), format!("{path}.teeth.depth")];
    let message = format!(
        "the teeth are {} deep, but their tips are only {} high",
        rules.show(teeth.depth),
        rules.show(height)
    );
    let finding = Finding::fails("teeth-too-deep", &depth_path, message)
        .with_hint("make them less deep, or the crest higher");
    rules.add(&[&depth_path, &height_path], finding);
    false
}

/// There is sheet left below the teeth and above the gap under the leaf.
fn crest(rules: &mut Rules<'_>, leaf: &At<'_, Leaf>) {
    let crest = leaf.value.crest;
    let crest_path = leaf.key("crest");
    let height_path = crate::path::key(&crest_path, "height");
    let depth_path = format!("{crest_path}.teeth.depth");
    if !teeth_in_sheet(rules, &crest_path, crest.height, crest.teeth) {
        return;
    }
    let lowest = crest.height - crest.teeth.map_or(units::Length::ZERO, |teeth| teeth.depth);
    if let Some(underflow) = leaf.value.underflow
        && underflow >= lowest
    {
        let path = leaf.key("underflow");
        let message = format!(
            "the gap under the leaf is {} high, but the leaf ends at {}",
            rules.show(underflow),
            rules.show(lowest)
        );
        let finding = Finding::fails("no-leaf-left", &path, message)
            .with_hint("make the gap less high, or the crest higher");
        rules.add(&[&path, &height_path, &depth_path], finding);
    }
}

/// Checks the openings and returns how many there are, none if there are too many.
fn openings(rules: &mut Rules<'_>, leaf: &At<'_, Leaf>) -> u32 {
    let mut count = 0_u32;
    for opening in each(&leaf.key("openings"), &leaf.value.openings) {
        match opening.value {
            Opening::Letterbox(_) => count = count.saturating_add(1),
            Opening::Slots(slots) => count = count.saturating_add(slots.count.unwrap_or(1)),
            Opening::Holes(holes) => {
                count = count.saturating_add(holes.rows.saturating_mul(holes.columns));
                let at = opening.key("holes");
                spaced(rules, &at, holes.diameter, holes.spacing, holes.rows * holes.columns);
            }
        }
    }
    if count > MOST_OPENINGS {
        let path = leaf.key("openings");
        let message =
            format!("the leaf has {count} openings, but at most {MOST_OPENINGS} are allowed");
        rules
            .add(&[&path], Finding::fails("too-many", &path, message).with_hint("use larger ones"));
        return 0;
    }
    count
}

/// Between two holes there is sheet left.
pub(super) fn spaced(
    rules: &mut Rules<'_>,
    path: &str,
    diameter: units::Length,
    spacing: units::Length,
    count: u32,
) {
    let [diameter_path, spacing_path] =
        ["diameter", "spacing"].map(|key| crate::path::key(path, key));
    if spacing <= diameter && count > 1 {
        let message = format!(
            "holes of {} stand {} from middle to middle, so they run into one another",
            rules.show(diameter),
            rules.show(spacing)
        );
        let finding = Finding::fails("holes-meet", &spacing_path, message)
            .with_hint("make `spacing` more than `diameter`");
        rules.add(&[&diameter_path, &spacing_path], finding);
    }
}

/// A door moves between its lowest and highest setting, within its opening.
fn door(rules: &mut Rules<'_>, at: &At<'_, Door>) {
    let door = at.value;
    let [lowest, highest, set, bottom, height] =
        ["lowest", "highest", "set", "bottom", "height"].map(|key| at.key(key));
    if door.lowest >= door.highest {
        let message = format!(
            "the lowest setting, {}, is not below the highest, {}",
            rules.show(door.lowest),
            rules.show(door.highest)
        );
        let finding = Finding::fails("door-order", &lowest, message)
            .with_hint("make `lowest` less than `highest`");
        return rules.add(&[&lowest, &highest], finding);
    }
    if let Some(value) = door.set
        && !(door.lowest <= value && value <= door.highest)
    {
        let message = format!(
            "the door is set to {}, but it moves from {} to {}",
            rules.show(value),
            rules.show(door.lowest),
            rules.show(door.highest)
        );
        let finding = Finding::fails("door-order", &set, message)
            .with_hint("set it between, or leave `set` out");
        rules.add(&[&lowest, &highest, &set], finding);
    }
    let top = door.bottom + door.height;
    for (path, value) in [(&lowest, door.lowest), (&highest, door.highest)] {
        if !(door.bottom <= value && value <= top) {
            let message = format!(
                "the door's edge at {} is not in its opening, which goes from {} to {}",
                rules.show(value),
                rules.show(door.bottom),
                rules.show(top)
            );
            let finding = Finding::fails("door-outside", path, message)
                .with_hint("move the setting, or the opening with `bottom` and `height`");
            rules.add(&[path, &bottom, &height], finding);
        }
    }
}
