//! Clearances in service: doors at their lowest and highest setting, lids lifted, and the room that equipment needs.

use design::{Design, RemovableKind, Role, WayShape};
use glam::DVec3;
use rayon::prelude::*;

use super::gap::{bounds_gap, least_gap};
use super::limits::Limits;
use super::{NEAR_MM, measured, told};
use crate::convex::Convex;
use crate::report::{Clearance, HeldTo};
use crate::world::{Origin, ThingId, World};

/// A lid is lifted by this to look under it, mm; our judgement.
const LIFTED_MM: f64 = 30.0;
/// Settings that are nearer to where a door is set are no others, mm.
const SAME_SETTING_MM: f64 = 1e-6;
/// What reaches less into a service room does not stand in it, mm: rounding, or a face on a face.
const IN_IT_MM: f64 = 0.005;

/// A thing somewhere else than in its place.
pub(super) struct Moved {
    pub(super) thing: ThingId,
    pub(super) by: DVec3,
    when: String,
}

/// Doors and lids moved, against all others in their place. Pairs that are no nearer than in their place are
/// told there already.
pub(super) fn moved(design: &Design, world: &World, limits: &Limits) -> Vec<Clearance> {
    let mut all = doors(design);
    all.extend(lids(design));
    let n = world.things.len();
    let of = |moved: &Moved| -> Vec<Clearance> {
        let others = (0..n).filter(|other| *other != moved.thing);
        let near = others.filter_map(|other| {
            let there = measured(world, limits, [moved.thing, other], moved.by)?;
            let here = measured(world, limits, [moved.thing, other], DVec3::ZERO);
            let is_nearer = here.is_none_or(|here| there.gap_mm < here.gap_mm - SAME_SETTING_MM);
            is_nearer.then(|| Clearance { when: Some(moved.when.clone()), ..there })
        });
        near.collect()
    };
    all.par_iter().flat_map_iter(of).collect()
}

pub(super) fn doors(design: &Design) -> Vec<Moved> {
    let mut all = Vec::new();
    for way in &design.waterworks.ways {
        let WayShape::Door { lowest_mm, set_mm, highest_mm, .. } = way.shape else { continue };
        let leaf = format!("leaf {}", way.leaf);
        let leaf = design.placed.iter().position(|placed| placed.name == leaf);
        let is_on_leaf = |id: usize| {
            design.joints.iter().any(|joint| {
                (Some(joint.a) == leaf && joint.b == id) || (Some(joint.b) == leaf && joint.a == id)
            })
        };
        let is_its = |(id, placed): &(usize, &design::Placed)| {
            way.is_in && design.pieces[placed.piece].role == Role::Door && is_on_leaf(*id)
        };
        let Some((thing, _)) = design.placed.iter().enumerate().find(is_its) else { continue };
        for (setting, words) in [(lowest_mm, "lowest"), (highest_mm, "highest")] {
            let is_known = all.iter().any(|m: &Moved| m.thing == thing && m.when.contains(words));
            if (setting - set_mm).abs() > SAME_SETTING_MM && !is_known {
                all.push(Moved {
                    thing,
                    by: (setting - set_mm) * DVec3::Z,
                    when: format!("with the door at its {words}"),
                });
            }
        }
    }
    all
}

fn lids(design: &Design) -> Vec<Moved> {
    let is_lid = |placed: &design::Placed| design.pieces[placed.piece].role == Role::Lid;
    let lids = design.placed.iter().enumerate().filter(|(_, placed)| is_lid(placed));
    let lifted = |(thing, _)| Moved {
        thing,
        by: LIFTED_MM * DVec3::Z,
        when: format!("with the lid lifted {LIFTED_MM:.0} mm"),
    };
    lids.map(lifted).collect()
}

/// Something that stands where a piece of equipment is serviced.
#[derive(Clone, Debug, PartialEq)]
pub struct InService {
    /// The equipment.
    pub of: ThingId,
    /// What stands there.
    pub what: ThingId,
    /// How far it reaches into the room, mm.
    pub depth_mm: f64,
    /// The nearest way out of the room: a point of the thing and where it would have to go.
    pub at: [DVec3; 2],
}

/// What is loose and must be taken out before a piece of equipment is serviced.
pub fn taken_out_first(design: &Design, world: &World) -> Vec<InService> {
    in_service(design, world).into_iter().filter(|s| is_loose(design, world, s.what)).collect()
}

/// What is fixed and stands where a piece of equipment is serviced.
pub(super) fn blocked(design: &Design, world: &World) -> Vec<Clearance> {
    let fixed = in_service(design, world).into_iter();
    let fixed = fixed.filter(|s| !is_loose(design, world, s.what));
    let tell = |s: InService| {
        let nearest = crate::nearest::Nearest { gap_mm: -s.depth_mm, points: s.at };
        let when = Some("in the room that its service needs".to_owned());
        Clearance { when, ..told(world, [s.of, s.what], nearest, (0.0, HeldTo::ServiceRoom)) }
    };
    fixed.map(tell).collect()
}

fn is_loose(design: &Design, world: &World, thing: ThingId) -> bool {
    match world.things[thing].origin {
        Origin::Placed(id) => design.placed[id].loose.is_some(),
        Origin::Spare(_) => true,
        Origin::Surrounding(_) => {
            design.removables.iter().any(|r| world.part(r, design).contains(&thing))
        }
    }
}

/// Everything that stands in a service room but what is serviced itself.
fn in_service(design: &Design, world: &World) -> Vec<InService> {
    let parts = design.removables.iter().filter(|r| r.kind != RemovableKind::Sump);
    let parts: Vec<Vec<ThingId>> = parts.map(|r| world.part(r, design)).collect();
    let mut all = Vec::new();
    for (of, placed) in design.placed.iter().enumerate().filter(|(_, p)| !p.service.is_empty()) {
        let own = |thing: ThingId| {
            thing == of || parts.iter().any(|part| part.contains(&of) && part.contains(&thing))
        };
        let rooms: Vec<Convex> = placed.service.iter().map(|room| Convex::block(*room)).collect();
        for (what, thing) in world.things.iter().enumerate() {
            let is_near = rooms.iter().any(|r| bounds_gap([r.min, r.max], thing.bounds) < 0.0);
            if !is_near || own(what) || world.is_spare(what) {
                continue;
            }
            let found = least_gap(&rooms, &thing.fine, DVec3::ZERO, NEAR_MM);
            if let Some(found) = found.filter(|found| found.gap_mm < -IN_IT_MM) {
                all.push(InService { of, what, depth_mm: -found.gap_mm, at: found.points });
            }
        }
    }
    all
}
