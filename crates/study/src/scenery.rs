//! A design with its parts as what is shown.

use design::{Design, Surrounding};
use scene::Scene;
use solid::{Mesh, Solid};

use crate::parts::{CHORD_ERROR_MM, Part};

/// Why there is nothing to show.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum NoScene {
    /// Meshes and bodies do not go together.
    #[error("cannot set up the scene")]
    Scene(#[source] scene::Error),
    /// A thing in the cabinet does not make a solid.
    #[error("`{name}` does not make a solid: {reason}")]
    Solid {
        /// What it is called.
        name: String,
        /// Why.
        reason: solid::Error,
    },
}

/// The sump alone.
///
/// # Errors
/// When `parts` are not those of the design.
pub fn scene(design: &Design, parts: &[Part<'_>]) -> Result<Scene, NoScene> {
    let meshes: Vec<Mesh> = parts.iter().map(|part| part.mesh.clone()).collect();
    Scene::assembled(design, &meshes).map_err(NoScene::Scene)
}

/// The scene with the cabinet, if there is one.
///
/// # Errors
/// When a thing in the cabinet does not make a solid.
pub fn surrounded(scene: Scene, design: &Design) -> Result<Scene, NoScene> {
    surrounded_within(scene, design, CHORD_ERROR_MM)
}

/// The same with meshes that stay within a chord error.
///
/// # Errors
/// As [`surrounded`].
pub fn surrounded_within(
    scene: Scene,
    design: &Design,
    chord_error_mm: f64,
) -> Result<Scene, NoScene> {
    let Some(around) = &design.surroundings else { return Ok(scene) };
    let mesh = |thing: &Surrounding| {
        let solid = Solid::of_shape(&thing.shape);
        let mesh = solid.and_then(|solid| solid.checked_mesh(chord_error_mm));
        mesh.map_err(|reason| NoScene::Solid { name: thing.name.clone(), reason })
    };
    let meshes: Vec<Mesh> = around.things.iter().map(mesh).collect::<Result<_, _>>()?;
    scene.surrounded(around, &meshes).map_err(NoScene::Scene)
}
