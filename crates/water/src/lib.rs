//! What water does in a sump: the level in every chamber at the flow that really runs, and what every
//! failure does in time.
//!
//! Knows weirs, openings, pipes, pumps and chambers, and how they act together. Knows no file format,
//! no screen and no clock. Inside, everything is SI: metres, square metres, cubic metres, seconds;
//! heights are above the inside of the sump's bottom.

mod band;
pub mod bubbles;
mod checks;
pub mod evaporation;
pub mod fittings_loss;
pub mod friction;
mod gravity;
pub mod law;
mod network;
mod pipe_line;
mod pump_curve;
mod rehearsal;
mod report;
mod running;
pub mod seawater;
mod smooth;
mod solve;
pub mod submergence;
mod system;
mod table;
pub mod weir;

pub use band::{Band, Bounds, Leans, band};
pub use checks::{findings, grade};
pub use gravity::G;
pub use law::{Flow, Law};
pub use network::{Element, Kind, Network, NetworkError, Step, Tank};
pub use pipe_line::{PipeLine, PipeLineError, SMOOTH_PLASTIC_M, TABLE_POINTS};
pub use pump_curve::{CurveBasis, PumpCurve, PumpCurveError, PumpTable};
pub use rehearsal::{Act, BEGIN_S, FloatRule, LineRule, Script, SiphonRule, Timed, script};
pub use rehearsal::{
    Failure, Figure, Happening, Incident, Outcome, Reach, Spill, Switch, UnknownName, rehearsals,
    rehearse, rehearse_once, standing,
};
pub use report::{
    BasinReport, CombReport, Combination, DoorReport, DownFlow, DrainReport, LineReport, Report,
    Reserve, SafeLimit, SockReport, WaterReport, WayReport, Wish, report, set_door,
};
pub use running::{NotRunning, Running};
pub use solve::{
    Budget, Cycle, Event, How, Leapt, MAX_TANKS, Plan, Run, Sample, Settled, Steady, SteadyError,
    SteadyOptions, SteadySolver, SteadyWithVolume, Stop, Trace, TransientError, TransientOptions,
    Trapped, start_levels, steady, steady_with_volume, transient,
};
pub use system::{Missing, Part, PipeOf, Setting, System, Tanks};
pub use table::Table;
