//! Thin plates in bending: deflection, moments and reactions of a rectangular panel with openings, supports along lines
//! and at points, and edge beams.
//!
//! Knows Kirchhoff's plate of even thickness and small deflection, and says where that theory ends. Knows no sump,
//! no material and no allowable stress. SI units throughout; deflection and pressure are positive towards the front.
//!
//! ```
//! use bending::{Plate, Pressure, Support, bend};
//!
//! // A square plate hinged on all edges under uniform pressure: w = 0.00406 q a⁴ / D, M = 0.0479 q a²
//! // (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, table 8).
//! let plate = Plate::new([1.0, 1.0], 0.01, 10.92e6, 0.3).with_edges([Some(Support::Hinge); 4]);
//! let bending = bend(&plate, &[vec![Pressure::uniform(1.0)]])?;
//! let field = &bending.fields[0];
//! assert!((field.deflection.value * plate.rigidity() - 0.00406).abs() < 1e-5);
//! assert!((field.front.expect("it is bounded").value - 0.0479).abs() < 1e-4);
//! assert!((field.reactions.total - 1.0).abs() < 1e-9);
//! # Ok::<(), bending::Error>(())
//! ```

mod assembly;
mod contact;
mod contour;
mod corner;
mod error;
mod grid;
mod held;
mod hermite;
mod large;
mod load;
mod plate;
mod reactions;
mod recover;
mod sample;
mod skyline;
mod solve;
mod validity;

pub use contour::Polyline;
pub use corner::{CornerStress, NotAssessed, corner_stress};
pub use error::Error;
pub use grid::Grid;
pub use large::{Depth, InPlane, Stretched, stretched};
pub use load::Pressure;
pub use plate::{Along, Hold, Line, Mesh, Opening, Plate, Point, Rect, Side, Support};
pub use reactions::{Corner, LineReaction, Reactions};
pub use recover::{Field, Moment, Peak};
pub use solve::{Bending, bend};
pub use validity::{Doubt, doubts};
