//! What is played in the model: ways out, everything out, the rescue, doors.

use fit::{Motion, Rigid};
use glam::DVec3;
use show::{Door, Group, Show, Step, Thing, ThingId};

/// Bodies on the move, one set after the other.
#[derive(Clone, Debug)]
pub struct Animation {
    /// What it shows: `leaf comb comes out`.
    pub name: String,
    /// What moves, in order. What moves again goes on from where it then is told to be.
    pub parts: Vec<Moving>,
    /// What is away from some instant on, in order of time.
    pub away: Vec<Away>,
}

/// Some bodies moving together, one motion after the other.
#[derive(Clone, Debug)]
pub struct Moving {
    /// Names of the bodies that move.
    pub bodies: Vec<String>,
    /// How, with when each begins and ends, s from the start of the animation.
    pub motions: Vec<(Motion, [f64; 2])>,
}

/// Some bodies that are away, until one of them moves again.
#[derive(Clone, Debug)]
pub struct Away {
    /// Their names.
    pub bodies: Vec<String>,
    /// From when on, s from the start of the animation.
    pub from_s: f64,
}

/// Between two parts that come out one after the other, s.
const PAUSE_S: f64 = 0.5;

/// How fast a door slides, mm/s; our judgement: slow enough to be followed.
const DOOR_MM_S: f64 = 25.0;

/// Every way out that is known, the rescue, everything out, and every door between its lowest and its highest setting.
pub fn all(show: &Show) -> Vec<Animation> {
    let known = show.ways.iter().filter(|way| !way.steps.is_empty());
    let mut all: Vec<Animation> = known
        .map(|way| steps(format!("{} comes out", way.name), &way.steps, &show.things))
        .collect();
    if let Some(rescue) = show.rescue.as_ref().filter(|rescue| !rescue.steps.is_empty()) {
        let name = format!("what comes out to reach an animal in {}", rescue.chamber);
        all.push(steps(name, &rescue.steps, &show.things));
    }
    if !show.emptying.is_empty() {
        all.push(steps("everything comes out".to_owned(), &show.emptying, &show.things));
    }
    all.extend(show.doors.iter().filter_map(|door| slides(door, &show.things)));
    all
}

/// Names of these bodies.
fn names<'a>(ids: impl IntoIterator<Item = &'a ThingId>, things: &[Thing]) -> Vec<String> {
    ids.into_iter().filter_map(|id| things.get(*id)).map(|thing| thing.name.clone()).collect()
}

/// All of some steps, each beginning when the one before has ended.
///
/// A format of poses cannot say that a knob is undone by a hand: what is undone before a step, or stood in the place of
/// what moves, is away from then on; and so is what came out, when the next step begins.
pub(super) fn steps(name: String, steps: &[Step], things: &[Thing]) -> Animation {
    let (mut parts, mut away) = (Vec::new(), Vec::new());
    let mut begin_s = 0.0;
    let mut out = Vec::new();
    for step in steps {
        let gone = [std::mem::take(&mut out), names(&step.undone, things)].concat();
        if !gone.is_empty() {
            away.push(Away { bodies: gone, from_s: begin_s });
        }
        let at = |t: f64| begin_s + t;
        let motions = step.moves.iter().map(|m| (m.motion(), [at(m.begin_s), at(m.end_s)]));
        parts.push(Moving { bodies: names(&step.things, things), motions: motions.collect() });
        out = names(&step.things, things);
        begin_s += step.moves.last().map_or(0.0, |last| last.end_s) + PAUSE_S;
    }
    Animation { name, parts, away }
}

/// A door from where it is set down to its lowest, up to its highest, and back. The door of a leaf that is not in has none.
pub(super) fn slides(door: &Door, things: &[Thing]) -> Option<Animation> {
    let is_in = |id: &&ThingId| things.get(**id).is_some_and(|thing| thing.group != Group::Spare);
    let bodies = names(door.things.iter().filter(is_in), things);
    let at = |mm: f64| Rigid::HOME.moved(DVec3::new(0.0, 0.0, mm - door.set_mm));
    let heights = [door.set_mm, door.lowest_mm, door.highest_mm, door.set_mm];
    let mut begin_s = 0.0;
    let mut motions = Vec::new();
    for pair in heights.windows(2) {
        let by_mm = pair[1] - pair[0];
        let end_s = begin_s + by_mm.abs() / DOOR_MM_S;
        if begin_s < end_s {
            let motion = Motion::slide(at(pair[0]), DVec3::new(0.0, 0.0, by_mm));
            motions.push((motion, [begin_s, end_s]));
        }
        begin_s = end_s;
    }
    let name = format!("door of leaf {}: lowest to highest", door.leaf);
    let parts = vec![Moving { bodies, motions }];
    let moves = !parts[0].bodies.is_empty() && !parts[0].motions.is_empty();
    moves.then_some(Animation { name, parts, away: Vec::new() })
}
