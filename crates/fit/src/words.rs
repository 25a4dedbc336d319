//! Motions as a person is told them.
//!
//! Directions are the keeper's, who stands before the sump: up and down, towards the inlet end and the far end,
//! towards the front and the back.

mod cures;
mod direction;
mod gaps;
mod hands;
mod hoses;
mod length;
mod lists;
mod places;
mod plain;
mod proofs;
mod stays;

#[cfg(test)]
mod tests;

use glam::{DQuat, DVec3};
use units::System;

use crate::motion::Motion;
use crate::way::{Move, MoveKind};
pub use cures::cure;
pub(crate) use direction::along;
use direction::{edge, level_words};
pub use gaps::gap;
pub(crate) use hands::undo;
pub use hands::{BEFORE_HANDS, BEFORE_HANDS_HEAD};
pub(crate) use hoses::with_hoses;
pub use length::length;
pub use lists::{listed, percent};
pub use places::inside_corner;
pub use proofs::{ToldProof, tell_proof};
pub(crate) use proofs::{is_bought, name as thing_name};

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

/// Whether something of this box lies flat: less than half as high as its lesser level side; our judgement.
pub(crate) fn is_flat(bounds: [DVec3; 2]) -> bool {
    let size = bounds[1] - bounds[0];
    2.0 * size.z < size.x.min(size.y)
}

/// A way as moves with words and times. The last move ends with what it comes out of: `out of the sump`. Of what lies
/// flat in its place edges are lifted; of what does not its top is tipped.
pub(crate) fn tell(way: &[Motion], system: System, out_of: &str, is_flat: bool) -> Vec<Move> {
    let mut begin_s = 0.0;
    let mut moves: Vec<Move> = Vec::with_capacity(way.len());
    // What does not move is nothing to do.
    for motion in way.iter().filter(|motion| motion.from != motion.to) {
        let told = told(motion, system, begin_s, is_flat);
        begin_s = told.end_s + PAUSE_S;
        moves.push(told);
    }
    if let Some(last) = moves.last_mut() {
        last.words.push_str(&format!(", {out_of}"));
    }
    moves
}

fn told(motion: &Motion, system: System, begin_s: f64, is_flat: bool) -> Move {
    let (distance_mm, angle_deg) = (motion.distance(), motion.angle().to_degrees());
    let (kind, words) = kind_and_words(motion, system, is_flat);
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

fn kind_and_words(motion: &Motion, system: System, is_flat: bool) -> (MoveKind, String) {
    let turns = NO_TURN_DEG < motion.angle().to_degrees();
    let slides = NO_SLIDE_MM < motion.distance();
    let (slide_kind, slide) = slide(motion, system);
    if !turns {
        return (slide_kind, slide.join(" while you "));
    }
    let (turn_kind, turn) = turn(motion, is_flat);
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

/// A turn by its axis: upright, level, or slanting. A slanting one is told by its two parts, which lead to the same
/// place one after the other: first tipped, then turned.
fn turn(motion: &Motion, is_flat: bool) -> (MoveKind, String) {
    let by = motion.to.turn * motion.from.turn.inverse();
    let by = if by.w < 0.0 { -by } else { by };
    let axis = by.xyz().normalize_or(DVec3::Z);
    let all = degrees(motion.angle().to_degrees());
    let least_heard = libm::sin(ALONG_DEG.to_radians());
    // What lies flat may have been stood up before.
    let lies = is_flat && libm::sin(45_f64.to_radians()) < (motion.from.turn * DVec3::Z).z.abs();
    if axis.truncate().length() <= least_heard {
        return (MoveKind::Turn, upright(by.z, &all));
    }
    if axis.z.abs() <= least_heard {
        return (MoveKind::Tip, tip(axis, &all, lies));
    }
    let turned = 2.0 * libm::atan2(by.z, by.w);
    let tipping = DQuat::from_rotation_z(-turned) * by;
    let tipped = 2.0 * libm::atan2(tipping.xyz().length(), tipping.w.abs());
    let tipping = if tipping.w < 0.0 { -tipping } else { tipping };
    let [turned, tipped] = [turned.abs(), tipped].map(|angle| degrees(angle.to_degrees()));
    let words = format!(
        "{} while you {}",
        tip(tipping.xyz().normalize_or(DVec3::X), &tipped, lies),
        upright(by.z, &turned)
    );
    (MoveKind::TurnWhileSliding, words)
}

/// A turn about an upright axis; counterclockwise about an axis towards the viewer is a positive one.
fn upright(z: f64, degrees: &str) -> String {
    let sense = if 0.0 < z { "anticlockwise" } else { "clockwise" };
    format!("turn it {degrees} {sense}, seen from above,")
}

/// A turn about a level axis: of what stands the top goes over, of what lies an edge goes up.
fn tip(axis: DVec3, degrees: &str, lies: bool) -> String {
    // A point above the axis goes along axis × up, and the edge on the other side goes up.
    let over = axis.cross(DVec3::Z).truncate();
    if lies {
        format!("lift {} {degrees}", edge(-over))
    } else {
        format!("tip its top {degrees} towards {}", level_words(over))
    }
}

/// Whole degrees, or halves below ten.
fn degrees(deg: f64) -> String {
    let step = if deg < 10.0 { 0.5 } else { 1.0 };
    format!("{}°", (deg / step).round() * step)
}
