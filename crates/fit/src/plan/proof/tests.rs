//! Guards that what is called impossible is so up to its limit, and that nothing below the limit is.

use glam::{DVec3, dvec3};

use super::proof;
use crate::convex::Convex;
use crate::plan::{Body, Effort, Space, plan, plan_plainly};
use crate::way::{Proof, Verdict};
use crate::world::{Door, Exits, Window};

fn block(min: [f64; 3], max: [f64; 3]) -> Convex {
    Convex::block([DVec3::from(min), DVec3::from(max)])
}

/// An open box 600 by 400 by 300 of 10 mm sheet, in a cabinet open in front to `top` with a ceiling at 700; over the box there is
/// a shelf at `shelf`, 20 mm thick.
fn around(shelf: f64, top: f64) -> Vec<Convex> {
    vec![
        block([0.0, 0.0, 0.0], [600.0, 400.0, 10.0]),
        block([0.0, 0.0, 10.0], [10.0, 400.0, 300.0]),
        block([590.0, 0.0, 10.0], [600.0, 400.0, 300.0]),
        block([10.0, 0.0, 10.0], [590.0, 10.0, 300.0]),
        block([10.0, 390.0, 10.0], [590.0, 400.0, 300.0]),
        block([-70.0, -70.0, -20.0], [670.0, 470.0, 0.0]),
        block([-50.0, -50.0, 700.0], [650.0, 450.0, 720.0]),
        block([-70.0, -70.0, -20.0], [-50.0, 470.0, 720.0]),
        block([650.0, -70.0, -20.0], [670.0, 470.0, 720.0]),
        block([-50.0, 450.0, -20.0], [650.0, 470.0, 720.0]),
        block([-50.0, -70.0, top], [650.0, -50.0, 720.0]),
        block([-50.0, -50.0, shelf], [650.0, 450.0, shelf + 20.0]),
    ]
}

fn exits(top: f64) -> Exits {
    let rim = Window {
        centre: dvec3(300.0, 200.0, 300.0),
        u: DVec3::X,
        v: DVec3::Y,
        half_u: 290.0,
        half_v: 190.0,
    };
    let door = Door {
        window: Window {
            centre: dvec3(300.0, -70.0, top / 2.0),
            u: DVec3::X,
            v: DVec3::Z,
            half_u: 350.0,
            half_v: top / 2.0,
        },
        out: DVec3::NEG_Y,
        beyond: 70.0,
    };
    let room = [dvec3(-50.0, -900.0, 0.0), dvec3(650.0, 450.0, 700.0)];
    Exits { rim_z: 300.0, rim: vec![rim], doors: vec![door], room }
}

fn cube(side: f64) -> Vec<Convex> {
    let low = dvec3(250.0, 150.0, 10.1);
    vec![Convex::block([low, low + side])]
}

fn ball_of(obstacles: &[Convex], top: f64, part: &[Convex]) -> Option<(f64, f64, Vec<usize>)> {
    let exits = exits(top);
    match proof(&Space::plain(obstacles, &exits), &Body::new(part)) {
        Some(Proof::Ball(ball)) => Some((ball.needs_mm, ball.free_mm, ball.between)),
        None => None,
        other => panic!("{other:?}"),
    }
}

/// Closed form: a cube of side `s` is `s` wide at its least (of a convex body that is symmetric about a point the least width is
/// twice the radius of its largest ball), and between two planes `g` apart passes nothing that is wider at its least.
#[test]
fn a_cube_passes_between_rim_and_shelf_up_to_its_least_width() {
    for free in [60.0, 120.0, 180.0] {
        let obstacles = around(300.0 + free, 700.0);
        for more in [0.12, 1.0, 20.0] {
            let found = ball_of(&obstacles, 700.0, &cube(free + more));
            let (needs, takes, between) = found.expect("it is thicker than the gap");
            assert!((needs - free - more).abs() < 1e-9, "{needs}");
            assert!((takes - free).abs() < 0.03, "{takes} of {free}");
            assert!(
                between.contains(&11) && between.len() == 2,
                "the shelf and a wall: {between:?}"
            );
            assert_eq!(ball_of(&obstacles, 700.0, &cube(free - more)), None, "{free} - {more}");
        }
        // And the lesser one does come out.
        let exits = exits(700.0);
        let body = Body::new(&cube(free - 1.0));
        let way = plan(&Space::plain(&obstacles, &exits), &body, Effort { steps: 0, seed: 1 });
        assert!(matches!(way, Verdict::Found(_)), "{free}: {way:?}");
    }
}

/// The same of an opening of the cabinet, from wall to wall, that ends low.
#[test]
fn a_cube_passes_a_low_opening_up_to_its_least_width() {
    for top in [100.0, 150.0] {
        // Without the sump: over its wall and down before it there would be less room than in the opening.
        let (obstacles, exits) = (around(680.0, top).split_off(5), exits(top));
        let is_proved =
            |side: f64| proof(&Space::plain(&obstacles, &exits), &Body::new(&cube(side))).is_some();
        assert!(is_proved(top + 0.12) && is_proved(top + 20.0));
        assert!(!is_proved(top - 0.1) && !is_proved(top - 20.0));
    }
}

#[test]
fn a_shelf_that_leaves_room_beside_it_proves_nothing() {
    let mut obstacles = around(380.0, 700.0);
    assert!(ball_of(&obstacles, 700.0, &cube(100.0)).is_some());
    obstacles[11] = block([-50.0, -50.0, 380.0], [350.0, 450.0, 400.0]);
    assert_eq!(ball_of(&obstacles, 700.0, &cube(100.0)), None);
}

/// Sampled: at every tilt at which the disc stays under the lid, the corners of all rectangles of one group are in the disc.
#[test]
fn a_disc_under_a_lid_holds_the_sections_that_are_said() {
    for (r, t, headroom) in [(150.0, 8.0, 40.0), (100.0, 400.0, 120.0), (90.0, 60.0, 91.0)] {
        let disc = super::discs::Disc::solid(r, t);
        let groups = disc.sections_under(headroom, 0.0);
        let mut n_low = 0;
        for i in 0..=900 {
            let (sine, cosine) = libm::sincos(f64::from(i).to_radians() / 10.0);
            if r * sine + t / 2.0 * cosine > headroom {
                continue;
            }
            n_low += 1;
            let holds = |[long, broad]: &[f64; 2]| {
                [[long / 2.0, broad / 2.0], [broad / 2.0, long / 2.0]].iter().any(|[x, y]| {
                    (x * sine).abs() <= t / 2.0 + 1e-9 && (x * cosine).hypot(*y) <= r + 1e-9
                })
            };
            // The last of a group is the circle of the largest ball, which is in every section.
            let is_held = |group: &Vec<[f64; 2]>| group[..group.len() - 1].iter().all(holds);
            assert!(groups.iter().any(is_held), "{r} {t} {headroom} at {i}");
        }
        assert!(n_low > 10, "{n_low}");
    }
}

/// A sheet from `lo` to `hi` with one opening in it: four strips around that.
fn with_opening(lo: DVec3, hi: DVec3, [a, b]: [[f64; 2]; 2]) -> Vec<Convex> {
    let strip = |from: [f64; 2], to: [f64; 2]| {
        Convex::block([dvec3(from[0], from[1], lo.z), dvec3(to[0], to[1], hi.z)])
    };
    let strips = [
        strip([lo.x, lo.y], [a[0], hi.y]),
        strip([b[0], lo.y], [hi.x, hi.y]),
        strip([a[0], lo.y], [b[0], a[1]]),
        strip([a[0], b[1]], [b[0], hi.y]),
    ];
    strips.into_iter().filter(|s| (s.max - s.min).min_element() > 0.0).collect()
}

/// The box with a rim and, over it, a shelf with a hole in a cabinet that is open in front above the shelf only. Openings
/// are told by their half sizes, about the middle of the box.
fn lidded(opening: [f64; 2], shelf: f64, hole: [f64; 2]) -> (Vec<Convex>, Exits) {
    let [rim, gap] = [opening, hole].map(|[u, v]| [[300.0 - u, 200.0 - v], [300.0 + u, 200.0 + v]]);
    let mut obstacles = around(shelf, 700.0);
    obstacles.pop(); // the whole shelf
    obstacles.extend(with_opening(dvec3(0.0, 0.0, 300.0), dvec3(600.0, 400.0, 310.0), rim));
    let (lo, hi) = (dvec3(-50.0, -50.0, shelf), dvec3(650.0, 450.0, shelf + 16.0));
    obstacles.extend(with_opening(lo, hi, gap));
    obstacles.push(block([-50.0, -70.0, 0.0], [650.0, -50.0, shelf + 20.0]));
    let mut exits = exits(700.0);
    exits.rim_z = 310.0;
    exits.rim[0].centre.z = 310.0;
    (exits.rim[0].half_u, exits.rim[0].half_v) = (opening[0], opening[1]);
    let window = &mut exits.doors[0].window;
    window.centre.z = f64::midpoint(shelf + 20.0, 700.0);
    window.half_v = (700.0 - shelf - 20.0) / 2.0;
    (obstacles, exits)
}

/// A box, a standing sheet or a standing cylinder of this size in the middle of the box.
fn standing(size: DVec3, is_round: bool) -> Vec<Convex> {
    let low = dvec3(300.0 - size.x / 2.0, 200.0 - size.y / 2.0, 10.2);
    if !is_round {
        return vec![Convex::block([low, low + size])];
    }
    let radius = size.x.min(size.y) / 2.0;
    let around = (0..24).map(|k| {
        let (sine, cosine) = libm::sincos(f64::from(k) * std::f64::consts::TAU / 24.0);
        dvec3(300.0 + radius * cosine, 200.0 + radius * sine, 0.0)
    });
    vec![Convex::prism(around, [low.z, low.z + size.z])]
}

#[test]
fn a_part_that_passes_the_hole_in_a_lid_is_not_proved_shut_in() {
    let reactor = Body::new(&standing(dvec3(60.0, 60.0, 200.0), false));
    for half in [35.0, 45.0] {
        let (obstacles, exits) = lidded([75.0, 45.0], 330.0, [half, half]);
        let space = Space::plain(&obstacles, &exits);
        assert!(matches!(plan_plainly(&space, &reactor), Verdict::Found(_)), "{half}");
        assert!(proof(&space, &reactor).is_none(), "{half}");
    }
}

#[test]
fn what_comes_out_under_a_lid_is_never_proved_shut_in() {
    use rand::{Rng, SeedableRng};
    let mut dice = rand_chacha::ChaCha8Rng::seed_from_u64(6);
    let (mut n_found, mut n_proved) = (0, 0);
    for _ in 0..150 {
        let mut between = |low: f64, high: f64| low + (high - low) * dice.random::<f64>();
        let opening = [between(40.0, 250.0), between(30.0, 170.0)];
        let hole = [between(10.0, 320.0), between(10.0, 220.0)];
        let shelf = between(315.0, 420.0);
        let size = dvec3(between(10.0, 400.0), between(6.0, 250.0), between(20.0, 280.0));
        let (obstacles, exits) = lidded(opening, shelf, hole);
        let space = Space::plain(&obstacles, &exits);
        let part = Body::new(&standing(size, between(0.0, 1.0) < 0.4));
        let is_proved = proof(&space, &part).is_some();
        let is_found = matches!(plan_plainly(&space, &part), Verdict::Found(_));
        let what = || format!("{size} by {opening:?}, lid at {shelf} with {hole:?}");
        assert!(!(is_found && is_proved), "{}", what());
        n_found += u32::from(is_found);
        n_proved += u32::from(is_proved);
    }
    assert!(n_found > 30 && n_proved > 30, "{n_found} found, {n_proved} proved");
}
