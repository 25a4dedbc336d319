//! A sheet part described once: outline, cuts and engraving, and the planar arrangement of its
//! heights.
//!
//! Knows contours of lines and true arcs, depths, letters, and one part at a time. Knows no solids,
//! no files, no materials, no places in a sump. All lengths in mm.
//!
//! ```
//! use glam::dvec2;
//! use plate::{Contour, Cut, Face, Plate, Tolerance, arrange};
//!
//! let mut plate = Plate::new(Contour::rectangle(dvec2(0., 0.), dvec2(100., 50.)), 6.0);
//! // A rabbet along the whole right edge; its contour may hang over the outline.
//! let rabbet = Contour::rectangle(dvec2(90., -5.), dvec2(105., 55.));
//! plate.cuts.push(Cut::pocket(rabbet, Face::Top, 2.0));
//!
//! let tol = Tolerance::default();
//! let arrangement = arrange(&plate, &tol).unwrap();
//! assert!((arrangement.volume() - (100. * 50. * 6. - 10. * 50. * 2.)).abs() < 1e-9);
//! assert_eq!(arrangement.cells.len(), 3); // outside, full height, rabbet
//! assert_eq!(arrangement.defects(&tol), []);
//! ```

mod arrange;
mod arrangement;
mod boxes;
mod check;
mod contour;
mod defects;
mod dice;
mod error;
mod faces;
mod flat;
mod hull;
mod meet;
mod moments;
mod plate;
mod roomy;
pub mod sample;
mod section;
mod segment;
mod sets;
mod shape;
mod split;
pub mod text;
mod tidy;
mod tolerance;
mod turned;
mod walls;

pub use arrange::arrange;
pub use arrangement::{Arrangement, Edge, Interval};
pub use contour::Contour;
pub use defects::Defect;
pub use error::{Error, Which};
pub use flat::{ENGRAVING_STEP_MM, FlatPattern, MisplacedEngraving, PocketRegion, flat_pattern};
pub use hull::hull;
pub use plate::{Cut, Engraving, Face, Plate};
pub use section::Section;
pub use segment::{Arc, Segment};
pub use sets::Sets;
pub use shape::Shape;
pub use text::TextStrokes;
pub use tolerance::Tolerance;
pub use turned::{Turned, TurnedError};
