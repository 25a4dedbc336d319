//! Every sheet with what is cut from it, for the machine.

use design::Design;
use export::{NestedSheet, dxf, svg};
use params::File;
use shop::LaidSheet;
use study::Shopped;
use study::told::sheets;

use super::FOLDER;
use crate::file_name::FileName;
use crate::outputs::Output;

/// Layers of the drawings: name, and what is done on it.
pub(super) type Layers = Vec<(String, String)>;

/// The drawings of all sheets, and which layers they have.
pub(super) fn of(file: &File, design: &Design, shopped: &Shopped) -> (Vec<Output>, Layers) {
    let (mut outputs, mut layers) = (Vec::new(), Layers::new());
    for (plan, routes) in shopped.plans.iter().zip(&shopped.routes) {
        for (sheet, route) in plan.sheets.iter().zip(routes) {
            let labels = labels(design, sheet);
            let about = sheets::about(file, design, sheet, plan, route);
            let drawing = NestedSheet {
                sheet,
                works: &shopped.works,
                route,
                labels: &labels,
                draw: file.cutting.draw,
                heading: &sheet.name,
                about: &about,
            };
            let name = || FileName::of(&sheet.name, "sheet");
            let n = sheet.laid.len();
            let purpose = |what| format!("sheet {} with {n} parts on it, {what}", sheet.name);
            let machine = dxf::write_sheet(&drawing).into_bytes();
            outputs.push((FOLDER, name(), "dxf", purpose("for the machine"), machine));
            let seen = svg::write_sheet(&drawing).into_bytes();
            outputs.push((FOLDER, name(), "svg", purpose("to look at or for the machine"), seen));
            for layer in drawing.layer_list() {
                if layers.iter().all(|(known, _)| *known != layer.0) {
                    layers.push(layer);
                }
            }
        }
    }
    (outputs, layers)
}

/// What each part on a sheet is called there: its number in the cut list.
fn labels(design: &Design, sheet: &LaidSheet) -> Vec<String> {
    sheet.laid.iter().map(|laid| design.pieces[laid.piece].number.clone()).collect()
}
