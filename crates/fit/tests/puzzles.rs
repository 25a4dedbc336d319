//! Guards that puzzles with a known answer are solved just below the critical size and never above it, whatever the dice.

mod puzzle;

use fit::{Body, Effort, Proof, Space, Verdict, plan};
use puzzle::{KINDS, Puzzle};

fn solved(puzzle: &Puzzle, effort: Effort) -> Verdict {
    let touches = puzzle.name == "plate under a rim";
    let body = if touches { Body::new(&puzzle.body) } else { Body::exact(&puzzle.body) };
    plan(&Space::plain(&puzzle.obstacles, &puzzle.exits), &body, effort)
}

/// How many of 20 sizes are found at a share of the critical size.
fn found(kind: usize, share: f64, steps: u64) -> usize {
    let (_, make) = KINDS[kind];
    let puzzles = (1..=20).map(|n| make(n, share));
    let verdicts = puzzles.map(|p| solved(&p, Effort { steps, seed: 1 }));
    verdicts.filter(|v| matches!(v, Verdict::Found(_))).count()
}

#[test]
fn a_rod_goes_round_a_corner_up_to_its_critical_length() {
    assert_eq!(found(0, 0.995, 600_000), 20);
    assert_eq!(found(0, 1.005, 60_000), 0);
}

#[test]
fn a_leaning_rod_goes_round_a_corner_nearly_up_to_its_critical_length() {
    assert_eq!(found(1, 0.95, 600_000), 20);
    assert_eq!(found(1, 1.005, 60_000), 0);
}

#[test]
fn a_board_goes_through_a_hole_tilted_up_to_its_critical_width() {
    assert_eq!(found(2, 0.995, 0), 20);
    assert_eq!(found(2, 1.005, 20_000), 0);
}

#[test]
fn a_plate_that_must_be_turned_leaves_its_guides_and_the_rim() {
    assert_eq!(found(3, 0.995, 0), 20);
    let (_, make) = KINDS[3];
    for n in 1..=20 {
        let puzzle = make(n, 1.005);
        let verdict = solved(&puzzle, Effort { steps: 20_000, seed: 1 });
        let Verdict::ProvedNone(Proof::Section(proof)) = verdict else {
            panic!("{verdict:?} of {:?} at {}", puzzle.measures, puzzle.share)
        };
        assert!(proof.takes_mm < proof.section_mm[0], "{proof:?}");
    }
}

#[test]
fn ten_seeds_say_the_same() {
    for (kind, share) in [(0, 0.98), (0, 1.005), (2, 0.995), (3, 0.995), (3, 1.005)] {
        let (_, make) = KINDS[kind];
        let puzzle = make(3, share);
        let said = |seed: u64| {
            let verdict = solved(&puzzle, Effort { steps: 60_000, seed });
            matches!(verdict, Verdict::Found(_))
        };
        assert!((1..=10).all(|seed| said(seed) == (share < 1.0)), "{kind} at {share}");
    }
}

#[test]
fn the_same_question_gets_the_same_answer() {
    let (_, make) = KINDS[0];
    let effort = Effort { steps: 60_000, seed: 4 };
    assert_eq!(solved(&make(5, 0.98), effort), solved(&make(5, 0.98), effort));
}
