//! Panels as the plates that are computed, for others to compute them again.

use design::{Design, PlacedId};
use glam::DVec2;
use params::File;
use serde::Serialize;

use super::bearing::Way;
use super::doors;
use super::judge::{Judge, MPA};
use super::props::edges;
use super::solve::{Model, Moduli};
use crate::panel::{Held, Panel};
use crate::waters::Waters;

/// A panel as a rectangular plate. Lengths in mm in the panel's own frame, moduli in MPa under lasting load and at first.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AsPlate {
    /// Which placed piece.
    pub placed: PlacedId,
    /// Modulus of elasticity.
    pub modulus_mpa: [f64; 2],
    /// Poisson's ratio.
    pub poisson: f64,
    /// Height of y = 0 above the inside of the sump's bottom; `None` of a panel that lies.
    pub foot_mm: Option<f64>,
    /// Corners of the openings that weaken it as a whole. What presses on one of them goes to the strips of two thicknesses
    /// on its left, right and lower side, evenly over all of them.
    pub openings_mm: Vec<[DVec2; 2]>,
    /// Pockets within it, each with the share of its thickness that is left. They stress it as if all of it were so thin,
    /// up to a thickness around them.
    pub pockets: Vec<([DVec2; 2], f64)>,
    /// Greatest tensile stress that may be carried for years on its lower face and on its upper one, MPa; in a pocket the
    /// latter.
    pub allowable_mpa: [f64; 2],
    /// Screws that it hangs on.
    pub screws: Option<AsScrews>,
    /// What holds it, in the order of [`Panel::lines`](crate::Panel::lines).
    pub lines: Vec<AsLine>,
    /// The rim along its upper edge.
    pub rim: Option<AsBeam>,
}

/// Screws that hold a plate at points, both ways, and places at which the leaf behind it stops it and never pulls.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AsScrews {
    /// Where the screws stand.
    pub at_mm: Vec<DVec2>,
    /// Face of the plate that the leaf is at: 1 the upper one, −1 the lower.
    pub leaf_face: f64,
    /// Where the leaf stops it, in the run with all hinged and in that with the sides clamped.
    pub stops_mm: [Vec<DVec2>; 2],
}

/// A line that holds a plate.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AsLine {
    /// How.
    pub held: Held,
    /// Its joint in the design.
    pub joint: Option<usize>,
    /// Whether it is clamped in the runs that clamp its edge.
    pub is_seam: bool,
    /// Along which edge it runs: 0 left, 1 right, 2 lower, 3 upper.
    pub edge: Option<usize>,
    /// Whether it runs along x, at one y.
    pub along_x: bool,
    /// That y, or that x.
    pub at_mm: f64,
    /// From where to where.
    pub span_mm: [f64; 2],
}

/// A rim as a beam that bends along with the plate, and its braces as springs.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AsBeam {
    /// Width of the strip.
    pub width_mm: f64,
    /// Its thickness.
    pub thickness_mm: f64,
    /// Its modulus.
    pub modulus_mpa: [f64; 2],
    /// Place and width of every brace.
    pub braces_mm: Vec<[f64; 2]>,
    /// Length of a brace between the two walls that pull at it.
    pub brace_length_mm: f64,
}

/// The plate of a placed panel; `None` of what is no panel.
pub(crate) fn as_plate(
    file: &File,
    design: &Design,
    waters: &Waters,
    panel: &Panel,
) -> Option<AsPlate> {
    let placed = panel.placed;
    let model = match panel.set {
        Some(set) => {
            let way = if panel.screws.is_some() { Way::Off } else { Way::On };
            let placings = doors::placings(file, design, waters, placed, way)?;
            placings.into_iter().find(|placing| placing.set == set)?.model
        }
        None => super::model(file, design, waters, placed)?,
    };
    let edges = edges(&model.board, &model.props);
    let judge = Judge { file, design, model: &model, edges, bearings: &[] };
    let moduli = judge.moduli();
    let pockets = model.board.thin.iter().filter(|thin| thin.left > 0.0);
    Some(AsPlate {
        placed,
        modulus_mpa: moduli.map(|m| m.panel / MPA),
        poisson: model.poisson,
        foot_mm: model.foot_mm,
        openings_mm: model.board.openings.iter().map(|o| [o.lo, o.hi]).collect(),
        pockets: pockets.map(|thin| ([thin.lo, thin.hi], thin.left)).collect(),
        allowable_mpa: judge.allowed(),
        screws: model.screwed.as_ref().map(|screwed| AsScrews {
            at_mm: screwed.at_mm.clone(),
            leaf_face: screwed.face,
            stops_mm: screwed.stops_mm.clone(),
        }),
        lines: lines(&model),
        rim: beam(&model, moduli),
    })
}

fn lines(model: &Model) -> Vec<AsLine> {
    let line = |prop: &super::props::Prop| AsLine {
        held: prop.held,
        joint: prop.joint,
        is_seam: prop.is_seam(),
        edge: prop.edge,
        along_x: prop.along_x,
        at_mm: prop.at,
        span_mm: prop.span,
    };
    model.props.iter().map(line).collect()
}

fn beam(model: &Model, moduli: [Moduli; 2]) -> Option<AsBeam> {
    let rim = model.rim.as_ref()?;
    Some(AsBeam {
        width_mm: rim.width * 1e3,
        thickness_mm: rim.thickness * 1e3,
        modulus_mpa: moduli.map(|m| m.rim / MPA),
        braces_mm: rim.braces.iter().map(|&(x_mm, width)| [x_mm, width * 1e3]).collect(),
        brace_length_mm: rim.brace_length * 1e3,
    })
}
