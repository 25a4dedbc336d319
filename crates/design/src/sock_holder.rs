//! The sock holder: ledges on the walls, a shelf with flanged holes and a bypass notch, rings and socks.

use findings::Finding;
use fittings::SockRing;
use glam::{DVec2, DVec3, dvec2};
use params::{RingKind, SockHolder};
use plate::{Contour, Cut, Plate, Shape, Turned};

use crate::clash::bounds;
use crate::draft::{Builder, Draft, DraftId};
use crate::enclosure::Enclosure;
use crate::frame::{Host, pose};
use crate::model::{JointKind, Role, Sheet};
use crate::spaces::{Layout, Space};

/// Play of the shelf in its chamber, each side; common practice.
const PLAY_MM: f64 = 1.5;
/// Land between holes and to the shelf's edge, common practice.
const LEAST_LAND_MM: f64 = 10.0;
/// Play of a sock in its ring, each side; common practice.
const SOCK_PLAY_MM: f64 = 1.0;
/// Thickness of a sock's felt and of its stiff flange, common practice.
const FELT_MM: f64 = 2.0;
const SOCK_FLANGE_MM: f64 = 3.0;
/// A sock's own flange is wider than the bag by this, unless the file says otherwise.
const SOCK_FLANGE_EXTRA_MM: f64 = 14.0;
/// How far the holder and what hangs in it are drawn above their places.
const HOLDER_LIFT_MM: f64 = 210.0;
const SOCK_LIFT_MM: f64 = 330.0;
const SOCK_COLOUR: [u8; 3] = [236, 232, 220];

pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout) {
    for (i, spec) in b.file.sock_holder.iter().enumerate() {
        let Some(chamber) = layout.chamber(&spec.chamber) else { continue };
        Holder::new(b, enclosure, spec, chamber, format!("sock_holder[{i}]")).build(b);
    }
}

/// Middles of the socks of a holder, in the sump's x and y; `None` when they do not fit.
pub(crate) fn sock_middles(
    b: &Builder<'_>,
    enclosure: &Enclosure,
    layout: &Layout,
    chamber: &str,
) -> Option<Vec<DVec2>> {
    let (i, spec) = b.file.sock_holder.iter().enumerate().find(|(_, s)| s.chamber == chamber)?;
    let holder =
        Holder::new(b, enclosure, spec, layout.chamber(chamber)?, format!("sock_holder[{i}]"));
    Some(holder.middles())
}

struct Holder<'a> {
    spec: &'a SockHolder,
    chamber: &'a Space,
    parameter: String,
    sheet: Sheet,
    ledge_sheet: Sheet,
    floor_z: f64,
    /// Least and greatest corner of the shelf.
    lo: DVec2,
    hi: DVec2,
    hole_mm: f64,
    ring_mm: f64,
    corner: f64,
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
        let ledge_sheet = b.sheet(spec.ledge.sheet.as_ref());
        let [near, far] = chamber.x_guides_mm;
        let bag = spec.sock.diameter.to_mm() + 2.0 * SOCK_PLAY_MM;
        let ring_mm = match spec.ring {
            RingKind::Printed => 6.0 * b.file.printing.nozzle.to_mm(),
            RingKind::None => 0.0,
        };
        let clearance = if ring_mm > 0.0 { 2.0 * b.file.printing.clearance.to_mm() } else { 0.0 };
        Self {
            lo: chamber.min + dvec2(near + PLAY_MM, PLAY_MM),
            hi: chamber.max - dvec2(far + PLAY_MM, PLAY_MM),
            hole_mm: bag + 2.0 * ring_mm + clearance,
            ring_mm,
            corner: b.inner_corner_mm(&sheet),
            floor_z: enclosure.floor_z,
            spec,
            chamber,
            parameter,
            sheet,
            ledge_sheet,
        }
    }

    fn top_z(&self) -> f64 {
        self.floor_z + self.spec.height.to_mm()
    }

    fn build(&self, b: &mut Builder<'_>) {
        if !self.check(b) {
            return;
        }
        let ledges = self.ledges(b);
        let shelf = self.shelf(b);
        for ledge in ledges {
            b.touch(JointKind::Rests, shelf, ledge);
        }
        for (k, middle) in self.middles().into_iter().enumerate() {
            self.ring_and_sock(b, shelf, k + 1, middle);
        }
    }

    /// Socks stand side by side from front to back where they fit, else along the sump.
    fn runs_across(&self) -> bool {
        let size = self.hi - self.lo;
        size.y >= size.x || size.y >= self.row_mm()
    }

    /// Room that the holes take side by side.
    fn row_mm(&self) -> f64 {
        let n = f64::from(self.spec.socks);
        n * self.hole_mm
            + (n - 1.0) * LEAST_LAND_MM
            + 2.0 * (LEAST_LAND_MM + self.spec.ledge.width.to_mm())
    }

    /// Middles of the holes. The row keeps clear of the bypass, which is cut from the far side.
    fn middles(&self) -> Vec<DVec2> {
        let (size, n) = (self.hi - self.lo, self.spec.socks);
        let x = self.lo.x + 0.5 * (size.x - self.spec.bypass.depth.to_mm());
        (0..n)
            .map(|k| {
                let share = (f64::from(k) + 0.5) / f64::from(n);
                if self.runs_across() {
                    dvec2(x, self.lo.y + share * size.y)
                } else {
                    dvec2(
                        self.lo.x + share * (size.x - self.spec.bypass.depth.to_mm()),
                        self.lo.y + 0.5 * size.y,
                    )
                }
            })
            .collect()
    }

    fn check(&self, b: &mut Builder<'_>) -> bool {
        let size = self.hi - self.lo;
        let (across, along) =
            (self.row_mm(), self.hole_mm + 2.0 * LEAST_LAND_MM + self.spec.bypass.depth.to_mm());
        let (need, have) = if self.runs_across() {
            (dvec2(along, across), size)
        } else {
            let row = self.row_mm() - 2.0 * self.spec.ledge.width.to_mm()
                + self.spec.bypass.depth.to_mm();
            (dvec2(row, self.hole_mm + 2.0 * (LEAST_LAND_MM + self.spec.ledge.width.to_mm())), size)
        };
        let short = need - have;
        if short.max_element() > 0.0 {
            let message = format!(
                "{} socks of {:.0} mm with their holes ({:.1} mm), ledges and bypass need {:.0} × {:.0} mm; the shelf of chamber `{}` is {:.0} × {:.0} mm",
                self.spec.socks,
                self.spec.sock.diameter.to_mm(),
                self.hole_mm,
                need.x,
                need.y,
                self.chamber.name,
                size.x,
                size.y
            );
            b.find(
                Finding::fails("socks-do-not-fit", format!("{}.socks", self.parameter), message)
                    .with_limit(-short.max_element(), 0.0, "mm")
                    .with_source("common practice: 10 mm land between holes and to the edge")
                    .with_hint(
                        "take fewer or smaller socks, a shallower bypass, or a larger chamber",
                    ),
            );
            return false;
        }
        if self.spec.bypass.width.to_mm()
            > size.y - 2.0 * (self.spec.ledge.width.to_mm() + LEAST_LAND_MM)
        {
            let message = format!(
                "a bypass {:.0} mm wide does not fit between the ledges of a shelf {:.0} mm wide",
                self.spec.bypass.width.to_mm(),
                size.y
            );
            b.find(
                Finding::fails(
                    "bypass-too-wide",
                    format!("{}.bypass.width", self.parameter),
                    message,
                )
                .with_hint("make it narrower"),
            );
            return false;
        }
        let clear = self.spec.height.to_mm() - self.spec.sock.length.to_mm();
        if clear < 0.0 {
            let message = format!("the socks hang {:.0} mm below the bottom of the sump", -clear);
            b.find(
                Finding::fails("sock-too-long", format!("{}.sock.length", self.parameter), message)
                    .with_limit(clear, 0.0, "mm")
                    .with_hint("raise the holder's `height` or take shorter socks"),
            );
            return false;
        }
        true
    }

    /// A strip along each long side, flat, its narrow edge glued to the wall.
    fn ledges(&self, b: &mut Builder<'_>) -> Vec<DraftId> {
        let t = self.ledge_sheet.thickness_mm();
        let width = self.spec.ledge.width.to_mm();
        let length = self.hi.x - self.lo.x;
        let z = self.top_z() - self.sheet.thickness_mm() - t;
        self.chamber
            .y_hosts
            .iter()
            .enumerate()
            .map(|(i, host)| {
                let plate = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(length, width)), t);
                let y = if i == 0 { host.plane } else { host.plane - width };
                let ledge = b.add(
                    Draft::new(
                        Role::Ledge,
                        format!("ledge {} {}", self.chamber.name, i + 1),
                        format!("{}.ledge", self.parameter),
                        Shape::Sheet(plate),
                    )
                    .piece(format!("ledge {}", self.chamber.name))
                    .sheet(&self.ledge_sheet)
                    .pose(pose(
                        DVec3::X,
                        DVec3::Y,
                        DVec3::new(self.lo.x, y, z),
                    )),
                );
                self.check_ledge(b, host, z + t);
                glue_ledge(b, ledge, host, length, t);
                ledge
            })
            .collect()
    }

    /// A ledge on a leaf needs the leaf behind it over its whole height.
    fn check_ledge(&self, b: &mut Builder<'_>, host: &Host, top_z: f64) {
        let behind = &b.drafts[host.draft];
        let over = top_z - bounds(&behind.shape, &behind.pose)[1].z;
        if behind.role == Role::Leaf && over > 0.0 {
            let message =
                format!("its ledge stands {over:.1} mm above {} that it is glued to", behind.name);
            b.find(
                Finding::fails("ledge-above-leaf", format!("{}.height", self.parameter), message)
                    .with_limit(-over, 0.0, "mm")
                    .with_hint("lower the holder, or make that leaf higher"),
            );
        }
    }

    fn shelf(&self, b: &mut Builder<'_>) -> DraftId {
        let size = self.hi - self.lo;
        let eased = b.file.cutting.outer_corner.to_mm();
        let (notch, depth) = (self.spec.bypass.width.to_mm(), self.spec.bypass.depth.to_mm());
        let (y0, y1) = (0.5 * (size.y - notch), 0.5 * (size.y + notch));
        let r = self.corner.min(0.5 * depth);
        let outline = Contour::rounded_polygon(&[
            (DVec2::ZERO, eased),
            (dvec2(size.x, 0.0), eased),
            (dvec2(size.x, y0), eased),
            (dvec2(size.x - depth, y0), r),
            (dvec2(size.x - depth, y1), r),
            (dvec2(size.x, y1), eased),
            (size, eased),
            (dvec2(0.0, size.y), eased),
        ]);
        let mut plate = Plate::new(outline, self.sheet.thickness_mm());
        let holes =
            self.middles().into_iter().map(|m| Contour::circle(m - self.lo, 0.5 * self.hole_mm));
        plate.cuts.extend(holes.map(Cut::through));
        let z = self.top_z() - self.sheet.thickness_mm();
        b.add(
            Draft::new(
                Role::SockHolder,
                format!("sock holder {}", self.chamber.name),
                &self.parameter,
                Shape::Sheet(plate),
            )
            .sheet(&self.sheet)
            .pose(pose(DVec3::X, DVec3::Y, self.lo.extend(z)))
            .lifts(HOLDER_LIFT_MM),
        )
    }

    fn ring_and_sock(&self, b: &mut Builder<'_>, shelf: DraftId, k: usize, middle: DVec2) {
        let mut seat = (self.top_z(), shelf);
        if self.ring_mm > 0.0 {
            let spec = SockRing {
                hole_diameter_mm: self.hole_mm,
                sheet_mm: self.sheet.band_mm,
                bore_diameter_mm: self.spec.sock.diameter.to_mm() + 2.0 * SOCK_PLAY_MM,
                clearance_mm: b.file.printing.clearance.to_mm(),
            };
            match fittings::sock_ring(&spec) {
                Ok(ring) => {
                    let bed = b.file.printing.bed.to_mm();
                    if ring.flange_diameter_mm > bed {
                        let message = format!(
                            "a ring of {:.1} mm does not fit a print bed of {bed:.0} mm",
                            ring.flange_diameter_mm
                        );
                        b.find(
                            Finding::fails("ring-larger-than-bed", format!("{}.ring", self.parameter), message)
                                .with_limit(bed, ring.flange_diameter_mm, "mm")
                                .with_hint("set `ring = \"none\"`, take a smaller sock, or give your printer's `printing.bed`"),
                        );
                    }
                    // Printed flange down, used flange up: turned over about the x axis.
                    let flange = ring.flange_mm;
                    let place = pose(DVec3::X, -DVec3::Y, middle.extend(self.top_z() + flange));
                    let id = b.add(
                        Draft::new(
                            Role::SockRing,
                            format!("sock ring {} {k}", self.chamber.name),
                            format!("{}.ring", self.parameter),
                            ring.fitting.shape,
                        )
                        .piece(format!("sock ring {}", self.chamber.name))
                        .pose(place)
                        .lifts(HOLDER_LIFT_MM),
                    );
                    b.drafts[id].notes.push(ring.fitting.print.orientation);
                    b.touch(JointKind::Rests, id, shelf);
                    seat = (self.top_z() + flange, id);
                }
                Err(error) => {
                    b.find(
                        Finding::fails(
                            "sock-ring",
                            format!("{}.ring", self.parameter),
                            error.to_string(),
                        )
                        .with_hint("set `ring = \"none\"`, or change the sock's size"),
                    );
                    return;
                }
            }
        }
        let sock = &self.spec.sock;
        let (r, length) = (0.5 * sock.diameter.to_mm(), sock.length.to_mm());
        let flange = 0.5
            * sock
                .flange
                .map_or(sock.diameter.to_mm() + SOCK_FLANGE_EXTRA_MM, units::Length::to_mm);
        let profile = vec![
            dvec2(0.0, -length),
            dvec2(r, -length),
            dvec2(r, 0.0),
            dvec2(flange, 0.0),
            dvec2(flange, SOCK_FLANGE_MM),
            dvec2(r - FELT_MM, SOCK_FLANGE_MM),
            dvec2(r - FELT_MM, FELT_MM - length),
            dvec2(0.0, FELT_MM - length),
        ];
        let id = b.add(
            Draft::new(
                Role::Sock,
                format!("sock {} {k}", self.chamber.name),
                format!("{}.sock", self.parameter),
                Shape::Turned(Turned { profile }),
            )
            .piece(format!("filter sock {:.0} mm", 2.0 * r))
            .pose(pose(DVec3::X, DVec3::Y, middle.extend(seat.0)))
            .lifts(SOCK_LIFT_MM)
            .colour(SOCK_COLOUR),
        );
        b.touch(JointKind::Rests, id, seat.1);
    }
}

fn glue_ledge(b: &mut Builder<'_>, ledge: DraftId, host: &Host, length: f64, t: f64) {
    b.glue(JointKind::Butt, (ledge, "long edge"), (host.draft, "face"), length, t);
}
