//! The words on a panel that come from the whole design: sheet, faces, notes.

use design::{Design, Piece, Role};
use glam::DVec3;
use params::{Cutting, Material};
use plate::Shape;

use crate::stock::{order, sheet_of};

/// The words on a panel that come from the whole design.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PanelWords {
    /// What the panel is a part of.
    pub project: String,
    /// Which sheet to order: `order 8 mm sheet (measured 7.7 mm to 8 mm)`.
    pub order: String,
    /// Where the upper face is in the finished sump, and the drawing's upper edge.
    pub facing: String,
    /// Depth of all engraving, mm.
    pub engraving_mm: Option<f64>,
    /// What the shop must know besides, a sentence each.
    pub notes: Vec<String>,
}

impl PanelWords {
    /// Those of one piece.
    pub fn of(design: &Design, cutting: &Cutting, piece: &Piece) -> Self {
        let sheet = sheet_of(design, piece);
        let mut notes = piece.notes.clone();
        if is_mirrored(piece) {
            notes.push(
                "The marks are mirrored on purpose: they read through the sheet from outside."
                    .to_owned(),
            );
        }
        let caution = sheet.and_then(|sheet| laser_caution(sheet.material));
        notes.extend(caution.map(str::to_owned));
        Self {
            project: design.title.clone(),
            order: sheet
                .map_or(String::new(), |sheet| format!("order {}", order(sheet, design.report))),
            facing: facing(design, piece),
            engraving_mm: Some(cutting.engraving.to_mm()),
            notes,
        }
    }
}

/// What a shop with a laser must know of a material, each with its own reason; `None` where a laser may cut it.
///
/// PVC: the gas is mostly hydrogen chloride (from memory); workshops' lists of materials forbid it (Kansas State University
/// Libraries, laser cutters; Protohaven, approved laser materials). Polycarbonate: the same lists call it a fire risk over
/// 1 mm and forbid it.
pub fn laser_caution(material: Material) -> Option<&'static str> {
    match material {
        Material::CastAcrylic | Material::ExtrudedAcrylic => None,
        Material::Pvc => Some(
            "PVC: never cut it by laser: it gives off hydrogen chloride, poisonous, and it eats the machine.",
        ),
        Material::Polycarbonate => Some(
            "Polycarbonate: never cut it by laser: it chars, may catch fire and gives off fumes.",
        ),
    }
}

/// Where the drawing lies in the sump: which way its upper face looks, and its upper edge.
fn facing(design: &Design, piece: &Piece) -> String {
    let is_this = |placed: &&design::Placed| design.pieces[placed.piece].number == piece.number;
    let mut ways: Vec<[DVec3; 2]> = Vec::new();
    for placed in design.placed.iter().filter(is_this) {
        let way = [placed.pose.matrix3.z_axis, placed.pose.matrix3.y_axis];
        if !ways.contains(&way) {
            ways.push(way);
        }
    }
    let [[face, up]] = ways[..] else {
        return match ways.len() {
            0 => "Its upper face looks the same way as that of the part it takes the place of.",
            _ => "It stands in more than one place and not the same way round in all: see the assembly.",
        }
        .to_owned();
    };
    let face = match piece.role {
        Role::Wall | Role::Bottom => "Upper face = inside of the sump".to_owned(),
        _ => format!("Upper face looks {}", direction(face)),
    };
    format!("{face}; the upper edge of the drawing lies {}.", direction(up))
}

/// A direction of the sump in words: x runs from the inlet end to the far end, y from front to back.
fn direction(way: DVec3) -> &'static str {
    let [x, y, z] = way.to_array();
    if z.abs() > 0.5 {
        if z > 0.0 { "up" } else { "down" }
    } else if y.abs() > 0.5 {
        if y > 0.0 { "to the back" } else { "to the front" }
    } else if x > 0.0 {
        "downstream, to the far end"
    } else {
        "upstream, to the inlet end"
    }
}

/// Whether what is engraved reads mirrored in the drawing. The first stroke of every scale is a mark,
/// drawn from the reader's left to the right.
fn is_mirrored(piece: &Piece) -> bool {
    let Shape::Sheet(plate) = &piece.shape else { return false };
    let first = plate.engravings.iter().filter_map(|engraving| engraving.strokes.first());
    let mut marks = first.filter_map(|stroke| Some((stroke.first()?, stroke.last()?)));
    marks.any(|(start, end)| end.x < start.x)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The words on the panel of this name, made from the starter file with some words replaced.
    fn words(name: &str, change: (&str, &str)) -> PanelWords {
        let text = params::starter(params::Starter { us: false });
        let file = params::read(&text.replace(change.0, change.1)).file.expect("understood");
        let design = design::resolve(&file).design.expect("resolved");
        let piece = design.pieces.iter().find(|piece| piece.name == name).expect("there");
        PanelWords::of(&design, &file.cutting, piece)
    }

    #[test]
    fn a_wall_says_which_face_is_inside_and_a_leaf_which_looks_downstream() {
        let wall = words("front wall", ("", ""));
        assert_eq!(
            wall.facing,
            "Upper face = inside of the sump; the upper edge of the drawing lies up."
        );
        let leaf = words("leaf comb", ("", ""));
        assert!(
            leaf.facing.starts_with("Upper face looks downstream, to the far end;"),
            "{}",
            leaf.facing
        );
    }

    #[test]
    fn only_marks_that_read_through_the_sheet_are_called_mirrored() {
        let notes = |demo: &str| {
            let file = params::read(demo).file.expect("understood");
            let design = design::resolve(&file).design.expect("resolved");
            let wall = design.pieces.iter().find(|piece| piece.name == "front wall");
            PanelWords::of(&design, &file.cutting, wall.expect("there")).notes.join(" ")
        };
        let from_outside = notes(include_str!("../../../params/seahorse.toml"));
        assert!(from_outside.contains("mirrored on purpose"), "{from_outside}");
        let from_inside = notes(include_str!("../../../params/brook.toml"));
        assert_eq!(from_inside, laser_caution(Material::Pvc).expect("PVC has one"));
    }

    #[test]
    fn each_material_has_its_own_reason_against_a_laser() {
        assert_eq!(laser_caution(Material::CastAcrylic), None);
        let [pvc, polycarbonate] =
            [Material::Pvc, Material::Polycarbonate].map(|m| laser_caution(m).expect("forbidden"));
        assert!(pvc.contains("hydrogen chloride"));
        assert!(polycarbonate.contains("chars") && !polycarbonate.contains("chlor"));
        let text = words("front wall", ("\"cast acrylic\"", "\"polycarbonate\""));
        assert!(text.notes.iter().any(|note| note == polycarbonate), "{:?}", text.notes);
    }
}
