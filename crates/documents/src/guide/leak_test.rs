//! The leak test and the first filling. All of it common practice unless it says more.

use paper::Block;
use units::{Length, Volume};

use super::{GuideOf, wait};
use crate::prose::{Kind, about_kg, boxes, caution, chapter, table, words};

/// Filled so far below the upper edge, mm: more than it ever carries in use; our judgement.
const BELOW_EDGE_MM: f64 = 20.0;
/// Stages of the filling.
const STAGES: u32 = 4;

pub(super) fn blocks(of: &GuideOf<'_>) -> Vec<Block> {
    let [least, most] = wait::water_h(of.design);
    let mut blocks = vec![
        chapter("Leak test"),
        words(format!(
            "Not before the last joint is {least:.0} to {most:.0} hours old. Do it where water does no harm: outdoors, in a \
             garage with a drain, or in a bathtub with a flat board under the box; fresh water, no pumps, no mains nearby."
        )),
        stages(of),
        boxes([
            "Stand the empty box on a flat, level board with a soft mat (foam, 5 to 10 mm or 1/4 to 1/2 in) over all of its bottom. A box on \
             two battens breaks.".to_owned(),
            "Wipe all outer seams dry and lay strips of dry kitchen paper or newspaper along them: a drop shows at once."
                .to_owned(),
            "Fill all chambers together, so that no leaf is loaded from one side only; with a hose in each, or slowly over \
             the lowest crest.".to_owned(),
            "Stop at every stage of the table for the time that it says, and look at every seam with a lamp.".to_owned(),
            "Mark the level on the outside with tape, with day and hour.".to_owned(),
            "Leave it full for 24 hours at least, better 48. Evaporation takes a millimetre or two (1/16 in) a day from open water in a \
             room; an open glass beside it tells how much.".to_owned(),
            "Fill one chamber at a time to its crest once, if its leaf must hold alone, and see what comes through.".to_owned(),
            "Empty it by a hose. Never lift it with water in.".to_owned(),
        ]),
        caution(
            "If it leaks",
            [
                "Mark the place, empty the box, let it dry for a day. Feed thin solvent into the dry seam from outside by \
                 capillary; if a gap is seen, a thickened cement along the inner corner. Wait as after the last joint, and test \
                 again from the beginning.",
                "A crack that runs, a joint that has gone white over its length, or one that opens under load is not mended \
                 with more solvent: that part is made anew.",
            ],
        ),
    ];
    blocks.extend(first_filling());
    blocks
}

/// Heights and amounts of each stage.
fn stages(of: &GuideOf<'_>) -> Block {
    let design = of.design;
    let inside = fit::inside_corner(design);
    let wall = design.placed.iter().find(|placed| placed.name == "front wall");
    let edge = wall.map_or(design.outside.z, |placed| {
        let top = match &design.pieces[placed.piece].shape {
            plate::Shape::Sheet(sheet) => sheet.outline.bounds().map_or(0.0, |[_, hi]| hi.y),
            plate::Shape::Turned(_) => 0.0,
        };
        placed.pose.translation.z + top
    });
    let depth = (edge - inside.z - BELOW_EDGE_MM).max(0.0);
    let area = (design.outside.x - 2.0 * inside.x) * (design.outside.y - 2.0 * inside.y);
    let rows = (1..=STAGES).map(|k| {
        let height = depth * f64::from(k) / f64::from(STAGES);
        let litres = area * height * 1e-6;
        let look = match k {
            1 => "30 min",
            STAGES => "24 h at least",
            _ => "1 h",
        };
        [
            k.to_string(),
            Length::mm(height.round()).show(design.report),
            Volume::l(litres.round()).show(design.report),
            about_kg(litres, design.report),
            look.to_owned(),
        ]
    });
    let columns = [
        ("stage", Kind::Number),
        ("height of water inside", Kind::Number),
        ("water, at most", Kind::Number),
        ("its mass", Kind::Number),
        ("look for", Kind::Name),
    ];
    table(columns, rows)
}

fn first_filling() -> Vec<Block> {
    vec![
        chapter("First filling"),
        words(
            "After the leak test the film of a background goes on, then fittings with their gaskets, then guides, leaves, \
             doors and what stands in the chambers. The commissioning sheet has the levels and marks for all that follows.",
        ),
        boxes([
            "Rinse everything with fresh water; no soap inside.",
            "Stand the sump in its place on its mat, level in both directions.",
            "Put in leaves, doors, shelf and socks. Every lift-out leaf must come out again by hand.",
            "Fill with fresh water to the level that is kept in the return chamber, start the pump with a hand on its plug, and \
             watch the display's drains take over.",
            "Look at every fitting and seam for half an hour, then pull the plug: the water that comes down must find room.",
            "Let it run a day with fresh water before salt or animals go in.",
        ]),
    ]
}
