//! Where each piece of equipment stands: where the file says, else where there is room.

use findings::Finding;
use glam::{DVec2, DVec3};
use params::Lid;

use super::blocks::{Block, blocks};
use super::compound::{Compound, Place};
use super::free_place::{Comfort, Found, Miss, Search, Thing, ThingKind};
use super::{check_inside, middle};
use crate::draft::{Builder, Draft};
use crate::enclosure::Enclosure;
use crate::model::Role;
use crate::rounding::without_rounding;
use crate::spaces::Space;

/// Code of the finding that no place is free.
pub(crate) const NO_FREE_PLACE: &str = "no-free-place";

/// The place of each compound. Those that the file gives a place have theirs before any is searched.
pub(super) fn places(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    compounds: &[(Compound<'_>, &Space)],
) -> Vec<Place> {
    let mut things = Vec::new();
    let is_sought = |compound: &Compound<'_>| compound.spec.at.is_none();
    if compounds.iter().any(|(compound, _)| is_sought(compound)) {
        things.extend(b.drafts.iter().filter_map(thing));
        things.extend(b.file.lid.iter().enumerate().filter_map(|(i, lid)| {
            let is_this = |(_, chamber): &&(Compound<'_>, &Space)| chamber.name == lid.chamber;
            let (_, chamber) = compounds.iter().find(is_this)?;
            lid_thing(b, enclosure, chamber, lid, i)
        }));
    }
    let mut places: Vec<Option<Place>> = vec![None; compounds.len()];
    for sought in [false, true] {
        for (i, (compound, chamber)) in compounds.iter().enumerate() {
            if is_sought(compound) != sought {
                continue;
            }
            let (place, is_kept) = if sought {
                search(b, enclosure, compound, chamber, &things)
            } else {
                (given(b, enclosure, compound, chamber), true)
            };
            if is_kept {
                things.extend(things_of(compound, &place));
            }
            places[i] = Some(place);
        }
    }
    places.into_iter().map(|place| place.expect("given or searched")).collect()
}

fn foot_z(enclosure: &Enclosure, compound: &Compound<'_>) -> f64 {
    enclosure.floor_z + compound.spec.stand.to_mm()
}

/// Where the file says.
fn given(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    compound: &Compound<'_>,
    chamber: &Space,
) -> Place {
    let middle = middle(chamber, compound.spec.at, 0.5 * (chamber.min + chamber.max));
    let place = Place { middle, foot_z: foot_z(enclosure, compound), quarters: 0 };
    let parameter = format!("{}.at", compound.parameter);
    // Further bodies and stubs may reach over a divider: where they may not, they share room with it.
    let main = compound.bodies[0].bounds(&place);
    check_inside(b, chamber, &compound.spec.name, &parameter, main);
    place
}

/// A free place, or the one that misses least, where it cannot stay; with what is to be said of it.
fn search(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    compound: &Compound<'_>,
    chamber: &Space,
    things: &[Thing],
) -> (Place, bool) {
    let fit = &b.file.fit;
    let around = compound.spec.service.around.to_mm().max(fit.gap.to_mm());
    let floor = [chamber.min, chamber.max];
    let reach = around.max(fit.finger_gap.to_mm());
    let near: Vec<Thing> =
        things.iter().filter(|thing| is_near(thing, floor, reach)).cloned().collect();
    let search = Search {
        compound,
        floor,
        foot_z: foot_z(enclosure, compound),
        things: &near,
        gap_mm: fit.gap.to_mm(),
        finger_gap_mm: fit.finger_gap.to_mm(),
    };
    match search.nearest() {
        Ok(found) => {
            let told = told(b, compound, chamber, &found);
            b.find(told);
            (found.place, true)
        }
        Err(miss) => {
            let told = no_free_place(b, compound, chamber, &near, &miss);
            b.find(told);
            (miss.place, false)
        }
    }
}

/// Whether anything of it lies over the chamber's floor, or so close that something in it could reach it.
fn is_near(thing: &Thing, [lo, hi]: [DVec2; 2], reach: f64) -> bool {
    thing.blocks.iter().any(|block| {
        let [a, c] = block.plan();
        a.cmple(hi + reach).all() && c.cmpge(lo - reach).all()
    })
}

/// The place as the file would say it.
fn at(chamber: &Space, place: &Place) -> String {
    let [x, y] = (place.middle - chamber.min).to_array().map(without_rounding);
    format!("[{x}, {y}]")
}

fn told(b: &Builder<'_>, compound: &Compound<'_>, chamber: &Space, found: &Found) -> Finding {
    let name = &compound.spec.name;
    let at = at(chamber, &found.place);
    let turned = match found.place.quarters {
        1 => ", turned by 90° counter-clockwise as seen from above,",
        2 => ", turned by 180°,",
        3 => ", turned by 90° clockwise as seen from above,",
        _ => "",
    };
    let but = match found.comfort {
        Comfort::Fingers => String::new(),
        Comfort::Clear => format!(
            "; there are not {} for fingers all around it",
            b.show(b.file.fit.finger_gap.to_mm())
        ),
        Comfort::Crowded => {
            "; something that can be taken out stands in the room for its service, or it in another's"
                .to_owned()
        }
    };
    let message = format!(
        "`{name}` has no `at`: the free place{turned} nearest to the middle of chamber `{}` is at = {at}{but}",
        chamber.name
    );
    let hint = if found.place.quarters == 0 {
        format!("write `at = {at}` to keep it there")
    } else {
        format!(
            "to keep it there write `at = {at}`, and its sizes and bodies as it stands when turned"
        )
    };
    Finding::holds("place-found", format!("{}.chamber", compound.parameter), message)
        .with_hint(hint)
}

fn no_free_place(
    b: &Builder<'_>,
    compound: &Compound<'_>,
    chamber: &Space,
    things: &[Thing],
    miss: &Miss,
) -> Finding {
    let name = &compound.spec.name;
    let [x, y] = (miss.place.middle - chamber.min).to_array();
    let at = format!("[{x:.0}, {y:.0}]");
    let short = b.show(miss.short_mm);
    let gap = b.show(b.file.fit.gap.to_mm());
    let turned = if miss.place.quarters == 0 { "" } else { ", turned" };
    let (way, cure) = match miss.obstacle {
        None => (
            format!("it lacks {short} to keep {gap} from the sides of the chamber"),
            "give the chamber more room".to_owned(),
        ),
        Some(obstacle) => {
            let thing = &things[obstacle.thing];
            let way = if obstacle.is_in_service_room {
                format!("{} is in the way of its service room by {short}", thing.name)
            } else {
                format!("{} is in the way by {short}, a gap of {gap} counted in", thing.name)
            };
            (way, format!("move or change {} (`{}`)", thing.name, thing.parameter))
        }
    };
    let message = format!(
        "chamber `{}` has no free place for `{name}`: nearest to fitting, with its middle at {at}{turned}, {way}",
        chamber.name
    );
    Finding::fails(NO_FREE_PLACE, format!("{}.chamber", compound.parameter), message)
        .with_limit(-miss.short_mm, 0.0, "mm")
        .with_hint(format!(
            "take a smaller one or another chamber, {cure}, or place it yourself with `at`"
        ))
}

/// A part of the sump as what equipment is to keep clear of. The bottom is none: things stand on it.
fn thing(draft: &Draft) -> Option<Thing> {
    let kind = match draft.role {
        Role::Bottom => return None,
        _ if draft.is_only_made => return None,
        Role::Wall => ThingKind::Wall,
        _ if draft.loose.is_none() => ThingKind::Fixed,
        _ => ThingKind::Loose,
    };
    Some(Thing {
        name: draft.name.clone(),
        parameter: draft.parameter.clone(),
        kind,
        blocks: blocks(&draft.shape, &draft.pose),
    })
}

/// A lid is made when all that it lies over has its place. It is held to be whole: equipment does not
/// reach through its holes.
fn lid_thing(
    b: &Builder<'_>,
    enclosure: &Enclosure,
    chamber: &Space,
    lid: &Lid,
    i: usize,
) -> Option<Thing> {
    enclosure.rim?;
    let z = enclosure.outside.z;
    let thickness = b.sheet(lid.sheet.as_ref()).thickness_mm();
    let room = [chamber.min.extend(z), chamber.max.extend(z + thickness)];
    Some(Thing {
        name: format!("lid {}", lid.chamber),
        parameter: format!("lid[{i}]"),
        kind: ThingKind::Lid,
        blocks: vec![Block::of_box(room)],
    })
}

/// Equipment in its place, and the room for its service, as what the next one is to keep clear of.
fn things_of(compound: &Compound<'_>, place: &Place) -> Vec<Thing> {
    let (name, parameter) = (compound.spec.name.clone(), compound.parameter.clone());
    let bodies = compound.bodies.iter().flat_map(|body| blocks(&body.shape, &body.pose(place)));
    let rooms: Vec<[DVec3; 2]> = compound.service(place);
    vec![
        Thing {
            name: name.clone(),
            parameter: parameter.clone(),
            kind: ThingKind::Loose,
            blocks: bodies.collect(),
        },
        Thing {
            name: format!("the service room of {name}"),
            parameter: format!("{parameter}.service"),
            kind: ThingKind::ServiceRoom,
            blocks: rooms.into_iter().map(Block::of_box).collect(),
        },
    ]
}
