//! Writers of STEP, STL, 3MF, DXF, SVG and PDF, and of what an outside reader must find in them.
//!
//! Knows formats: each function turns plain values into the text or bytes of one file, the same
//! bytes for the same values. Only the diagrams in [`plot`] know a design and its water; nothing here
//! knows a folder or a clock. All lengths in mm.
//!
//! ```
//! use export::{Panel, dxf, svg};
//! use plate::{Contour, FlatPattern};
//!
//! let pattern = FlatPattern {
//!     through: vec![
//!         Contour::rectangle([0.0, 0.0].into(), [200.0, 100.0].into()),
//!         Contour::circle([50.0, 50.0].into(), 10.0).reversed(),
//!     ],
//!     pockets: vec![],
//!     engravings: vec![],
//! };
//! let panel = Panel {
//!     number: "07",
//!     name: "letterbox leaf",
//!     project: "spare room",
//!     material: "cast acrylic",
//!     thickness_mm: 8.0,
//!     order: "order 8 mm sheet (measured 8 mm)",
//!     facing: "Upper face = the side that looks downstream.",
//!     engraving_mm: None,
//!     quantity: 1,
//!     notes: &[],
//!     pattern: &pattern,
//! };
//! assert!(dxf::write(&panel).contains("cut through openings"));
//! assert!(svg::write(&panel).contains("<circle cx="));
//! ```

mod decimal;
pub mod dxf;
pub mod expectations;
pub mod figure_svg;
mod layers;
mod nested;
mod note;
pub mod packed;
mod panel;
pub mod pdf;
pub mod plot;
mod single;
pub mod step;
pub mod stl;
pub mod svg;
pub mod threemf;
mod xml;

pub use nested::NestedSheet;
pub use panel::Panel;
