//! Levels at rest and in time.
//!
//! The sign contract of the laws ([`crate::law`]) makes the net inflow an M-function of the levels
//! (Rheinboldt, "On M-functions and their application to nonlinear Gauss–Seidel iterations and to network
//! flows", J. Math. Anal. Appl. 32 (1970) 274): the levels at rest are unique wherever water runs, more
//! water never lowers a level, and the matrices of both solvers can be eliminated without pivoting.
//! In time the state is the volumes. What leaves one tank enters another, so their sum stays.

mod balance;
mod cycle;
pub(crate) mod dense;
mod events;
mod gauss_seidel;
mod layout;
mod newton;
mod plan;
mod rodas4;
mod runner;
mod sparse;
mod start;
mod steady;
mod trace;
mod transient;
mod volume;

pub use cycle::Cycle;
pub use plan::{Event, Leapt, Plan};
pub use start::start_levels;
pub use steady::{How, Settled, Steady, SteadyError, SteadyOptions, SteadySolver, steady};
pub use trace::{Sample, Trace};
pub use transient::{Run, Stop, TransientError, TransientOptions, transient};
pub use volume::{Budget, SteadyWithVolume, Trapped, steady_with_volume};

/// Most tanks that are solved together.
pub const MAX_TANKS: usize = 128;

/// Runs an expression with the narrowest width that takes so many tanks.
macro_rules! with_width {
    ($count:expr, $width:ident => $body:expr) => {
        match $count {
            0..=8 => {
                const $width: usize = 8;
                $body
            }
            9..=16 => {
                const $width: usize = 16;
                $body
            }
            17..=24 => {
                const $width: usize = 24;
                $body
            }
            25..=32 => {
                const $width: usize = 32;
                $body
            }
            33..=64 => {
                const $width: usize = 64;
                $body
            }
            _ => {
                const $width: usize = 128;
                $body
            }
        }
    };
}
pub(crate) use with_width;
