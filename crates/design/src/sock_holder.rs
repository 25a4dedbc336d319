//! The sock holder: ledges on two opposite walls, a shelf with holes and a bypass notch.

use findings::Finding;
use glam::{DVec2, DVec3, Vec2Swizzles, dvec2};
use params::{RingKind, SockHolder};
use plate::{Contour, Cut, Plate, Shape};

use crate::draft::{Builder, Draft, DraftId};
use crate::enclosure::Enclosure;
use crate::frame::{Axis, Host, pose};
use crate::guide::printed_wall_mm;
use crate::model::{JointKind, Role, Sheet};
use crate::sock::{self, Hole, SOCK_PLAY_MM};
use crate::spaces::{Layout, Space};
use crate::tolerance::{Tolerances, rounded_up};

/// Play of the shelf in its chamber, each side; common practice. More where the shelf needs it.
const PLAY_MM: f64 = 1.5;
/// Land between holes and to the shelf's edge, common practice.
const LEAST_LAND_MM: f64 = 10.0;
/// How far the holder is drawn above its place.
pub(crate) const HOLDER_LIFT_MM: f64 = 210.0;

pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout) {
    for (i, spec) in b.file.sock_holder.iter().enumerate() {
        let Some(chamber) = layout.chamber(&spec.chamber) else { continue };
        Holder::new(b, enclosure, spec, chamber, format!("sock_holder[{i}]")).build(b);
    }
}

/// Middles of the socks of a chamber's holder, in the sump's x and y; `None` without a holder.
pub(crate) fn sock_middles(
    b: &Builder<'_>,
    enclosure: &Enclosure,
    layout: &Layout,
    chamber: &str,
) -> Option<Vec<DVec2>> {
    let (i, spec) = b.file.sock_holder.iter().enumerate().find(|(_, s)| s.chamber == chamber)?;
    let holder =
        Holder::new(b, enclosure, spec, layout.chamber(chamber)?, format!("sock_holder[{i}]"));
    let sump = |middle: DVec2| holder.sump(middle, 0.0).truncate();
    Some(holder.middles().into_iter().map(sump).collect())
}

/// A holder in a frame of its own: u along its ledges, v from one ledge to the other, z upwards.
struct Holder<'a> {
    spec: &'a SockHolder,
    chamber: &'a Space,
    parameter: String,
    sheet: Sheet,
    ledge_sheet: Sheet,
    /// Height of the shelf's upper face in the sump.
    top_z: f64,
    /// The shelf's corner at u = v = 0, in the sump.
    origin: DVec2,
    /// The sump's directions of u and v.
    axes: [DVec3; 2],
    /// The shelf's extent along u and v.
    size: DVec2,
    /// Faces that carry the ledges, at the least and the greatest v.
    hosts: [Host; 2],
    /// Play of the shelf in its chamber, each side.
    play_mm: f64,
    hole_mm: f64,
    corner: f64,
}

/// Play of a shelf of a sheet in a chamber so long, each side, mm: at the worst of what the file's `tolerance` says it still
/// goes in, wet.
fn play_mm(b: &Builder<'_>, sheet: &Sheet, longest_mm: f64) -> f64 {
    let tolerances = Tolerances::of(b.file);
    let grows = longest_mm * tolerances.between_walls(sheet.material).most();
    let takes = grows + 2.0 * tolerances.cut_mm(Some(&sheet.name)) + tolerances.assembly_mm;
    PLAY_MM.max(rounded_up(0.5 * takes))
}

impl<'a> Holder<'a> {
    fn new(
        b: &Builder<'_>,
        enclosure: &Enclosure,
        spec: &'a SockHolder,
        chamber: &'a Space,
        parameter: String,
    ) -> Self {
        let sheet = b.sheet(spec.sheet.as_ref());
        let bag = spec.sock.diameter.to_mm() + 2.0 * SOCK_PLAY_MM;
        let ring = match spec.ring {
            RingKind::Printed => {
                2.0 * (printed_wall_mm(b) + sock::ring_clearance_mm(b, Some(&sheet.name)))
            }
            RingKind::None => 0.0,
        };
        let (x, y) = (chamber.x_guides_mm, chamber.y_guides_mm);
        let (lo, hi) = (chamber.min + dvec2(x[0], y[0]), chamber.max - dvec2(x[1], y[1]));
        let play_mm = play_mm(b, &sheet, (hi - lo).max_element());
        let (lo, hi) = (lo + play_mm, hi - play_mm);
        // Ledges run along the sump, unless only the ends of the chamber can carry them.
        let is_fixed = |hosts: &[Host; 2]| hosts.iter().all(|host| !host.lifts_out);
        let runs = if is_fixed(&chamber.y_hosts) || !is_fixed(&chamber.x_hosts) {
            Axis::X
        } else {
            Axis::Y
        };
        let (origin, axes, size, hosts) = match runs {
            Axis::X => (lo, [DVec3::X, DVec3::Y], hi - lo, chamber.y_hosts),
            Axis::Y => {
                let [first, last] = chamber.x_hosts;
                (dvec2(hi.x, lo.y), [DVec3::Y, DVec3::NEG_X], (hi - lo).yx(), [last, first])
            }
        };
        Self {
            ledge_sheet: b.sheet(spec.ledge.sheet.as_ref()),
            corner: b.inner_corner_mm(&sheet),
            top_z: enclosure.floor_z + spec.height.to_mm(),
            hole_mm: bag + ring,
            play_mm,
            spec,
            chamber,
            parameter,
            sheet,
            origin,
            axes,
            size,
            hosts,
        }
    }

    /// A point of the holder's frame in the sump.
    fn sump(&self, p: DVec2, z: f64) -> DVec3 {
        self.origin.extend(z) + p.x * self.axes[0] + p.y * self.axes[1]
    }

    fn build(&self, b: &mut Builder<'_>) {
        // A chamber with lift-out leaves at two sides that meet has a divider that ends at one of them:
        // that was said where the divider was refused.
        let can_carry = self.hosts.iter().all(|host| !host.lifts_out);
        if !(can_carry && self.check_room(b) && self.check_bypass(b) && self.check_height(b)) {
            return;
        }
        let ledges = self.ledges(b);
        let shelf = self.shelf(b);
        for ledge in ledges {
            b.touch(JointKind::Rests, shelf, ledge);
        }
        let hole = Hole {
            chamber: &self.chamber.name,
            parameter: &self.parameter,
            spec: self.spec,
            shelf,
            diameter_mm: self.hole_mm,
            sheet_mm: self.sheet.band_mm,
        };
        for (k, middle) in self.middles().into_iter().enumerate() {
            sock::add(b, &hole, k + 1, self.sump(middle, self.top_z));
        }
    }

    fn ledge_mm(&self) -> f64 {
        self.spec.ledge.width.to_mm()
    }

    fn bypass_mm(&self) -> f64 {
        self.spec.bypass.depth.to_mm()
    }

    /// Socks stand side by side from ledge to ledge where they fit, else along the ledges.
    fn runs_across(&self) -> bool {
        self.size.y >= self.size.x || self.size.y >= self.room_mm(true).y
    }

    /// Room that the holes need along u and v, with lands, bypass and ledges.
    fn room_mm(&self, runs_across: bool) -> DVec2 {
        let n = f64::from(self.spec.socks);
        let row = n * self.hole_mm + (n + 1.0) * LEAST_LAND_MM;
        let one = self.hole_mm + 2.0 * LEAST_LAND_MM;
        let (u, v) = if runs_across { (one, row) } else { (row, one) };
        dvec2(u + self.bypass_mm(), v + 2.0 * self.ledge_mm())
    }

    /// Middles of the holes. The row keeps clear of the bypass, which is cut from the far side.
    fn middles(&self) -> Vec<DVec2> {
        let n = self.spec.socks;
        let u = self.size.x - self.bypass_mm();
        (0..n)
            .map(|k| (f64::from(k) + 0.5) / f64::from(n))
            .map(|share| {
                if self.runs_across() {
                    dvec2(0.5 * u, share * self.size.y)
                } else {
                    dvec2(share * u, 0.5 * self.size.y)
                }
            })
            .collect()
    }

    fn check_room(&self, b: &mut Builder<'_>) -> bool {
        let need = self.room_mm(self.runs_across());
        let short = (need - self.size).max_element();
        if short <= 0.0 {
            return true;
        }
        let message = format!(
            "{} of {} with their holes ({}), ledges and bypass need {} × {}; the shelf of chamber `{}` is {} × {}",
            if self.spec.socks == 1 {
                "a sock".to_owned()
            } else {
                format!("{} socks", self.spec.socks)
            },
            b.show(self.spec.sock.diameter.to_mm()),
            b.show(self.hole_mm),
            b.show(need.x),
            b.show(need.y),
            self.chamber.name,
            b.show(self.size.x),
            b.show(self.size.y)
        );
        b.find(
            Finding::fails("socks-do-not-fit", format!("{}.socks", self.parameter), message)
                .with_limit(-short, 0.0, "mm")
                .with_source("common practice: 10 mm land between holes and to the edge")
                .with_hint("take fewer or smaller socks, a shallower bypass, or a larger chamber"),
        );
        false
    }

    fn check_bypass(&self, b: &mut Builder<'_>) -> bool {
        let width = self.spec.bypass.width.to_mm();
        let most = self.size.y - 2.0 * (self.ledge_mm() + LEAST_LAND_MM);
        if width <= most {
            return true;
        }
        let message = format!(
            "a bypass {} wide does not fit between the ledges of a shelf {} wide",
            b.show(width),
            b.show(self.size.y)
        );
        b.find(
            Finding::fails("bypass-too-wide", format!("{}.bypass.width", self.parameter), message)
                .with_limit(most - width, 0.0, "mm")
                .with_source("common practice: 10 mm land to the ledges")
                .with_hint("make it narrower"),
        );
        false
    }

    fn check_height(&self, b: &mut Builder<'_>) -> bool {
        let clear = self.spec.height.to_mm() - self.spec.sock.length.to_mm();
        if clear >= 0.0 {
            return true;
        }
        let message = format!("the socks hang {} below the bottom of the sump", b.show(-clear));
        b.find(
            Finding::fails("sock-too-long", format!("{}.sock.length", self.parameter), message)
                .with_limit(clear, 0.0, "mm")
                .with_hint("raise the holder's `height` or take shorter socks"),
        );
        false
    }

    /// A strip along each side, flat, its long edge glued to the wall.
    fn ledges(&self, b: &mut Builder<'_>) -> [DraftId; 2] {
        let t = self.ledge_sheet.thickness_mm();
        let (length, width) = (self.size.x, self.ledge_mm());
        let z = self.top_z - self.sheet.thickness_mm() - t;
        let plate = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(length, width)), t);
        let places = [-self.play_mm, self.size.y + self.play_mm - width];
        [0, 1].map(|i| {
            let host = &self.hosts[i];
            let ledge = b.add(
                Draft::new(
                    Role::Ledge,
                    format!("ledge {} {}", self.chamber.name, i + 1),
                    format!("{}.ledge", self.parameter),
                    Shape::Sheet(plate.clone()),
                )
                .piece(format!("ledge {}", self.chamber.name))
                .sheet(&self.ledge_sheet)
                .pose(pose(
                    self.axes[0],
                    self.axes[1],
                    self.sump(dvec2(0.0, places[i]), z),
                )),
            );
            self.check_ledge(b, host, [z, z + t]);
            b.glue(JointKind::Butt, (ledge, host.draft), -host.inward, length, t);
            ledge
        })
    }

    /// A ledge on a leaf needs the leaf behind it over its whole height.
    fn check_ledge(&self, b: &mut Builder<'_>, host: &Host, [low, top]: [f64; 2]) {
        let (over, under) = (top - host.z[1], host.z[0] - low);
        let (out, where_to, hint) = if over > 0.0 {
            (over, "above", "lower the holder, or make that leaf higher")
        } else {
            (under, "below", "raise the holder, or make the gap under that leaf lower")
        };
        if out <= 0.0 {
            return;
        }
        let message = format!(
            "its ledge reaches {} {where_to} {} that it is glued to",
            b.show(out),
            b.drafts[host.draft].name
        );
        b.find(
            Finding::fails("ledge-off-leaf", format!("{}.height", self.parameter), message)
                .with_limit(-out, 0.0, "mm")
                .with_hint(hint),
        );
    }

    fn shelf(&self, b: &mut Builder<'_>) -> DraftId {
        let size = self.size;
        let eased = b.file.cutting.outer_corner.to_mm();
        let (notch, depth) = (self.spec.bypass.width.to_mm(), self.bypass_mm());
        let (v0, v1) = (0.5 * (size.y - notch), 0.5 * (size.y + notch));
        let r = self.corner.min(0.5 * depth).min(0.5 * notch);
        // Corners at the notch's mouth share its depth with those at its floor.
        let (eased, mouth) = (eased.min(0.5 * v0), eased.min(0.5 * v0).min(0.5 * depth));
        let outline = Contour::rounded_polygon(&[
            (DVec2::ZERO, eased),
            (dvec2(size.x, 0.0), eased),
            (dvec2(size.x, v0), mouth),
            (dvec2(size.x - depth, v0), r),
            (dvec2(size.x - depth, v1), r),
            (dvec2(size.x, v1), mouth),
            (size, eased),
            (dvec2(0.0, size.y), eased),
        ]);
        let mut plate = Plate::new(outline, self.sheet.thickness_mm());
        let holes = self.middles().into_iter().map(|m| Contour::circle(m, 0.5 * self.hole_mm));
        plate.cuts.extend(holes.map(Cut::through));
        let z = self.top_z - self.sheet.thickness_mm();
        b.add(
            Draft::new(
                Role::SockHolder,
                format!("sock holder {}", self.chamber.name),
                &self.parameter,
                Shape::Sheet(plate),
            )
            .sheet(&self.sheet)
            .pose(pose(self.axes[0], self.axes[1], self.sump(DVec2::ZERO, z)))
            .lifts(HOLDER_LIFT_MM),
        )
    }
}
