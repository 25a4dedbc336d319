//! Boxes that may shut a part in: the sump, the sump and the room above it, and the cabinet.

use glam::DVec3;

use super::balls::Ball;
use super::cover::{Plane, groups, left};
use crate::convex::Convex;
use crate::plan::body::{Body, bounds};
use crate::plan::space::Space;
use crate::world::ThingId;

/// A box through the middles of panels, and which it is. That its faces are covered is asked, not known.
#[derive(Clone, Debug)]
pub(super) struct Shell {
    pub(super) is_cabinet: bool,
    corners: [DVec3; 2],
}

/// An opening of a shell.
#[derive(Clone, Copy, Debug)]
pub(super) struct Opening {
    /// Sides of the rectangle around it, the longer first.
    pub(super) sides: [f64; 2],
    /// Least and greatest corner of that.
    pub(super) corners: [DVec3; 2],
    /// Whether it is in the upper face.
    pub(super) is_above: bool,
}

impl Opening {
    pub(super) fn middle(&self) -> DVec3 {
        (self.corners[0] + self.corners[1]) / 2.0
    }
}

/// What is thicker than this, mm, is no panel: our judgement, for worktops and stone slabs are thinner. It only chooses where
/// a plane is laid, so that another number loses proofs but makes no wrong one.
const THICKEST: f64 = 60.0;

/// How far inside the outer face of what an opening is in a plane is laid, mm: our judgement, less than any sheet is
/// thick. It only chooses where a plane is laid.
const INSIDE: f64 = 1.0;

/// How many lids above the sump are tried, the lowest first; our judgement: a cabinet has a ceiling and a shelf or two.
const MOST_LIDS: usize = 6;

/// The sump and the cabinet, as far as panels are found for all sides of them.
pub(super) fn shells(space: &Space<'_>, body: &Body) -> Vec<Shell> {
    [sump(space, body), cabinet(space, body)].into_iter().flatten().collect()
}

/// Boxes whose surface the middle of a ball must cross to come out: the sump as high as its rim, the sump and the room above
/// it up to each lid there, and the cabinet.
pub(super) fn boxes(space: &Space<'_>, body: &Body, ball: &Ball) -> Vec<[DVec3; 2]> {
    let mut boxes: Vec<[DVec3; 2]> = Vec::new();
    if let Some([lo, hi]) = sump_corners(space, body) {
        boxes.push([lo, hi]);
        let lids = lids_over(space, [lo, hi]);
        boxes.extend(lids.into_iter().map(|lid| [lo, hi.with_z(lid.middle)]));
    }
    boxes.extend(cabinet_corners(space, body));
    let holds =
        |[lo, hi]: &[DVec3; 2]| ball.middle.cmpgt(*lo).all() && ball.middle.cmplt(*hi).all();
    boxes.retain(|corners| holds(corners) && ends_outside(space, corners));
    boxes
}

/// What lies level over some place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Level {
    /// Heights of its lower face and of its middle.
    pub(super) bottom: f64,
    pub(super) middle: f64,
    pub(super) thing: ThingId,
}

/// What lies level above the rim over any of a place, the lowest first, one at each height.
pub(super) fn lids_over(space: &Space<'_>, [lo, hi]: [DVec3; 2]) -> Vec<Level> {
    let mut lids: Vec<Level> = Vec::new();
    for obstacle in &space.fixed {
        let piece = obstacle.piece;
        let is_over = piece.min.truncate().cmplt(hi.truncate()).all()
            && piece.max.truncate().cmpgt(lo.truncate()).all();
        let is_level = piece.max.z - piece.min.z < THICKEST;
        let (bottom, middle) = (piece.min.z, (piece.min.z + piece.max.z) / 2.0);
        let is_new = lids.iter().all(|lid| (lid.bottom - bottom).abs() > 0.01);
        if is_over && is_level && is_new && space.exits.rim_z - 0.5 <= bottom {
            lids.push(Level { bottom, middle, thing: obstacle.thing });
        }
    }
    lids.sort_by(|a, b| a.bottom.total_cmp(&b.bottom));
    lids.truncate(MOST_LIDS);
    lids
}

fn sump(space: &Space<'_>, body: &Body) -> Option<Shell> {
    shell(space, body, sump_corners(space, body)?, false)
}

fn sump_corners(space: &Space<'_>, body: &Body) -> Option<[DVec3; 2]> {
    let first = space.exits.rim.first()?;
    let top = first.centre.z - INSIDE;
    let is_of_sump = |piece: &Convex| piece.max.z <= space.exits.rim_z + 0.5;
    let mut corners = sides(space, body, is_of_sump, |out| out.z > 0.5)?;
    corners[1].z = top;
    Some(corners)
}

fn cabinet(space: &Space<'_>, body: &Body) -> Option<Shell> {
    shell(space, body, cabinet_corners(space, body)?, true)
}

fn cabinet_corners(space: &Space<'_>, body: &Body) -> Option<[DVec3; 2]> {
    if space.exits.doors.is_empty() {
        return None;
    }
    let has_door = |out: DVec3| space.exits.doors.iter().any(|d| d.out.dot(out) > 0.999);
    let mut corners = sides(space, body, |_| true, has_door)?;
    for door in &space.exits.doors {
        let out = door.out;
        let axis = (0..3).find(|k| out[*k].abs() > 0.999)?;
        let at = door.window.centre[axis] - INSIDE * out[axis].signum();
        corners[usize::from(out[axis] > 0.0)][axis] = at;
    }
    Some(corners)
}

/// The shell, if the part begins wholly inside it and is wholly outside once it is out.
fn shell(space: &Space<'_>, body: &Body, corners: [DVec3; 2], is_cabinet: bool) -> Option<Shell> {
    let [lo, hi] = corners;
    let [least, most] = bounds(body.whole.iter().flatten().copied());
    let is_inside = least.cmpgt(lo).all() && most.cmplt(hi).all();
    (is_inside && ends_outside(space, &corners)).then_some(Shell { is_cabinet, corners })
}

/// Whether a part that is out is wholly outside a box.
fn ends_outside(space: &Space<'_>, [lo, hi]: &[DVec3; 2]) -> bool {
    if space.exits.doors.is_empty() {
        return hi.z <= space.exits.rim_z;
    }
    space.exits.doors.iter().all(|door| {
        let farthest = DVec3::select(door.out.cmpgt(DVec3::ZERO), *hi, *lo);
        farthest.dot(door.out) < door.beyond
    })
}

/// Middles of the largest panels on all sides of the part. Where there is none, the part's own side, on which another plane
/// will be put: above for the sump, and where a door is.
fn sides(
    space: &Space<'_>,
    body: &Body,
    is_wanted: impl Fn(&Convex) -> bool,
    is_open: impl Fn(DVec3) -> bool,
) -> Option<[DVec3; 2]> {
    let side = |axis: DVec3, is_upper: bool| {
        let own = body.bounds[usize::from(is_upper)].dot(axis);
        let out = if is_upper { axis } else { -axis };
        match panel(space, body, axis, is_upper, &is_wanted) {
            None => is_open(out).then_some(own),
            found => found,
        }
    };
    let corner = |is_upper| {
        let [x, y, z] = DVec3::AXES.map(|axis| side(axis, is_upper));
        Some(DVec3::new(x?, y?, z?))
    };
    Some([corner(false)?, corner(true)?])
}

/// The middle of the panel of the largest area beyond the part on one side. Pieces that lie in one plane are one panel.
fn panel(
    space: &Space<'_>,
    body: &Body,
    axis: DVec3,
    is_upper: bool,
    is_wanted: &impl Fn(&Convex) -> bool,
) -> Option<f64> {
    let mut panels: Vec<([f64; 2], f64)> = Vec::new();
    for obstacle in &space.fixed {
        let piece = obstacle.piece;
        let (low, high) = (piece.min.dot(axis), piece.max.dot(axis));
        let is_beyond = if is_upper {
            low >= body.bounds[1].dot(axis) - 1.0
        } else {
            high <= body.bounds[0].dot(axis) + 1.0
        };
        if !is_beyond || high - low > THICKEST || !is_wanted(piece) {
            continue;
        }
        let size = piece.max - piece.min;
        let area = size.element_product() / size.dot(axis).max(1e-9);
        let same =
            |p: &&mut ([f64; 2], f64)| (p.0[0] - low).abs() < 0.01 && (p.0[1] - high).abs() < 0.01;
        match panels.iter_mut().find(same) {
            Some((_, sum)) => *sum += area,
            None => panels.push(([low, high], area)),
        }
    }
    let largest = panels.iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    Some((largest.0[0] + largest.0[1]) / 2.0)
}

impl Shell {
    /// Rectangles around all that is open in its faces. `None` when it is not closed at an edge.
    pub(super) fn openings(&self, space: &Space<'_>) -> Option<Vec<Opening>> {
        let mut openings = Vec::new();
        for axis in 0..3 {
            for corner in self.corners {
                let plane = Plane { axis, at: corner[axis] };
                let face = self.corners.map(|p| plane.flat(p));
                for [lo, hi] in groups(&left(face, &plane.sections(space))) {
                    let is_within =
                        lo.cmpgt(face[0] + 1e-6).all() && hi.cmplt(face[1] - 1e-6).all();
                    if !is_within {
                        return None;
                    }
                    let size = hi - lo;
                    openings.push(Opening {
                        sides: [size.max_element(), size.min_element()],
                        corners: [lo, hi].map(|p| plane.lifted(p, plane.at)),
                        is_above: axis == 2 && plane.at >= self.corners[1].z,
                    });
                }
            }
        }
        Some(openings)
    }
}
