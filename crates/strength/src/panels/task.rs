//! What is computed of panels, for whoever measures how long it takes: the plates themselves, without what is told of them and
//! without trials of other sheets and rims.

use bending::{Plate, Pressure};
use design::{Design, Role};
use params::File;

use super::bearing::{self, Bearing, Way};
use super::doors;
use super::judge::Judge;
use super::props;
use super::solve::Model;
use crate::waters::Waters;

/// A plate to be bent by several loads.
#[derive(Clone, Debug)]
pub struct Task {
    /// A panel, held in one of the ways that its seams can hold it.
    pub plate: Plate,
    /// Pressures of each load.
    pub loads: Vec<Vec<Pressure>>,
}

/// Every panel that water bends, once for each way that its seams can hold it, with all its loads; doors both as they are
/// pressed on and as they hang on their screws, wherever they can be set.
pub fn tasks(file: &File, design: &Design, waters: &Waters) -> Vec<Task> {
    let of_model = |model: &Model, bearings: &[Bearing]| -> Vec<Task> {
        if bearings.is_empty() {
            return Vec::new();
        }
        let edges = props::edges(&model.board, &model.props);
        let judge = Judge { file, design, model, edges, bearings };
        let thickness = model.board.least_mm * 1e-3;
        let of_set = |moduli| {
            model.runs().into_iter().map(move |run| Task {
                plate: model.plate(run, moduli, thickness),
                loads: bearings.iter().map(|b| model.pressures(b)).collect(),
            })
        };
        judge.sets().into_iter().flat_map(of_set).collect()
    };
    let of_part = |placed: usize| -> Vec<Task> {
        let mut tasks = Vec::new();
        if design.pieces[design.placed[placed].piece].role == Role::Door {
            for way in [Way::On, Way::Off] {
                let placings = doors::placings(file, design, waters, placed, way);
                let all = placings.into_iter().flatten();
                tasks.extend(all.flat_map(|door| of_model(&door.model, &door.bearings)));
            }
        } else if let Some(model) = super::model(file, design, waters, placed) {
            let edges = props::edges(&model.board, &model.props);
            let bearings = bearing::bearings(design, waters, &model.board, &edges);
            tasks.extend(of_model(&model, &bearings));
        }
        tasks
    };
    (0..design.placed.len()).flat_map(of_part).collect()
}
