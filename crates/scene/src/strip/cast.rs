//! Who is in a frame: the part that moves, what stands around it, and what is gone.

use design::{Design, PlacedId, Removable, RemovableId, SurroundingKind};
use fit::Rigid;
use glam::DVec3;

use super::moments::Moment;
use crate::camera::Camera;
use crate::scene::{Body, Look, Scene};
use crate::seen::Seen;

/// The part that moves: strong, and darker in grey than anything pale around it.
pub(super) const MOVING: Look = Look { colour: [226, 88, 18], is_clear: false };
/// Where it was.
const GHOST: Look = Look { colour: [255, 96, 16], is_clear: true };
/// Sheet.
const SHEET: Look = Look { colour: [205, 220, 226], is_clear: true };
/// Everything else that stays.
const PLAIN: Look = Look { colour: [216, 220, 222], is_clear: false };
/// What would hide the part.
const OPENED: Look = Look { colour: [220, 220, 220], is_clear: true };

/// Panels stand beside the inside of the cabinet, with so much for rounding, mm.
const BESIDE_MM: f64 = 0.01;

/// An edge is drawn in so many pieces, each seen or hidden.
const PIECES: u32 = 32;

/// All bodies of a strip.
#[derive(Debug)]
pub(super) struct Cast<'a> {
    scene: &'a Scene,
    /// In its place.
    pub(super) moving: Vec<Body>,
    undone: Vec<Body>,
    still: Vec<Body>,
    /// Panels of the cabinet.
    panels: Vec<&'a Body>,
}

impl<'a> Cast<'a> {
    /// `None` when there is no such removable, or nothing of it in the scene.
    pub(super) fn of(
        scene: &'a Scene,
        design: &Design,
        who: RemovableId,
        gone: &[RemovableId],
    ) -> Option<Self> {
        let removable = design.removables.get(who)?;
        let body = |id: &usize| scene.bodies.get(*id).cloned();
        let spare = |id: &usize| scene.spares.get(*id).cloned();
        let around = scene.cabinet.iter().flat_map(|c| c.things.iter().enumerate());
        let shelf = around.clone().filter(|(i, _)| removable.shelf == Some(*i));
        let moving: Vec<Body> = removable
            .parts
            .iter()
            .filter_map(body)
            .chain(removable.spares.iter().filter_map(spare))
            .chain(shelf.map(|(_, t)| t.body.clone()))
            .collect();
        if moving.iter().all(|b| b.triangles.is_empty()) {
            return None;
        }
        let undone = removable.undone.iter().filter_map(body);
        let undone = undone.chain(removable.undone_spares.iter().filter_map(spare)).collect();

        let others = gone.iter().copied().chain(removable.instead_of).filter(|&id| id != who);
        let others: Vec<&Removable> = others.filter_map(|id| design.removables.get(id)).collect();
        let taken = |id: PlacedId| {
            let of = |r: &Removable| r.parts.contains(&id) || r.undone.contains(&id);
            of(removable) || others.iter().any(|r| of(r))
        };
        let roles = design.placed.iter().map(|p| design.pieces[p.piece].role);
        let stays = scene.bodies.iter().zip(roles).enumerate().filter(|(id, _)| !taken(*id));
        let sump = stays.map(|(_, (body, role))| {
            let look = if role.is_sheet() || body.look.is_clear { SHEET } else { PLAIN };
            Body { look, engraved: Vec::new(), ..body.clone() }
        });
        let things = around.clone().filter(|(i, t)| {
            let taken = |r: &Removable| r.shelf == Some(*i);
            !is_panel(t.kind) && !taken(removable) && !others.iter().any(|r| taken(r))
        });
        let panels = around.filter(|(_, t)| is_panel(t.kind)).map(|(_, t)| &t.body).collect();
        let still = sump.chain(things.map(|(_, t)| t.body.clone())).collect();
        Some(Self { scene, moving, undone, still, panels })
    }

    /// The box around everything that stands in its place, the cabinet too.
    pub(super) fn bounds(&self) -> [DVec3; 2] {
        let inside = self.scene.cabinet.iter().map(|c| c.inside);
        let bodies = self.still.iter().filter_map(Body::bounds).chain(inside);
        bodies.fold([DVec3::ZERO, self.scene.outside], |[lo, hi], [a, b]| [lo.min(a), hi.max(b)])
    }

    /// Units of measures.
    pub(super) fn units(&self) -> units::System {
        self.scene.report
    }

    pub(super) fn has_cabinet(&self) -> bool {
        self.scene.cabinet.is_some()
    }

    /// The middle of the part in its place.
    pub(super) fn middle(&self) -> DVec3 {
        let boxes = self.moving.iter().filter_map(Body::bounds);
        let start = [DVec3::INFINITY, DVec3::NEG_INFINITY];
        let [lo, hi] = boxes.fold(start, |[lo, hi], [a, b]| [lo.min(a), hi.max(b)]);
        0.5 * (lo + hi)
    }

    /// Points all over the part in its place, at most about so many.
    pub(super) fn points(&self, most: usize) -> Vec<DVec3> {
        let all: Vec<DVec3> =
            self.moving.iter().flat_map(|b| b.triangles.iter().flat_map(|t| t.corners)).collect();
        let step = all.len().div_ceil(most.max(1)).max(1);
        let mut points: Vec<DVec3> = all.iter().copied().step_by(step).collect();
        // Its outermost corners in any case.
        let ways = [DVec3::X, DVec3::Y, DVec3::Z];
        let slants = [1.0, -1.0].map(|s| DVec3::new(1.0, s, s));
        for way in ways.into_iter().chain(slants) {
            let along = |p: &&DVec3, q: &&DVec3| p.dot(way).total_cmp(&q.dot(way));
            points.extend(all.iter().max_by(along).into_iter().chain(all.iter().min_by(along)));
        }
        points
    }

    /// Makes everything clear that hides some of the part at any moment.
    pub(super) fn see_through(&mut self, camera: &Camera, moments: &[Moment]) {
        let points = self.points(40);
        let all: Vec<DVec3> =
            moments.iter().flat_map(|m| points.iter().map(|&p| m.at.apply(p))).collect();
        for body in self.still.iter_mut().filter(|b| !b.look.is_clear) {
            let hides = Seen::behind(body, camera).is_some_and(|s| !all.iter().all(|&p| s.sees(p)));
            if hides {
                body.look = OPENED;
            }
        }
    }

    /// What is drawn at a moment.
    pub(super) fn scene_at(&self, moment: &Moment, camera: &Camera) -> Scene {
        let at = |look: Look, place: &Rigid| {
            let place = *place;
            self.moving.iter().map(move |body| moved(body, &place, look))
        };
        let ghost = moment.passed().next().into_iter().flat_map(|place| at(GHOST, place));
        let undone = self.undone.iter().filter(|_| moment.is_first);
        let undone = undone.map(|body| Body { look: MOVING, ..body.clone() });
        let far = self.panels.iter().filter(|panel| !self.is_near(panel, camera));
        let bodies = self.still.iter().cloned();
        let bodies = bodies.chain(far.map(|&panel| panel.clone()));
        let bodies = bodies.chain(ghost).chain(undone).chain(at(MOVING, &moment.at));
        Scene { bodies: bodies.collect(), ..self.scene.clone_frame() }
    }

    /// Edges of the panels that stand between the eye and the sump and are not drawn, in short pieces, where
    /// the part does not hide them.
    pub(super) fn near_lines(&self, moment: &Moment, camera: &Camera) -> Vec<[DVec3; 2]> {
        let moved: Vec<Body> =
            self.moving.iter().map(|body| moved(body, &moment.at, MOVING)).collect();
        let hiding: Vec<Seen<'_>> = moved.iter().filter_map(|b| Seen::behind(b, camera)).collect();
        let near = self.panels.iter().filter(|panel| self.is_near(panel, camera));
        let lines = near.flat_map(|panel| panel.edges.iter().flat_map(|line| line.windows(2)));
        let pieces = lines.flat_map(|ends| {
            let at = |k: u32| ends[0].lerp(ends[1], f64::from(k) / f64::from(PIECES));
            (0..PIECES).map(move |k| [at(k), at(k + 1)])
        });
        pieces.filter(|[a, b]| hiding.iter().all(|part| part.sees(0.5 * (*a + *b)))).collect()
    }

    /// Whether a panel stands between the eye and the inside.
    fn is_near(&self, panel: &Body, camera: &Camera) -> bool {
        let inside = self.scene.cabinet.as_ref().map(|c| c.inside);
        let Some(([least, most], [lo, hi])) = inside.zip(panel.bounds()) else { return false };
        (0..3).any(|k| {
            let is_before = hi[k] <= least[k] + BESIDE_MM && camera.eye[k] < least[k];
            let is_behind = most[k] - BESIDE_MM <= lo[k] && most[k] < camera.eye[k];
            is_before || is_behind
        })
    }
}

fn is_panel(kind: SurroundingKind) -> bool {
    kind == SurroundingKind::Panel
}

/// A body displaced from its place.
fn moved(body: &Body, place: &Rigid, look: Look) -> Body {
    Body { look, engraved: Vec::new(), ..body.clone() }.moved(place)
}
