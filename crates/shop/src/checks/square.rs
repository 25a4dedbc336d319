//! Whether square parts go into what is cut for them: grooves, steps, slots, notches, guides, for glued parts and for
//! loose ones.
//!
//! A part's edges are square, and a round tool leaves inner corners round. So wherever a part stands in the sheet of
//! another, the four corners of what it shows there must lie where the tool really was, not only where the drawing has a
//! cut.

use std::collections::BTreeMap;

use design::{Design, Placed};
use findings::Finding;
use glam::{DAffine3, DVec2, DVec3};
use params::{Process, Relief};
use plate::{Contour, Face, Plate, Segment, Shape};
use units::Length;

use crate::process::Machine;
use crate::work::{CutPath, OperationKind, Work};

/// A square corner may stay off by this, mm: it is scraped (our judgement).
const SCRAPED_MM: f64 = 0.1;
/// Less deep in a sheet than this is touch, mm.
const TOUCH_MM: f64 = 0.05;
/// Corners are looked at so far within the part, mm: what lies on the very edge of a groove is in it.
const HAIR_MM: f64 = 0.02;

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
        let corners = levels.into_iter().flat_map(|z| {
            let at = (z - foot) * way;
            let ends = stretches(&work.pattern.through, v, at);
            let of_end = move |[a, b]: [f64; 2]| {
                let hair = HAIR_MM.min(0.25 * (b - a));
                [a + hair, b - hair].into_iter().flat_map(move |u| {
                    [(Face::Bottom, 0.0, HAIR_MM), (Face::Top, plate.thickness, -HAIR_MM)]
                        .map(move |(face, depth, inwards)| (u, at, face, depth + inwards, z))
                })
            };
            ends.into_iter().flat_map(of_end).collect::<Vec<_>>()
        });
        let mut worst: Option<Corner> = None;
        for (u, at, face, depth, z) in corners {
            let own = if v == 0 { DVec2::new(at, u) } else { DVec2::new(u, at) };
            // A corner that the part itself has lost to a step is none.
            let is_lost = work
                .pattern
                .pockets
                .iter()
                .any(|pocket| pocket.face == face && winding(&pocket.loops, own) != 0);
            if is_lost {
                continue;
            }
            let p = to_host.transform_point3(own.extend(depth)).truncate();
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

fn winding(loops: &[Contour], p: DVec2) -> i32 {
    loops.iter().map(|contour| contour.winding(p)).sum()
}

fn nearest<'a>(contours: impl Iterator<Item = &'a Contour>, p: DVec2) -> f64 {
    contours.flat_map(|contour| &contour.0).map(|s| s.distance(p)).fold(f64::INFINITY, f64::min)
}

/// From where to where there is material on the line at which coordinate `v` of the part is `at`, by the other coordinate.
fn stretches(loops: &[Contour], v: usize, at: f64) -> Vec<[f64; 2]> {
    let mut ends: Vec<f64> =
        loops.iter().flat_map(|contour| &contour.0).flat_map(|s| crossings(s, v, at)).collect();
    ends.sort_by(f64::total_cmp);
    ends.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let is_material = |pair: &&[f64]| {
        let middle = 0.5 * (pair[0] + pair[1]);
        let p = if v == 0 { DVec2::new(at, middle) } else { DVec2::new(middle, at) };
        winding(loops, p) != 0
    };
    let mut all: Vec<[f64; 2]> = Vec::new();
    for pair in ends.windows(2).filter(is_material) {
        match all.last_mut() {
            Some(last) if (last[1] - pair[0]).abs() < 1e-6 => last[1] = pair[1],
            _ => all.push([pair[0], pair[1]]),
        }
    }
    all
}

/// Where a piece crosses that line.
fn crossings(piece: &Segment, v: usize, at: f64) -> Vec<f64> {
    let u = 1 - v;
    let (Some(arc), Some(radius)) = (piece.arc, piece.radius()) else {
        let (a, b) = (piece.start, piece.end);
        if (a[v] - at) * (b[v] - at) > 0.0 || (a[v] - b[v]).abs() < 1e-9 {
            return Vec::new();
        }
        let share = (at - a[v]) / (b[v] - a[v]);
        return vec![a[u] + share * (b[u] - a[u])];
    };
    let off = at - arc.centre[v];
    if off.abs() >= radius {
        return Vec::new();
    }
    let reach = (radius * radius - off * off).sqrt();
    let candidates = [arc.centre[u] - reach, arc.centre[u] + reach];
    let is_on = |x: &f64| {
        let p = if v == 0 { DVec2::new(at, *x) } else { DVec2::new(*x, at) };
        piece.distance(p) < 1e-6
    };
    candidates.into_iter().filter(is_on).collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::work::operations_of;
    use glam::{DMat3, dvec2, dvec3};
    use params::Cutting;
    use plate::Cut;

    /// How far the corners of a leaf, 40 × 100 × 8 mm and 30 mm deep in a sheet, stand in what a cutter of 6 mm leaves of
    /// a cut 41 mm long.
    fn off(cuts: Vec<Cut>) -> f64 {
        let machine = Machine::new(&Cutting::default());
        let mut host = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(200.0, 100.0)), 10.0);
        host.cuts = cuts;
        let leaf = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(40.0, 100.0)), 8.0);
        let work = |plate: &Plate| {
            let (pattern, operations) = operations_of(&machine, plate).expect("it is cut");
            Work { piece: 0, pattern, operations }
        };
        // Its x along the sheet's, its y up through the sheet.
        let turn = DMat3::from_cols(DVec3::X, DVec3::Z, DVec3::NEG_Y);
        let pose = DAffine3::from_mat3_translation(turn, dvec3(80.0, 54.0, 4.0));
        let host_work = work(&host);
        let cut = HostCut { work: &host_work, plate: &host, machine: &machine };
        cut.worst_corner(&work(&leaf), &leaf, pose).map_or(0.0, |corner| corner.off_mm)
    }

    fn slot(radius: f64) -> Contour {
        let (lo, hi) = (dvec2(79.5, 45.75), dvec2(120.5, 54.25));
        if radius > 0.0 {
            Contour::rounded_rectangle(lo, hi, radius)
        } else {
            Contour::rectangle(lo, hi)
        }
    }

    #[test]
    fn a_square_leaf_in_a_slot_meets_what_the_cutter_leaves() {
        // The leaf's corner lies 0.52 and 0.27 mm inside that of the slot, whose middle of the arc 3 mm from both sides.
        let expected = (2.48_f64.powi(2) + 2.73_f64.powi(2)).sqrt() - 3.0;
        for pocket in [false, true] {
            let cut = |contour| {
                if pocket { Cut::pocket(contour, Face::Top, 6.0) } else { Cut::through(contour) }
            };
            let sharp = off(vec![cut(slot(0.0))]);
            assert!((sharp - expected).abs() < 0.01, "{sharp} {expected}");
            let bites = [(79.5, 45.75), (120.5, 45.75), (79.5, 54.25), (120.5, 54.25)];
            let bites = bites.map(|(x, y)| {
                let inwards =
                    dvec2(if x < 100.0 { 1.0 } else { -1.0 }, if y < 50.0 { 1.0 } else { -1.0 });
                cut(Contour::circle(
                    dvec2(x, y) + inwards * 3.01 * std::f64::consts::FRAC_1_SQRT_2,
                    3.01,
                ))
            });
            let relieved = off([vec![cut(slot(0.0))], bites.to_vec()].concat());
            assert!(relieved < 0.02, "{relieved}");
        }
        // A groove that is deep enough for half of it only: the corners stand in the floor.
        assert!(off(vec![Cut::pocket(slot(0.0), Face::Top, 3.0)]) > 0.2);
        assert!(off(Vec::new()) > 10.0);
    }

    #[test]
    fn a_drawn_round_end_is_told_as_well() {
        let round = off(vec![Cut::through(slot(4.25))]);
        let expected = (3.73_f64.powi(2) + 3.98_f64.powi(2)).sqrt() - 4.25;
        assert!((round - expected).abs() < 0.01, "{round} {expected}");
    }

    #[test]
    fn stretches_are_found_across_lines_and_arcs() {
        let outer = Contour::rounded_rectangle(DVec2::ZERO, dvec2(100.0, 50.0), 10.0);
        let hole = Contour::circle(dvec2(50.0, 25.0), 5.0).reversed();
        let found = stretches(&[outer, hole], 1, 25.0);
        assert_eq!(found.len(), 2);
        for (found, expected) in found.iter().flatten().zip([0.0, 45.0, 55.0, 100.0]) {
            assert!((found - expected).abs() < 1e-9);
        }
    }
}
