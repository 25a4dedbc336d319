//! The first filling: what goes into the box after the leak test, and the first run. Common practice.

use design::{Design, Role};
use paper::Block;

use super::GuideOf;
use super::openings::{Opening, openings};
use crate::alone;
use crate::fresh::is_fresh;
use crate::prose::{boxes, chapter, words};
use crate::safety;

pub(super) fn blocks(of: &GuideOf<'_>) -> Vec<Block> {
    let open = openings(of.design);
    let design = of.design;
    let loose = loose(design);
    vec![
        chapter("First filling"),
        words(format!(
            "{}The commissioning sheet has the levels and marks for all that follows.",
            after_the_test(of, &open)
        )),
        safety::mains(),
        boxes(first_run(of, &loose)),
    ]
}

/// What comes onto the box and into its holes now that it is tested; nothing where there is nothing. What is loose is told
/// where it is put in.
fn after_the_test(of: &GuideOf<'_>, open: &[Opening]) -> String {
    let has_holes = open.iter().any(|opening| !opening.is_notch);
    let has_film = of.file.background.is_some();
    match (has_holes, has_film) {
        (true, true) => {
            "After the leak test every plug comes out and the film of the background goes on, then fittings with their \
             gaskets, those of the test included where the film goes under them. No hole stays open: each has its fitting, \
             connected or capped, before water goes in. "
        }
        (true, false) => {
            "After the leak test every plug comes out and fittings go in with their gaskets. No hole stays open: each has \
             its fitting, connected or capped, before water goes in. "
        }
        (false, true) => "After the leak test the film of the background goes on. ",
        (false, false) => "",
    }
    .to_owned()
}

/// What is put in loose, of what the design has: `lift-out leaves, doors and socks`.
pub(super) fn loose(design: &Design) -> Vec<&'static str> {
    let has = |role: Role| design.pieces.iter().any(|piece| piece.role == role);
    let is_loose = |role: Role| {
        let mut placed = design.placed.iter();
        placed.any(|p| p.loose.is_some() && design.pieces[p.piece].role == role)
    };
    let (lifts_out, fittings_are_loose) = (is_loose(Role::Leaf), is_loose(Role::Fitting));
    [
        (lifts_out, "lift-out leaves"),
        (has(Role::Door), "doors"),
        (has(Role::SockHolder), "sock holders"),
        (has(Role::Sock), "socks"),
        (fittings_are_loose, "printed fittings"),
        (has(Role::Equipment), "equipment"),
    ]
    .into_iter()
    .filter_map(|(is_there, what)| is_there.then_some(what))
    .collect()
}

fn first_run(of: &GuideOf<'_>, loose: &[&str]) -> Vec<String> {
    let design = of.design;
    let works = &design.waterworks;
    let mut all = vec![
        "Rinse everything with fresh water; no soap inside.".to_owned(),
        "Stand the sump in its place on its mat, level in both directions.".to_owned(),
    ];
    if !loose.is_empty() {
        let lifts = if loose.contains(&"lift-out leaves") {
            " Every lift-out leaf must come out again by hand."
        } else {
            ""
        };
        all.push(format!("Put in {}.{lifts}", fit::listed(loose)));
    }
    all.extend(alone::together(of.not_alone));
    all.push(
        "Fill with fresh water to the level that is kept in the return chamber, the pump still unplugged, and look at every \
         fitting that water stands above."
            .to_owned(),
    );
    all.push(if works.drains.is_empty() {
        "Start the pump with a dry hand on its plug.".to_owned()
    } else {
        "Start the pump with a dry hand on its plug, and watch the display's drains take over."
            .to_owned()
    });
    all.push(
        "Look at every fitting and seam for half an hour, then pull the plug: the water that comes down must find room."
            .to_owned(),
    );
    all.push(if is_fresh(works) {
        "Let it run a day before animals go in.".to_owned()
    } else {
        "Let it run a day with fresh water before salt or animals go in.".to_owned()
    });
    all
}
