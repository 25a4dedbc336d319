//! What lies under the pointer.

use std::collections::BTreeSet;

use fit::Rigid;
use glam::DVec3;
use scene::{Body, Triangle};
use show::ThingId;

/// A line of sight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ray {
    /// Where it starts, mm.
    pub start: DVec3,
    /// Unit vector along it.
    pub along: DVec3,
}

/// Where a line of sight meets a thing first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hit {
    /// Which.
    pub thing: ThingId,
    /// From the start of the ray, mm.
    pub distance_mm: f64,
    /// Where, mm.
    pub at: DVec3,
    /// Outward unit normal of the face that was hit.
    pub normal: DVec3,
    /// Whether that face is flat there, and not a piece of something round.
    pub is_flat: bool,
}

/// Faces nearer to each other than this along a line of sight are one, mm.
const SAME_MM: f64 = 1e-6;
/// The normals of a flat face lie within half a degree of each other: its cosine. Chords of round faces turn by more
/// (our judgement).
const FLAT_COS: f64 = 0.999_96;

impl Ray {
    /// The things that it meets, each once, the nearest first, but clear sheet after all else: who clicks on what stands
    /// in the sump means that, and not the wall before it. `things` come with where they were moved to; what does not
    /// hold for `keeps` was cut away.
    pub fn hits<'a>(
        &self,
        things: impl IntoIterator<Item = (ThingId, &'a Body, Rigid)>,
        keeps: impl Fn(DVec3) -> bool,
    ) -> Vec<Hit> {
        let mut clear = BTreeSet::new();
        let things = things.into_iter().inspect(|(thing, body, _)| {
            if body.look.is_clear {
                clear.insert(*thing);
            }
        });
        let mut hits = self.faces(things, keeps);
        let mut seen = BTreeSet::new();
        hits.retain(|hit| seen.insert(hit.thing));
        hits.sort_by_key(|hit| clear.contains(&hit.thing));
        hits
    }

    /// Every face that it meets, from either side, the nearest first.
    pub fn faces<'a>(
        &self,
        things: impl IntoIterator<Item = (ThingId, &'a Body, Rigid)>,
        keeps: impl Fn(DVec3) -> bool,
    ) -> Vec<Hit> {
        let mut hits = Vec::new();
        for (thing, body, place) in things {
            // Into the frame of the body, which has many corners, rather than the body into ours.
            let home = self.home_of(&place);
            for triangle in &body.triangles {
                let Some(distance_mm) = home.meets(triangle) else { continue };
                let at = self.start + self.along * distance_mm;
                if keeps(at) {
                    let [a, b, c] = triangle.corners;
                    let normal = (b - a).cross(c - a).normalize_or_zero();
                    let is_along = |n: &DVec3| n.dot(normal).abs() > FLAT_COS * n.length();
                    let is_flat = triangle.normals.iter().all(is_along);
                    let normal = place.turn * normal;
                    hits.push(Hit { thing, distance_mm, at, normal, is_flat });
                }
            }
        }
        hits.sort_by(|a, b| a.distance_mm.total_cmp(&b.distance_mm).then(a.thing.cmp(&b.thing)));
        // Through an edge between two triangles of one face it meets both.
        hits.dedup_by(|b, a| {
            a.thing == b.thing
                && b.distance_mm - a.distance_mm < SAME_MM
                && a.normal.dot(b.normal) > 0.0
        });
        hits
    }

    /// The same as seen from a body that was moved to a place.
    pub(crate) fn home_of(&self, place: &Rigid) -> Self {
        Self { start: place.home_of(self.start), along: place.turn.inverse() * self.along }
    }

    /// Whether it comes into a box between two corners within a distance, mm; by slabs.
    pub(crate) fn meets_box(&self, [lo, hi]: [DVec3; 2], within_mm: f64) -> bool {
        // Along an axis that it is square to, the quotients are endless and of the right sign, or it is in a face.
        let [a, b] = [lo, hi].map(|corner| (corner - self.start) / self.along);
        let (near, far) = (a.min(b), a.max(b));
        near.max_element().max(0.0) <= far.min_element().min(within_mm)
    }

    /// How far along it meets a triangle, from either side, mm.
    ///
    /// After T. Möller and B. Trumbore, *J. Graphics Tools* 2 (1997) 21; from memory.
    pub(crate) fn meets(&self, triangle: &Triangle) -> Option<f64> {
        let [a, b, c] = triangle.corners;
        let (ab, ac) = (b - a, c - a);
        let across = self.along.cross(ac);
        let det = ab.dot(across);
        if det.abs() < 1e-12 * ab.length() * ac.length() {
            return None;
        }
        let from = self.start - a;
        let u = from.dot(across) / det;
        let around = from.cross(ab);
        let v = self.along.dot(around) / det;
        let distance = ac.dot(around) / det;
        (0.0 <= u && 0.0 <= v && u + v <= 1.0 && 0.0 < distance).then_some(distance)
    }
}

/// Which of the hits a click takes: the first; on a click again at the same place the one behind the one taken
/// before, and after the last the first.
pub fn taken(hits: &[Hit], before: Option<ThingId>) -> Option<&Hit> {
    let behind = before.and_then(|thing| hits.iter().position(|hit| hit.thing == thing));
    behind.and_then(|k| hits.get(k + 1)).or(hits.first())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use glam::{DQuat, dvec3};

    /// A square of side 20 mm about a point, square to y.
    fn square(middle: DVec3) -> Body {
        sample::square(middle, 10.0)
    }

    const AHEAD: Ray = Ray { start: dvec3(3.0, -100.0, 2.0), along: DVec3::Y };

    #[test]
    fn a_second_click_takes_what_is_behind() {
        let (near, far) = (square(DVec3::ZERO), square(dvec3(0.0, 50.0, 0.0)));
        let things = [(7, &far, Rigid::HOME), (4, &near, Rigid::HOME)];
        let hits = AHEAD.hits(things, |_| true);
        assert_eq!(hits.iter().map(|hit| hit.thing).collect::<Vec<_>>(), [4, 7]);
        assert!((hits[1].distance_mm - 150.0).abs() < 1e-9);
        assert!((hits[0].normal + DVec3::Y).length() < 1e-9);
        let take = |before| taken(&hits, before).map(|hit| hit.thing);
        assert_eq!(
            [take(None), take(Some(4)), take(Some(7)), take(Some(1))].map(Option::unwrap),
            [4, 7, 4, 4]
        );
        assert_eq!(taken(&[], Some(4)), None);
    }

    #[test]
    fn what_was_cut_away_is_not_hit() {
        let (near, far) = (square(DVec3::ZERO), square(dvec3(0.0, 50.0, 0.0)));
        let things = [(4, &near, Rigid::HOME), (7, &far, Rigid::HOME)];
        let hits = AHEAD.hits(things, |at| at.y > 20.0);
        assert_eq!(hits.iter().map(|hit| hit.thing).collect::<Vec<_>>(), [7]);
    }

    #[test]
    fn a_thing_is_hit_where_it_was_moved_to() {
        let body = square(dvec3(500.0, 0.0, 0.0));
        let about = dvec3(500.0, 0.0, 0.0);
        let place =
            Rigid::HOME.turned(DQuat::from_rotation_y(0.4), about).moved(dvec3(-500.0, 30.0, 0.0));
        assert_eq!(AHEAD.hits([(0, &body, Rigid::HOME)], |_| true), []);
        let hits = AHEAD.hits([(0, &body, place)], |_| true);
        assert!((hits[0].distance_mm - 130.0).abs() < 1e-9, "{hits:?}");
    }

    #[test]
    fn what_is_behind_the_eye_is_not_hit() {
        let body = square(dvec3(0.0, -200.0, 0.0));
        assert_eq!(AHEAD.hits([(0, &body, Rigid::HOME)], |_| true), []);
    }
}
