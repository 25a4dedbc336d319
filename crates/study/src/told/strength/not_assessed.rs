//! What no strength is told of, in one place, with what the keeper does about it.

use design::{Design, Role};
use strength::{Corner, CornerOf, Doubt, DoubtOf, Panel, Strength};

use crate::told::table::Table;

/// So many places are told by name.
const MOST: usize = 4;

/// What of every panel is left out, and every part.
pub(super) fn table(strength: &Strength, design: &Design) -> Table {
    let mut table =
        Table::new("Not assessed, and what you do about it", ["what", "where", "so you"]);
    let all = [
        row(
            "corners of openings, where the rule does not reach",
            counted(&strength.panels, is_opening),
            "round them by the thickness of the sheet or more, smooth them, and keep openings and holes their own width away \
             from edges, seams and one another; look there first for cracks",
        ),
        row(
            "fields of small holes and slots: reckoned as whole sheet, or told softer than it",
            fields(&strength.panels),
            "take the next thicker sheet for them, or fewer and wider openings with more sheet between; never load them from \
             one side alone",
        ),
        row(
            "roots of slots and notches, inner corners, and what presses on teeth of combs",
            counted(&strength.panels, is_at_edge),
            "end slots in a half circle, polish their roots, and never pull a comb out by its teeth",
        ),
        row(
            "narrow bars beside openings and short stretches, which bend otherwise than plates",
            named(strength.panels.iter().filter(|p| p.doubts.iter().any(|d| !is_field(d)))),
            "keep bars four thicknesses wide (our judgement); else press on them by hand before water does",
        ),
        row(
            "ends of seams, and the forces at the corners of panels",
            if strength.seams.is_empty() { Vec::new() } else { vec!["all seams".to_owned()] },
            "see that solvent runs to the very ends, that no bubble stands in the last few centimetres, and that no drill \
             comes nearer to an edge or seam than twice the thickness",
        ),
        row(
            "inner corners of the rim",
            design.pieces.iter().filter(|p| p.role == Role::Rim).map(|p| p.name.clone()).collect(),
            "round them by the thickness of the sheet or more; cut the rim from one piece",
        ),
        row(
            "glued joints of guides, ledges and other small parts",
            strength.joints_left_out(design).into_iter().map(str::to_owned).collect(),
            "bond them over their whole face: loose leaves and shelves hang on them",
        ),
    ];
    table.rows.extend(all.into_iter().flatten());
    table.rows.extend(strength.not_assessed.iter().map(|not| {
        vec!["the whole part".to_owned(), not.name.clone(), format!("know that {}", not.why)]
    }));
    if !table.rows.is_empty() {
        table.notes = vec![
            "Advice is common practice. The reason at each corner stands in the table of corners."
                .to_owned(),
        ];
    }
    table
}

/// A row, unless it is nowhere.
fn row(what: &str, places: Vec<String>, so_you: &str) -> Option<Vec<String>> {
    if places.is_empty() {
        return None;
    }
    let more = places.len().saturating_sub(MOST);
    let mut told = places[..places.len().min(MOST)].join(", ");
    if more > 0 {
        told += &format!(" and {more} more");
    }
    Some(vec![what.to_owned(), told, so_you.to_owned()])
}

fn is_left_out(corner: &Corner) -> bool {
    corner.stress_mpa.is_none()
}

/// What is open at an edge has no radius of its own.
fn is_at_edge(corner: &Corner) -> bool {
    is_left_out(corner) && corner.of == CornerOf::Edge
}

fn is_opening(corner: &Corner) -> bool {
    is_left_out(corner) && !is_at_edge(corner) && !is_field_of(corner)
}

fn is_field_of(corner: &Corner) -> bool {
    corner.of == CornerOf::Field
}

/// A doubt about a field of holes.
fn is_field(doubt: &Doubt) -> bool {
    doubt.of == DoubtOf::Field
}

/// `leaf gate (3)`: panels with so many such corners.
fn counted(panels: &[Panel], is_one: fn(&Corner) -> bool) -> Vec<String> {
    let told = |panel: &Panel| match panel.corners.iter().filter(|corner| is_one(corner)).count() {
        0 => None,
        1 => Some(panel.name.clone()),
        n => Some(format!("{} ({n})", panel.name)),
    };
    panels.iter().filter_map(told).collect()
}

fn fields(panels: &[Panel]) -> Vec<String> {
    let has = |panel: &&Panel| {
        panel.doubts.iter().any(is_field)
            || panel.corners.iter().any(|c| is_left_out(c) && is_field_of(c))
    };
    named(panels.iter().filter(has))
}

fn named<'a>(panels: impl Iterator<Item = &'a Panel>) -> Vec<String> {
    panels.map(|panel| panel.name.clone()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Reading, Source};

    /// The rows of a demo file: what and where.
    fn rows(name: &str) -> Vec<[String; 2]> {
        let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).unwrap();
        let reading = Reading::of(Source { name: format!("{name}.toml"), text });
        let wet = reading.wet().unwrap();
        let strong = reading.strong(Some(&wet)).unwrap();
        let told = table(&strong.strength, &wet.design);
        told.rows.into_iter().map(|row| [row[0].clone(), row[1].clone()]).collect()
    }

    #[test]
    fn each_kind_is_told_once_with_where_it_is() {
        let rows = rows("seahorse");
        let at = |start: &str| -> Vec<&str> {
            let found = rows.iter().filter(|[what, _]| what.starts_with(start));
            found.map(|[_, place]| place.as_str()).collect()
        };
        assert_eq!(at("roots of slots"), ["leaf comb"], "{rows:#?}");
        let [openings] = at("corners of openings")[..] else { panic!("{rows:#?}") };
        assert!(openings.contains("leaf gate") && !openings.contains("comb"), "{openings}");
        assert_eq!(at("inner corners of the rim"), ["rim"]);
        assert!(at("glued joints of guides")[0].contains(" and "), "only some are named");
        assert!(at("the whole part").contains(&"leaf letterbox"));
        assert!(at("fields of small holes").is_empty());
    }

    #[test]
    fn a_field_of_slots_is_no_corner_of_an_opening() {
        let rows = rows("mangrove");
        let named = |start: &str| {
            let mut found = rows.iter().filter(|[what, _]| what.starts_with(start));
            found.any(|[_, place]| place.contains("leaf inflow"))
        };
        assert!(named("fields of small holes") && !named("corners of openings"), "{rows:#?}");
    }
}
