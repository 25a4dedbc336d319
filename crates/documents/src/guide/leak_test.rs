//! The leak test. All of it common practice unless it says more.

use design::{PlacedId, Role};
use paper::Block;
use units::Length;

use super::openings::{Opening, openings};
use super::stages::{BELOW_EDGE_MM, Known, Stage, long_mm, stage_table, stages};
use super::{GuideOf, beware, first_filling, untested, wait};
use crate::alone;
use crate::prose::{Kind, about_kg, boxes, caution, chapter, table, words};
use crate::safety;

pub(super) fn blocks(of: &GuideOf<'_>) -> Vec<Block> {
    let [least, most] = wait::water_h(of.design);
    let mut blocks = vec![
        chapter("Leak test"),
        words(format!(
            "Not before the last joint is {least:.0} to {most:.0} hours old. Do it where water does no harm: outdoors, in a \
             garage with a drain, or in a bathtub with a flat board under the box; fresh water, no pumps, no mains nearby."
        )),
    ];
    let open = openings(of.design);
    blocks.extend(closing(of, &open));
    let stages = stages(of, &open);
    let top = stages.last().copied().unwrap_or_default();
    let long = long_mm(of, top.height_mm);
    blocks.push(lifting(of, top.litres));
    blocks.push(stage_table(of, &stages, long));
    blocks.extend(not_tested(of, &open, top));
    blocks.extend([
        caution(
            "Full to the last stage for an hour at most",
            [
                "A panel may bear so much water for hours and never for longer. Stand clear of the panels while it is full, \
                 children and animals out of the way, and have a hose ready that empties it: a siphon that is filled already, \
                 or a pump outside. If a panel bulges more and more, or a seam whitens or creaks, empty it at once.",
            ],
        ),
        boxes(doing(of, long, top.height_mm)),
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
    ]);
    blocks
}

/// What is done, from the empty box to the empty box.
fn doing(of: &GuideOf<'_>, long_mm: Option<f64>, top_mm: f64) -> Vec<String> {
    let mut all = vec![
        "Stand the empty box on a flat, level board with a soft mat (foam, 5 to 10 mm or 1/4 to 1/2 in) over all of its \
         bottom. A box on two battens breaks."
            .to_owned(),
        "Wipe all outer seams dry and lay strips of dry kitchen paper or newspaper along them: a drop shows at once."
            .to_owned(),
        filling(of),
        "Stop at every stage of the table for the time that it says, and look at every seam with a lamp.".to_owned(),
        lowering(of, long_mm, top_mm),
        "Mark the level on the outside with tape, with day and hour.".to_owned(),
        "Leave it at that level for 24 hours at least, better 48. Evaporation takes a millimetre or two (1/16 in) a day from \
         open water in a room; an open glass beside it tells how much."
            .to_owned(),
    ];
    all.extend(one_at_a_time(of));
    all.push("Empty it by a hose. Never lift it with water in.".to_owned());
    all
}

/// Names of the leaves that are glued in: those of which water on one side alone is asked too much, or the others. Loose
/// ones are not in the box while it is tested.
fn glued<'a>(of: &GuideOf<'a>, needs_both_sides: bool) -> Vec<&'a str> {
    let is_glued = |placed: &&design::Placed| {
        let role = of.design.pieces[placed.piece].role;
        role == Role::Leaf && placed.loose.is_none()
    };
    let names = of.design.placed.iter().filter(is_glued).map(|placed| placed.name.as_str());
    names
        .filter(|name| of.not_alone.iter().any(|other| other == name) == needs_both_sides)
        .collect()
}

/// How the box is filled: what is loose is out, and what is glued in gets water on both sides alike.
fn filling(of: &GuideOf<'_>) -> String {
    let loose = first_filling::loose(of.design);
    let out = if loose.is_empty() {
        String::new()
    } else {
        format!(
            "Leave out what is loose ({}): it is not tested here, and water stands alike where it will part chambers. ",
            fit::listed(&loose)
        )
    };
    let both = glued(of, true);
    let how = match (both.as_slice(), glued(of, false).as_slice()) {
        ([], []) => "Fill slowly with a hose.".to_owned(),
        ([], _) => "Fill on both sides of every glued leaf together, with a hose in each chamber or slowly over the lowest crest: \
             what a leaf holds alone is tested by itself below."
            .to_owned(),
        _ => "Fill on both sides of every glued leaf together, with a hose in each chamber or slowly over the lowest crest."
            .to_owned(),
    };
    let why = alone::together(&both).map(|why| format!(" {why}")).unwrap_or_default();
    format!("{out}{how}{why}")
}

/// Each glued leaf that bears it with water on one side alone; nothing where there is none.
fn one_at_a_time(of: &GuideOf<'_>) -> Option<String> {
    let alone = glued(of, false);
    let listed = fit::listed(&alone);
    (!alone.is_empty()).then(|| {
        format!(
            "Last, after that day, where {} must hold water back alone: lower the water on one side until the other stands at \
             the crest, and see what comes through{}. What has a gap below or an opening is left out.",
            match alone.as_slice() {
                [one] => (*one).to_owned(),
                _ => format!("one of {listed}"),
            },
            alone::never_beside(&glued(of, true))
        )
    })
}

/// What is closed before water goes in. Nothing where the walls have no hole; notches are told of by [`not_tested`].
fn closing(of: &GuideOf<'_>, open: &[Opening]) -> Vec<Block> {
    let Some(lowest) = open.iter().find(|opening| !opening.is_notch) else { return Vec::new() };
    let show = |mm: f64| Length::mm(mm).show(of.design.report);
    let rows = open.iter().filter(|opening| !opening.is_notch).map(|opening| {
        [
            opening.wall.clone(),
            opening.fitting.clone().unwrap_or_else(|| "none".to_owned()),
            show(opening.width_mm),
            show(opening.lower_mm),
        ]
    });
    let columns = [
        ("hole in", Kind::Words),
        ("its fitting", Kind::Words),
        ("diameter or width", Kind::Number),
        ("lower edge above the inside of the bottom", Kind::Number),
    ];
    vec![
        words(
            "First close every hole of this table: by a plug with a seal that is made for that diameter, or by its fitting \
             with its gasket on the wet side, tightened by hand and a quarter turn, and a cap or a closed valve on it.",
        ),
        table(columns, rows),
        words(format!(
            "What is left open ends the test below it: stop at the last stage that stays below the lower edge of the \
             lowest open hole ({} where all are open). Seams above that are not tested either.",
            show(lowest.lower_mm)
        )),
    ]
}

/// What is lifted, and what the floor bears.
fn lifting(of: &GuideOf<'_>, litres: f64) -> Block {
    let design = of.design;
    let mut all: Vec<PlacedId> = of
        .glue_up
        .steps
        .iter()
        .flat_map(|step| step.standing.iter().chain(&step.parts))
        .copied()
        .collect();
    all.sort_unstable();
    all.dedup();
    let empty = beware::Mass::of(design, all);
    let [water, together] = [litres, litres + empty.kg].map(|kg| about_kg(kg, design.report));
    safety::lifting(empty.kg, design.one_lifts_kg, &empty.words(design), &water, &together)
}

/// How far it is lowered for the long wait.
fn lowering(of: &GuideOf<'_>, long_mm: Option<f64>, top_mm: f64) -> String {
    let show = |mm: f64| Length::mm(mm).show(of.design.report);
    let to = match long_mm {
        Some(mm) => format!(
            "{}, the highest level in flow that the last stage covers: panels bear that for years, and more for hours or days only",
            show(mm.ceil().min(top_mm))
        ),
        None => "the highest level that it is to have in flow (it is not known from the file)"
            .to_owned(),
    };
    format!(
        "Look once at every seam at the last stage, in an hour at most; then lower the water to {to}."
    )
}

/// What the test leaves dry. A notch cannot be closed, and nothing is filled to the very edge.
fn not_tested(of: &GuideOf<'_>, open: &[Opening], top: Stage) -> Vec<Block> {
    let design = of.design;
    let show = |mm: f64| Length::mm(mm.round()).show(design.report);
    let mut told = Vec::new();
    if let Some(notch) = open.iter().find(|opening| opening.is_notch) {
        told.push(format!(
            "The notch in {} cannot be closed: the stages end {} below its lower edge, which lies {} above the inside of the \
             bottom.",
            notch.wall,
            show(BELOW_EDGE_MM),
            show(notch.lower_mm)
        ));
    }
    let seam = |dry: &untested::Dry| {
        let [a, b] = &dry.parts;
        match dry.upper_mm {
            Some(mm) => format!("the uppermost {} of {a} to {b}", show(mm)),
            None => format!("all of {a} to {b}"),
        }
    };
    let dry: Vec<String> = untested::above(design, top.height_mm).iter().map(seam).collect();
    if !dry.is_empty() {
        told.push(format!(
            "Seams that lie above the last stage stay dry and untested: {}.",
            dry.join("; ")
        ));
    }
    let highest = Known::of(of).highest_mm().filter(|mm| *mm > top.height_mm);
    told.extend(highest.map(|mm| {
        format!(
            "In flow or in a rehearsal water comes up to {}, higher than the last stage: this test says nothing about that.",
            show(mm)
        )
    }));
    if told.is_empty() { Vec::new() } else { vec![words(told.join(" "))] }
}
