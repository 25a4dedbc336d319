//! The live window: a sump beside the text editor in which its file is written.
//!
//! What is shown, where from and what plays is decided in modules that know no graphics library and are tested
//! without one; [`canvas`] draws it, [`window`] owns the window and the cards beside the model.

pub mod bent;
pub mod canvas;
pub mod clock;
pub mod course;
pub mod cut;
pub mod dimension;
pub mod loading;
pub mod model;
pub mod orbit;
pub mod pace;
pub mod pick;
#[cfg(test)]
mod sample;
pub mod shape;
pub mod sight;
pub mod spill;
pub mod state;
pub mod timescale;
pub mod watch;
pub mod window;
pub mod worker;
