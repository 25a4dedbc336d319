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
            let higher = HIGHER_MM.iter().find_map(|by_mm| {
                let kind = HindranceKind::LowOpening { above_rim_mm, by_mm: *by_mm };
                let world = with_raised_opening(self.design, self.world, k, *by_mm)?;
                self.helps(&world, kind, &opening.parameter)
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
        HIGHER_MM.iter().find_map(|by_mm| {
            let kind = HindranceKind::LowCeiling { above_rim_mm, by_mm: *by_mm };
            let world = with_higher_ceiling(self.design, self.world, *by_mm)?;
            self.helps(&world, kind, "cabinet.inside.height")
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
        let tell = |thing: &ThingId| {
            let of = &self.world.things[*thing];
            let kind = HindranceKind::Thing { name: of.name.clone() };
            self.helps(&without(self.world, &[*thing]), kind, &of.parameter)
        };
        let mut found: Vec<Hindrance> = asked.par_iter().filter_map(tell).collect();
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
        let obstacles = Obstacles::of(world, self.removals);
        let sizes: (DVec2, f64) = (self.design.outside.truncate(), self.design.reach.lean.to_mm());
        let floors = std::slice::from_ref(self.floor);
        let all = super::all(floors, limbs, &obstacles, self.removals, world, sizes);
        let known: Vec<RemovableId> =
            (0..self.removals.len()).filter(|id| self.removals[*id].is_way_known).collect();
        let shares = all.first()?.iter().map(|reached| reached.share(&known)).zip(limbs);
        let best = shares.reduce(|best, next| if best.0 < next.0 { next } else { best });
        best.filter(|(share, _)| 0.0 < *share).map(|(share, limb)| (limb.name.clone(), share))
    }
}
