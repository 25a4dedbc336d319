//! What a keeper can change without building anew: leaves that take one another's place, and doors.

use findings::capital;
use show::{Door, Show, Slot, ThingId};

use super::cards::{card, level};
use super::text::escaped;

/// Leaves and doors as they are in the file; nothing when there are none.
pub(super) fn leaves_and_doors(show: &Show) -> String {
    let slots: Vec<&Slot> = show.slots.iter().filter(|slot| slot.leaves.len() > 1).collect();
    if slots.is_empty() && show.doors.is_empty() {
        return String::new();
    }
    let mut body = String::from(
        "<p>What can be changed without building anew. This page works out no water: its levels and failures stay those \
         of the file, whatever leaf is shown.</p>\n",
    );
    for slot in slots {
        body.push_str(&leaves(slot));
    }
    if !show.doors.is_empty() {
        body.push_str(&doors(&show.doors, show));
    }
    card("change", "Leaves and doors", "", false, &body)
}

/// The leaves of one slot, each with a switch that shows it in the place of the others.
fn leaves(slot: &Slot) -> String {
    let mut list = format!(
        "<h3>{}</h3>\n<ul class=\"things plain\">\n",
        escaped(&capital(&format!("divider {}", slot.name)))
    );
    for (k, (name, things)) in slot.leaves.iter().enumerate() {
        let others = slot.leaves.iter().enumerate().filter(|(other, _)| *other != k);
        let others: Vec<ThingId> = others.flat_map(|(_, (_, others))| others).copied().collect();
        list.push_str(&format!(
            "<li><span>{name}{}</span><button type=\"button\" class=\"quiet\" data-in=\"{}\" data-out=\"{}\" \
             data-needs-model aria-label=\"Show {name} in the place of the others\">show it in</button></li>\n",
            if k == 0 { ", in by the file" } else { "" },
            ids(things),
            ids(&others),
            name = escaped(name),
        ));
    }
    list.push_str("</ul>\n");
    list
}

fn ids(things: &[ThingId]) -> String {
    things.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
}

fn doors(doors: &[Door], show: &Show) -> String {
    let mut table = String::from(
        "<p>Crests of doors above the inside of the bottom:</p>\n<div class=\"wide\" tabindex=\"0\" aria-label=\"Doors\"><table>\
         <thead><tr><th scope=\"col\">Door of leaf</th><th scope=\"col\">Lowest</th><th scope=\"col\">Set</th>\
         <th scope=\"col\">Highest</th></tr></thead><tbody>\n",
    );
    for door in doors {
        let [lowest, set, highest] =
            [door.lowest_mm, door.set_mm, door.highest_mm].map(|mm| escaped(&level(mm, show)));
        table.push_str(&format!(
            "<tr><th scope=\"row\">{}</th><td>{lowest}</td><td>{set}</td><td>{highest}</td></tr>\n",
            escaped(&door.leaf)
        ));
    }
    table.push_str("</tbody></table></div>\n");
    table
}
