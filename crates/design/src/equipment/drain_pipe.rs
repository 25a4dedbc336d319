//! Loose drain pipes: the pieces of them that stand in the sump.

use findings::Finding;
use glam::{DVec2, DVec3};
use params::{DrainAbove, DrainDuty, DrainPipe};
use plate::{Shape, Turned};

use super::{check_inside, middle};
use crate::draft::{Builder, Draft};
use crate::enclosure::Enclosure;
use crate::frame::pose;
use crate::model::Role;
use crate::sock_holder::sock_middles;
use crate::spaces::{Layout, Space};

/// How far a pipe is drawn above its place.
const PIPE_LIFT_MM: f64 = 420.0;
/// A drain pipe ends this far above the rim unless the file says otherwise.
const ABOVE_RIM_MM: f64 = 60.0;
/// Less than this is a slip of the pen, mm, not a pipe.
const LEAST_BORE_MM: f64 = 1.0;
const LEAST_PIPE_MM: f64 = 10.0;
/// Wall of a pipe over its diameter unless the file says otherwise: near PN 16 pressure pipe of PVC-U,
/// 2.4 mm for 32 mm and 3.7 mm for 50 mm (EN ISO 1452-2, from memory).
const WALL_SHARE: f64 = 0.1;
const PIPE_COLOUR: [u8; 3] = [205, 208, 210];

fn wall_mm(spec: &DrainPipe) -> f64 {
    spec.wall.map_or(WALL_SHARE * spec.diameter.to_mm(), units::Length::to_mm)
}

/// Inner diameter of a drain pipe, mm.
pub(crate) fn bore_mm(spec: &DrainPipe) -> f64 {
    spec.diameter.to_mm() - 2.0 * wall_mm(spec)
}

pub(super) fn build(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    layout: &Layout,
    chamber: &Space,
    spec: &DrainPipe,
    parameter: &str,
) {
    if spec.through.is_some() {
        return; // It comes in through a fitting, which is drawn in its wall.
    }
    let (diameter, wall, bore) = (spec.diameter.to_mm(), wall_mm(spec), bore_mm(spec));
    let end = enclosure.floor_z + spec.end.to_mm();
    let top =
        spec.top.map_or(enclosure.outside.z + ABOVE_RIM_MM, |top| enclosure.floor_z + top.to_mm());
    if bore < LEAST_BORE_MM || top - end < LEAST_PIPE_MM {
        let message = if bore < LEAST_BORE_MM {
            let (wall, diameter) = (b.show(wall), b.show(diameter));
            format!("a wall of {wall} leaves no bore in a pipe of {diameter}")
        } else if top <= end {
            format!("the pipe's upper end lies {} below its lower end", b.show(end - top))
        } else {
            format!("the pipe would be only {} long", b.show(top - end))
        };
        b.find(
            Finding::fails("drain-pipe", parameter, message)
                .with_hint("check `diameter`, `wall`, `end` and `top`"),
        );
        return;
    }
    let default = sock_middles(b, enclosure, layout, &chamber.name)
        .and_then(|m| m.first().copied())
        .unwrap_or(0.5 * (chamber.min + chamber.max));
    let at = middle(chamber, spec.at, default);
    let half = DVec2::splat(0.5 * diameter);
    let outline = [(at - half).extend(end), (at + half).extend(top)];
    check_inside(b, chamber, &spec.name, &format!("{parameter}.at"), outline);
    let draft =
        Draft::new(
            Role::DrainPipe,
            format!("drain {}", spec.name),
            parameter,
            Shape::Turned(Turned::pipe(diameter, bore, top - end)),
        )
        .pose(pose(DVec3::X, DVec3::Y, at.extend(end)))
        .lifts(PIPE_LIFT_MM)
        .note(format!(
            "{} drain, {diameter:.0} × {wall:.1} mm pipe, the piece in the sump only; the drop from the display comes on top",
            duty_words(spec.duty)
        ))
        .colour(PIPE_COLOUR);
    let above_floor = b.show(top - enclosure.floor_z);
    b.add(match spec.above {
        // Without one the pipe would not come out of what comes down to it.
        DrainAbove::Rigid => draft.note(format!(
            "a union at its upper end, {above_floor} above the inside of the bottom, to be bought with it"
        )),
        DrainAbove::Hose => draft,
    });
}

fn duty_words(duty: DrainDuty) -> &'static str {
    match duty {
        DrainDuty::Main => "main",
        DrainDuty::Secondary => "secondary",
        DrainDuty::Emergency => "emergency",
    }
}
