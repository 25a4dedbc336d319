//! Whether a hand or a tool gets to the floor of a chamber, and what must be taken out first.
//!
//! **The limb** is a chain of two straight links. The first is the flat hand with the forearm: a box of the hand's
//! breadth and thickness, then thickening to the arm's thickness at the elbow; or a tool as broad as its head. The
//! second is the round upper arm; or, of a tool, the straight arm that holds it. The shoulder must be out of the
//! cabinet's door, or no farther in than one leans through a door that takes head and shoulders; of a sump that stands
//! free, above the rim or beside the sump. So lengths limit how deep and how
//! far in it reaches. Sizes are the file's; by default an opening that MIL-STD-1472 asks for a hand and an arm, and the
//! length of the 5th percentile female, 677 mm (NUREG-0700 rev. 3, table 11.4).
//!
//! **A pose** puts the end on the middle of a cell of the floor, at most 20 mm wide, or as near to it as walls allow:
//! upright or tipped by up to 60° to eight sides, spun in steps of 45°, with the second link towards 49 directions
//! and 15 points of each door. It counts when neither link shares room with anything in place, or only with what
//! is taken out; then it covers the cells under its end, half a cell more on every side.
//!
//! Poses are tried on every other cell, and on those between where the first found anything. What stays for every cell is
//! which sets of loose things must be gone, in all their alternatives. So every question about what to take
//! out is then one of sets, and reach can only grow as things go.
//!
//! **Limits.** A pose is asked for, not the motion into it; but both links are hardly thicker towards their tip, so that
//! they slide in along themselves where there is room behind. The wrist is straight, the arm that holds a tool too,
//! links are rigid, and no pose lies between the steps: a little more can be reached than is said. Of the
//! body that belongs to the shoulder only the height above the rim and the breadth of the door are asked for: where pipes
//! or posts stand in its way, less can be.
//! Spins of a hand whose joints lie within 20 mm of each other share the upper arm. What stands on the floor takes it
//! away only where it is fixed.

mod antichain;
mod cover;
mod floor;
mod hindrance;
mod limb;
mod obstacles;
mod otherwise;
mod poses;
mod reached;
mod removal;
mod shoulder;

#[cfg(test)]
mod tests;

use design::{Design, RemovableId};
use glam::DVec2;
use rayon::prelude::*;

use self::floor::Floor;
use self::hindrance::Unreached;
use self::limb::Limb;
use self::obstacles::Obstacles;
use self::poses::{Arms, Tip, tips};
use self::reached::Reached;
use self::removal::Removal;
use crate::order::Emptying;
use crate::report::{ChamberReach, Rescue, Step, ToolReach};
use crate::world::World;

/// What is reached in every chamber, by the hand and by every tool; and how the whole floor of the first
/// chamber comes within a hand's reach.
pub(crate) fn reach(
    design: &Design,
    world: &World,
    emptying: &Emptying,
) -> (Vec<ChamberReach>, Option<Rescue>) {
    let removals = removal::removals(design, world, emptying);
    let tools = design.reach.tool.iter().map(|tool| Limb::tool(tool, &design.reach));
    let limbs: Vec<Limb> = core::iter::once(Limb::hand(&design.reach)).chain(tools).collect();
    let floors: Vec<Floor> =
        design.chambers.iter().map(|c| Floor::new(c.min, c.max, design.floor_z)).collect();
    let obstacles = Obstacles::of(world, &removals);
    let all = all(
        &floors,
        &limbs,
        &obstacles,
        &removals,
        world,
        (design.outside.truncate(), design.reach.lean.to_mm()),
    );
    let order = |wanted: &[RemovableId]| emptying.to_take_out(wanted).unwrap_or_default();
    let chamber = |(k, chamber): (usize, &design::Chamber)| {
        let of_limbs = limbs.iter().zip(&all[k]);
        let tools: Vec<ToolReach> =
            of_limbs.map(|(limb, reached)| tool_reach(limb, reached, &order)).collect();
        let is_floor = all[k].first().is_some_and(Reached::has_floor);
        let limbs = match unreached(&limbs, &tools, k == 0) {
            limbs if is_floor => limbs,
            _ => &[],
        };
        let (removals, floor, parameter) = (&removals, &floors[k], &chamber.parameter);
        let hindrances = match limbs {
            [] => Vec::new(),
            limbs => Unreached { design, world, removals, limbs, floor, parameter }.hindrances(),
        };
        ChamberReach {
            chamber: chamber.name.clone(),
            parameter: chamber.parameter.clone(),
            tools,
            hindrances,
        }
    };
    let chambers = design.chambers.iter().enumerate().map(chamber).collect();
    let first = design.chambers.first().zip(all.first().and_then(|reached| reached.first()));
    let rescue = first.map(|(chamber, by_hand)| {
        let name = |id: RemovableId| design.removables[id].name.clone();
        rescue(chamber.name.clone(), by_hand, &removals, &order, &name)
    });
    (chambers, rescue)
}

/// Floor by floor, and for each limb by limb.
fn all<'a>(
    floors: &[Floor],
    limbs: &[Limb],
    obstacles: &'a Obstacles<'a>,
    removals: &'a [Removal],
    world: &World,
    (outside, lean_mm): (DVec2, f64),
) -> Vec<Vec<Reached<'a>>> {
    let ready: Vec<(&Limb, Vec<Tip>, Arms<'_>)> = limbs
        .iter()
        .map(|limb| {
            (limb, tips(limb), Arms::new(limb, &world.exits, [DVec2::ZERO, outside], lean_mm))
        })
        .collect();
    let by = |floor: &Floor| {
        let each = ready.par_iter().map(|(limb, tips, arms)| {
            Reached::new(floor.clone(), (limb, tips), arms, obstacles, removals)
        });
        each.collect()
    };
    floors.par_iter().map(by).collect()
}

/// Of which limbs it is asked what is in their way: of all, when none of them reaches anything; of the hand in the first
/// chamber, from which an animal is to be rescued.
fn unreached<'a>(limbs: &'a [Limb], tools: &[ToolReach], is_first: bool) -> &'a [Limb] {
    let is_nothing = |tool: &ToolReach| tool.best_share <= 0.0;
    if is_first && tools.first().is_some_and(is_nothing) {
        return &limbs[..1];
    }
    if tools.iter().all(is_nothing) { limbs } else { &[] }
}

fn tool_reach(
    limb: &Limb,
    reached: &Reached<'_>,
    order: &impl Fn(&[RemovableId]) -> Vec<Step>,
) -> ToolReach {
    let wanted = reached.wanted(false);
    ToolReach {
        tool: limb.name.clone(),
        share: reached.share(&[]),
        best_share: reached.share(&wanted),
        taken_out: order(&wanted).iter().map(|step| step.removable).collect(),
        out_of_reach: reached.farthest_off(&wanted),
    }
}

/// With what has a way out, if that does as much as anything would; else with what would have to have one.
fn rescue(
    chamber: String,
    by_hand: &Reached<'_>,
    removals: &[Removal],
    order: &impl Fn(&[RemovableId]) -> Vec<Step>,
    name: &impl Fn(RemovableId) -> String,
) -> Rescue {
    let known = by_hand.wanted(false);
    let any = by_hand.wanted(true);
    if by_hand.share(&any) <= by_hand.share(&known) {
        return Rescue {
            chamber,
            steps: order(&known),
            share: by_hand.share(&known),
            is_possible: true,
        };
    }
    let (with_way, without): (Vec<_>, Vec<_>) =
        any.iter().partition(|id| removals[**id].is_way_known);
    let stuck = without.into_iter().map(|id| Step {
        removable: id,
        name: name(id),
        undo: None,
        pushed_aside: Vec::new(),
        moves: Vec::new(),
        least_gap_mm: 0.0,
    });
    let steps = order(&with_way).into_iter().chain(stuck).collect();
    Rescue { chamber, steps, share: by_hand.share(&any), is_possible: false }
}
