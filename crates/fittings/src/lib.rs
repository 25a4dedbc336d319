//! Small printed fittings: from their measures to a shape that prints well.
//!
//! Knows guides, rings, knobs, nuts, jigs, and what printers and filaments can do. Knows no sump, no solids, no files.
//! All lengths in mm. Every part lies with a flat face on `z = 0`, ready to print, and is checked:
//! sound, no thin walls, nothing printed into the air.
//!
//! ```
//! use fittings::{GuideChannel, Printer, channel_width_mm, guide_channel};
//!
//! let guide = GuideChannel {
//!     channel_width_mm: channel_width_mm([7.7, 8.0], 0.25)?, // by caliper, clearance each side
//!     depth_mm: 12.0,
//!     length_mm: 190.0,
//!     wall_mm: 2.4,
//!     stop: true,
//!     lead_in_mm: 3.0,
//! };
//! let guide = guide_channel(&guide, &Printer::default())?;
//! assert_eq!(guide.print.height_mm, 14.4);
//! # Ok::<(), fittings::Error>(())
//! ```

mod bed;
mod coupon;
mod error;
mod filament;
mod fitting;
mod foot;
mod glue;
mod guide;
mod jigs;
mod kind;
mod knob;
mod lettering;
mod mate;
mod mates;
mod measure;
mod nut;
mod offset;
mod parts;
mod pipe_clip;
mod printable;
mod printer;
mod sock_ring;
mod stand;
mod strain;
#[cfg(test)]
mod testing;

pub use bed::{BedError, OnBed, USUAL_GAP_MM, arranged};
pub use coupon::{COUPONS, Coupon};
pub use error::Error;
pub use filament::{ALWAYS, Advice, Filament, UnderWater};
pub use fitting::{Fitting, PrintNotes};
pub use glue::{Glue, SheetPlastic};
pub use guide::{GuideChannel, channel_width_mm, guide_channel};
pub use kind::{KINDS, Kind, Measure, Measures, Of};
pub use knob::{Knob, knob};
pub use mate::{Form, Mate};
pub use nut::ScrewSize;
pub use parts::free_share;
pub use printable::{
    MOST_OVERHANG_DEG, check_printable, check_printable_by, thinnest_of_turned_mm,
};
pub use printer::Printer;
pub use sock_ring::{SockRing, SockRingFitting, sock_ring};
pub use stand::{
    Flange, Follows, Held, Holds, InPieces, OnBottom, OnEdge, OnFace, OnLid, Side, Stand,
};
pub use strain::{BentArc, bent_beam_strain};
