//! The cabinet around the sump as bodies.

use design::{Surrounding, SurroundingKind, Surroundings};
use solid::Mesh;

use crate::Error;
use crate::from_design::bare;
use crate::scene::{Body, Cabinet, CabinetThing, Look, Scene};

impl Scene {
    /// The same with what stands around the sump, to be drawn where it matters.
    ///
    /// `meshes` holds one mesh per thing, in the order of [`Surroundings::things`].
    ///
    /// # Errors
    /// When there are more or fewer meshes than things.
    pub fn surrounded(self, around: &Surroundings, meshes: &[Mesh]) -> Result<Self, Error> {
        if meshes.len() != around.things.len() {
            return Err(Error::Meshes { meshes: meshes.len(), pieces: around.things.len() });
        }
        let in_place = |(thing, mesh): (&Surrounding, &Mesh)| CabinetThing {
            kind: thing.kind,
            body: body(thing, mesh),
        };
        let cabinet = Cabinet {
            inside: around.inside,
            things: around.things.iter().zip(meshes).map(in_place).collect(),
        };
        Ok(Self { cabinet: Some(cabinet), ..self })
    }
}

fn body(thing: &Surrounding, mesh: &Mesh) -> Body {
    let look = Look { colour: colour(thing.kind), is_clear: false };
    Body { look, ..bare(&thing.name, &thing.shape, thing.pose, mesh) }
}

/// Paler than anything in the sump, so that it stays behind.
fn colour(kind: SurroundingKind) -> [u8; 3] {
    match kind {
        SurroundingKind::Panel | SurroundingKind::Mat => [255, 253, 248],
        SurroundingKind::Post | SurroundingKind::Shelf => [240, 234, 222],
        SurroundingKind::Fixture | SurroundingKind::PipeAbove => [226, 228, 228],
    }
}
