//! Guards the guide: every step and every joint of it is told, once, with a picture.

mod words;

use super::*;
use paper::{Block, Mark};

pub(crate) fn demo(name: &str) -> (File, Design, Scene) {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
    let design = design::resolve(&file).design.unwrap();
    let parts = study::parts::build_within(&design, 0.5).unwrap();
    let scene = study::scene(&design, &parts).unwrap();
    (file, design, scene)
}

/// A guide with pictures, of what is known without water and without the shop.
pub(crate) fn of<'a>(
    file: &'a File,
    design: &'a Design,
    scene: &'a Scene,
    glue_up: &'a GlueUp,
) -> GuideOf<'a> {
    GuideOf { scene: Some(scene), ..of_words(file, design, glue_up) }
}

/// The same without pictures.
fn of_words<'a>(file: &'a File, design: &'a Design, glue_up: &'a GlueUp) -> GuideOf<'a> {
    GuideOf { file, design, scene: None, glue_up, works: &[], wet: None, not_alone: &[] }
}

/// All words of blocks, one after the other.
pub(crate) fn text(blocks: &[Block]) -> String {
    let mut all = String::new();
    for block in blocks {
        let lines: Vec<String> = match block {
            Block::Heading(depth, words) => {
                vec![format!("{} {words}", "#".repeat(usize::from(*depth)))]
            }
            Block::Words(words) => vec![words.clone()],
            Block::Items(items) | Block::Boxes(items) | Block::Numbered(_, items) => items.clone(),
            Block::Table(table) => {
                let heads: Vec<&str> = table.columns.iter().map(|c| c.head.as_str()).collect();
                std::iter::once(heads.join(" | "))
                    .chain(table.rows.iter().map(|r| r.join(" | ")))
                    .collect()
            }
            Block::Figure { caption, .. } => vec![format!("[figure] {caption}")],
            Block::Caution(caution) => vec![format!("! {}", caution.head)]
                .into_iter()
                .chain(caution.words.clone())
                .collect(),
            Block::Together(blocks) => vec![text(blocks)],
            Block::Beside(columns) => columns.iter().map(|(_, blocks)| text(blocks)).collect(),
            Block::NewPage => vec!["-----".into()],
        };
        for line in lines {
            all += &line;
            all.push('\n');
        }
    }
    all
}

fn figures(blocks: &[Block]) -> usize {
    blocks
        .iter()
        .map(|block| match block {
            Block::Figure { figure, .. } => {
                let is_png = |mark: &Mark| matches!(mark, Mark::Picture { png, .. } if png.starts_with(b"\x89PNG"));
                figure.marks.iter().filter(|mark| is_png(mark)).count()
            }
            Block::Together(blocks) => figures(blocks),
            Block::Beside(columns) => columns.iter().map(|(_, blocks)| figures(blocks)).sum(),
            _ => 0,
        })
        .sum()
}

#[test]
fn every_step_and_joint_is_told() {
    for name in ["mangrove", "stuck-leaf"] {
        let (file, design, scene) = demo(name);
        let (glue_up, _) = shop::glue_up::glue_up(&design);
        let of = of(&file, &design, &scene, &glue_up);
        let blocks = guide(&of).unwrap();
        let told = text(&blocks);
        let steps = told.lines().filter(|line| line.starts_with("### Step ")).count();
        assert_eq!(steps, glue_up.steps.len(), "{name}");
        let positions: usize = glue_up.steps.iter().map(|step| step.feeds.len().max(1)).sum();
        assert_eq!(figures(&blocks), positions, "{name}");
        for joint in design.joints.iter().filter(|joint| joint.kind.is_glued()) {
            let names = [joint.a, joint.b].map(|id| design.placed[id].name.as_str());
            let what = format!("{} to {}", names[0], names[1]);
            let rows = told.matches(&format!("{what} | ")).count();
            let lines = told.matches(&format!("{what}: ")).count();
            assert_eq!(rows + lines, 1, "{name}: {what}");
        }
        for said in [
            "Solvent: fumes",
            "Never polish",
            "24 hours",
            "common practice",
            "From here on the box holds vapour",
        ] {
            assert!(told.contains(said), "{name}: {said}");
        }
        assert!(!told.contains("NaN") && !told.contains("inf "), "{name}");
    }
}

#[test]
fn the_guide_reads_well() {
    let (file, design, scene) = demo("mangrove");
    let (glue_up, _) = shop::glue_up::glue_up(&design);
    let of = of(&file, &design, &scene, &glue_up);
    insta::assert_snapshot!("guide_mangrove", text(&guide(&of).unwrap()));
}

#[test]
fn laser_cut_parts_are_to_be_annealed() {
    let (mut file, design, scene) = demo("stuck-leaf");
    let (glue_up, _) = shop::glue_up::glue_up(&design);
    let mut told = |process| {
        file.cutting.process = process;
        let of = of(&file, &design, &scene, &glue_up);
        text(&needs::blocks(&of))
    };
    assert!(told(params::Process::Laser).contains("anneal"));
    assert!(!told(params::Process::Router).contains("anneal"));
}

/// The guide of a file that lies with the demos, in words.
fn told(name: &str) -> (File, GlueUp, units::System, String) {
    let (file, design, scene) = demo(name);
    let (glue_up, _) = shop::glue_up::glue_up(&design);
    let of = of(&file, &design, &scene, &glue_up);
    let told = text(&guide(&of).unwrap());
    (file, glue_up, design.report, told)
}

#[test]
fn no_hole_is_left_open_for_the_leak_test() {
    let (file, _, system, told) = told("seahorse");
    assert!(!file.wall_fitting.is_empty());
    let test = told.split("## Leak test").nth(1).unwrap();
    assert!(test.contains("First close every hole"));
    for fitting in &file.wall_fitting {
        let show = |mm: f64| Length::mm(mm).show(system);
        // By the file alone: the middle's height less half the hole.
        let hole = fitting.hole.to_mm();
        let lower = fitting.height.to_mm() - 0.5 * hole;
        let row = format!("fitting {} | {} | {}", fitting.name, show(hole), show(lower));
        assert!(test.contains(&row), "{row} in {test}");
    }
    assert!(test.contains("residual-current device"));
    assert!(test.contains("The empty box weighs about"));
}

#[test]
fn a_box_is_turned_in_so_many_words() {
    let (_, glue_up, _, told) = told("seahorse");
    let is_turned = |feed: &Feed| feed.down.z > -0.5;
    let turned: usize = glue_up
        .steps
        .iter()
        .filter(|step| step.place == StepPlace::Box)
        .map(|step| step.feeds.iter().filter(|feed| is_turned(feed)).count())
        .sum();
    let first = glue_up
        .steps
        .iter()
        .filter(|step| step.place == StepPlace::Box && step.feeds.first().is_some_and(is_turned));
    assert!(first.clone().count() > 0);
    assert_eq!(told.matches("tape it on either side").count(), first.count());
    assert_eq!(told.to_lowercase().matches("turn the box: ").count(), turned);
    assert!(told.matches("What is turned here weighs about ").count() > 1);
}

#[test]
fn what_does_not_hold_is_said_first() {
    let (file, design, scene) = demo("mangrove");
    let (mut glue_up, _) = shop::glue_up::glue_up(&design);
    let printed = glue_up.steps.iter_mut().find(|step| {
        let joints = step.feeds.iter().flat_map(|feed| &feed.joints);
        joints.clone().any(|fed| bond(&design, fed.joint) == shop::glue_up::Bond::Printed)
    });
    let step = printed.unwrap();
    let fed: Vec<shop::glue_up::JointId> = step.joints().collect();
    step.feeds.clear();
    let why = shop::glue_up::Why::NotWiped;
    step.unfed = fed.into_iter().map(|joint| shop::glue_up::Unfed { joint, why }).collect();
    let unfed = step.unfed.len();
    let of = of(&file, &design, &scene, &glue_up);
    let told = text(&guide(&of).unwrap());
    assert!(!told.contains("every new joint can be laid level"));
    assert!(told.contains(&format!("{} for which no position was found", count(unfed, "joint"))));
    assert!(told.contains(
        "neither of its sides can be reached to wipe off what is pressed out. Put adhesive"
    ));
    assert!(!told.contains("Brush solvent"));
    assert!(told.contains("A printed part is not welded"));
}

#[test]
fn no_picture_is_parted_from_the_head_of_its_step() {
    for name in ["brook", "fragfarm"] {
        let (file, design, scene) = demo(name);
        let (glue_up, _) = shop::glue_up::glue_up(&design);
        let of = of(&file, &design, &scene, &glue_up);
        let form = paper::Form::text(study::told::sheets::paper_form(&file), "head", "foot");
        let mut pictures = 0;
        for page in paper::flow(&guide(&of).unwrap(), &form) {
            let mut has_head = false;
            for mark in &page.figure.marks {
                match mark {
                    Mark::Words { text, .. } => {
                        has_head |= text.starts_with("Step ") || text.starts_with("Still step ");
                    }
                    Mark::Picture { alt, .. } => {
                        pictures += 1;
                        assert!(has_head, "{name}: {alt}");
                    }
                    _ => {}
                }
            }
        }
        let told: usize = glue_up.steps.iter().map(|step| step.feeds.len().max(1)).sum();
        assert_eq!(pictures, told, "{name}");
    }
}

#[test]
fn without_pictures_all_steps_positions_and_joints_are_still_told() {
    let (file, design, _) = demo("mangrove");
    let (glue_up, _) = shop::glue_up::glue_up(&design);
    let of = of_words(&file, &design, &glue_up);
    let blocks = guide(&of).unwrap();
    assert_eq!(figures(&blocks), 0);
    let told = text(&blocks);
    assert!(told.contains("written without its pictures") && !told.contains("Shown:"));
    assert_eq!(told.matches("### Step ").count(), glue_up.steps.len());
    assert_eq!(told.matches("It lies so: ").count(), glue_up.steps.len());
    let turned = |feed: &&Feed| feed.down.z > -0.5;
    let in_box = glue_up.steps.iter().filter(|step| step.place == StepPlace::Box);
    let turns = in_box.flat_map(|step| &step.feeds).filter(turned).count();
    assert!(turns > 0);
    assert_eq!(told.to_lowercase().matches("turn the box: ").count(), turns);
    for joint in design.joints.iter().filter(|joint| joint.kind.is_glued()) {
        let names = [joint.a, joint.b].map(|id| design.placed[id].name.as_str());
        let what = format!("{} to {}", names[0], names[1]);
        assert!(told.contains(&what), "{what}");
    }
}

/// The leak test of a demo, with its water.
fn leak_test_of(name: &str, with_water: bool) -> (Design, String) {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text_of = std::fs::read_to_string(path).unwrap();
    let reading = study::Reading::of(study::Source { name: format!("{name}.toml"), text: text_of });
    let wet = reading.wet().unwrap();
    let design = wet.design.clone();
    let glue_up = GlueUp { steps: Vec::new() };
    let of = of_words(reading.file.as_ref().unwrap(), &design, &glue_up);
    let told = text(&leak_test::blocks(&GuideOf { wet: with_water.then_some(&wet), ..of }));
    (design, told)
}

#[test]
fn the_box_is_full_for_an_hour_and_lowered_to_the_level_in_flow() {
    let (_, told) = leak_test_of("seahorse", true);
    let rows: Vec<&str> = told.lines().filter(|line| line.matches(" | ").count() == 4).collect();
    let height = |row: &str| -> f64 {
        row.split(" | ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap()
    };
    let full = rows.iter().find(|row| row.starts_with("4 | ")).unwrap();
    assert!(full.ends_with("| 1 h at most"), "{full}");
    let long = rows.iter().find(|row| row.starts_with("then lower to | ")).unwrap();
    assert!(long.ends_with("| 24 h at least"), "{long}");
    assert!(height(long) < height(full), "{long}; {full}");
    // No lower than the level in flow, by the levels of the study.
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../params/seahorse.toml");
    let source = std::fs::read_to_string(path).unwrap();
    let reading = study::Reading::of(study::Source { name: "seahorse.toml".into(), text: source });
    let wet = reading.wet().unwrap();
    let running = wet.known.in_flow.as_ref().unwrap().report.basins.iter();
    let running = running.map(|basin| 1e3 * basin.level_m.mid).fold(0.0, f64::max);
    assert!(height(long) >= running - 1.0, "{long}: {running}");
    // Nor higher: what rehearsals add, panels may bear for days or hours only.
    let running = wet.known.in_flow.as_ref().unwrap().report.basins.iter();
    let running = running.map(|basin| 1e3 * basin.level_m.high).fold(0.0, f64::max);
    assert!(height(long) <= running + 1.0, "{long}: {running}");
    for said in ["for an hour at most", "Stand clear", "have a hose ready"] {
        assert!(told.contains(said), "{said}");
    }
    assert!(!told.contains("Leave it full"));
    let (_, dry) = leak_test_of("seahorse", false);
    assert!(dry.contains("then lower to | highest in flow"), "{dry}");
    assert!(dry.contains("it is not known from the file"));
}

#[test]
fn seams_above_the_last_stage_are_told_as_not_tested() {
    let (mut design, told) = leak_test_of("stuck-leaf", false);
    assert!(told.contains("stay dry and untested"), "{told}");
    // A notch in a wall that has no hole: it is told, and more of the seams stays dry.
    let wall = design.placed.iter().find(|placed| placed.name == "front wall").unwrap().piece;
    let plate::Shape::Sheet(sheet) = &mut design.pieces[wall].shape else { panic!() };
    let hi = sheet.outline.bounds().unwrap()[1];
    let corners = [hi - glam::dvec2(90.0, 60.0), hi - glam::dvec2(50.0, 0.0)];
    let notch = plate::Contour::rounded_rectangle(corners[0], corners[1], 2.0);
    sheet.cuts.push(plate::Cut::through(notch));
    let (file, _, _) = demo("stuck-leaf");
    let glue_up = GlueUp { steps: Vec::new() };
    let of = of_words(&file, &design, &glue_up);
    let notched = text(&leak_test::blocks(&of));
    assert!(notched.contains("The notch in front wall cannot be closed"), "{notched}");
    let dry_mm = |told: &str| -> f64 {
        let after = told.split("the uppermost ").nth(1).unwrap();
        after.split(' ').next().unwrap().parse().unwrap()
    };
    assert!((dry_mm(&notched) - dry_mm(&told) - 60.0).abs() < 1.0, "{told}\n{notched}");
    assert!(!notched.contains("First close every hole"));
}

#[test]
fn leaves_that_need_water_on_both_sides_are_named_where_they_are_filled() {
    let (file, design, _) = demo("seahorse");
    let glue_up = GlueUp { steps: Vec::new() };
    let told = |names: &[&str]| {
        let not_alone: Vec<String> = names.iter().map(|name| (*name).to_owned()).collect();
        let of = GuideOf { not_alone: &not_alone, ..of_words(&file, &design, &glue_up) };
        [leak_test::blocks(&of), first_filling::blocks(&of)].map(|blocks| text(&blocks))
    };
    let both = "Fill and drain both sides of";
    // The loose leaf is not in the box while it is tested; the glued one is.
    let [test, filling] = told(&["leaf comb"]);
    assert!(!test.contains(both) && !test.contains("never beside"), "{test}");
    assert!(filling.contains("both sides of leaf comb together"), "{filling}");
    let [test, filling] = told(&["leaf comb", "leaf gate"]);
    assert!(test.contains("both sides of leaf gate together"), "{test}");
    assert!(test.contains("what comes through; never beside leaf gate."), "{test}");
    assert!(filling.contains("of each of leaf comb and leaf gate together"), "{filling}");
    assert!(told(&[]).iter().all(|chapter| !chapter.contains(both)));
}
