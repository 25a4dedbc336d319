//! Guards that what is called free is free, that what is called impossible is, and that ways are found and told.

use std::f64::consts::FRAC_PI_2;

use glam::{DQuat, DVec3};
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::proof::{fits, proof};
use super::recheck::{holds, least_gap, nearest, touched};
use super::sweep::Sweep;
use super::{Body, Effort, Space, plan, plan_plainly};
use crate::convex::Convex;
use crate::motion::{Motion, Rigid};
use crate::way::{Proof, Verdict};
use crate::world::{Door, Exits, Window};

const NO_SEARCH: Effort = Effort { steps: 0, seed: 1 };

fn block(min: [f64; 3], max: [f64; 3]) -> Convex {
    Convex::block([DVec3::from(min), DVec3::from(max)])
}

/// A box 600 by 420 by 380 of 8 mm sheet, whose rim leaves an opening of `a` along by `b` across; and a cabinet around it with
/// a ceiling at `ceiling`, open in front between its floor and there.
fn sump(a: f64, b: f64) -> Vec<Convex> {
    let (x1, x2) = (300.0 - a / 2.0, 300.0 + a / 2.0);
    let (y1, y2) = (210.0 - b / 2.0, 210.0 + b / 2.0);
    vec![
        block([0.0, 0.0, 0.0], [600.0, 420.0, 8.0]),
        block([0.0, 0.0, 8.0], [8.0, 420.0, 372.0]),
        block([592.0, 0.0, 8.0], [600.0, 420.0, 372.0]),
        block([8.0, 0.0, 8.0], [592.0, 8.0, 372.0]),
        block([8.0, 412.0, 8.0], [592.0, 420.0, 372.0]),
        block([0.0, 0.0, 372.0], [x1, 420.0, 380.0]),
        block([x2, 0.0, 372.0], [600.0, 420.0, 380.0]),
        block([x1, 0.0, 372.0], [x2, y1, 380.0]),
        block([x1, y2, 372.0], [x2, 420.0, 380.0]),
    ]
}

fn cabinet(ceiling: f64, door: [f64; 4]) -> Vec<Convex> {
    let [x1, x2, z1, z2] = door;
    let top = ceiling + 20.0;
    vec![
        block([-80.0, -80.0, -40.0], [680.0, 500.0, -20.0]),
        block([-80.0, -80.0, ceiling], [680.0, 500.0, top]),
        block([-80.0, -80.0, -20.0], [-60.0, 500.0, ceiling]),
        block([660.0, -80.0, -20.0], [680.0, 500.0, ceiling]),
        block([-60.0, 480.0, -20.0], [660.0, 500.0, ceiling]),
        block([-60.0, -80.0, -20.0], [x1, -60.0, ceiling]),
        block([x2, -80.0, -20.0], [660.0, -60.0, ceiling]),
        block([x1, -80.0, -20.0], [x2, -60.0, z1]),
        block([x1, -80.0, z2], [x2, -60.0, ceiling]),
    ]
}

fn exits(a: f64, b: f64, door: Option<[f64; 4]>) -> Exits {
    let rim = Window {
        centre: DVec3::new(300.0, 210.0, 380.0),
        u: DVec3::X,
        v: DVec3::Y,
        half_u: a / 2.0,
        half_v: b / 2.0,
    };
    let door = door.map(|[x1, x2, z1, z2]| Door {
        window: Window {
            centre: DVec3::new((x1 + x2) / 2.0, -80.0, (z1 + z2) / 2.0),
            u: DVec3::X,
            v: DVec3::Z,
            half_u: (x2 - x1) / 2.0,
            half_v: (z2 - z1) / 2.0,
        },
        out: DVec3::NEG_Y,
        beyond: 90.0,
    });
    Exits {
        rim_z: 380.0,
        rim: vec![rim],
        doors: door.into_iter().collect(),
        room: [DVec3::new(-60.0, -80.0, -20.0), DVec3::new(660.0, 480.0, 900.0)],
    }
}

/// A sheet 8 mm thick that stands across the box.
fn sheet(width: f64, height: f64) -> Vec<Convex> {
    let (y1, y2) = (210.0 - width / 2.0, 210.0 + width / 2.0);
    vec![block([300.0, y1, 8.0], [308.0, y2, 8.0 + height])]
}

/// The same with an opening in its middle.
fn holed_sheet(width: f64, height: f64) -> Vec<Convex> {
    let (y1, y2, top) = (210.0 - width / 2.0, 210.0 + width / 2.0, 8.0 + height);
    let (z1, z2) = (8.0 + height / 2.0 - 20.0, 8.0 + height / 2.0 + 20.0);
    vec![
        block([300.0, y1, 8.0], [308.0, y2, z1]),
        block([300.0, y1, z2], [308.0, y2, top]),
        block([300.0, y1, z1], [308.0, 150.0, z2]),
        block([300.0, 270.0, z1], [308.0, y2, z2]),
    ]
}

fn is_proved(obstacles: &[Convex], exits: &Exits, body: &[Convex]) -> bool {
    proof(&Space::plain(obstacles, exits), &Body::new(body)).is_some()
}

/// How wide a square sheet of 8 mm may be to pass an opening by the section argument.
fn critical(opening: [f64; 2]) -> f64 {
    let (mut low, mut high) = (0.0, 1000.0);
    for _ in 0..60 {
        let middle: f64 = (low + high) / 2.0;
        let section = (middle * middle - 64.0).sqrt();
        if fits([section, 8.0], opening) { low = middle } else { high = middle }
    }
    low
}

#[test]
fn a_sheet_is_proved_shut_in_only_beyond_the_critical_size() {
    let (a, b) = (260.0, 200.0);
    let (obstacles, exits) = (sump(a, b), exits(a, b, None));
    let most = critical([a, b]);
    assert!(260.0 < most && most < 362.0, "{most}");
    for make in [sheet, holed_sheet] {
        for share in [0.5, 0.98, 0.999] {
            assert!(!is_proved(&obstacles, &exits, &make(most * share, most * share)), "{share}");
        }
        for share in [1.001, 1.02, 1.05] {
            assert!(is_proved(&obstacles, &exits, &make(most * share, most * share)), "{share}");
        }
    }
}

/// The same with upright slots in its middle, which leave bars between them.
fn slotted_sheet(width: f64, height: f64, bars: u32) -> Vec<Convex> {
    let (y1, y2) = (210.0 - width / 2.0, 210.0 + width / 2.0);
    let (z1, z2) = (8.0 + height * 0.2, 8.0 + height * 0.7);
    let pitch = width / f64::from(2 * bars + 1);
    let bar = |k: u32| {
        let begin = y1 + pitch * f64::from(2 * k);
        block([300.0, begin, z1], [308.0, begin + pitch, z2])
    };
    let solid = [
        block([300.0, y1, 8.0], [308.0, y2, z1]),
        block([300.0, y1, z2], [308.0, y2, 8.0 + height]),
    ];
    solid.into_iter().chain((0..=bars).map(bar)).collect()
}

#[test]
fn what_comes_out_is_never_proved_shut_in() {
    let mut dice = ChaCha8Rng::seed_from_u64(4);
    let (mut n_found, mut n_proved) = (0, 0);
    for _ in 0..120 {
        let [a, b] = [100.0..400.0, 40.0..220.0].map(|range| dice.random_range(range));
        let (obstacles, exits) = (sump(a, b), exits(a, b, None));
        let space = Space::plain(&obstacles, &exits);
        let (width, height) = (dice.random_range(150.0..400.0), dice.random_range(100.0..350.0));
        let sheet = match dice.random_range(0..3) {
            0 => sheet(width, height),
            1 => holed_sheet(width.max(200.0), height),
            _ => slotted_sheet(width, height, dice.random_range(2..12)),
        };
        let body = Body::new(&sheet);
        let is_proved = proof(&space, &body).is_some();
        let is_found = matches!(plan_plainly(&space, &body), Verdict::Found(_));
        assert!(!(is_found && is_proved), "{width} by {height} through {a} by {b}");
        n_found += u32::from(is_found);
        n_proved += u32::from(is_proved);
    }
    assert!(n_found > 50 && n_proved > 20, "{n_found} found, {n_proved} proved");
}

#[test]
fn what_is_called_impossible_is_not_found_either() {
    let (a, b) = (260.0, 200.0);
    let (obstacles, exits) = (sump(a, b), exits(a, b, None));
    let space = Space::plain(&obstacles, &exits);
    let size = critical([a, b]) * 0.98;
    let found = plan(&space, &Body::new(&sheet(size, size)), NO_SEARCH);
    assert!(matches!(found, Verdict::Found(_)), "{found:?}");
}

#[test]
fn another_opening_or_an_open_wall_undoes_the_proof() {
    let (a, b) = (260.0, 200.0);
    let mut obstacles = sump(a, b);
    let exits = exits(a, b, None);
    let size = critical([a, b]) * 1.05;
    assert!(is_proved(&obstacles, &exits, &sheet(size, size)));
    // A slot in an end wall through which the sheet could be pushed.
    let wall = obstacles.remove(1);
    for (y1, y2) in [(0.0, 205.0), (215.0, 420.0)] {
        obstacles.push(block([0.0, y1, 8.0], [8.0, y2, 372.0]));
    }
    assert!(!is_proved(&obstacles, &exits, &sheet(size, size)));
    obstacles.push(wall);
    assert!(is_proved(&obstacles, &exits, &sheet(size, size)));
    // No floor.
    obstacles.remove(0);
    assert!(!is_proved(&obstacles, &exits, &sheet(size, size)));
}

#[test]
fn without_a_rim_only_the_inside_of_the_box_counts() {
    let (a, b) = (584.0, 404.0);
    let obstacles = sump(a, b);
    assert!(!is_proved(&obstacles, &exits(a, b, None), &sheet(403.0, 300.0)));
}

#[test]
fn a_thick_part_is_proved_shut_in_by_a_door_too_small_for_it() {
    let door = [200.0, 400.0, 400.0, 600.0];
    let (a, b) = (580.0, 400.0);
    let mut obstacles = sump(a, b);
    obstacles.extend(cabinet(700.0, door));
    let exits = exits(a, b, Some(door));
    let cube =
        |side: f64| vec![block([250.0, 100.0, 10.0], [250.0 + side, 100.0 + side, 10.0 + side])];
    assert!(!is_proved(&obstacles, &exits, &cube(196.0)), "it passes straight");
    let proof = proof(&Space::plain(&obstacles, &exits), &Body::new(&cube(204.0)));
    let Some(Proof::Section(proof)) = proof else { panic!("a cube of 204 mm passes 200 mm") };
    assert!(proof.is_cabinet && (proof.opening_mm[0] - 200.0).abs() < 1e-6, "{proof:?}");
    let space = Space::plain(&obstacles, &exits);
    assert!(matches!(plan(&space, &Body::new(&cube(196.0)), NO_SEARCH), Verdict::Found(_)));
}

#[test]
fn rectangles_fit_as_far_as_turning_them_shows() {
    let mut dice = ChaCha8Rng::seed_from_u64(5);
    for _ in 0..300 {
        let [a, b, q] = [0; 3].map(|_: i32| 10.0 + 90.0 * dice.random::<f64>());
        let q = q.min(b.min(a) * 0.9);
        let longest = (0..=20_000)
            .map(|i| {
                let (sine, cosine) = libm::sincos(f64::from(i) / 20_000.0 * FRAC_PI_2);
                ((a - q * sine) / cosine.max(1e-12)).min((b - q * cosine) / sine.max(1e-12))
            })
            .fold(0.0, f64::max);
        assert!(fits([longest * 0.9999, q], [a, b]), "{a} {b} {q}");
        assert!(!fits([longest * 1.0001, q], [a, b]), "{a} {b} {q}");
    }
}

/// Random short motions of a body about the rim of the sump.
fn motions(body: &Body, n: u32) -> Vec<Motion> {
    let mut dice = ChaCha8Rng::seed_from_u64(7);
    let mut vector = |scale: f64| {
        let mut part = || (dice.random::<f64>() - 0.5) * 2.0 * scale;
        DVec3::new(part(), part(), part())
    };
    let mut motions = Vec::new();
    for _ in 0..n {
        let from = Rigid::HOME
            .turned(DQuat::from_scaled_axis(vector(0.6)), body.centre)
            .moved(vector(120.0) + DVec3::Z * 150.0);
        let to = from.turned(DQuat::from_scaled_axis(vector(0.3)), from.apply(body.centre));
        motions.push(Motion { from, to: to.moved(vector(40.0)), pivot: body.centre });
    }
    motions
}

#[test]
fn a_sweep_called_free_hits_no_sample_and_one_called_hit_is_near_one() {
    let (obstacles, exits) = (sump(260.0, 200.0), exits(260.0, 200.0, None));
    let space = Space::plain(&obstacles, &exits);
    let body = Body::new(&holed_sheet(240.0, 200.0));
    let mut sweep = Sweep::new(&space, &body);
    let (mut free, mut hit) = (0, 0);
    for motion in motions(&body, 400) {
        let gap = nearest(&space, &body, &[motion], 0.0, 0.0).unwrap_or(f64::INFINITY);
        if sweep.is_free(&motion) {
            free += 1;
            assert!(gap > super::MARGIN_MM * 0.99, "{gap} {motion:?}");
        } else {
            hit += 1;
            // Samples 0.25 mm apart miss no more than that, and stretches of 0.02 mm are given up.
            assert!(gap < super::MARGIN_MM + 0.3, "{gap} {motion:?}");
        }
    }
    assert!(free > 50 && hit > 50, "{free} {hit}");
}

#[test]
fn the_second_check_finds_what_stands_in_the_way() {
    let (a, b) = (260.0, 200.0);
    let (obstacles, exits) = (sump(a, b), exits(a, b, None));
    let space = Space::plain(&obstacles, &exits);
    let size = critical([a, b]) * 0.99;
    let body = Body::new(&sheet(size, size));
    let Verdict::Found(way) = plan(&space, &body, NO_SEARCH) else { panic!("not found") };
    assert!(holds(&space, &body, &way) && nearest(&space, &body, &way, 0.0, 0.0) > Some(0.0));
    assert!(touched(&space, &body, &way).is_empty());
    let shifted: Vec<Convex> = obstacles
        .iter()
        .map(|c| Convex::new(c.points.iter().map(|p| *p + DVec3::new(3.0, 0.0, 0.0)).collect()))
        .collect();
    let moved = Space::plain(&shifted, &exits);
    assert!(!holds(&moved, &body, &way));
    let (thing, depth) = touched(&moved, &body, &way)[0];
    assert!((5..9).contains(&thing), "a strip of the rim, not {thing}");
    assert!(0.1 < depth && depth < 4.0, "{depth}");
    // A way that ends too soon, and a gap in the way itself.
    assert!(!holds(&space, &body, &way[..way.len() - 1]));
    assert!(!holds(&space, &body, &[way[0], way[2]]));
}

#[test]
fn a_way_ends_outside_in_round_measures() {
    let door = [-50.0, 650.0, -10.0, 690.0];
    let (a, b) = (330.0, 285.0);
    let mut obstacles = sump(a, b);
    obstacles.extend(cabinet(700.0, door));
    let exits = exits(a, b, Some(door));
    let space = Space::plain(&obstacles, &exits);
    let body = Body::new(&sheet(403.0, 240.0));
    let Verdict::Found(way) = plan(&space, &body, NO_SEARCH) else { panic!("not found") };
    assert!(way.len() <= 5, "{way:#?}");
    let last = way.last().unwrap();
    assert!(body.pieces.iter().flatten().all(|p| last.to.apply(*p).y <= -90.0));
    for motion in &way {
        let by = motion.to.apply(body.centre) - motion.from.apply(body.centre);
        assert!((by - by.round()).length() < 1e-6, "{by}");
        let degrees = motion.angle().to_degrees();
        assert!((degrees - degrees.round()).abs() < 1e-6, "{degrees}");
    }
    assert_eq!(plan(&space, &body, NO_SEARCH), Verdict::Found(way));
}

#[test]
fn under_a_low_ceiling_a_long_part_leaves_the_rim_tipped() {
    let door = [-50.0, 650.0, 300.0, 590.0];
    let (a, b) = (500.0, 330.0);
    let mut obstacles = sump(a, b);
    obstacles.extend(cabinet(600.0, door));
    let exits = exits(a, b, Some(door));
    let space = Space::plain(&obstacles, &exits);
    // Upright it would need 300 mm above the rim; there are 220.
    let pipe = Body::new(&[block([290.0, 200.0, 10.0], [310.0, 220.0, 310.0])]);
    let way = plan(&space, &pipe, NO_SEARCH);
    let Verdict::Found(way) = way else { panic!("{way:?}") };
    assert!(way.iter().any(|m| m.angle() > 0.1), "{way:#?}");
}

#[test]
fn what_stands_beside_the_sump_needs_no_rim() {
    let door = [-50.0, 650.0, -10.0, 300.0];
    let (a, b) = (330.0, 285.0);
    let mut obstacles = sump(a, b);
    obstacles.extend(cabinet(700.0, door));
    let exits = exits(a, b, Some(door));
    let space = Space::plain(&obstacles, &exits);
    let bottle = Body::new(&[block([610.0, 100.0, -20.0], [650.0, 200.0, 200.0])]);
    let Verdict::Found(way) = plan(&space, &bottle, NO_SEARCH) else { panic!("not found") };
    assert!(way.len() <= 2 && way.iter().all(|m| m.to.shift.z < 100.0), "{way:#?}");
    // The sump itself, into a cabinet with a door as wide as it.
    let surroundings = cabinet(700.0, [-50.0, 650.0, -10.0, 690.0]);
    let around = Space::plain(&surroundings, &exits);
    let itself = Body::new(&[block([0.0, 0.0, 0.0], [600.0, 420.0, 290.0])]);
    assert!(matches!(plan(&around, &itself, NO_SEARCH), Verdict::Found(_)));
}

#[test]
fn what_begins_in_another_thing_is_said_so() {
    let (obstacles, exits) = (sump(260.0, 200.0), exits(260.0, 200.0, None));
    let space = Space::plain(&obstacles, &exits);
    let body = Body::new(&[block([100.0, 100.0, 0.0], [200.0, 200.0, 100.0])]);
    assert_eq!(plan(&space, &body, NO_SEARCH), Verdict::StartsInClash { with: vec![0] });
}

#[test]
fn a_smaller_part_keeps_its_middle() {
    let body = Body::new(&sheet(403.0, 240.0)).narrowed(DVec3::new(0.0, 5.0, 0.0));
    let size = body.bounds[1] - body.bounds[0];
    assert!((size - DVec3::new(7.8, 397.8, 239.8)).length() < 0.01, "{size}");
    assert!((body.centre - DVec3::new(304.0, 210.0, 128.0)).length() < 1e-9);
}

#[test]
fn the_least_gap_is_that_of_the_real_part_beside_a_wall_or_far_from_it() {
    let exits = exits(580.0, 400.0, None);
    let wall = [block([0.0, 0.0, 0.0], [8.0, 420.0, 380.0])];
    let space = Space::plain(&wall, &exits);
    for (gap, told) in [(0.5, 0.5), (0.0, 0.0), (30.0, 30.0), (59.0, 59.0), (61.0, f64::INFINITY)] {
        let pump = [block([8.0 + gap, 100.0, 8.0], [88.0 + gap, 200.0, 150.0])];
        let up = [Motion::slide(Rigid::HOME, DVec3::Z * 400.0)];
        let found = least_gap(&space, &Body::new(&pump), &up);
        assert!(
            (found.is_infinite() && told.is_infinite()) || (found - told).abs() < 1e-3,
            "{gap}: {found}"
        );
        // A turn about its own upright edge on the way does not come nearer; one about its middle does.
        let middle = DVec3::new(48.0 + gap, 150.0, 79.0);
        let turn = Motion::turn(Rigid::HOME, DQuat::from_rotation_z(FRAC_PI_2), middle);
        let turned = least_gap(&space, &Body::new(&pump), &[turn]);
        // Half its diagonal is 64.03 mm, half its breadth 40.
        let exact = (gap + 40.0 - 40.0_f64.hypot(50.0)).max(0.0);
        // A corner taken 0.1 mm smaller both ways is 0.14 mm nearer the middle.
        assert!((turned - exact).abs() < 0.05, "{gap}: {turned} {exact}");
    }
}

#[test]
fn without_a_fitting_shadow_the_search_is_rooted_in_poses_outside() {
    // An angle of two arms: its shadow fits into no opening as a whole, but one arm passes after the other.
    let (a, b) = (130.0, 130.0);
    let (obstacles, exits) = (sump(a, b), exits(a, b, None));
    let space = Space::plain(&obstacles, &exits);
    let arms = [
        block([300.0, 200.0, 20.0], [320.0, 220.0, 220.0]),
        block([300.0, 220.0, 20.0], [320.0, 400.0, 40.0]),
    ];
    let body = Body::new(&arms);
    let mut sweep = Sweep::new(&space, &body);
    let outlet = super::Outlet::of(&sweep);
    let roots = super::outside::outside(&mut sweep, &outlet, 1);
    assert!(roots.len() > 5, "{}", roots.len());
    for root in &roots {
        assert!(sweep.is_free_at(&root.at) && root.way.iter().all(|m| sweep.is_free(m)));
        assert!(outlet.is_out(&sweep, &root.way.last().map_or(root.at, |m| m.to)));
    }
    let found = plan(&space, &body, Effort { steps: 300_000, seed: 1 });
    let Verdict::Found(way) = found else { panic!("{found:?}") };
    assert!(holds(&space, &body, &way));
}

/// A small part in an open box, a hose straight before it: it goes round it while it can, and through it, for it is soft,
/// when the door is no wider.
#[test]
fn a_hose_is_gone_round_where_there_is_room() {
    let part = Body::new(&[block([280.0, 180.0, 100.0], [320.0, 240.0, 200.0])]);
    let hose = block([285.0, 60.0, 440.0], [315.0, 90.0, 800.0]);
    let all = |door| [sump(500.0, 320.0), cabinet(800.0, door)].concat();
    for (door, is_round) in
        [([-60.0, 660.0, 0.0, 800.0], true), ([275.0, 325.0, 0.0, 800.0], false)]
    {
        let (pieces, exits) = (all(door), exits(500.0, 320.0, Some(door)));
        let space = Space::plain(&pieces, &exits).sparing_soft([(99, &hose)]);
        let Verdict::Found(way) = plan_plainly(&space, &part) else { panic!("there is a way") };
        let hanging = Space::around(99, &hose, &exits);
        let is_clear = way.iter().all(|motion| super::is_free(&hanging, &part, motion));
        assert_eq!(is_clear, is_round, "{way:?}");
        // Were it not there, it would be carried straight through.
        let straight = plan_plainly(&Space::plain(&pieces, &exits), &part);
        let Verdict::Found(way) = straight else { panic!("there is a way") };
        assert!(!way.iter().all(|motion| super::is_free(&hanging, &part, motion)), "{way:?}");
    }
}
