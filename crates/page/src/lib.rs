//! The model with its motions as GLB, and one page to send that shows it.
//!
//! Knows glTF and the page. Knows no parameter file and computes nothing of the sump: what is shown comes from `scene`,
//! how it moves from `fit`, and what is told of it from `show`.

pub mod glb;
pub mod html;
