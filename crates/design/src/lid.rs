//! Lids that lie on the rim over a chamber.

use findings::Finding;
use glam::{DVec2, DVec3, dvec2};
use params::Lid;
use plate::{Contour, Cut, Plate, Shape};

use crate::draft::{Builder, Draft};
use crate::enclosure::Enclosure;
use crate::frame::{bounds, pose};
use crate::model::{JointKind, Role};
use crate::spaces::{Layout, Space};

/// A lid is drawn this far above its place at least, and above what is lifted out under it.
const LIFT_MM: f64 = 120.0;
const ABOVE_OTHERS_MM: f64 = 40.0;
/// Room around a pipe that passes a lid, each side; common practice.
const PIPE_ROOM_MM: f64 = 3.0;

pub(crate) fn build(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout) {
    for (i, lid) in b.file.lid.iter().enumerate() {
        let Some(chamber) = layout.chamber(&lid.chamber) else { continue };
        one(b, enclosure, chamber, lid, &format!("lid[{i}]"));
    }
}

fn one(b: &mut Builder<'_>, enclosure: &Enclosure, chamber: &Space, lid: &Lid, parameter: &str) {
    let Some(rim) = enclosure.rim else { return };
    let Some([lo, hi]) = extent(enclosure, chamber, lid.lap.to_mm()) else {
        let message = format!(
            "a lid over chamber `{}` would not lie on the rim on two opposite sides",
            chamber.name
        );
        b.find(
            Finding::fails("lid-not-carried", parameter, message)
                .with_hint("a lid needs a chamber that reaches from front to back; cover the whole section, or leave the lid out"),
        );
        return;
    };
    let sheet = b.sheet(lid.sheet.as_ref());
    let eased = b.file.cutting.outer_corner.to_mm();
    let size = hi - lo;
    let mut plate = Plate::new(
        Contour::rounded_rectangle(DVec2::ZERO, size, eased.max(1.0)),
        sheet.thickness_mm(),
    );
    let finger = 0.5 * lid.finger_hole.to_mm();
    plate.cuts.push(Cut::through(Contour::circle(
        dvec2(0.5 * size.x, lid.lap.to_mm() + finger + 10.0),
        finger,
    )));
    if let Some(field) = &lid.drain_holes {
        let [d, step] = [field.diameter, field.spacing].map(units::Length::to_mm);
        let first = 0.5 * size
            - 0.5 * step * dvec2(f64::from(field.columns - 1), f64::from(field.rows - 1));
        let reach = first - 0.5 * d;
        if reach.x < sheet.nominal_mm || reach.y < lid.lap.to_mm() + 2.0 * finger + 12.0 {
            let message = format!(
                "{} by {} holes every {step:.0} mm do not fit a lid of {:.0} × {:.0} mm beside its finger hole and laps",
                field.columns, field.rows, size.x, size.y
            );
            b.find(
                Finding::fails("lid-holes-do-not-fit", format!("{parameter}.drain_holes"), message)
                    .with_hint("take fewer holes or less spacing"),
            );
        } else {
            let mut blocked = 0;
            for row in 0..field.rows {
                for column in 0..field.columns {
                    let middle = first + step * dvec2(f64::from(column), f64::from(row));
                    plate.cuts.push(Cut::through(Contour::circle(middle, 0.5 * d)));
                    blocked += usize::from(!is_over_opening(enclosure, lo + middle, 0.5 * d));
                }
            }
            if blocked > 0 {
                let message =
                    format!("{blocked} of the lid's drain holes lie over the rim or a brace");
                b.find(
                    Finding::tight(
                        "lid-hole-over-rim",
                        format!("{parameter}.drain_holes"),
                        message,
                    )
                    .with_hint("take fewer holes or less spacing, or move the brace"),
                );
            }
        }
    }
    for (pipe, middle) in pipes_through(b, chamber, [lo, hi]) {
        plate.cuts.push(Cut::through(Contour::circle(middle - lo, 0.5 * pipe + PIPE_ROOM_MM)));
    }
    let id = b.add(
        Draft::new(Role::Lid, format!("lid {}", chamber.name), parameter, Shape::Sheet(plate))
            .sheet(&sheet)
            .pose(pose(DVec3::X, DVec3::Y, lo.extend(enclosure.outside.z)))
            .lifts(lift_mm(b, enclosure, chamber)),
    );
    b.touch(JointKind::Rests, id, rim);
}

/// Whether a hole lies over an opening of the rim.
fn is_over_opening(enclosure: &Enclosure, middle: DVec2, radius: f64) -> bool {
    let is_in = |[lo, hi]: &[DVec2; 2]| {
        middle.cmpge(*lo + radius).all() && middle.cmple(*hi - radius).all()
    };
    enclosure.rim_openings.iter().any(is_in)
}

/// So high that the equipment of the chamber, drawn above its place, stays below the lid.
fn lift_mm(b: &Builder<'_>, enclosure: &Enclosure, chamber: &Space) -> f64 {
    let is_under = |[lo, hi]: [DVec3; 2]| {
        let middle = 0.5 * (lo + hi).truncate();
        middle.cmpgt(chamber.min).all() && middle.cmplt(chamber.max).all()
    };
    let lifted = b.drafts.iter().filter(|d| d.role == Role::Equipment).filter_map(|d| {
        let room = bounds(&d.shape, &d.pose);
        is_under(room).then(|| room[1].z + d.loose.map_or(0.0, |l| l.lift_mm))
    });
    lifted.fold(LIFT_MM, |lift, top| lift.max(top + ABOVE_OTHERS_MM - enclosure.outside.z))
}

/// Over the chamber lengthwise, on to the rim by the lap at front and back and at an end of the sump.
fn extent(enclosure: &Enclosure, chamber: &Space, lap: f64) -> Option<[DVec2; 2]> {
    let [inner_lo, inner_hi] = enclosure.inside;
    let openings = &enclosure.rim_openings;
    let (front, back) = (openings.first()?[0].y, openings.first()?[1].y);
    let (first, last) = (openings.first()?[0].x, openings.last()?[1].x);
    let from_front_to_back = chamber.min.y <= inner_lo.y && chamber.max.y >= inner_hi.y;
    let x0 = if chamber.min.x <= inner_lo.x { first - lap } else { chamber.min.x };
    let x1 = if chamber.max.x >= inner_hi.x { last + lap } else { chamber.max.x };
    from_front_to_back.then(|| [dvec2(x0, front - lap), dvec2(x1, back + lap)])
}

/// Outer diameter and middle of the drain pipes that come down through a lid.
fn pipes_through(b: &Builder<'_>, chamber: &Space, [lo, hi]: [DVec2; 2]) -> Vec<(f64, DVec2)> {
    b.drafts
        .iter()
        .filter(|d| d.role == Role::DrainPipe)
        .filter_map(|d| {
            let Shape::Turned(turned) = &d.shape else { return None };
            let middle = d.pose.translation.truncate();
            let is_here = middle.cmpgt(lo).all() && middle.cmplt(hi).all();
            let is_in_chamber = middle.cmpgt(chamber.min).all() && middle.cmplt(chamber.max).all();
            (is_here && is_in_chamber).then(|| (2.0 * turned.extent().0, middle))
        })
        .collect()
}
