//! Sheet parts and turned bodies as exact closed solids, and watertight meshes of them.
//!
//! Knows one part at a time, in its own frame. Knows no files, no poses, no materials. All lengths in mm.
//!
//! A solid is composed level by level from the planar arrangement of its plate (or by turning a
//! profile), never by boolean operations: it is closed and oriented from the start, circles stay
//! circles and round walls stay cylinders. The topology, and the proof that it is closed, are truck's;
//! the geometry (lines and arcs; planes, cylinders and cones) is our own.
//!
//! ```
//! use glam::dvec2;
//! use plate::{Contour, Cut, Plate, Tolerance, arrange};
//! use solid::Solid;
//!
//! let mut plate = Plate::new(Contour::rectangle(dvec2(0.0, 0.0), dvec2(100.0, 50.0)), 6.0);
//! plate.cuts.push(Cut::through(Contour::circle(dvec2(30.0, 25.0), 10.0)));
//! let solid = Solid::of_plate(&arrange(&plate, &Tolerance::default())?)?;
//! let exact = 6.0 * (100.0 * 50.0 - std::f64::consts::PI * 100.0);
//! assert!((solid.volume_mm3() - exact).abs() < 1e-9 * exact);
//!
//! let mesh = solid.mesh(0.05)?;
//! assert!(mesh.is_closed());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod brep;
mod check;
mod error;
mod floors;
mod geometry;
mod mesh;
mod mesher;
mod plate_shell;
#[cfg(test)]
mod second_mesher;
mod solid;
mod topology;
mod turned_shell;

pub use brep::{Bound, Brep, BrepEdge, BrepFace, FaceCounts};
pub use check::{Checked, checked};
pub use error::Error;
pub use geometry::{Curve, Surface};
pub use mesh::Mesh;
pub use solid::Solid;
