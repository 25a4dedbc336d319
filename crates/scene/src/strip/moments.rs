//! The moments of a way out that are worth a frame.

use fit::{Move, Rigid, Step};
use glam::DVec3;

/// Most frames of a strip, unless there are more moves than these can show at [`MOST_MOVES`] each.
const MOST_FRAMES: usize = 9;
/// Most moves in one frame: our judgement of what is still followed.
const MOST_MOVES: usize = 2;

/// One frame: where the part is, and how it came there.
#[derive(Clone, Debug)]
pub(super) struct Moment {
    /// What is written under it.
    pub(super) words: String,
    /// Where the part is.
    pub(super) at: Rigid,
    /// How it came here from the moment before, move by move.
    pub(super) legs: Vec<Leg>,
    /// What is undone by hand before anything moves is still there.
    pub(super) is_first: bool,
}

/// A move, or a part of one, in a frame.
#[derive(Clone, Debug)]
pub(super) struct Leg {
    /// Places on the way, from its begin to its end.
    pub(super) passed: Vec<Rigid>,
    /// The point of the part, in its place, that goes straight.
    pub(super) pivot: DVec3,
    /// How far that goes, mm.
    pub(super) distance_mm: f64,
    /// How far the part turns, degrees.
    pub(super) angle_deg: f64,
}

impl Moment {
    /// All places on the way to it.
    pub(super) fn passed(&self) -> impl Iterator<Item = &Rigid> {
        self.legs.iter().flat_map(|leg| &leg.passed)
    }
}

/// In place, then after every move; a single move is shown half way too, and of very many the smallest are taken together
/// with a neighbour.
pub(super) fn moments(step: &Step) -> Vec<Moment> {
    let first = Moment {
        words: step.undo.as_ref().map_or_else(
            || "in place".to_owned(),
            |undo| format!("in place; before it moves: {undo}"),
        ),
        at: Rigid::HOME,
        legs: Vec::new(),
        is_first: true,
    };
    let mut all = vec![first];
    if let [only] = step.moves.as_slice() {
        all.push(moment(format!("1 {}: half way", only.words), &[(only, [0.0, 0.5])]));
        all.push(moment(format!("1 {}: out", only.words), &[(only, [0.5, 1.0])]));
        return all;
    }
    for group in groups(&step.moves) {
        let parts: Vec<(&Move, [f64; 2])> =
            step.moves[group[0]..=group[1]].iter().map(|m| (m, [0.0, 1.0])).collect();
        let words: Vec<&str> = parts.iter().map(|(m, _)| m.words.as_str()).collect();
        let number = if group[0] == group[1] {
            format!("{}", group[0] + 1)
        } else {
            format!("{}–{}", group[0] + 1, group[1] + 1)
        };
        all.push(moment(format!("{number} {}", words.join(", ")), &parts));
    }
    all
}

fn moment(words: String, parts: &[(&Move, [f64; 2])]) -> Moment {
    /// Places along a move.
    const STEPS: u32 = 12;
    let leg = |&(part, [from, to]): &(&Move, [f64; 2])| {
        let motion = part.motion();
        let shares = (0..=STEPS).map(|k| f64::from(k) / f64::from(STEPS));
        Leg {
            passed: shares.map(|t| motion.at(from + (to - from) * t)).collect(),
            pivot: part.pivot,
            distance_mm: part.distance_mm * (to - from),
            angle_deg: part.angle_deg * (to - from),
        }
    };
    let legs: Vec<Leg> = parts.iter().map(leg).collect();
    let at = legs.last().and_then(|leg| leg.passed.last()).copied().unwrap_or(Rigid::HOME);
    Moment { words, at, legs, is_first: false }
}

/// First and last move of each frame after the first.
fn groups(moves: &[Move]) -> Vec<[usize; 2]> {
    // A turn counts as far as a point half a metre away goes: our judgement of what is seen.
    let size = |m: &Move| m.distance_mm + 500.0 * m.angle_deg.to_radians();
    let mut groups: Vec<([usize; 2], f64)> =
        moves.iter().enumerate().map(|(i, m)| ([i, i], size(m))).collect();
    while groups.len() > MOST_FRAMES - 1 {
        let sums = groups.windows(2).map(|pair| pair[0].1 + pair[1].1).enumerate();
        let is_few = |(i, _): &(usize, f64)| groups[*i + 1].0[1] - groups[*i].0[0] < MOST_MOVES;
        let least = sums.filter(is_few).min_by(|a, b| a.1.total_cmp(&b.1));
        // Rather more frames than moves that nobody can tell apart.
        let Some((least, _)) = least else { break };
        let (second, size) = groups.remove(least + 1);
        groups[least].0[1] = second[1];
        groups[least].1 += size;
    }
    groups.into_iter().map(|(group, _)| group).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use fit::MoveKind;

    fn step(lengths: &[f64]) -> Step {
        let mut from = Rigid::HOME;
        let moves = lengths.iter().map(|&mm| {
            let to = from.moved(DVec3::Z * mm);
            let words = format!("raise it {mm} mm");
            let motion = Move {
                kind: MoveKind::Raise,
                words,
                begin_s: 0.0,
                end_s: 1.0,
                from,
                to,
                pivot: DVec3::ZERO,
                distance_mm: mm,
                angle_deg: 0.0,
            };
            from = to;
            motion
        });
        Step {
            removable: 0,
            name: "leaf".to_owned(),
            undo: None,
            pushed_aside: Vec::new(),
            moves: moves.collect(),
            least_gap_mm: 1.0,
        }
    }

    #[test]
    fn a_single_move_is_shown_half_way_too() {
        let all = moments(&step(&[400.0]));
        let heights: Vec<f64> = all.iter().map(|m| m.at.shift.z).collect();
        assert_eq!(heights, [0.0, 200.0, 400.0]);
        assert_eq!(all[1].words, "1 raise it 400 mm: half way");
    }

    #[test]
    fn each_move_has_its_frame_while_there_are_few() {
        let all = moments(&step(&[100.0, 5.0, 7.0, 100.0, 100.0, 100.0, 3.0]));
        assert_eq!(all.len(), 8);
        assert!(all.iter().skip(1).all(|m| m.legs.len() == 1));
    }

    #[test]
    fn of_very_many_moves_the_smallest_share_a_frame_by_twos() {
        let few = [100.0, 5.0, 7.0, 100.0, 100.0, 100.0, 100.0, 100.0, 100.0, 3.0];
        let all = moments(&step(&few));
        assert_eq!(all.len(), MOST_FRAMES);
        assert!((all[8].at.shift.z - 715.0).abs() < 1e-9);
        let words: Vec<&str> = all.iter().map(|m| m.words.as_str()).collect();
        assert_eq!(words[2], "2–3 raise it 5 mm, raise it 7 mm");
        assert_eq!(words[8], "9–10 raise it 100 mm, raise it 3 mm");
        // Each begins where the one before ended.
        for pair in all.windows(2) {
            let begins = pair[1].legs[0].passed[0].shift.z;
            assert!((begins - pair[0].at.shift.z).abs() < 1e-9);
        }
        let many = moments(&step(&[10.0; 21]));
        assert_eq!(many.len(), 1 + 11);
        assert!(many.iter().all(|m| m.legs.len() <= MOST_MOVES));
    }
}
