//! Boxes that may shut a part in: the sump, and the cabinet.

use glam::DVec3;

use super::cover::{Plane, groups, left};
use crate::convex::Convex;
use crate::plan::body::{Body, bounds};
use crate::plan::space::Space;

/// A box through the middles of panels, and which it is. That its faces are covered is asked, not known.
#[derive(Clone, Debug)]
pub(super) struct Shell {
    pub(super) is_cabinet: bool,
    corners: [DVec3; 2],
}

/// What is thicker than this, mm, is no panel.
const THICKEST: f64 = 60.0;

/// How far inside the outer face of what an opening is in a plane is laid, mm.
const INSIDE: f64 = 1.0;

/// The sump and the cabinet, as far as panels are found for all sides of them.
pub(super) fn shells(space: &Space<'_>, body: &Body) -> Vec<Shell> {
    [sump(space, body), cabinet(space, body)].into_iter().flatten().collect()
}

fn sump(space: &Space<'_>, body: &Body) -> Option<Shell> {
    let first = space.exits.rim.first()?;
    let top = first.centre.z - INSIDE;
    let is_of_sump = |piece: &Convex| piece.max.z <= space.exits.rim_z + 0.5;
    let mut corners = sides(space, body, is_of_sump, |out| out.z > 0.5)?;
    corners[1].z = top;
    shell(space, body, corners, false)
}

fn cabinet(space: &Space<'_>, body: &Body) -> Option<Shell> {
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
    shell(space, body, corners, true)
}

/// The shell, if the part begins wholly inside it and is wholly outside once it is out.
fn shell(space: &Space<'_>, body: &Body, corners: [DVec3; 2], is_cabinet: bool) -> Option<Shell> {
    let [lo, hi] = corners;
    let [least, most] = bounds(body.whole.iter().flatten().copied());
    let is_inside = least.cmpgt(lo).all() && most.cmplt(hi).all();
    let ends_outside = space.exits.doors.iter().all(|door| {
        let farthest = DVec3::select(door.out.cmpgt(DVec3::ZERO), hi, lo);
        farthest.dot(door.out) < door.beyond
    });
    (is_inside && ends_outside).then_some(Shell { is_cabinet, corners })
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
    /// Sides of the rectangles around all that is open in its faces. `None` when it is not closed at an edge.
    pub(super) fn openings(&self, space: &Space<'_>) -> Option<Vec<[f64; 2]>> {
        let mut openings = Vec::new();
        for axis in 0..3 {
            for corner in self.corners {
                let plane = Plane { axis, at: corner[axis] };
                let face = self.corners.map(|p| plane.flat(p));
                let sections: Vec<_> = space
                    .fixed
                    .iter()
                    .filter(|o| o.piece.min[axis] < plane.at && plane.at < o.piece.max[axis])
                    .map(|o| plane.section(&o.piece.points))
                    .collect();
                for [lo, hi] in groups(&left(face, &sections)) {
                    let is_within =
                        lo.cmpgt(face[0] + 1e-6).all() && hi.cmplt(face[1] - 1e-6).all();
                    if !is_within {
                        return None;
                    }
                    let size = hi - lo;
                    openings.push([size.max_element(), size.min_element()]);
                }
            }
        }
        Some(openings)
    }
}
