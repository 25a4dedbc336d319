//! For a part of which no way is known: what stands in its way, and the nearest change that would let it out.

mod tries;

use design::{RemovableId, SurroundingKind};
use glam::DVec3;
use rayon::prelude::*;

use crate::convex::Convex;
use crate::order::{Planner, Search};
use crate::plan::{Body, Effort, plan_by_chance, plan_plainly, touched};
use crate::way::{Cure, Verdict};
use crate::words::is_bought;
use crate::world::{Origin, ThingId, World};

/// By how much a part is tried smaller in all, mm: first what sanding takes, then what another drawing does. Our judgement.
const SMALLER_MM: [f64; 6] = [1.0, 2.0, 5.0, 10.0, 20.0, 40.0];
/// By how much the cabinet's ceiling is tried higher, mm. Our judgement: what a worktop or a plinth gives.
const HIGHER_MM: [f64; 4] = [25.0, 50.0, 100.0, 200.0];
/// By how much another part is tried further, mm. Our judgement: farther is another layout.
const FURTHER_MM: [f64; 3] = [10.0, 20.0, 40.0];
/// Less deep is a touch, mm. Our judgement: half of what a part is taken smaller.
const TOUCH_MM: f64 = 0.05;
/// How many fixed things in the way are tried to be left out. Our judgement, for time.
const MOST_LEFT_OUT: usize = 4;
/// The fixed things are those that this many simple tries touch, the nearest to coming out. Our judgement, for time.
const NEAREST_TRIES: usize = 4;
/// How many changes are searched by chance for when plain moves show none, and with what share of the steps. Our
/// judgement: together they take as long as one search.
const MOST_SEARCHES: usize = 4;
const SHARE_OF_STEPS: u64 = 4;

/// What the simple tries that cut in least touch, try by try, the nearest to coming out first: things, the worst
/// first, with how deep, mm.
pub(crate) fn blocked_by(
    planner: &Planner<'_>,
    which: RemovableId,
    gone: &[bool],
) -> Vec<Vec<(ThingId, f64)>> {
    let space = planner.space(planner.world, which, gone);
    let body = planner.body(which, gone);
    let cut = |way: Vec<_>| {
        let mut cut = touched(&space, &body, &way);
        cut.retain(|(_, depth)| TOUCH_MM < *depth);
        // Deepest first; of equally deep ones that of the file first.
        cut.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        cut
    };
    let mut cuts: Vec<Vec<(ThingId, f64)>> =
        tries::tries(&body, &planner.world.exits).into_par_iter().map(cut).collect();
    // A try that is free here ends above the rim; what stops it beyond is not known.
    cuts.retain(|cut| !cut.is_empty());
    let whole = |cut: &[(ThingId, f64)]| cut.iter().map(|(_, depth)| depth).sum::<f64>();
    cuts.sort_by(|a, b| whole(a).total_cmp(&whole(b)));
    cuts.truncate(NEAREST_TRIES);
    cuts
}

/// One change to try.
struct Change {
    cure: Cure,
    /// The world with it, where it is the world that changes.
    world: Option<World>,
    /// What is left out for it.
    without: Option<ThingId>,
    /// By how much the part is smaller.
    narrower: DVec3,
}

/// The nearest change that lets `which` out, given what is gone, among those that people make: the part a little
/// smaller, what stands in the way further off, the ceiling higher, the part much smaller, a fixed thing not there.
pub(crate) fn cure(
    planner: &Planner<'_>,
    which: RemovableId,
    gone: &[bool],
    blockers: &[Vec<(ThingId, f64)>],
) -> Option<Cure> {
    let changes = changes(planner, which, gone, blockers);
    let body = planner.body(which, gone);
    let lets_out = |change: &Change, effort: Option<Effort>| {
        let world = change.world.as_ref().unwrap_or(planner.world);
        let mut space = planner.space(world, which, gone);
        if let Some(without) = change.without {
            space = space.without(without);
        }
        let body = body.narrowed(change.narrower);
        let verdict = match effort {
            None => plan_plainly(&space, &body),
            Some(effort) => plan_by_chance(&space, &body, effort),
        };
        matches!(verdict, Verdict::Found(_))
    };
    let first = |changes: &[Change], effort: Option<Effort>| {
        let found = changes.par_iter().find_first(|change| lets_out(change, effort));
        found.map(|change| change.cure.clone())
    };
    first(&changes, None).or_else(|| {
        let full = planner.effort()?;
        first(&few(changes), Some(Effort { steps: full.steps / SHARE_OF_STEPS, ..full }))
    })
}

/// Those that are worth a search by chance: one after another would take long.
fn few(changes: Vec<Change>) -> Vec<Change> {
    let is_worth = |change: &Change| match &change.cure {
        Cure::Smaller { by_mm } => [5.0, 20.0].iter().any(|mm| (mm - by_mm).abs() < 0.1),
        Cure::HigherCeiling { by_mm } => (by_mm - HIGHER_MM[2]).abs() < 0.1,
        Cure::Without { .. } => true,
        Cure::Moved { by_mm, .. } => (by_mm[0].abs() + by_mm[1].abs() - FURTHER_MM[1]).abs() < 0.1,
    };
    changes.into_iter().filter(is_worth).take(MOST_SEARCHES).collect()
}

/// All changes to try, the nearest first.
fn changes(
    planner: &Planner<'_>,
    which: RemovableId,
    gone: &[bool],
    tries: &[Vec<(ThingId, f64)>],
) -> Vec<Change> {
    let body = planner.body(which, gone);
    let across = across(&body);
    let smaller = |by_mm: &f64| Change {
        cure: Cure::Smaller { by_mm: *by_mm },
        world: None,
        without: None,
        narrower: across * *by_mm,
    };
    let (little, much) = SMALLER_MM.split_at(4);
    let mut blockers: Vec<ThingId> = Vec::new();
    for (thing, _) in tries.iter().flatten() {
        if !blockers.contains(thing) {
            blockers.push(*thing);
        }
    }
    let others = || {
        let moved = moved(planner, which, gone, &blockers, &body).into_iter();
        moved.chain(higher(planner))
    };
    // What is bought is not sanded: what stands in its way is changed first, then a smaller one is chosen.
    let order: [Vec<Change>; 3] = if is_bought(which, planner.design) {
        [others().collect(), little.iter().map(smaller).collect(), Vec::new()]
    } else {
        [
            little.iter().map(smaller).collect(),
            others().collect(),
            much.iter().map(smaller).collect(),
        ]
    };
    order.into_iter().flatten().chain(without(planner, &blockers)).collect()
}

/// The longest level side of a part: what an opening above it must take.
fn across(body: &Body) -> DVec3 {
    let size = body.bounds[1] - body.bounds[0];
    if size.y < size.x { DVec3::X } else { DVec3::Y }
}

/// What is fixed left out, thing by thing.
fn without<'a>(
    planner: &'a Planner<'_>,
    blockers: &'a [ThingId],
) -> impl Iterator<Item = Change> + 'a {
    let fixed = blockers.iter().filter(|thing| planner.removable_of(**thing).is_none());
    fixed.take(MOST_LEFT_OUT).map(|thing| Change {
        cure: Cure::Without { thing: *thing, name: planner.world.things[*thing].name.clone() },
        world: None,
        without: Some(*thing),
        narrower: DVec3::ZERO,
    })
}

/// The worst of the other parts that cannot come out either, further away from this one.
fn moved(
    planner: &Planner<'_>,
    which: RemovableId,
    gone: &[bool],
    blockers: &[ThingId],
    body: &Body,
) -> Vec<Change> {
    // Neither what the part hangs on nor what hangs on it: they come and go together.
    let is_other = |other: RemovableId| {
        !planner.wholes(which).contains(&other) && !planner.wholes(other).contains(&which)
    };
    let left = |thing: &ThingId| {
        let of = planner.removable_of(*thing);
        of.filter(|other| *other != which && !gone[*other] && is_other(*other))
    };
    let Some(other) = blockers.iter().find_map(left) else { return Vec::new() };
    let things = planner.things_of(other);
    let bounds = things.iter().map(|thing| planner.world.things[*thing].bounds);
    let (low, high) =
        bounds.fold((DVec3::MAX, DVec3::MIN), |(low, high), [lo, hi]| (low.min(lo), high.max(hi)));
    let away = 0.5 * (low + high) - body.centre;
    let away = if away.x.abs() < away.y.abs() {
        DVec3::Y * away.y.signum()
    } else {
        DVec3::X * away.x.signum()
    };
    let change = |by: &f64| Change {
        cure: Cure::Moved { removable: other, by_mm: [away.x * by, away.y * by] },
        world: Some(with_moved(planner.world, things, away * *by)),
        without: None,
        narrower: DVec3::ZERO,
    };
    FURTHER_MM.iter().map(change).collect()
}

/// The ceiling higher, where there is one.
fn higher(planner: &Planner<'_>) -> Vec<Change> {
    let Some(around) = &planner.design.surroundings else { return Vec::new() };
    if !around.has_ceiling {
        return Vec::new();
    }
    let is_ceiling = |thing: &ThingId| match planner.world.things[*thing].origin {
        Origin::Surrounding(k) => {
            let inside_z = around.inside[1].z - TOUCH_MM;
            let is_above = inside_z <= planner.world.things[*thing].bounds[0].z;
            around.things[k].kind == SurroundingKind::Panel && is_above
        }
        _ => false,
    };
    let ceilings: Vec<ThingId> = (0..planner.world.things.len()).filter(is_ceiling).collect();
    let higher = |by_mm: &f64| {
        let up = DVec3::Z * *by_mm;
        let mut world = with_moved(planner.world, &ceilings, up);
        world.exits.room[1] += up;
        Change {
            cure: Cure::HigherCeiling { by_mm: *by_mm },
            world: Some(world),
            without: None,
            narrower: DVec3::ZERO,
        }
    };
    HIGHER_MM.iter().map(higher).collect()
}

/// The same world with some things elsewhere.
fn with_moved(world: &World, things: &[ThingId], by: DVec3) -> World {
    let mut world = world.clone();
    for thing in things {
        let thing = &mut world.things[*thing];
        for piece in thing.coarse.iter_mut().chain(&mut thing.fine) {
            *piece = Convex::new(piece.points.iter().map(|p| *p + by).collect());
        }
        thing.bounds = thing.bounds.map(|corner| corner + by);
    }
    world
}
