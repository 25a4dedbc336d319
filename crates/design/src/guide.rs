//! Guides of lift-out leaves: strips, grooves or printed channels.

use findings::Finding;
use fittings::GuideChannel;
use glam::{DVec3, dvec2};
use params::GuideKind;
use plate::{Contour, Cut, Plate, Shape};

use crate::divider::{STRIP_WIDTH_MM, printed_wall_mm};
use crate::draft::{Builder, Draft, DraftId};
use crate::enclosure::Enclosure;
use crate::frame::{Axis, Host, pose};
use crate::model::{JointKind, Role};

/// Where guides go.
#[derive(Clone, Copy)]
pub(crate) struct GuidePlace<'a> {
    pub(crate) kind: GuideKind,
    /// How deep the channel is at either side, mm.
    pub(crate) depths_mm: [f64; 2],
    /// Height of the guides' upper end above the bottom, mm.
    pub(crate) top_mm: f64,
    pub(crate) leaf: DraftId,
    pub(crate) divider: &'a str,
    pub(crate) parameter: &'a str,
    pub(crate) axis: Axis,
    /// The channel along the row.
    pub(crate) through: [f64; 2],
    pub(crate) sides: [Host; 2],
}

/// Width of the flare at the entry of a channel, each side; common practice.
const LEAD_IN_MM: f64 = 3.0;

pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure, place: &GuidePlace<'_>) {
    b.touch(JointKind::Rests, place.leaf, enclosure.bottom);
    for (i, side) in place.sides.iter().enumerate() {
        match place.kind {
            GuideKind::Strips => strips(b, enclosure, place, side),
            GuideKind::Groove => groove(b, enclosure, place, side, place.depths_mm[i]),
            GuideKind::Printed => channels(b, enclosure, place, side, place.depths_mm[i]),
        }
    }
}

/// The pose of a part that lies flat on a wall: its own x along the row, y upwards, z off the wall;
/// where that would be left-handed, its x runs against the row.
fn flat_on_wall(place: &GuidePlace<'_>, side: &Host, along: f64, z: f64) -> (glam::DAffine3, f64) {
    let x = DVec3::Z.cross(side.inward);
    let sign = x.dot(place.axis.unit());
    (pose(x, DVec3::Z, place.axis.point(along, side.plane).extend(z)), sign)
}

/// Two strips flat on the wall, one on either side of the leaf. The upper end is cut back on the
/// channel's side, as a lead-in.
fn strips(b: &mut Builder<'_>, enclosure: &Enclosure, place: &GuidePlace<'_>, side: &Host) {
    let sheet = b.sheet(None);
    let h = place.top_mm;
    for (k, along) in place.through.into_iter().enumerate() {
        let (_, sign) = flat_on_wall(place, side, along, enclosure.floor_z);
        // Away from the channel; the strip on its other side is the same piece turned over.
        let is_turned = (k == 0) == (sign > 0.0);
        let pose = strip_pose(
            place,
            side,
            along,
            enclosure.floor_z,
            is_turned.then_some(sheet.thickness_mm()),
        );
        let w = STRIP_WIDTH_MM;
        let corners = [
            dvec2(0.0, 0.0),
            dvec2(w, 0.0),
            dvec2(w, h),
            dvec2(LEAD_IN_MM, h),
            dvec2(0.0, h - 3.0 * LEAD_IN_MM),
        ];
        let plate = Plate::new(Contour::polygon(&corners), sheet.thickness_mm());
        let n = 1 + b
            .drafts
            .iter()
            .filter(|d| d.role == Role::GuideStrip && d.parameter == place.parameter)
            .count();
        let strip = b.add(
            Draft::new(
                Role::GuideStrip,
                format!("guide strip {} {n}", place.divider),
                place.parameter,
                Shape::Sheet(plate),
            )
            .piece(format!("guide strip {}", place.divider))
            .sheet(&sheet)
            .pose(pose),
        );
        let glued = if is_turned { "upper face" } else { "lower face" };
        b.glue(JointKind::Butt, (strip, glued), (side.draft, "face"), h, w);
        b.glue(
            JointKind::Butt,
            (strip, "lower end"),
            (enclosure.bottom, "upper face"),
            w,
            sheet.thickness_mm(),
        );
        b.touch(JointKind::Slides, place.leaf, strip);
    }
}

/// The pose of a strip whose own x runs away from the channel; turned over, its upper face lies on the wall.
fn strip_pose(
    place: &GuidePlace<'_>,
    side: &Host,
    along: f64,
    z: f64,
    turned_thickness: Option<f64>,
) -> glam::DAffine3 {
    let x = DVec3::Z.cross(side.inward);
    let foot = place.axis.point(along, side.plane).extend(z);
    match turned_thickness {
        None => pose(x, DVec3::Z, foot),
        Some(t) => pose(-x, DVec3::Z, foot + t * side.inward),
    }
}

/// A groove in the wall from its upper edge to the bottom, flared at the top.
fn groove(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    place: &GuidePlace<'_>,
    side: &Host,
    depth: f64,
) {
    let point = |along: f64, z: f64| side.local(place.axis.point(along, side.plane).extend(z));
    let [a, c] = place.through;
    let top = enclosure.wall_top_z;
    let mut corners = [
        point(a, enclosure.floor_z - 30.0),
        point(c, enclosure.floor_z - 30.0),
        point(c, top - 3.0 * LEAD_IN_MM),
        point(c + LEAD_IN_MM, top),
        point(c + LEAD_IN_MM, top + 5.0),
        point(a - LEAD_IN_MM, top + 5.0),
        point(a - LEAD_IN_MM, top),
        point(a, top - 3.0 * LEAD_IN_MM),
    ];
    if corners[1].x < corners[0].x {
        corners.reverse();
    }
    b.cut(side, Cut::pocket(Contour::polygon(&corners), side.face(), depth));
    b.touch(JointKind::Slides, place.leaf, side.draft);
}

/// Printed channels, in as many lengths as the print bed asks for; only the lowest has a stop, only
/// the highest a flare.
fn channels(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    place: &GuidePlace<'_>,
    side: &Host,
    depth: f64,
) {
    let wall = printed_wall_mm(b);
    let bed = b.file.printing.bed.to_mm();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a height over a bed length: small, positive"
    )]
    let count = (place.top_mm / bed).ceil().max(1.0) as usize;
    #[expect(clippy::cast_precision_loss, reason = "a small count")]
    let length = place.top_mm / count as f64;
    let middle = 0.5 * (place.through[0] + place.through[1]);
    let channel = place.through[1] - place.through[0];
    for k in 0..count {
        let spec = GuideChannel {
            channel_width_mm: channel,
            depth_mm: depth,
            length_mm: length,
            wall_mm: wall,
            stop: k == 0,
            lead_in_mm: if k + 1 == count { LEAD_IN_MM } else { 0.0 },
        };
        let fitting = match fittings::guide_channel(&spec) {
            Ok(fitting) => fitting,
            Err(error) => {
                let parameter = format!("{}.guide", place.parameter);
                b.find(
                    Finding::fails("guide-channel", parameter, error.to_string())
                        .with_hint("change `guide_depth`, `clearance` or the nozzle"),
                );
                return;
            }
        };
        #[expect(clippy::cast_precision_loss, reason = "a small count")]
        let z = enclosure.floor_z + k as f64 * length;
        let (pose, _) = flat_on_wall(place, side, middle, z);
        let n = 1 + b
            .drafts
            .iter()
            .filter(|d| d.role == Role::GuideChannel && d.parameter == place.parameter)
            .count();
        let which = match (k, count) {
            (_, 1) => String::new(),
            (0, _) => " lower part".to_owned(),
            (k, n) if k + 1 == n => " upper part".to_owned(),
            (k, _) => format!(" middle part {k}"),
        };
        let id = b.add(
            Draft::new(
                Role::GuideChannel,
                format!("guide channel {} {n}", place.divider),
                place.parameter,
                fitting.shape,
            )
            .piece(format!("guide channel {}{which}", place.divider))
            .pose(pose),
        );
        b.drafts[id].notes.push(fitting.print.orientation);
        b.glue(JointKind::Butt, (id, "back"), (side.draft, "face"), length, channel + 2.0 * wall);
        b.touch(JointKind::Slides, place.leaf, id);
    }
}
