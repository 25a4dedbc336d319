//! The moments of a way out that are worth a frame.

use fit::{Move, Rigid, Step};

/// Most frames of a strip, and most moves that they can show one by one.
const MOST_FRAMES: usize = 6;

/// One frame: where the part is, and how it came there.
#[derive(Clone, Debug)]
pub(super) struct Moment {
    /// What is written under it.
    pub(super) words: String,
    /// Where the part is.
    pub(super) at: Rigid,
    /// How it came here from the moment before: places that it passed, that of the moment before first.
    pub(super) passed: Vec<Rigid>,
    /// What is undone by hand before anything moves is still there.
    pub(super) is_first: bool,
}

/// In place, then after every move; a single move is shown half way too, and of many the smallest are taken together
/// with a neighbour.
pub(super) fn moments(step: &Step) -> Vec<Moment> {
    let first = Moment {
        words: step.undo.as_ref().map_or_else(
            || "in place".to_owned(),
            |undo| format!("in place; before it moves: {undo}"),
        ),
        at: Rigid::HOME,
        passed: Vec::new(),
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
    /// Places along a move: enough for a turn to look round.
    const STEPS: u32 = 12;
    let mut passed = Vec::new();
    for (i, (part, [from, to])) in parts.iter().enumerate() {
        let motion = part.motion();
        let skipped = usize::from(i > 0);
        let shares = (0..=STEPS).map(|k| f64::from(k) / f64::from(STEPS)).skip(skipped);
        passed.extend(shares.map(|t| motion.at(from + (to - from) * t)));
    }
    let at = passed.last().copied().unwrap_or(Rigid::HOME);
    Moment { words, at, passed, is_first: false }
}

/// First and last move of each frame after the first.
fn groups(moves: &[Move]) -> Vec<[usize; 2]> {
    // A turn counts as far as a point half a metre away goes: our judgement of what is seen.
    let size = |m: &Move| m.distance_mm + 500.0 * m.angle_deg.to_radians();
    let mut groups: Vec<([usize; 2], f64)> =
        moves.iter().enumerate().map(|(i, m)| ([i, i], size(m))).collect();
    while groups.len() > MOST_FRAMES - 1 {
        let sums = groups.windows(2).map(|pair| pair[0].1 + pair[1].1).enumerate();
        let Some((least, _)) = sums.min_by(|a, b| a.1.total_cmp(&b.1)) else { break };
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
    use glam::DVec3;

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
    fn of_many_moves_the_smallest_share_a_frame() {
        let all = moments(&step(&[100.0, 5.0, 7.0, 100.0, 100.0, 100.0, 3.0]));
        assert_eq!(all.len(), MOST_FRAMES);
        assert!((all[5].at.shift.z - 415.0).abs() < 1e-9);
        let words: Vec<&str> = all.iter().map(|m| m.words.as_str()).collect();
        assert_eq!(words[2], "2–3 raise it 5 mm, raise it 7 mm");
        assert_eq!(words[5], "6–7 raise it 100 mm, raise it 3 mm");
        // Each begins where the one before ended.
        for pair in all.windows(2) {
            let begins = pair[1].passed[0].shift.z;
            assert!((begins - pair[0].at.shift.z).abs() < 1e-9);
        }
    }
}
