//! What parts weigh: sheet by its volume and density, equipment by what the file says. Of what else is printed or
//! bought no mass is known.

use plate::{Shape, Tolerance, arrange};

use crate::model::{Design, Piece, PieceId};
use crate::removables::Removable;

/// What something weighs, as far as it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mass {
    /// The sum of what is known, kg.
    pub known_kg: f64,
    /// Of how many of its parts no mass is known. They come on top.
    pub n_unknown: usize,
}

impl Mass {
    /// The sum, if anything of it is known.
    pub fn at_least_kg(self) -> Option<f64> {
        (self.known_kg > 0.0).then_some(self.known_kg)
    }
}

impl Piece {
    /// Mass of one of this volume, kg, where the density is known.
    pub fn mass_of(&self, volume_mm3: f64) -> Option<f64> {
        self.density_kg_m3.map(|density| volume_mm3 * 1e-9 * density)
    }

    /// Mass of one, kg, where the density is known and the shape can be made.
    pub fn mass_kg(&self) -> Option<f64> {
        let volume_mm3 = match &self.shape {
            // Only where it is needed: to arrange a plate takes long.
            Shape::Sheet(_) if self.density_kg_m3.is_none() => return None,
            Shape::Sheet(plate) => arrange(plate, &Tolerance::default()).ok()?.volume(),
            Shape::Turned(turned) => turned.volume_mm3(),
        };
        self.mass_of(volume_mm3)
    }
}

impl Design {
    /// What is lifted when this is taken out: of the sump all that is fixed in it, without water; of a shelf of the
    /// cabinet nothing is known.
    pub fn mass(&self, removable: &Removable) -> Mass {
        let placed = removable.parts.iter().map(|&part| self.placed[part].piece);
        let spares = removable.spares.iter().map(|&part| self.spares[part].piece);
        let pieces: Vec<PieceId> = placed.chain(spares).collect();
        let mut mass = Mass { known_kg: 0.0, n_unknown: usize::from(removable.shelf.is_some()) };
        for piece in pieces {
            match self.pieces[piece].mass_kg() {
                Some(kg) => mass.known_kg += kg,
                None => mass.n_unknown += 1,
            }
        }
        mass
    }
}
