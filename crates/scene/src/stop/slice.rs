//! One chamber with what parts it from the rest, cut free of the sump.

use design::{Design, Role};
use glam::{DVec2, DVec3, dvec3};
use units::Length;

use crate::camera::Camera;
use crate::from_design::{anchor, topic};
use crate::scene::{Body, Label, Level, Look, Scene, Topic, Triangle, Water};
use crate::section::cut_body;
use crate::seen::Seen;

/// So much of the next chambers is shown, mm: their level tells how the water steps down. Our judgement.
const BEYOND_MM: f64 = 28.0;
/// What touches by less than this does not stand in it, mm.
const TOUCH_MM: f64 = 0.5;
/// Sheet that would hide the chamber.
const OPENED: Look = Look { colour: [206, 208, 208], is_clear: true };

/// What of the sump is shown.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slice {
    /// The chamber with the leaves around it, in the plan, mm; infinite towards a wall of the box.
    within: [DVec2; 2],
    /// Where the sump is cut; infinite where it is not.
    cut: [DVec2; 2],
    has_rim: bool,
    has_lids: bool,
}

impl Slice {
    /// Around a chamber.
    pub(super) fn of(scene: &Scene, design: &Design, chamber: &Level) -> Self {
        let (mut within, mut cut) = ([DVec2::NEG_INFINITY, DVec2::INFINITY], [chamber.min; 2]);
        cut = [cut[0].with_x(f64::NEG_INFINITY), DVec2::INFINITY];
        let others = || scene.levels.iter().filter(|level| level.chamber != chamber.chamber);
        for axis in 0..2 {
            let across = 1 - axis;
            let is_beside = |other: &&Level| {
                other.min[across] < chamber.max[across] && chamber.min[across] < other.max[across]
            };
            let after = others().filter(is_beside).map(|other| other.min[axis]);
            let after =
                after.filter(|edge| chamber.max[axis] <= *edge).fold(f64::INFINITY, f64::min);
            let before = others().filter(is_beside).map(|other| other.max[axis]);
            let before =
                before.filter(|edge| *edge <= chamber.min[axis]).fold(f64::NEG_INFINITY, f64::max);
            (within[0][axis], within[1][axis]) = (before, after);
            cut[1][axis] = after + BEYOND_MM;
            if axis == 0 {
                cut[0].x = before - BEYOND_MM;
            } else if before.is_finite() {
                // A leaf before it is shown, the water of the chamber before it would only be in the way.
                cut[0].y = before;
            }
        }
        let has =
            |role| design.placed.iter().any(|placed| design.pieces[placed.piece].role == role);
        Self { within, cut, has_rim: has(Role::Rim), has_lids: has(Role::Lid) }
    }

    /// What is not drawn although it is there, in a sentence.
    pub(super) fn left_out(&self) -> String {
        let all = [
            (self.within[0].y.is_infinite(), "the front wall"),
            (self.has_rim, "the rim"),
            (self.has_lids, "the lids"),
        ];
        let names: Vec<&str> = all.iter().filter(|(is, _)| *is).map(|(_, name)| *name).collect();
        match names.as_slice() {
            [] => "Cut free of the rest.".to_owned(),
            names => format!("Cut free of the rest, without {}.", fit::listed(names)),
        }
    }

    /// What is shown, moved to where a sump of its size would stand.
    pub(super) fn into_scene(self, scene: &Scene, design: &Design, chamber: &Level) -> Scene {
        let mut shown = scene.clone_frame();
        let wall_top = top_of_walls(scene, design);
        let mut named = Vec::new();
        for (body, placed) in scene.bodies.iter().zip(&design.placed) {
            let piece = &design.pieces[placed.piece];
            if is_overhead(piece.role) || !self.holds(body, wall_top) {
                continue;
            }
            let Some(body) = self.cut(body) else { continue };
            let label = || {
                let topic = topic(piece.role).filter(|topic| *topic != Topic::Wall)?;
                let anchor = anchor(&body, topic)?;
                Some(Label {
                    text: piece.name.clone(),
                    topic,
                    anchor,
                    body: Some(shown.bodies.len()),
                })
            };
            if !named.contains(&placed.piece) {
                shown.labels.extend(label());
                named.push(placed.piece);
            }
            shown.bodies.push(body);
        }
        shown.waters = scene.waters.iter().filter_map(|water| self.clip(water)).collect();
        shown.levels = vec![chamber.clone()];
        let of_chamber = |label: &&Label| label.body.is_none() && label.text == chamber.chamber;
        shown.labels.extend(scene.labels.iter().find(of_chamber).cloned());
        tell_levels(&mut shown);
        let [lo, hi] = [0, 1].map(|k| {
            let ends = [DVec2::ZERO, scene.outside.truncate()];
            self.cut[k].max(ends[0]).min(ends[1])
        });
        shift(&mut shown, -lo.extend(0.0));
        shown.outside = (hi - lo).extend(scene.outside.z);
        shown
    }

    /// Whether a body stands in the chamber or parts it from the rest. What lies on the walls is in the way.
    fn holds(&self, body: &Body, wall_top: f64) -> bool {
        let [within_lo, within_hi] = self.within;
        body.bounds().is_some_and(|[lo, hi]| {
            lo.z < wall_top - TOUCH_MM
                && (lo.truncate() + TOUCH_MM).cmplt(within_hi).all()
                && (within_lo + TOUCH_MM).cmplt(hi.truncate()).all()
        })
    }

    /// What of a body lies within the cut. The knife only cuts across `y`; so the body is turned under it.
    fn cut(&self, body: &Body) -> Option<Body> {
        let [lo, hi] = self.cut;
        [lo.y, -hi.x, -hi.y, lo.x]
            .into_iter()
            .try_fold(body.clone(), |body, at| Some(turned(cut_body(&body, at)?)))
    }

    fn clip(&self, water: &Water) -> Option<Water> {
        let [lo, hi] = self.cut;
        let min = water.min.max(lo.extend(f64::NEG_INFINITY));
        let max = water.max.min(hi.extend(f64::INFINITY));
        (max - min).cmpgt(DVec3::splat(TOUCH_MM)).all().then(|| Water { min, max, ..water.clone() })
    }
}

/// Covers the walls from above.
fn is_overhead(role: Role) -> bool {
    matches!(role, Role::Rim | Role::Lid)
}

fn top_of_walls(scene: &Scene, design: &Design) -> f64 {
    let bodies = scene.bodies.iter().zip(&design.placed);
    let walls = bodies.filter(|(_, placed)| design.pieces[placed.piece].role == Role::Wall);
    let tops = walls.filter_map(|(body, _)| Some(body.bounds()?[1].z));
    tops.fold(f64::NEG_INFINITY, f64::max).max(0.5 * scene.outside.z)
}

/// A quarter turn, exact: `x` becomes `-y`.
fn turned(mut body: Body) -> Body {
    let turn = |p: DVec3| dvec3(p.y, -p.x, p.z);
    body.edges.iter_mut().chain(&mut body.engraved).flatten().for_each(|p| *p = turn(*p));
    for Triangle { corners, normals, .. } in &mut body.triangles {
        *corners = corners.map(turn);
        *normals = normals.map(turn);
    }
    body
}

fn shift(scene: &mut Scene, by: DVec3) {
    for body in &mut scene.bodies {
        body.edges.iter_mut().chain(&mut body.engraved).flatten().for_each(|p| *p += by);
        let corners = body.triangles.iter_mut().flat_map(|triangle| &mut triangle.corners);
        corners.for_each(|p| *p += by);
    }
    for water in &mut scene.waters {
        (water.min, water.max) = (water.min + by, water.max + by);
    }
    for level in &mut scene.levels {
        (level.min, level.max) = (level.min + by.truncate(), level.max + by.truncate());
    }
    scene.labels.iter_mut().for_each(|label| label.anchor += by);
}

/// Names chambers with their levels: `skimmer, 206 mm`.
pub(super) fn tell_levels(scene: &mut Scene) {
    for level in &mut scene.levels {
        let told = format!("{}, {}", level.chamber, Length::mm(level.height_mm).show(scene.report));
        let is_it = |label: &&mut Label| label.body.is_none() && label.text == level.chamber;
        if let Some(label) = scene.labels.iter_mut().find(is_it) {
            label.text.clone_from(&told);
        }
        level.chamber = told;
    }
}

/// Makes opaque sheet clear that hides some of the chamber's floor or of its water's surface.
pub(super) fn see_through(scene: &mut Scene, camera: &Camera) {
    let points: Vec<DVec3> = scene.levels.iter().flat_map(points_of).collect();
    let outside = scene.outside;
    for body in scene.bodies.iter_mut().filter(|body| !body.look.is_clear) {
        let is_sheet = body.bounds().is_some_and(|[lo, hi]| {
            let mut shares = ((hi - lo) / outside).to_array();
            shares.sort_by(f64::total_cmp);
            shares[0] < 0.1 && shares[1] > 0.35
        });
        let hides =
            || Seen::behind(body, camera).is_some_and(|seen| !points.iter().all(|p| seen.sees(*p)));
        if is_sheet && hides() {
            body.look = OPENED;
        }
    }
}

fn points_of(level: &Level) -> Vec<DVec3> {
    let [low, high] = [level.floor_z + 1.0, level.floor_z + level.height_mm];
    let shares = [0.05, 0.5, 0.95];
    let plan = shares.iter().flat_map(|u| shares.map(|v| DVec2::new(*u, v)));
    let plan = plan.map(|share| level.min + (level.max - level.min) * share);
    plan.flat_map(|p| [p.extend(low), p.extend(high)]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_quarter_turns_change_nothing() {
        let triangle = Triangle {
            corners: [dvec3(1., 2., 3.), dvec3(4., 5., 7.), dvec3(0., -1., 2.)],
            normals: [DVec3::X, DVec3::Y, DVec3::Z],
            side: crate::scene::Side::Broad,
        };
        let body = Body {
            name: "a".to_owned(),
            look: OPENED,
            triangles: vec![triangle],
            edges: vec![vec![DVec3::X, DVec3::Y]],
            engraved: Vec::new(),
            way: None,
        };
        let once = turned(body.clone());
        assert_eq!(once.triangles[0].corners[0], dvec3(2., -1., 3.));
        let again = turned(turned(turned(once)));
        assert_eq!(again.triangles, body.triangles);
        assert_eq!(again.edges, body.edges);
    }
}
