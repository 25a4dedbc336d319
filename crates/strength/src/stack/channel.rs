//! The channels of a leaf, measured on the design: strips, printed channels or grooves.

use design::{Design, JointKind, PlacedId, Role};
use glam::{DVec2, DVec3};
use params::GuideKind;
use plate::{Contour, Cut, Face, Plate, Shape};

use crate::place::{axis_of, bounds_of};

/// What holds one end of a leaf.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Channel {
    /// What it is.
    pub(super) kind: GuideKind,
    /// The guide: a strip, a printed channel, or the wall that is grooved.
    pub(super) guide: PlacedId,
    /// The wall or leaf that it is on.
    pub(super) host: Option<PlacedId>,
    /// Its width across the leaf's thickness, mm.
    pub(super) width_mm: f64,
    /// Where its bottom lies along the leaf's length, in the sump, mm.
    pub(super) bottom_mm: f64,
    /// How deep it is, mm.
    pub(super) depth_mm: f64,
    /// From where to where up it holds the leaf, in the sump, mm.
    pub(super) z_mm: [f64; 2],
}

/// Where a leaf stands, or would: its corners and its axes in the sump.
#[derive(Clone, Copy, Debug)]
pub(super) struct LeafBox {
    pub(super) corners: [DVec3; 2],
    /// The axis of its length: 0 for x, 1 for y.
    pub(super) along: usize,
    /// The axis of its thickness.
    pub(super) across: usize,
}

impl LeafBox {
    pub(super) fn of(design: &Design, placed: &design::Placed) -> Self {
        let shape = &design.pieces[placed.piece].shape;
        Self {
            corners: crate::place::bounds(shape, &placed.pose),
            along: axis_of(placed.pose.matrix3.x_axis),
            across: axis_of(placed.pose.matrix3.z_axis),
        }
    }

    pub(super) fn length_mm(&self) -> f64 {
        self.corners[1][self.along] - self.corners[0][self.along]
    }

    fn middle(&self) -> DVec3 {
        0.5 * (self.corners[0] + self.corners[1])
    }

    /// The middle of an end, 0 or 1, a little within the leaf.
    pub(super) fn end(&self, end: usize) -> DVec3 {
        let mut point = self.middle();
        let inwards = if end == 0 { WITHIN_MM } else { -WITHIN_MM };
        point[self.along] = self.corners[end][self.along] + inwards;
        point
    }
}

/// A leaf's end is looked for this far within it, mm: where it is sure to be in its channel.
const WITHIN_MM: f64 = 0.01;

/// The channels at both ends of the leaf that stands in a slot; `None` where one is not found.
pub(super) fn channels(design: &Design, leaf: PlacedId) -> Option<[Channel; 2]> {
    let place = LeafBox::of(design, &design.placed[leaf]);
    let guides: Vec<PlacedId> = partners(design, leaf, JointKind::Slides).collect();
    let [first, last] = [0, 1].map(|end| channel(design, &place, &guides, end));
    Some([first?, last?])
}

/// What a part meets in joints of a kind.
pub(super) fn partners(
    design: &Design,
    part: PlacedId,
    kind: JointKind,
) -> impl Iterator<Item = PlacedId> + '_ {
    let joints = design.joints.iter().filter(move |joint| joint.kind == kind);
    joints.filter_map(move |joint| match part {
        _ if joint.a == part => Some(joint.b),
        _ if joint.b == part => Some(joint.a),
        _ => None,
    })
}

fn channel(design: &Design, place: &LeafBox, guides: &[PlacedId], end: usize) -> Option<Channel> {
    let role = |placed: PlacedId| design.pieces[design.placed[placed].piece].role;
    let is_here = |placed: &PlacedId| {
        let [lo, hi] = bounds_of(design, *placed);
        let point = place.end(end)[place.along];
        let middle = place.middle()[place.along];
        // On the leaf's own side of its middle, so that the strips of the other end are not meant.
        let nearest = point.clamp(lo[place.along], hi[place.along]);
        (nearest < middle) == (end == 0)
    };
    let here: Vec<PlacedId> = guides.iter().copied().filter(is_here).collect();
    let strips: Vec<PlacedId> =
        here.iter().copied().filter(|&g| role(g) == Role::GuideStrip).collect();
    if !strips.is_empty() {
        return between_strips(design, place, &strips, end);
    }
    let printed = here.iter().copied().filter(|&guide| role(guide) == Role::GuideChannel);
    let reach = reach_mm(design, place, printed);
    here.iter().find_map(|&guide| {
        let is_printed = role(guide) == Role::GuideChannel;
        let mut point = place.end(end);
        if is_printed {
            // One of several lengths: at its own height.
            let [lo, hi] = bounds_of(design, guide);
            point.z = 0.5 * (lo.z + hi.z);
        }
        let groove = pocket_at(design, guide, point, place)?;
        Some(Channel {
            kind: if is_printed { GuideKind::Printed } else { GuideKind::Groove },
            guide,
            host: if is_printed { host_of(design, guide) } else { Some(guide) },
            z_mm: if is_printed { reach } else { groove.z_mm },
            ..groove
        })
    })
}

/// From where to where guides that stand one on the other hold a leaf, mm.
fn reach_mm(design: &Design, place: &LeafBox, guides: impl Iterator<Item = PlacedId>) -> [f64; 2] {
    let [low, high] = place.corners.map(|corner| corner.z);
    let [least, most] = guides.fold([f64::INFINITY, f64::NEG_INFINITY], |[a, c], guide| {
        let [lo, hi] = bounds_of(design, guide);
        [a.min(lo.z), c.max(hi.z)]
    });
    [least.clamp(low, high), most.clamp(low, high)]
}

/// The wall or leaf that a guide is glued to.
fn host_of(design: &Design, guide: PlacedId) -> Option<PlacedId> {
    let is_host = |placed: &PlacedId| {
        matches!(design.pieces[design.placed[*placed].piece].role, Role::Wall | Role::Leaf)
    };
    partners(design, guide, JointKind::Butt).find(is_host)
}

/// Between the faces of two strips that look at each other; the wall that they are glued to is its bottom.
fn between_strips(
    design: &Design,
    place: &LeafBox,
    strips: &[PlacedId],
    end: usize,
) -> Option<Channel> {
    let middle = place.middle()[place.across];
    let boxes: Vec<[DVec3; 2]> = strips.iter().map(|&strip| bounds_of(design, strip)).collect();
    let below = boxes.iter().filter(|b| b[1][place.across] < middle);
    let above = boxes.iter().filter(|b| b[0][place.across] > middle);
    let low = below.map(|b| b[1][place.across]).reduce(f64::max)?;
    let high = above.map(|b| b[0][place.across]).reduce(f64::min)?;
    let [lo, hi] = boxes.first()?.map(|corner| corner[place.along]);
    Some(Channel {
        kind: GuideKind::Strips,
        guide: *strips.first()?,
        host: host_of(design, *strips.first()?),
        width_mm: high - low,
        bottom_mm: if end == 0 { lo } else { hi },
        depth_mm: hi - lo,
        z_mm: reach_mm(design, place, strips.iter().copied()),
    })
}

/// The pocket of a sheet-like part that a point of the sump lies in: its width across the leaf and its floor.
pub(super) fn pocket_at(
    design: &Design,
    host: PlacedId,
    point: DVec3,
    place: &LeafBox,
) -> Option<Channel> {
    let placed = &design.placed[host];
    let Shape::Sheet(plate) = &design.pieces[placed.piece].shape else { return None };
    // The axes are unit vectors along those of the sump, so the transpose is the exact inverse.
    let turned = placed.pose.matrix3.transpose();
    let local = turned * (point - placed.pose.translation);
    let across = (turned * unit(place.across)).truncate();
    let inside = |cut: &&Cut| cut.depth.is_finite() && cut.contour.winding(local.truncate()) != 0;
    let cut = plate.cuts.iter().find(inside)?;
    let floor = local.truncate().extend(floor_z(plate, cut));
    Some(Channel {
        kind: GuideKind::Groove,
        guide: host,
        host: Some(host),
        width_mm: width_at(&cut.contour, local.truncate(), across)?,
        bottom_mm: placed.pose.transform_point3(floor)[place.along],
        depth_mm: cut.depth,
        // Grooves reach from the bottom to the upper edge of their wall.
        z_mm: place.corners.map(|corner| corner.z),
    })
}

fn unit(axis: usize) -> DVec3 {
    let mut unit = DVec3::ZERO;
    unit[axis] = 1.0;
    unit
}

fn floor_z(plate: &Plate, cut: &Cut) -> f64 {
    match cut.face {
        Face::Top => plate.thickness - cut.depth,
        Face::Bottom => cut.depth,
    }
}

/// How wide a contour is through a point in it along a direction, by the straight sides that the line meets.
fn width_at(contour: &Contour, point: DVec2, direction: DVec2) -> Option<f64> {
    let off = |p: DVec2| direction.perp_dot(p - point);
    let crossings = contour.0.iter().filter_map(|side| {
        let (a, b) = (off(side.start), off(side.end));
        if (a < 0.0) == (b < 0.0) || side.arc.is_some() {
            return None;
        }
        let crossing = side.start + a / (a - b) * (side.end - side.start);
        Some(direction.dot(crossing - point))
    });
    let (before, beyond): (Vec<f64>, Vec<f64>) = crossings.partition(|at| *at < 0.0);
    let low = before.into_iter().reduce(f64::max)?;
    let high = beyond.into_iter().reduce(f64::min)?;
    Some(high - low)
}
