//! Guards the demos: everything comes out of each, in an order in which every way is free, whatever the dice.
//!
//! The large ones take seconds a seed where nothing is optimized for speed, so here they are asked twice; the example
//! `seeds` asks all of them ten times.

use fit::{Fit, Verdict};

fn design(name: &str, seed: u32) -> design::Design {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the demo is there");
    let mut file = params::read(&text).file.expect("it reads");
    file.fit.seed = seed;
    design::resolve(&file).design.expect("it resolves")
}

/// For every removable what comes out, in order; the moves may differ from seed to seed, this may not.
fn verdicts(design: &design::Design, fit: &Fit) -> Vec<(String, Vec<String>)> {
    let of = |way: &fit::Way| {
        let name = design.removables[way.removable].name.clone();
        (name, way.steps.iter().map(|step| step.name.clone()).collect())
    };
    fit.report.ways.iter().map(of).collect()
}

#[track_caller]
fn check(name: &str, seeds: std::ops::RangeInclusive<u32>) {
    let design = design(name, 1);
    let fit = Fit::of(&design);
    for way in &fit.report.ways {
        let of = &design.removables[way.removable].name;
        assert!(!way.steps.is_empty(), "{name}: {of}: {:?}, {:?}", way.alone, way.blocked_by);
        assert!(
            matches!(way.alone, Verdict::Found(_)) || way.steps.len() > 1,
            "{name}: {of} comes out alone, but not with everything in place"
        );
        assert_eq!(way.steps.last().map(|step| step.removable), Some(way.removable));
        for step in &way.steps {
            let joined = step.moves.windows(2).all(|two| two[0].to == two[1].from);
            assert!(joined, "{name}: {of}: {} jumps", step.name);
        }
    }
    let whole = design.removables.iter().filter(|r| r.instead_of.is_none()).count();
    assert!(fit.report.emptying.len() <= whole);
    let first = verdicts(&design, &fit);
    for seed in seeds {
        let design = self::design(name, seed);
        assert_eq!(verdicts(&design, &Fit::of(&design)), first, "seed {seed}");
    }
}

#[test]
fn brook() {
    check("brook", 2..=10);
}

#[test]
fn fragfarm() {
    check("fragfarm", 2..=2);
}

#[test]
fn mangrove() {
    check("mangrove", 2..=2);
}

#[test]
fn seahorse() {
    check("seahorse", 2..=2);
}
