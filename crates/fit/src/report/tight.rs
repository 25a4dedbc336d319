//! How closely a part passes what it is not guided by.

use crate::motion::Motion;
use crate::nearest::nearest_below;
use crate::plan::{Body, Obstacle, Space, holds, is_free, least_gap};
use crate::report::Passed;
use crate::world::{ThingId, World};

/// A hand carries a part past something no nearer than this, mm; our judgement: sheet, gluing and hand together are
/// off by as much.
pub(crate) const HAND_MM: f64 = 0.5;

/// What is no farther from a part in its place than this, mm, holds or guides it by design: it stands on it, hangs in
/// it, slides along it. Our judgement: the play of guides is less.
const GUIDED_MM: f64 = 1.0;

/// What the part passes closer than a hand can, the closest; `None` where it passes nothing so, but what holds or
/// guides it in its place.
pub(super) fn closest(
    world: &World,
    space: &Space<'_>,
    body: &Body,
    way: &[Motion],
) -> Option<Passed> {
    let mut things: Vec<ThingId> = space.obstacles.iter().map(|other| other.thing).collect();
    things.sort_unstable();
    things.dedup();
    let guides = guides(space, body);
    things.retain(|thing| !guides.contains(thing));
    let passed = |thing: ThingId| {
        let mut alone = space.clone();
        alone.obstacles.retain(|other| other.thing == thing);
        let gap_mm = least_gap(&alone, body, way);
        (gap_mm < HAND_MM).then(|| Passed { name: world.things[thing].name.clone(), gap_mm })
    };
    things.into_iter().filter_map(passed).min_by(|a, b| a.gap_mm.total_cmp(&b.gap_mm))
}

/// By how much a slide is tried longer or shorter so that the part comes past with room, mm. Our judgement.
const LONGER_MM: [f64; 4] = [1.0, 2.0, 4.0, 8.0];

/// How many slides are changed at most, one after another.
const MOST_CHANGES: usize = 4;

/// The same way past things with more room, by the same moves: where something is passed closer than a hand can, slides
/// are made a little longer or shorter. As it was, where that gives no more room. What is given back is proved free by
/// swept hulls and passes the second check.
pub(super) fn eased(space: &Space<'_>, body: &Body, way: &[Motion]) -> Vec<Motion> {
    let mut strange = space.clone();
    let guides = guides(space, body);
    strange.obstacles.retain(|other| !guides.contains(&other.thing));
    let mut best = way.to_vec();
    let mut gap = least_gap(&strange, body, &best);
    for _ in 0..MOST_CHANGES {
        if HAND_MM <= gap {
            break;
        }
        let changed = (0..best.len()).flat_map(|k| {
            let longer = LONGER_MM.into_iter().flat_map(|mm| [mm, -mm]);
            longer.filter_map(|mm| with_slide(&best, k, mm)).collect::<Vec<_>>()
        });
        let gaps = changed.map(|way| (least_gap(&strange, body, &way), way));
        // More room than a hand wants is not asked for: of those that give it the first, by the least change.
        let is_better =
            |(more, way): &(f64, Vec<Motion>)| gap + 0.05 < *more && is_way(space, body, way);
        let better = gaps.filter(is_better).map(|(more, way)| (more.min(HAND_MM), way));
        let Some((more, way)) = better.reduce(|a, b| if a.0 < b.0 { b } else { a }) else { break };
        (gap, best) = (more, way);
    }
    best
}

fn is_way(space: &Space<'_>, body: &Body, way: &[Motion]) -> bool {
    way.iter().all(|motion| is_free(space, body, motion)) && holds(space, body, way)
}

/// The same way with slide `k` longer by so much, and all that follows shifted by that; `None` where it is no slide, or
/// nothing would be left of it.
fn with_slide(way: &[Motion], k: usize, longer_mm: f64) -> Option<Vec<Motion>> {
    let slide = way.get(k)?;
    let by = slide.to.shift - slide.from.shift;
    if 1e-9 < slide.angle() || by.length() + longer_mm < 1.0 {
        return None;
    }
    let on = by.normalize_or_zero() * longer_mm;
    let moved = |(i, motion): (usize, &Motion)| {
        let from = if k < i { motion.from.moved(on) } else { motion.from };
        let to = if k <= i { motion.to.moved(on) } else { motion.to };
        Motion { from, to, ..*motion }
    };
    Some(way.iter().enumerate().map(moved).collect())
}

/// What holds or guides the part in its place.
fn guides(space: &Space<'_>, body: &Body) -> Vec<ThingId> {
    let within = GUIDED_MM + body.less;
    let is_near = |other: &&Obstacle<'_>| {
        let near = |piece: &Vec<_>| nearest_below(piece, &other.piece.points, within).is_some();
        body.pieces.iter().any(near)
    };
    space.obstacles.iter().filter(is_near).map(|other| other.thing).collect()
}

#[cfg(test)]
mod tests {
    use glam::{DVec3, dvec3};

    use super::*;
    use crate::convex::Convex;
    use crate::motion::Rigid;

    fn block(low: DVec3, high: DVec3) -> Convex {
        let corner = |k: usize| {
            let pick = |axis: usize, bit: usize| if k & bit == 0 { low[axis] } else { high[axis] };
            dvec3(pick(0, 1), pick(1, 2), pick(2, 4))
        };
        Convex::new((0..8).map(corner).collect())
    }

    /// A block that stands on a floor goes a way past an edge that is so far away: what it passes closely as it is, and
    /// by the eased way, and whether that has other moves.
    fn past(gap: f64, way: &[Motion]) -> (Option<Passed>, Option<Passed>) {
        let text = include_str!("../../../../params/brook.toml");
        let file = params::read(text).file.expect("it reads");
        let mut world = World::of(&design::resolve(&file).design.expect("it resolves"));
        let floor = block(dvec3(-50.0, -50.0, -10.0), dvec3(150.0, 150.0, 0.0));
        let edge = block(dvec3(100.0 + gap, 0.0, 200.0), dvec3(200.0, 100.0, 210.0));
        world.things.truncate(2);
        world.things[1].name = "edge".to_owned();
        for (thing, piece) in world.things.iter_mut().zip([floor, edge]) {
            thing.coarse = vec![piece];
            thing.origin = crate::world::Origin::Placed(0);
        }
        let body = Body::new(&[block(DVec3::ZERO, DVec3::splat(100.0))]);
        world.exits.doors.clear();
        world.exits.rim_z = 250.0;
        let space = Space::of(&world, &[]);
        let by = eased(&space, &body, way);
        assert_eq!(by.len(), way.len());
        assert_eq!(by[0].from, Rigid::HOME);
        (closest(&world, &space, &body, way), closest(&world, &space, &body, &by))
    }

    #[test]
    fn what_it_stands_on_guides_it_and_what_it_just_passes_does_not() {
        let up = [Motion::slide(Rigid::HOME, DVec3::Z * 400.0)];
        assert_eq!(past(0.7, &up), (None, None));
        let (passed, eased) = past(0.3, &up);
        let passed = passed.expect("it passes an edge closely");
        assert_eq!(passed.name, "edge");
        assert!((passed.gap_mm - 0.3).abs() < 0.01, "{passed:?}");
        // There is no slide that would bring it off.
        assert_eq!(eased, Some(passed));
    }

    #[test]
    fn a_slide_a_little_longer_gives_room() {
        let aside = Motion::slide(Rigid::HOME, DVec3::X * -10.0);
        let up = Motion::slide(aside.to, DVec3::Z * 400.0);
        let (passed, eased) = past(-9.7, &[aside, up]);
        assert!(passed.is_some_and(|passed| (passed.gap_mm - 0.3).abs() < 0.01));
        assert_eq!(eased, None);
    }
}
