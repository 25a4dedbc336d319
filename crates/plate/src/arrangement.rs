//! What a plate looks like from above: cells of constant height, bounded by lines and arcs.

use glam::DVec2;

use crate::segment::{Arc, Segment};
use crate::tolerance::Tolerance;

/// The planar arrangement of a plate: cells bounded by edges that share their corners.
///
/// It is the one description that the solid, the flat pattern, areas and masses are taken from, so
/// they cannot disagree. All lengths in mm, in the plate's own coordinates.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Arrangement {
    /// Places where edges begin and end.
    pub corners: Vec<DVec2>,
    /// Lines and arcs between cells of different height. A whole circle is two halves.
    pub edges: Vec<Edge>,
    /// Heights of each cell that are material, `None` where nothing is left. A cell is one
    /// connected region; cell 0 is the outside. Equal heights are equal to the last bit.
    pub cells: Vec<Option<Interval>>,
    /// For each cell, the cuts that made its floor or ceiling or went through it: indices into
    /// [`Plate::cuts`](crate::Plate::cuts), ascending.
    pub made_by: Vec<Vec<usize>>,
    /// Cuts that lie beside the part and so take nothing away, ascending.
    pub missed: Vec<usize>,
    /// Cuts that take nothing away because others go deeper wherever they lie, ascending.
    pub swallowed: Vec<usize>,
    /// What was equal and what was refused when it was made.
    pub tolerance: Tolerance,
}

/// A piece from corner `ends[0]` to `ends[1]`, with cells of different heights on its two sides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Indices into [`Arrangement::corners`].
    pub ends: [usize; 2],
    /// What makes it round; `None`: it is straight.
    pub arc: Option<Arc>,
    /// Index of the cell to the left, going from the first end to the second.
    pub left: usize,
    /// Index of the cell to the right.
    pub right: usize,
}

/// Heights `[bottom, top]` in mm that are material.
pub type Interval = [f64; 2];

impl Arrangement {
    /// The line or arc along an edge.
    pub fn segment(&self, edge: &Edge) -> Segment {
        Segment {
            start: self.corners[edge.ends[0]],
            end: self.corners[edge.ends[1]],
            arc: edge.arc,
        }
    }

    /// Area of every cell in mm²; the outside counts as minus all that is not outside.
    pub fn cell_areas(&self) -> Vec<f64> {
        let mut areas = vec![0.0; self.cells.len()];
        let origin = self.corners.first().copied().unwrap_or_default();
        for edge in &self.edges {
            let area = 0.5 * self.segment(edge).double_area(origin);
            areas[edge.left] += area;
            areas[edge.right] -= area;
        }
        areas
    }

    /// Area of the part seen from above in mm².
    pub fn area(&self) -> f64 {
        self.cell_areas().iter().zip(&self.cells).filter(|(_, c)| c.is_some()).map(|(a, _)| a).sum()
    }

    /// Volume of the part in mm³: area times height, cell by cell.
    pub fn volume(&self) -> f64 {
        let height = |cell: &Option<Interval>| cell.map_or(0.0, |[bottom, top]| top - bottom);
        self.cell_areas().iter().zip(&self.cells).map(|(a, c)| a * height(c)).sum()
    }
}
