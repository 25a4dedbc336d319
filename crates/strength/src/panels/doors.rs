//! Doors, each as water presses it on to its leaf and as it pushes it off, at every place that it can be set at: told is the
//! place at which the least is left of what may be carried.

use design::{Design, PlacedId};
use params::File;

use super::bearing::{self, Bearing, Way};
use super::board::Board;
use super::judge::Judge;
use super::mount::Mount;
use super::solve::Model;
use super::{held_model, hung, props};
use crate::panel::{DoorSet, Panel};
use crate::waters::Waters;

/// A door at one place of its range.
pub(crate) struct Placing {
    pub(crate) model: Model,
    pub(crate) bearings: Vec<Bearing>,
    pub(crate) set: DoorSet,
}

/// A door wherever it is assessed; `None` where leaf, opening, screws or knobs are not to be found.
pub(crate) fn placings(
    file: &File,
    design: &Design,
    waters: &Waters,
    door: PlacedId,
    way: Way,
) -> Option<Vec<Placing>> {
    let mount = Mount::of(file, design, door)?;
    let placing = |set: DoorSet| {
        let mut board = Board { raised_mm: set.raised_mm, ..Board::of(design, door)? };
        let mut bearings = bearing::on_door(design, waters, &board, &mount, way);
        bearings.iter_mut().for_each(|b| b.words = format!("{}, {}", b.words, set.at.words()));
        let model = match way {
            Way::On => {
                let props = props::props(design, &mut board);
                held_model(file, design, waters, board, props)?
            }
            Way::Off => hung::model(file, design, waters, board, &mount)?,
        };
        Some(Placing { model, bearings, set })
    };
    mount.sets().into_iter().map(placing).collect()
}

/// Its panel where it is strained most; `None` where no water is known to push it.
pub(crate) fn panel(
    file: &File,
    design: &Design,
    placings: &[Placing],
) -> Result<Option<Panel>, bending::Error> {
    let pushed = placings.iter().filter(|placing| !placing.bearings.is_empty());
    let of_placing = |Placing { model, bearings, set }: &Placing| {
        let edges = props::edges(&model.board, &model.props);
        let (panel, _) = Judge { file, design, model, edges, bearings }.panel()?;
        Ok(Panel { set: Some(*set), ..panel })
    };
    let panels: Vec<Panel> = pushed.map(of_placing).collect::<Result<_, _>>()?;
    Ok(panels.into_iter().min_by(|a, b| left(a).total_cmp(&left(b))))
}

/// How many times the worst of what a door bears fits into what may be borne for so long: stress, bending for years, screws.
fn left(panel: &Panel) -> f64 {
    let stress = panel.loads.iter().map(|load| load.limit_mpa / load.stress_mpa);
    let lasting = panel.loads.iter().filter(|load| load.is_lasting);
    let bend = lasting.map(|load| panel.deflection_limit_mm / load.deflection_mm);
    let screws = panel.screws.iter().flat_map(|screws| {
        screws.loads.iter().map(|load| screws.limit(load.duration) / screws.share_of(load))
    });
    stress.chain(bend).chain(screws).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests;
