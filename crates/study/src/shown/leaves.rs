//! Leaves that take each other's place, and doors.

use design::{RemovableId, Role};
use show::{Door, Slot, ThingId};

use super::bodies::Bodies;

/// Every place that takes one of several leaves.
pub(super) fn slots(bodies: &Bodies<'_>) -> Vec<Slot> {
    let removables = &bodies.design.removables;
    let leaf = |which: RemovableId| (removables[which].name.clone(), bodies.moved(which));
    let slot = |which: RemovableId| {
        let instead = |other: &RemovableId| removables[*other].instead_of == Some(which);
        let others: Vec<RemovableId> = (0..removables.len()).filter(instead).collect();
        let leaves = std::iter::once(which).chain(others.iter().copied()).map(leaf).collect();
        (!others.is_empty()).then(|| Slot { name: divider(bodies, which), leaves })
    };
    (0..removables.len()).filter_map(slot).collect()
}

/// Name of the divider that a leaf is of.
fn divider(bodies: &Bodies<'_>, leaf: RemovableId) -> String {
    let removable = &bodies.design.removables[leaf];
    removable.slot.as_ref().map_or(&removable.name, |slot| &slot.divider).clone()
}

/// Every door of the file that is there.
pub(super) fn doors(bodies: &Bodies<'_>, file: Option<&params::File>) -> Vec<Door> {
    let design = bodies.design;
    let doors = file.iter().flat_map(|file| &file.leaf);
    let door = |(leaf, spec): (&String, &params::Leaf)| {
        let door = spec.door.as_ref()?;
        let parameter = format!("leaf.{leaf}.door");
        let is_it = |placed: &design::Placed| {
            design.pieces[placed.piece].role == Role::Door
                && super::found::is_within(&placed.parameter, &parameter)
        };
        let all = design.placed.iter().chain(&design.spares).enumerate();
        let things: Vec<ThingId> =
            all.filter(|(_, placed)| is_it(placed)).map(|(id, _)| id).collect();
        let [lowest_mm, highest_mm] = [door.lowest, door.highest].map(units::Length::to_mm);
        // Without a setting it stands half way, as the design has it.
        let set_mm = door.set.map_or(0.5 * (lowest_mm + highest_mm), units::Length::to_mm);
        let leaf = leaf.clone();
        (!things.is_empty()).then_some(Door { leaf, things, lowest_mm, highest_mm, set_mm })
    };
    doors.filter_map(door).collect()
}
