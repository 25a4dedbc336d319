//! Placed parts as lumps of mass.

use design::{Design, PieceId, PlacedId, Role};
use glam::DVec3;
use plate::{Shape, Tolerance, Turned, arrange};
use rayon::prelude::*;

use crate::place::bounds;

/// Some mass in a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lump {
    /// Its mass, kg; negative for water that is not there.
    pub(super) kg: f64,
    /// Its centre of mass in the sump's frame, mm.
    pub(super) centre: DVec3,
    /// From where to where it reaches along the sump, mm.
    pub(super) along_mm: [f64; 2],
}

/// Volume and centre of a piece in its own frame.
#[derive(Clone, Copy, Debug)]
struct Solid {
    volume_mm3: f64,
    centre: DVec3,
}

/// All pieces of a design, each measured once however often it is used.
pub(super) struct Bodies<'a> {
    design: &'a Design,
    solids: Vec<Option<Solid>>,
}

impl<'a> Bodies<'a> {
    pub(super) fn of(design: &'a Design) -> Self {
        // To arrange a plate takes long: only those that weigh something, on all cores.
        let is_weighed = |piece: &design::Piece| piece.density_kg_m3.is_some();
        let solid = |piece: &design::Piece| is_weighed(piece).then(|| solid(&piece.shape))?;
        Self { design, solids: design.pieces.par_iter().map(solid).collect() }
    }

    /// Placed parts of known mass that are wanted.
    pub(super) fn lumps(&self, is_wanted: impl Fn(PlacedId) -> bool) -> Vec<Lump> {
        let wanted = (0..self.design.placed.len()).filter(|&placed| is_wanted(placed));
        wanted.filter_map(|placed| self.lump(placed)).collect()
    }

    /// A placed part, if its mass is known.
    fn lump(&self, placed: PlacedId) -> Option<Lump> {
        let density = self.design.pieces[self.design.placed[placed].piece].density_kg_m3?;
        self.filled(placed, density)
    }

    /// The room of a placed part filled with something of this density.
    pub(super) fn filled(&self, placed: PlacedId, density_kg_m3: f64) -> Option<Lump> {
        let part = &self.design.placed[placed];
        let solid = self.solids[part.piece]?;
        let [lo, hi] = bounds(&self.design.pieces[part.piece].shape, &part.pose);
        Some(Lump {
            kg: solid.volume_mm3 * 1e-9 * density_kg_m3,
            centre: part.pose.transform_point3(solid.centre),
            along_mm: [lo.x, hi.x],
        })
    }

    /// Whether the mass of a placed part is known, by its name.
    pub(super) fn knows(&self, name: &str) -> bool {
        let place = self.design.placed.iter().find(|placed| placed.name == name);
        place.is_some_and(|placed| self.solids[placed.piece].is_some())
    }

    /// Names of the pieces in place that have no known mass, with how many of them there are.
    pub(super) fn unknown(&self) -> Vec<String> {
        let pieces = &self.design.pieces;
        let count = |piece: PieceId| self.design.placed.iter().filter(|p| p.piece == piece).count();
        let is_unknown = |piece: &PieceId| {
            self.solids[*piece].is_none() && pieces[*piece].body_of.is_none() && count(*piece) > 0
        };
        let name = |piece: PieceId| match count(piece) {
            1 => pieces[piece].name.clone(),
            n => format!("{n} × {}", pieces[piece].name),
        };
        (0..pieces.len()).filter(is_unknown).map(name).collect()
    }

    /// Placed parts of these roles.
    pub(super) fn of_roles(&self, roles: &[Role]) -> Vec<PlacedId> {
        let role = |placed: PlacedId| self.design.pieces[self.design.placed[placed].piece].role;
        (0..self.design.placed.len()).filter(|&placed| roles.contains(&role(placed))).collect()
    }
}

fn solid(shape: &Shape) -> Option<Solid> {
    match shape {
        Shape::Sheet(plate) => {
            let arrangement = arrange(plate, &Tolerance::default()).ok()?;
            let centre = arrangement.centre_of_mass()?;
            Some(Solid { volume_mm3: arrangement.volume(), centre })
        }
        Shape::Turned(turned) => {
            let volume_mm3 = turned.volume_mm3();
            let centre = DVec3::Z * (height_moment(turned) / volume_mm3);
            (volume_mm3 > 0.0).then_some(Solid { volume_mm3, centre })
        }
    }
}

/// `∭ z dV = π ∮ r² z dz` over the profile of a turned body, exact side by side: on a side `r = r₀ + Δr s` and
/// `z = z₀ + Δz s` for `s` from 0 to 1.
fn height_moment(turned: &Turned) -> f64 {
    let of_side = |[p, q]: [glam::DVec2; 2]| {
        let (r, z) = (p.x, p.y);
        let (dr, dz) = (q.x - p.x, q.y - p.y);
        let plain = r * r + r * dr + dr * dr / 3.0;
        let sloped = 0.5 * r * r + 2.0 / 3.0 * r * dr + 0.25 * dr * dr;
        dz * (z * plain + dz * sloped)
    };
    std::f64::consts::PI * turned.sides().map(of_side).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;

    #[test]
    fn a_cone_has_its_centre_at_a_quarter_of_its_height() {
        let cone = Turned { profile: vec![dvec2(0.0, 5.0), dvec2(30.0, 5.0), dvec2(0.0, 45.0)] };
        let solid = solid(&Shape::Turned(cone)).expect("it has a volume");
        assert!((solid.centre.z - 15.0).abs() < 1e-9, "{}", solid.centre);
        assert!((solid.volume_mm3 - std::f64::consts::PI * 900.0 * 40.0 / 3.0).abs() < 1e-6);
    }
}
