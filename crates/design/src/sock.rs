//! A sock in its hole: the printed ring that lines the hole, and the sock itself.

use findings::Finding;
use fittings::{SockRing, SockRingFitting};
use glam::{DVec3, dvec2};
use params::{RingKind, SockHolder, SockSize};
use plate::{Shape, Turned};

use crate::draft::{Builder, Draft, DraftId};
use crate::frame::pose;
use crate::model::{JointKind, Role};
use crate::sock_holder::HOLDER_LIFT_MM;
use crate::tolerance::Tolerances;

/// Play of a sock in its ring, each side; common practice.
pub(crate) const SOCK_PLAY_MM: f64 = 1.0;
/// Thickness of a sock's felt and of its stiff flange, common practice.
const FELT_MM: f64 = 2.0;
const SOCK_FLANGE_MM: f64 = 3.0;
/// A sock's own flange is wider than the bag by this, unless the file says otherwise.
const SOCK_FLANGE_EXTRA_MM: f64 = 14.0;
/// How far a sock is drawn above its place.
const SOCK_LIFT_MM: f64 = 330.0;
const SOCK_COLOUR: [u8; 3] = [236, 232, 220];

/// A hole of a shelf.
pub(crate) struct Hole<'a> {
    pub(crate) chamber: &'a str,
    /// Path of the holder's parameter.
    pub(crate) parameter: &'a str,
    pub(crate) spec: &'a SockHolder,
    pub(crate) shelf: DraftId,
    pub(crate) diameter_mm: f64,
    /// Least and greatest thickness of the shelf.
    pub(crate) sheet_mm: [f64; 2],
}

/// Adds the ring, if one is wanted, and the sock of the `k`th hole, whose middle on the shelf's upper face
/// is given.
pub(crate) fn add(b: &mut Builder<'_>, hole: &Hole<'_>, k: usize, middle: DVec3) {
    let (seat, on) = match hole.spec.ring {
        RingKind::None => (middle, hole.shelf),
        RingKind::Printed => {
            let Some(ring) = ring(b, hole) else { return };
            let seat = middle + ring.flange_mm * DVec3::Z;
            (seat, add_ring(b, hole, k, ring, seat))
        }
    };
    let size = &hole.spec.sock;
    let id = b.add(
        Draft::new(
            Role::Sock,
            format!("sock {} {k}", hole.chamber),
            format!("{}.sock", hole.parameter),
            Shape::Turned(body(size)),
        )
        .piece(format!("filter sock {:.0} mm", size.diameter.to_mm()))
        .pose(pose(DVec3::X, DVec3::Y, seat))
        .lifts(SOCK_LIFT_MM)
        .colour(SOCK_COLOUR),
    );
    b.touch(JointKind::Rests, id, on);
}

/// Clearance of a printed ring in its hole, each side, mm: the printer's own, or more where hole and ring at their worst
/// need it by the file's `tolerance`.
pub(crate) fn ring_clearance_mm(b: &Builder<'_>, shelf: Option<&str>) -> f64 {
    let tolerances = Tolerances::of(b.file);
    let needed = 0.5 * (tolerances.cut_mm(shelf) + tolerances.printed_width_mm());
    b.file.printing.clearance.to_mm().max(needed)
}

/// The ring for a hole; `None` with a finding when there is none.
fn ring(b: &mut Builder<'_>, hole: &Hole<'_>) -> Option<SockRingFitting> {
    let parameter = format!("{}.ring", hole.parameter);
    let spec = SockRing {
        hole_diameter_mm: hole.diameter_mm,
        sheet_mm: hole.sheet_mm,
        bore_diameter_mm: hole.spec.sock.diameter.to_mm() + 2.0 * SOCK_PLAY_MM,
        clearance_mm: ring_clearance_mm(b, b.drafts[hole.shelf].sheet.as_deref()),
    };
    let ring = match fittings::sock_ring(&spec, &crate::printing::printer(&b.file.printing)) {
        Ok(ring) => ring,
        Err(error) => {
            b.find(
                Finding::fails("sock-ring", parameter, error.to_string())
                    .with_hint("set `ring = \"none\"`, or change the sock's size"),
            );
            return None;
        }
    };
    let bed = b.file.printing.bed.to_mm();
    if ring.flange_diameter_mm > bed {
        let message = format!(
            "a ring of {} does not fit a print bed of {}",
            b.show(ring.flange_diameter_mm),
            b.show(bed)
        );
        b.find(
            Finding::fails("ring-larger-than-bed", parameter, message)
                .with_limit(bed - ring.flange_diameter_mm, 0.0, "mm")
                .with_hint("set `ring = \"none\"`, take a smaller sock, or give your printer's `printing.bed`"),
        );
    }
    Some(ring)
}

/// Printed flange down, used flange up: turned over about the x axis, the flange's upper face at `seat`.
fn add_ring(
    b: &mut Builder<'_>,
    hole: &Hole<'_>,
    k: usize,
    ring: SockRingFitting,
    seat: DVec3,
) -> DraftId {
    let id = b.add(
        Draft::new(
            Role::SockRing,
            format!("sock ring {} {k}", hole.chamber),
            format!("{}.ring", hole.parameter),
            ring.fitting.shape,
        )
        .piece(format!("sock ring {}", hole.chamber))
        .pose(pose(DVec3::X, -DVec3::Y, seat))
        .lifts(HOLDER_LIFT_MM)
        .printed(ring.fitting.print),
    );
    b.drafts[id].part_of = Some(hole.shelf);
    b.touch(JointKind::Rests, id, hole.shelf);
    id
}

/// The bag with its flange; the flange's lower face at z = 0.
fn body(size: &SockSize) -> Turned {
    let (r, length) = (0.5 * size.diameter.to_mm(), size.length.to_mm());
    let flange =
        size.flange.map_or(size.diameter.to_mm() + SOCK_FLANGE_EXTRA_MM, units::Length::to_mm);
    let profile = vec![
        dvec2(0.0, -length),
        dvec2(r, -length),
        dvec2(r, 0.0),
        dvec2(0.5 * flange, 0.0),
        dvec2(0.5 * flange, SOCK_FLANGE_MM),
        dvec2(r - FELT_MM, SOCK_FLANGE_MM),
        dvec2(r - FELT_MM, FELT_MM - length),
        dvec2(0.0, FELT_MM - length),
    ];
    Turned { profile }
}
