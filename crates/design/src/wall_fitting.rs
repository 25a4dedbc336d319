//! Fittings through the walls of the box.

use findings::Finding;
use glam::{DVec2, DVec3, dvec2};
use params::{Wall, WallFitting};
use plate::{Contour, Cut, Shape, Turned};

use crate::draft::{Builder, Draft};
use crate::enclosure::Enclosure;
use crate::frame::{Host, pose};
use crate::model::{JointKind, Role};

/// Play of a fitting's barrel in its hole, on the diameter; common practice.
const BARREL_PLAY_MM: f64 = 1.0;
/// Bore of a fitting over the diameter of its barrel, as it is drawn.
const BORE_SHARE: f64 = 0.7;
/// Thickness of a fitting's flange and nut, common practice; a fitting that stands out less has thinner ones.
const FLANGE_MM: f64 = 6.0;
const FITTING_COLOUR: [u8; 3] = [96, 102, 110];
const LAND_SOURCE: &str = "common practice: one hole diameter of sheet to every edge and hole";

pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure) {
    let mut seats: Vec<Seat<'_>> = Vec::new();
    for (i, spec) in b.file.wall_fitting.iter().enumerate() {
        let seat = Seat::new(enclosure, spec, format!("wall_fitting[{i}]"));
        seat.check_edges(b, enclosure);
        seat.check_grooves(b);
        for other in &seats {
            seat.check_apart(b, other);
        }
        seat.add(b);
        seats.push(seat);
    }
}

/// Where a fitting sits.
struct Seat<'a> {
    spec: &'a WallFitting,
    parameter: String,
    host: Host,
    /// Middle of the hole on the wall's inner face, in the sump.
    middle: DVec3,
    /// Clear length of the wall inside, mm.
    wall_length_mm: f64,
}

impl<'a> Seat<'a> {
    fn new(enclosure: &Enclosure, spec: &'a WallFitting, parameter: String) -> Self {
        let host = enclosure.wall(spec.wall);
        let [lo, hi] = enclosure.inside;
        let at = spec.at.to_mm();
        let (middle, wall_length_mm) = match spec.wall {
            Wall::Front | Wall::Back => (dvec2(lo.x + at, host.plane), hi.x - lo.x),
            Wall::InletEnd | Wall::FarEnd => (dvec2(host.plane, lo.y + at), hi.y - lo.y),
        };
        let middle = middle.extend(enclosure.floor_z + spec.height.to_mm());
        Self { spec, parameter, host, middle, wall_length_mm }
    }

    fn hole_mm(&self) -> f64 {
        self.spec.hole.to_mm()
    }

    fn flange_mm(&self) -> f64 {
        self.spec.flange.to_mm()
    }

    /// Its hole and flange keep clear of the wall's ends, the bottom and the wall's upper edge.
    fn check_edges(&self, b: &mut Builder<'_>, enclosure: &Enclosure) {
        let [at, height] = [self.spec.at, self.spec.height].map(units::Length::to_mm);
        for (distance, edge, field) in [
            (at, "the near end", "at"),
            (self.wall_length_mm - at, "the far end", "at"),
            (height, "the bottom", "height"),
            (enclosure.inside_height_mm() - height, "the wall's upper edge", "height"),
        ] {
            let hole = self.hole_mm();
            let (land, seat) = (distance - 0.5 * hole, distance - 0.5 * self.flange_mm());
            if seat >= 0.0 && land >= hole {
                continue;
            }
            let is_where = if land < 0.0 {
                format!("reaches {} beyond {edge}", b.show(-land))
            } else {
                format!("is {} from {edge}", b.show(land))
            };
            let message = format!("the hole of fitting `{}` {is_where}", self.spec.name);
            let parameter = format!("{}.{field}", self.parameter);
            let finding = if seat < 0.0 {
                let flange = b.show(self.flange_mm());
                let message = format!("{message}: its flange of {flange} does not seat");
                Finding::fails("hole-near-edge", parameter, message).with_limit(seat, 0.0, "mm")
            } else {
                let wanted = b.show(hole);
                let message = format!("{message}; at least its own diameter, {wanted}, is wanted");
                Finding::tight("hole-near-edge", parameter, message)
                    .with_limit(land, hole, "mm")
                    .with_source(LAND_SOURCE)
            };
            b.find(finding.with_hint(format!("move it with `{field}`")));
        }
    }

    /// Two holes in one wall leave sheet between them. Flanges that meet are told of as parts that
    /// share room.
    fn check_apart(&self, b: &mut Builder<'_>, other: &Seat<'_>) {
        let distance = self.middle.distance(other.middle);
        let land = distance - 0.5 * (self.hole_mm() + other.hole_mm());
        let wanted = self.hole_mm().max(other.hole_mm());
        let flanges_meet = distance < 0.5 * (self.flange_mm() + other.flange_mm());
        if self.spec.wall != other.spec.wall || land >= wanted || flanges_meet {
            return;
        }
        let message = format!(
            "the holes of fittings `{}` and `{}` leave {} of sheet between them; at least the larger diameter, {}, is wanted",
            other.spec.name,
            self.spec.name,
            b.show(land),
            b.show(wanted)
        );
        b.find(
            Finding::tight("holes-too-close", format!("{}.at", self.parameter), message)
                .with_limit(land, wanted, "mm")
                .with_source(LAND_SOURCE)
                .with_hint(format!("move one of them; the other is `{}`", other.parameter)),
        );
    }

    /// A flange seats on a plain face: a groove under it would leak.
    fn check_grooves(&self, b: &mut Builder<'_>) {
        let Shape::Sheet(plate) = &b.drafts[self.host.draft].shape else { return };
        let Some([wall_lo, wall_hi]) = plate.outline.bounds() else { return };
        let (middle, radius) = (self.host.local(self.middle), 0.5 * self.flange_mm());
        let is_under = |cut: &&Cut| {
            let Some([lo, hi]) = cut.contour.bounds() else { return false };
            // A step along the wall's end holds the other wall, whose face bounds the flange's room.
            let is_step = lo.x <= wall_lo.x || hi.x >= wall_hi.x;
            let is_groove = cut.face == self.host.face() && cut.depth < plate.thickness;
            is_groove && !is_step && middle.distance(middle.clamp(lo, hi)) < radius
        };
        if !plate.cuts.iter().any(|cut| is_under(&cut)) {
            return;
        }
        let message = format!(
            "the flange of fitting `{}`, {} wide, lies over a groove in the {}",
            self.spec.name,
            b.show(self.flange_mm()),
            b.drafts[self.host.draft].name
        );
        b.find(
            Finding::fails("flange-over-groove", format!("{}.at", self.parameter), message)
                .with_hint("move it with `at`"),
        );
    }

    /// Cuts the hole and adds the fitting.
    fn add(&self, b: &mut Builder<'_>) {
        let hole = Contour::circle(self.host.local(self.middle), 0.5 * self.hole_mm());
        b.cut(&self.host, Cut::through(hole));
        let t = b.sheet(None).thickness_mm();
        let id = b.add(
            Draft::new(
                Role::WallFitting,
                format!("fitting {}", self.spec.name),
                &self.parameter,
                Shape::Turned(spool(self.spec, t)),
            )
            .colour(FITTING_COLOUR)
            .pose(pose(DVec3::Z, self.host.inward.cross(DVec3::Z), self.middle)),
        );
        b.touch(JointKind::Clamped, id, self.host.draft);
    }
}

/// A barrel with a flange on either side of a wall. Local z points out of the wall into the sump; the
/// wall lies from `-wall_mm` to 0.
fn spool(spec: &WallFitting, wall_mm: f64) -> Turned {
    let barrel = 0.5 * (spec.hole.to_mm() - BARREL_PLAY_MM);
    let (bore, flange) = (BORE_SHARE * barrel, 0.5 * spec.flange.to_mm());
    let (inside, outside) = (spec.inside.to_mm(), spec.outside.to_mm());
    let mut profile = vec![dvec2(bore, -wall_mm - outside)];
    profile.extend(collar(barrel, flange, -wall_mm - outside, -wall_mm));
    profile.extend(collar(barrel, flange, inside, 0.0).into_iter().rev());
    profile.push(dvec2(bore, inside));
    Turned { profile }
}

/// The outside of a barrel from its end at `end` to the wall's face at `face`, with its flange there.
fn collar(barrel: f64, flange: f64, end: f64, face: f64) -> Vec<DVec2> {
    let flange_end = face + FLANGE_MM.min((end - face).abs()).copysign(end - face);
    let mut corners = vec![dvec2(flange, flange_end), dvec2(flange, face), dvec2(barrel, face)];
    // A flange that ends where the barrel ends has no step there.
    if (end - flange_end).abs() > 1e-6 {
        corners.splice(0..0, [dvec2(barrel, end), dvec2(barrel, flange_end)]);
    }
    corners
}
