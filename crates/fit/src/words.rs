//! Motions as a person is told them.
//!
//! Directions are the keeper's, who stands before the sump: up and down, towards the inlet end and the far end,
//! towards the front and the back.

mod cures;
mod direction;
mod gaps;
mod length;
mod lists;
mod places;
mod plain;
mod proofs;
mod stays;

#[cfg(test)]
mod tests;

use glam::DVec3;
use units::System;

use crate::motion::Motion;
use crate::way::{Move, MoveKind};
pub use cures::cure;
pub(crate) use direction::along;
use direction::level_words;
pub use gaps::gap;
use length::length;
pub use lists::{listed, percent};
pub use places::inside_corner;
pub(crate) use proofs::name as thing_name;
pub use proofs::{ToldProof, tell_proof};

/// How fast a slide is played, mm/s; our judgement, for playing only.
const SLIDE_MM_S: f64 = 50.0;
/// How fast a turn is played, degrees per second; our judgement, for playing only.
const TURN_DEG_S: f64 = 30.0;
/// Between two moves, s; our judgement, for playing only.
const PAUSE_S: f64 = 0.5;

/// A turn of less is none to a person, degrees; our judgement.
const NO_TURN_DEG: f64 = 0.25;
/// A slide of less is none to a person, mm; our judgement.
const NO_SLIDE_MM: f64 = 0.25;
/// What leans less than this against an axis is along it to a person, degrees; our judgement.
const ALONG_DEG: f64 = 3.0;

/// A way as moves with words and times. The last move ends with what it comes out of: `out of the sump`.
pub(crate) fn tell(way: &[Motion], system: System, out_of: &str) -> Vec<Move> {
    let mut begin_s = 0.0;
    let mut moves: Vec<Move> = Vec::with_capacity(way.len());
    // What does not move is nothing to do.
    for motion in way.iter().filter(|motion| motion.from != motion.to) {
        let told = told(motion, system, begin_s);
        begin_s = told.end_s + PAUSE_S;
        moves.push(told);
    }
    if let Some(last) = moves.last_mut() {
        last.words.push_str(&format!(", {out_of}"));
    }
    moves
}

fn told(motion: &Motion, system: System, begin_s: f64) -> Move {
    let (distance_mm, angle_deg) = (motion.distance(), motion.angle().to_degrees());
    let (kind, words) = kind_and_words(motion, system);
    Move {
        kind,
        words,
        begin_s,
        end_s: begin_s + (distance_mm / SLIDE_MM_S).max(angle_deg / TURN_DEG_S),
        from: motion.from,
        to: motion.to,
        pivot: motion.pivot,
        distance_mm,
        angle_deg,
    }
}

fn kind_and_words(motion: &Motion, system: System) -> (MoveKind, String) {
    let turns = NO_TURN_DEG < motion.angle().to_degrees();
    let slides = NO_SLIDE_MM < motion.distance();
    let (slide_kind, slide) = slide(motion, system);
    if !turns {
        return (slide_kind, slide.join(" while you "));
    }
    let (turn_kind, turn) = turn(motion);
    if slides {
        (MoveKind::TurnWhileSliding, format!("{turn} while you {}", slide.join(" and ")))
    } else {
        (turn_kind, turn.trim_end_matches(',').to_owned())
    }
}

/// A slide in at most two parts: up or down, and along.
fn slide(motion: &Motion, system: System) -> (MoveKind, Vec<String>) {
    let by = motion.to.apply(motion.pivot) - motion.from.apply(motion.pivot);
    let least_heard = libm::sin(ALONG_DEG.to_radians()) * by.length();
    let is_upright = by.truncate().length() <= least_heard;
    let is_level = by.z.abs() <= least_heard;
    let verb = if by.z < 0.0 { "lower" } else { "raise" };
    let upright = format!("{verb} it {}", length(by.z.abs(), system));
    let level = format!("slide it {}", along(by.truncate(), system));
    match (is_upright, is_level) {
        (true, _) if by.z < 0.0 => (MoveKind::Lower, vec![upright]),
        (true, _) => (MoveKind::Raise, vec![upright]),
        (_, true) => (MoveKind::Slide, vec![level]),
        _ => (MoveKind::SlideSlanting, vec![upright, level]),
    }
}

/// A turn by its axis: upright, level, or slanting.
fn turn(motion: &Motion) -> (MoveKind, String) {
    let by = motion.to.turn * motion.from.turn.inverse();
    let by = if by.w < 0.0 { -by } else { by };
    let axis = by.xyz().normalize_or(DVec3::Z);
    let degrees = degrees(motion.angle().to_degrees());
    let least_heard = libm::sin(ALONG_DEG.to_radians());
    // Counterclockwise about an axis towards the viewer is a positive turn.
    let sense = if 0.0 < axis.z { "anticlockwise" } else { "clockwise" };
    // A point above the axis goes along axis × up.
    let top = level_words(axis.cross(DVec3::Z).truncate());
    if axis.truncate().length() <= least_heard {
        (MoveKind::Turn, format!("turn it {degrees} {sense}, seen from above,"))
    } else if axis.z.abs() <= least_heard {
        (MoveKind::Tip, format!("tip its top {degrees} towards {top}"))
    } else {
        let words =
            format!("turn it {degrees} aslant, its top towards {top} and {sense} seen from above,");
        (MoveKind::TurnWhileSliding, words)
    }
}

/// Whole degrees, or halves below ten.
fn degrees(deg: f64) -> String {
    let step = if deg < 10.0 { 0.5 } else { 1.0 };
    format!("{}°", (deg / step).round() * step)
}
