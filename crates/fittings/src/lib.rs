//! Small printed fittings: from their measures to a shape that prints well.
//!
//! Knows guides, rings, knobs, nuts and what a printer can do. Knows no sump, no solids, no files.
//! All lengths in mm. Every part lies with a flat face on `z = 0`, ready to print, and is checked:
//! sound, no thin walls, nothing printed into the air.
//!
//! ```
//! use fittings::{GuideChannel, channel_width_mm, guide_channel};
//!
//! let guide = guide_channel(&GuideChannel {
//!     channel_width_mm: channel_width_mm([7.7, 8.0], 0.25)?, // by caliper, clearance each side
//!     depth_mm: 12.0,
//!     length_mm: 190.0,
//!     wall_mm: 2.4,
//!     stop: true,
//!     lead_in_mm: 3.0,
//! })?;
//! assert_eq!(guide.print.height_mm, 14.4);
//! # Ok::<(), fittings::Error>(())
//! ```

mod error;
mod fitting;
mod guide;
mod kind;
mod knob;
mod nut;
mod pipe_clip;
mod printable;
mod printer;
mod sock_ring;

pub use error::Error;
pub use fitting::{Fitting, PrintNotes};
pub use guide::{GuideChannel, channel_width_mm, guide_channel};
pub use kind::{KINDS, Kind, Measure, Measures, Of};
pub use knob::{Knob, knob};
pub use nut::ScrewSize;
pub use printable::{MOST_OVERHANG_DEG, check_printable};
pub use printer::Printer;
pub use sock_ring::{SockRing, SockRingFitting, sock_ring};
