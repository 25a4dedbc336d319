//! Doors over their openings and on their screws.

use design::{Design, JointKind, PlacedId, Role};
use glam::{DVec2, DVec3};
use params::{Door, File, GuideKind};
use plate::{Cut, Shape};

use super::channel::{Channel, LeafBox, channels, partners};
use super::parts::{Causes, one_cause};
use super::round::{hole_radius_mm, turned, widest_above};
use super::{Part, Stack, StackCode, Subject};

pub(super) fn stacks(causes: &Causes<'_>) -> Vec<Stack> {
    let design = causes.design;
    let is_door =
        |placed: &PlacedId| design.pieces[design.placed[*placed].piece].role == Role::Door;
    let doors = (0..design.placed.len()).filter(is_door);
    doors.filter_map(|door| Measured::of(causes, door)).flat_map(|door| door.stacks()).collect()
}

/// What the file says of a placed door.
pub(crate) fn spec<'a>(file: &'a File, design: &Design, door: PlacedId) -> Option<&'a Door> {
    file.leaf.get(design.placed[door].leaf.as_ref()?)?.door.as_ref()
}

/// A door with its leaf, measured in the leaf's frame.
struct Measured<'a> {
    causes: &'a Causes<'a>,
    id: PlacedId,
    leaf: PlacedId,
    name: &'a str,
    parameter: &'a str,
    /// How far the file lets it be raised from where it is set, mm.
    raise_mm: f64,
    /// Least and greatest corner of the door as it is set.
    door: [DVec2; 2],
    opening: [DVec2; 2],
    /// Play of a screw in its hole of the leaf and in its slot of the door, on the diameter, mm.
    play_mm: [f64; 2],
}

impl<'a> Measured<'a> {
    fn of(causes: &'a Causes<'a>, door: PlacedId) -> Option<Self> {
        let design = causes.design;
        let placed = &design.placed[door];
        let is_leaf =
            |other: &PlacedId| design.pieces[design.placed[*other].piece].role == Role::Leaf;
        let leaf = partners(design, door, JointKind::Clamped).find(is_leaf)?;
        let spec = spec(causes.file, design, door)?;
        let frame = design.placed[leaf].pose.inverse() * placed.pose;
        let [lo, hi] = crate::place::bounds(&design.pieces[placed.piece].shape, &frame);
        let door_mm = [lo.truncate(), hi.truncate()];
        let within =
            DVec2::new(0.5 * (lo.x + hi.x), spec.bottom.to_mm() + 0.5 * spec.height.to_mm());
        let Shape::Sheet(plate) = &design.pieces[design.placed[leaf].piece].shape else {
            return None;
        };
        let opens = |cut: &&Cut| !cut.depth.is_finite() && cut.contour.winding(within) != 0;
        let opening = plate.cuts.iter().find(opens)?.contour.bounds()?;
        Some(Self {
            causes,
            id: door,
            leaf,
            name: &placed.name,
            parameter: &placed.parameter,
            raise_mm: spec.highest.to_mm() - hi.y,
            door: door_mm,
            opening,
            play_mm: play_mm(causes, door, leaf)?,
        })
    }

    fn stacks(&self) -> Vec<Stack> {
        let mut stacks = vec![self.covers_sides(), self.covers_below(), self.slides()];
        stacks.extend(self.clears());
        stacks
    }

    fn subject(&self, code: StackCode, words: &str) -> Subject {
        Subject {
            code,
            words: format!("{} {words}", self.name),
            parameter: self.parameter.to_owned(),
        }
    }

    /// What door, opening and screws add to a lap.
    fn lap_parts(&self) -> Vec<Part> {
        let causes = self.causes;
        vec![
            causes.cut(self.id, "edge of the door"),
            causes.cut(self.leaf, "edge of the opening"),
            causes.cut(self.leaf, "holes of the screws"),
            causes.cut(self.id, "slots of the screws"),
        ]
    }

    fn covers_sides(&self) -> Stack {
        let lap = (self.opening[0].x - self.door[0].x).min(self.door[1].x - self.opening[1].x);
        let play = 0.5 * (self.play_mm[0] + self.play_mm[1]);
        let mut parts = self.lap_parts();
        parts.push(one_cause("play of the screws", [-play, play]));
        let subject = self.subject(StackCode::DoorCovers, "over the sides of its opening");
        Stack::new(subject, lap, [Some(0.0), None], parts)
    }

    fn covers_below(&self) -> Stack {
        let lap = self.opening[0].y - (self.door[0].y + self.raise_mm);
        let play = 0.5 * (self.play_mm[0] + self.play_mm[1]);
        let mut parts = self.lap_parts();
        parts.push(one_cause("play of the screws", [-play, play]));
        let words = "over the lower edge of its opening, set as high as it goes";
        Stack::new(self.subject(StackCode::DoorCovers, words), lap, [Some(0.0), None], parts)
    }

    /// Two rows of screws through holes of the leaf and slots of the door: what their distances differ by takes from the
    /// play.
    fn slides(&self) -> Stack {
        let takes =
            |part: PlacedId, words: &str| one_cause(words, [-self.causes.cut_mm(part), 0.0]);
        let parts = vec![
            takes(self.leaf, "distance of the holes"),
            takes(self.id, "distance of the slots"),
            self.causes.cut(self.id, "width of the slots"),
        ];
        let subject = self.subject(StackCode::DoorSlides, "on its screws");
        Stack::new(subject, self.play_mm[0] + self.play_mm[1], [Some(0.0), None], parts)
    }
}

impl Measured<'_> {
    /// Beside the guides of a loose leaf, which may stand at either end of its play.
    fn clears(&self) -> Option<Stack> {
        let (causes, design) = (self.causes, self.causes.design);
        let ends = channels(design, self.leaf)?;
        let leaf = LeafBox::of(design, &design.placed[self.leaf]);
        let [lo, hi] = crate::place::bounds_of(design, self.id).map(|corner| corner[leaf.along]);
        // A groove does not stand out of its wall: there the wall itself is in the way.
        let [first, last] = &ends;
        let nominal =
            (lo - first.bottom_mm - first.depth_mm).min(last.bottom_mm - last.depth_mm - hi);
        let shift = 0.5 * (last.bottom_mm - first.bottom_mm - leaf.length_mm()).max(0.0);
        let play = 0.5 * (self.play_mm[0] + self.play_mm[1]);
        let mut parts = vec![
            causes.cut(self.id, "edge of the door"),
            causes.cut(self.leaf, "holes of the screws"),
            causes.cut(self.id, "slots of the screws"),
            one_cause("play of the screws", [-play, play]),
            one_cause("play of the leaf at its ends", [-shift, shift]),
            causes.glued("place of the guide"),
        ];
        let is_printed = |channel: &Channel| channel.kind == GuideKind::Printed;
        if ends.iter().any(is_printed) {
            parts.push(causes.printed("mouth of the printed channel"));
        }
        let subject = self.subject(StackCode::DoorClear, "beside the guides of its leaf");
        Some(Stack::new(subject, nominal, [Some(0.0), None], parts))
    }
}

/// Play of the screws in the holes of the leaf and in the slots of the door, on the diameter.
fn play_mm(causes: &Causes<'_>, door: PlacedId, leaf: PlacedId) -> Option<[f64; 2]> {
    let design = causes.design;
    let is_screw =
        |other: &PlacedId| design.pieces[design.placed[*other].piece].role == Role::Screw;
    let screw = partners(design, leaf, JointKind::Clamped).find(is_screw)?;
    let placed = &design.placed[screw];
    // Its head lies below the face that its own frame begins at.
    let shank = widest_above(turned(design, placed)?, 0.0)?;
    let hole = hole_radius_mm(design, leaf, placed.pose.transform_point3(DVec3::ZERO))?;
    let Shape::Sheet(plate) = &design.pieces[design.placed[door].piece].shape else { return None };
    let widths = plate.cuts.iter().filter_map(|cut| cut.contour.bounds());
    let slot = widths.map(|[lo, hi]| hi.x - lo.x).reduce(f64::min)?;
    Some([2.0 * (hole - shank), slot - 2.0 * shank])
}
