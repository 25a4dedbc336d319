//! The letter to the shop: one page.

mod please_note;

use std::collections::BTreeSet;

use design::{Design, Piece, PieceId};
use findings::Finding;
use paper::Block;
use params::{DrawnPath, File, Holding, Process};
use shop::{LaidSheet, StockPlan};
use units::{Length, System};

use crate::panel_drawing::TOLERANCE_MM;
use crate::prose::{Kind, count, items, part, table, title, words};

/// What a letter is written from.
#[derive(Clone, Copy, Debug)]
pub struct LetterOf<'a> {
    /// The file.
    pub file: &'a File,
    /// The design.
    pub design: &'a Design,
    /// The sheets.
    pub plans: &'a [StockPlan],
    /// Layers of the drawings: name, and what is done on it.
    pub layers: &'a [(String, String)],
    /// What was found about making it.
    pub findings: &'a [Finding],
}

/// The letter.
pub fn letter(of: &LetterOf<'_>) -> Vec<Block> {
    let LetterOf { file, design, plans, layers, findings } = *of;
    let mut blocks = vec![title(format!("To the shop: {}", design.title))];
    blocks.push(words(hello(file, design)));
    blocks.push(part("What to cut"));
    blocks.push(items(what(file, design)));
    blocks.extend(sheets(design, plans));
    if !layers.is_empty() {
        blocks.push(part("Layers"));
        blocks.push(items(layer_words(layers)));
    }
    let loose = loose(design);
    let notes = please_note::list(file, design, findings);
    if !notes.is_empty() {
        blocks.push(part("Please note"));
        blocks.push(items(notes));
    }
    blocks.push(part("What counts"));
    blocks.push(items(what_counts(file, design, &loose)));
    blocks.push(words(
        "Please make me an offer, with the time you need. Ask before you change anything, and send the parts with their \
         numbers on them. Thank you.",
    ));
    blocks
}

/// The layers with what is done on each, those alike together, so that all stays on one page.
fn layer_words(layers: &[(String, String)]) -> Vec<String> {
    let mut alike: Vec<(&str, Vec<&str>)> = Vec::new();
    for (name, what) in layers {
        match alike.iter_mut().find(|(known, _)| known == what) {
            Some((_, names)) => names.push(name),
            None => alike.push((what, vec![name])),
        }
    }
    let each = alike.iter().map(|(what, names)| format!("{}: {what}", names.join(", ")));
    each.collect()
}

fn hello(file: &File, design: &Design) -> String {
    let from = if file.papers.owner.is_empty() {
        String::new()
    } else {
        format!("From {}. ", file.papers.owner)
    };
    format!(
        "{from}These are the panels of an aquarium sump, a tank that holds water for years. I glue it myself with thin solvent, \
         so the edges matter more than the polish. Drawings (PDF), DXF and SVG of every sheet and panel are with this letter; \
         {}.",
        match design.report {
            System::Metric => "all of them are in millimetres",
            System::UsCustomary => "DXF and SVG are in millimetres, the drawings in inches",
        }
    )
}

fn what(file: &File, design: &Design) -> Vec<String> {
    let fine = |mm: f64| Length::mm(mm).show_fine(design.report);
    let cutting = &file.cutting;
    let mut all = Vec::new();
    all.push(match cutting.process {
        Process::Router => {
            let held = match cutting.holding {
                Holding::Vacuum => "held by vacuum",
                Holding::Tabs => "held by tabs, which I trim",
            };
            format!(
                "Process: router, cutter of {} at most, {held}. Climb or conventional as you find cleaner; no melted edges.",
                fine(cutting.tool.to_mm())
            )
        }
        Process::Laser => {
            "Process: laser, acrylic only. Before gluing the parts must be annealed, with the protective film off: please say \
             in your offer whether you do it or I."
                .to_owned()
        }
        Process::Saw => "Process: panel saw, straight cuts only.".to_owned(),
    });
    all.push(match cutting.draw {
        DrawnPath::Part => {
            "The lines are the edges of the parts: please reckon with your own tool.".to_owned()
        }
        DrawnPath::Tool => {
            "The lines are the path of the tool's middle: please do not offset them again."
                .to_owned()
        }
    });
    let materials = design.sheets.values().map(|sheet| sheet.material);
    let cautions: BTreeSet<&str> = materials.filter_map(study::laser_caution).collect();
    all.extend(cautions.into_iter().map(str::to_owned));
    all.push(match cutting.process {
        Process::Laser => "Protective film stays on both faces until annealing.".to_owned(),
        _ => "Protective film stays on both faces, before and after cutting.".to_owned(),
    });
    all
}

/// Quantities, sheet by sheet.
fn sheets(design: &Design, plans: &[StockPlan]) -> Vec<Block> {
    if plans.is_empty() {
        let pieces = design.pieces.iter().filter(|piece| piece.role.is_sheet());
        let n: usize = pieces.map(|piece| piece.quantity).sum();
        return vec![words(format!("{} in all; lay them out as it suits you.", count(n, "panel")))];
    }
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let fine = |mm: f64| Length::mm(mm).show_fine(design.report);
    let rows = plans.iter().flat_map(|plan| {
        let sheet = design.sheets.get(&plan.sheet);
        let material = design.pieces.iter().find(|p| p.sheet.as_deref() == Some(&plan.sheet));
        let material = material.map_or(String::new(), |p| p.material.clone());
        let thickness = sheet.map_or(String::new(), |s| fine(s.nominal_mm));
        plan.sheets.iter().map(move |laid| {
            let kinds: BTreeSet<PieceId> = laid.laid.iter().map(|one| one.piece).collect();
            [
                laid.name.clone(),
                format!("{material}, {thickness}"),
                format!("{} × {}", show(laid.size_mm.x), show(laid.size_mm.y)),
                laid.laid.len().to_string(),
                kinds.len().to_string(),
                if is_makers_own(laid) { "from me" } else { "from you" }.to_owned(),
            ]
        })
    });
    let columns = [
        ("sheet", Kind::Name),
        ("material", Kind::Words),
        ("size", Kind::Number),
        ("panels", Kind::Number),
        ("of so many kinds", Kind::Number),
        ("from", Kind::Name),
    ];
    vec![table(columns, rows)]
}

/// Whether a sheet is the maker's own: it has a price of nothing, as the file says of offcuts at home.
pub(crate) fn is_makers_own(sheet: &LaidSheet) -> bool {
    sheet.price.is_some_and(|price| price <= 0.0)
}

/// Numbers of the panels that are not glued.
fn loose(design: &Design) -> Vec<&str> {
    let glued = glued(design);
    let pieces = design.pieces.iter().enumerate();
    let loose = pieces.filter(|(id, piece)| piece.role.is_sheet() && !glued.contains(id));
    loose.map(|(_, piece)| piece.number.as_str()).collect()
}

fn what_counts(file: &File, design: &Design, loose: &[&str]) -> Vec<String> {
    let fine = |mm: f64| Length::mm(mm).show_fine(design.report);
    let both = |mm: f64| match design.report {
        System::Metric => fine(mm),
        System::UsCustomary => {
            format!("{} ({})", fine(mm), Length::mm(mm).show_fine(System::Metric))
        }
    };
    let sheet = |piece: &&Piece| piece.role.is_sheet();
    let mut all = vec![format!(
        "Critical: edges that are glued. As cut, flat, square to the face within {} over the thickness, no chips, no steps; \
             never flame-polished, never buffed (solvent cracks what heat has stressed).",
        both(0.2)
    )];
    all.push(match loose {
        [] => "Every panel is glued somewhere: please polish none.".to_owned(),
        [one] => format!(
            "Panel {one} is not glued: its edges may be polished. No other panel's edges, please."
        ),
        _ => format!(
            "Panels {} are not glued: their edges may be polished. No other panel's edges, please.",
            loose.join(", ")
        ),
    });
    all.push(format!(
        "Critical: squareness. Both diagonals of a panel within {} of each other; outer sizes within ±{} (our judgement; tell \
         me if your machine cannot).",
        both(0.5),
        both(TOLERANCE_MM)
    ));
    let pockets = design.pieces.iter().filter(sheet).any(|piece| match &piece.shape {
        plate::Shape::Sheet(plate) => plate.cuts.iter().any(|cut| cut.depth < plate.thickness),
        plate::Shape::Turned(_) => false,
    });
    if pockets {
        all.push(format!(
            "Critical: width of grooves and steps, −0 / +{}. They are drawn for the sheet's measured thickness; please try one \
             in scrap of the very sheet. Depth ±{}.",
            both(file.cutting.groove_fit.to_mm().max(0.1)),
            both(TOLERANCE_MM)
        ));
    }
    let measured = design.sheets.values().filter(|sheet| sheet.is_measured).map(|sheet| {
        let [least, most] = sheet.band_mm.map(fine);
        let most = if least == most { String::new() } else { format!(" to {most}") };
        format!("{} {least}{most}", sheet.name)
    });
    let measured: Vec<String> = measured.collect();
    if !measured.is_empty() {
        all.push(format!(
            "Thickness that I reckoned with: {}. If your sheet is other, please call first.",
            measured.join("; ")
        ));
    }
    if design.sheets.values().any(|sheet| sheet.look.is_clear) {
        all.push(
            "Cosmetic: the outer faces of the walls are seen (the lower face in the drawing). Scratches elsewhere do not matter."
                .to_owned(),
        );
    }
    all
}

/// Pieces with a glued joint.
fn glued(design: &Design) -> BTreeSet<PieceId> {
    let joints = design.joints.iter().filter(|joint| joint.kind.is_glued());
    joints.flat_map(|joint| [joint.a, joint.b]).map(|id| design.placed[id].piece).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::tests::text;

    fn told(name: &str, change: impl Fn(&mut File)) -> String {
        let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let mut file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
        change(&mut file);
        let design = design::resolve(&file).design.unwrap();
        let layers = [("cut through outline".to_owned(), "all the way through".to_owned())];
        let findings = found(&file, &design);
        let of = LetterOf {
            file: &file,
            design: &design,
            plans: &[],
            layers: &layers,
            findings: &findings,
        };
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
            let is_loose = matches!(
                piece.role,
                design::Role::Door | design::Role::Lid | design::Role::SockHolder
            ) || piece.name.contains("comb")
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
        assert_eq!(tabs.matches("No bridges (tabs) are drawn").count(), 1, "{tabs}");
        assert!(tabs.contains("none in a glued edge"));
        let vacuum = told("seahorse", |file| file.cutting.holding = Holding::Vacuum);
        assert_eq!(vacuum.matches("vacuum may not hold them").count(), 1, "{vacuum}");
        assert!(!vacuum.contains("No bridges"));
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
        let sheet = |price| LaidSheet {
            name: "a-1".to_owned(),
            stock: Some(0),
            size_mm: glam::DVec2::ONE,
            price,
            laid: Vec::new(),
            offcuts: Vec::new(),
            saw_cuts: Vec::new(),
        };
        let whose = [Some(0.0), Some(9.0), None].map(|price| is_makers_own(&sheet(price)));
        assert_eq!(whose, [true, false, false]);
    }

    #[test]
    fn tolerances_in_inches_are_those_of_the_title_block() {
        let told = told("brook", |_| ());
        let block = crate::panel_drawing::tolerance(crate::lengths::Lengths(System::UsCustomary));
        assert!(block.contains("±0.008 in"), "{block}");
        assert!(told.contains("within ±0.008 in (0.2 mm)"), "{told}");
    }
}
