//! What it costs: the estimate with all that it rests on.

use design::Design;
use paper::Block;
use shop::Estimate;
use study::told::costs;

use crate::prose::{items, part, title, told_table, words};

/// The estimate.
pub fn costs_of(design: &Design, estimate: &Estimate) -> Vec<Block> {
    let mut blocks = vec![title(format!("Costs: {}", design.title))];
    blocks.push(words(
        "An estimate from the prices in the file and from common practice, as ranges. A shop asks what it asks: have it \
         make an offer before you order.",
    ));
    let mut lines = costs::table(estimate);
    lines.title.clear();
    let notes = std::mem::take(&mut lines.notes);
    blocks.extend(told_table(&lines));
    if !notes.is_empty() {
        blocks.push(part("What it rests on"));
        blocks.push(items(notes));
    }
    blocks.extend(told_table(&costs::times(estimate, design.report)));
    blocks
}
