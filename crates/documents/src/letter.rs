//! The letter to the shop: one page.

use std::collections::BTreeSet;

use design::{Design, Piece, PieceId};
use paper::Block;
use params::{DrawnPath, File, Holding, Material, Process};
use shop::StockPlan;
use units::{Length, System};

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
}

/// The letter.
pub fn letter(of: &LetterOf<'_>) -> Vec<Block> {
    let LetterOf { file, design, plans, layers } = *of;
    let mut blocks = vec![title(format!("To the shop: {}", design.title))];
    blocks.push(words(hello(file, design)));
    blocks.push(part("What to cut"));
    blocks.push(items(what(file, design)));
    blocks.extend(sheets(design, plans));
    if !layers.is_empty() {
        blocks.push(part("Layers"));
        let rows = layers.iter().map(|(name, what)| [name.clone(), what.clone()]);
        blocks.push(table([("layer", Kind::Name), ("what is done", Kind::Words)], rows));
    }
    blocks.push(part("What counts"));
    blocks.push(items(what_counts(file, design)));
    blocks.push(words("Please ask before you change anything, and send the parts with their numbers on the film. Thank you."));
    blocks
}

fn hello(file: &File, design: &Design) -> String {
    let from = if file.papers.owner.is_empty() {
        String::new()
    } else {
        format!("From {}. ", file.papers.owner)
    };
    format!(
        "{from}These are the panels of an aquarium sump, a tank that stands under an aquarium and holds water for years. I \
         glue it myself with thin solvent, so the edges matter more than the polish. Drawings (PDF), DXF and SVG of every \
         sheet and every panel are with this letter; {}.",
        match design.report {
            System::Metric => "all of them are in millimetres",
            System::UsCustomary => "DXF and SVG are in millimetres, the drawings in inches",
        }
    )
}

fn what(file: &File, design: &Design) -> Vec<String> {
    let show = |mm: f64| Length::mm(mm).show(design.report);
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
                show(cutting.tool.to_mm())
            )
        }
        Process::Laser => {
            "Process: laser, acrylic only. Please anneal the parts after cutting, or tell me that they are not.".to_owned()
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
    let fumes = design
        .sheets
        .values()
        .any(|s| matches!(s.material, Material::Pvc | Material::Polycarbonate));
    if fumes {
        all.push(
            "PVC and polycarbonate never on a laser: the fumes are poisonous and eat the machine."
                .to_owned(),
        );
    }
    all.push("Protective film stays on both faces, before and after cutting.".to_owned());
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
    let rows = plans.iter().flat_map(|plan| {
        let sheet = design.sheets.get(&plan.sheet);
        let material = design.pieces.iter().find(|p| p.sheet.as_deref() == Some(&plan.sheet));
        let material = material.map_or(String::new(), |p| p.material.clone());
        let thickness = sheet.map_or(String::new(), |s| show(s.nominal_mm));
        plan.sheets.iter().map(move |laid| {
            let kinds: BTreeSet<PieceId> = laid.laid.iter().map(|one| one.piece).collect();
            [
                laid.name.clone(),
                format!("{material}, {thickness}"),
                format!("{} × {}", show(laid.size_mm.x), show(laid.size_mm.y)),
                laid.laid.len().to_string(),
                kinds.len().to_string(),
            ]
        })
    });
    let columns = [
        ("sheet", Kind::Name),
        ("material", Kind::Words),
        ("size", Kind::Number),
        ("panels", Kind::Number),
        ("of so many kinds", Kind::Number),
    ];
    vec![table(columns, rows)]
}

fn what_counts(file: &File, design: &Design) -> Vec<String> {
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let fine = |mm: f64| Length::mm(mm).show_fine(design.report);
    let glued = glued(design);
    let sheet = |piece: &&Piece| piece.role.is_sheet();
    let loose: Vec<&str> = design
        .pieces
        .iter()
        .enumerate()
        .filter(|(id, piece)| sheet(piece) && !glued.contains(id))
        .map(|(_, piece)| piece.number.as_str())
        .collect();
    let mut all = vec![
        "Critical: edges that are glued. As cut, flat, square to the face within 0.2 mm (0.008 in) over the thickness, no \
         chips, no steps; never flame-polished, never buffed (heat leaves stress, and solvent cracks it)."
            .to_owned(),
    ];
    all.push(match loose[..] {
        [] => "Every panel is glued somewhere: please polish none.".to_owned(),
        [one] => format!("Panel {one} is not glued: its edges may be polished. No other panel's edges, please."),
        _ => format!(
            "Panels {} are not glued: their edges may be polished if that is your habit. No other panel's edges, please.",
            loose.join(", ")
        ),
    });
    all.push(format!(
        "Critical: squareness. Both diagonals of a panel within {} of each other; outer sizes within ±{} (our judgement; tell \
         me if your machine cannot).",
        show(0.5),
        show(0.2)
    ));
    let pockets = design.pieces.iter().filter(sheet).any(|piece| match &piece.shape {
        plate::Shape::Sheet(plate) => plate.cuts.iter().any(|cut| cut.depth < plate.thickness),
        plate::Shape::Turned(_) => false,
    });
    if pockets {
        all.push(format!(
            "Critical: width of grooves and steps, −0 / +{}. They are drawn for the sheet's measured thickness; please try one in \
             scrap with the very sheet before you cut all. Depth ±{}.",
            fine(file.cutting.groove_fit.to_mm().max(0.1)),
            fine(0.2)
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
            "Cosmetic: the outer faces of the walls are seen (the lower face of each wall in its drawing). Scratches on inner \
             faces and on the bottom do not matter."
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
        text(&letter(&LetterOf { file: &file, design: &design, plans: &[], layers: &layers }))
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
        let layers: Vec<(String, String)> =
            (0..8).map(|k| (format!("layer {k}"), "what is done".to_owned())).collect();
        for name in ["brook", "fragfarm", "mangrove", "seahorse", "stuck-leaf"] {
            let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
            let file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
            let design = design::resolve(&file).design.unwrap();
            let (works, _) = shop::works(&file, &design);
            let (plans, _) = shop::sheets::lay(&file, &design, &works);
            assert!(!plans.is_empty(), "{name}");
            let of = LetterOf { file: &file, design: &design, plans: &plans, layers: &layers };
            let blocks = letter(&of);
            for paper in [paper::PaperForm::A, paper::PaperForm::Us] {
                let form = paper::Form::text(paper, design.title.clone(), "");
                assert_eq!(paper::flow(&blocks, &form).len(), 1, "{name}");
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
}
