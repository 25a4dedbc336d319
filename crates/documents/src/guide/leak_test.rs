//! The leak test. All of it common practice unless it says more.

use design::PlacedId;
use paper::Block;
use units::{Length, Volume};

use super::openings::{Opening, openings};
use super::{GuideOf, beware, untested, wait};
use crate::alone;
use crate::prose::{Kind, about_kg, boxes, caution, chapter, table, words};
use crate::safety;

/// Filled so far below the upper edge, or below the lowest notch, mm: so near that it still does not run over; our
/// judgement. What lies above is told as not tested.
const BELOW_EDGE_MM: f64 = 20.0;
/// Stages of the filling.
const STAGES: u32 = 4;
/// How long it stands at the level of use.
const LONG: &str = "24 h at least";

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
        boxes(
[
            "Stand the empty box on a flat, level board with a soft mat (foam, 5 to 10 mm or 1/4 to 1/2 in) over all of its bottom. A box on \
             two battens breaks.".to_owned(),
            "Wipe all outer seams dry and lay strips of dry kitchen paper or newspaper along them: a drop shows at once."
                .to_owned(),
            "Fill all chambers together, so that no leaf is loaded from one side only; with a hose in each, or slowly over \
             the lowest crest.".to_owned(),
        ]
        .into_iter()
        .chain(alone::together(&glued(of)))
        .chain([
            "Stop at every stage of the table for the time that it says, and look at every seam with a lamp.".to_owned(),
            lowering(of, long, top.height_mm),
            "Mark the level on the outside with tape, with day and hour.".to_owned(),
            "Leave it at that level for 24 hours at least, better 48. Evaporation takes a millimetre or two (1/16 in) a day from open water in a \
             room; an open glass beside it tells how much.".to_owned(),
            one_at_a_time(of),
            "Empty it by a hose. Never lift it with water in.".to_owned(),
        ])),
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

/// Glued leaves that must not hold water on one side alone: loose ones are not in the box while it is tested.
fn glued<'a>(of: &GuideOf<'a>) -> Vec<&'a str> {
    let is_glued = |name: &&str| {
        let mut placed = of.design.placed.iter();
        placed.any(|placed| placed.name == **name && placed.loose.is_none())
    };
    of.not_alone.iter().map(String::as_str).filter(is_glued).collect()
}

/// Each chamber by itself, but not beside a leaf that does not bear that.
fn one_at_a_time(of: &GuideOf<'_>) -> String {
    format!(
        "Fill one chamber at a time to its crest once, if its leaf must hold alone, and see what comes through{}.",
        alone::never_beside(&glued(of))
    )
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

/// One stage of the filling.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Stage {
    height_mm: f64,
    /// As many litres as kilograms.
    litres: f64,
}

/// Heights and amounts of each stage, with all holes closed. A notch at an edge cannot be closed: they end below it.
fn stages(of: &GuideOf<'_>, open: &[Opening]) -> Vec<Stage> {
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
    let notch = open.iter().filter(|opening| opening.is_notch).map(|opening| opening.lower_mm);
    let edge = notch.fold(edge - inside.z, f64::min);
    let depth = (edge - BELOW_EDGE_MM).max(0.0);
    let area = (design.outside.x - 2.0 * inside.x) * (design.outside.y - 2.0 * inside.y);
    let stage = |k: u32| {
        let height_mm = depth * f64::from(k) / f64::from(STAGES);
        Stage { height_mm, litres: area * height_mm * 1e-6 }
    };
    (1..=STAGES).map(stage).collect()
}

/// Every level at which water stands in the sump at its highest, in flow and in each rehearsal, at the higher end of its doubt,
/// mm above the inside of the bottom. Empty where none is known.
fn levels_mm(of: &GuideOf<'_>) -> Vec<f64> {
    let known = of.wet.map(|wet| &wet.known);
    let Some((known, in_flow)) = known.and_then(|known| Some((known, known.in_flow.as_ref()?)))
    else {
        return Vec::new();
    };
    let basins = &in_flow.report.basins;
    let running = basins.iter().map(|basin| basin.level_m.high);
    let reaches = known.outcomes.iter().flat_map(|outcome| &outcome.reaches);
    let of_sump = reaches.filter(|reach| basins.iter().any(|basin| basin.tank == reach.tank));
    let levels = running.chain(of_sump.map(|reach| reach.highest_m.high));
    levels.map(|m| 1e3 * m).filter(|mm| mm.is_finite()).collect()
}

/// The highest of them that the last stage reaches too, mm. What comes higher runs over, or nearly, and is seen to at once;
/// nobody leaves it so.
fn long_mm(of: &GuideOf<'_>, top_mm: f64) -> Option<f64> {
    levels_mm(of).into_iter().filter(|mm| *mm <= top_mm).reduce(f64::max)
}

/// How far it is lowered for the long wait.
fn lowering(of: &GuideOf<'_>, long_mm: Option<f64>, top_mm: f64) -> String {
    let show = |mm: f64| Length::mm(mm).show(of.design.report);
    let to = match long_mm {
        Some(mm) => format!(
            "{}, the highest level of flow and rehearsals that the last stage covers",
            show(mm.ceil().min(top_mm))
        ),
        None => "the highest level that it is to have in use, a power cut included (it is not known from the file)".to_owned(),
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
    let highest = levels_mm(of).into_iter().reduce(f64::max).filter(|mm| *mm > top.height_mm);
    told.extend(highest.map(|mm| {
        format!(
            "In flow or in a rehearsal water comes up to {}, higher than the last stage: this test says nothing about that.",
            show(mm)
        )
    }));
    if told.is_empty() { Vec::new() } else { vec![words(told.join(" "))] }
}

/// The heights and times of the stages; the last line is the long wait.
fn stage_table(of: &GuideOf<'_>, stages: &[Stage], long_mm: Option<f64>) -> Block {
    let design = of.design;
    let row = |name: String, stage: Stage, look: &str| {
        [
            name,
            Length::mm(stage.height_mm.round()).show(design.report),
            Volume::l(stage.litres.round()).show(design.report),
            about_kg(stage.litres, design.report),
            look.to_owned(),
        ]
    };
    let mut rows: Vec<[String; 5]> = (1..)
        .zip(stages)
        .map(|(k, stage)| {
            let look = match k {
                1 => "30 min",
                STAGES => "1 h at most",
                _ => "1 h",
            };
            row(k.to_string(), *stage, look)
        })
        .collect();
    let top = stages.last().filter(|top| top.height_mm > 0.0);
    if let (Some(mm), Some(top)) = (long_mm, top) {
        let height_mm = mm.ceil().min(top.height_mm);
        let litres = top.litres * height_mm / top.height_mm;
        rows.push(row("then lower to".to_owned(), Stage { height_mm, litres }, LONG));
    } else {
        let unknown = ["then lower to", "highest in use", "", "", LONG];
        rows.push(unknown.map(str::to_owned));
    }
    let columns = [
        ("stage", Kind::Name),
        ("height of water inside", Kind::Number),
        ("water, at most", Kind::Number),
        ("its mass", Kind::Number),
        ("look for", Kind::Name),
    ];
    table(columns, rows)
}
