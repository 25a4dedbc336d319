//! Kinds of fittings that become parts of the sump.

mod door_stop;
mod drain_cap;
mod eggcrate_ledge;
mod float_holder;
mod hook;
mod level_pointer;
mod lid_clip;
mod lid_handle;
mod nozzle_bracket;
mod probe_holder;
mod reducer;
mod rim_cap;
mod round_strainer;
mod skimmer_foot;
mod strainer;
mod strip_clip;

pub(crate) use door_stop::DOOR_STOP;
pub(crate) use drain_cap::DRAIN_CAP;
pub(crate) use eggcrate_ledge::EGGCRATE_LEDGE;
pub(crate) use float_holder::FLOAT_HOLDER;
pub(crate) use level_pointer::LEVEL_POINTER;
pub(crate) use lid_clip::LID_CLIP;
pub(crate) use lid_handle::LID_HANDLE;
pub(crate) use nozzle_bracket::NOZZLE_BRACKET;
pub(crate) use probe_holder::PROBE_HOLDER;
pub(crate) use reducer::REDUCER;
pub(crate) use round_strainer::ROUND_STRAINER;
pub(crate) use skimmer_foot::SKIMMER_FOOT;
pub(crate) use strainer::STRAINER;
pub(crate) use strip_clip::STRIP_CLIP;
