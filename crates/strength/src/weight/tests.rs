//! Guards what a sump weighs.

use super::*;
use crate::sample::{changed, of_text};
use crate::waters::Levels;
use glam::dvec2;
use params::File;

const DEMOS: [&str; 4] = ["seahorse", "mangrove", "brook", "fragfarm"];

fn demo(name: &str) -> (File, Design) {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    of_text(&std::fs::read_to_string(path).expect("the demo is there"))
}

/// All basins at one level, or each where it rests with `None`.
fn waters(design: &Design, level_mm: Option<f64>) -> Waters {
    let level = |rest: f64| level_mm.unwrap_or(rest);
    let levels = design.waterworks.basins.iter().map(|basin| Levels {
        running_low_mm: 0.0,
        running_mm: level(basin.rest_mm),
        highest_mm: level(basin.rest_mm),
        highest_in: String::new(),
    });
    Waters { density_kg_m3: 1025.0, basins: levels.collect(), ..Waters::default() }
}

fn states(weight: &Weight) -> impl Iterator<Item = &State> {
    [&weight.carried, &weight.dry, &weight.full].into_iter().chain(&weight.running)
}

/// 1000 × 400 × 300 mm of sea water of 1025 kg/m³ are 123 kg, 3.02 kN/m² and 123 kg/m.
#[test]
fn a_block_of_water_weighs_what_a_handbook_says() {
    let (_, mut design) = changed(&[]);
    design.outside = DVec3::new(1000.0, 400.0, 300.0);
    let water = Lump {
        kg: 1.0 * 0.4 * 0.3 * 1025.0,
        centre: DVec3::new(500.0, 200.0, 150.0),
        along_mm: [0.0, 1000.0],
    };
    let state = State::of(&design, &[], &[water]);
    assert!((state.total_kg() - 123.0).abs() < 1e-9);
    assert!((state.pressure_kn_m2 - 3.02).abs() < 0.005, "{}", state.pressure_kn_m2);
    assert!((state.per_metre_kg - 123.0).abs() < 1e-9);
    assert!(state.corners_kg.iter().all(|corner| (corner - 30.75).abs() < 1e-9));
}

#[test]
fn water_in_flow_is_area_times_level() {
    let (_, design) = changed(&[]);
    let running = weigh(&design, &waters(&design, Some(100.0))).running.expect("levels are told");
    let area: f64 = design.waterworks.basins.iter().map(design::Basin::area_mm2).sum();
    assert!((running.water_kg - area * 100.0 * 1e-9 * 1025.0).abs() < 1e-9);
    // Inside 784 by 384 mm, less the channel of 8.8 mm and the leaf of 8 mm.
    assert!((area - (784.0 - 8.8 - 8.0) * 384.0).abs() < 1e-6, "{area}");
}

#[test]
fn without_levels_nothing_runs() {
    let (_, design) = changed(&[]);
    assert_eq!(weigh(&design, &Waters::default()).running, None);
}

/// Archimedes: a pump of 0.8 L under water adds its weight less 0.82 kg of sea water; half under water, less 0.41 kg.
#[test]
fn what_stands_in_water_takes_its_place() {
    let (_, plain) = changed(&[]);
    let (_, weighed) = changed(&[("kind = \"pump\"", "kind = \"pump\"\nweight = 2")]);
    for (level, displaced) in [(120.0, 0.82), (50.0, 0.41), (0.0, 0.0)] {
        let total = |design: &Design| {
            let weight = weigh(design, &waters(design, Some(level)));
            weight.running.expect("levels are told").total_kg()
        };
        let more = total(&weighed) - total(&plain);
        assert!((more - (2.0 - displaced)).abs() < 1e-9, "{level}: {more}");
    }
    let unknown = |design: &Design| weigh(design, &Waters::default()).unknown;
    assert!(unknown(&plain).iter().any(|name| name == "pump"));
    assert!(!unknown(&weighed).iter().any(|name| name == "pump"));
}

/// Over all demos: parts add up one by one, four corners carry all of it, and more in it weighs more.
#[test]
fn sums_are_sums_on_every_demo() {
    for name in DEMOS {
        let (_, design) = demo(name);
        let weight = weigh(&design, &waters(&design, None));
        let parts = design.placed.iter().filter_map(|placed| design.pieces[placed.piece].mass_kg());
        assert!((weight.dry.parts_kg - parts.sum::<f64>()).abs() < 1e-9, "{name}");
        for state in states(&weight) {
            let corners: f64 = state.corners_kg.iter().sum();
            assert!((corners - state.total_kg()).abs() < 1e-9, "{name}");
            let mean = state.total_kg() / (design.outside.x * 1e-3);
            assert!(state.per_metre_kg >= mean && state.per_metre_kg < 3.0 * mean, "{name}");
            assert!(state.centre_mm.cmpgt(DVec3::ZERO).all(), "{name}");
            assert!(state.centre_mm.cmplt(design.outside).all(), "{name}");
        }
        let running = weight.running.as_ref().map_or(0.0, State::total_kg);
        let rising =
            [weight.carried.total_kg(), weight.dry.total_kg(), running, weight.full.total_kg()];
        assert!(rising.windows(2).all(|pair| pair[0] <= pair[1]), "{name}: {rising:?}");
    }
}

/// Full to the rim: no more than the room between the walls, and no less than the chambers alone up to under the rim.
#[test]
fn a_full_sump_holds_between_its_chambers_and_its_walls() {
    for name in DEMOS {
        let (_, design) = demo(name);
        let basins = &design.waterworks.basins;
        let lo = basins.iter().map(|b| b.min).reduce(glam::DVec2::min).expect("chambers");
        let hi = basins.iter().map(|b| b.max).reduce(glam::DVec2::max).expect("chambers");
        let water = weigh(&design, &waters(&design, None)).full.water_kg;
        let most = (hi - lo).element_product() * basins[0].rim_mm * 1e-9 * 1025.0;
        let least: f64 = basins.iter().map(|b| b.area_mm2() * (b.rim_mm - 25.0)).sum();
        assert!(water < most, "{name}: {water} of {most}");
        assert!(water > 0.95 * least * 1e-9 * 1025.0, "{name}: {water} of {least}");
    }
}

/// A plain box full to the rim, by hand: the inside less both leaves, guides, door, shelf, ledges, and the rim inside the
/// walls.
#[test]
fn the_water_of_a_full_sump_leaves_room_for_sheet() {
    let (_, design) = changed(&[("rim = { width = 40, braces = [{ at = 400, width = 60 }] }", "")]);
    let water = weigh(&design, &waters(&design, None)).full.water_kg;
    let inside = |role: design::Role| -> f64 {
        let of_role = |placed: &&design::Placed| design.pieces[placed.piece].role == role;
        let placed = design.placed.iter().filter(of_role);
        placed.filter_map(|p| design.pieces[p.piece].mass_kg()).sum::<f64>() / 1190.0
    };
    use design::Role::{Door, GuideStrip, Leaf, Ledge, SockHolder};
    let sheet: f64 = [Leaf, Door, GuideStrip, Ledge, SockHolder].map(inside).iter().sum();
    let expected = (0.784 * 0.384 * 0.372 - sheet) * 1025.0;
    assert!((water - expected).abs() < 1e-6, "{water}, not {expected}");
}

#[test]
fn a_load_at_one_end_is_found_there() {
    let (_, design) = changed(&[]);
    let lump = |kg: f64, along_mm: [f64; 2]| Lump {
        kg,
        centre: dvec2(0.5 * (along_mm[0] + along_mm[1]), 200.0).extend(10.0),
        along_mm,
    };
    // 8 kg over all of 800 mm, and 6 kg on the last 100 mm: 10 + 20 kg/m over the last 300 mm.
    let state = State::of(&design, &[lump(8.0, [0.0, 800.0]), lump(6.0, [700.0, 800.0])], &[]);
    assert!((state.per_metre_kg - 30.0).abs() < 1e-9, "{}", state.per_metre_kg);
    assert!(state.corners_kg[1] > state.corners_kg[0]);
}
