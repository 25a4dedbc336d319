//! Guards what the letter says, and that it stays on one page.

use params::{DrawnPath, Holding, Process};
use units::Length;

use super::*;
use crate::guide::tests::text;

fn told(name: &str, change: impl Fn(&mut File)) -> String {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let mut file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
    change(&mut file);
    let design = design::resolve(&file).design.unwrap();
    let layers = [("cut through outline".to_owned(), "all the way through".to_owned())];
    let findings = found(&file, &design);
    let of =
        LetterOf { file: &file, design: &design, plans: &[], layers: &layers, findings: &findings };
    text(&letter(&of))
}

fn found(file: &File, design: &Design) -> Vec<Finding> {
    let (works, mut findings) = shop::works(file, design);
    findings.extend(shop::check_process(file, design, &works));
    findings
}

#[test]
fn what_is_glued_is_not_to_be_polished() {
    let told = told("seahorse", |_| ());
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../params/seahorse.toml");
    let file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
    let design = design::resolve(&file).design.unwrap();
    let line = told.lines().find(|line| line.contains("may be polished")).unwrap();
    for piece in design.pieces.iter().filter(|piece| piece.role.is_sheet()) {
        let is_named = line.contains(&format!("{},", piece.number))
            || line.contains(&format!("{} are", piece.number));
        let is_loose =
            matches!(piece.role, design::Role::Door | design::Role::Lid | design::Role::SockHolder)
                || piece.name.contains("comb")
                || piece.is_spare;
        if is_loose {
            assert!(is_named, "{}", piece.name);
        }
        if matches!(piece.role, design::Role::Wall | design::Role::Bottom | design::Role::Rim) {
            assert!(!is_named, "{}", piece.name);
        }
    }
}

#[test]
fn it_fits_on_one_page() {
    // As long as those of a panel with grooves of two depths.
    let pocket = "floor of that depth below that face, cleared inside the line";
    let layers = [
        ("engrave upper face", "engrave along the line"),
        ("pocket 4.6 mm from upper face", pocket),
        ("pocket 3.0 mm from lower face", pocket),
        ("cut through openings", "cut all the way through, the tool inside the line"),
        ("cut through outline", "cut all the way through, the tool outside the line"),
        ("sheet edge not cut", "for people to read: no tool follows it"),
        ("offcut not cut", "for people to read: no tool follows it"),
        ("note not cut", "for people to read: no tool follows it"),
    ];
    let layers = layers.map(|(name, what)| (name.to_owned(), what.to_owned()));
    for name in ["brook", "fragfarm", "mangrove", "seahorse", "stuck-leaf"] {
        let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
        let design = design::resolve(&file).design.unwrap();
        let (works, _) = shop::works(&file, &design);
        let (plans, _) = shop::sheets::lay(&file, &design, &works);
        assert!(!plans.is_empty(), "{name}");
        let findings = found(&file, &design);
        let of = LetterOf {
            file: &file,
            design: &design,
            plans: &plans,
            layers: &layers,
            findings: &findings,
        };
        let blocks = letter(&of);
        for paper in [paper::PaperForm::A, paper::PaperForm::Us] {
            let form = paper::Form::text(paper, design.title.clone(), "");
            let pages = paper::flow(&blocks, &form);
            assert_eq!(pages.len(), 1, "{name}: {}", text(&blocks));
        }
        for sheet in plans.iter().flat_map(|plan| &plan.sheets) {
            let row = format!("{} | ", sheet.name);
            assert!(text(&blocks).contains(&row), "{name}: {row}");
        }
    }
}

#[test]
fn the_process_is_told() {
    assert!(told("mangrove", |_| ()).contains("router"));
    let laser = told("mangrove", |file| file.cutting.process = Process::Laser);
    assert!(laser.contains("anneal"));
    assert!(told("brook", |_| ()).contains("in inches"));
    let tool = told("brook", |file| file.cutting.draw = DrawnPath::Tool);
    assert!(tool.contains("do not offset them again"));
}

#[test]
fn with_a_laser_the_film_is_off_before_annealing() {
    let laser = told("mangrove", |file| file.cutting.process = Process::Laser);
    assert!(laser.contains("annealed, with the protective film off"), "{laser}");
    assert!(!laser.contains("before and after cutting"), "{laser}");
}

#[test]
fn what_was_found_is_noted_once_with_its_panels() {
    let tabs = told("fragfarm", |file| file.cutting.draw = DrawnPath::Tool);
    assert_eq!(tabs.matches("Bridges (tabs) are in the path of the tool").count(), 1, "{tabs}");
    assert!(tabs.contains("none in a glued edge"));
    let vacuum = told("seahorse", |file| file.cutting.holding = Holding::Vacuum);
    assert_eq!(vacuum.matches("vacuum may not hold them").count(), 1, "{vacuum}");
    assert!(!vacuum.contains("Bridges"));
    let thick = told("seahorse", |file| file.cutting.tool = Length::mm(12.0));
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../params/seahorse.toml");
    let mut file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
    file.cutting.tool = Length::mm(12.0);
    let design = design::resolve(&file).design.unwrap();
    let findings = found(&file, &design);
    let drilled: Vec<&Finding> =
        findings.iter().filter(|finding| finding.code == "hole-is-drilled").collect();
    assert!(!drilled.is_empty());
    let line = thick.lines().find(|line| line.contains("To be drilled")).unwrap();
    assert_eq!(line.matches("panel ").count(), drilled.len(), "{line}");
    for finding in drilled {
        let sizes = finding.message.rsplit(": ").next().unwrap();
        assert!(line.contains(sizes), "{line}: {sizes}");
    }
}

#[test]
fn a_pattern_is_told_and_whose_a_sheet_is() {
    let patterned =
        told("seahorse", |file| file.sheet.values_mut().for_each(|s| s.patterned = true));
    assert!(patterned.contains("do not turn its parts"));
    assert!(!told("seahorse", |_| ()).contains("do not turn its parts"));
    let plan = |own: bool| {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../params/brook.toml");
        let mut file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
        file.sheet.values_mut().flat_map(|sheet| &mut sheet.stock).for_each(|size| size.own = own);
        let design = design::resolve(&file).design.unwrap();
        let (works, _) = shop::works(&file, &design);
        text(&quantities::sheets(&design, &shop::sheets::lay(&file, &design, &works).0))
    };
    assert!(plan(true).contains("from me") && !plan(true).contains("from you"));
    assert!(plan(false).contains("from you") && !plan(false).contains("from me"));
}

#[test]
fn tolerances_in_inches_are_those_of_the_title_block() {
    let told = told("brook", |_| ());
    let block = crate::panel_drawing::tolerance(crate::lengths::Lengths(System::UsCustomary));
    assert!(block.contains("±0.008 in"), "{block}");
    assert!(told.contains("within ±0.008 in (0.2 mm)"), "{told}");
}
