//! Every reason why a solid or a mesh is refused.
use glam::{DVec2, DVec3};
use truck_topology::shell::ShellCondition;

/// Why no solid, or no mesh, was made.
#[derive(Clone, Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// The plate itself was refused.
    #[error(transparent)]
    Plate(#[from] plate::Error),
    /// The profile of a turned body was refused.
    #[error(transparent)]
    Turned(#[from] plate::TurnedError),
    /// The plate is no single body with a thickness everywhere.
    #[error("no solid can be made of this plate: {0}")]
    Defect(plate::Defect),
    /// The edges around a level face do not close.
    #[error("the edge of the level face at {height_mm} mm does not close near {at}")]
    OpenFloor {
        /// A corner of the face.
        at: DVec2,
        /// Height of the face.
        height_mm: f64,
    },
    /// A wall is refused by the topology kernel.
    #[error("the wall near {at} cannot be made: {reason}")]
    Wall {
        /// A corner of the wall.
        at: DVec3,
        /// What truck says.
        reason: String,
    },
    /// The faces do not close, or are not oriented alike.
    #[error("the faces do not form a closed oriented surface, only a {condition:?} one")]
    NotClosed {
        /// What they form.
        condition: ShellCondition,
    },
    /// The faces form several bodies.
    #[error("the faces form more than one surface")]
    NotConnected,
    /// An edge does not lie on a face it bounds.
    #[error("an edge leaves the face it bounds by more than 1e-6 mm")]
    Inconsistent,
    /// The surface is inside out.
    #[error("the surface is inside out: it encloses {volume_mm3} mm³")]
    InsideOut {
        /// The enclosed volume, negative.
        volume_mm3: f64,
    },
    /// The faces enclose another volume than the part has by its own arithmetic.
    #[error("the faces enclose {faces_mm3} mm³, but the part has {part_mm3} mm³")]
    Volume {
        /// Volume enclosed by the exact faces.
        faces_mm3: f64,
        /// Volume by the part's own formula.
        part_mm3: f64,
    },
    /// The wanted chord error makes no sense.
    #[error("a chord error of {chord_error_mm} mm is no positive length")]
    ChordError {
        /// As asked for.
        chord_error_mm: f64,
    },
    /// A face could not be triangulated, even with a tenth of the chord error.
    #[error(
        "the face at {at} cannot be meshed: its chords cross, even at a chord error of {chord_error_mm:.1e} mm"
    )]
    Unmeshable {
        /// A corner of the face.
        at: DVec3,
        /// The finest chord error tried.
        chord_error_mm: f64,
    },
    /// More corners than a mesh can count.
    #[error("the mesh has more than 4 294 967 295 corners")]
    TooManyCorners,
    /// The mesh has a gap or a wrongly turned triangle.
    #[error("the mesh is not closed and oriented, only {condition:?}")]
    OpenMesh {
        /// What it is.
        condition: ShellCondition,
    },
    /// The mesh encloses another volume than the chords of the exact solid do.
    #[error(
        "the mesh encloses {mesh_mm3} mm³; the solid with chords for its arcs has {expected_mm3} mm³ (± {limit_mm3:.1e})"
    )]
    MeshVolume {
        /// Volume of the mesh.
        mesh_mm3: f64,
        /// Exact volume less what the chords cut off.
        expected_mm3: f64,
        /// Allowed difference.
        limit_mm3: f64,
    },
}
