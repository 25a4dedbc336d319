//! Rigid pipes that come down from the display to the upper ends of loose drain pipes.

use glam::{DVec2, DVec3};
use params::DrainAbove;
use plate::{Shape, Turned};

use super::{Frame, SurroundingKind, Things};
use crate::draft::Builder;
use crate::frame::pose;
use crate::model::Role;
use crate::removables::index_in;

/// Less than this is no piece of pipe, mm.
const LEAST_PIPE_MM: f64 = 1.0;

/// A pipe straight above a drain pipe.
pub(super) struct PipeAbove {
    /// Name of the drain pipe's part.
    of: String,
    parameter: String,
    pub(super) diameter_mm: f64,
    bore_mm: f64,
    /// Its middle in the sump's x and y.
    pub(super) middle: DVec2,
    /// Height of its lower end: the drain pipe's upper end.
    from_z: f64,
}

/// The rigid pipes above all loose drain pipes under the cabinet's ceiling.
pub(super) fn find(b: &Builder<'_>, frame: &Frame<'_>) -> Vec<PipeAbove> {
    let drains = b.drafts.iter().filter(|d| d.role == Role::DrainPipe && d.part_of.is_none());
    let above = drains.filter_map(|draft| {
        let index = index_in(&draft.parameter, "drain")?;
        let Shape::Turned(turned) = &draft.shape else { return None };
        let (radius, [_, top]) = turned.extent();
        let bore = turned.profile.iter().map(|p| p.x).fold(radius, f64::min);
        (b.file.drain.get(index)?.above == DrainAbove::Rigid).then(|| PipeAbove {
            of: draft.name.clone(),
            parameter: format!("drain[{index}].above"),
            diameter_mm: 2.0 * radius,
            bore_mm: 2.0 * bore,
            middle: draft.pose.translation.truncate(),
            from_z: draft.pose.translation.z + top,
        })
    });
    let [lo, hi] = frame.inside.map(DVec3::truncate);
    let is_inside = |p: DVec2| p.cmpge(lo).all() && p.cmple(hi).all();
    above.filter(|pipe| is_inside(pipe.middle)).collect()
}

/// Adds them, through the ceiling; without one, up to where the cabinet's walls end.
pub(super) fn add(things: &mut Things, frame: &Frame<'_>, pipes: &[PipeAbove]) {
    let through = if frame.spec.ceiling { frame.panel_mm } else { 0.0 };
    let to_z = frame.inside[1].z + through;
    for pipe in pipes.iter().filter(|pipe| to_z - pipe.from_z >= LEAST_PIPE_MM) {
        let length = to_z - pipe.from_z;
        things.add(
            SurroundingKind::PipeAbove,
            format!("pipe above {}", pipe.of),
            pipe.parameter.clone(),
            Shape::Turned(Turned::pipe(pipe.diameter_mm, pipe.bore_mm, length)),
            pose(DVec3::X, DVec3::Y, pipe.middle.extend(pipe.from_z)),
        );
    }
}
