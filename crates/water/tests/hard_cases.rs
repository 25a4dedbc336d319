//! Hard cases give an answer, or say plainly that there is none.

mod common;

use common::{SMALL, changed, run, works};
use findings::{Finding, Grade};
use water::{Failure, Figure, Missing, NotRunning, Outcome, Running, findings, rehearse, report};

/// All findings of a file with the power cut rehearsed.
fn found(text: &str) -> Vec<Finding> {
    let works = works(text);
    let running = run(&works).expect("it runs");
    let outcome = rehearse(&running, &Failure::PowerCut).expect("it can be rehearsed");
    findings(&running, &report(&running), &[outcome], units::System::Metric)
}

#[track_caller]
fn check(text: &str, code: &str, grade: Grade) {
    let all = found(text);
    let is_it = |f: &Finding| f.code == code && f.grade == grade;
    assert!(all.iter().any(is_it), "no {grade} {code} in {all:#?}");
}

fn level_mm(running: &Running<'_>, name: &str) -> f64 {
    let tank = running.system.network.tanks.iter().position(|t| t.name == name);
    running.levels_m[tank.expect("there is such a tank")] * 1e3
}

fn is_sound(outcome: &Outcome) -> bool {
    let is_finite = |f: &Figure| f.mid.is_finite() && f.low <= f.mid && f.mid <= f.high;
    outcome.reaches.iter().all(|r| is_finite(&r.highest_m) && is_finite(&r.lowest_m))
        && outcome.drift_m3 <= 1e-9 * outcome.total_m3
}

#[test]
fn the_plain_case_has_nothing_that_fails() {
    let fails: Vec<Finding> =
        found(SMALL).into_iter().filter(|f| f.grade == Grade::Fails).collect();
    assert!(fails.is_empty(), "{fails:#?}");
}

#[test]
fn without_a_display_nothing_runs_and_the_reason_is_told() {
    let start = SMALL.find("[display]").expect("there is one");
    let works = works(&SMALL[..start]);
    assert_eq!(run(&works).err(), Some(NotRunning::Missing(Missing::Display)));
}

/// The file is refused before; a design without it says why.
#[test]
fn a_pump_of_which_nothing_is_known_is_told_by_its_parameter() {
    let mut works = works(SMALL);
    works.lines[0].data = design::PumpData::Unknown;
    let Err(NotRunning::Missing(missing)) = run(&works) else { panic!("it runs") };
    assert_eq!(missing.parameter(), "equipment[0]");
}

/// The lift is about 1.2 m.
#[test]
fn a_pump_too_weak_for_the_head_moves_nothing() {
    let text = changed(SMALL, &[("head = 3500", "head = 900")]);
    let works = works(&text);
    let running = run(&works).expect("there are levels");
    assert!(running.return_flow().abs() < 1e-9, "{}", running.return_flow());
    // With nothing flowing every chamber stands at its crest or below.
    assert!(level_mm(&running, "inlet") < 240.1);
    check(&text, "pump-too-weak", Grade::Fails);
}

/// With one drain of 10 mm bore most of the water finds another way: over the display's rim.
#[test]
fn a_drain_too_small_sends_the_water_over_the_rim() {
    let (start, end) = (SMALL.find("[[drain]]"), SMALL.find("[[equipment]]"));
    let drain = "[[drain]]\nname = \"main\"\nduty = \"main\"\nchamber = \"inlet\"\ndiameter = 12\nend = 200\nintake = 260\n";
    let text =
        [&SMALL[..start.expect("drains")], drain, &SMALL[end.expect("equipment")..]].concat();
    let works = works(&text);
    let running = run(&works).expect("there are levels");
    let over = running.flow(|p| matches!(p, water::Part::DisplayRim));
    assert!(over > 0.5 * running.return_flow(), "{over}");
    check(&text, "display-runs-over", Grade::Fails);
    let outcome = rehearse(&running, &Failure::NoTopUp).expect("it can be rehearsed");
    assert!(outcome.spill.display_l.mid > 1.0, "{:?}", outcome.spill);
    assert!(is_sound(&outcome));
}

/// The second crest lies over the first: the inlet and the middle chamber move together.
#[test]
fn a_leaf_lower_than_the_next_level_is_drowned() {
    let text = changed(SMALL, &[("height = 240", "height = 150")]);
    let works = works(&text);
    let running = run(&works).expect("there are levels");
    let (inlet, middle) = (level_mm(&running, "inlet"), level_mm(&running, "middle"));
    assert!((inlet - middle).abs() < 1.0 && inlet >= middle, "{inlet} {middle}");
    check(&text, "crest-drowned-in-flow", Grade::Tight);
}

#[test]
fn all_levels_equal_and_nothing_flowing_stays_at_rest() {
    // Kept above every crest, with a pump that cannot lift: one lake.
    let text = changed(SMALL, &[("head = 3500", "head = 900"), ("level = 140", "level = 280")]);
    let works = works(&text);
    let running = run(&works).expect("there are levels");
    for name in ["inlet", "middle", "return"] {
        assert!((level_mm(&running, name) - 280.0).abs() < 0.01, "{name}");
    }
    let outcome = rehearse(&running, &Failure::PowerCut).expect("it can be rehearsed");
    assert!(is_sound(&outcome));
}

/// The lowest crest that a file can have, 10 mm, and the return kept under it.
#[test]
fn a_crest_near_the_floor_lets_its_chamber_run_nearly_dry() {
    let text = changed(
        SMALL,
        &[
            ("height = 240", "height = 10"),
            ("height = 200", "height = 10"),
            ("intake = 30", "intake = 0"),
            ("level = 140", "level = 30"),
        ],
    );
    let works = works(&text);
    let running = run(&works).expect("there are levels");
    let inlet = level_mm(&running, "inlet");
    assert!(10.0 < inlet && inlet < 60.0, "{inlet}");
    assert!(running.settled.residual_m3_s < 1e-11);
}

/// A chamber behind the return, over whose leaf nothing runs: what stands in it is trapped. The rule: it
/// counts as filled to its lip, and that is said.
#[test]
fn trapped_water_is_taken_to_stand_at_its_lip_and_that_is_said() {
    let text = changed(
        SMALL,
        &[
            (
                "length = 250\nlevel = 140\n",
                "length = 250\nlevel = 140\n[[along]]\ndivider = \"c\"\nleaf = \"high\"\n[[along]]\nchamber = \"behind\"\nlength = 80\n",
            ),
            ("[leaf.second]\n", "[leaf.high]\ncrest = { height = 300 }\n[leaf.second]\n"),
        ],
    );
    let works = works(&text);
    let running = run(&works).expect("there are levels");
    assert!((level_mm(&running, "behind") - 300.0).abs() < 0.01);
    check(&text, "stagnant-chamber", Grade::NotChecked);
}

/// A main drain without a secondary, open too narrow for the flow, full more than twice as strong: it
/// breaks and starts again and again. That is told with period and swing, and does not take all day.
#[test]
fn a_siphon_that_hunts_is_told_with_period_and_swing() {
    let (start, end) = (SMALL.find("[[drain]]"), SMALL.find("[[equipment]]"));
    let drain = "[[drain]]\nname = \"main\"\nduty = \"main\"\nchamber = \"inlet\"\ndiameter = 40\nend = 200\nintake = 300\n";
    let text =
        [&SMALL[..start.expect("drains")], drain, &SMALL[end.expect("equipment")..]].concat();
    let works = works(&text);
    let running = run(&works).expect("there are levels");
    let outcome = rehearse(&running, &Failure::TopUpStuck).expect("it can be rehearsed");
    assert!(is_sound(&outcome), "{:?}", outcome.reaches);
    // Run step by step, a day of it would take a hundred thousand.
    assert!(outcome.steps < 30_000, "{}", outcome.steps);
    let all = findings(&running, &report(&running), &[outcome], units::System::Metric);
    let hunts = all.iter().find(|f| f.code == "siphon-hunts").expect("it is told");
    assert!(hunts.message.contains("every") && hunts.message.contains("swings by"), "{hunts}");
    assert!(all.iter().any(|f| f.code == "siphon-too-strong"));
}

/// A lift-out leaf that is left out, a door and socks: all standing failures of the small case end.
#[test]
fn every_standing_failure_of_the_small_case_is_sound() {
    let works = works(SMALL);
    let running = run(&works).expect("it runs");
    let (failures, unknown) = water::rehearsals(&works);
    assert!(unknown.is_empty() && failures.len() >= 8);
    for failure in &failures {
        let outcome = rehearse(&running, failure).expect("it can be rehearsed");
        assert!(is_sound(&outcome), "{}", outcome.name);
        assert_eq!(outcome.stop, water::Stop::End, "{}", outcome.name);
    }
}

#[test]
fn names_of_rehearsals_that_are_none_are_told_with_those_that_are() {
    let text = format!(
        "{SMALL}[rehearsals]\nleave_out = [\"powr cut\"]\ntogether = [[\"power cut\", \"flood\"]]\n"
    );
    let works = works(&text);
    let (_, unknown) = water::rehearsals(&works);
    let parameters: Vec<&str> = unknown.iter().map(|u| u.parameter.as_str()).collect();
    assert_eq!(parameters, ["rehearsals.leave_out[0]", "rehearsals.together[0][1]"]);
    assert!(unknown[0].known.contains(&"power cut".to_owned()));
}

#[test]
fn two_failures_together_do_what_both_do() {
    let text =
        format!("{SMALL}[rehearsals]\ntogether = [[\"power cut\", \"top-up stuck open\"]]\n");
    let works = works(&text);
    let running = run(&works).expect("it runs");
    let (failures, _) = water::rehearsals(&works);
    let both = failures.last().expect("there are some");
    assert_eq!(both.name(&works), "power cut + top-up stuck open");
    let end = |failure: &Failure| {
        let outcome = rehearse(&running, failure).expect("it can be rehearsed");
        outcome.reaches[running.system.tanks.returning].highest_m.mid
    };
    // Without power the top-up's pump stands still too.
    assert!((end(both) - end(&Failure::PowerCut)).abs() < 1e-3);
}

/// No trickle wanted: the valve leaves nothing to the secondary drain, and no figure is lost on the way.
#[test]
fn no_trickle_at_all_gives_numbers() {
    let text = format!("{SMALL}[limits]\ntrickle = [0, 0]\n");
    let all = found(&text);
    assert!(all.iter().all(|f| !f.message.contains("NaN")), "{all:#?}");
    assert!(all.iter().all(|f| f.code != "level-band"), "{all:#?}");
}

/// The curve ends at 3000 L/h and 2.5 m; the lift is about 1.2 m: more may flow than anybody has told.
#[test]
fn a_pump_past_the_end_of_its_curve_is_said_to_be_unknown() {
    let curve = "curve = [{ flow = 0, head = 3500 }, { flow = 1500, head = 3100 }, { flow = 2000, head = 2900 }]\n";
    let text = changed(SMALL, &[("flow = 4000\nhead = 3500\n", curve)]);
    check(&text, "pump-flow", Grade::NotChecked);
}

/// What the float keeps counts, not what the file says.
#[test]
fn a_float_above_the_kept_level_is_told_and_judged_by() {
    let text = changed(SMALL, &[("rate = 6\n", "rate = 6\nlow = 330\nhigh = 340\n")]);
    check(&text, "float-off-level", Grade::Tight);
    check(&text, "kept-level", Grade::Tight);
}

#[test]
fn a_float_below_the_intake_lets_the_pump_run_dry() {
    let text = changed(SMALL, &[("rate = 6\n", "rate = 6\nlow = 35\nhigh = 45\n")]);
    check(&text, "float-off-level", Grade::Tight);
    check(&text, "intake-submergence", Grade::Fails);
}

#[test]
fn a_dry_intake_is_not_taken_for_a_weak_pump() {
    let text = changed(SMALL, &[("level = 140", "level = 25")]);
    let all = found(&text);
    let is_failing = |code: &str| all.iter().any(|f| f.code == code && f.grade == Grade::Fails);
    assert!(is_failing("intake-submergence") && !is_failing("pump-too-weak"), "{all:#?}");
}

#[test]
fn a_level_kept_where_the_pump_does_not_draw_is_refused() {
    let works =
        works(&changed(SMALL, &[("chamber = \"return\"\nbox", "chamber = \"middle\"\nbox")]));
    let Err(NotRunning::Missing(missing)) = run(&works) else { panic!("it runs") };
    assert_eq!(missing.parameter(), "along[4].level");
}

#[test]
fn a_drain_into_the_return_chamber_is_told() {
    let text = changed(
        SMALL,
        &[("duty = \"main\"\nchamber = \"inlet\"", "duty = \"main\"\nchamber = \"return\"")],
    );
    check(&text, "drain-into-return", Grade::Tight);
}

#[test]
fn what_the_file_leaves_out_is_said_not_to_be_checked() {
    check(
        &format!("{SMALL}[rehearsals]\nleave_out = [\"power back\"]\n"),
        "rehearsal-left-out",
        Grade::NotChecked,
    );
}

/// Whatever lets the least fit decides: here the reservoir, which is larger than what comes down.
#[test]
fn the_highest_safe_level_is_that_of_the_worst_failure() {
    let level = |reservoir: &str| {
        let works = works(&changed(SMALL, &[("reservoir = 10", reservoir)]));
        let running = run(&works).expect("it runs");
        let reserve = report(&running).reserve;
        (reserve.highest_safe_m.expect("some level is safe"), reserve.decided_by)
    };
    let (small, large) = (level("reservoir = 1"), level("reservoir = 38"));
    assert!(large.0 < small.0, "{large:?} {small:?}");
    assert_eq!(large.1, "top-up stuck open");
    // And played from there it leaves what is wanted, less what the search leaves open.
    let works = works(&changed(SMALL, &[("reservoir = 10", "reservoir = 38")]));
    let running = run(&works).expect("it runs").kept_at(large.0).expect("the flows balance");
    let outcome = rehearse(&running, &Failure::TopUpStuck).expect("it can be rehearsed");
    let sump = outcome.reaches.iter().filter(|r| r.tank != running.system.tanks.display);
    let least = sump.filter_map(water::Reach::least_freeboard_m).fold(f64::INFINITY, f64::min);
    assert!((0.0299..0.033).contains(&least), "{least}");
    // More than there is room for at any level: none is safe.
    check(&changed(SMALL, &[("reservoir = 10", "reservoir = 60")]), "kept-level", Grade::Tight);
}
