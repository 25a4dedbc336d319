//! What is in the way where nothing of a floor is reached, whatever comes out.
//!
//! Each thing that may be the cause is tried otherwise by itself: an opening of the cabinet higher or as large as its
//! wall, the ceiling higher, one thing in the cabinet or in the sump not there. What then lets anything be reached is
//! told, with how much. So it is no guess, but two causes that only block together are told as one only where
//! they are the cabinet as a whole.

use design::{Design, RemovableId, RemovableKind, Role};
use glam::DVec2;
use rayon::prelude::*;

use super::floor::Floor;
use super::limb::Limb;
use super::obstacles::Obstacles;
use super::otherwise::{
    with_higher_ceiling, with_raised_opening, with_whole_opening, without, without_cabinet,
};
use super::reached::Reached;
use super::removal::Removal;
use crate::report::{Hindrance, HindranceKind};
use crate::world::{Origin, ThingId, World};

/// By how much an opening or the ceiling is tried higher, mm, the least first.
const HIGHER_MM: [f64; 7] = [25.0, 50.0, 100.0, 150.0, 200.0, 300.0, 500.0];
/// How many causes are told at most.
const MOST_TOLD: usize = 3;
/// By how much longer arms and tools are tried.
const LONGER: f64 = 1.5;

/// A floor of which nothing is reached.
pub(super) struct Unreached<'a> {
    pub(super) design: &'a Design,
    pub(super) world: &'a World,
    pub(super) removals: &'a [Removal],
    pub(super) limbs: &'a [Limb],
    pub(super) floor: &'a Floor,
    /// Path of the chamber's parameter.
    pub(super) parameter: &'a str,
}

impl Unreached<'_> {
    /// What is in the way, the likeliest to be changed first; nothing when no single cause was found.
    pub(super) fn hindrances(&self) -> Vec<Hindrance> {
        if let Some(narrow) = self.narrow() {
            return vec![narrow];
        }
        let mut all: Vec<Hindrance> = self.openings();
        all.extend(self.ceiling());
        all.extend(self.stuck());
        all.extend(self.things());
        if all.is_empty() {
            all.extend(self.cabinet());
        }
        if all.is_empty() {
            all.extend(self.arm());
        }
        all.truncate(MOST_TOLD);
        all
    }

    /// The chamber is narrower than all that reaches in.
    fn narrow(&self) -> Option<Hindrance> {
        let size = self.floor.max - self.floor.min;
        let thinnest = self.limbs.iter().map(|limb| 2.0 * limb.end[0].min(limb.end[1]));
        let thinnest = thinnest.fold(f64::INFINITY, f64::min);
        let wide_mm = size.min_element();
        (wide_mm < thinnest).then(|| Hindrance {
            kind: HindranceKind::Narrow { wide_mm, thinnest_mm: thinnest },
            parameter: self.parameter.to_owned(),
            tool: String::new(),
            share: 0.0,
        })
    }

    fn openings(&self) -> Vec<Hindrance> {
        let Some(around) = &self.design.surroundings else { return Vec::new() };
        let rim_z = self.world.exits.rim_z;
        let of = |(k, opening): (usize, &design::Opening)| {
            let above_rim_mm = opening.gap[1].z - rim_z;
            let raised = |by_mm| with_raised_opening(self.design, self.world, k, by_mm);
            let higher = least_higher(raised, |by_mm, world| {
                let kind = HindranceKind::LowOpening { above_rim_mm, by_mm };
                self.helps(world, kind, &opening.parameter)
            });
            higher.or_else(|| {
                let kind = HindranceKind::SmallOpening;
                self.helps(
                    &with_whole_opening(self.design, self.world, k)?,
                    kind,
                    &opening.parameter,
                )
            })
        };
        around.openings.par_iter().enumerate().filter_map(of).collect()
    }

    fn ceiling(&self) -> Option<Hindrance> {
        let inside = self.design.surroundings.as_ref()?.inside;
        let above_rim_mm = inside[1].z - self.world.exits.rim_z;
        let raised = |by_mm| with_higher_ceiling(self.design, self.world, by_mm);
        least_higher(raised, |by_mm, world| {
            let kind = HindranceKind::LowCeiling { above_rim_mm, by_mm };
            self.helps(world, kind, "cabinet.inside.height")
        })
    }

    /// What lifts out, but no way of it is known.
    fn stuck(&self) -> Vec<Hindrance> {
        let removables = self.design.removables.iter().zip(self.removals).enumerate();
        let stuck = removables.filter(|(_, (removable, removal))| {
            removable.kind != RemovableKind::Sump
                && !removal.is_way_known
                && !removal.things.is_empty()
        });
        let stuck: Vec<RemovableId> = stuck.map(|(id, _)| id).collect();
        let tell = |id: &RemovableId| {
            let (name, parameter) =
                (&self.design.removables[*id].name, &self.design.removables[*id].parameter);
            let kind = HindranceKind::Stuck { name: name.clone() };
            let world = without(self.world, &self.removals[*id].things);
            self.helps(&world, kind, parameter)
        };
        stuck.par_iter().filter_map(tell).collect()
    }

    /// What is fixed in the cabinet or in the sump, thing by thing; not what both are made of.
    fn things(&self) -> Vec<Hindrance> {
        let loose = |thing: &ThingId| self.removals.iter().any(|r| r.things.contains(thing));
        let is_asked = |thing: &ThingId| match self.world.things[*thing].origin {
            Origin::Placed(id) => {
                let role = self.design.pieces[self.design.placed[id].piece].role;
                !matches!(role, Role::Wall | Role::Bottom)
            }
            Origin::Spare(_) => false,
            Origin::Surrounding(k) => self.design.surroundings.as_ref().is_some_and(|around| {
                use design::SurroundingKind::{Mat, Panel};
                !matches!(around.things[k].kind, Panel | Mat)
            }),
        };
        let asked = (0..self.world.things.len()).filter(|thing| is_asked(thing) && !loose(thing));
        let asked: Vec<ThingId> = asked.filter(|thing| self.is_near(*thing)).collect();
        // Each as if it came out by itself: so all are asked for at once.
        let alone = |(k, thing): (usize, &ThingId)| Removal {
            things: vec![*thing],
            order: vec![k],
            is_way_known: true,
        };
        let removals: Vec<Removal> = asked.iter().enumerate().map(alone).collect();
        let emptied = self.emptied(self.world);
        let obstacles = Obstacles::of(&emptied, &removals);
        let reached = self.reached(&emptied, self.limbs, &obstacles, &removals);
        let tell = |(k, thing): (usize, &ThingId)| {
            let (tool, share) = most(self.limbs, &reached, &[k])?;
            let of = &self.world.things[*thing];
            let kind = HindranceKind::Thing { name: of.name.clone() };
            Some(Hindrance { kind, parameter: of.parameter.clone(), tool, share })
        };
        let mut found: Vec<Hindrance> = asked.iter().enumerate().filter_map(tell).collect();
        // What lets most be reached first; of equals that of the file first.
        found.sort_by(|a, b| b.share.total_cmp(&a.share));
        found
    }

    /// Whether a thing comes within an arm's length of the floor.
    fn is_near(&self, thing: ThingId) -> bool {
        let longest = self.limbs.iter().map(|limb| limb.first.length + limb.second.length);
        let longest = longest.fold(0.0, f64::max);
        let [lo, hi] = self.world.things[thing].bounds;
        let (min, max) = (self.floor.min - longest, self.floor.max + longest);
        lo.truncate().cmplt(max).all() && hi.truncate().cmpgt(min).all()
    }

    fn cabinet(&self) -> Option<Hindrance> {
        self.design.surroundings.as_ref()?;
        self.helps(&without_cabinet(self.world), HindranceKind::Cabinet, "cabinet")
    }

    fn arm(&self) -> Option<Hindrance> {
        let mut reach = self.design.reach.clone();
        reach.length = reach.length.map(|length| length * LONGER);
        for tool in &mut reach.tool {
            tool.length = tool.length * LONGER;
        }
        let tools = reach.tool.iter().map(|tool| Limb::tool(tool, &reach));
        let limbs: Vec<Limb> = std::iter::once(Limb::hand(&reach)).chain(tools).collect();
        let asked = limbs.iter().filter(|limb| self.limbs.iter().any(|own| own.name == limb.name));
        let limbs: Vec<Limb> = asked.cloned().collect();
        let (tool, share) = self.best(self.world, &limbs)?;
        let kind = HindranceKind::ShortArm { times: LONGER };
        Some(Hindrance { kind, parameter: "reach.length".to_owned(), tool, share })
    }

    fn helps(&self, world: &World, kind: HindranceKind, parameter: &str) -> Option<Hindrance> {
        let (tool, share) = self.best(world, self.limbs)?;
        Some(Hindrance { kind, parameter: parameter.to_owned(), tool, share })
    }

    /// What reaches most of the floor with all out that comes out, and how much; `None` when nothing does.
    fn best(&self, world: &World, limbs: &[Limb]) -> Option<(String, f64)> {
        let emptied = self.emptied(world);
        let obstacles = Obstacles::of(&emptied, self.removals);
        most(limbs, &self.reached(&emptied, limbs, &obstacles, self.removals), &[])
    }

    /// A world with all out that comes out: not as one of many choices, for that takes longer to reckon.
    fn emptied(&self, world: &World) -> World {
        let known = self.removals.iter().filter(|removal| removal.is_way_known);
        let out: Vec<ThingId> = known.flat_map(|removal| removal.things.iter().copied()).collect();
        without(world, &out)
    }

    fn reached<'a>(
        &self,
        world: &World,
        limbs: &[Limb],
        obstacles: &'a Obstacles<'a>,
        removals: &'a [Removal],
    ) -> Vec<Reached<'a>> {
        let sizes: (DVec2, f64) = (self.design.outside.truncate(), self.design.reach.lean.to_mm());
        let floors = std::slice::from_ref(self.floor);
        super::all(floors, limbs, obstacles, removals, world, sizes).pop().unwrap_or_default()
    }
}

/// What the least of the heights that helps brings; only those are asked with which there is a world.
///
/// Higher never reaches less. So where the highest does not help no other is asked, else they are halved.
fn least_higher(
    raised: impl Fn(f64) -> Option<World>,
    helps: impl Fn(f64, &World) -> Option<Hindrance>,
) -> Option<Hindrance> {
    let worlds: Vec<(f64, World)> =
        HIGHER_MM.iter().map_while(|by_mm| Some((*by_mm, raised(*by_mm)?))).collect();
    let (highest, below) = worlds.split_last()?;
    let mut best = helps(highest.0, &highest.1)?;
    let (mut from, mut to) = (0, below.len());
    while from < to {
        let middle = usize::midpoint(from, to);
        match helps(below[middle].0, &below[middle].1) {
            Some(found) => (best, to) = (found, middle),
            None => from = middle + 1,
        }
    }
    Some(best)
}

/// Which limb reaches most with these out, and how much; `None` when none reaches anything.
fn most(limbs: &[Limb], reached: &[Reached<'_>], out: &[RemovableId]) -> Option<(String, f64)> {
    let shares = reached.iter().map(|reached| reached.share(out)).zip(limbs);
    let best = shares.reduce(|best, next| if best.0 < next.0 { next } else { best });
    best.filter(|(share, _)| 0.0 < *share).map(|(share, limb)| (limb.name.clone(), share))
}
