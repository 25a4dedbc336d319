//! What the person at the window has chosen: where from, what is on, what is picked, what plays.

use std::collections::BTreeSet;

use fit::Rigid;
use glam::{DVec2, DVec3};
use scene::{Camera, Frame, Lens};
use show::{Group, Rehearsal, Step, ThingId};

use crate::clock::Clock;
use crate::course::{Course, Whereabouts};
use crate::cut::{Cut, Plane};
use crate::model::Model;
use crate::orbit::{Orbit, Side};
use crate::pick::{Hit, Ray, taken};

/// What plays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Playing {
    /// A way out: an index into [`Show::ways`](show::Show::ways).
    Way(usize),
    /// Everything out.
    Emptying,
    /// An animal got at.
    Rescue,
    /// A failure: an index into [`Show::rehearsals`](show::Show::rehearsals).
    Rehearsal(usize),
}

/// Something that plays, and how far it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Play {
    /// What.
    pub what: Playing,
    /// When.
    pub clock: Clock,
    /// What moves; of a rehearsal nothing does.
    pub course: Course,
}

/// Whatever can be chosen.
#[derive(Clone, Debug)]
pub struct State {
    /// Where one looks from.
    pub orbit: Orbit,
    /// What is cut away.
    pub cut: Cut,
    /// What was picked, and where it was hit.
    pub picked: Option<ThingId>,
    /// Where the last click was, px.
    last_click: Option<DVec2>,
    /// Groups that are off.
    pub off: BTreeSet<Group>,
    /// Whether what lifts out is drawn above its place.
    pub is_lifted: bool,
    /// Whether water is drawn.
    pub has_water: bool,
    /// Whether names are written.
    pub has_names: bool,
    /// Whether levels are written.
    pub has_levels: bool,
    /// Of each slot, which of its leaves is in.
    pub leaves: Vec<usize>,
    /// What plays.
    pub play: Option<Play>,
    /// What played when the model changed, and what it is called.
    waiting: Option<(Play, String)>,
}

/// Clicks nearer to each other than this are at the same place, px; our judgement.
const SAME_PLACE_PX: f64 = 6.0;

/// Share of the width of the picture that is kept free for names, on each side; our judgement.
const BESIDE_SHARE: f64 = 0.15;

impl Default for State {
    fn default() -> Self {
        let orbit = Orbit {
            target: DVec3::ZERO,
            yaw: 0.0,
            pitch: 0.0,
            distance_mm: 1000.0,
            lens: Lens::Perspective,
        };
        Self {
            orbit: orbit.facing(Side::Corner.direction()),
            cut: Cut::default(),
            picked: None,
            last_click: None,
            off: BTreeSet::from([Group::Cabinet]),
            is_lifted: false,
            has_water: true,
            has_names: true,
            has_levels: true,
            leaves: Vec::new(),
            play: None,
            waiting: None,
        }
    }
}

impl State {
    /// Looks from a side at all that is shown.
    pub fn look_from(&mut self, from: DVec3, model: &Model, frame: Frame) {
        self.orbit = self.orbit.facing(from);
        self.look_at_all(model, frame);
    }

    /// Looks at all that is shown, from where one looks.
    pub fn look_at_all(&mut self, model: &Model, frame: Frame) {
        let places = self.places(model);
        let shown = model.bodies().filter_map(|(thing, body)| {
            let place = places.get(thing).copied().flatten()?;
            let [lo, hi] = body.bounds()?;
            Some((0..8).map(move |k| {
                let pick = |bit: usize, lo: f64, hi: f64| if k & bit == 0 { lo } else { hi };
                let corner =
                    DVec3::new(pick(1, lo.x, hi.x), pick(2, lo.y, hi.y), pick(4, lo.z, hi.z));
                place.apply(corner)
            }))
        });
        let points: Vec<DVec3> = shown.flatten().collect();
        self.orbit = self.orbit.fitted(&points, frame);
        // Names stand beside the model.
        let beside = if self.has_names { BESIDE_SHARE } else { 0.05 };
        self.orbit.distance_mm /= (1.0 - 2.0 * beside).min(0.88);
    }

    /// Takes over what was chosen to another model: what is no longer there is let go.
    pub fn carry_over(&mut self, before: Option<&Model>, model: &Model) {
        let named = |thing: ThingId| {
            let name = &before?.show.things.get(thing)?.name;
            model.named(name)
        };
        self.picked = self.picked.and_then(named);
        self.leaves.resize(model.show.slots.len(), 0);
        for (leaf, slot) in self.leaves.iter_mut().zip(&model.show.slots) {
            *leaf = (*leaf).min(slot.leaves.len().saturating_sub(1));
        }
        // What plays goes on from where it was, as soon as there is such a thing again.
        if let Some(play) = self.play.take() {
            let name = before.and_then(|before| name_of(before, play.what));
            self.waiting = name.map(|name| (play, name));
        }
        let Some((play, name)) = self.waiting.take() else { return };
        match playing_named(model, play.what, &name) {
            Some(what) => {
                self.start(model, what);
                if let Some(new) = &mut self.play {
                    new.clock.set(play.clock.t_s);
                    new.clock.is_running = play.clock.is_running;
                    new.clock.is_backwards = play.clock.is_backwards;
                }
            }
            // Ways out are told last.
            None if model.show.ways.is_empty() => self.waiting = Some((play, name)),
            None => {}
        }
    }

    /// Begins to play, if there is something.
    pub fn start(&mut self, model: &Model, what: Playing) {
        self.waiting = None;
        let course = Course::of(steps(model, what));
        let (span_s, speed) = match rehearsal(model, what) {
            // A failure takes hours; it is over in about twenty seconds.
            Some(rehearsal) => {
                let [begin, end] = rehearsal_span(rehearsal);
                ([begin, end], ((end - begin) / 20.0).max(1.0))
            }
            None => ([0.0, course.end_s()], 1.0),
        };
        self.play = (span_s[0] < span_s[1]).then(|| Play {
            what,
            clock: Clock::started(span_s, speed),
            course,
        });
    }

    /// Whether something moves by itself.
    pub fn is_moving(&self) -> bool {
        self.play.as_ref().is_some_and(|play| play.clock.is_running)
    }

    /// Where every body is drawn; `None`: it is not.
    pub fn places(&self, model: &Model) -> Vec<Option<Rigid>> {
        let place = |(thing, body): (ThingId, &scene::Body)| {
            let group = model.group(thing);
            let is_off = self.off.contains(&group) || group == Group::Spare;
            let lifted = || body.way.as_deref().and_then(|way| way.last().copied());
            let lifted = if self.is_lifted { lifted() } else { None };
            (!is_off).then(|| lifted.unwrap_or(Rigid::HOME))
        };
        let mut places: Vec<Option<Rigid>> = model.bodies().map(place).collect();
        let mut set = |thing: ThingId, to: Option<Rigid>| {
            if let Some(place) = places.get_mut(thing) {
                *place = to;
            }
        };
        for (slot, leaf) in model.show.slots.iter().zip(&self.leaves).filter(|(_, leaf)| **leaf > 0)
        {
            slot.leaves.iter().flat_map(|(_, things)| things).for_each(|thing| set(*thing, None));
            let chosen = slot.leaves.get(*leaf).map(|(_, things)| things.as_slice());
            chosen.unwrap_or_default().iter().for_each(|thing| set(*thing, Some(Rigid::HOME)));
        }
        if let Some(play) = &self.play {
            for (thing, whereabouts) in play.course.whereabouts(play.clock.t_s) {
                set(
                    thing,
                    match whereabouts {
                        Whereabouts::At(place) => Some(place),
                        Whereabouts::Away => None,
                    },
                );
            }
        }
        places
    }

    /// What moves now.
    pub fn moving(&self) -> Vec<ThingId> {
        let Some(play) = &self.play else { return Vec::new() };
        play.course.at(play.clock.t_s).map_or_else(Vec::new, |(step, _)| step.things.clone())
    }

    /// The level of every basin, mm above the inside of the bottom.
    pub fn levels(&self, model: &Model) -> Vec<f64> {
        let playing = self
            .play
            .as_ref()
            .and_then(|play| Some(rehearsal(model, play.what)?.levels_at(play.clock.t_s)));
        playing.unwrap_or_else(|| model.show.basins.iter().map(|basin| basin.level_mm).collect())
    }

    /// Where it is cut.
    pub fn plane(&self, model: &Model) -> Plane {
        self.cut.plane([DVec3::ZERO, model.show.outside_mm])
    }

    /// Picks what lies under a place in the picture, and on a click again there what lies behind it.
    pub fn click(&mut self, model: &Model, camera: &Camera, place: DVec2) -> Option<Hit> {
        let is_again = self.last_click.is_some_and(|last| last.distance(place) < SAME_PLACE_PX);
        let before = self.picked.filter(|_| is_again);
        self.last_click = Some(place);
        let ray = Ray { start: camera.ray_start(place), along: camera.ray(place) };
        let places = self.places(model);
        let things = model
            .bodies()
            .filter_map(|(thing, body)| Some((thing, body, places.get(thing).copied().flatten()?)));
        let plane = self.plane(model);
        let hits = ray.hits(things, |at| plane.keeps(at));
        let hit = taken(&hits, before).copied();
        self.picked = hit.map(|hit| hit.thing);
        hit
    }
}

/// The steps of what plays.
fn steps(model: &Model, what: Playing) -> &[Step] {
    match what {
        Playing::Way(way) => model.show.ways.get(way).map_or(&[], |way| &way.steps),
        Playing::Emptying => &model.show.emptying,
        Playing::Rescue => model.show.rescue.as_ref().map_or(&[], |rescue| &rescue.steps),
        Playing::Rehearsal(_) => &[],
    }
}

/// The rehearsal that plays.
pub fn rehearsal(model: &Model, what: Playing) -> Option<&Rehearsal> {
    match what {
        Playing::Rehearsal(k) => model.show.rehearsals.get(k),
        _ => None,
    }
}

/// From the first instant that is known to the last.
fn rehearsal_span(rehearsal: &Rehearsal) -> [f64; 2] {
    let ends = rehearsal.times_s.first().zip(rehearsal.times_s.last());
    ends.map_or([0.0, 0.0], |(first, last)| [*first, *last])
}

/// What is told of what plays.
pub fn name_of(model: &Model, what: Playing) -> Option<String> {
    match what {
        Playing::Way(way) => model.show.ways.get(way).map(|way| way.name.clone()),
        Playing::Emptying => Some("everything out".to_owned()),
        Playing::Rescue => {
            let rescue = model.show.rescue.as_ref()?;
            Some(format!("an animal in `{}`", rescue.chamber))
        }
        Playing::Rehearsal(_) => rehearsal(model, what).map(|rehearsal| rehearsal.name.clone()),
    }
}

/// The same of another model.
fn playing_named(model: &Model, what: Playing, name: &str) -> Option<Playing> {
    let show = &model.show;
    match what {
        Playing::Way(_) => show.ways.iter().position(|way| way.name == name).map(Playing::Way),
        Playing::Rehearsal(_) => {
            let found = show.rehearsals.iter().position(|rehearsal| rehearsal.name == name);
            found.map(Playing::Rehearsal)
        }
        Playing::Emptying | Playing::Rescue => (!steps(model, what).is_empty()).then_some(what),
    }
}

#[cfg(test)]
mod tests;
