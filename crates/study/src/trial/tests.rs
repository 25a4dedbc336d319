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

/// The text with lines put in the place of those told, or below them.
fn written(text: &str, kept: &[Kept]) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for kept in kept.iter().rev() {
        let line = kept.line.expect("it has a line");
        if kept.is_there {
            lines[line - 1] = kept.text.clone();
        } else {
            lines.insert(line, kept.text.clone());
        }
    }
    lines.join("\n") + "\n"
}

#[test]
fn a_setting_that_the_file_leaves_out_goes_below_its_table() {
    let text = SEAHORSE.replace("set = 210\n", "");
    assert_ne!(text, SEAHORSE);
    let (trial, show) = studied(&text);
    let mut choice = trial.as_in_file();
    choice.doors_mm[0] = 212.0;
    let [kept] = &trial.to_keep(&choice)[..] else { panic!("one line") };
    assert_eq!((kept.text.as_str(), kept.parameter.as_str()), ("set = 212", "leaf.gate.door.set"));
    assert!(!kept.is_there);
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
    for tried in [&high, &low] {
        for warning in &tried.warnings {
            let is_of_file = own.warnings.iter().any(|w| w.parameter == warning.parameter);
            assert_eq!(warning.is_of_file, is_of_file, "{}", warning.words);
        }
    }
}

/// The window runs it beside its frames.
#[test]
fn a_trial_may_wander_between_threads() {
    fn can_be_shared<T: Send + Sync + 'static>() {}
    can_be_shared::<Trial>();
}
