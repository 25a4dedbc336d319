//! Levels at rest: they balance, they do not depend on where the search starts, and more water never lowers
//! one of them.

#[path = "cases/layouts.rs"]
mod layouts;
#[path = "cases/sump.rs"]
mod sump;

use layouts::{Dice, Layout, layout};
use sump::{BOX, DISPLAY, FLOW_M3_S, HELD, ORDER, RETURN, START_M, sump};
use water::{
    Budget, How, Network, NetworkError, Steady, SteadyError, SteadyOptions, SteadySolver, Tank,
    start_levels, steady, steady_with_volume,
};

const LAYOUTS: u64 = 2000;

fn from(layout: &Layout, start_m: &[f64]) -> Steady {
    steady(&layout.network, &layout.held, start_m, &SteadyOptions::default()).expect("balanced")
}

fn in_flow_order(layout: &Layout) -> Steady {
    let mut start_m = layout.start_m.clone();
    let Layout { network, held, order, flow_m3_s, .. } = layout;
    start_levels(network, held, order, *flow_m3_s, &mut start_m);
    from(layout, &start_m)
}

/// All free tanks on one level above the sump, on another in it.
fn all_on(layout: &Layout, above_m: f64, sump_m: f64) -> Vec<f64> {
    let mut start_m = layout.start_m.clone();
    for (i, z) in start_m.iter_mut().enumerate().filter(|(i, _)| !layout.held[*i]) {
        *z = if i < 2 { above_m } else { sump_m };
    }
    start_m
}

fn flows(network: &Network, levels_m: &[f64]) -> Vec<f64> {
    network.elements.iter().map(|e| e.flow(levels_m[e.up], levels_m[e.down]).q).collect()
}

/// Tanks through which water runs.
fn is_passed(network: &Network, levels_m: &[f64]) -> Vec<bool> {
    let mut most = vec![0.0_f64; levels_m.len()];
    for (e, q) in network.elements.iter().zip(flows(network, levels_m)) {
        most[e.up] = most[e.up].max(q.abs());
        most[e.down] = most[e.down].max(q.abs());
    }
    most.iter().map(|q| 1e-7 < *q).collect()
}

#[test]
fn every_random_layout_comes_to_rest_from_any_start() {
    let (mut iterations, mut relaxed) = (0, 0);
    for seed in 0..LAYOUTS {
        let layout = layout(seed);
        let best = in_flow_order(&layout);
        iterations += best.iterations;
        relaxed += usize::from(best.how != How::Newton);
        let inflow = layout.network.inflow(&best.levels_m);
        for (i, f) in inflow.iter().enumerate().filter(|(i, _)| !layout.held[*i]) {
            assert!(f.abs() < 1.1e-12, "layout {seed}, tank {i}: {f:e} m³/s");
        }
        for (above_m, sump_m) in [(1.36, 0.36), (1.0, 0.001)] {
            let other = from(&layout, &all_on(&layout, above_m, sump_m));
            let pairs = flows(&layout.network, &best.levels_m)
                .into_iter()
                .zip(flows(&layout.network, &other.levels_m));
            let differ = pairs.fold(0.0_f64, |most, (a, b)| most.max((a - b).abs()));
            assert!(
                differ < 1e-9,
                "layout {seed} from {sump_m} m: flows differ by {differ:e} m³/s"
            );
        }
    }
    println!("{iterations} iterations, {relaxed} relaxed, of {LAYOUTS}");
    let mean = iterations as f64 / LAYOUTS as f64;
    assert!(mean < 14.0, "{mean} iterations a layout");
}

#[test]
fn more_inflow_never_lowers_a_level() {
    for seed in 0..LAYOUTS {
        let mut layout = layout(seed);
        let less = in_flow_order(&layout).levels_m;
        let extra = Dice::new(seed).between(0.01, 5.0);
        layout.network.elements[layout.source].scale = extra;
        let more = from(&layout, &less).levels_m;
        let is_passed = is_passed(&layout.network, &less);
        for i in (0..less.len()).filter(|&i| is_passed[i]) {
            // Over a lip that hardly anything passes, the residual leaves the level open by as much.
            assert!(
                less[i] - 1e-7 < more[i],
                "layout {seed}, tank {i}: {} then {}",
                less[i],
                more[i]
            );
        }
        assert!(less[2] + 1e-7 < more[2], "layout {seed}: the inlet must rise");
    }
}

#[test]
fn a_given_volume_is_met_and_trapped_water_is_named() {
    let (mut trapped_in, mut ambiguous, mut too_little) = (0, 0, 0);
    for seed in 0..LAYOUTS / 4 {
        let layout = layout(seed);
        let best = in_flow_order(&layout);
        let counted: Vec<bool> = (0..layout.held.len()).map(|i| i <= layout.return_tank).collect();
        let sum = |levels_m: &[f64]| -> f64 {
            let volumes = layout.network.volumes(levels_m);
            volumes[..=layout.return_tank].iter().sum()
        };
        let budget = Budget { free: layout.return_tank, counted, volume_m3: sum(&best.levels_m) };
        let mut start_m = best.levels_m.clone();
        start_m[layout.return_tank] += Dice::new(seed).between(-0.03, 0.03);
        let options = SteadyOptions::default();
        let Layout { network, held, .. } = &layout;
        let answer = match steady_with_volume(network, held, &start_m, &budget, &options) {
            Ok(answer) => answer,
            Err(SteadyError::Volume { nearest_m3, .. }) => {
                assert!(budget.volume_m3 < nearest_m3, "layout {seed}: there is such a level");
                too_little += 1;
                continue;
            }
            Err(error) => panic!("layout {seed}: {error}"),
        };
        let found = &answer.steady.levels_m;
        assert!((sum(found) - budget.volume_m3).abs() < 1e-9, "layout {seed}");
        let off = (found[layout.return_tank] - best.levels_m[layout.return_tank]).abs();
        if answer.trapped.is_empty() {
            assert!(off < 1e-6, "layout {seed}: {off} m off with nothing trapped");
        } else {
            trapped_in += 1;
            // Filled to the lip, the trapped chambers leave the least for the others.
            let wet = found[layout.return_tank];
            assert!(wet <= best.levels_m[layout.return_tank] + 1e-6, "layout {seed}");
            ambiguous += usize::from(wet + 1e-6 < answer.free_level_if_dry_m);
        }
    }
    println!(
        "{trapped_in} with trapped water, {ambiguous} of them ambiguous; {too_little} with too little \
         to fill it"
    );
    assert!(too_little < 10, "{too_little} times no level");
    assert!(0 < ambiguous, "some layouts must have trapped water");
}

#[test]
fn a_running_sump_is_at_rest_after_a_few_iterations() {
    let network = sump();
    let mut levels = START_M;
    start_levels(&network, &HELD, &ORDER, FLOW_M3_S, &mut levels);
    let options = SteadyOptions::default();
    let found = steady(&network, &HELD, &levels, &options).expect("balanced");
    assert_eq!(found.how, How::Newton);
    assert!(found.iterations <= 6, "{} iterations", found.iterations);
    let z = &found.levels_m;
    assert!(1.30 < z[DISPLAY] && z[DISPLAY] < 1.325);
    assert!(1.15 < z[BOX] && z[BOX] < 1.26);
    assert!(z[2..=RETURN].is_sorted_by(|a, b| a > b), "water runs downhill: {z:?}");

    // A sweep, each from the one before.
    let mut solver = SteadySolver::new(&network).expect("a sound network");
    let mut levels = z.clone();
    let mut iterations = 0;
    for i in 0..1000 {
        levels[RETURN] = 0.14 + 0.06 * f64::from(i) / 1000.0;
        let settled = solver.solve(&network, &HELD, &mut levels, &options).expect("balanced");
        iterations += settled.iterations;
    }
    assert!(iterations <= 2200, "{iterations} iterations for a thousand states");
}

#[test]
fn what_cannot_be_solved_is_said() {
    let network = sump();
    let options = SteadyOptions::default();
    let short = steady(&network, &HELD, &START_M[..9], &options);
    assert!(matches!(short, Err(SteadyError::Network(NetworkError::Length { given: 9, .. }))));

    let mut wild = START_M;
    wild[3] = f64::NAN;
    let wild = steady(&network, &HELD, &wild, &options);
    assert!(matches!(wild, Err(SteadyError::Network(NetworkError::NotFinite { .. }))));

    let mut many = network.clone();
    many.tanks.resize(129, Tank::sink("more"));
    let many = SteadySolver::new(&many).expect_err("too many tanks");
    assert_eq!(
        many.to_string(),
        "129 chambers and other tanks are more than the 128 that can be solved together"
    );

    // Nothing can leave the inlet, and something enters it for ever.
    let mut stopped = network.clone();
    stopped.elements.retain(|e| e.name != "leaf 2-3" && e.name != "sump rim, inlet");
    let stopped = steady(&stopped, &HELD, &START_M, &options);
    assert!(matches!(stopped, Err(SteadyError::NotBalanced { .. })), "{stopped:?}");

    let mut counted = vec![true; 10];
    counted[7..].fill(false);
    let budget = Budget { free: RETURN, counted, volume_m3: 50.0 };
    let too_much = steady_with_volume(&network, &HELD, &START_M, &budget, &options);
    assert!(matches!(too_much, Err(SteadyError::Volume { .. })), "{too_much:?}");
}
