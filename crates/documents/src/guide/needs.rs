//! What you need, and what is done before the first drop.

use paper::Block;
use params::Material;
use shop::glue_up::{BOTTLE_MM, Bond, LEAST_ANGLE_DEG, NEEDLE_MM, solvent_ml};
use units::{Length, System};

use super::{GuideOf, wait};
use crate::prose::{boxes, chapter, items, part, words};
use crate::safety;

/// Millilitres in a US fluid ounce, exactly.
const ML_PER_FL_OZ: f64 = 29.573_529_562_5;

pub(super) fn blocks(of: &GuideOf<'_>) -> Vec<Block> {
    let GuideOf { file, design, .. } = *of;
    let mut blocks = vec![chapter("What you need"), tools(of)];
    blocks.push(safety::solvent());
    blocks.push(part("How long joints take"));
    blocks.push(wait::table_of(design));
    blocks.push(words(
        "At 18 to 25 °C (64 to 77 °F). Makers ask for 16 to 38 °C; colder takes longer, and damp air clouds the joint. The \
         label of your cement comes before this table.",
    ));
    blocks.push(chapter("Before you begin"));
    blocks.push(before(of));
    blocks.push(safety::scraping());
    blocks.push(safety::edges(file));
    blocks.push(safety::feeding());
    let mut materials: Vec<Material> = design.sheets.values().map(|sheet| sheet.material).collect();
    materials.sort();
    materials.dedup();
    blocks.extend(materials.into_iter().filter_map(safety::material));
    blocks
}

fn tools(of: &GuideOf<'_>) -> Block {
    let design = of.design;
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let [least, most] = solvent_ml(design);
    let solvent = match design.report {
        System::Metric => format!("{} to {} mL", tens(least), tens(most)),
        System::UsCustomary => {
            format!("{:.1} to {:.1} fl oz", least / ML_PER_FL_OZ, most / ML_PER_FL_OZ)
        }
    };
    let [bottle, radius] = BOTTLE_MM;
    let mut all = Vec::new();
    if most > 0.0 {
        all.push(format!(
            "Thin solvent cement for your sheet: {solvent}, what evaporates and goes astray included (our judgement: a film \
             of 0.05 to 0.2 mm in every joint, two to four times over)."
        ));
    }
    all.extend(wait::bonds(design).into_iter().filter_map(adhesive));
    all.push(format!(
        "A squeeze bottle with a blunt needle about {} long. The order was worked out for this needle with a bottle {} \
         long and {} thick behind it, held so that, seen along the joint, it keeps {LEAST_ANGLE_DEG:.0}° to either face (our judgement).",
        show(NEEDLE_MM),
        show(bottle),
        show(2.0 * radius)
    ));
    all.extend(
        [
            "Two engineer's squares or more, masking tape, weights, blocks and shims, a flat bench larger than the bottom, a \
             cloth to turn the box on.",
            "A scraper, sandpaper of 220 and 320 grit on a flat block, lint-free cloth.",
            "A tape measure for diagonals, a caliper, paper to test gaps with.",
            "Gloves that the data sheet names, gloves against cuts, goggles, a dust mask for sanding, a fan.",
        ]
        .map(str::to_owned),
    );
    items(all)
}

/// What is bought beside thin solvent.
fn adhesive(bond: Bond) -> Option<String> {
    match bond {
        Bond::Solvent(_) => None,
        Bond::Mixed(a, b) => Some(format!(
            "A cement whose maker names both {} and {}.",
            wait::material_words(a),
            wait::material_words(b)
        )),
        Bond::Printed => Some(
            "An adhesive for printed parts: two-part epoxy or a thickened cement that is safe for animals once cured and whose \
             maker names both plastics (common practice)."
                .to_owned(),
        ),
    }
}

/// Rounded to tens, never to nothing.
fn tens(ml: f64) -> f64 {
    ((ml / 10.0).round() * 10.0).max(10.0)
}

fn before(of: &GuideOf<'_>) -> Block {
    let design = of.design;
    let system = design.report;
    let fine = |mm: f64| Length::mm(mm).show_fine(system);
    let mut all = vec![
        "Lay out all parts and check them off against the parts list. Leave the protective film on but for the joints."
            .to_owned(),
    ];
    for sheet in design.sheets.values() {
        let [least, most] = sheet.band_mm.map(fine);
        let band = if least == most { least.clone() } else { format!("{least} to {most}") };
        all.push(if sheet.is_measured {
            format!(
                "Sheet {}: measure its thickness in several places. The slots are made for {band}; other sheet does not fit.",
                sheet.name
            )
        } else {
            format!(
                "Sheet {}: nobody has measured it. The standard lets it be {band} thick; measure it and write \
                 `measured` into the file before anything is cut.",
                sheet.name
            )
        });
    }
    all.extend(
        [
            "Glue two scraps of the same sheet crosswise and try to break them a day later: it tells how much solvent and \
             how long.",
            "Dry-fit everything once, in the order of the steps, held by tape. A joint is ready when a strip of paper (0.1 \
             mm, 0.004 in) finds no gap along it.",
            "Measure both diagonals of the dry box at the bottom and at the top: they should agree within 1 mm (0.04 in; \
             our judgement). If not, find the edge that is not square.",
        ]
        .map(str::to_owned),
    );
    boxes(all)
}
