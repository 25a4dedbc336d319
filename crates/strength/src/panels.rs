//! Panels under their loads: from a design to what is told of each.

mod as_plate;
mod bearing;
mod board;
mod doors;
mod heads;
mod hung;
mod judge;
mod mount;
mod place;
mod props;
mod remedy;
mod solve;
mod task;

use design::{Design, PlacedId, Role};
use params::{BottomSupport, File};
use rayon::prelude::*;

use crate::panel::{Held, NotAssessed, Panel};
use crate::waters::Waters;
use crate::{keeps, material};
use bearing::Way;
use board::Board;
use judge::Judge;
use props::Prop;
use solve::{Model, Rim};

pub(crate) use as_plate::as_plate;
pub use as_plate::{AsBeam, AsLine, AsPlate, AsScrews};
pub(crate) use judge::{SeamLoad, Worst};
pub(crate) use remedy::sizes;
pub use task::{Task, tasks};

/// All that is told of panels.
#[derive(Debug, Default)]
pub(crate) struct Told {
    pub(crate) panels: Vec<Panel>,
    /// The bottom as if it lay on a frame, where it does not.
    pub(crate) bottom_on_frame: Option<Panel>,
    pub(crate) not_assessed: Vec<NotAssessed>,
    pub(crate) seams: Vec<SeamLoad>,
}

/// What came of a sheet part, or of a door that is pushed off its leaf.
enum Assessed {
    Panel(Box<Panel>, Vec<SeamLoad>),
    /// A bottom that lies flat, as if it lay on a frame.
    IfOnFrame(Box<Panel>),
    Not(NotAssessed),
    /// It carries no water.
    Idle,
}

/// All panels that water bends, those of which nothing can be said, and what they do to their seams.
pub(crate) fn panels(file: &File, design: &Design, waters: &Waters) -> Told {
    let of_part = |p: PlacedId| match design.pieces[design.placed[p].piece].role {
        Role::Door => {
            [Way::On, Way::Off].map(|way| assess_door(file, design, waters, p, way)).into()
        }
        _ => vec![assess(file, design, waters, p)],
    };
    let all: Vec<Assessed> =
        (0..design.placed.len()).into_par_iter().flat_map_iter(of_part).collect();
    let mut told = Told::default();
    for one in all {
        match one {
            Assessed::Panel(panel, loads) => {
                told.panels.push(*panel);
                told.seams.extend(loads);
            }
            Assessed::IfOnFrame(panel) => told.bottom_on_frame = Some(*panel),
            Assessed::Not(not) => told.not_assessed.push(not),
            Assessed::Idle => {}
        }
    }
    let is_leaf = |spare: &&design::Placed| design.pieces[spare.piece].role == Role::Leaf;
    told.not_assessed.extend(design.spares.iter().filter(is_leaf).map(|spare| NotAssessed {
        name: spare.name.clone(),
        parameter: spare.parameter.clone(),
        why: "it is not in its slot: put it first in `slot` to have it assessed".to_owned(),
        keeps_water_in: false,
    }));
    told
}

fn assess(file: &File, design: &Design, waters: &Waters, placed: PlacedId) -> Assessed {
    let not = |why: String| {
        let part = &design.placed[placed];
        Assessed::Not(NotAssessed {
            name: part.name.clone(),
            parameter: part.parameter.clone(),
            why,
            keeps_water_in: keeps::water_in(design, placed),
        })
    };
    match design.pieces[design.placed[placed].piece].role {
        Role::Bottom | Role::Wall | Role::Leaf => {}
        Role::SockHolder | Role::Lid => {
            return not("it carries only itself and what is put on it, not water".to_owned());
        }
        _ => return Assessed::Idle,
    }
    let Some(model) = model(file, design, waters, placed) else {
        return not(
            "it is no sheet of which one row is whole from one side to the other".to_owned()
        );
    };
    let edges = props::edges(&model.board, &model.props);
    let bearings = bearing::bearings(design, waters, &model.board, &edges);
    if bearings.is_empty() {
        return not("no water is known to stand against it".to_owned());
    }
    let is_bottom = design.pieces[design.placed[placed].piece].role == Role::Bottom;
    let is_flat_bottom = is_bottom && file.strength.bottom != Some(BottomSupport::Frame);
    match (Judge { file, design, model: &model, edges, bearings: &bearings }).panel() {
        Ok((panel, _)) if is_flat_bottom => Assessed::IfOnFrame(Box::new(panel)),
        Ok((panel, seams)) => Assessed::Panel(Box::new(panel), seams),
        Err(error) => not(format!("its supports do not hold it as a plate: {error}")),
    }
}

/// A door, pressed on to the leaf that it lies on or pushed off it.
fn assess_door(
    file: &File,
    design: &Design,
    waters: &Waters,
    placed: PlacedId,
    way: Way,
) -> Assessed {
    let part = &design.placed[placed];
    let (name, pushes, holds) = match way {
        Way::On => (part.name.clone(), "press it on to its leaf", "leaf does"),
        Way::Off => (hung::name(&part.name), "push it off", "screws do"),
    };
    let not = |why: String| {
        Assessed::Not(NotAssessed {
            name: name.clone(),
            parameter: part.parameter.clone(),
            why,
            keeps_water_in: false,
        })
    };
    let Some(placings) = doors::placings(file, design, waters, placed, way) else {
        return not("no leaf, opening and screws were found that it hangs on".to_owned());
    };
    match doors::panel(file, design, &placings) {
        Ok(Some(panel)) => Assessed::Panel(Box::new(Panel { name, ..panel }), Vec::new()),
        Ok(None) => not(format!("no water is known to {pushes}")),
        Err(error) => not(format!("its {holds} not hold it as a plate: {error}")),
    }
}

fn model(file: &File, design: &Design, waters: &Waters, placed: PlacedId) -> Option<Model> {
    let mut board = Board::of(design, placed)?;
    let mut props = props::props(design, &mut board);
    if design.pieces[design.placed[placed].piece].role == Role::Bottom {
        props = props::frame(&board, &props);
    }
    let rim = rim(file, design, placed).filter(|_| props.iter().any(|p| p.held == Held::Rim));
    Some(Model { rim, ..held_model(file, design, waters, board, props)? })
}

/// A board with what holds it, without a rim.
fn held_model(
    file: &File,
    design: &Design,
    waters: &Waters,
    board: Board,
    props: Vec<Prop>,
) -> Option<Model> {
    let part = &design.placed[board.placed];
    let pose = board.pose(design);
    let stands = pose.matrix3.y_axis.z > 0.5;
    let foot_mm = stands.then_some(pose.translation.z - design.floor_z);
    let sheet = &design.sheets[design.pieces[part.piece].sheet.as_ref()?];
    let poisson = material::of_sheet(file, sheet).poisson;
    let own_weight_pa = solve::G * sheet.density_kg_m3 * sheet.thickness_mm() * 1e-3;
    let density_kg_m3 = waters.density_kg_m3;
    Some(Model {
        board,
        props,
        rim: None,
        screwed: None,
        poisson,
        foot_mm,
        density_kg_m3,
        own_weight_pa,
    })
}

/// The strip of the rim along a wall.
fn rim(file: &File, design: &Design, placed: PlacedId) -> Option<Rim> {
    let spec = file.enclosure.rim.as_ref()?;
    let piece = design.pieces.iter().find(|piece| piece.role == Role::Rim)?;
    let sheet = &design.sheets[piece.sheet.as_ref()?];
    let wall = design.placed[placed].pose;
    let runs_along_x = wall.matrix3.x_axis.x.abs() > 0.5;
    // Braces run from front to back: they hold these two walls.
    let to_board = wall.inverse();
    let inside_x = design.waterworks.basins.iter().map(|b| b.min.x).reduce(f64::min)?;
    let braces = spec.braces.iter().filter(|_| runs_along_x).map(|brace| {
        let mut at = wall.translation;
        at.x = inside_x + brace.at.to_mm();
        (to_board.transform_point3(at).x, brace.width.to_mm() * 1e-3)
    });
    Some(Rim {
        width: spec.width.to_mm() * 1e-3,
        thickness: sheet.band_mm[0] * 1e-3,
        braces: braces.collect(),
        brace_length: design.outside.y * 1e-3,
        holds_braces: runs_along_x,
        sheet: sheet.name.clone(),
    })
}
