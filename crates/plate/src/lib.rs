//! The planar arrangement of a sheet part: from overlapping contours to cells of constant height.
//!
//! Knows contours, depths and one part at a time. Knows no solids, no files, no materials.
//! All lengths in mm.
//!
//! ```
//! use plate::*;
//! use glam::dvec2;
//! let plate = Plate {
//!     outline: Contour::rectangle(dvec2(0., 0.), dvec2(100., 50.)),
//!     thickness: 6.0,
//!     // A rabbet along the whole right edge; its contour may hang over the outline.
//!     cuts: vec![Cut::pocket(Contour::rectangle(dvec2(90., -5.), dvec2(105., 55.)), Face::Top, 2.0)],
//! };
//! let arrangement = arrange(&plate, &Tolerance::default()).unwrap();
//! assert!((arrangement.volume() - (100. * 50. * 6. - 10. * 50. * 2.)).abs() < 1e-9);
//! assert_eq!(arrangement.cells.len(), 3); // outside, full height, rabbet
//! assert_eq!(arrangement.defects(&Tolerance::default()), []);
//! ```
mod arrange;
mod contour;
mod defects;
mod edges;
mod faces;
mod meet;
mod plate;
mod tidy;

pub use arrange::{arrange, Arrangement, Edge};
pub use contour::{Arc, Contour, Segment};
pub use defects::Defect;
pub use plate::{Cut, Error, Face, Interval, Plate, Tolerance, Which};
