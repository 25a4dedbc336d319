//! The letter to the shop: one page.

mod please_note;
mod process;
mod quantities;
#[cfg(test)]
mod tests;
mod what_counts;

use design::Design;
use findings::Finding;
use paper::Block;
use params::File;
use shop::StockPlan;
use units::System;

use crate::prose::{items, part, title, words};

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
    // What is asked for comes first; a line of its own at the end may take the letter to a second page.
    let ask = "Please make me an offer and name a date; ask before any change, and keep the numbers on the parts.";
    blocks.push(words(format!("{} {ask}", hello(file, design))));
    blocks.push(part("What to cut"));
    blocks.push(items(process::list(file, design)));
    blocks.extend(quantities::sheets(design, plans));
    if !layers.is_empty() {
        // In one paragraph: a list of them may take the letter to a second page.
        blocks.push(words(format!("Layers: {}.", layer_words(layers).join("; "))));
    }
    let notes = please_note::list(file, design, findings);
    if !notes.is_empty() {
        blocks.push(part("Please note"));
        blocks.push(items(notes));
    }
    blocks.push(part("What counts"));
    blocks.push(items(what_counts::list(file, design)));
    blocks
}

/// The layers with what is done on each, those alike together, so that all stays on one page.
fn layer_words(layers: &[(String, String)]) -> Vec<String> {
    let mut alike: Vec<(&str, Vec<&str>)> = Vec::new();
    // Those that no tool follows say so in their own names.
    let is_followed = |(name, _): &&(String, String)| !name.ends_with("not cut");
    for (name, what) in layers.iter().filter(is_followed) {
        match alike.iter_mut().find(|(known, _)| known == what) {
            Some((_, names)) => names.push(name),
            None => alike.push((what, vec![name])),
        }
    }
    let unfollowed = layers.iter().any(|layer| !is_followed(&layer));
    let each = alike.iter().map(|(what, names)| format!("“{}”, {what}", names.join("”, “")));
    let rest = unfollowed.then(|| "“… not cut”, for people to read: no tool follows it".to_owned());
    each.chain(rest).collect()
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
