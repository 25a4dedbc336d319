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
    /// A part or a thing in the cabinet does not make a solid.
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

/// How far what is sent to be looked at may stay from the exact solids, mm. Our judgement: a sump of a metre that fills
/// a screen of 1500 pixels is drawn with 0.7 mm to a pixel, so this is a third of a pixel; a bore of 6 mm
/// has nine sides then, and is nine pixels wide. Triangles go with the root of it: a third of those of [`CHORD_ERROR_MM`].
pub const SENT_CHORD_ERROR_MM: f64 = 0.2;

/// The sump in its cabinet within [`SENT_CHORD_ERROR_MM`], small enough to be sent: for the page and the model.
///
/// # Errors
/// When a part or a thing in the cabinet has no sound mesh.
pub fn scene_to_send(design: &Design, parts: &[Part<'_>]) -> Result<Scene, NoScene> {
    let mesh = |part: &Part<'_>| {
        let mesh = part.solid.checked_mesh(SENT_CHORD_ERROR_MM);
        mesh.map_err(|reason| NoScene::Solid { name: part.piece.name.clone(), reason })
    };
    let meshes: Vec<Mesh> = parts.iter().map(mesh).collect::<Result<_, _>>()?;
    let scene = Scene::assembled(design, &meshes).map_err(NoScene::Scene)?;
    surrounded_within(scene, design, SENT_CHORD_ERROR_MM)
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
