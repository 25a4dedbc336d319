//! What the plan view of a plate is like as a cross-section, and what the plate weighs.

use glam::{DVec2, DVec3};

use crate::arrangement::Arrangement;
use crate::moments::Moments;

/// Properties of the plan region of a part: all that is material, seen from above.
///
/// Exact for lines and arcs; coordinates are the plate's own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Area in mm².
    pub area_mm2: f64,
    /// Length of all its edges in mm, those of holes included.
    pub perimeter_mm: f64,
    /// Centroid of the area.
    pub centroid: DVec2,
    /// `∬ (y − y_c)² dA` in mm⁴: bending about the axis through the centroid along x.
    pub ixx_mm4: f64,
    /// `∬ (x − x_c)² dA` in mm⁴: bending about the axis through the centroid along y.
    pub iyy_mm4: f64,
    /// `∬ (x − x_c)(y − y_c) dA` in mm⁴; 0 if an axis of symmetry runs along x or y.
    pub ixy_mm4: f64,
}

impl Section {
    /// Of the plan region; `None` if nothing is left of the part.
    pub fn new(arrangement: &Arrangement) -> Option<Self> {
        let (origin, cells) = cell_moments(arrangement);
        let mut whole = Moments::default();
        for (moments, _) in cells.into_iter().zip(&arrangement.cells).filter(|(_, c)| c.is_some()) {
            whole += moments;
        }
        if whole.area <= 0.0 {
            return None;
        }
        let off = whole.first / whole.area;
        let central = whole.seen_from(off);
        Some(Self {
            area_mm2: whole.area,
            perimeter_mm: perimeter(arrangement),
            centroid: origin + off,
            ixx_mm4: central.yy,
            iyy_mm4: central.xx,
            ixy_mm4: central.xy,
        })
    }

    /// Largest and smallest second moment about an axis through the centroid, in mm⁴ (Mohr's
    /// circle): `(Ixx + Iyy)/2 ± √(((Ixx − Iyy)/2)² + Ixy²)`.
    pub fn principal_moments_mm4(&self) -> [f64; 2] {
        let mean = 0.5 * (self.ixx_mm4 + self.iyy_mm4);
        let radius = DVec2::new(0.5 * (self.ixx_mm4 - self.iyy_mm4), self.ixy_mm4).length();
        [mean + radius, mean - radius]
    }
}

impl Arrangement {
    /// Mass in kg for a density in kg/m³.
    pub fn mass_kg(&self, density_kg_m3: f64) -> f64 {
        self.volume() * 1e-9 * density_kg_m3
    }

    /// Centre of mass in mm, in the plate's own frame; `None` if nothing is left of the part.
    pub fn centre_of_mass(&self) -> Option<DVec3> {
        let (origin, cells) = cell_moments(self);
        let mut volume = 0.0;
        let mut first = DVec3::ZERO;
        for (moments, cell) in cells.iter().zip(&self.cells) {
            if let Some([bottom, top]) = *cell {
                let (height, middle) = (top - bottom, 0.5 * (bottom + top));
                volume += moments.area * height;
                first += height * moments.first.extend(moments.area * middle);
            }
        }
        (volume > 0.0).then(|| origin.extend(0.0) + first / volume)
    }
}

/// Moments of every cell about the origin returned with them, a corner of the part: far from it
/// digits would be lost. The outside counts as minus all that is not outside.
fn cell_moments(arrangement: &Arrangement) -> (DVec2, Vec<Moments>) {
    let origin = arrangement.corners.first().copied().unwrap_or_default();
    let mut cells = vec![Moments::default(); arrangement.cells.len()];
    for edge in &arrangement.edges {
        let moments = Moments::between(&arrangement.segment(edge), origin);
        cells[edge.left] += moments;
        cells[edge.right] -= moments;
    }
    (origin, cells)
}

fn perimeter(arrangement: &Arrangement) -> f64 {
    let is_material = |cell: usize| arrangement.cells[cell].is_some();
    let outer = arrangement.edges.iter().filter(|e| is_material(e.left) != is_material(e.right));
    outer.map(|e| arrangement.segment(e).length()).sum()
}
