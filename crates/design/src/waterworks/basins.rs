//! What holds water in the sump, and what hangs over it.

use glam::DVec2;
use plate::Shape;

use super::{Basin, Body, Cover, Shelf};
use crate::draft::{Builder, Draft};
use crate::enclosure::Enclosure;
use crate::frame::bounds;
use crate::levels::Standing;
use crate::model::Role;
use crate::sock_holder::sock_middles;
use crate::spaces::{Layout, Space};

/// Faces that are this close belong together, mm.
const SAME_FACE_MM: f64 = 1e-6;

pub(super) fn build(
    b: &Builder<'_>,
    enclosure: &Enclosure,
    layout: &Layout,
    standing: &Standing,
) -> Vec<Basin> {
    let wall_mm = b.sheet(None).thickness_mm();
    let basin = |(i, space): (usize, &Space)| Basin {
        name: space.name.clone(),
        parameter: space.parameter.clone(),
        is_chamber: space.is_chamber,
        min: space.min,
        max: space.max,
        kept_level_mm: space.kept_level_mm,
        rest_mm: standing.levels_mm.get(i).copied().unwrap_or(0.0),
        rim_mm: enclosure.outside.z - enclosure.floor_z,
        wall_run_mm: wall_run_mm(enclosure, space),
        wall_mm,
        bodies: bodies(b, enclosure, space),
    };
    layout.spaces.iter().enumerate().map(basin).collect()
}

/// How much of the box's walls runs along a space.
fn wall_run_mm(enclosure: &Enclosure, space: &Space) -> f64 {
    let [lo, hi] = enclosure.inside;
    let size = space.max - space.min;
    let run = |is_beside: bool, length: f64| if is_beside { length } else { 0.0 };
    let is_same = |a: f64, b: f64| (a - b).abs() <= SAME_FACE_MM;
    run(is_same(space.min.y, lo.y), size.x)
        + run(is_same(space.max.y, hi.y), size.x)
        + run(is_same(space.min.x, lo.x), size.y)
        + run(is_same(space.max.x, hi.x), size.y)
}

/// Equipment that stands in a space, as far as water cannot enter it: its main body and all that is one
/// with it, each with the same share. Room that two of them share counts twice.
fn bodies(b: &Builder<'_>, enclosure: &Enclosure, space: &Space) -> Vec<Body> {
    if !space.is_chamber {
        return Vec::new();
    }
    let things = b.file.equipment.iter().enumerate().filter(|(_, e)| e.chamber == space.name);
    let parts = things.flat_map(|(i, thing)| {
        let is_main =
            move |d: &Draft| d.role == Role::Equipment && d.parameter == format!("equipment[{i}]");
        let main = b.drafts.iter().position(is_main);
        let is_of_it = move |(k, d): &(usize, &Draft)| {
            main.is_some_and(|main| *k == main || d.part_of == Some(main))
        };
        let drafts = b.drafts.iter().enumerate().filter(is_of_it);
        drafts.map(move |(_, draft)| (draft, thing.displaces.unwrap_or(1.0)))
    });
    parts.filter_map(|(draft, share)| body(enclosure, draft, share)).collect()
}

/// A body as far as it stands above the bottom, if it displaces anything.
fn body(enclosure: &Enclosure, draft: &Draft, share: f64) -> Option<Body> {
    let [lo, hi] = bounds(&draft.shape, &draft.pose);
    let size = (hi - lo).truncate();
    // A round bar that lies is taken as wide at all its heights: over them it has its volume.
    let filled = match &draft.shape {
        Shape::Sheet(_) => 1.0,
        Shape::Turned(_) => 0.25 * std::f64::consts::PI,
    };
    let area_mm2 = size.x * size.y * filled * share;
    let z_mm = [lo.z, hi.z].map(|z| (z - enclosure.floor_z).max(0.0));
    let is_there = area_mm2 > 0.0 && z_mm[1] > z_mm[0];
    is_there.then(|| Body { name: draft.name.clone(), z_mm, area_mm2 })
}

/// The part that was made from a parameter.
fn draft<'a>(b: &'a Builder<'_>, role: Role, parameter: &str) -> Option<&'a Draft> {
    b.drafts.iter().find(|d| d.role == role && d.parameter == parameter)
}

pub(super) fn shelves(b: &Builder<'_>, enclosure: &Enclosure, layout: &Layout) -> Vec<Shelf> {
    let holders = b.file.sock_holder.iter().enumerate();
    holders
        .filter_map(|(i, spec)| {
            let parameter = format!("sock_holder[{i}]");
            // A holder that does not fit has left no shelf: that was said.
            draft(b, Role::SockHolder, &parameter)?;
            let basin = basin_of(layout, &spec.chamber)?;
            let space = &layout.spaces[basin];
            let size = space.max - space.min;
            let middles: Vec<DVec2> = sock_middles(b, enclosure, layout, &spec.chamber)?;
            Some(Shelf {
                parameter,
                basin,
                top_mm: spec.height.to_mm(),
                socks: spec.socks,
                middles,
                diameter_mm: spec.sock.diameter.to_mm(),
                sock_end_mm: spec.height.to_mm() - spec.sock.length.to_mm(),
                passes_l_h: spec.sock.passes.map(units::Flow::to_l_per_h),
                bypass_mm: [spec.bypass.width.to_mm(), spec.bypass.depth.to_mm()],
                area_mm2: size.x * size.y,
            })
        })
        .collect()
}

pub(super) fn covers(b: &Builder<'_>, enclosure: &Enclosure, layout: &Layout) -> Vec<Cover> {
    let lids = b.file.lid.iter().enumerate();
    lids.filter_map(|(i, lid)| {
        let parameter = format!("lid[{i}]");
        let draft = draft(b, Role::Lid, &parameter)?;
        let [lo, hi] = bounds(&draft.shape, &draft.pose);
        let size = (hi - lo).truncate();
        let mut holes = vec![(lid.finger_hole.to_mm(), 1)];
        if let Some(field) = &lid.drain_holes {
            holes.push((field.diameter.to_mm(), field.rows as usize * field.columns as usize));
        }
        Some(Cover {
            parameter,
            basin: basin_of(layout, &lid.chamber)?,
            area_mm2: size.x * size.y,
            edge_mm: 2.0 * (size.x + size.y),
            top_mm: hi.z - enclosure.floor_z,
            holes,
        })
    })
    .collect()
}

/// The basin of a chamber.
pub(super) fn basin_of(layout: &Layout, chamber: &str) -> Option<usize> {
    layout.spaces.iter().position(|s| s.is_chamber && s.name == chamber)
}
