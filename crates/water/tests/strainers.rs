//! A strainer in an opening takes part of it from the water.

mod common;

use common::{SMALL, changed, run, works};
use design::Waterworks;
use findings::{Finding, Grade};
use water::{Failure, Running, findings, rehearse, report, standing};

/// A letterbox of 70 × 45 mm is the only way below the crest of the second leaf, under water on both sides.
const LETTERBOX: &str = "[leaf.second]\nopenings = [{ letterbox = { bottom = 60, width = 70, height = 45 } }]\ncrest = { height = 300 }";

fn with(strainer_in: Option<&str>) -> Waterworks {
    let text = changed(SMALL, &[("[leaf.second]\ncrest = { height = 200 }", LETTERBOX)]);
    let fitting = strainer_in.map_or(String::new(), |chamber| {
        format!("[[fitting]]\nkind = \"strainer\"\nleaf = \"second\"\nchamber = \"{chamber}\"\nat = 192\nheight = 82.5\n")
    });
    works(&format!("{text}{fitting}"))
}

fn level_m(running: &Running<'_>, name: &str) -> f64 {
    let tank = running.system.network.tanks.iter().position(|t| t.name == name);
    running.levels_m[tank.expect("there is such a tank")]
}

fn found(works: &Waterworks) -> Vec<Finding> {
    let running = run(works).expect("it runs");
    let outcome = rehearse(&running, &Failure::StrainersClogged).expect("it can be rehearsed");
    findings(&running, &report(&running), &[outcome], units::System::Metric)
}

/// By hand: in corners of 8 mm the collar is 69.3 × 44.3, inside 66.1 × 41.1 with corners of 6.05; half a bar of 1.6 mm from
/// their arcs, 2.34 mm from the walls, 13 slots of 3 mm have room between bars, 36.4 mm long.
#[test]
fn bars_take_their_part_of_the_opening() {
    let works = with(Some("middle"));
    let way = works.ways.iter().find(|way| !way.strainers.is_empty()).expect("a strainer");
    let [strainer] = way.strainers.as_slice() else { panic!("{:?}", way.strainers) };
    assert!((strainer.of_way - 1.0).abs() < 1e-12);
    let slots = ((66.1 - 2.0 * 2.34 + 1.6) / 4.6_f64).floor();
    let opening = 70.0 * 45.0 - (4.0 - std::f64::consts::PI) * 64.0;
    let by_hand = slots * 3.0 * 36.4 / opening;
    assert!((strainer.free - by_hand).abs() < 0.02, "{} by hand {by_hand}", strainer.free);
}

/// `Δh = (Q / (0.60 A))² / (2 g)` by hand, through what is free; without the strainer by 0.61 and all of it.
#[test]
fn levels_rise_by_the_loss_of_a_screen() {
    for strainer_in in [None, Some("middle")] {
        let works = with(strainer_in);
        let free = works.ways.iter().flat_map(|way| &way.strainers).map(|s| s.free).next();
        let running = run(&works).expect("it runs");
        let q = running.return_flow();
        let drop = level_m(&running, "middle") - level_m(&running, "return");
        let area = 0.070 * 0.045 * free.unwrap_or(1.0);
        let cd = if free.is_some() { 0.60 } else { 0.61 };
        let by_hand = (q / (cd * area)).powi(2) / (2.0 * 9.80665);
        assert!((drop / by_hand - 1.0).abs() < 0.01, "{drop} by hand {by_hand}: {strainer_in:?}");
    }
}

#[test]
fn a_clogged_strainer_is_rehearsed_and_sends_the_water_over_the_crest() {
    assert!(!standing(&with(None)).contains(&Failure::StrainersClogged));
    let works = with(Some("middle"));
    assert!(standing(&works).contains(&Failure::StrainersClogged));
    let running = run(&works).expect("it runs");
    assert!(level_m(&running, "middle") < 0.29);
    let outcome = rehearse(&running, &Failure::StrainersClogged).expect("it can be rehearsed");
    let middle = running.system.network.tanks.iter().position(|t| t.name == "middle");
    let reach = outcome.reaches.iter().find(|r| Some(r.tank) == middle).expect("it is told");
    assert!((0.300..0.340).contains(&reach.highest_m.mid), "{:?}", reach.highest_m);
    let code = |f: &&Finding| f.code == "strainers-clogged";
    assert_eq!(found(&works).iter().filter(code).count(), 1);
}

#[test]
fn a_flange_on_the_far_side_of_the_flow_is_told() {
    let told = |chamber: &str| {
        let all = found(&with(Some(chamber)));
        let it = all.into_iter().find(|f| f.code == "strainer-downstream");
        it.map(|f| (f.grade, f.parameter, f.hint.unwrap_or_default()))
    };
    assert_eq!(told("middle"), None);
    let (grade, parameter, hint) = told("return").expect("it is told");
    assert_eq!((grade, parameter.as_str()), (Grade::Tight, "fitting[0].chamber"));
    assert!(hint.contains("`chamber = \"middle\"`"), "{hint}");
}
