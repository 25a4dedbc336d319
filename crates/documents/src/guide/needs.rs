//! What you need, and what is done before the first drop.

use paper::Block;
use params::Material;
use shop::glue_up::{BOTTLE_MM, LEAST_ANGLE_DEG, NEEDLE_MM};
use units::Length;

use super::{GuideOf, jigs, stubs, wait};
use crate::prose::{boxes, capital, chapter, items, part, words};
use crate::safety;

pub(super) fn blocks(of: &GuideOf<'_>) -> Vec<Block> {
    let GuideOf { file, design, .. } = *of;
    let mut blocks = vec![chapter("What you need"), tools(of)];
    blocks.extend(jigs::blocks(design));
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
    let supply = |supply: shop::Supply| {
        let amount =
            if supply.amount.is_empty() { String::new() } else { format!(": {}", supply.amount) };
        capital(&format!("{}{amount}; {}.", supply.name, supply.note))
    };
    let mut all: Vec<String> = shop::supplies(design).into_iter().map(supply).collect();
    let [bottle, radius] = BOTTLE_MM;
    all.push(format!(
        "The order was worked out for a needle of {} with a bottle {} long and {} thick behind it, held so that, seen along \
         the joint, it keeps {LEAST_ANGLE_DEG:.0}° to either face (our judgement).",
        show(NEEDLE_MM),
        show(bottle),
        show(2.0 * radius)
    ));
    all.extend(
        [
            "Two engineer's squares or more, weights, blocks and shims, a flat bench larger than the bottom, a cloth to turn \
             the box on, a straight edge.",
            "A scraper, a flat block for the sandpaper, a tape measure for diagonals, a caliper, paper to test gaps with, a fan.",
        ]
        .map(str::to_owned),
    );
    items(all)
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
    all.extend(stubs::of_all(design, of.works));
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
