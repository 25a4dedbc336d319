//! Guards the demos: everything comes out of each, in an order in which every way is free, whatever the dice.

use fit::{Fit, Verdict};

fn design(name: &str, seed: u32) -> design::Design {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the demo is there");
    let mut file = params::read(&text).file.expect("it reads");
    file.fit.seed = seed;
    design::resolve(&file).design.expect("it resolves")
}

/// For every removable what comes out, in order; the moves may differ from seed to seed, this may not.
fn verdicts(name: &str, seed: u32) -> Vec<(String, Vec<String>)> {
    let design = design(name, seed);
    let fit = Fit::of(&design);
    let of = |way: &fit::Way| {
        let name = design.removables[way.removable].name.clone();
        (name, way.steps.iter().map(|step| step.name.clone()).collect())
    };
    fit.report.ways.iter().map(of).collect()
}

#[track_caller]
fn check(name: &str) {
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
    let first = verdicts(name, 1);
    for seed in 2..=10 {
        assert_eq!(verdicts(name, seed), first, "seed {seed}");
    }
}

#[test]
fn brook() {
    check("brook");
}
