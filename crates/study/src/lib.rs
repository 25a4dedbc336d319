//! From the text of a parameter file to everything that is known of it, stage by stage: the design, its water, how
//! everything fits and comes out, whether it holds, the solids of its parts, what was found, and all of it in words and tables.
//!
//! Knows the file's text and what to call it. Opens no file, prints nothing, and has no clock: the command line and the
//! window do, and both tell what is told here.

pub mod changed;
pub mod compared;
mod edit;
pub mod in_flow;
mod levels_shown;
mod panel_words;
pub mod parts;
pub mod reading;
pub mod report;
mod scenery;
mod shopped;
pub mod shown;
pub mod size;
pub mod source;
pub mod stock;
pub mod strong;
pub mod told;
pub mod trial;

pub use in_flow::{InFlow, Known};
pub use panel_words::{PanelWords, laser_caution};
pub use parts::Part;
pub use reading::{Fitted, Reading, Wet};
pub use report::Report;
pub use scenery::{
    NoScene, SENT_CHORD_ERROR_MM, scene, scene_to_send, surrounded, surrounded_within,
};
pub use shopped::Shopped;
pub use shown::Studied;
pub use source::Source;
pub use strong::Strong;
pub use trial::Trial;
