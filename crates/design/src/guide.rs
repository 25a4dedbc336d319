//! Guides of lift-out leaves: strips, grooves or printed channels.

mod height;
pub(crate) mod play;

use findings::Finding;
use fittings::{Fitting, GuideChannel};
use glam::{DAffine3, DVec3, dvec2};
use params::{GuideKind, Item};
use plate::{Contour, Cut, Plate, Shape};

use crate::divider::{Slot, leaf_names, lifts_out};
use crate::draft::{Builder, Draft, DraftId};
use crate::enclosure::Enclosure;
use crate::fixing::Fixing;
use crate::frame::{Host, pose};
use crate::gluing;
use crate::guide::height::Stack;
use crate::model::{JointKind, Role};
use crate::printing::{glue_note, printer};

/// Width of a guide strip, common practice: enough to glue and to see.
const STRIP_WIDTH_MM: f64 = 15.0;
/// Width of the flare at the entry of a channel, each side, and its length over its width; common practice.
const LEAD_IN_MM: f64 = 3.0;
const LEAD_IN_STEEPNESS: f64 = 3.0;
/// A groove that is open at the wall's upper edge reaches this far beyond it, mm.
const ABOVE_MM: f64 = 5.0;

/// Wall of printed fittings: six times the nozzle, which prints as whole lines (common practice).
pub(crate) fn printed_wall_mm(b: &Builder<'_>) -> f64 {
    6.0 * b.file.printing.nozzle.to_mm()
}

/// Thickness of the back of a printed channel, between wall and leaf: that of its walls in whole layers.
pub(crate) fn printed_back_mm(b: &Builder<'_>) -> f64 {
    printer(&b.file.printing).height_mm(printed_wall_mm(b))
}

/// How far the guides of a divider stand into the chambers beside it.
pub(crate) fn reach_mm(b: &Builder<'_>, item: &Item) -> f64 {
    if leaf_names(item).iter().all(|name| !lifts_out(b, name)) {
        return 0.0;
    }
    match item.guide.unwrap_or_default() {
        GuideKind::Strips => STRIP_WIDTH_MM,
        GuideKind::Printed => printed_wall_mm(b) + LEAD_IN_MM,
        GuideKind::Groove => 0.0,
    }
}

/// Adds the guides of the leaves of a slot, the one that is in first, at both of their ends.
pub(crate) fn build(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    slot: &Slot<'_>,
    leaves: &[(&str, DraftId)],
    fixing: &Fixing,
) {
    let Some(&(_, leaf)) = leaves.first() else { return };
    b.touch(JointKind::Rests, leaf, enclosure.bottom);
    let stack = Stack { enclosure, slot, leaves };
    let height_mm = match fixing.guide {
        GuideKind::Groove => {
            stack.check_grooves(b, fixing);
            f64::INFINITY
        }
        GuideKind::Strips | GuideKind::Printed => stack.height_mm(b),
    };
    let guides = Guides { slot, leaf, enclosure };
    for (side, depth) in slot.place.sides.iter().zip(fixing.depths_mm) {
        let top_z = (enclosure.floor_z + height_mm).min(side.z[1]);
        match fixing.guide {
            GuideKind::Strips => guides.strips(b, side, top_z),
            GuideKind::Groove => guides.groove(b, side, depth),
            GuideKind::Printed => guides.channels(b, side, depth, top_z),
        }
    }
}

struct Guides<'a> {
    slot: &'a Slot<'a>,
    leaf: DraftId,
    enclosure: &'a Enclosure,
}

impl Guides<'_> {
    /// Two strips flat on the wall, one on either side of the leaf. The upper end is cut back on the
    /// channel's side, as a lead-in.
    fn strips(&self, b: &mut Builder<'_>, side: &Host, top_z: f64) {
        let sheet = b.sheet(None);
        let t = sheet.thickness_mm();
        let (w, h) = (STRIP_WIDTH_MM, top_z - self.enclosure.floor_z);
        let lead_in = LEAD_IN_STEEPNESS * LEAD_IN_MM;
        if h <= lead_in {
            self.too_low(b, side, h, lead_in);
            return;
        }
        let corners = [
            dvec2(0.0, 0.0),
            dvec2(w, 0.0),
            dvec2(w, h),
            dvec2(LEAD_IN_MM, h),
            dvec2(0.0, h - lead_in),
        ];
        let shape = Shape::Sheet(Plate::new(Contour::polygon(&corners), t));
        for (k, along) in self.slot.through.into_iter().enumerate() {
            let name = self.name(b, Role::GuideStrip, "guide strip");
            let strip = b.add(
                Draft::new(Role::GuideStrip, name, self.slot.parameter, shape.clone())
                    .piece(format!("guide strip {}", self.slot.divider))
                    .sheet(&sheet)
                    .pose(self.strip_pose(side, along, k == 0, t)),
            );
            self.glue(b, strip, side, [self.enclosure.floor_z, top_z], w);
            b.glue(JointKind::Butt, (strip, self.enclosure.bottom), DVec3::NEG_Z, w, t);
            b.touch(JointKind::Slides, self.leaf, strip);
        }
    }

    /// The pose of a strip whose own x runs away from the channel, so that both strips are one piece:
    /// one of the two is turned over, its upper face on the wall.
    fn strip_pose(&self, side: &Host, along: f64, is_first: bool, thickness: f64) -> DAffine3 {
        let x = DVec3::Z.cross(side.inward);
        let runs_along = x.dot(self.slot.place.axis.unit()) > 0.0;
        let foot = self.slot.place.axis.point(along, side.plane).extend(self.enclosure.floor_z);
        if is_first == runs_along {
            pose(-x, DVec3::Z, foot + thickness * side.inward)
        } else {
            pose(x, DVec3::Z, foot)
        }
    }

    /// A groove in the wall from its upper edge to the bottom, flared at the top. It cannot end lower: the leaf
    /// is longer than the wall's faces are apart, so that it gets into both grooves from above only.
    fn groove(&self, b: &mut Builder<'_>, side: &Host, depth: f64) {
        let along = |along: f64, z: f64| {
            side.local(self.slot.place.axis.point(along, side.plane).extend(z))
        };
        let ([a, c], [bottom, top]) = (self.slot.through, side.z);
        gluing::check_cutter(b, &format!("{}.guide", self.slot.parameter), side.draft, c - a);
        let flare = top - LEAD_IN_STEEPNESS * LEAD_IN_MM;
        let mut corners = [
            along(a, bottom - gluing::BEYOND_MM),
            along(c, bottom - gluing::BEYOND_MM),
            along(c, flare),
            along(c + LEAD_IN_MM, top),
            along(c + LEAD_IN_MM, top + ABOVE_MM),
            along(a - LEAD_IN_MM, top + ABOVE_MM),
            along(a - LEAD_IN_MM, top),
            along(a, flare),
        ];
        if corners[1].x < corners[0].x {
            corners.reverse();
        }
        b.cut(side, Cut::pocket(Contour::polygon(&corners), side.face(), depth));
        b.touch(JointKind::Slides, self.leaf, side.draft);
    }

    /// Printed channels, in as many lengths as the print bed asks for; only the lowest has a stop, only
    /// the highest a flare.
    fn channels(&self, b: &mut Builder<'_>, side: &Host, depth: f64, top_z: f64) {
        let whole = top_z - self.enclosure.floor_z;
        let bed = b.file.printing.bed.to_mm();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a height over a bed length: small, positive"
        )]
        let count = (whole / bed).ceil().max(1.0) as usize;
        #[expect(clippy::cast_precision_loss, reason = "a small count")]
        let length = whole / count as f64;
        let wall = printed_wall_mm(b);
        for k in 0..count {
            let spec = GuideChannel {
                channel_width_mm: self.slot.through[1] - self.slot.through[0],
                depth_mm: depth,
                length_mm: length,
                wall_mm: wall,
                stop: k == 0,
                lead_in_mm: if k + 1 == count { LEAD_IN_MM } else { 0.0 },
            };
            let fitting = match fittings::guide_channel(&spec, &printer(&b.file.printing)) {
                Ok(fitting) => fitting,
                Err(error) => {
                    let parameter = format!("{}.guide", self.slot.parameter);
                    b.find(
                        Finding::fails("guide-channel", parameter, error.to_string())
                            .with_hint("change `guide_depth`, `clearance` or the nozzle"),
                    );
                    return;
                }
            };
            #[expect(clippy::cast_precision_loss, reason = "a small count")]
            let z = self.enclosure.floor_z + k as f64 * length;
            let id = self.add_channel(b, side, fitting, z, length_part(k, count));
            self.glue(b, id, side, [z, z + length], spec.channel_width_mm + 2.0 * wall);
        }
    }

    fn add_channel(
        &self,
        b: &mut Builder<'_>,
        side: &Host,
        fitting: Fitting,
        z: f64,
        which: &str,
    ) -> DraftId {
        let middle = 0.5 * (self.slot.through[0] + self.slot.through[1]);
        let back = self.slot.place.axis.point(middle, side.plane).extend(z);
        let name = self.name(b, Role::GuideChannel, "guide channel");
        let mut draft = Draft::new(Role::GuideChannel, name, self.slot.parameter, fitting.shape)
            .piece(format!("guide channel {}{which}", self.slot.divider))
            .pose(pose(DVec3::Z.cross(side.inward), DVec3::Z, back))
            .printed(fitting.print.meeting("sheet", self.leaf_mm(b)));
        draft.notes.push(glue_note(b, b.drafts[side.draft].sheet.as_ref()));
        let id = b.add(draft);
        b.touch(JointKind::Slides, self.leaf, id);
        id
    }

    /// Least and greatest thickness of the leaf.
    fn leaf_mm(&self, b: &Builder<'_>) -> [f64; 2] {
        b.sheet(b.drafts[self.leaf].sheet.as_ref()).band_mm
    }

    fn glue(&self, b: &mut Builder<'_>, part: DraftId, side: &Host, z: [f64; 2], width: f64) {
        gluing::to_host(b, JointKind::Butt, part, side, z, width, self.slot.parameter);
    }

    /// Guides of one divider are numbered through.
    fn name(&self, b: &Builder<'_>, role: Role, what: &str) -> String {
        let is_one = |d: &&Draft| d.role == role && d.parameter == self.slot.parameter;
        let n = 1 + b.drafts.iter().filter(is_one).count();
        format!("{what} {} {n}", self.slot.divider)
    }

    fn too_low(&self, b: &mut Builder<'_>, side: &Host, height: f64, least: f64) {
        let message = format!(
            "guides of divider `{}` on {} would be {} high, and their lead-in alone takes {}",
            self.slot.divider,
            b.drafts[side.draft].name,
            b.show(height),
            b.show(least)
        );
        let parameter = format!("{}.guide", self.slot.parameter);
        b.find(
            Finding::fails("guide-too-low", parameter, message)
                .with_limit(height, least, "mm")
                .with_hint("make the leaf or `guide_height` higher, or let it be glued"),
        );
    }
}

/// Which of the lengths of a channel it is, in words.
fn length_part(k: usize, count: usize) -> &'static str {
    match k {
        _ if count == 1 => "",
        0 => " lower part",
        _ if k + 1 == count => " upper part",
        _ => " middle part",
    }
}
