//! Whether square parts go into what is cut for them: grooves, steps, slots, notches, guides, for glued parts and for
//! loose ones.
//!
//! A part's edges are square, and a round tool leaves inner corners round. So wherever a part stands in the sheet of
//! another, the four corners of what it shows there must lie where the tool really was, not only where the drawing has a
//! cut.

mod section;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use design::{Design, Placed};
use findings::Finding;
use glam::{DAffine3, DVec2, DVec3};
use params::{Process, Relief};
use plate::{Contour, Face, Plate, Shape};
use units::Length;

use self::section::winding;
use crate::process::Machine;
use crate::work::{CutPath, OperationKind, Work};

/// A square corner may stay off by this, mm: it is scraped (our judgement).
const SCRAPED_MM: f64 = 0.1;
/// Less deep in a sheet than this is touch, mm.
const TOUCH_MM: f64 = 0.05;

/// One finding for each pair of parts that do not go together.
pub(super) fn check(file: &params::File, design: &Design, works: &[Work]) -> Vec<Finding> {
    let of = |placed: &Placed| works.iter().find(|work| work.piece == placed.piece);
    let mut worst: BTreeMap<(usize, usize), Corner> = BTreeMap::new();
    let mut pair_of: Vec<(&Placed, &Placed)> = Vec::new();
    for host in &design.placed {
        let (Some(host_work), Some(host_plate)) = (of(host), plate_of(design, host)) else {
            continue;
        };
        let machine = Machine::new(&file.cutting_of(design.pieces[host.piece].sheet.as_deref()));
        if machine.process == Process::Saw {
            continue;
        }
        let host_cut = HostCut { work: host_work, plate: host_plate, machine: &machine };
        for part in &design.placed {
            let (Some(work), Some(plate)) = (of(part), plate_of(design, part)) else { continue };
            let to_host = host.pose.inverse() * part.pose;
            let Some(corner) = host_cut.worst_corner(work, plate, to_host) else { continue };
            if corner.off_mm <= SCRAPED_MM {
                continue;
            }
            let key = (part.piece, host.piece);
            if worst.get(&key).is_none_or(|known| known.off_mm < corner.off_mm) {
                pair_of.push((part, host));
                worst.insert(key, Corner { pair: pair_of.len() - 1, ..corner });
            }
        }
    }
    worst
        .values()
        .map(|corner| {
            let (part, host) = pair_of[corner.pair];
            finding(file, design, part, host, corner)
        })
        .collect()
}

fn plate_of<'a>(design: &'a Design, placed: &Placed) -> Option<&'a Plate> {
    match &design.pieces[placed.piece].shape {
        Shape::Sheet(plate) => Some(plate),
        Shape::Turned(_) => None,
    }
}

/// A corner of a part that stands in what is left of another.
#[derive(Clone, Copy)]
struct Corner {
    /// By how much, mm.
    off_mm: f64,
    /// Where, in the other's own frame.
    at: DVec2,
    /// Whether the drawing has no cut there at all, so that it is not the tool alone.
    is_drawn: bool,
    pair: usize,
}

/// A sheet with what the tool does to it.
struct HostCut<'a> {
    work: &'a Work,
    plate: &'a Plate,
    machine: &'a Machine,
}

impl HostCut<'_> {
    /// The corner of a part that stands deepest in what is left; `None` when the part does not stand in this sheet, or
    /// not square to it.
    fn worst_corner(&self, work: &Work, plate: &Plate, to_host: DAffine3) -> Option<Corner> {
        let up = |axis: DVec3| to_host.transform_vector3(axis).z;
        // Which axis of the part runs through the sheet.
        let v = match [up(DVec3::X), up(DVec3::Y)].map(|z| z.abs() > 0.999) {
            [true, false] => 0,
            [false, true] => 1,
            _ => return None,
        };
        let [lo, hi] = plate.outline.bounds()?;
        let z_of = |at: f64| {
            let mut p = DVec2::ZERO;
            p[v] = at;
            to_host.transform_point3(p.extend(0.0)).z
        };
        let (way, foot) = (up(if v == 0 { DVec3::X } else { DVec3::Y }), z_of(0.0));
        let thickness = self.plate.thickness;
        let (z_lo, z_hi) = {
            let (a, b) = (z_of(lo[v]), z_of(hi[v]));
            (a.min(b).max(0.0), a.max(b).min(thickness))
        };
        if z_hi - z_lo < 2.0 * TOUCH_MM {
            return None;
        }
        let within = |share: f64| z_lo + TOUCH_MM + share * (z_hi - z_lo - 2.0 * TOUCH_MM);
        let levels = [0.0, 0.5, 1.0].map(within);
        let pattern = &work.pattern;
        let corners = levels.into_iter().flat_map(|z| {
            let at = (z - foot) * way;
            let corners = section::corners(pattern, plate.thickness, v, at);
            corners.into_iter().map(move |corner| (corner, z))
        });
        let mut worst: Option<Corner> = None;
        for (corner, z) in corners {
            let p = to_host.transform_point3(corner).truncate();
            let (off_mm, is_drawn) = self.standing_at(p, z);
            if worst.is_none_or(|worst| worst.off_mm < off_mm) {
                worst = Some(Corner { off_mm, at: p, is_drawn, pair: 0 });
            }
        }
        worst
    }

    /// How far a place of the sheet, at a height above its lower face, is from where there is nothing left; and whether
    /// the drawing has no cut there.
    fn standing_at(&self, p: DVec2, z: f64) -> (f64, bool) {
        let is_free_at = |face: Face, depth_mm: f64| match face {
            Face::Top => z >= self.plate.thickness - depth_mm - TOUCH_MM,
            Face::Bottom => z <= depth_mm + TOUCH_MM,
        };
        let pattern = &self.work.pattern;
        let floors =
            || pattern.pockets.iter().filter(|pocket| is_free_at(pocket.face, pocket.depth_mm));
        let edges = pattern.through.iter().chain(floors().flat_map(|pocket| &pocket.loops));
        let to_edge = nearest(edges, p);
        let is_cut = winding(&pattern.through, p) == 0
            || floors().any(|pocket| winding(&pocket.loops, p) != 0);
        if !is_cut {
            return (to_edge, true);
        }
        let radius = self.machine.radius_mm();
        // As far as this from every edge the tool gets, whether it clears the rest or lets it fall out.
        if to_edge >= radius {
            return (0.0, false);
        }
        let operations = self.work.operations.iter().filter(|operation| match operation.kind {
            OperationKind::Engrave => false,
            OperationKind::Pocket => is_free_at(operation.face, operation.depth_mm),
            _ => true,
        });
        let paths =
            operations.flat_map(|operation| &operation.tool).filter_map(|path| match path {
                CutPath::Closed(contour) => Some(contour),
                CutPath::Open(_) => None,
            });
        let off = (nearest(paths, p) - radius).max(0.0);
        // Where the tool does not get in at all is told with its paths.
        (if off.is_finite() { off } else { 0.0 }, false)
    }
}

fn nearest<'a>(contours: impl Iterator<Item = &'a Contour>, p: DVec2) -> f64 {
    contours.flat_map(|contour| &contour.0).map(|s| s.distance(p)).fold(f64::INFINITY, f64::min)
}

fn finding(
    file: &params::File,
    design: &Design,
    part: &Placed,
    host: &Placed,
    corner: &Corner,
) -> Finding {
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let (off, [x, y]) = (show(corner.off_mm), corner.at.to_array().map(show));
    let message = if corner.is_drawn {
        format!(
            "the square corner of {} stands {off} into what is left of {}, at [{x}, {y}] of it: its cut ends there or is round",
            part.name, host.name
        )
    } else {
        format!(
            "a square corner of {} goes into {} where a round tool leaves {off} standing, at [{x}, {y}] of it",
            part.name, host.name
        )
    };
    let hint = match file.cutting.relief {
        Relief::Beyond => {
            "have that corner filed square, round that corner of the part by hand, or let grooves have bites at their corners (`cutting.relief = \"dogbone\"`)"
        }
        Relief::Dogbone | Relief::Tbone => {
            "have that corner filed square, round that corner of the part by hand, or take a thinner cutter (`cutting.tool`)"
        }
    };
    Finding::tight("square-end-in-round-groove", &part.parameter, message)
        .with_limit(corner.off_mm, SCRAPED_MM, "mm")
        .with_source("our judgement: a tenth of a millimetre is scraped off by hand")
        .with_hint(hint)
}
