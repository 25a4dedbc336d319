//! Reach in boxes whose answer is known.

use glam::{DVec2, DVec3};
use proptest::prelude::*;

use super::*;
use crate::convex::Convex;
use crate::world::{Door, Exits, Origin, Thing, ThingId, Window};

/// An open box of these inner sizes, its floor at height 0, walls 10 mm thick.
fn open_box(size: [f64; 3]) -> World {
    let [x, y, z] = size;
    let mut world = World {
        things: Vec::new(),
        exits: Exits {
            rim_z: z,
            rim: Vec::new(),
            doors: Vec::new(),
            room: [DVec3::ZERO, DVec3::ZERO],
        },
    };
    put(&mut world, [-10.0, -10.0, -10.0], [x + 10.0, y + 10.0, 0.0]);
    put(&mut world, [-10.0, -10.0, 0.0], [0.0, y + 10.0, z]);
    put(&mut world, [x, -10.0, 0.0], [x + 10.0, y + 10.0, z]);
    put(&mut world, [0.0, -10.0, 0.0], [x, 0.0, z]);
    put(&mut world, [0.0, y, 0.0], [x, y + 10.0, z]);
    world
}

fn put(world: &mut World, min: [f64; 3], max: [f64; 3]) -> ThingId {
    let piece = Convex::block([min.into(), max.into()]);
    let id = world.things.len();
    world.things.push(Thing {
        name: format!("thing {id}"),
        parameter: String::new(),
        origin: Origin::Placed(id),
        bounds: [piece.min, piece.max],
        coarse: vec![piece.clone()],
        fine: vec![piece],
    });
    id
}

/// Takes out one thing by itself.
fn alone(id: RemovableId, thing: ThingId) -> Removal {
    Removal { things: vec![thing], order: vec![id], is_way_known: true }
}

/// What the hand reaches in a box of these sizes.
fn by_hand<T>(
    world: &World,
    size: [f64; 3],
    removals: &[Removal],
    ask: impl Fn(&Reached<'_>) -> T,
) -> T {
    by(&Limb::hand(&params::Reach::default()), world, size, removals, ask)
}

fn by<T>(
    limb: &Limb,
    world: &World,
    [x, y, _]: [f64; 3],
    removals: &[Removal],
    ask: impl Fn(&Reached<'_>) -> T,
) -> T {
    let obstacles = Obstacles::of(world, removals);
    let floor = Floor::new(DVec2::ZERO, DVec2::new(x, y), 0.0);
    let outside = DVec2::new(x, y) + 10.0;
    let all =
        all(&[floor], core::slice::from_ref(limb), &obstacles, removals, world, (outside, 0.0));
    ask(&all[0][0])
}

fn share(world: &World, size: [f64; 3]) -> f64 {
    by_hand(world, size, &[], |reached| reached.share(&[]))
}

#[track_caller]
fn assert_share(share: f64, from: f64, to: f64) {
    assert!(from <= share && share <= to, "{share} is not within {from} and {to}");
}

#[test]
fn all_of_an_open_box_is_reached() {
    let size = [300.0, 250.0, 300.0];
    assert_share(share(&open_box(size), size), 1.0, 1.0);
    // Into the corners too when the hand only just fits.
    let size = [300.0, 57.0, 100.0];
    assert_share(share(&open_box(size), size), 1.0, 1.0);
}

#[test]
fn every_tool_reaches_all_of_an_open_box() {
    let (reach, size) = (params::Reach::default(), [300.0, 250.0, 300.0]);
    for tool in &reach.tool {
        let limb = Limb::tool(tool, &reach);
        let share = by(&limb, &open_box(size), size, &[], |reached| reached.share(&[]));
        assert_share(share, 1.0, 1.0);
    }
}

#[test]
fn nothing_deeper_than_the_arm_is_long_is_reached() {
    let limb = Limb::hand(&params::Reach::default());
    let deep = |depth: f64| [400.0, 400.0, depth];
    // From the shoulder to a corner of the fingers it is a little farther than along the arm.
    let most = DVec3::new(limb.length(), limb.end[0], limb.end[1]).length();
    assert_share(share(&open_box(deep(most + 1.0)), deep(most + 1.0)), 0.0, 0.0);
    // Straight down it just does, wherever the arm goes down beside the wall.
    let least = limb.length() - 1.0;
    assert_share(share(&open_box(deep(least)), deep(least)), 0.2, 1.0);
}

#[test]
fn a_slot_narrower_than_the_hand_is_thick_blocks() {
    // The least measure of a default hand is 55 mm.
    let narrow = [300.0, 54.0, 300.0];
    assert_share(share(&open_box(narrow), narrow), 0.0, 0.0);
}

#[test]
fn a_rim_that_is_narrower_than_the_hand_blocks() {
    let size = [300.0, 300.0, 300.0];
    let rim = |gap: [f64; 2]| {
        let mut world = open_box(size);
        let [x, y] = gap.map(|gap| 0.5 * (300.0 - gap));
        put(&mut world, [0.0, 0.0, 300.0], [x, 300.0, 310.0]);
        put(&mut world, [300.0 - x, 0.0, 300.0], [300.0, 300.0, 310.0]);
        put(&mut world, [x, 0.0, 300.0], [300.0 - x, y, 310.0]);
        put(&mut world, [x, 300.0 - y, 300.0], [300.0 - x, 300.0, 310.0]);
        share(&world, size)
    };
    assert_share(rim([50.0, 50.0]), 0.0, 0.0);
    // A slot as long as the box is no help when a hand is thicker.
    assert_share(rim([280.0, 50.0]), 0.0, 0.0);
    assert_share(rim([250.0, 250.0]), 1.0, 1.0);
}

#[test]
fn a_low_plate_over_half_of_the_floor_leaves_half() {
    let size = [400.0, 300.0, 300.0];
    let mut world = open_box(size);
    // 30 mm above the floor: no hand of 55 mm gets under it, its tips at most half a cell.
    let plate = put(&mut world, [0.0, 0.0, 30.0], [200.0, 300.0, 40.0]);
    assert_share(share(&world, size), 0.45, 0.55);
    // When it can be taken out it is named, and then all is reached.
    let removals = [alone(0, plate)];
    by_hand(&world, size, &removals, |reached| {
        assert_share(reached.share(&[]), 0.45, 0.55);
        assert_eq!(reached.wanted(false), [0]);
        assert_share(reached.share(&[0]), 1.0, 1.0);
        assert!(reached.farthest_off(&[]).is_some_and(|place| place.x < 20.0));
        assert_eq!(reached.farthest_off(&[0]), None);
    });
}

#[test]
fn a_high_plate_is_reached_under() {
    let size = [400.0, 300.0, 300.0];
    let mut world = open_box(size);
    put(&mut world, [0.0, 0.0, 200.0], [150.0, 300.0, 210.0]);
    assert_share(share(&world, size), 0.9, 1.0);
}

#[test]
fn only_what_is_in_the_way_is_taken_out_with_what_must_come_before() {
    let size = [300.0, 300.0, 300.0];
    let mut world = open_box(size);
    let cover = put(&mut world, [0.0, 0.0, 200.0], [300.0, 300.0, 210.0]);
    let pin = put(&mut world, [1.0, 1.0, 210.0], [4.0, 4.0, 215.0]);
    let far = put(&mut world, [400.0, 0.0, 0.0], [410.0, 10.0, 10.0]);
    let mut removals = [alone(0, far), alone(1, cover), alone(2, pin)];
    removals[1].order = vec![2, 1];
    by_hand(&world, size, &removals, |reached| {
        assert_share(reached.share(&[]), 0.0, 0.0);
        assert_eq!(reached.wanted(false), [1]);
        assert_share(reached.share(&[1]), 1.0, 1.0);
        // Without the cover out the pin's going is no help.
        assert_share(reached.share(&[2]), 0.0, 0.0);
    });
}

#[test]
fn what_has_no_way_out_stays_and_is_told() {
    let size = [300.0, 300.0, 300.0];
    let mut world = open_box(size);
    let cover = put(&mut world, [0.0, 0.0, 200.0], [300.0, 300.0, 210.0]);
    let removals = [Removal { is_way_known: false, ..alone(0, cover) }];
    let rescue = by_hand(&world, size, &removals, |reached| {
        assert!(reached.wanted(false).is_empty());
        rescue("first".to_owned(), reached, &removals, &|_| Vec::new(), &|id| format!("part {id}"))
    });
    assert!(!rescue.is_possible);
    assert_share(rescue.share, 1.0, 1.0);
    assert_eq!(rescue.steps.len(), 1);
    assert_eq!((rescue.steps[0].name.as_str(), rescue.steps[0].moves.len()), ("part 0", 0));
}

#[test]
fn a_thing_goes_with_any_of_its_owners() {
    let size = [300.0, 300.0, 300.0];
    let mut world = open_box(size);
    let cover = put(&mut world, [0.0, 0.0, 200.0], [300.0, 300.0, 210.0]);
    let removals = [alone(0, cover), alone(1, cover)];
    by_hand(&world, size, &removals, |reached| {
        assert_share(reached.share(&[0]), 1.0, 1.0);
        assert_share(reached.share(&[1]), 1.0, 1.0);
        assert_eq!(reached.wanted(false).len(), 1);
    });
}

/// With a door whose plane lies in front of the box by so much.
fn with_door(size: [f64; 3], before: f64) -> World {
    let mut world = open_box(size);
    let window = Window {
        centre: DVec3::new(0.5 * size[0], -before, size[2] + 200.0),
        u: DVec3::X,
        v: DVec3::Z,
        half_u: 0.5 * size[0],
        half_v: 200.0,
    };
    world.exits.doors.push(Door { window, out: DVec3::NEG_Y, beyond: before });
    world
}

#[test]
fn a_door_limits_how_far_in_an_arm_reaches() {
    let size = [400.0, 700.0, 250.0];
    let length = Limb::hand(&params::Reach::default()).length();
    for before in [50.0, 150.0] {
        let world = with_door(size, before);
        by_hand(&world, size, &[], |reached| {
            // The shoulder is at least `before` in front; a hand covers half its breadth and half a cell.
            let most = (length - before + 50.0 + 10.0) / size[1];
            assert_share(reached.share(&[]), 0.3, most);
            assert!(reached.farthest_off(&[]).is_some_and(|place| place.y > 650.0));
        });
    }
}

#[test]
fn a_ceiling_on_the_rim_shuts_the_hand_out() {
    let size = [300.0, 300.0, 250.0];
    let mut world = with_door(size, 50.0);
    let low = |world: &mut World, gap: f64| {
        put(world, [-10.0, -60.0, size[2] + gap], [310.0, 310.0, size[2] + gap + 10.0]);
    };
    let mut high = world.clone();
    low(&mut world, 40.0);
    assert_share(share(&world, size), 0.0, 0.0);
    low(&mut high, 400.0);
    assert_share(share(&high, size), 0.9, 1.0);
}

#[test]
fn what_is_found_does_not_depend_on_threads() {
    let size = [300.0, 200.0, 250.0];
    let mut world = with_door(size, 30.0);
    let a = put(&mut world, [0.0, 0.0, 50.0], [150.0, 200.0, 60.0]);
    let b = put(&mut world, [100.0, 0.0, 100.0], [300.0, 150.0, 110.0]);
    let removals = [alone(0, a), alone(1, b)];
    let all = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
        pool.install(|| {
            by_hand(&world, size, &removals, |reached| {
                let sets = [&[][..], &[0], &[1], &[0, 1]];
                let shares = sets.map(|out| reached.share(out).to_bits());
                (shares, reached.wanted(false), reached.farthest_off(&[]))
            })
        })
    };
    assert_eq!(all(1), all(4));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    /// Reach grows as things go, and what sets say is what comes out when the things are really not there.
    #[test]
    fn reach_grows_as_things_go(
        blocks in proptest::collection::vec(
            ((0.0..160.0, 0.0..120.0, 0.0..250.0), (20.0..120.0, 20.0..120.0, 5.0..60.0)),
            3,
        ),
        out in 0_usize..8,
    ) {
        let size = [220.0, 180.0, 250.0];
        let mut world = open_box(size);
        let mut without = open_box(size);
        let mut removals = Vec::new();
        let mut wanted = Vec::new();
        for (id, ((x, y, z), (dx, dy, dz))) in blocks.into_iter().enumerate() {
            let ends = ([x, y, z], [f64::min(x + dx, 220.0), f64::min(y + dy, 180.0), z + dz]);
            removals.push(alone(id, put(&mut world, ends.0, ends.1)));
            if out & (1 << id) != 0 {
                wanted.push(id);
            } else {
                put(&mut without, ends.0, ends.1);
            }
        }
        // There everything is loose as well, so that the same cells count as floor.
        let still: Vec<Removal> = (0..3 - wanted.len()).map(|id| alone(id, 5 + id)).collect();
        let really = by_hand(&without, size, &still, |reached| reached.share(&[]));
        by_hand(&world, size, &removals, |reached| {
            let shares = (0..=wanted.len()).map(|n| reached.share(&wanted[..n]));
            let shares: Vec<f64> = shares.collect();
            prop_assert!(shares.is_sorted(), "{shares:?}");
            prop_assert_eq!(shares.last().map(|share| share.to_bits()), Some(really.to_bits()));
            Ok(())
        })?;
    }
}
