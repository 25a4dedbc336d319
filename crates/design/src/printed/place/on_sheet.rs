//! On a wall or leaf: glued to its face, pressed into an opening of it, or on its upper edge.

use findings::Finding;
use fittings::{Held, OnEdge, OnFace, Side};
use glam::{DAffine3, DVec2, DVec3, dvec2, dvec3};
use plate::{Cut, Face, Plate, Shape};

use super::in_opening::MovedBy;
use super::{Asked, LIFT_MM, Place, ROUNDING_MM, flange_z};
use crate::draft::Builder;
use crate::frame::{Host, bounds};
use crate::model::{JointKind, Loose};
use crate::printed::stand::turned;
use crate::printing::printer;

impl Asked<'_> {
    /// On the face or the upper edge of a wall or leaf.
    pub(super) fn on_sheet(
        &self,
        b: &mut Builder<'_>,
        host: &Host,
        at: f64,
        key: &str,
    ) -> Option<Place> {
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
                if let Held::Pressed(_) = stands.held {
                    let along = if host.inward.x.abs() < 0.5 { DVec3::X } else { DVec3::Y };
                    let moved = MovedBy::AtAndHeight(along);
                    self.is_in_opening(b, host.draft, host.local(spot), &moved)?;
                }
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
            Held::Pressed(_) => pose.transform_point3(DVec3::Z * flange_z(shape)),
        };
        own = DVec3::select(host.inward.abs().cmpgt(DVec3::splat(0.5)), on_face, own);
        let is_glued = stands.held == Held::Glued;
        Place {
            pose: DAffine3::from_translation(spot - own) * pose,
            kind: if is_glued { JointKind::Stuck } else { JointKind::Clamped },
            glued: is_glued.then_some((stands.by, -host.inward)),
            grips: !is_glued,
            ..Place::on(host.draft)
        }
    }

    /// Hung on an upper edge.
    fn on_edge(&self, b: &Builder<'_>, host: &Host, spot: DVec2, stands: OnEdge) -> Option<Place> {
        let shape = &self.wanted.fitting.shape;
        let [lo, hi] = shape.bounds();
        let middle = 0.5 * (lo + hi);
        let gap = self.measure("sheet") + 2.0 * printer(&b.file.printing).clearance_mm;
        let (sides, own) = match stands {
            OnEdge::Hook | OnEdge::Grip { .. } => {
                ([Side::Crown, Side::Right], dvec3(0.5 * gap, 0.0, middle.z))
            }
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
        let pose = DAffine3::from_translation(edge - pose.transform_point3(own)) * pose;
        let mut place =
            Place { pose, loose: Some(Loose { lift_mm: LIFT_MM }), ..Place::on(host.draft) };
        if let OnEdge::Grip { tip_marks } = stands {
            // It stays where it was pushed on, and goes with a leaf that lifts out.
            (place.kind, place.grips, place.loose) = (JointKind::Clamped, true, None);
            if tip_marks {
                let mark = b.show(bounds(shape, &pose)[0].z - self.enclosure.floor_z);
                place.notes.push(format!("hung on the upper edge, the tip of its beak is the mark: {mark} above the inside of the bottom"));
            }
        }
        Some(place)
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
}

/// The first pocket from the face that lay up in printing.
pub(super) fn first_pocket(shape: &Shape) -> Option<&Cut> {
    let Shape::Sheet(plate) = shape else { return None };
    let is_pocket = |plate: &Plate, cut: &Cut| cut.face == Face::Top && cut.depth < plate.thickness;
    plate.cuts.iter().find(|cut| is_pocket(plate, cut))
}
