//! Guards the guide: every step and every joint of it is told, once, with a picture.

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
        let of = GuideOf { file: &file, design: &design, scene: &scene, glue_up: &glue_up };
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
    let of = GuideOf { file: &file, design: &design, scene: &scene, glue_up: &glue_up };
    insta::assert_snapshot!("guide_mangrove", text(&guide(&of).unwrap()));
}

#[test]
fn laser_cut_parts_are_to_be_annealed() {
    let (mut file, design, scene) = demo("stuck-leaf");
    let (glue_up, _) = shop::glue_up::glue_up(&design);
    let mut told = |process| {
        file.cutting.process = process;
        let of = GuideOf { file: &file, design: &design, scene: &scene, glue_up: &glue_up };
        text(&needs::blocks(&of))
    };
    assert!(told(params::Process::Laser).contains("anneal"));
    assert!(!told(params::Process::Router).contains("anneal"));
}
