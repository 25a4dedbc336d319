//! Paths that clear the floor of a pocket.
//!
//! The tool may go over everything that is lower than the floor or is no part at all: over the outline where a rabbet
//! runs out, over an opening. It keeps clear of all that stands higher. So the room that it clears is the floor, grown a
//! little, less what stands higher; and the paths are that room, made smaller by the tool's radius and then by one
//! stepover after another, each from the room itself.

use cavalier_contours::polyline::{PlineSource, Polyline};
use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, PocketRegion, Tolerance, arrange, flat_pattern};

use super::beside::{gets_further, keeps_away};
use super::capsules;
use super::pline::{to_contour, to_pline};
use super::reach::left_standing;
use super::{EASE_MM, NoPath};

/// How far the room is grown beyond the floor, in radii of the tool: the middle of the tool then runs a little over
/// every open edge. Where that leaves something standing, the room is grown by more than the tool's diameter, which takes
/// in every place from which the tool touches the floor: beside a rabbet that is narrower than the tool.
const OVERRUNS: [f64; 2] = [1.05, 2.05];
/// If the arrangement finds two features that are neither one nor clearly apart, it is tried again with rooms that are
/// larger by these, in radii.
const AGAIN: [f64; 3] = [0.0, 0.08, 0.16];
/// So much less left standing is worth a longer way, mm² along the edges.
const BETTER_MM2: f64 = 1e-3;
/// By how much more holes of the room are widened, in turn, until the arrangement is sure of what touches what, mm.
const HAIRS_MM: [f64; 3] = [0.0, 0.0007, 0.0013];
/// More rounds than any sheet has room for.
const MOST_ROUNDS: u32 = 4000;

/// All that stands higher than a floor: its edges, with the part on their left.
#[derive(Clone, Debug)]
pub(crate) struct Walls(Vec<Contour>);

impl Walls {
    /// What stands higher than `depth_mm` below a face: the plate without the cuts that go as deep as that or deeper.
    ///
    /// # Errors
    /// When that plate cannot be arranged.
    pub(crate) fn new(plate: &Plate, face: Face, depth_mm: f64) -> Result<Self, NoPath> {
        let same = Tolerance::default().same;
        let goes_down = |cut: &&Cut| {
            cut.depth >= plate.thickness - same
                || (cut.face == face && cut.depth >= depth_mm - same)
        };
        let mut higher = Plate::new(plate.outline.clone(), plate.thickness);
        let down = plate.cuts.iter().filter(goes_down);
        higher.cuts.extend(down.map(|cut| Cut::through(cut.contour.clone())));
        Ok(Self(pattern_of(&higher)?.through))
    }
}

pub(super) fn pattern_of(plate: &Plate) -> Result<plate::FlatPattern, NoPath> {
    let arrangement =
        arrange(plate, &Tolerance::default()).map_err(|error| NoPath::NoRoom(error.to_string()))?;
    Ok(flat_pattern(plate, &arrangement))
}

/// The paths that clear a floor, the innermost first and along the walls last. None where the tool does not fit.
///
/// # Errors
/// When the room cannot be worked out.
pub(crate) fn clear(
    floor: &PocketRegion,
    walls: &Walls,
    radius_mm: f64,
    stepover_mm: f64,
) -> Result<Vec<Contour>, NoPath> {
    let mut best: Option<(f64, Vec<Contour>)> = None;
    for overrun in OVERRUNS {
        let paths = clear_over(floor, walls, overrun, radius_mm, stepover_mm)?;
        let left = left_standing(floor.loops.iter(), &paths, radius_mm).sum_mm2;
        if best.as_ref().is_none_or(|(least, _)| left < least - BETTER_MM2) {
            best = Some((left, paths));
        }
        if left <= BETTER_MM2 {
            break;
        }
    }
    Ok(best.map_or_else(Vec::new, |(_, paths)| paths))
}

fn clear_over(
    floor: &PocketRegion,
    walls: &Walls,
    overrun: f64,
    radius_mm: f64,
    stepover_mm: f64,
) -> Result<Vec<Contour>, NoPath> {
    let mut tried = AGAIN.iter().map(|more| room(floor, walls, (overrun + more) * radius_mm));
    let room =
        tried.find(Result::is_ok).unwrap_or_else(|| room(floor, walls, overrun * radius_mm))?;
    let room = Room { plines: plines(&room)?, loops: room };
    let [exact, eased] = [radius_mm, radius_mm - EASE_MM].map(|inset| smaller(&room, inset));
    let (exact, eased) = (exact?, eased?);
    let (first, radius_mm) = if gets_further(&eased, &exact, radius_mm) {
        (eased, radius_mm - EASE_MM)
    } else {
        (exact, radius_mm)
    };
    let mut rounds = vec![first];
    for round in 1..MOST_ROUNDS {
        let loops = smaller(&room, radius_mm + f64::from(round) * stepover_mm)?;
        if loops.is_empty() {
            break;
        }
        rounds.push(loops);
    }
    // A floor's loops have it on their left, a path has the part there.
    Ok(rounds.into_iter().rev().flatten().map(|path| path.reversed()).collect())
}

fn plines(loops: &[Contour]) -> Result<Vec<Polyline<f64>>, NoPath> {
    loops.iter().map(to_pline).collect()
}

/// A region: its loops with the inside on their left, as they are and as the library wants them.
struct Room {
    loops: Vec<Contour>,
    plines: Vec<Polyline<f64>>,
}

/// A room made smaller on all sides.
///
/// Each loop is moved by itself; where the moved loops overlap, the plate's own arrangement finds what is left. The
/// library could move them together, but loses its way where two of them touch.
fn smaller(room: &Room, inset_mm: f64) -> Result<Vec<Contour>, NoPath> {
    for hair_mm in HAIRS_MM {
        if let Ok(loops) = smaller_by(&room.plines, inset_mm, hair_mm)
            && keeps_away(&loops, &room.loops, inset_mm)
        {
            return Ok(loops);
        }
    }
    capsules::smaller(&room.loops, inset_mm)
}

fn smaller_by(
    region: &[Polyline<f64>],
    inset_mm: f64,
    hair_mm: f64,
) -> Result<Vec<Contour>, NoPath> {
    let (mut outers, mut holes) = (Vec::new(), Vec::new());
    for (source, loop_) in region.iter().enumerate() {
        // Holes are moved by a hair more at the second try, so that they do not nearly touch.
        let inset = if loop_.area() < 0.0 { inset_mm + hair_mm } else { inset_mm };
        for moved in loop_.parallel_offset(inset).iter().filter_map(to_contour) {
            let list = if moved.signed_area() > 0.0 { &mut outers } else { &mut holes };
            list.push((source, moved));
        }
    }
    let mut left = Vec::new();
    for (source, outer) in outers {
        let Some([lo, hi]) = outer.bounds() else { continue };
        let meets = |hole: &&(usize, Contour)| {
            hole.0 != source
                && hole.1.bounds().is_some_and(|[a, b]| a.cmple(hi).all() && lo.cmple(b).all())
        };
        let cuts: Vec<Cut> =
            holes.iter().filter(meets).map(|(_, hole)| Cut::through(hole.clone())).collect();
        if cuts.is_empty() {
            left.push(outer);
        } else {
            let rest = Plate { cuts, ..Plate::new(outer, 1.0) };
            left.extend(pattern_of(&rest)?.through);
        }
    }
    Ok(left)
}

/// The floor grown by `overrun_mm`, less the walls: the loops of the part of it in which the floor lies.
fn room(floor: &PocketRegion, walls: &Walls, overrun_mm: f64) -> Result<Vec<Contour>, NoPath> {
    let grown = plines(&floor.loops)?.into_iter().flat_map(|l| l.parallel_offset(-overrun_mm));
    let grown = grown.filter_map(|loop_| to_contour(&loop_));
    let (outer, holes): (Vec<Contour>, Vec<Contour>) = grown.partition(|c| c.signed_area() > 0.0);
    let outer = outer.into_iter().max_by(|a, b| a.signed_area().total_cmp(&b.signed_area()));
    let outer = outer.ok_or_else(|| NoPath::NoRoom("the floor has no extent".to_owned()))?;
    let Some([lo, hi]) = outer.bounds() else { return Ok(Vec::new()) };

    // A plate that is the grown floor, with all of it one step deep, and each loop of the walls one step deeper than what
    // it lies in: at odd depths the tool is free, at even ones something stands.
    let mut steps = Plate::new(outer, 1000.0);
    let beyond = DVec2::splat(10.0 * overrun_mm);
    steps.cuts.push(Cut::pocket(Contour::rectangle(lo - beyond, hi + beyond), Face::Top, 1.0));
    let near = |contour: &&Contour| {
        contour.bounds().is_some_and(|[a, b]| a.cmplt(hi).all() && lo.cmplt(b).all())
    };
    for wall in walls.0.iter().filter(near) {
        let depth = 2.0 + nesting(wall, &walls.0);
        steps.cuts.push(Cut::pocket(wall.clone(), Face::Top, depth));
    }
    steps.cuts.extend(holes.into_iter().map(Cut::through));

    let pattern = pattern_of(&steps)?;
    let is_free = |region: &&PocketRegion| {
        region.face == Face::Top && (region.depth_mm.round() % 2.0 - 1.0).abs() < 0.5
    };
    let inside = inner_point(&floor.loops)
        .ok_or_else(|| NoPath::NoRoom("the floor has no inside".to_owned()))?;
    let mut free = pattern.pockets.into_iter().filter(|region| is_free(&region));
    let holds = |region: &PocketRegion| winding(&region.loops, inside) > 0;
    let room = free.find(holds).ok_or_else(|| NoPath::NoRoom("the floor was lost".to_owned()))?;
    Ok(room.loops)
}

fn winding(loops: &[Contour], p: DVec2) -> i32 {
    loops.iter().map(|contour| contour.winding(p)).sum()
}

/// In how many other loops one lies.
fn nesting(wall: &Contour, walls: &[Contour]) -> f64 {
    let Some(inside) = inner_point(std::slice::from_ref(wall)) else { return 0.0 };
    let holds = |other: &&Contour| {
        !std::ptr::eq(*other, wall)
            && other.winding(inside) != 0
            && other.signed_area().abs() > wall.signed_area().abs()
    };
    walls.iter().filter(holds).map(|_| 1.0).sum()
}

/// A point just inside loops, whichever way they run: beside the middle of the first piece for which there is one.
fn inner_point(loops: &[Contour]) -> Option<DVec2> {
    const HAIR_MM: f64 = 1e-3;
    let pieces = loops.iter().flat_map(|contour| &contour.0);
    let beside = pieces.flat_map(|piece| {
        let [before, middle, after] = [0.49, 0.5, 0.51].map(|t| piece.point_at(t));
        let side = (after - before).normalize_or(dvec2(1.0, 0.0)).perp() * HAIR_MM;
        [middle + side, middle - side]
    });
    beside.into_iter().find(|p| winding(loops, *p) != 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Paths of a plate's only pocket, and what they leave standing of its edges.
    fn cleared(plate: &Plate, radius: f64) -> (Vec<Contour>, f64) {
        let pattern = pattern_of(plate).unwrap();
        assert_eq!(pattern.pockets.len(), 1);
        let region = &pattern.pockets[0];
        let walls = Walls::new(plate, region.face, region.depth_mm).unwrap();
        let paths = clear(region, &walls, radius, radius).unwrap();
        let left = left_standing(region.loops.iter(), &paths, radius).most_mm;
        (paths, left)
    }

    fn sheet() -> Plate {
        Plate::new(Contour::rectangle(dvec2(0., 0.), dvec2(200., 100.)), 8.0)
    }

    #[test]
    fn a_closed_pocket_is_cleared_from_the_inside_out() {
        let mut plate = sheet();
        let pocket = Contour::rounded_rectangle(dvec2(20., 20.), dvec2(80., 60.), 5.0);
        plate.cuts.push(Cut::pocket(pocket, Face::Top, 3.0));
        let (paths, left) = cleared(&plate, 3.0);
        // 40 mm across: rounds at 3, 6, … 18 mm from the walls.
        assert_eq!(paths.len(), 6);
        let lengths: Vec<f64> = paths.iter().map(Contour::length).collect();
        assert!(lengths.windows(2).all(|pair| pair[0] < pair[1]), "{lengths:?}");
        assert!(left < 1e-6, "{left}");
    }

    #[test]
    fn a_rabbet_runs_out_over_the_edge() {
        let mut plate = sheet();
        let rabbet = Contour::rectangle(dvec2(-5., -5.), dvec2(8., 105.));
        plate.cuts.push(Cut::pocket(rabbet, Face::Top, 3.0));
        let (paths, left) = cleared(&plate, 3.0);
        assert!(left < 1e-6, "{left}");
        let lowest =
            paths.iter().filter_map(Contour::bounds).map(|[lo, _]| lo.y).fold(0.0, f64::min);
        assert!(lowest < 0.0);
        // Never nearer to the wall than the tool's radius, but for a hair round its corner beyond the sheet's edge.
        let right = |path: &Contour| path.bounds().map_or(0.0, |[_, hi]| hi.x);
        let nearest = paths.iter().map(right).fold(0.0, f64::max);
        assert!((5.0 - 1e-9..5.01).contains(&nearest), "{nearest}");
    }

    #[test]
    fn an_island_is_gone_round_and_an_opening_is_gone_over() {
        let mut plate = sheet();
        let pocket = Contour::rounded_rectangle(dvec2(20., 20.), dvec2(180., 80.), 10.0);
        plate.cuts.push(Cut::pocket(pocket, Face::Top, 3.0));
        plate.cuts.push(Cut::through(Contour::circle(dvec2(60., 50.), 4.0)));
        let (_, left) = cleared(&plate, 3.0);
        assert!(left < 1e-6, "{left}");
    }

    #[test]
    fn a_groove_of_the_tools_own_width_is_cut() {
        let mut plate = sheet();
        plate.cuts.push(Cut::pocket(
            Contour::slot(dvec2(50., 10.), dvec2(50., 90.), 3.0),
            Face::Top,
            3.0,
        ));
        let (paths, left) = cleared(&plate, 3.0);
        assert!(!paths.is_empty() && left < 0.003, "{left}");
        let (paths, _) = cleared(&plate, 3.05);
        assert_eq!(paths, []);
    }
}
