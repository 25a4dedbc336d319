//! The leak test. All of it common practice unless it says more.

use design::{PlacedId, Role};
use paper::Block;
use units::{Length, Volume};

use super::openings::{Opening, openings};
use super::{GuideOf, beware, first_filling, untested, wait};
use crate::alone;
use crate::prose::{Kind, about_kg, boxes, caution, chapter, table, words};
use crate::safety;

/// Filled so far below the upper edge, or below the lowest notch, mm: so near that it still does not run over; our
/// judgement. What lies above is told as not tested.
const BELOW_EDGE_MM: f64 = 20.0;
/// Stages of the filling.
const STAGES: u32 = 4;
/// How long it stands at the level in flow.
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
            filling(of),
        ]
        .into_iter()
        .chain([
            "Stop at every stage of the table for the time that it says, and look at every seam with a lamp.".to_owned(),
            lowering(of, long, top.height_mm),
            "Mark the level on the outside with tape, with day and hour.".to_owned(),
            "Leave it at that level for 24 hours at least, better 48. Evaporation takes a millimetre or two (1/16 in) a day from open water in a \
             room; an open glass beside it tells how much.".to_owned(),
        ])
        .chain(one_at_a_time(of))
        .chain([
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

/// Levels at which water stands in the sump at its highest, at the higher end of their doubt, mm above the inside of the bottom.
#[derive(Default)]
struct Known {
    /// In flow, of every basin. Empty where none is known.
    in_flow_mm: Vec<f64>,
    /// In every rehearsal.
    in_rehearsals_mm: Vec<f64>,
}

impl Known {
    fn of(of: &GuideOf<'_>) -> Self {
        let known = of.wet.map(|wet| &wet.known);
        let Some((known, in_flow)) = known.and_then(|known| Some((known, known.in_flow.as_ref()?)))
        else {
            return Self::default();
        };
        let basins = &in_flow.report.basins;
        let reaches = known.outcomes.iter().flat_map(|outcome| &outcome.reaches);
        let of_sump = reaches.filter(|reach| basins.iter().any(|basin| basin.tank == reach.tank));
        let mm = |m: f64| Some(1e3 * m).filter(|mm| mm.is_finite());
        Self {
            in_flow_mm: basins.iter().filter_map(|basin| mm(basin.level_m.high)).collect(),
            in_rehearsals_mm: of_sump.filter_map(|reach| mm(reach.highest_m.high)).collect(),
        }
    }

    fn highest_mm(&self) -> Option<f64> {
        self.in_flow_mm.iter().chain(&self.in_rehearsals_mm).copied().reduce(f64::max)
    }
}

/// The highest level in flow that the last stage reaches too, mm: what comes higher, in a rehearsal, a panel may bear for days or
/// hours only, and a test of days is not to use that up.
fn long_mm(of: &GuideOf<'_>, top_mm: f64) -> Option<f64> {
    Known::of(of).in_flow_mm.into_iter().filter(|mm| *mm <= top_mm).reduce(f64::max)
}

/// How far it is lowered for the long wait.
fn lowering(of: &GuideOf<'_>, long_mm: Option<f64>, top_mm: f64) -> String {
    let show = |mm: f64| Length::mm(mm).show(of.design.report);
    let to = match long_mm {
        Some(mm) => format!(
            "{}, the highest level in flow that the last stage covers: panels bear that for years, and more for hours or days only",
            show(mm.ceil().min(top_mm))
        ),
        None => "the highest level that it is to have in flow (it is not known from the file)".to_owned(),
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
        let unknown = ["then lower to", "highest in flow", "", "", LONG];
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
