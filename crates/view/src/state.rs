//! What the person at the window has chosen: where from, what is on, what is picked, what plays.

mod picking;
mod playing;
mod touring;
mod trying;

use std::collections::BTreeSet;

use fit::Rigid;
use glam::{DVec2, DVec3};
use scene::{Body, Frame, Lens};
use show::{Group, ThingId};

use crate::bent::Bent;
use crate::course::Whereabouts;
use crate::cut::{Cut, Plane};
use crate::model::Model;
use crate::orbit::{Orbit, Side};
pub use picking::Measuring;
pub use playing::{Play, Playing, name_of, rehearsal};
pub use touring::{Touring, corners};
pub use trying::Tried;

/// Whatever can be chosen.
#[derive(Clone, Debug)]
pub struct State {
    /// Where one looks from.
    pub orbit: Orbit,
    /// What is cut away.
    pub cut: Cut,
    /// What was picked.
    pub picked: Option<ThingId>,
    /// What is measured.
    pub measuring: Measuring,
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
    /// Whether it is drawn how the panel that is picked bends.
    pub has_bending: bool,
    /// Of each slot, which of its leaves is in.
    pub leaves: Vec<usize>,
    /// Of each door, the height of its crest, mm above the inside of the bottom.
    pub doors_mm: Vec<f64>,
    /// What the water does with these leaves and doors, where they are not as in the file.
    pub tried: Option<Tried>,
    /// The tour that one is on.
    pub tour: Option<Touring>,
    /// What plays.
    pub play: Option<Play>,
    /// What played when the model changed, and what it is called.
    waiting: Option<(Play, String)>,
}

/// Share of the width of the picture that is kept free for names, on each side; our judgement.
const BESIDE_SHARE: f64 = 0.15;

/// The same where no names are, so that nothing touches the edge; our judgement.
const AROUND_SHARE: f64 = 0.06;

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
            measuring: Measuring::default(),
            last_click: None,
            off: BTreeSet::from([Group::Cabinet]),
            is_lifted: false,
            has_water: true,
            has_names: true,
            has_levels: true,
            has_bending: false,
            leaves: Vec::new(),
            doors_mm: Vec::new(),
            tried: None,
            tour: None,
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
            Some(corners(body.bounds()?).map(|corner| place.apply(corner)))
        });
        let points: Vec<DVec3> = shown.flatten().collect();
        self.fit(&points, frame);
    }

    /// Looks straight at a panel in its place, from that of its two sides on which one is; what is before it is cut away.
    pub fn look_at_panel(&mut self, model: &Model, bent: &Bent, frame: Frame) {
        let is_behind = bent.out.dot(self.orbit.direction()) < 0.0;
        let side = if is_behind { -bent.out } else { bent.out };
        self.orbit = self.orbit.facing(side);
        let bounds = model.body(bent.thing).and_then(Body::bounds);
        self.cut = bounds
            .map_or(Cut::default(), |bounds| Cut::before(side, bounds, model.show.outside_mm));
        self.fit(&bent.corners, frame);
    }

    /// Looks at points, from where one looks, with room around them.
    fn fit(&mut self, points: &[DVec3], frame: Frame) {
        self.orbit = self.orbit.fitted(points, frame);
        // Names stand beside the model.
        let beside = if self.has_names { BESIDE_SHARE } else { AROUND_SHARE };
        self.orbit.distance_mm /= 1.0 - 2.0 * beside;
    }

    /// Takes over what was chosen to another model: what is no longer there is let go.
    pub fn carry_over(&mut self, before: Option<&Model>, model: &Model) {
        let named = |thing: ThingId| {
            let name = &before?.show.things.get(thing)?.name;
            model.named(name)
        };
        self.picked = self.picked.and_then(named);
        self.carry_choice_over(before, model);
        self.carry_measure_over(before, model);
        self.carry_tour_over(before, model);
        self.carry_play_over(before, model);
    }

    /// Where every body is drawn; `None`: it is not.
    pub fn places(&self, model: &Model) -> Vec<Option<Rigid>> {
        let place = |(thing, body): (ThingId, &Body)| {
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
        for (slot, leaf) in model.show.slots.iter().zip(self.standing(model)) {
            slot.leaves.iter().flat_map(|(_, things)| things).for_each(|thing| set(*thing, None));
            let chosen = slot.leaves.get(leaf).map(|(_, things)| things.as_slice());
            for thing in chosen.unwrap_or_default() {
                let way = if self.is_lifted {
                    model.body(*thing).and_then(|b| b.way.as_deref())
                } else {
                    None
                };
                set(*thing, Some(way.and_then(|way| way.last().copied()).unwrap_or(Rigid::HOME)));
            }
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
        for (door, by_mm) in model.show.doors.iter().zip(self.doors_moved_mm(model)) {
            let by = DVec3::Z * by_mm;
            for thing in &door.things {
                if let Some(Some(place)) = places.get_mut(*thing) {
                    // On its leaf, wherever that is.
                    *place = place.moved(place.turn * by);
                }
            }
        }
        places
    }

    /// The level of every basin, mm above the inside of the bottom.
    pub fn levels(&self, model: &Model) -> Vec<f64> {
        let playing = self
            .play
            .as_ref()
            .and_then(|play| Some(rehearsal(model, play.what)?.levels_at(play.clock.t_s)));
        let of_file = || model.show.basins.iter().map(|basin| basin.level_mm).collect();
        playing.or_else(|| self.levels_tried().map(<[f64]>::to_vec)).unwrap_or_else(of_file)
    }

    /// Where it is cut.
    pub fn plane(&self, model: &Model) -> Plane {
        self.cut.plane([DVec3::ZERO, model.show.outside_mm])
    }
}

#[cfg(test)]
mod tests;
