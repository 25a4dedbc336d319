//! Heights of the water in the leak test: the stages of the filling, and the level of the long wait.

use paper::Block;
use units::{Length, Volume};

use super::GuideOf;
use super::openings::Opening;
use crate::prose::{Kind, about_kg, table};

/// Filled so far below the upper edge, or below the lowest notch, mm: so near that it still does not run over; our
/// judgement. What lies above is told as not tested.
pub(super) const BELOW_EDGE_MM: f64 = 20.0;
/// Stages of the filling.
const STAGES: u32 = 4;
/// How long it stands at the level in flow.
const LONG: &str = "24 h at least";

/// One stage of the filling.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Stage {
    pub(super) height_mm: f64,
    /// As many litres as kilograms.
    pub(super) litres: f64,
}

/// Heights and amounts of each stage, with all holes closed. A notch at an edge cannot be closed: they end below it.
pub(super) fn stages(of: &GuideOf<'_>, open: &[Opening]) -> Vec<Stage> {
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
pub(super) struct Known {
    /// In flow, of every basin. Empty where none is known.
    in_flow_mm: Vec<f64>,
    /// In every rehearsal.
    in_rehearsals_mm: Vec<f64>,
}

impl Known {
    pub(super) fn of(of: &GuideOf<'_>) -> Self {
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

    /// The highest of all.
    pub(super) fn highest_mm(&self) -> Option<f64> {
        self.in_flow_mm.iter().chain(&self.in_rehearsals_mm).copied().reduce(f64::max)
    }
}

/// The highest level in flow that the last stage reaches too, mm: what comes higher, in a rehearsal, a panel may bear for days or
/// hours only, and a test of days is not to use that up.
pub(super) fn long_mm(of: &GuideOf<'_>, top_mm: f64) -> Option<f64> {
    Known::of(of).in_flow_mm.into_iter().filter(|mm| *mm <= top_mm).reduce(f64::max)
}

/// The heights and times of the stages; the last line is the long wait.
pub(super) fn stage_table(of: &GuideOf<'_>, stages: &[Stage], long_mm: Option<f64>) -> Block {
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
