//! Solves puzzles with a known answer and prints one JSON line for each, for judges that share no code with us.
//!
//! ```text
//! cargo run --release -p fit --example puzzles                      # all kinds, 20 sizes each, just below and above
//! cargo run --release -p fit --example puzzles -- 3 0.98            # three sizes each, at 98 % of the critical size
//! cargo run --release -p fit --example puzzles -- 3 0.98 timed      # the same one after another, with milliseconds
//! ```
#![expect(clippy::print_stdout, reason = "it prints what judges read")]

#[path = "../tests/puzzle/mod.rs"]
mod puzzle;

use std::time::Instant;

use fit::{ALLOWANCE_MM, Body, Effort, Rigid, Space, Verdict, plan};
use glam::DVec3;
use puzzle::{KINDS, Puzzle};
use rayon::prelude::*;
use serde_json::{Value, json};

/// What the search may look at.
const STEPS: u64 = 600_000;

/// Just above the critical size.
const ABOVE: f64 = 1.005;

/// Just below the critical size. The leaning rod is found only up to a smaller share.
fn below(kind: &str) -> f64 {
    if kind == "leaning rod round a corner" { 0.95 } else { 0.995 }
}

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    let sizes = arguments.get(1).and_then(|n| n.parse().ok()).unwrap_or(20);
    let share: Option<f64> = arguments.get(2).and_then(|share| share.parse().ok());
    let is_timed = arguments.get(3).is_some_and(|word| word == "timed");
    let mut puzzles = Vec::new();
    for (name, make) in KINDS {
        let shares = share.map_or_else(|| vec![below(name), ABOVE], |share| vec![share]);
        puzzles.extend(shares.iter().flat_map(|share| (1..=sizes).map(move |n| make(n, *share))));
    }
    if is_timed {
        for puzzle in &puzzles {
            let start = Instant::now();
            let mut line = solved(puzzle);
            line["ms"] = json!(start.elapsed().as_secs_f64() * 1e3);
            println!("{line}");
        }
    } else {
        let lines: Vec<Value> = puzzles.par_iter().map(solved).collect();
        lines.iter().for_each(|line| println!("{line}"));
    }
}

fn solved(puzzle: &Puzzle) -> Value {
    // The rods and boards begin away from everything: nothing has to be taken off them.
    let touches = puzzle.name == "plate under a rim";
    let body = if touches { Body::new(&puzzle.body) } else { Body::exact(&puzzle.body) };
    let space = Space::plain(&puzzle.obstacles, &puzzle.exits);
    let verdict = plan(&space, &body, Effort { steps: STEPS, seed: 1 });
    let (word, moves) = match &verdict {
        Verdict::Found(moves) => ("found", moves.clone()),
        Verdict::ProvedNone(_) => ("proved none", Vec::new()),
        Verdict::NotFound { .. } => ("not found", Vec::new()),
        Verdict::StartsInClash { .. } => ("starts in clash", Vec::new()),
    };
    let measures: serde_json::Map<String, Value> =
        puzzle.measures.iter().map(|(name, mm)| ((*name).to_owned(), json!(mm))).collect();
    let moves: Vec<Value> = moves
        .iter()
        .map(|m| json!({"from": pose(&m.from), "to": pose(&m.to), "pivot": point(&m.pivot)}))
        .collect();
    let obstacles: Vec<Value> = puzzle.obstacles.iter().map(|c| points(&c.points)).collect();
    let pieces: Vec<Value> = puzzle.body.iter().map(|c| points(&c.points)).collect();
    let allowance_mm = if touches { ALLOWANCE_MM } else { 0.0 };
    json!({
        "puzzle": puzzle.name, "measures_mm": measures, "share": puzzle.share, "verdict": word,
        "moves": moves, "obstacles": obstacles, "body": pieces, "allowance_mm": allowance_mm,
    })
}

fn point(p: &DVec3) -> Value {
    json!([p.x, p.y, p.z])
}

fn points(points: &[DVec3]) -> Value {
    Value::Array(points.iter().map(point).collect())
}

/// `p ↦ turn · p + shift`; the quaternion as x, y, z, w.
fn pose(at: &Rigid) -> Value {
    json!({"turn": [at.turn.x, at.turn.y, at.turn.z, at.turn.w], "shift": point(&at.shift)})
}
