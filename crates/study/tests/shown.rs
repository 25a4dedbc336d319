//! What is shown of the demonstrations, looked at as a whole.

use glam::DVec3;
use show::{Show, Step};
use study::{Reading, Source, Studied};

const DEMOS: [(&str, &str); 4] = [
    ("brook", include_str!("../../../params/brook.toml")),
    ("fragfarm", include_str!("../../../params/fragfarm.toml")),
    ("mangrove", include_str!("../../../params/mangrove.toml")),
    ("seahorse", include_str!("../../../params/seahorse.toml")),
];

/// Everything that is known of a demonstration, with the names of the scene's bodies.
fn shown(name: &str, text: &str) -> (Show, Vec<String>) {
    let source = Source { name: format!("{name}.toml"), text: text.to_owned() };
    let reading = Reading::of(source);
    let wet = reading.wet().expect("it is sound");
    let fitted = reading.fitted().expect("it is sound");
    let parts = study::parts::build(&wet.design).expect("all parts are solid");
    let scene = study::scene(&wet.design, &parts).expect("as many meshes as pieces");
    let scene = study::surrounded(scene, &wet.design).expect("the cabinet is solid");
    let found = [reading.of_water(Some(&wet)), reading.of_fit(Some(&fitted))].concat();
    let report = reading.report_of_fit(&found, Some(&fitted.fit));
    let show = study::shown::show(&Studied {
        reading: &reading,
        design: &wet.design,
        parts: &parts,
        scene: &scene,
        report: &report,
        known: Some(&wet.known),
        fit: Some(&fitted.fit),
    });
    let around = scene.cabinet.iter().flat_map(|cabinet| &cabinet.things);
    let bodies = scene.bodies.iter().chain(&scene.spares).chain(around.map(|thing| &thing.body));
    let names = bodies.map(|body| body.name.clone()).collect();
    (show, names)
}

#[test]
fn every_demonstration_can_be_shown_and_played() {
    for (name, text) in DEMOS {
        let (show, names) = shown(name, text);
        let told: Vec<String> = show.things.iter().map(|thing| thing.name.clone()).collect();
        assert_eq!(told, names, "{name}: things are the bodies of the scene");
        things(name, &show);
        moves(name, &show);
        water(name, &show);
        words(name, &show, text);
        let size = |show: &Show| serde_json::to_string(show).expect("plain data").len();
        let mut thin = show.clone();
        for rehearsal in &mut thin.rehearsals {
            *rehearsal = rehearsal.thinned(240);
        }
        let (whole, thin) = (size(&show), size(&thin));
        println!("{name}: {whole} bytes, thinned {thin}");
        assert!(thin < 1_000_000 && thin <= whole, "{name}: {thin} bytes");
    }
}

fn things(name: &str, show: &Show) {
    let count = show.things.len();
    for thing in &show.things {
        assert!(thing.findings.iter().all(|k| *k < show.findings.len()), "{name}: {}", thing.name);
        assert!(thing.way.is_none_or(|way| way < show.ways.len()), "{name}: {}", thing.name);
        assert!(thing.size.contains('×'), "{name}: {} is {}", thing.name, thing.size);
        assert!(!thing.what.is_empty() && thing.line.is_some(), "{name}: {}", thing.name);
    }
    for (k, finding) in show.findings.iter().enumerate() {
        let is_told = |id: &usize| show.things[*id].findings.contains(&k);
        assert!(finding.things.iter().all(|id| *id < count && is_told(id)), "{name}: {k}");
    }
    assert!(show.findings.iter().any(|finding| !finding.things.is_empty()), "{name}");
    for slot in &show.slots {
        assert!(slot.leaves.len() > 1, "{name}: {}", slot.name);
        assert!(slot.leaves.iter().all(|(_, things)| !things.is_empty()), "{name}: {}", slot.name);
    }
    for door in &show.doors {
        assert!(door.lowest_mm <= door.set_mm && door.set_mm <= door.highest_mm, "{}", door.leaf);
        let is_door = |id: &usize| show.things[*id].what == "door";
        assert!(door.things.iter().all(is_door), "{name}: {}", door.leaf);
    }
    assert!(!show.parts.is_empty() && show.parts.iter().all(|row| row.count > 0), "{name}");
}

fn moves(name: &str, show: &Show) {
    let check = |steps: &[Step], what: &str| {
        for step in steps {
            let all = step.things.iter().chain(&step.undone);
            assert!(all.clone().all(|id| *id < show.things.len()), "{name}: {what}");
            assert!(!step.things.is_empty(), "{name}: {what}: {} moves nothing", step.name);
            assert!(step.things.iter().all(|id| !step.undone.contains(id)), "{name}: {what}");
            assert!(!step.least_gap.is_empty(), "{name}: {what}");
        }
    };
    for way in &show.ways {
        check(&way.steps, &way.name);
        assert!(!way.verdict.is_empty(), "{name}: {}", way.name);
        // What comes out is itself the last to move.
        assert!(way.steps.last().is_none_or(|last| last.name == way.name), "{name}: {}", way.name);
        assert!(way.steps.iter().all(|step| !step.moves.is_empty()), "{name}: {}", way.name);
    }
    assert!(show.ways.iter().any(|way| way.steps.len() > 1), "{name}: something is in the way");
    check(&show.emptying, "everything");
    assert!(!show.emptying.is_empty() && !show.before_hands.is_empty(), "{name}");
    if let Some(rescue) = &show.rescue {
        check(&rescue.steps, "rescue");
        assert!(!rescue.verdict.is_empty(), "{name}");
    }
}

fn water(name: &str, show: &Show) {
    assert!(show.is_in_flow, "{name}");
    let most_mm = show.outside_mm.z - show.floor_z_mm;
    for basin in &show.basins {
        assert!(0.0 < basin.level_mm && basin.level_mm < most_mm, "{name}: {}", basin.name);
        assert!(basin.min_mm.cmplt(basin.max_mm).all(), "{name}: {}", basin.name);
    }
    assert!(!show.rehearsals.is_empty(), "{name}");
    for rehearsal in &show.rehearsals {
        let what = format!("{name}, {}", rehearsal.name);
        let count = rehearsal.times_s.len();
        assert!(count > 1 && rehearsal.times_s.is_sorted(), "{what}");
        assert_eq!(rehearsal.levels_mm.len(), show.basins.len(), "{what}");
        let flows = rehearsal.flows.iter().map(|flow| &flow.l_h);
        let all = rehearsal.levels_mm.iter().chain([&rehearsal.display_mm]);
        let all = all.chain(&rehearsal.spilled_l).chain(flows);
        assert!(all.clone().all(|values| values.len() == count), "{what}");
        assert!(all.flatten().all(|value| value.is_finite()), "{what}");
        // A level may lie a little above the rim while it runs over.
        let is_level = |mm: &f64| -0.1 <= *mm && *mm < most_mm + 60.0;
        assert!(rehearsal.levels_mm.iter().flatten().all(is_level), "{what}");
        let begun = rehearsal.levels_at(-30.0);
        for (level, basin) in begun.iter().zip(&show.basins) {
            // The return chamber swings with its float, and what evaporates is missing first there.
            assert!((level - basin.level_mm).abs() < 3.0, "{what}: {} at {level}", basin.name);
        }
        let thin = rehearsal.thinned(240);
        assert!(thin.times_s.len() <= 240, "{what}: {}", thin.times_s.len());
        let peak = |values: &[f64]| values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        for (thin, full) in thin.levels_mm.iter().zip(&rehearsal.levels_mm) {
            assert!((peak(thin) - peak(full)).abs() < 1e-9, "{what}: the peak is kept");
        }
        assert!(!rehearsal.words.is_empty() && !rehearsal.verdict.is_empty(), "{what}");
    }
    let cut = show.rehearsals.iter().find(|rehearsal| rehearsal.name == "power cut");
    let cut = cut.expect("a power cut is rehearsed");
    let pump = &cut.flows[0].l_h;
    assert!(cut.at(pump, -1.0) > 100.0, "{name}: the pump runs until the power goes");
    assert!(cut.at(pump, 1800.0).abs() < 100.0, "{name}: and not after");
    assert!(cut.events.iter().any(|event| event.words.contains("the power goes")), "{name}");
}

fn words(name: &str, show: &Show, text: &str) {
    let lines = text.lines().count();
    assert!(show.things.iter().all(|thing| thing.line.is_none_or(|line| line <= lines)), "{name}");
    let chambers = show.basins.iter().filter(|basin| basin.is_chamber).count();
    assert_eq!(show.stops.len(), chambers + 1, "{name}: the whole and every chamber");
    for stop in &show.stops {
        assert!(!stop.title.is_empty() && stop.text.len() > 1, "{name}: {}", stop.title);
        assert!(stop.text.iter().all(|words| words.ends_with('.')), "{name}: {:?}", stop.text);
        assert!(stop.findings.iter().all(|k| *k < show.findings.len()), "{name}: {}", stop.title);
        let [low, high] = stop.about;
        assert!(low.cmplt(high).all() && high.cmple(show.outside_mm + DVec3::ONE).all(), "{name}");
        assert!((stop.from.length() - 1.0).abs() < 1e-9, "{name}: {}", stop.title);
    }
}

/// What is shown before anything is known of water and ways.
fn dry(text: &str) -> Show {
    let source = Source { name: "dry.toml".to_owned(), text: text.to_owned() };
    let reading = Reading::of(source);
    let design = reading.design.as_ref().expect("it has a design");
    let parts = study::parts::build(design).expect("all parts are solid");
    let scene = study::scene(design, &parts).expect("as many meshes as pieces");
    let report = reading.report(&[]);
    study::shown::show(&Studied {
        reading: &reading,
        design,
        parts: &parts,
        scene: &scene,
        report: &report,
        known: None,
        fit: None,
    })
}

#[test]
fn what_is_not_known_yet_is_left_out() {
    let show = dry(DEMOS[3].1);
    assert!(show.ways.is_empty() && show.rehearsals.is_empty() && show.rescue.is_none());
    assert!(show.things.iter().all(|thing| thing.way.is_none()));
    assert!(show.basins.iter().all(|basin| basin.level_mm >= 0.0));
    assert!(!show.is_in_flow);
    assert!(show.stops[0].text.iter().any(|words| words.contains("not known")));
}

#[test]
fn a_leaf_of_two_slots_is_told_at_both() {
    let (_, text) = DEMOS[3];
    let twice = text.replace("leaf = \"gate\"", "slot = [\"comb\", \"letterbox\"]");
    assert_ne!(twice, text);
    let show = dry(&twice);
    let dividers: Vec<&str> = show.slots.iter().map(|slot| slot.name.as_str()).collect();
    assert_eq!(dividers, ["first", "gate"]);
    let [first, second] = [0, 1].map(|k| show.slots[k].leaves.clone());
    assert_eq!(first.len(), 2);
    assert_eq!(second.len(), 2);
    for (name, things) in first.iter().chain(&second) {
        assert!(things.iter().any(|id| show.things[*id].name == *name), "{name}");
    }
    assert!(first.iter().all(|(name, _)| second.iter().all(|(other, _)| name != other)));
}

/// Where a leaf holds the level, nothing of what evaporates is seen.
#[test]
fn of_the_float_is_told_what_its_chamber_shows() {
    let (_, text) = DEMOS[3];
    let moved = text.replace("[top_up]\n", "[top_up]\nchamber = \"planted\"\n");
    assert_ne!(moved, text);
    let told = |show: &Show| {
        let texts = show.stops.iter().map(|stop| (stop.title.clone(), stop.text.join(" ")));
        texts.filter(|(_, text)| text.contains("float of the top-up")).collect::<Vec<_>>()
    };
    for (text, chamber, words) in [
        (text, "return", "goes missing in this chamber"),
        (moved.as_str(), "planted", "goes missing further on"),
    ] {
        let told = told(&dry(text));
        assert_eq!(told.len(), 1);
        assert!(told[0].0 == chamber && told[0].1.contains(words), "{told:?}");
    }
}
