//! Where a fitting goes: on a face, on an upper edge, on the bottom, or nowhere.

use findings::Finding;
use glam::{DAffine3, DVec2, DVec3, dvec2, dvec3};
use params::FittingAt;
use plate::{Cut, Face, Plate, Shape};

use super::Wanted;
use super::stand::{self, Held, OnBottom, OnEdge, OnFace, Side, Stand, turned};
use crate::draft::{Builder, Draft, DraftId};
use crate::enclosure::Enclosure;
use crate::frame::{Host, bounds};
use crate::model::{JointKind, Loose};
use crate::printing::printer;
use crate::spaces::Layout;

/// How far what is loose is drawn above its place.
const LIFT_MM: f64 = 90.0;
/// A hair of rounding is within a wall, mm.
const ROUNDING_MM: f64 = 1e-6;

/// A place of a fitting.
pub(super) struct Place {
    pose: DAffine3,
    loose: Option<Loose>,
    part_of: Option<DraftId>,
    /// What it is on, and how.
    on: DraftId,
    kind: JointKind,
    /// For what is glued: the side, and where it looks.
    glued: Option<(Side, DVec3)>,
    /// For what stacks: by how much the next one stands higher, mm.
    step_mm: Option<f64>,
}

impl Place {
    /// The place on top of one that stands here.
    pub(super) fn on_top(self, id: DraftId) -> Option<Self> {
        let up = DAffine3::from_translation(DVec3::Z * self.step_mm?);
        Some(Self { pose: up * self.pose, on: id, ..self })
    }

    /// Puts the fitting there.
    pub(super) fn add(&self, b: &mut Builder<'_>, draft: Draft) -> DraftId {
        let mut draft = draft.pose(self.pose);
        (draft.loose, draft.part_of) = (self.loose, self.part_of);
        let contact = self.glued.map(|(side, out)| (contact_mm(&draft.shape, side), out));
        let id = b.add(draft);
        match contact {
            Some(([length, width], out)) => b.glue(self.kind, (id, self.on), out, length, width),
            None => b.touch(self.kind, id, self.on),
        }
        id
    }
}

/// Length and width of what a side of a fitting touches of a face, mm.
fn contact_mm(shape: &Shape, by: Side) -> [f64; 2] {
    let [lo, hi] = shape.bounds();
    let size = hi - lo;
    let sides = match (shape, by) {
        (_, Side::Bed | Side::Top) | (Shape::Turned(_), _) => [size.x, size.y],
        (Shape::Sheet(plate), _) => {
            // Straight pieces of the outline that lie on that side.
            let out = by.out().truncate();
            let far = (lo.truncate() * out).max(hi.truncate() * out).element_sum();
            let lies = |p: DVec2| (p.dot(out) - far).abs() < ROUNDING_MM;
            let lines = plate.outline.0.iter().filter(|s| s.arc.is_none());
            let on_it = lines.filter(|s| lies(s.start) && lies(s.end));
            [on_it.map(|s| s.start.distance(s.end)).sum(), size.z]
        }
    };
    [sides[0].max(sides[1]), sides[0].min(sides[1])]
}

/// The place that the file gives a fitting; `None` for what is only made, and with a finding for what cannot stand
/// there.
pub(super) fn of(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    layout: &Layout,
    wanted: &Wanted<'_>,
) -> Option<Place> {
    let spec = wanted.spec;
    if spec.loose {
        return None;
    }
    let is_set = |name: &str| wanted.known.iter().any(|k| k.measure.name == name && k.value > 0.5);
    let stand = match wanted.kind.is_jig {
        true => Stand::default(),
        false => stand::of(wanted.kind.name, is_set),
    };
    let asked = Asked { enclosure, wanted, stand };
    match (spec.at?, spec.wall.or(spec.rim), spec.leaf.as_deref(), spec.chamber.as_deref()) {
        (FittingAt::Along(at), Some(wall), ..) => {
            let host = enclosure.wall(wall);
            let key = if spec.wall.is_some() { "wall" } else { "rim" };
            asked.on_sheet(b, &host, at.to_mm(), key)
        }
        (FittingAt::Along(at), _, Some(leaf), Some(chamber)) => {
            let host = asked.leaf(b, layout, leaf, chamber)?;
            asked.on_sheet(b, &host, at.to_mm(), "leaf")
        }
        (FittingAt::Spot(at), _, None, Some(chamber)) => {
            let corner = layout.chamber(chamber)?.min;
            let Some(stands) = asked.stand.on_bottom else { return asked.cannot(b, "chamber") };
            let middle = corner + DVec2::from(at.map(units::Length::to_mm));
            Some(asked.on_bottom(b, middle, stands))
        }
        _ => None,
    }
}

struct Asked<'a> {
    enclosure: &'a Enclosure,
    wanted: &'a Wanted<'a>,
    stand: Stand,
}

impl Asked<'_> {
    /// Says that it is made, but not put into its place.
    fn cannot(&self, b: &mut Builder<'_>, key: &str) -> Option<Place> {
        let kind = self.wanted.kind.name;
        let message = if self.wanted.kind.is_jig {
            format!(
                "a `{kind}` is a tool for the workshop and has no place in the sump: it is made, but not shown there"
            )
        } else {
            format!(
                "how a `{kind}` is held in such a place is not known: it is made, but not shown there"
            )
        };
        let can: Vec<&str> = [
            (self.stand.on_face.is_some(), "`wall` with `height`, `leaf` with `height`"),
            (self.stand.on_edge.is_some(), "`rim`, `leaf` without `height`"),
            (self.stand.on_bottom.is_some(), "`chamber` with `at = [x, y]`"),
        ]
        .into_iter()
        .filter_map(|(can, key)| can.then_some(key))
        .collect();
        let hint = if can.is_empty() {
            "write `loose = true` in place of where it goes".to_owned()
        } else {
            format!("its place can be {}, or `loose = true`", can.join(", "))
        };
        self.not_placed(b, key, message, hint);
        None
    }

    fn not_placed(&self, b: &mut Builder<'_>, key: &str, message: String, hint: impl Into<String>) {
        let parameter = format!("{}.{key}", self.wanted.parameter);
        b.find(Finding::tight("fitting-not-placed", parameter, message).with_hint(hint));
    }

    /// The face of a leaf that bounds a chamber.
    fn leaf(
        &self,
        b: &mut Builder<'_>,
        layout: &Layout,
        leaf: &str,
        chamber: &str,
    ) -> Option<Host> {
        let space = layout.chamber(chamber)?;
        let hosts = space.x_hosts.iter().chain(&space.y_hosts);
        let parameter = format!("leaf.{leaf}");
        let host = hosts.copied().find(|host| b.drafts[host.draft].parameter == parameter);
        if host.is_none() {
            let message = format!(
                "leaf `{leaf}` does not stand at chamber `{chamber}`: this `{}` is made, but not shown there",
                self.wanted.kind.name
            );
            let hint = "name a chamber beside the leaf; a leaf that is not in carries nothing";
            self.not_placed(b, "leaf", message, hint);
        }
        host
    }

    /// On the face or the upper edge of a wall or leaf.
    fn on_sheet(&self, b: &mut Builder<'_>, host: &Host, at: f64, key: &str) -> Option<Place> {
        let [inside, _] = self.enclosure.inside;
        let spot = match host.inward.x.abs() < 0.5 {
            true => dvec2(inside.x + at, host.plane),
            false => dvec2(host.plane, inside.y + at),
        };
        let place = match self.wanted.spec.height.filter(|_| key != "rim") {
            Some(height) => {
                let Some(stands) = self.stand.on_face else { return self.cannot(b, key) };
                let spot = spot.extend(self.enclosure.floor_z + height.to_mm());
                let place = self.on_face(host, spot, stands);
                self.is_on_sheet(b, host, &place.pose, true)?;
                place
            }
            None => {
                let Some(stands) = self.stand.on_edge else { return self.cannot(b, key) };
                if key == "rim" && self.enclosure.rim.is_some() {
                    let kind = self.wanted.kind.name;
                    let message = format!(
                        "a `{kind}` sits on an upper edge, and here the rim lies on those of the walls: it is made, but not shown there"
                    );
                    let hint =
                        "put it on a leaf with `leaf` and `chamber`, or write `loose = true`";
                    self.not_placed(b, key, message, hint);
                    return None;
                }
                let place = self.on_edge(b, host, spot, stands)?;
                self.is_on_sheet(b, host, &place.pose, false)?;
                place
            }
        };
        Some(self.moving_with(b, host, place))
    }

    /// What is fixed to a leaf that lifts out goes with it.
    fn moving_with(&self, b: &Builder<'_>, host: &Host, place: Place) -> Place {
        if !host.lifts_out || place.loose.is_some() {
            return place;
        }
        Place { loose: b.drafts[host.draft].loose, part_of: Some(host.draft), ..place }
    }

    /// On a face: glued, or pressed into an opening of it.
    fn on_face(&self, host: &Host, spot: DVec3, stands: OnFace) -> Place {
        let shape = &self.wanted.fitting.shape;
        let pose = turned([stands.by, stands.up], [-host.inward, DVec3::Z]);
        let [lo, hi] = bounds(shape, &pose);
        // The point of the fitting that comes to the spot.
        let mut own = 0.5 * (lo + hi);
        if let Some(name) = stands.carries_below_top {
            own.z = hi.z - self.measure(name);
        }
        let on_face = match stands.held {
            Held::Glued => DVec3::select(host.inward.cmpgt(DVec3::ZERO), lo, hi),
            Held::Pressed => pose.transform_point3(DVec3::Z * flange_z(shape)),
        };
        own = DVec3::select(host.inward.abs().cmpgt(DVec3::splat(0.5)), on_face, own);
        let is_glued = stands.held == Held::Glued;
        Place {
            pose: DAffine3::from_translation(spot - own) * pose,
            loose: None,
            part_of: None,
            on: host.draft,
            kind: if is_glued { JointKind::Stuck } else { JointKind::Clamped },
            glued: is_glued.then_some((stands.by, -host.inward)),
            step_mm: None,
        }
    }

    /// Hung on an upper edge.
    fn on_edge(&self, b: &Builder<'_>, host: &Host, spot: DVec2, stands: OnEdge) -> Option<Place> {
        let shape = &self.wanted.fitting.shape;
        let [lo, hi] = shape.bounds();
        let middle = 0.5 * (lo + hi);
        let gap = self.measure("sheet") + 2.0 * printer(&b.file.printing).clearance_mm;
        let (sides, own) = match stands {
            OnEdge::Hook => ([Side::Crown, Side::Right], dvec3(0.5 * gap, 0.0, middle.z)),
            OnEdge::Cap => {
                let groove = first_pocket(shape)?;
                let [near, far] = groove.contour.bounds()?;
                let y = 0.5 * (near.y + far.y);
                ([Side::Bed, Side::Crown], dvec3(middle.x, y, hi.z - groove.depth))
            }
        };
        let pose = turned(sides, [DVec3::Z, host.inward]);
        let Shape::Sheet(sheet) = &b.drafts[host.draft].shape else { return None };
        let edge = spot.extend(host.z[1]) - 0.5 * sheet.thickness * host.inward;
        Some(Place {
            pose: DAffine3::from_translation(edge - pose.transform_point3(own)) * pose,
            loose: Some(Loose { lift_mm: LIFT_MM }),
            part_of: None,
            on: host.draft,
            kind: JointKind::Rests,
            glued: None,
            step_mm: None,
        })
    }

    /// A measure that the kind has by the table of stands.
    fn measure(&self, name: &str) -> f64 {
        let known = self.wanted.known.iter().find(|known| known.measure.name == name);
        known.map_or(0.0, |known| known.value)
    }

    /// Whether it lies on the sheet from end to end, and on its face from bottom to top; else a finding.
    fn is_on_sheet(
        &self,
        b: &mut Builder<'_>,
        host: &Host,
        pose: &DAffine3,
        is_on_face: bool,
    ) -> Option<()> {
        let [lo, hi] = bounds(&self.wanted.fitting.shape, pose);
        let [inner_lo, inner_hi] = self.enclosure.inside;
        let (along, inner, ends) = if host.inward.x.abs() < 0.5 {
            ([lo.x, hi.x], [inner_lo.x, inner_hi.x], ["inlet end", "far end"])
        } else {
            ([lo.y, hi.y], [inner_lo.y, inner_hi.y], ["front", "back"])
        };
        let z = if is_on_face { host.z } else { [f64::NEG_INFINITY, f64::INFINITY] };
        let name = b.drafts[host.draft].name.clone();
        for (out, edge, key) in [
            (z[0].max(self.enclosure.floor_z) - lo.z, format!("below {name}"), "height"),
            (hi.z - z[1], format!("above {name}"), "height"),
            (inner[0] - along[0], format!("beyond the {}", ends[0]), "at"),
            (along[1] - inner[1], format!("beyond the {}", ends[1]), "at"),
        ] {
            if out <= ROUNDING_MM {
                continue;
            }
            let kind = self.wanted.kind.name;
            let message = format!("this `{kind}` would reach {} {edge}", b.show(out));
            let parameter = format!("{}.{key}", self.wanted.parameter);
            b.find(
                Finding::fails("fitting-off-sheet", parameter, message)
                    .with_limit(-out, 0.0, "mm")
                    .with_hint(format!("move it with `{key}`")),
            );
            return None;
        }
        Some(())
    }

    /// On the bottom, its middle at a spot.
    fn on_bottom(&self, b: &Builder<'_>, middle: DVec2, stands: OnBottom) -> Place {
        let aside = if stands.by == Side::Bed { Side::Crown } else { Side::Top };
        let pose = turned([stands.by, aside], [DVec3::NEG_Z, DVec3::Y]);
        let [lo, hi] = bounds(&self.wanted.fitting.shape, &pose);
        let own = (0.5 * (lo + hi)).with_z(lo.z);
        let spot = middle.extend(self.enclosure.floor_z);
        Place {
            pose: DAffine3::from_translation(spot - own) * pose,
            loose: (!stands.is_glued).then_some(Loose { lift_mm: LIFT_MM }),
            part_of: None,
            on: self.enclosure.bottom,
            kind: if stands.is_glued { JointKind::Stuck } else { JointKind::Rests },
            glued: stands.is_glued.then_some((stands.by, DVec3::NEG_Z)),
            step_mm: stands
                .stacks_by
                .map(|name| printer(&b.file.printing).height_mm(self.measure(name))),
        }
    }
}

/// The first pocket from the face that lay up in printing.
fn first_pocket(shape: &Shape) -> Option<&Cut> {
    let Shape::Sheet(plate) = shape else { return None };
    let is_pocket = |plate: &Plate, cut: &Cut| cut.face == Face::Top && cut.depth < plate.thickness;
    plate.cuts.iter().find(|cut| is_pocket(plate, cut))
}

/// Height of the face of its flange that lies on the sheet, in its own frame.
fn flange_z(shape: &Shape) -> f64 {
    match shape {
        Shape::Sheet(plate) => plate.thickness - first_pocket(shape).map_or(0.0, |cut| cut.depth),
        Shape::Turned(turned) => {
            let (radius, _) = turned.extent();
            let rim = turned.profile.iter().filter(|p| p.x > radius - ROUNDING_MM).map(|p| p.y);
            rim.fold(0.0, f64::max)
        }
    }
}
