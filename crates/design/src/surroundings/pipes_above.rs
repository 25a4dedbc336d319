//! Pipes and hoses that come down from the display to the upper ends of loose drain pipes.

use glam::{DVec2, DVec3};
use params::DrainAbove;
use plate::{Shape, Turned};

use super::{Frame, HoseAbove, SurroundingKind, Things};
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

/// What is of this kind above loose drain pipes under the cabinet's ceiling.
pub(super) fn find(b: &Builder<'_>, frame: &Frame<'_>, kind: DrainAbove) -> Vec<PipeAbove> {
    let drains = b.drafts.iter().filter(|d| d.role == Role::DrainPipe && d.part_of.is_none());
    let above = drains.filter_map(|draft| {
        let index = index_in(&draft.parameter, "drain")?;
        let Shape::Turned(turned) = &draft.shape else { return None };
        let (radius, [_, top]) = turned.extent();
        let bore = turned.profile.iter().map(|p| p.x).fold(radius, f64::min);
        (b.file.drain.get(index)?.above == kind).then(|| PipeAbove {
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

/// The room of the hoses, up to the cabinet's ceiling; without one, to the display's floor if it is known to be higher than
/// where the cabinet's walls end.
pub(super) fn hoses(b: &Builder<'_>, frame: &Frame<'_>, floor_z: f64) -> Vec<HoseAbove> {
    let display = b.file.display.as_ref().map(|d| floor_z + d.stands.to_mm());
    let walls_end = frame.inside[1].z;
    let to_z = match display {
        Some(display_z) if !frame.spec.ceiling => walls_end.max(display_z),
        _ => walls_end,
    };
    let hoses = find(b, frame, DrainAbove::Hose).into_iter();
    hoses
        .filter(|pipe| to_z - pipe.from_z >= LEAST_PIPE_MM)
        .map(|pipe| HoseAbove {
            drain: pipe.of,
            parameter: pipe.parameter,
            middle: pipe.middle,
            diameter_mm: pipe.diameter_mm,
            z: [pipe.from_z, to_z],
        })
        .collect()
}

/// Adds the rigid ones, through the ceiling; without one, up to where the cabinet's walls end.
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
