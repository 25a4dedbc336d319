//! Where a fitting goes: on a wall or leaf, on the bottom, on a lid, in a sock holder, or nowhere.

mod in_holder;
mod in_opening;
mod on_bottom;
mod on_lid;
mod on_sheet;

use findings::Finding;
use fittings::{Side, Stand};
use glam::{DAffine3, DVec2, DVec3};
use params::FittingAt;
use plate::Shape;

use super::{Wanted, measures, stand};
use crate::draft::{Builder, Draft, DraftId};
use crate::enclosure::Enclosure;
use crate::frame::Host;
use crate::model::{JointKind, Loose};
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
    /// Whether it holds by being bent open: it is drawn as it is printed, its legs closer than the sheet is thick.
    grips: bool,
    /// What its place makes of it, for lists.
    notes: Vec<String>,
}

impl Place {
    /// Resting on a part; the rest is for the place to say.
    fn on(on: DraftId) -> Self {
        Self {
            pose: DAffine3::IDENTITY,
            loose: None,
            part_of: None,
            on,
            kind: JointKind::Rests,
            glued: None,
            step_mm: None,
            grips: false,
            notes: Vec::new(),
        }
    }

    /// The place on top of one that stands here.
    pub(super) fn on_top(self, id: DraftId) -> Option<Self> {
        let up = DAffine3::from_translation(DVec3::Z * self.step_mm?);
        Some(Self { pose: up * self.pose, on: id, ..self })
    }

    /// Puts the fitting there.
    pub(super) fn add(&self, b: &mut Builder<'_>, draft: Draft) -> DraftId {
        let mut draft = draft.pose(self.pose);
        (draft.loose, draft.part_of) = (self.loose, self.part_of);
        draft.grips = self.grips.then_some(self.on);
        draft.notes.extend_from_slice(&self.notes);
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
        (Shape::Turned(turned), Side::Bed | Side::Top) => {
            let z = if by == Side::Bed { lo.z } else { hi.z };
            let at_end = turned.profile.iter().filter(|p| (p.y - z).abs() < ROUNDING_MM);
            [2.0 * at_end.map(|p| p.x).fold(0.0, f64::max); 2]
        }
        (_, Side::Bed | Side::Top) | (Shape::Turned(_), _) => [size.x, size.y],
        (Shape::Sheet(plate), _) => {
            // Straight pieces of the outline that lie on that side.
            let out = stand::out(by).truncate();
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
    let stand = wanted.kind.stand.with(|name| measures::is_made(&wanted.known, name));
    let asked = Asked { enclosure, wanted, stand };
    if let (Some(chamber), Some(sock)) = (&spec.chamber, spec.sock) {
        return asked.in_holder(b, chamber, sock);
    }
    if let (Some(FittingAt::Spot(at)), Some(chamber)) = (spec.at, &spec.lid) {
        return asked.on_lid(b, chamber, DVec2::from(at.map(units::Length::to_mm)));
    }
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
            Some(asked.on_bottom(middle, stands))
        }
        _ => None,
    }
}

struct Asked<'a> {
    enclosure: &'a Enclosure,
    wanted: &'a Wanted<'a>,
    stand: &'static Stand,
}

impl Asked<'_> {
    /// Says that it is made, but not put into its place.
    fn cannot(&self, b: &mut Builder<'_>, key: &str) -> Option<Place> {
        let kind = self.wanted.kind.name;
        let message = if self.wanted.kind.is_jig {
            format!(
                "a `{kind}` is a tool for the workshop and has no place in the sump: it is made, but not shown there"
            )
        } else if let Some(why) = self.stand.nowhere {
            format!("{why}: this `{kind}` is made, but not shown there")
        } else {
            let place = match key {
                "wall" | "leaf" if self.wanted.spec.height.is_some() => "on the face of a sheet",
                "wall" | "rim" | "leaf" => "on an upper edge",
                "sock" => "in a sock holder",
                "lid" => "on a lid",
                _ => "on the bottom",
            };
            format!("a `{kind}` has no hold {place}: it is made, but not shown there")
        };
        let can: Vec<&str> = [
            (self.stand.on_face.is_some(), "`wall` with `height`, `leaf` with `height`"),
            (self.stand.on_edge.is_some(), "`rim`, `leaf` without `height`"),
            (self.stand.on_bottom.is_some(), "`chamber` with `at = [x, y]`"),
            (self.stand.on_lid.is_some(), "`lid` with `at = [x, y]`"),
            (self.stand.in_holder, "`chamber` with `sock`"),
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

    /// A measure that the kind has by how it stands.
    fn measure(&self, name: &str) -> f64 {
        let known = self.wanted.known.iter().find(|known| known.measure.name == name);
        known.map_or(0.0, |known| known.value)
    }
}

/// Height of the face of its flange that lies on the sheet, in its own frame.
fn flange_z(shape: &Shape) -> f64 {
    match shape {
        Shape::Sheet(plate) => {
            plate.thickness - on_sheet::first_pocket(shape).map_or(0.0, |cut| cut.depth)
        }
        Shape::Turned(turned) => {
            let (radius, _) = turned.extent();
            let rim = turned.profile.iter().filter(|p| p.x > radius - ROUNDING_MM).map(|p| p.y);
            rim.fold(0.0, f64::max)
        }
    }
}
