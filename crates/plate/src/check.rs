//! Whether the input is what it claims to be: finite, closed, round where it says so.

use std::f64::consts::TAU;

use glam::DVec2;

use crate::contour::Contour;
use crate::error::{Error, Which};
use crate::plate::Plate;
use crate::segment::Segment;
use crate::tolerance::Tolerance;

/// All contours of a plate, the outline first, as closed counter-clockwise loops; or why not.
pub(crate) fn checked_contours(plate: &Plate, tol: &Tolerance) -> Result<Vec<Vec<Segment>>, Error> {
    if !(plate.thickness > tol.same && plate.thickness <= FARTHEST_MM) {
        return Err(Error::Thickness { thickness_mm: plate.thickness });
    }
    for (i, cut) in plate.cuts.iter().enumerate() {
        if cut.depth.is_nan() || cut.depth <= tol.same {
            return Err(Error::Depth { which: Which::Cut(i), depth_mm: cut.depth });
        }
    }
    let all = std::iter::once(&plate.outline).chain(plate.cuts.iter().map(|c| &c.contour));
    all.enumerate().map(|(i, c)| checked_contour(&c.0, Which::new(i), tol)).collect()
}

fn checked_contour(
    contour: &[Segment],
    which: Which,
    tol: &Tolerance,
) -> Result<Vec<Segment>, Error> {
    let mut pieces = contour.to_vec();
    for (i, piece) in contour.iter().enumerate() {
        let next = contour[(i + 1) % contour.len()].start;
        check_finite(piece, which)?;
        let gap_mm = piece.end.distance(next);
        if gap_mm > tol.same {
            return Err(Error::Open { which, at: piece.end, gap_mm });
        }
        check_piece(piece, which, tol)?;
        pieces[i].end = next;
    }
    let area = Contour(pieces.clone()).signed_area();
    if area.abs() < tol.near_miss * tol.near_miss {
        return Err(Error::NoArea { which });
    }
    if area < 0.0 {
        pieces = pieces.iter().rev().map(|s| s.reversed()).collect();
    }
    Ok(pieces)
}

fn check_finite(piece: &Segment, which: Which) -> Result<(), Error> {
    let arc = piece.arc.map_or([DVec2::ZERO; 2], |a| [a.centre, DVec2::splat(a.sweep)]);
    let points = [piece.start, piece.end, arc[0]];
    if !points.iter().all(|p| p.is_finite()) || !arc[1].is_finite() {
        return Err(Error::NotFinite { which });
    }
    match points.into_iter().find(|p| p.abs().max_element() > FARTHEST_MM) {
        Some(at) => Err(Error::TooFar { which, at, farthest_mm: FARTHEST_MM }),
        None => Ok(()),
    }
}

/// One kilometre. There `f64` still resolves 1e-10 mm, which leaves room for the rounding of
/// crossings below [`Tolerance::same`].
pub(crate) const FARTHEST_MM: f64 = 1e6;

fn check_piece(piece: &Segment, which: Which, tol: &Tolerance) -> Result<(), Error> {
    let length_mm = piece.length();
    if length_mm < tol.near_miss {
        let (at, least_mm) = (piece.start, tol.near_miss);
        return Err(Error::ShortPiece { which, at, length_mm, least_mm });
    }
    if let Some(arc) = piece.arc {
        let chord = piece.start.distance(piece.end);
        if arc.sweep.abs() >= TAU || chord < tol.near_miss {
            return Err(Error::WholeTurn { which, at: piece.start, sweep_rad: arc.sweep });
        }
        let [r0, r1] = [piece.start, piece.end].map(|p| p.distance(arc.centre));
        let turned = arc.centre + DVec2::from_angle(arc.sweep).rotate(piece.start - arc.centre);
        let off = turned.distance(piece.end);
        if (r0 - r1).abs() > tol.same || off > tol.near_miss {
            return Err(Error::ArcEnds { which, at: piece.end, by_mm: off.max((r0 - r1).abs()) });
        }
    }
    Ok(())
}
