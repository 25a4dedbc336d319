//! Solves puzzles with a known answer and prints one JSON line for each, for judges that share no code with us.
//!
//! ```text
//! cargo run -p fit --example puzzles               # all kinds, 20 sizes each, four shares of the critical size
//! cargo run -p fit --example puzzles -- 3 0.98     # three sizes each, at 98 % of the critical size
//! ```
#![expect(clippy::print_stdout, reason = "it prints what judges read")]

#[path = "../tests/puzzle/mod.rs"]
mod puzzle;

use fit::{Body, Effort, Rigid, Space, Verdict, plan};
use glam::DVec3;
use puzzle::{KINDS, Puzzle};
use serde_json::{Value, json};

/// What the search may look at.
const STEPS: u64 = 600_000;

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    let sizes = arguments.get(1).and_then(|n| n.parse().ok()).unwrap_or(20);
    let shares = match arguments.get(2).and_then(|share| share.parse().ok()) {
        Some(share) => vec![share],
        None => vec![0.95, 0.98, 0.995, 1.005],
    };
    for (_, make) in KINDS {
        for share in &shares {
            for n in 1..=sizes {
                println!("{}", solved(&make(n, *share)));
            }
        }
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
    let pieces: Vec<Value> = body.pieces().iter().map(|piece| points(piece)).collect();
    json!({
        "puzzle": puzzle.name, "measures_mm": measures, "share": puzzle.share, "verdict": word,
        "moves": moves, "obstacles": obstacles, "body": pieces,
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
