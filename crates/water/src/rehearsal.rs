//! Failures played in time.

mod act;
mod failure;
mod figure;
mod outcome;
mod plan;
mod standing;

pub use act::{Act, BEGIN_S};
pub use failure::Failure;
pub(crate) use failure::strainers;
pub use figure::Figure;
pub use outcome::{Happening, Incident, Outcome, Reach, Spill, Switch, rehearse, rehearse_once};
pub(crate) use outcome::{drained_after_cut_m3, peak_after};
pub use plan::{FloatRule, LineRule, Script, SiphonRule, Timed, script};
pub use standing::{UnknownName, rehearsals, standing};
