//! Puzzles of which it is known by formula up to which size they can be solved.

use std::f64::consts::FRAC_PI_2;

use fit::{Convex, Door, Exits, Window};
use glam::DVec3;

/// One puzzle.
#[derive(Clone, Debug)]
pub(crate) struct Puzzle {
    /// Which kind.
    pub(crate) name: &'static str,
    /// Its measures, mm.
    pub(crate) measures: Vec<(&'static str, f64)>,
    /// Size as a share of the largest that can be solved.
    pub(crate) share: f64,
    /// What stands around.
    pub(crate) obstacles: Vec<Convex>,
    /// What is to be brought out.
    pub(crate) body: Vec<Convex>,
    /// What is out.
    pub(crate) exits: Exits,
}

/// A name, and what makes one of it.
pub(crate) type Kind = (&'static str, fn(u64, f64) -> Puzzle);

/// The four kinds, each made from a number that picks its measures and a share of the critical size.
pub(crate) const KINDS: [Kind; 4] = [
    ("rod round a corner", rod_flat),
    ("leaning rod round a corner", rod_leaning),
    ("board through a hole", board),
    ("plate under a rim", plate),
];

/// A number from 0 to 1 for the `k`-th measure of the `n`-th puzzle: Knuth's linear congruential generator, upper bits.
fn dice(n: u64, k: u64) -> f64 {
    let state = n
        .wrapping_mul(6_364_136_223_846_793_005)
        .wrapping_add(k.wrapping_mul(1_442_695_040_888_963_407));
    #[expect(clippy::cast_precision_loss, reason = "below 10000")]
    let share = ((state >> 33) % 10_000) as f64 / 10_000.0;
    share
}

fn block(min: [f64; 3], max: [f64; 3]) -> Convex {
    Convex::block([DVec3::from(min), DVec3::from(max)])
}

fn window(centre: [f64; 3], [u, v]: [DVec3; 2], [half_u, half_v]: [f64; 2]) -> Window {
    Window { centre: DVec3::from(centre), u, v, half_u, half_v }
}

/// The longest flat bar of thickness `t` round a right-angled corner of corridors `a` and `b` wide: the least of
/// `a/sin φ + b/cos φ − t/(sin φ cos φ)`; for `t = 0` it is `(a^⅔ + b^⅔)^(3/2)`, the ladder round the corner of many
/// textbooks of calculus.
pub(crate) fn longest_rod(a: f64, b: f64, t: f64) -> f64 {
    let length = |i: u32| {
        let (sine, cosine) = libm::sincos(f64::from(i) / 200_000.0 * FRAC_PI_2);
        a / sine + b / cosine - t / (sine * cosine)
    };
    (1..200_000).map(length).fold(f64::INFINITY, f64::min)
}

/// The longest rectangle of breadth `t` in a rectangle `a × b`, turned as it likes: the greatest over `φ` of
/// what both sides leave.
pub(crate) fn longest_in_rectangle(a: f64, b: f64, t: f64) -> f64 {
    let length = |i: u32| {
        let (sine, cosine) = libm::sincos(f64::from(i) / 200_000.0 * FRAC_PI_2);
        ((a - t * sine) / cosine.max(1e-12)).min((b - t * cosine) / sine.max(1e-12))
    };
    (0..=200_000).map(length).fold(0.0, f64::max)
}

/// A square bar in corridors so low that it stays level.
fn rod_flat(n: u64, share: f64) -> Puzzle {
    let (a, b, t) = (150.0 + 150.0 * dice(n, 1), 150.0 + 150.0 * dice(n, 2), 6.0);
    corner("rod round a corner", [a, b, t, t + 1.0], longest_rod(a, b, t), share)
}

/// A thin bar in corridors 200 mm high: it may lean, and is then longer by its rise.
fn rod_leaning(n: u64, share: f64) -> Puzzle {
    let (a, b, t, h) = (150.0 + 150.0 * dice(n, 1), 150.0 + 150.0 * dice(n, 2), 1.0, 200.0);
    let critical = libm::hypot(longest_rod(a, b, t), h - t);
    corner("leaning rod round a corner", [a, b, t, h], critical, share)
}

fn corner(name: &'static str, [a, b, t, h]: [f64; 4], critical: f64, share: f64) -> Puzzle {
    let far = 3000.0;
    let length = critical * share;
    let obstacles = vec![
        block([a, -far, -50.0], [far, 0.0, h + 50.0]),
        block([-60.0, -far, -50.0], [0.0, b + 60.0, h + 50.0]),
        block([-60.0, b, -50.0], [far, b + 60.0, h + 50.0]),
        block([-60.0, -far, -60.0], [far, b + 60.0, 0.0]),
        block([-60.0, -far, h], [far, b + 60.0, h + 60.0]),
    ];
    let (x, y, z) = (a / 2.0, -length - 40.0, h / 2.0);
    let half = t / 2.0;
    let body = vec![block([x - half, y, z - half], [x + half, y + length, z + half])];
    let door = Door {
        window: window([a, b / 2.0, h / 2.0], [DVec3::Y, DVec3::Z], [b / 2.0, h / 2.0]),
        out: DVec3::X,
        beyond: a + 60.0,
    };
    let room = [DVec3::new(0.0, -length * 1.2, 0.0), DVec3::new(a + length * 1.2, b, h)];
    let exits = Exits { rim_z: -1000.0, rim: Vec::new(), doors: vec![door], room };
    let measures = vec![("a", a), ("b", b), ("thickness", t), ("height", h), ("length", length)];
    Puzzle { name, measures, share, obstacles, body, exits }
}

/// A long board that stands askew under a plate with a hole that is narrower than the board.
fn board(n: u64, share: f64) -> Puzzle {
    let (a, b) = (250.0 + 150.0 * dice(n, 1), (150.0 + 150.0 * dice(n, 2)) * 0.6);
    // So wide that no slide comes to the edge of the plate: round it a board of any width would get out.
    let (t, length, thick, far) = (10.0, 500.0, 5.0, 5000.0);
    let width = longest_in_rectangle(a, b, t) * share;
    let (x, y) = (80.0 * (dice(n, 3) - 0.5), 80.0 * (dice(n, 4) - 0.5));
    let (p, q) = (a / 2.0, b / 2.0);
    let obstacles = vec![
        block([p, -far, 0.0], [far, far, thick]),
        block([-far, -far, 0.0], [-p, far, thick]),
        block([-p, q, 0.0], [p, far, thick]),
        block([-p, -far, 0.0], [p, -q, thick]),
    ];
    let body = vec![block(
        [x - width / 2.0, y - t / 2.0, -length - 30.0],
        [x + width / 2.0, y + t / 2.0, -30.0],
    )];
    let exits = Exits {
        rim_z: thick,
        rim: vec![window([0.0, 0.0, thick], [DVec3::X, DVec3::Y], [p, q])],
        doors: Vec::new(),
        room: [DVec3::new(-300.0, -300.0, -length), DVec3::new(300.0, 300.0, length)],
    };
    let measures = vec![("a", a), ("b", b), ("thickness", t), ("width", width), ("x", x), ("y", y)];
    Puzzle { name: "board through a hole", measures, share, obstacles, body, exits }
}

/// A square plate that stands across a box in guides, under a rim that leaves less than its width on both sides.
fn plate(n: u64, share: f64) -> Puzzle {
    let (a, b, t) = (330.0, 200.0 + (150.0 + 150.0 * dice(n, 2)) * 0.4, 8.0);
    let width = longest_in_rectangle(a, b, t) * share;
    let x = 200.0 + 200.0 * dice(n, 5);
    let (length, depth, height) = (600.0, width + 1.0, width + 120.0);
    let (x1, x2) = ((length - b) / 2.0, (length + b) / 2.0);
    let (y1, y2) = ((depth - a) / 2.0, (depth + a) / 2.0);
    let mut obstacles = vec![
        block([-8.0, -8.0, -8.0], [length + 8.0, depth + 8.0, 0.0]),
        block([-8.0, -8.0, 0.0], [0.0, depth + 8.0, height]),
        block([length, -8.0, 0.0], [length + 8.0, depth + 8.0, height]),
        block([0.0, -8.0, 0.0], [length, 0.0, height]),
        block([0.0, depth, 0.0], [length, depth + 8.0, height]),
        block([-8.0, -8.0, height], [x1, depth + 8.0, height + 8.0]),
        block([x2, -8.0, height], [length + 8.0, depth + 8.0, height + 8.0]),
        block([x1, -8.0, height], [x2, y1, height + 8.0]),
        block([x1, y2, height], [x2, depth + 8.0, height + 8.0]),
    ];
    for y in [0.0, depth - 10.0] {
        for side in [-1.0, 1.0] {
            let near = x + side * (t / 2.0 + 0.4);
            let far = near + side * 6.0;
            obstacles.push(block([near.min(far), y, 0.0], [near.max(far), y + 10.0, 60.0]));
        }
    }
    let body = vec![block([x - t / 2.0, 0.5, 0.0], [x + t / 2.0, width + 0.5, width])];
    let rim_z = height + 8.0;
    let middle = [length / 2.0, depth / 2.0, rim_z];
    let exits = Exits {
        rim_z,
        rim: vec![window(middle, [DVec3::X, DVec3::Y], [b / 2.0, a / 2.0])],
        doors: Vec::new(),
        room: [DVec3::ZERO, DVec3::new(length, depth, height + width)],
    };
    let measures = vec![("a", a), ("b", b), ("thickness", t), ("width", width), ("x", x)];
    Puzzle { name: "plate under a rim", measures, share, obstacles, body, exits }
}
