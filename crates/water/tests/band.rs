//! The band of levels by signs is that of all corners.

#[path = "cases/sump.rs"]
mod sump;

use sump::{BOX, DISPLAY, FLOW_M3_S, HELD, ORDER, RETURN, START_M, sump};
use water::{
    Budget, Kind, Leans, Network, SteadyOptions, TransientOptions, band, start_levels, steady,
    steady_with_volume, transient,
};

const KINDS: [Kind; 6] =
    [Kind::Crest, Kind::Slots, Kind::Opening, Kind::Pipe, Kind::Lip, Kind::Pump];

/// Levels with the return's level given; levels with the water in all given; levels ten minutes after the
/// pump has stopped.
fn quantities(network: &Network, volume_m3: f64, leans: &Leans) -> Vec<f64> {
    let mut network = network.clone();
    network.lean(leans);
    let options = SteadyOptions::default();
    let mut start_m = START_M;
    start_levels(&network, &HELD, &ORDER, FLOW_M3_S, &mut start_m);
    let given_level = steady(&network, &HELD, &start_m, &options).expect("balanced");
    let counted = (0..10).map(|i| i <= RETURN).collect();
    let budget = Budget { free: RETURN, counted, volume_m3 };
    let given_volume =
        steady_with_volume(&network, &HELD, &start_m, &budget, &options).expect("balanced").steady;
    for e in network.elements.iter_mut().filter(|e| e.name == "pump") {
        e.scale = 0.0;
    }
    let volumes = network.volumes(&given_volume.levels_m);
    let after = transient(&mut network, &volumes, 600.0, &mut (), &TransientOptions::default());
    let after = after.expect("sound");
    let mut all = given_level.levels_m[..RETURN].to_vec();
    all.extend_from_slice(&given_volume.levels_m[..=RETURN]);
    all.extend([after.levels_m[DISPLAY], after.levels_m[BOX], after.levels_m[RETURN]]);
    all
}

#[test]
fn signs_bound_what_all_corners_bound() {
    let network = sump();
    let mut start_m = START_M;
    start_levels(&network, &HELD, &ORDER, FLOW_M3_S, &mut start_m);
    let rest = steady(&network, &HELD, &start_m, &SteadyOptions::default()).expect("balanced");
    let volume_m3: f64 = network.volumes(&rest.levels_m)[..=RETURN].iter().sum();
    let eval = |leans: &Leans| quantities(&network, volume_m3, leans);
    let n = eval(&Leans::NONE).len();
    let band = band(&KINDS, n, &mut |leans| eval(leans));

    let mut lowest = vec![f64::INFINITY; n];
    let mut highest = vec![f64::NEG_INFINITY; n];
    for corner in 0..1_u32 << KINDS.len() {
        let kinds = KINDS.iter().enumerate();
        let leans = kinds.fold(Leans::NONE, |leans, (k, &kind)| {
            leans.with(kind, if corner >> k & 1 == 1 { 1.0 } else { -1.0 })
        });
        for (q, value) in eval(&leans).into_iter().enumerate() {
            lowest[q] = lowest[q].min(value);
            highest[q] = highest[q].max(value);
        }
    }
    println!("{} runs for {n} quantities", band.runs);
    assert!(band.runs < 64, "{} runs", band.runs);
    for (q, bounds) in band.quantities.iter().enumerate() {
        let (low, high) = (lowest[q] - bounds.low, highest[q] - bounds.high);
        println!(
            "{q}: {:.5} {:.5} {:.5} m, corners {low:+.1e} {high:+.1e} m",
            bounds.low, bounds.mid, bounds.high
        );
        assert!(bounds.low <= bounds.mid && bounds.mid <= bounds.high);
        let slack = 1e-6 + 1e-3 * (highest[q] - lowest[q]);
        assert!(low.abs() < slack && high.abs() < slack, "quantity {q}: {low} m and {high} m off");
    }
}
