//! What plays: ways out, everything out, a rescue, a failure.

use show::{Rehearsal, Step, ThingId};

use super::State;
use crate::clock::Clock;
use crate::course::Course;
use crate::model::Model;

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
    /// When each step begins, s; of a rehearsal, when something happens.
    pub begins_s: Vec<f64>,
}

/// Instants nearer than this are the same, s.
const SAME_S: f64 = 1e-6;

impl Play {
    /// Plays on to where the next step begins, or to the end.
    pub fn next_step(&mut self) {
        let next = self.begins_s.iter().find(|begin| self.clock.t_s + SAME_S < **begin);
        let end = self.clock.span_s[1];
        self.clock.go_on_to(next.copied().unwrap_or(end));
    }

    /// Stands where this step began; where it stands there already, where the one before began.
    pub fn step_before(&mut self) {
        let before = self.begins_s.iter().rfind(|begin| **begin < self.clock.t_s - SAME_S);
        let begin = self.clock.span_s[0];
        self.clock.stand_at(before.copied().unwrap_or(begin));
    }
}

impl State {
    /// Begins to play, if there is something.
    pub fn start(&mut self, model: &Model, what: Playing) {
        self.waiting = None;
        let course = Course::of(steps(model, what));
        let mut begins_s: Vec<f64> = course.begins().map(|(begin, _)| begin).collect();
        let (span_s, speed) = match rehearsal(model, what) {
            // A failure takes hours; it is over in about twenty seconds.
            Some(rehearsal) => {
                begins_s = rehearsal.events.iter().map(|event| event.t_s).collect();
                let [begin, end] = rehearsal_span(rehearsal);
                ([begin, end], ((end - begin) / 20.0).max(1.0))
            }
            None => ([0.0, course.end_s()], 1.0),
        };
        self.play = (span_s[0] < span_s[1]).then(|| Play {
            what,
            clock: Clock::started(span_s, speed),
            course,
            begins_s,
        });
    }

    /// Plays a way out; when it is played already, backwards.
    pub fn take_out(&mut self, model: &Model, way: usize) {
        let what = Playing::Way(way);
        match &mut self.play {
            Some(play) if play.what == what && !play.clock.is_backwards => play.clock.go_back(),
            _ => self.start(model, what),
        }
    }

    /// Plays no more, nor what waits for its ways to be known again.
    pub fn stop(&mut self) {
        (self.play, self.waiting) = (None, None);
    }

    /// Whether something plays, or waits for its ways to be known again.
    pub fn plays(&self) -> bool {
        self.play.is_some() || self.waiting.is_some()
    }

    /// Stands at the first step of something, so that one reads what is done before anything moves.
    pub fn start_by_steps(&mut self, model: &Model, what: Playing) {
        self.start(model, what);
        if let Some(play) = &mut self.play {
            play.clock.stand_at(play.clock.span_s[0]);
        }
    }

    /// Goes on with what played in another model from where it was, as soon as there is such a thing again.
    pub(super) fn carry_play_over(&mut self, before: Option<&Model>, model: &Model) {
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

    /// Whether something moves by itself.
    pub fn is_moving(&self) -> bool {
        self.play.as_ref().is_some_and(|play| play.clock.is_running)
    }

    /// What moves now.
    pub fn moving(&self) -> Vec<ThingId> {
        let Some(play) = &self.play else { return Vec::new() };
        play.course.at(play.clock.t_s).map_or_else(Vec::new, |(step, _)| step.things.clone())
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
        Playing::Way(way) if model.whole == Some(way) => {
            Some("the whole sump, with all that is glued to it".to_owned())
        }
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
        Playing::Way(_) => {
            let ways = (0..show.ways.len()).map(Playing::Way);
            ways.into_iter().find(|way| name_of(model, *way).as_deref() == Some(name))
        }
        Playing::Rehearsal(_) => {
            let found = show.rehearsals.iter().position(|rehearsal| rehearsal.name == name);
            found.map(Playing::Rehearsal)
        }
        Playing::Emptying | Playing::Rescue => (!steps(model, what).is_empty()).then_some(what),
    }
}
