//! Parts that come out one after another, in time.

use fit::Rigid;
use show::{Step, ThingId};

/// Between two steps one sees what has come out, s.
const PAUSE_S: f64 = 0.6;

/// Steps with when each begins and ends.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    steps: Vec<Timed>,
}

#[derive(Clone, Debug, PartialEq)]
struct Timed {
    step: Step,
    begin_s: f64,
    end_s: f64,
}

/// Where a thing is at an instant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Whereabouts {
    /// Here.
    At(Rigid),
    /// Put away.
    Away,
}

impl Course {
    /// One step after another.
    pub fn of(steps: &[Step]) -> Self {
        let mut begin_s = 0.0;
        let timed = |step: &Step| {
            let length = step.moves.iter().fold(0.0, |end: f64, m| end.max(m.end_s));
            let timed = Timed { step: step.clone(), begin_s, end_s: begin_s + length };
            begin_s = timed.end_s + PAUSE_S;
            timed
        };
        Self { steps: steps.iter().map(timed).collect() }
    }

    /// When all is out, s.
    pub fn end_s(&self) -> f64 {
        self.steps.last().map_or(0.0, |timed| timed.end_s)
    }

    /// When each step begins, with what comes out.
    pub fn begins(&self) -> impl Iterator<Item = (f64, &str)> {
        self.steps.iter().map(|timed| (timed.begin_s, timed.step.name.as_str()))
    }

    /// The steps, in order.
    pub fn steps(&self) -> impl Iterator<Item = &Step> {
        self.steps.iter().map(|timed| &timed.step)
    }

    /// Which step is done at an instant, or is next.
    pub fn number_at(&self, t_s: f64) -> usize {
        self.steps.iter().rposition(|timed| timed.begin_s <= t_s).unwrap_or(0)
    }

    /// The step at an instant, and what is done in it then.
    pub fn at(&self, t_s: f64) -> Option<(&Step, String)> {
        let last = self.steps.iter().rev().find(|timed| timed.begin_s <= t_s);
        let timed = last.or(self.steps.first())?;
        let t = t_s - timed.begin_s;
        let moves = &timed.step.moves;
        let now = moves.iter().find(|m| t <= m.end_s).or(moves.last());
        Some((&timed.step, now.map_or_else(String::new, |m| m.words.clone())))
    }

    /// Where things are that are not in their places at an instant.
    pub fn whereabouts(&self, t_s: f64) -> Vec<(ThingId, Whereabouts)> {
        let mut found = Vec::new();
        let last = self.steps.len().saturating_sub(1);
        for (k, timed) in self.steps.iter().enumerate() {
            if t_s < timed.begin_s || (t_s <= timed.begin_s && k == 0) {
                break;
            }
            let is_put_away = k < last && timed.end_s + 0.5 * PAUSE_S < t_s;
            let place = if is_put_away {
                Whereabouts::Away
            } else {
                Whereabouts::At(pose(&timed.step, t_s - timed.begin_s))
            };
            found.extend(timed.step.undone.iter().map(|thing| (*thing, Whereabouts::Away)));
            found.extend(timed.step.things.iter().map(|thing| (*thing, place)));
        }
        found
    }
}

/// Where the part of a step is, `t_s` after the step began.
fn pose(step: &Step, t_s: f64) -> Rigid {
    let mut place = step.moves.first().map_or(Rigid::HOME, |m| m.from);
    for m in &step.moves {
        if t_s < m.begin_s {
            break;
        }
        let share = (t_s - m.begin_s) / (m.end_s - m.begin_s).max(1e-9);
        place = m.motion().at(share.clamp(0.0, 1.0));
    }
    place
}

#[cfg(test)]
mod tests {
    use super::*;
    use fit::{Motion, Move, MoveKind};
    use glam::{DVec3, dvec3};

    fn slide(from: Rigid, by: DVec3, begin_s: f64, end_s: f64) -> Move {
        let Motion { from, to, pivot } = Motion::slide(from, by);
        Move {
            kind: MoveKind::Slide,
            words: format!("by {by}"),
            begin_s,
            end_s,
            from,
            to,
            pivot,
            distance_mm: by.length(),
            angle_deg: 0.0,
        }
    }

    fn course() -> Course {
        let up = slide(Rigid::HOME, dvec3(0.0, 0.0, 100.0), 0.0, 2.0);
        let out = slide(up.to, dvec3(0.0, -50.0, 0.0), 2.0, 3.0);
        let step = |name: &str, things: Vec<ThingId>, undone, moves| Step {
            name: name.to_owned(),
            things,
            undone,
            undo: None,
            moves,
            least_gap: String::new(),
        };
        let first = step("door", vec![3], vec![9], vec![up.clone()]);
        Course::of(&[first, step("leaf", vec![1, 2], vec![], vec![up, out])])
    }

    #[test]
    fn nothing_has_moved_before_it_begins() {
        assert_eq!(course().whereabouts(0.0), []);
    }

    #[test]
    fn a_part_goes_from_move_to_move() {
        let course = course();
        assert!((course.end_s() - 5.6).abs() < 1e-9);
        let height = |t_s: f64, thing: ThingId| {
            course.whereabouts(t_s).into_iter().find(|(t, _)| *t == thing).map(|(_, place)| place)
        };
        let check = |t_s: f64, thing: ThingId, x: f64, y: f64, z: f64| {
            let Some(Whereabouts::At(place)) = height(t_s, thing) else {
                panic!("{thing} is away")
            };
            assert!(place.shift.distance(dvec3(x, y, z)) < 1e-6, "{thing} at {t_s} s: {place:?}");
        };
        check(1.0, 3, 0.0, 0.0, 50.0);
        assert_eq!(height(1.0, 9), Some(Whereabouts::Away));
        assert_eq!(height(1.0, 1), None);
        check(2.6 + 2.5, 1, 0.0, -25.0, 100.0);
        assert_eq!(height(2.6 + 2.5, 3), Some(Whereabouts::Away));
        check(99.0, 2, 0.0, -50.0, 100.0);
    }

    #[test]
    fn what_is_done_is_told() {
        let course = course();
        let told = |t_s: f64| course.at(t_s).map(|(step, words)| format!("{}: {words}", step.name));
        assert_eq!(told(0.5).as_deref(), Some("door: by [0, 0, 100]"));
        assert_eq!(told(5.0).as_deref(), Some("leaf: by [0, -50, 0]"));
        assert_eq!(Course::of(&[]).at(0.0), None);
    }
}
