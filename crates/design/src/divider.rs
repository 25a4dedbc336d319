//! Dividers: their leaves one behind the other, the guides of those that lift out, and what each leaf
//! is fixed to.

use findings::Finding;
use glam::{DVec3, dvec2};
use params::{DividerJoint, GuideKind, Item, Mount};
use plate::{Contour, Cut, Face, Shape};

use crate::door::{self, DoorLeaf};
use crate::draft::{Builder, Draft, DraftId};
use crate::enclosure::Enclosure;
use crate::frame::{Axis, Host, pose};
use crate::guide;
use crate::leaf::{self, LeafPlace};
use crate::model::{JointKind, Role, Sheet};
use crate::spaces::{Layout, Pass, PassKind, Space};

/// Width of a guide strip, common practice: enough to glue and to see.
pub(crate) const STRIP_WIDTH_MM: f64 = 15.0;
/// Clear distance between leaves that stand one behind the other, common practice for bubble traps.
const SPACING_MM: f64 = 30.0;
/// Clearance of a lift-out leaf in its channel, in all; common practice is 0.3–0.5 mm for a groove
/// in the same sheet, more where biofilm grows.
const CLEARANCE_MM: f64 = 0.8;

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

/// Wall of printed fittings: six times the nozzle, which prints as whole lines (common practice).
pub(crate) fn printed_wall_mm(b: &Builder<'_>) -> f64 {
    6.0 * b.file.printing.nozzle.to_mm()
}

fn clearance_mm(item: &Item) -> f64 {
    item.clearance.map_or(CLEARANCE_MM, units::Length::to_mm)
}

fn leaf_sheet(b: &Builder<'_>, leaf: &str) -> Sheet {
    b.sheet(b.file.leaf.get(leaf).and_then(|leaf| leaf.sheet.as_ref()))
}

/// Width of the channel of a lift-out leaf: over the thickest of all leaves of its slot.
fn channel_mm(b: &Builder<'_>, item: &Item, leaf: &str) -> f64 {
    let thickest = |name: &String| leaf_sheet(b, name).band_mm[1];
    let all =
        item.slot.iter().flatten().map(thickest).fold(leaf_sheet(b, leaf).band_mm[1], f64::max);
    all + clearance_mm(item)
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
        let slot = Slot { item, parameter, divider: &name, place, through };
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
    }
}

/// The place of one leaf in a divider.
struct Slot<'a> {
    item: &'a Item,
    parameter: &'a str,
    divider: &'a str,
    place: &'a DividerPlace,
    /// The channel, or the leaf's own thickness, along the row.
    through: [f64; 2],
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
        let fixing = if lifts { self.guided(b, leaf) } else { self.glued(b) };
        let draft = self.add_leaf(b, enclosure, leaf, &fixing, Some(layout));
        if lifts {
            for spare in spare_names(self.item) {
                let id = self.add_leaf(b, enclosure, spare, &fixing, None);
                for part in &mut b.drafts[id..] {
                    part.spare_for = Some(draft);
                }
            }
            let top_mm = self.guide_top_mm(b, enclosure);
            guide::build(b, enclosure, &self.guide_place(draft, &fixing, top_mm));
        } else {
            self.glue(b, enclosure, draft, &fixing);
        }
        self.faces(b, draft)
    }

    /// How a glued leaf's ends meet the walls.
    fn glued(&self, b: &mut Builder<'_>) -> Fixing {
        let ends_mm = match self.item.joint.unwrap_or_default() {
            DividerJoint::Butt => [0.0; 2],
            DividerJoint::Dado => self.place.sides.map(|side| -dado_depth_mm(&side)),
        };
        if self.item.guide.is_some() && leaf_names(self.item).iter().all(|name| !lifts_out(b, name))
        {
            b.find(
                Finding::tight(
                    "guide-unused",
                    format!("{}.guide", self.parameter),
                    "a glued leaf needs no guide",
                )
                .with_hint("leave `guide` out, or let the leaf's `mount` be \"lift-out\""),
            );
        }
        Fixing { ends_mm, covers_mm: [0.0; 2], notch_mm: [0.0; 2], guide: None }
    }

    /// How far a lift-out leaf reaches into its guides.
    fn guided(&self, b: &mut Builder<'_>, leaf: &str) -> Fixing {
        let kind = self.item.guide.unwrap_or_default();
        let length = self.place.span[1] - self.place.span[0];
        let play = end_play_mm(length);
        let wall = printed_wall_mm(b);
        let depth = |side: &Host| match (kind, self.item.guide_depth) {
            (GuideKind::Strips, _) => b.sheet(None).thickness_mm(),
            (_, Some(depth)) => depth.to_mm(),
            (GuideKind::Printed, None) => 12.0,
            (GuideKind::Groove, None) => dado_depth_mm(side),
        };
        let depths = [depth(&self.place.sides[0]), depth(&self.place.sides[1])];
        let fixing = match kind {
            GuideKind::Strips => Fixing {
                ends_mm: [play; 2],
                covers_mm: depths,
                notch_mm: [0.0; 2],
                guide: Some((kind, depths)),
            },
            GuideKind::Groove => Fixing {
                ends_mm: depths.map(|d| play - d),
                covers_mm: [0.0; 2],
                notch_mm: [0.0; 2],
                guide: Some((kind, depths)),
            },
            GuideKind::Printed => Fixing {
                ends_mm: [wall + play; 2],
                covers_mm: depths.map(|d| wall + d),
                // The stop at the channel's lower end would lift the leaf: its corner makes way.
                notch_mm: [depths[0] - play + 1.0, wall + 1.0],
                guide: Some((kind, depths)),
            },
        };
        let held = depths[0].min(depths[1]) - 2.0 * play;
        if held < LEAST_HOLD_MM {
            let depth = depths[0].min(depths[1]);
            let holds = if held > 0.0 {
                format!("holds it by {held:.1} mm")
            } else {
                "does not hold it".to_owned()
            };
            let message = format!(
                "leaf `{leaf}` could slip out: a guide {depth:.1} mm deep {holds} when it has moved {:.1} mm to the other side",
                2.0 * play
            );
            b.find(
                Finding::fails("guide-too-shallow", format!("{}.guide", self.parameter), message)
                    .with_limit(held, LEAST_HOLD_MM, "mm")
                    .with_source("common practice")
                    .with_hint(
                        "take deeper guides (`guide_depth`, or \"printed\"), or thicker sheet",
                    ),
            );
        }
        for (side, depth) in self.place.sides.iter().zip(depths) {
            if kind == GuideKind::Groove && depth > 0.5 * side.band_mm[0] {
                let message = format!(
                    "a groove {depth:.1} mm deep leaves {:.1} mm of a wall {:.1} mm thick",
                    side.band_mm[0] - depth,
                    side.band_mm[0]
                );
                b.find(
                    Finding::fails(
                        "groove-too-deep",
                        format!("{}.guide_depth", self.parameter),
                        message,
                    )
                    .with_limit(side.band_mm[0] - depth, 0.5 * side.band_mm[0], "mm")
                    .with_source("common practice: at most half the sheet")
                    .with_hint("make `guide_depth` smaller or the wall thicker"),
                );
            }
        }
        fixing
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

    /// Adds a leaf with its door; with `layout`, also the ways that it leaves for water.
    fn add_leaf(
        &self,
        b: &mut Builder<'_>,
        enclosure: &Enclosure,
        leaf: &str,
        fixing: &Fixing,
        layout: Option<&mut Layout>,
    ) -> DraftId {
        let place = self.leaf_place(b, enclosure, leaf, fixing);
        let sheet = leaf_sheet(b, leaf);
        let spec = b
            .file
            .leaf
            .get(leaf)
            .expect("names of leaves were checked when the file was read")
            .clone();
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
        if lifts_out(b, leaf) {
            draft = draft.lifts(LEAF_LIFT_MM);
        }
        draft.is_spare = layout.is_none();
        let id = b.add(draft);
        if let Some(door) = &spec.door {
            let lower_edge_mm = spec.underflow.map_or(0.0, units::Length::to_mm);
            let leaf =
                DoorLeaf { draft: id, name: leaf, sheet: &sheet, place: &place, lower_edge_mm };
            door::build(b, &leaf, door);
        }
        if let Some(layout) = layout {
            let lifts_out = lifts_out(b, leaf);
            let passes = shape.passes.into_iter().map(|p| Pass {
                kind: p.kind,
                leaf: leaf.to_owned(),
                lifts_out,
                axis: self.place.axis,
                through: self.through,
                across: p.across_mm.map(|u| self.place.span[0] + u),
                sill_mm: p.sill_mm,
            });
            layout.passes.extend(passes);
            layout
                .passes
                .extend(spec.door.as_ref().map(|spec| self.door_pass(leaf, spec, lifts_out)));
        }
        id
    }

    /// Water runs over the door's upper edge, between the sides of its opening.
    fn door_pass(&self, leaf: &str, spec: &params::Door, lifts_out: bool) -> Pass {
        let near = self.place.span[0];
        let [lo, hi] = door::opening(spec, self.place.span[1] - near);
        Pass {
            kind: PassKind::Door,
            leaf: leaf.to_owned(),
            lifts_out,
            axis: self.place.axis,
            through: self.through,
            across: [near + lo.x, near + hi.x],
            sill_mm: door::set_mm(spec),
        }
    }

    fn glue(&self, b: &mut Builder<'_>, enclosure: &Enclosure, leaf: DraftId, fixing: &Fixing) {
        let t = b.sheet(b.drafts[leaf].sheet.clone().as_ref()).thickness_mm();
        let Shape::Sheet(plate) = &b.drafts[leaf].shape else { return };
        let Some([lo, hi]) = plate.outline.bounds() else { return };
        let length = self.place.span[1] - self.place.span[0];
        let height = hi.y - lo.y;
        if lo.y <= 0.0 {
            b.glue(
                JointKind::Butt,
                (leaf, "lower edge"),
                (enclosure.bottom, "upper face"),
                length,
                t,
            );
        }
        for (i, side) in self.place.sides.into_iter().enumerate() {
            let depth = -fixing.ends_mm[i];
            if depth > 0.0 {
                self.cut_dado(b, enclosure, &side, depth, [lo.y, hi.y], leaf);
                b.glue(
                    JointKind::Dado,
                    (leaf, "end"),
                    (side.draft, "groove"),
                    height,
                    t + 2.0 * depth,
                );
            } else {
                b.glue(JointKind::Butt, (leaf, "end"), (side.draft, "face"), height, t);
            }
        }
    }

    /// The groove for a glued leaf: as wide as its thickest sheet, its upper end round beyond the leaf.
    fn cut_dado(
        &self,
        b: &mut Builder<'_>,
        enclosure: &Enclosure,
        side: &Host,
        depth: f64,
        heights: [f64; 2],
        leaf: DraftId,
    ) {
        let sheet = b.sheet(b.drafts[leaf].sheet.clone().as_ref());
        let width = sheet.band_mm[1].max(sheet.thickness_mm());
        let middle = 0.5 * (self.through[0] + self.through[1]);
        let at =
            |height: f64| side.local(self.point(middle, side.plane, enclosure.floor_z + height));
        let down = if heights[0] > 0.0 { at(heights[0] - 0.5 * width) } else { at(-BELOW_MM) };
        let up = at(heights[1] + 0.5 * width);
        b.cut(
            side,
            Cut::pocket(upright_groove(down, up, width, heights[0] <= 0.0), side.face(), depth),
        );
    }

    /// A point of the sump from its places along the row, across it and upwards.
    fn point(&self, along: f64, across: f64, z: f64) -> DVec3 {
        self.place.axis.point(along, across).extend(z)
    }

    /// Guides reach to the highest crest of the slot, or to the walls' upper edge.
    fn guide_top_mm(&self, b: &Builder<'_>, enclosure: &Enclosure) -> f64 {
        let names = leaf_names(self.item).into_iter().chain(self.item.slot.iter().flatten());
        let crest =
            |name: &String| b.file.leaf.get(name).map_or(0.0, |leaf| leaf.crest.height.to_mm());
        names.map(crest).fold(0.0, f64::max).min(enclosure.inside_height_mm())
    }

    fn guide_place<'p>(
        &'p self,
        leaf: DraftId,
        fixing: &Fixing,
        top_mm: f64,
    ) -> guide::GuidePlace<'p> {
        let (kind, depths_mm) = fixing.guide.unwrap_or((GuideKind::Strips, [0.0; 2]));
        guide::GuidePlace {
            kind,
            depths_mm,
            top_mm,
            leaf,
            divider: self.divider,
            parameter: self.parameter,
            axis: self.place.axis,
            through: self.through,
            sides: self.place.sides,
        }
    }

    /// Upstream and downstream face of the leaf.
    fn faces(&self, b: &Builder<'_>, leaf: DraftId) -> [Host; 2] {
        let draft = &b.drafts[leaf];
        let sheet = b.sheet(draft.sheet.as_ref());
        let axis = self.place.axis.unit();
        let face = |inward: DVec3, plane: f64| Host {
            draft: leaf,
            inward,
            plane,
            pose: draft.pose,
            band_mm: sheet.band_mm,
        };
        [face(-axis, self.through[0]), face(axis, self.through[1])]
    }
}

/// How a leaf's ends are held.
pub(crate) struct Fixing {
    /// From the wall's face to the leaf's end, inwards, mm; negative in a groove.
    pub(crate) ends_mm: [f64; 2],
    /// How far guides cover the leaf from the wall's face, mm.
    pub(crate) covers_mm: [f64; 2],
    /// Width and height of a notch in the leaf's lower corners, mm; 0 for none.
    pub(crate) notch_mm: [f64; 2],
    /// Kind and depths of its guides.
    guide: Option<(GuideKind, [f64; 2])>,
}

/// A guide must hold the leaf by this much in its worst place, common practice.
const LEAST_HOLD_MM: f64 = 1.0;
/// How far a lift-out leaf is drawn above its place.
const LEAF_LIFT_MM: f64 = 260.0;
/// Grooves run out below the wall's edge, so that the cutter leaves no rib.
const BELOW_MM: f64 = 30.0;

/// 40 % of the thinnest wall: less than half over the whole thickness band.
fn dado_depth_mm(side: &Host) -> f64 {
    (4.0 * side.band_mm[0]).floor() / 10.0
}

/// End play of a sliding leaf, each side: half of what the leaf grows by warmth and water, and the cut's
/// own error, rounded up to 0.1 mm.
///
/// Growth 10 K · 70e-6/K + 0.3 % humidity swelling of acrylic (makers' expansion data), cut ±0.2 mm
/// (common practice for routers and lasers).
fn end_play_mm(length_mm: f64) -> f64 {
    let grows = 0.5 * length_mm * (10.0 * 70e-6 + 0.003);
    ((grows + 0.2) * 10.0).ceil() / 10.0
}

/// A groove between two points one above the other, with a round upper end and a round or open lower end.
fn upright_groove(down: glam::DVec2, up: glam::DVec2, width: f64, open_below: bool) -> Contour {
    if open_below {
        let r = 0.5 * width;
        let [lo, hi] = [dvec2(down.x - r, down.y), dvec2(down.x + r, up.y)];
        return Contour::rounded_polygon(&[
            (lo, 0.0),
            (dvec2(hi.x, lo.y), 0.0),
            (hi, r),
            (dvec2(lo.x, hi.y), r),
        ]);
    }
    Contour::slot(down, up, 0.5 * width)
}

/// The pose of a leaf: its own x along the divider from the near side, y upwards from the bottom.
fn leaf_pose(axis: Axis, through: [f64; 2], near: f64, floor_z: f64) -> glam::DAffine3 {
    match axis {
        Axis::X => pose(DVec3::Y, DVec3::Z, DVec3::new(through[0], near, floor_z)),
        Axis::Y => pose(DVec3::X, DVec3::Z, DVec3::new(near, through[1], floor_z)),
    }
}
