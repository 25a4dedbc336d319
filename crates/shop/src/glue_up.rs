//! The order in which the parts of a sump are glued, worked out from its joints.
//!
//! Small parts are glued onto walls and leaves while these lie flat on the bench; then part after part goes into the box.
//! Every step is checked: the new part gets to its place on a straight way, every new joint can be laid level and a needle
//! gets to every place along it or to the next one beside, and what is glued so far stands by itself. Where adhesive is put
//! on instead of solvent, the joint can be pressed by weight and wiped. Of the orders that hold, the one is taken in which
//! the box is turned least, each turn counted by the mass that is turned; of such, the first by the rank of common practice.

mod block;
mod bond;
mod entry;
mod feeding;
mod fewest;
mod found;
mod glue;
mod needle;
mod parts;
mod rest;
mod seam;
mod search;
mod stuck;
#[cfg(test)]
mod tests;
mod turns;
mod unit;

use design::{Design, PlacedId};
use findings::Finding;
use glam::DVec3;

pub use bond::{Bond, Times, bond, plastic, solvent_ml, times};
pub use found::lying;
pub use needle::{BOTTLE_MM, FedSeam, LEAST_ANGLE_DEG, NEEDLE_MM, ONE_SIDE_MM};
pub use rest::{LEAST_TIP_DEG, STEADY_DEG};
pub use seam::APART_MM;
pub use stuck::{Stuck, stuck};
pub use turns::Turns;

use glue::Glue;
use parts::Parts;
use search::{Put, Search};
use unit::{Unit, sets, units};

/// Index into [`Design::joints`].
pub type JointId = usize;

/// How a sump is glued together.
#[derive(Clone, Debug, PartialEq)]
pub struct GlueUp {
    /// The steps in order.
    pub steps: Vec<Step>,
}

/// One step: what is new, and how it is joined to what is there.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Where it is done.
    pub place: StepPlace,
    /// What is new: one part with what was glued onto it before, or several alike parts.
    pub parts: Vec<PlacedId>,
    /// What is there already and is glued to it, or stands around it.
    pub standing: Vec<PlacedId>,
    /// The straight way into its place, a unit vector in the sump's frame; `None` where no straight way is free.
    pub way: Option<DVec3>,
    /// How its joints are fed, in order.
    pub feeds: Vec<Feed>,
    /// Joints of it that cannot be fed.
    pub unfed: Vec<Unfed>,
    /// Parts there that hold it square, beside the one that it rests on first.
    pub square_to: Vec<PlacedId>,
}

/// Where a step is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepPlace {
    /// On a wall or a leaf that lies flat.
    Bench,
    /// In the box that grows on its bottom.
    Box,
}

/// Joints that are fed in one position.
#[derive(Clone, Debug, PartialEq)]
pub struct Feed {
    /// What of the sump points down, a unit vector in the sump's frame.
    pub down: DVec3,
    /// The joints, each level in this position.
    pub joints: Vec<FedJoint>,
    /// By how much all of it can be tipped in this position until it falls, degrees.
    pub tip_deg: f64,
    /// Whether it rests on blocks under the part that lies flat, because something is glued below it already.
    pub is_on_blocks: bool,
}

/// A joint with the seams that it is fed by.
#[derive(Clone, Debug, PartialEq)]
pub struct FedJoint {
    /// Which joint.
    pub joint: JointId,
    /// The seams that a needle gets to all along, every place or the next one beside it, the best first; of a joint with
    /// adhesive those along which it can be wiped.
    pub seams: Vec<FedSeam>,
    /// Whether it is so wide that solvent is fed along both of its seams: wider than [`ONE_SIDE_MM`].
    pub needs_both: bool,
}

/// A joint that cannot be fed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unfed {
    /// Which joint.
    pub joint: JointId,
    /// What is in the way.
    pub why: Why,
}

/// Why a joint cannot be fed. That it does not lie level is no reason of its own: a needle that reaches a seam at all leans
/// away from the strip by [`LEAST_ANGLE_DEG`] or more, so it is clear of the bench with the other side of the strip down, and
/// there the joint is level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Why {
    /// The two parts do not meet as the design says: nobody knows where the joint runs.
    Apart,
    /// Whichever side is down, as long as the joint lies level a needle does not reach it along its length.
    OutOfReach,
    /// A needle reaches it from one side only, and it is wider than [`ONE_SIDE_MM`].
    OneSide,
    /// It takes adhesive, and where it is pressed by weight nobody gets to either of its sides to wipe off what is pressed
    /// out.
    NotWiped,
    /// Where a needle reaches it, what is glued so far falls when it is tipped by less than [`LEAST_TIP_DEG`].
    Tips {
        /// What would be below, a unit vector in the sump's frame.
        down: DVec3,
        /// By how much it can be tipped until it falls, degrees; negative when it falls by itself.
        tip_deg: f64,
    },
}

impl GlueUp {
    /// All joints that are made, in order.
    pub fn joints(&self) -> Vec<JointId> {
        self.steps.iter().flat_map(Step::joints).collect()
    }
}

/// The order of work, and what was found about it.
pub fn glue_up(design: &Design) -> (GlueUp, Vec<Finding>) {
    let parts = Parts::of(design);
    if parts.patches.is_empty() {
        return (GlueUp { steps: Vec::new() }, Vec::new());
    }
    let apart = [true, false].into_iter().find_map(|on_hosts| {
        let units = units(&parts, on_hosts);
        whole(&parts, &units)
    });
    let glue_up = apart.unwrap_or_else(|| as_far_as_it_goes(&parts, &units(&parts, true)));
    let findings = found::findings(design, &glue_up);
    (glue_up, findings)
}

/// An order in which everything holds, if there is one.
fn whole(parts: &Parts<'_>, units: &[Unit]) -> Option<GlueUp> {
    let mut search = Search::new(parts, units);
    let mut left: Vec<usize> = (0..units.len()).collect();
    let (mut bench, mut steps) = (Vec::new(), Vec::new());
    // Everything that is joined to the bottom; then what is glued but stands in the box loose.
    while let Some(base) = search.base(&left) {
        let joined = search.joined_to(base, &left);
        let others: Vec<usize> = joined.iter().copied().filter(|&u| u != base).collect();
        let puts = fewest::fewest_turns(&search, base, &others)
            .or_else(|| search.order(&mut vec![base], &others))?;
        for unit in std::iter::once(base).chain(puts.iter().map(|put| put.unit)) {
            bench.extend(on_bench(parts, search.unit(unit)));
        }
        steps.extend(puts.into_iter().map(|put| in_box(parts, put)));
        left.retain(|unit| !joined.contains(unit));
    }
    bench.extend(steps);
    bench.iter().all(|step| step.unfed.is_empty()).then_some(GlueUp { steps: bench })
}

/// The least bad order where none holds throughout.
fn as_far_as_it_goes(parts: &Parts<'_>, units: &[Unit]) -> GlueUp {
    let search = Search::new(parts, units);
    let mut left: Vec<usize> = (0..units.len()).collect();
    let (mut bench, mut steps) = (Vec::new(), Vec::new());
    while let Some(base) = search.base(&left) {
        let mut standing = vec![base];
        left.retain(|&unit| unit != base);
        bench.extend(on_bench(parts, search.unit(base)));
        while let Some(put) = search.least_bad(&standing, &left) {
            standing.push(put.unit);
            left.retain(|&unit| unit != put.unit);
            bench.extend(on_bench(parts, search.unit(put.unit)));
            steps.push(in_box(parts, put));
        }
    }
    bench.extend(steps);
    GlueUp { steps: bench }
}

/// A unit that goes into the box.
fn in_box(parts: &Parts<'_>, put: Put) -> Step {
    let Put { moving, standing, way, feeds, unfed, .. } = put;
    let first: Vec<JointId> =
        feeds.first().iter().flat_map(|feed| feed.joints.iter().map(|fed| fed.joint)).collect();
    // What it rests on first does not hold it square; all else that it touches does.
    let mut square_to: Vec<PlacedId> = parts
        .between(&moving, &standing)
        .into_iter()
        .filter(|joint| !first.contains(joint))
        .map(|id| {
            let joint = parts.joint(id);
            if moving.contains(&joint.a) { joint.b } else { joint.a }
        })
        .collect();
    square_to.sort_unstable();
    square_to.dedup();
    Step { place: StepPlace::Box, parts: moving, standing, way, feeds, unfed, square_to }
}

/// What is glued onto a part while it lies flat.
fn on_bench(parts: &Parts<'_>, unit: &Unit) -> Vec<Step> {
    let mut standing = vec![unit.host];
    let mut steps = Vec::new();
    for (down, ids) in sets(parts, unit) {
        let joints = parts.between(&ids, &[unit.host]);
        let all: Vec<PlacedId> = standing.iter().chain(&ids).copied().collect();
        let blocks = parts.blocks(&all);
        let host = parts.blocks[unit.host].reach(down);
        let is_on_blocks = blocks.iter().any(|block| block.reach(down) > host + 0.5);
        // On blocks it lies as safely as without what is below.
        let above: Vec<PlacedId> =
            all.iter().copied().filter(|&id| parts.blocks[id].reach(down) <= host + 0.5).collect();
        let tip_deg = rest::tip_deg(&parts.weights(&above), down);
        let (mut fed, mut unfed) = (Vec::new(), Vec::new());
        for joint in joints {
            let Some(patch) = parts.patches[&joint] else {
                unfed.push(Unfed { joint, why: Why::Apart });
                continue;
            };
            let glue = Glue::of(parts, joint);
            let seams = glue.seams(&patch, &blocks, down);
            if seams.is_empty() || tip_deg < LEAST_TIP_DEG {
                let why = feeding::why(glue, &patch, &[down], &blocks, &parts.weights(&above));
                unfed.push(Unfed { joint, why });
            } else {
                fed.push(FedJoint { joint, seams, needs_both: needle::needs_both(&patch) });
            }
        }
        let feeds = if fed.is_empty() {
            Vec::new()
        } else {
            vec![Feed { down, joints: fed, tip_deg, is_on_blocks }]
        };
        steps.push(Step {
            place: StepPlace::Bench,
            parts: ids.clone(),
            standing: standing.clone(),
            way: Some(down),
            feeds,
            unfed,
            square_to: Vec::new(),
        });
        standing.extend(ids);
    }
    steps
}
