//! The tour: each stop looked at from where it is told, what is before its chamber cut away.

use glam::DVec3;
use scene::Frame;
use show::Stop;

use super::State;
use crate::cut::{Axis, Cut};
use crate::model::Model;

/// A tour that one is on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touring {
    /// The stop: an index into [`Show::stops`](show::Show::stops).
    pub stop: usize,
    /// What was cut away before the tour.
    cut_before: Cut,
}

/// The cut goes so far behind the front of a chamber, mm: the wall before it is cut away whole, whatever stands in the
/// chamber is not; our judgement.
const BEHIND_MM: f64 = 0.5;
/// A stop that reaches over all of the sump is about no chamber; to this, mm.
const SAME_MM: f64 = 1e-6;

impl State {
    /// Goes to a stop of the tour, and begins it there.
    pub fn go_to_stop(&mut self, model: &Model, stop: usize, frame: Frame) {
        let Some(of) = model.show.stops.get(stop) else { return };
        let cut_before = self.tour.map_or(self.cut, |tour| tour.cut_before);
        self.tour = Some(Touring { stop, cut_before });
        let [lo, hi] = of.about;
        self.cut = Cut::default();
        self.orbit = self.orbit.facing(of.from);
        if is_of_all(of, model) {
            self.look_at_all(model, frame);
            return;
        }
        // What is before the chamber hides it, however one looks from the front.
        let share = (lo.y + BEHIND_MM) / model.show.outside_mm.y.max(1.0);
        self.cut = Cut { axis: Some(Axis::Front), share, is_flipped: of.from.y > 0.0 };
        if self.cut.is_flipped {
            self.cut.share = (hi.y - BEHIND_MM) / model.show.outside_mm.y.max(1.0);
        }
        self.fit(&corners([lo, hi]), frame);
    }

    /// Goes to the next stop or to the one before; from outside the tour to the first.
    pub fn next_stop(&mut self, model: &Model, is_backwards: bool, frame: Frame) {
        let last = model.show.stops.len().saturating_sub(1);
        let stop = match (self.tour, is_backwards) {
            (None, _) => 0,
            (Some(tour), false) => (tour.stop + 1).min(last),
            (Some(tour), true) => tour.stop.saturating_sub(1),
        };
        self.go_to_stop(model, stop, frame);
    }

    /// Leaves the tour; what is cut away is as it was before.
    pub fn leave_tour(&mut self) {
        if let Some(tour) = self.tour.take() {
            self.cut = tour.cut_before;
        }
    }

    /// The chamber that the tour is at: its least and greatest corner.
    pub fn toured(&self, model: &Model) -> Option<[DVec3; 2]> {
        let stop = model.show.stops.get(self.tour?.stop)?;
        (!is_of_all(stop, model)).then_some(stop.about)
    }

    /// Stays at the same stop in another model, or leaves the tour.
    pub(super) fn carry_tour_over(&mut self, before: Option<&Model>, model: &Model) {
        let Some(tour) = &mut self.tour else { return };
        let was = before.and_then(|before| before.show.stops.get(tour.stop));
        // The first is about the sump, whatever it is called.
        let same = match (tour.stop, was) {
            (0, Some(_)) => (!model.show.stops.is_empty()).then_some(0),
            (_, Some(was)) => model.show.stops.iter().position(|stop| stop.title == was.title),
            (_, None) => None,
        };
        match same {
            Some(stop) => tour.stop = stop,
            None => self.leave_tour(),
        }
    }
}

fn is_of_all(stop: &Stop, model: &Model) -> bool {
    let [lo, hi] = stop.about;
    lo.length() < SAME_MM && hi.distance(model.show.outside_mm) < SAME_MM
}

/// The eight corners of a box: the k-th has the greatest of x, y and z where bits 1, 2 and 4 of k are set.
pub fn corners([lo, hi]: [DVec3; 2]) -> [DVec3; 8] {
    let pick = |k: usize, bit: usize, lo: f64, hi: f64| if k & bit == 0 { lo } else { hi };
    std::array::from_fn(|k| {
        DVec3::new(pick(k, 1, lo.x, hi.x), pick(k, 2, lo.y, hi.y), pick(k, 4, lo.z, hi.z))
    })
}
