//! Dividers: their leaves one behind the other, the guides of those that lift out, and what each leaf
//! is fixed to.

use findings::Finding;
use glam::DVec3;
use params::{GuideKind, Item, Mount};
use plate::{Face, Shape};

use crate::door::{self, DoorLeaf};
use crate::draft::{Builder, Draft, DraftId};
use crate::enclosure::Enclosure;
use crate::fixing::Fixing;
use crate::frame::{Axis, Host, bounds, pose};
use crate::leaf::{self, LeafPass, LeafPlace};
use crate::model::{Role, Sheet};
use crate::removables::LeafSlot;
use crate::spaces::{Layout, Pass, Space};
use crate::tolerance::written_up;
use crate::waterworks::{WayKind, WayShape};
use crate::{gluing, guide};

/// Clear distance between leaves that stand one behind the other, common practice for bubble traps.
const SPACING_MM: f64 = 30.0;
/// Clearance of a lift-out leaf in its channel, in all; common practice is 0.3–0.5 mm for a groove
/// in the same sheet, more where biofilm grows.
const CLEARANCE_MM: f64 = 0.8;
/// A hair of rounding makes no clearance too small, mm.
const ROUNDING_MM: f64 = 1e-6;
/// How far a lift-out leaf is drawn above its place.
const LEAF_LIFT_MM: f64 = 260.0;

/// Where a divider stands.
#[derive(Clone, Copy)]
pub(crate) struct DividerPlace {
    pub(crate) axis: Axis,
    pub(crate) through: [f64; 2],
    pub(crate) span: [f64; 2],
    pub(crate) sides: [Host; 2],
}

/// Names of the leaves that stand one behind the other: the first of a slot, all of `leaves`.
pub(crate) fn leaf_names(item: &Item) -> Vec<&String> {
    match (&item.leaf, &item.leaves, &item.slot) {
        (Some(leaf), _, _) => vec![leaf],
        (_, Some(leaves), _) => leaves.iter().collect(),
        (_, _, Some(slot)) => slot.iter().take(1).collect(),
        _ => Vec::new(),
    }
}

/// Leaves that can take the place of the one in the slot.
fn spare_names(item: &Item) -> impl Iterator<Item = &String> {
    item.slot.iter().flatten().skip(1)
}

pub(crate) fn lifts_out(b: &Builder<'_>, leaf: &str) -> bool {
    b.file.leaf.get(leaf).is_some_and(|leaf| leaf.mount == Mount::LiftOut)
}

pub(crate) fn leaf_sheet(b: &Builder<'_>, leaf: &str) -> Sheet {
    b.sheet(b.file.leaf.get(leaf).and_then(|leaf| leaf.sheet.as_ref()))
}

/// Width of the channel of a lift-out leaf: over the thickest of all leaves of its slot.
fn channel_mm(b: &Builder<'_>, item: &Item, leaf: &str) -> f64 {
    let thickest = |name: &String| leaf_sheet(b, name).band_mm[1];
    let all =
        item.slot.iter().flatten().map(thickest).fold(leaf_sheet(b, leaf).band_mm[1], f64::max);
    all + clearance_mm(b, item)
}

/// Clearance of lift-out leaves in the channel of a divider, in all, mm.
fn clearance_mm(b: &Builder<'_>, item: &Item) -> f64 {
    let clearance = || {
        let leaves: Vec<&String> = leaf_names(item).into_iter().chain(spare_names(item)).collect();
        let needed = guide::play::clearance_mm(b, item.guide.unwrap_or_default(), &leaves);
        CLEARANCE_MM.max(needed).max(printed_clearance_mm(b, item))
    };
    item.clearance.map_or_else(clearance, units::Length::to_mm)
}

/// What the printer takes of the clearance of printed channels, as the coupon found it on each side, in all, mm; 0 for others.
fn printed_clearance_mm(b: &Builder<'_>, item: &Item) -> f64 {
    match item.guide.unwrap_or_default() {
        GuideKind::Printed => 2.0 * b.file.printing.clearance.to_mm(),
        GuideKind::Strips | GuideKind::Groove => 0.0,
    }
}

/// A clearance that is written down, but is less than what printer and filament take.
fn check_clearance(b: &mut Builder<'_>, item: &Item, parameter: &str) {
    let Some(written) = item.clearance.map(units::Length::to_mm) else { return };
    let needed = printed_clearance_mm(b, item);
    if written >= needed - ROUNDING_MM {
        return;
    }
    let show = |mm: f64| units::Length::mm(mm).show_fine(b.file.report.system());
    let message = format!(
        "printed channels have a clearance of {} in all, but by `printing.clearance` a face that slides needs {} on each side",
        show(written),
        show(0.5 * needed)
    );
    let hint = format!(
        "write `clearance = {}` or more, or leave it out; print the clearance coupon if `printing.clearance` is only guessed",
        written_up(needed, b.file.report.system())
    );
    b.find(
        Finding::tight("clearance-below-printer", format!("{parameter}.clearance"), message)
            .with_limit(written, needed, "mm")
            .with_source("common practice: the printer's clearance on each side, by a coupon")
            .with_hint(hint),
    );
}

/// That of all dividers between strips, with their names.
pub(crate) fn clearances_mm(b: &Builder<'_>) -> Vec<(f64, String)> {
    let mut all = Vec::new();
    let mut rows: Vec<&[Item]> = vec![&b.file.along];
    while let Some(row) = rows.pop() {
        for item in row {
            rows.extend([item.along.as_slice(), item.across.as_slice()]);
            let Some(name) = &item.divider else { continue };
            let has_strips = item.guide.unwrap_or_default() == GuideKind::Strips;
            if has_strips && leaf_names(item).into_iter().any(|leaf| lifts_out(b, leaf)) {
                all.push((clearance_mm(b, item), name.clone()));
            }
        }
    }
    all
}

/// How much of the row one leaf takes.
fn leaf_extent_mm(b: &Builder<'_>, item: &Item, leaf: &str) -> f64 {
    if lifts_out(b, leaf) { channel_mm(b, item, leaf) } else { leaf_sheet(b, leaf).thickness_mm() }
}

fn spacing_mm(item: &Item) -> f64 {
    item.spacing.map_or(SPACING_MM, units::Length::to_mm)
}

/// How much of the row the divider takes.
pub(crate) fn extent_mm(b: &Builder<'_>, item: &Item) -> f64 {
    let names = leaf_names(item);
    #[expect(clippy::cast_precision_loss, reason = "a divider has few leaves")]
    let gaps = names.len().saturating_sub(1) as f64;
    names.iter().map(|name| leaf_extent_mm(b, item, name)).sum::<f64>() + gaps * spacing_mm(item)
}

/// Builds a divider and returns its upstream and downstream face.
pub(crate) fn build(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    layout: &mut Layout,
    item: &Item,
    parameter: &str,
    place: &DividerPlace,
) -> [Host; 2] {
    let name = item.divider.clone().unwrap_or_default();
    if let Some(side) = place.sides.iter().find(|side| side.lifts_out) {
        let message = format!(
            "divider `{name}` ends at {}, which lifts out: nothing can be fixed to it",
            b.drafts[side.draft].name
        );
        b.find(Finding::fails("fixed-to-lift-out", parameter, message).with_hint(
            "let that leaf be glued, or lay the section out so that its dividers end at walls and glued leaves",
        ));
        // Nothing stands there that could carry anything.
        return place.sides.map(|side| Host { lifts_out: true, ..side });
    }
    if leaf_names(item).into_iter().any(|leaf| lifts_out(b, leaf)) {
        check_clearance(b, item, parameter);
    }
    let mut at = place.through[0];
    let mut faces: Vec<[Host; 2]> = Vec::new();
    for (k, leaf) in leaf_names(item).into_iter().enumerate() {
        if k > 0 {
            let through = [at, at + spacing_mm(item)];
            layout.spaces.push(between_leaves(
                &name,
                parameter,
                k,
                place,
                through,
                faces[k - 1][1],
            ));
            at = through[1];
        }
        let through = [at, at + leaf_extent_mm(b, item, leaf)];
        at = through[1];
        let slot = Slot { item, parameter, divider: &name, place, number: k, through };
        faces.push(slot.build(b, enclosure, layout, leaf));
        if k > 0
            && let Some(space) = layout.spaces.iter_mut().rev().find(|s| !s.is_chamber)
        {
            match place.axis {
                Axis::X => space.x_hosts[1] = faces[k][0],
                Axis::Y => space.y_hosts[1] = faces[k][0],
            }
        }
    }
    match (faces.first(), faces.last()) {
        (Some(first), Some(last)) => [first[0], last[1]],
        _ => place.sides,
    }
}

fn between_leaves(
    divider: &str,
    parameter: &str,
    k: usize,
    place: &DividerPlace,
    through: [f64; 2],
    upstream: Host,
) -> Space {
    let ends = [upstream, upstream];
    let (x_hosts, y_hosts) = match place.axis {
        Axis::X => (ends, place.sides),
        Axis::Y => (place.sides, ends),
    };
    Space {
        name: format!("{divider}, space {k}"),
        parameter: parameter.to_owned(),
        min: place.axis.point(through[0], place.span[0]),
        max: place.axis.point(through[1], place.span[1]),
        is_chamber: false,
        kept_level_mm: None,
        x_hosts,
        y_hosts,
        x_guides_mm: [0.0; 2],
        y_guides_mm: [0.0; 2],
    }
}

/// The place of one leaf in a divider.
pub(crate) struct Slot<'a> {
    pub(crate) item: &'a Item,
    /// Path of the divider's parameter.
    pub(crate) parameter: &'a str,
    /// Name of the divider.
    pub(crate) divider: &'a str,
    pub(crate) place: &'a DividerPlace,
    /// Which leaf of the divider, counted in flow order.
    pub(crate) number: usize,
    /// The channel, or the leaf's own thickness, along the row.
    pub(crate) through: [f64; 2],
}

impl Slot<'_> {
    fn build(
        &self,
        b: &mut Builder<'_>,
        enclosure: &Enclosure,
        layout: &mut Layout,
        leaf: &str,
    ) -> [Host; 2] {
        let lifts = lifts_out(b, leaf);
        let fixing = if lifts { Fixing::guided(b, self, leaf) } else { Fixing::glued(self) };
        let draft = self.add_leaf(b, enclosure, leaf, &fixing, layout, false);
        if lifts {
            let mut leaves = vec![(leaf, draft)];
            for spare in spare_names(self.item) {
                let id = self.add_leaf(b, enclosure, spare, &fixing, layout, true);
                for part in &mut b.drafts[id..] {
                    part.spare_for = Some(draft);
                }
                leaves.push((spare, id));
            }
            guide::build(b, enclosure, self, &leaves, &fixing);
        } else {
            gluing::leaf(b, enclosure, self, draft, &fixing);
        }
        self.faces(b, draft)
    }

    fn leaf_place(
        &self,
        b: &Builder<'_>,
        enclosure: &Enclosure,
        leaf: &str,
        fixing: &Fixing,
    ) -> LeafPlace {
        let t = leaf_sheet(b, leaf).thickness_mm();
        let middle = 0.5 * (self.through[0] + self.through[1]);
        let through =
            if lifts_out(b, leaf) { [middle - 0.5 * t, middle + 0.5 * t] } else { self.through };
        LeafPlace {
            length_mm: self.place.span[1] - self.place.span[0],
            ends_mm: fixing.ends_mm,
            covers_mm: fixing.covers_mm,
            notch_mm: fixing.notch_mm,
            inside_height_mm: enclosure.inside_height_mm(),
            downstream: if self.place.axis == Axis::X { Face::Top } else { Face::Bottom },
            pose: leaf_pose(self.place.axis, through, self.place.span[0], enclosure.floor_z),
        }
    }

    /// Adds a leaf with its door, and to the layout the ways that it leaves for water.
    fn add_leaf(
        &self,
        b: &mut Builder<'_>,
        enclosure: &Enclosure,
        leaf: &str,
        fixing: &Fixing,
        layout: &mut Layout,
        is_spare: bool,
    ) -> DraftId {
        let place = self.leaf_place(b, enclosure, leaf, fixing);
        let sheet = leaf_sheet(b, leaf);
        let spec = b
            .file
            .leaf
            .get(leaf)
            .expect("names of leaves were checked when the file was read")
            .clone();
        let lifts_out = lifts_out(b, leaf);
        let shape = leaf::compose(b, leaf, &spec, &sheet, &place);
        let parameter = format!("leaf.{leaf}");
        let mut draft =
            Draft::new(Role::Leaf, format!("leaf {leaf}"), &parameter, Shape::Sheet(shape.plate))
                .sheet(&sheet)
                .pose(place.pose);
        // The same leaf may be named in several dividers: each is a part of its own.
        if b.drafts.iter().any(|d| d.name == draft.name) {
            draft.name = format!("leaf {leaf}, {}", self.divider);
        }
        if lifts_out {
            draft = draft.lifts(LEAF_LIFT_MM);
        }
        draft.is_spare = is_spare;
        draft.leaf = Some(leaf.to_owned());
        draft.slot = Some(LeafSlot {
            divider: self.divider.to_owned(),
            parameter: self.parameter.to_owned(),
            place: self.number,
        });
        let id = b.add(draft);
        if let Some(door) = &spec.door {
            let lower_edge_mm = spec.underflow.map_or(0.0, units::Length::to_mm);
            let leaf =
                DoorLeaf { draft: id, name: leaf, sheet: &sheet, place: &place, lower_edge_mm };
            door::build(b, &leaf, door);
        }
        let across = |across: [f64; 2]| across.map(|u| self.place.span[0] + u);
        let door = spec.door.as_ref().map(|door| self.door_pass(door));
        let top_mm = spec.crest.height.to_mm();
        let passes = shape.passes.into_iter().chain(door).map(|p| Pass {
            kind: p.kind,
            leaf: leaf.to_owned(),
            lifts_out,
            axis: self.place.axis,
            through: self.through,
            across: across(p.across_mm),
            sill_mm: p.sill_mm,
            shape: p.shape,
            divider: (self.divider.to_owned(), self.parameter.to_owned()),
            place: self.number,
            sheet_mm: sheet.thickness_mm(),
            channel_mm: self.place.span[1] - self.place.span[0],
            top_mm,
        });
        if is_spare {
            layout.spare_passes.extend(passes);
        } else {
            layout.passes.extend(passes);
        }
        id
    }

    /// Water runs over the door's upper edge, between the sides of its opening.
    fn door_pass(&self, spec: &params::Door) -> LeafPass {
        let [lo, hi] = door::opening(spec, self.place.span[1] - self.place.span[0]);
        let set_mm = door::set_mm(spec);
        LeafPass {
            kind: WayKind::Door,
            across_mm: [lo.x, hi.x],
            sill_mm: set_mm,
            shape: WayShape::Door {
                bottom_mm: lo.y,
                top_mm: hi.y,
                width_mm: hi.x - lo.x,
                lowest_mm: spec.lowest.to_mm(),
                set_mm,
                highest_mm: spec.highest.to_mm(),
                leak_gap_mm: spec.leak_gap.to_mm(),
                lap_mm: spec.lap.to_mm(),
            },
        }
    }

    /// Upstream and downstream face of the leaf; of a lift-out leaf, of its channel.
    fn faces(&self, b: &Builder<'_>, leaf: DraftId) -> [Host; 2] {
        let draft = &b.drafts[leaf];
        let sheet = b.sheet(draft.sheet.as_ref());
        let axis = self.place.axis.unit();
        let [lo, hi] = bounds(&draft.shape, &draft.pose);
        let face = |inward: DVec3, plane: f64| Host {
            draft: leaf,
            inward,
            plane,
            pose: draft.pose,
            band_mm: sheet.band_mm,
            z: [lo.z, hi.z],
            lifts_out: draft.loose.is_some(),
        };
        [face(-axis, self.through[0]), face(axis, self.through[1])]
    }
}

/// The pose of a leaf: its own x along the divider from the near side, y upwards from the bottom.
fn leaf_pose(axis: Axis, through: [f64; 2], near: f64, floor_z: f64) -> glam::DAffine3 {
    match axis {
        Axis::X => pose(DVec3::Y, DVec3::Z, DVec3::new(through[0], near, floor_z)),
        Axis::Y => pose(DVec3::X, DVec3::Z, DVec3::new(near, through[1], floor_z)),
    }
}
