//! Guards that a trial tells what the file would tell with the same choice written into it: the outside path is the file's
//! own text, edited and read anew.

use super::*;
use crate::source::Source;
use crate::{Known, Report, Studied};

const SEAHORSE: &str = include_str!("../../../../params/seahorse.toml");
const FRAGFARM: &str = include_str!("../../../../params/fragfarm.toml");
const BROOK: &str = include_str!("../../../../params/brook.toml");

/// Two ways to the same level end within this, mm: both are told to a hundredth.
const SAME_LEVEL_MM: f64 = 0.015;

/// The trial of a file, and what the file itself shows.
fn studied(text: &str) -> (Trial, Show) {
    let reading = Reading::of(Source { name: "a.toml".into(), text: text.to_owned() });
    let design = reading.design.as_ref().expect("there is a design");
    let parts = crate::parts::build(design).expect("parts");
    let scene = crate::scene(design, &parts).expect("a scene");
    let known = Known::of(design);
    let report: Report<'_> = reading.report(&[]);
    let show = crate::shown::show(&Studied {
        reading: &reading,
        design,
        parts: &parts,
        scene: &scene,
        report: &report,
        known: Some(&known),
        fit: None,
    });
    (Trial::of(&reading, &show).expect("there is a design"), show)
}

fn levels(show: &Show) -> Vec<f64> {
    show.basins.iter().map(|basin| basin.level_mm).collect()
}

#[track_caller]
fn same(tried: &[f64], told: &[f64]) {
    assert_eq!(tried.len(), told.len());
    for (tried, told) in tried.iter().zip(told) {
        assert!((tried - told).abs() < SAME_LEVEL_MM, "{tried} tried, {told} in the file");
    }
}

/// Most that a level changes, mm.
fn most_change(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
}

#[test]
fn as_in_the_file_the_levels_are_the_files() {
    for text in [SEAHORSE, FRAGFARM, BROOK] {
        let (trial, show) = studied(text);
        let choice = trial.as_in_file();
        assert_eq!(trial.run(&choice).expect("it runs").levels_mm, levels(&show));
        assert_eq!(trial.to_keep(&choice), []);
        assert_eq!(trial.run(&Choice::default()).expect("it runs").levels_mm, levels(&show));
    }
}

/// Moves every door to both its ends, writes what is told to keep it into its line, and reads the file anew.
#[test]
fn a_door_gives_what_the_file_with_its_setting_gives() {
    let mut moved = 0;
    for text in [SEAHORSE, FRAGFARM] {
        let (trial, show) = studied(text);
        for (k, door) in show.doors.iter().enumerate() {
            for mm in [door.lowest_mm, door.highest_mm] {
                let mut choice = trial.as_in_file();
                choice.doors_mm[k] = mm;
                let tried = trial.run(&choice).expect("it runs");
                let other = studied(&written(text, &trial.to_keep(&choice))).1;
                assert!((other.doors[k].set_mm - mm).abs() < 1e-9);
                same(&tried.levels_mm, &levels(&other));
                moved += usize::from(1.0 < most_change(&tried.levels_mm, &levels(&show)));
            }
        }
    }
    assert!(moved >= 4, "doors move levels: {moved}");
}

#[test]
fn another_leaf_gives_what_the_file_with_it_first_gives() {
    let (trial, show) = studied(SEAHORSE);
    let mut choice = trial.as_in_file();
    choice.leaves[0] = 1;
    let tried = trial.run(&choice).expect("it runs");
    let kept = trial.to_keep(&choice);
    assert_eq!(kept[0].text, r#"slot = ["letterbox", "comb"]"#);
    let other = studied(&written(SEAHORSE, &kept)).1;
    same(&tried.levels_mm, &levels(&other));
    assert!(1.0 < most_change(&tried.levels_mm, &levels(&show)));
}

/// The text with lines put in the place of those told, or below them, as a person would.
fn written(text: &str, kept: &[Kept]) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for kept in kept.iter().rev() {
        let [first, last] = kept.lines.expect("it has lines").replaced();
        lines.splice(first - 1..last, [kept.text.clone()]);
    }
    lines.join("\n") + "\n"
}

/// The door's table of the demo, its other settings in the same words.
const DOOR: &str = r#"[leaf.gate.door]
bottom = 130
width = 140
height = 120
lowest = 170
highest = 230
set = 210
screw = "M5"
"#;

/// The door of the demo and the leaves of its slot in other forms that TOML has: what is told to keep a choice of both, put
/// into the text, is read as that choice, and what else the lines say stays.
#[test]
fn what_is_told_to_keep_a_choice_keeps_it_in_every_form_of_the_file() {
    let gate = "[leaf.gate]\ncrest = { height = 300 }\n";
    let slot = r#"slot = ["comb", "letterbox"]"#;
    let door = "door = { bottom = 130, width = 140, height = 120, lowest = 170, highest = 230";
    let inline = |rest: &str| format!("{gate}{door}{rest}\n");
    let dotted: String = DOOR.lines().skip(1).map(|line| format!("door.{line}\n")).collect();
    let dotted = format!("{gate}{dotted}");
    let no_set = dotted.replace("door.set = 210\n", "");
    // The table of the leaf, and the door in it, between the same braces.
    let braces = |door: &str| format!("[leaf]\ngate = {{ crest = {{ height = 300 }}, {door} }}\n");
    let between: Vec<String> = DOOR.lines().skip(1).map(|line| format!("door.{line}")).collect();
    let (between, without) =
        (between.join(", "), between.join(", ").replace("door.set = 210, ", ""));
    // What `gate` is written as, and what the told lines begin with.
    let forms = [
        (inline(", set = 210, screw = \"M5\" } # by hand"), "door = {"),
        (inline(", screw = \"M5\" }"), "door = {"),
        (inline(",\n    screw = \"M5\",\n    set = 210,\n}"), "    set = 212,"),
        (inline(",\n    screw = \"M5\", # steel\n}"), "    screw = \"M5\", set = 212, # steel"),
        (dotted, "door.set = 212"),
        (no_set, "door.set = 212"),
        (braces(&between), "gate = {"),
        (braces(&without), "gate = {"),
        (format!("{gate}{}", DOOR.replace("set = 210\n", "")), "set = 212"),
        (
            format!("{gate}{}", DOOR.replace("set = 210\n", "set = 210 # by hand\n")),
            "set = 212 # by hand",
        ),
    ];
    let slots = [
        (slot, "slot = "),
        ("slot = [ # from calm to swift\n    \"comb\",\n    \"letterbox\",\n]", "slot = "),
        ("slot=['comb','letterbox'] # two", "slot=[\"letterbox\", \"comb\"] # two"),
    ];
    let own = format!("{gate}\n{DOOR}");
    assert!(SEAHORSE.contains(&own) && SEAHORSE.contains(slot));
    for (k, (form, begins)) in forms.iter().enumerate() {
        let (slot_form, slot_begins) = slots[k % slots.len()];
        let text = SEAHORSE.replace(&own, form).replace(slot, slot_form);
        let (trial, show) = studied(&text);
        let mut choice = trial.as_in_file();
        (choice.doors_mm[0], choice.leaves[0]) = (212.0, 1);
        let kept = trial.to_keep(&choice);
        let [of_door, of_slot] = &kept[..] else { panic!("{kept:?}") };
        assert!(of_door.text.starts_with(begins), "{form}: {of_door:?}");
        assert!(of_slot.text.starts_with(slot_begins), "{slot_form}: {of_slot:?}");
        let text = written(&text, &kept);
        let (_, other) = studied(&text);
        assert!((other.doors[0].set_mm - 212.0).abs() < 1e-9, "{text}");
        assert_eq!(other.slots[0].leaves[0].0, show.slots[0].leaves[1].0, "{text}");
        for comment in ["# by hand", "# steel", "# two"] {
            let was = form.contains(comment) || slot_form.contains(comment);
            assert_eq!(text.contains(comment), was, "{text}");
        }
    }
}

#[test]
fn a_setting_that_the_file_leaves_out_goes_below_its_table() {
    let text = SEAHORSE.replace("set = 210\n", "");
    assert_ne!(text, SEAHORSE);
    let (trial, show) = studied(&text);
    let mut choice = trial.as_in_file();
    choice.doors_mm[0] = 212.0;
    let [kept] = &trial.to_keep(&choice)[..] else { panic!("one line") };
    assert_eq!(
        (kept.text.as_str(), &kept.parameters[..]),
        ("set = 212", &["leaf.gate.door.set".to_owned()][..])
    );
    let header = text.lines().position(|line| line == "[leaf.gate.door]").expect("there") + 1;
    assert_eq!(kept.lines, Some(Lines::Below(header)));
    let other = studied(&written(&text, &trial.to_keep(&choice))).1;
    assert!((show.doors[0].set_mm - 200.0).abs() < 1e-9);
    assert!((other.doors[0].set_mm - 212.0).abs() < 1e-9);
}

#[test]
fn what_cannot_be_tried_is_said() {
    let (trial, _) = studied(SEAHORSE);
    let mut choice = trial.as_in_file();
    choice.doors_mm[0] = 999.0;
    let told = trial.run(&choice).expect_err("it does not go there").to_string();
    assert_eq!(told, "the door of `gate` goes from 170 mm to 230 mm, not to 999 mm");
    let choice = Choice { leaves: vec![7], doors_mm: Vec::new() };
    assert!(matches!(trial.run(&choice), Err(NotTried::NoLeaf { .. })));
    // A file that tells of no display.
    let (dry, _) = studied(include_str!("../../../../params/stuck-leaf.toml"));
    let told = dry.run(&dry.as_in_file());
    assert!(matches!(told, Err(NotTried::NotRunning(_))), "{told:?}");
}

#[test]
fn limits_that_are_passed_are_told() {
    let text = FRAGFARM;
    let (trial, show) = studied(text);
    let own = trial.run(&trial.as_in_file()).expect("it runs");
    let mut choice = trial.as_in_file();
    let gate = show.doors.iter().position(|door| door.leaf == "skimmer-gate").expect("there");
    choice.doors_mm[gate] = show.doors[gate].highest_mm;
    let high = trial.run(&choice).expect("it runs");
    choice.doors_mm[gate] = show.doors[gate].lowest_mm;
    let low = trial.run(&choice).expect("it runs");
    let counts = [&own, &high, &low].map(|tried| tried.warnings.len());
    assert!(counts[0] < counts[1].max(counts[2]), "{own:?} {high:?} {low:?}");
    assert!(own.return_flow_l_h > 100.0);
    assert_eq!(trial.own_return_flow_l_h(), Some(own.return_flow_l_h));
    for tried in [&high, &low] {
        for warning in &tried.warnings {
            let is_same =
                |w: &Warning| w.parameter == warning.parameter && w.limit == warning.limit;
            let is_of_file = own.warnings.iter().any(is_same);
            assert_eq!(warning.is_of_file, is_of_file, "{}", warning.words);
        }
    }
}

/// What is too shallow in the file and too deep now is not as in the file.
#[test]
fn a_limit_that_is_passed_on_its_other_side_is_no_longer_the_files() {
    let (_, show) = studied(FRAGFARM);
    let gate = show.doors.iter().position(|door| door.leaf == "skimmer-gate").expect("there");
    let lowest = format!("set = {}", show.doors[gate].lowest_mm);
    let narrow = FRAGFARM.replace("depth = [250, 310]", "depth = [280, 282]");
    assert_ne!(narrow, FRAGFARM);
    let text = narrow.replace("set = 245", &lowest);
    assert_ne!(text, FRAGFARM);
    let (trial, show) = studied(&text);
    let own = trial.run(&trial.as_in_file()).expect("it runs");
    let shallow = own.warnings.iter().find(|w| w.limit == Limit::Shallow);
    let shallow = shallow.unwrap_or_else(|| panic!("{own:?}"));
    assert!(shallow.is_of_file);
    let mut choice = trial.as_in_file();
    choice.doors_mm[gate] = show.doors[gate].highest_mm;
    let high = trial.run(&choice).expect("it runs");
    let deep = high.warnings.iter().find(|w| w.parameter == shallow.parameter).expect("too deep");
    assert_eq!((deep.limit, deep.is_of_file), (Limit::Deep, false), "{}", deep.words);
}

/// A model is made in a thread of its own, with its trial, and handed over to the one that shows it and runs the trial.
#[test]
fn a_trial_may_wander_between_threads() {
    fn can_be_shared<T: Send + Sync + 'static>() {}
    can_be_shared::<Trial>();
}
