//! What would make a panel hold: another thickness, a wider rim, one more brace, longer guides.

pub(crate) mod sizes;

use design::Role;

use super::bearing::Bearing;
use super::judge::{Bend, Judge, Stressed};
use super::props::Prop;
use super::solve::{Model, Rim};
use crate::panel::{Held, Remedies, Run, TRIED_RIM_MM};
use sizes::Size;

/// How much wider a rim is tried; the words of `Remedies` say it.
const WIDER: f64 = 1.5;
/// A guide that leaves less than this share of a leaf's height free is not made longer.
const NEARLY_ALL: f64 = 0.95;

/// What a trial gave.
#[derive(Clone, Copy, Debug)]
struct Trial {
    /// Stress of what may be carried for years.
    share: f64,
    deflection_mm: f64,
    bulge_mm: f64,
}

/// Trials are made with the loads and the runs that decide alone.
struct Trials<'a> {
    judge: &'a Judge<'a>,
    bearings: Vec<Bearing>,
    runs: Vec<Run>,
    /// As it is.
    now: Trial,
    /// What is tried of other sheets, ascending.
    sizes: Vec<Size>,
}

pub(crate) fn remedies(judge: &Judge<'_>, stressed: &Stressed, bent: &Bend<'_>) -> Remedies {
    let mut bearings = vec![judge.bearings[stressed.bearing].clone()];
    if bent.bearing != stressed.bearing {
        bearings.push(judge.bearings[bent.bearing].clone());
    }
    let mut runs = vec![stressed.run];
    if bent.solved.run != stressed.run {
        runs.push(bent.solved.run);
    }
    let now =
        Trial { share: stressed.share(), deflection_mm: bent.depth_mm(), bulge_mm: bent.edge_mm() };
    let sizes = sizes::tried(judge.file, judge.design, judge.sheet().material);
    let tried_to_mm = sizes.last().map_or(0.0, |size| size.nominal_mm);
    let trials = Trials { judge, bearings, runs, now, sizes };
    let wider = judge.model.rim.as_ref().and_then(|rim| {
        let mut model = judge.model.clone();
        model.rim = Some(Rim { width: WIDER * rim.width, ..rim.clone() });
        trials.made(&model)
    });
    let braced = with_one_more_brace(judge.model).and_then(|model| trials.made(&model));
    let rimmed = with_a_rim(judge).and_then(|model| trials.made(&model));
    let told = |trial: Trial| [1.0 / trial.share, trial.bulge_mm];
    let guided = with_longer_guides(judge.model).and_then(|model| trials.made(&model));
    let is_enough = |trial: Trial| trials.is_enough(&trial, judge.model.board.least_mm);
    let thinnest = trials.thinnest();
    Remedies {
        thinnest_mm: thinnest.map(|size| size.nominal_mm),
        thinnest_least_mm: thinnest.map(|size| size.least_mm),
        tried_to_mm,
        with_its_rim: trials.is_of_rims_sheet(),
        without_screws: judge.model.screwed.is_some(),
        longer_guides: guided.map(is_enough),
        with_rim: rimmed.map(told),
        wider_rim: wider.map(told),
        one_more_brace: braced.map(told),
    }
}

impl Trials<'_> {
    /// A guess as if nothing but the sheet were stiff, then up or down from there: a thicker sheet never bears less.
    fn thinnest(&self) -> Option<Size> {
        let scaled = |size: &Size| self.is_enough(&self.scaled(size.least_mm), size.least_mm);
        let guess = self.sizes.partition_point(|size| !scaled(size));
        if self.judge.model.rim.is_none() {
            return self.sizes.get(guess).copied();
        }
        let holds = |index: usize| {
            let least_mm = self.sizes[index].least_mm;
            self.with_sheet(least_mm).is_some_and(|trial| self.is_enough(&trial, least_mm))
        };
        let mut index = guess.min(self.sizes.len().checked_sub(1)?);
        if holds(index) {
            while index > 0 && holds(index - 1) {
                index -= 1;
            }
            return Some(self.sizes[index]);
        }
        (index + 1..self.sizes.len()).find(|&k| holds(k)).map(|k| self.sizes[k])
    }

    fn is_enough(&self, trial: &Trial, least_mm: f64) -> bool {
        let most = self.judge.deflection_limit_mm().min(2.0 * least_mm);
        trial.share <= 1.0 && trial.deflection_mm <= most
    }

    /// Moments stay, so stress goes with the square of the thickness and deflection with its third power.
    fn scaled(&self, least_mm: f64) -> Trial {
        let ratio = self.judge.model.board.least_mm / least_mm;
        let Trial { share, deflection_mm, bulge_mm } = self.now;
        let cube = ratio * ratio * ratio;
        Trial {
            share: share * ratio * ratio,
            deflection_mm: deflection_mm * cube,
            bulge_mm: bulge_mm * cube,
        }
    }

    /// Whether the rim is of the panel's own sheet, so that another sheet for the box is another one for the rim.
    fn is_of_rims_sheet(&self) -> bool {
        let own = &self.judge.sheet().name;
        self.judge.model.rim.as_ref().is_some_and(|rim| rim.sheet == *own)
    }

    fn with_sheet(&self, least_mm: f64) -> Option<Trial> {
        let mut model = self.judge.model.clone();
        model.board.least_mm = least_mm;
        if let Some(rim) = model.rim.as_mut().filter(|_| self.is_of_rims_sheet()) {
            rim.thickness = least_mm * 1e-3;
        }
        self.made(&model)
    }

    fn made(&self, model: &Model) -> Option<Trial> {
        let judge = Judge { model, bearings: &self.bearings, ..*self.judge };
        let sets = judge.solve(&self.runs, model.board.least_mm * 1e-3, &self.bearings).ok()?;
        let n = self.bearings.len();
        let all = || sets.iter().flat_map(|set| &set.solved);
        let stresses = (0..n).filter_map(|b| judge.worst_stress(all(), b)).map(|s| s.share());
        let rim = judge.rim(&sets).map(|rim| rim.stress_mpa / rim.allowable_mpa);
        let bends: Vec<Bend<'_>> = (0..n).map(|b| judge.bend(&sets, b)).collect();
        Some(Trial {
            share: stresses.chain(rim).fold(0.0, f64::max),
            deflection_mm: bends.iter().map(Bend::depth_mm).fold(0.0, f64::max),
            bulge_mm: bends.iter().map(Bend::edge_mm).fold(0.0, f64::max),
        })
    }
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

/// Guides over the full height of a leaf whose own are shorter.
fn with_longer_guides(model: &Model) -> Option<Model> {
    let (lo, hi) = (model.board.lo.y, model.board.hi.y);
    let is_short = |prop: &Prop| {
        let held = prop.span[1] - prop.span[0];
        prop.held == Held::Guided && !prop.along_x && held < NEARLY_ALL * (hi - lo)
    };
    if !model.props.iter().any(is_short) {
        return None;
    }
    let mut model = model.clone();
    // Of guides in pieces the first goes over all.
    let mut full: Vec<f64> = Vec::new();
    model.props.retain_mut(|prop| {
        if prop.held != Held::Guided || prop.along_x {
            return true;
        }
        let is_new = full.iter().all(|at| (at - prop.at).abs() > 0.5);
        full.push(prop.at);
        prop.span = [lo, hi];
        is_new
    });
    Some(model)
}

/// A rim of the wall's own sheet on a wall whose upper edge is free.
fn with_a_rim(judge: &Judge<'_>) -> Option<Model> {
    let is_wall = judge.role() == Role::Wall && judge.edges[3] == Held::Free;
    if !is_wall || judge.model.rim.is_some() {
        return None;
    }
    let mut model = judge.model.clone();
    let (lo, hi) = (model.board.lo, model.board.hi);
    model.rim = Some(Rim {
        width: TRIED_RIM_MM * 1e-3,
        thickness: model.board.least_mm * 1e-3,
        braces: Vec::new(),
        brace_length: judge.design.outside.y * 1e-3,
        holds_braces: false,
        sheet: judge.sheet().name.clone(),
    });
    model.props.push(Prop {
        by: judge.placed(),
        joint: None,
        held: Held::Rim,
        along_x: true,
        at: hi.y,
        span: [lo.x, hi.x],
        edge: Some(3),
        face: None,
    });
    Some(model)
}

#[cfg(test)]
mod tests;
