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

/// The layers that a demo's sheets have: of every kind of work and depth there is, by the names that files give them.
fn layers(design: &Design, works: &[shop::Work]) -> Vec<(String, String)> {
    let pocket = "floor of that depth below that face, cleared inside the line";
    let mut layers = vec![("engrave upper face".to_owned(), "engrave along the line".to_owned())];
    let pockets = works.iter().flat_map(|work| &work.pattern.pockets);
    for region in pockets {
        let face = if region.face == plate::Face::Top { "upper" } else { "lower" };
        let depth = Length::mm(region.depth_mm).show(design.report);
        layers.push((format!("pocket {depth} from {face} face"), pocket.to_owned()));
    }
    let others = [
        ("cut through openings", "cut all the way through, the tool inside the line"),
        ("cut through outline", "cut all the way through, the tool outside the line"),
        (
            "bridge 1.5 mm high",
            "bridges to be left so high in the cut, trimmed by hand: no tool follows the line",
        ),
        ("sheet edge not cut", "for people to read: no tool follows it"),
        ("offcut not cut", "for people to read: no tool follows it"),
        ("note not cut", "for people to read: no tool follows it"),
    ];
    layers.extend(others.map(|(name, what)| (name.to_owned(), what.to_owned())));
    layers.sort();
    layers.dedup();
    layers
}

/// As it is, and at its longest: all notes at once.
#[test]
fn it_fits_on_one_page() {
    let as_it_is = |_: &mut File| ();
    // A wide cutter leaves round corners and holes to be drilled; two processes; paths of the tool; bridges; patterns; an
    // owner with a long name.
    let longest = |file: &mut File| {
        file.cutting.tool = Length::mm(8.0);
        file.cutting.draw = DrawnPath::Tool;
        file.cutting.holding = Holding::Tabs;
        file.papers.owner = "A. Person with a Longer Name, of a Street and a Town".to_owned();
        file.sheet.values_mut().for_each(|sheet| sheet.patterned = true);
        if file.sheet.len() > 1 {
            let last = file.sheet.values_mut().last().unwrap();
            last.process = Some(Process::Laser);
        }
    };
    for name in ["brook", "fragfarm", "mangrove", "seahorse", "stuck-leaf"] {
        one_page(name, as_it_is);
        one_page(name, longest);
    }
}

#[track_caller]
fn one_page(name: &str, change: impl Fn(&mut File)) {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let mut file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
    change(&mut file);
    let design = design::resolve(&file).design.unwrap();
    let (works, _) = shop::works(&file, &design);
    let (plans, _) = shop::sheets::lay(&file, &design, &works);
    assert!(!plans.is_empty(), "{name}");
    let (layers, findings) = (layers(&design, &works), found(&file, &design));
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
        assert_eq!(pages.len(), 1, "{name}, {paper:?}: {:?}", pages.last());
    }
    for sheet in plans.iter().flat_map(|plan| &plan.sheets) {
        let row = format!("{} | ", sheet.name);
        assert!(text(&blocks).contains(&row), "{name}: {row}");
    }
}

#[test]
fn the_process_is_told() {
    assert!(told("mangrove", |_| ()).contains("router"));
    let laser = told("mangrove", |file| file.cutting.process = Process::Laser);
    assert!(laser.contains("anneal"));
    assert!(told("brook", |_| ()).contains("in inches"));
    let tool = told("brook", |file| file.cutting.draw = DrawnPath::Tool);
    assert!(tool.contains("do not offset them."));
}

#[test]
fn paths_of_the_tool_ask_for_just_that_cutter() {
    let tool = told("seahorse", |file| {
        file.cutting.draw = DrawnPath::Tool;
        file.cutting.tool = Length::mm(4.0);
    });
    assert!(
        tool.contains(
            "cutter of exactly 4 mm, measured: paths are for this diameter and direction; do not offset them"
        ),
        "{tool}"
    );
    assert!(!tool.contains("at most") && !tool.contains("as you find cleaner"), "{tool}");
    let part = told("seahorse", |file| {
        file.cutting.draw = DrawnPath::Part;
        file.cutting.tool = Length::mm(4.0);
    });
    assert!(
        part.contains("cutter of 4 mm at most") && part.contains("as you find cleaner"),
        "{part}"
    );
    assert!(!part.contains("exactly"), "{part}");
}

/// Of two sheets one is cut by another process: each is asked for with its own.
#[test]
fn every_sheet_is_asked_for_by_its_own_process() {
    let told = |own: Process, holding: Holding| {
        told("mangrove", |file| {
            file.cutting.holding = holding;
            let last = file.sheet.values_mut().last().unwrap();
            last.process = Some(own);
        })
    };
    let laser = told(Process::Laser, Holding::Tabs);
    let lines: Vec<&str> =
        laser.lines().filter(|line| line.contains("Process for sheet")).collect();
    assert_eq!(lines.len(), 2, "{laser}");
    assert!(lines[0].contains("router") && lines[1].contains("laser"), "{laser}");
    assert!(laser.contains("on what is cut by laser ("), "{laser}");
    assert!(laser.contains("Bridges (tabs) of "), "{laser}");
    // That of all the others is no word about itself.
    let alike = told(Process::Router, Holding::Vacuum);
    assert!(alike.contains("Process: router") && !alike.contains("for sheet"), "{alike}");
    // Where nothing is routed there are no bridges.
    let none = self::told("mangrove", |file| {
        file.cutting.holding = Holding::Tabs;
        file.sheet.values_mut().for_each(|sheet| sheet.process = Some(Process::Laser));
    });
    assert!(!none.contains("Bridges") && !none.contains("router"), "{none}");
    assert!(none.contains("Protective film stays on both faces until annealing."), "{none}");
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
    let marked = told("fragfarm", |file| file.cutting.draw = DrawnPath::Part);
    assert!(marked.contains("tape down too: panels"), "{marked}");
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
    assert!(patterned.contains("do not turn parts"));
    assert!(!told("seahorse", |_| ()).contains("do not turn parts"));
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
