//! The files about strength, for the folder `strength/` or for `--drawings`; and all of it as JSON.

use design::{Design, Role};
use export::plot;
use serde_json::{Value, json};
use strength::{Panel, Strength};
use study::told::strength as told;
use study::told::table::{Table, hanging, wrapped};
use study::{Known, Strong};

use crate::file_name::FileName;

/// A file about strength.
#[derive(Debug)]
pub(crate) struct StrengthFile {
    pub(crate) name: FileName,
    pub(crate) extension: &'static str,
    pub(crate) purpose: String,
    pub(crate) bytes: Vec<u8>,
}

/// In which units everything is.
const UNITS: &str = "lengths in mm, stresses in MPa (N/mm²), forces in N, moments per length in N, masses in kg, \
    pressures of the footprint in kN/m²; points of a panel in its own frame, x and y along its outline; deflections \
    positive out of its lower face; heights of water above the inside of the sump's bottom; edges left, right, lower, \
    upper; placed, piece and joint are indices into the design; a factor of null is infinite";

/// A drawing of every panel that bends, and the tables as text.
pub(crate) fn of(design: &Design, strong: &Strong) -> Vec<StrengthFile> {
    let strength = &strong.strength;
    let file = |name, extension, purpose: String, text: String| StrengthFile {
        name,
        extension,
        purpose,
        bytes: text.into_bytes(),
    };
    let drawing = |panel: &Panel| {
        let number = &design.pieces[panel.piece].number;
        let place = same_piece(panel, strength);
        let number = if place == 0 { number.clone() } else { format!("{number}-{}", place + 1) };
        let name = FileName::numbered(&number, &panel.name);
        let purpose = format!("{}: how it bends under water", panel.name);
        file(name, "svg", purpose, plot::bending(design, panel))
    };
    let mut files: Vec<StrengthFile> = strength.panels.iter().map(drawing).collect();
    files.push(file(
        FileName::of("strength", "strength"),
        "txt",
        "panels, seams, weight and fits under their tolerances".to_owned(),
        text(design, strong),
    ));
    files
}

/// How many panels before it are of the same piece.
fn same_piece(panel: &Panel, strength: &Strength) -> usize {
    let before = strength.panels.iter().take_while(|other| other.placed != panel.placed);
    before.filter(|other| other.piece == panel.piece).count()
}

/// The verdict, all tables, and what to mind.
pub(crate) fn text(design: &Design, strong: &Strong) -> String {
    let tables = told::tables(&strong.strength, design);
    let mut text = vec![verdict(&told::verdict(strong, design))];
    text.extend(tables.iter().map(Table::text_in_width));
    text.push(told::CAUTIONS.iter().map(|words| wrapped(words)).collect());
    text.join("\n")
}

/// Does it hold, what decides, what to change first, what it weighs.
pub(crate) fn verdict(lines: &[(&'static str, String)]) -> String {
    lines.iter().map(|(head, words)| hanging(&format!("{head:14}"), words)).collect()
}

/// All that is told, and what it was worked out from, for other programs.
pub(crate) fn as_json(design: &Design, known: Option<&Known<'_>>, strong: &Strong) -> Value {
    let strength = &strong.strength;
    let mut value = json!(strength);
    let panels = value["panels"].as_array_mut().into_iter().flatten();
    for (told, panel) in panels.zip(&strength.panels) {
        told["factor"] = json!(panel.factor());
        told["lasting_factor"] = json!(panel.lasting_factor());
        told["theory"] = json!(panel.theory());
        told["is_outer"] = json!(is_outer(design, panel));
    }
    let seams = value["seams"].as_array_mut().into_iter().flatten();
    for (told, seam) in seams.zip(&strength.seams) {
        told["factor"] = json!(seam.factor());
    }
    value["verdict"] = json!(strong.verdict);
    value["not_alone"] = json!(strong.not_alone);
    value["units"] = json!(UNITS);
    value["waters"] = json!(study::strong::waters(design, known));
    value
}

/// Whether water runs on to the floor if it gives way.
fn is_outer(design: &Design, panel: &Panel) -> bool {
    matches!(design.pieces[panel.piece].role, Role::Wall | Role::Bottom)
}
