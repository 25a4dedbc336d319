//! What would make a panel hold: another thickness, a wider rim, one more brace.

use design::Sheet;

use super::bearing::Bearing;
use super::judge::{Bend, Judge, Stressed};
use super::solve::Model;
use crate::panel::Remedies;

/// Thicknesses that sheet is sold in, mm (common practice).
const SOLD_MM: [f64; 12] = [2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0];

/// What a trial gave.
#[derive(Clone, Copy, Debug)]
struct Trial {
    factor: f64,
    deflection_mm: f64,
    bulge_mm: f64,
}

/// `stressed` and `bent_by` name the loads that decide: trials are made with these alone.
pub(crate) fn remedies(judge: &Judge<'_>, stressed: &Stressed, bent_by: usize) -> Remedies {
    let mut deciding = vec![judge.bearings[stressed.bearing].clone()];
    if bent_by != stressed.bearing {
        deciding.push(judge.bearings[bent_by].clone());
    }
    let least = judge.model.board.least_mm;
    let try_with = |model: &Model, least_mm: f64| {
        let mut model = model.clone();
        model.board.least_mm = least_mm;
        trial(&Judge { model: &model, ..*judge }, &deciding)
    };
    let wider = judge.model.rim.as_ref().map(|rim| {
        let mut model = judge.model.clone();
        model.rim = Some(super::solve::Rim { width: 1.5 * rim.width, ..rim.clone() });
        model
    });
    let braced = with_one_more_brace(judge.model);
    let told = |model: Option<Model>| {
        let trial = try_with(&model?, least)?;
        Some([trial.factor, trial.bulge_mm])
    };
    Remedies { thinnest_mm: thinnest(judge, &try_with), wider_rim: told(wider), one_more_brace: told(braced) }
}

/// Searched by halves: a thicker sheet never bears less.
fn thinnest(judge: &Judge<'_>, try_with: &impl Fn(&Model, f64) -> Option<Trial>) -> Option<f64> {
    let sheet = judge.sheet();
    let limit = judge.deflection_limit_mm();
    let holds = |nominal: f64| {
        let least = nominal - Sheet::deviation_of(sheet.material, nominal);
        try_with(judge.model, least)
            .is_some_and(|t| t.factor >= 1.0 && t.deflection_mm <= limit.min(2.0 * least))
    };
    let index = SOLD_MM.partition_point(|&nominal| !holds(nominal));
    SOLD_MM.get(index).copied()
}

fn trial(judge: &Judge<'_>, bearings: &[Bearing]) -> Option<Trial> {
    let judge = Judge { bearings, ..*judge };
    let sets = judge.runs(judge.model.board.least_mm * 1e-3, bearings).ok()?;
    let all = || sets.iter().flat_map(|set| &set.solved);
    let stresses = (0..bearings.len()).filter_map(|b| judge.worst_stress(all(), b));
    let share = stresses.map(|s| s.share()).fold(0.0, f64::max);
    let rim = judge.rim(&sets).map_or(0.0, |rim| rim.stress_mpa / rim.allowable_mpa);
    let bends: Vec<Bend<'_>> = (0..bearings.len()).map(|b| judge.bend(&sets, b)).collect();
    Some(Trial {
        factor: 1.0 / share.max(rim),
        deflection_mm: bends.iter().map(Bend::depth_mm).fold(0.0, f64::max),
        bulge_mm: bends.iter().map(Bend::edge_mm).fold(0.0, f64::max),
    })
}

/// A brace in the middle of the longest stretch of the rim without one, as wide as the others, or 60 mm.
fn with_one_more_brace(model: &Model) -> Option<Model> {
    const WIDTH: f64 = 0.06;
    let rim = model.rim.as_ref().filter(|rim| rim.holds_braces)?;
    let (lo, hi) = (model.board.lo.x, model.board.hi.x);
    let mut ends: Vec<f64> = rim.braces.iter().map(|brace| brace.0).chain([lo, hi]).collect();
    ends.sort_by(f64::total_cmp);
    let longest = ends.windows(2).max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])))?;
    let width = rim.braces.first().map_or(WIDTH, |brace| brace.1);
    let mut model = model.clone();
    model.rim.as_mut()?.braces.push((0.5 * (longest[0] + longest[1]), width));
    Some(model)
}
