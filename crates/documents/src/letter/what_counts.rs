//! What is critical and what is cosmetic: glued edges, squareness, grooves, faces.

use std::collections::BTreeSet;

use design::{Design, Piece, PieceId};
use params::File;
use units::{Length, System};

use crate::panel_drawing::TOLERANCE_MM;

/// A line for each.
pub(super) fn list(file: &File, design: &Design) -> Vec<String> {
    let loose = loose(design);
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
    all.push(match loose[..] {
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
            "Thickness reckoned with: {}. Please call if yours is other.",
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

/// Numbers of the panels that are not glued.
fn loose(design: &Design) -> Vec<&str> {
    let glued = glued(design);
    let pieces = design.pieces.iter().enumerate();
    let loose = pieces.filter(|(id, piece)| piece.role.is_sheet() && !glued.contains(id));
    loose.map(|(_, piece)| piece.number.as_str()).collect()
}

/// Pieces with a glued joint.
fn glued(design: &Design) -> BTreeSet<PieceId> {
    let joints = design.joints.iter().filter(|joint| joint.kind.is_glued());
    joints.flat_map(|joint| [joint.a, joint.b]).map(|id| design.placed[id].piece).collect()
}
