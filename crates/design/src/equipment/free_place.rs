//! The free place nearest to the middle of a chamber: what is asked of it, most first, and turned only
//! where nothing is free otherwise.

use glam::DVec2;

use super::blocks::{Block, blocks};
use super::compound::{BodyKind, Compound, Place, Quarters};
use super::field::{Field, Obstacle, ROUNDING_MM};

/// Something that has its place already.
#[derive(Clone, Debug)]
pub(super) struct Thing {
    pub(super) name: String,
    pub(super) parameter: String,
    pub(super) kind: ThingKind,
    pub(super) blocks: Vec<Block>,
}

/// How a thing is to be kept clear of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum ThingKind {
    /// Walls: bodies are kept within the chamber in any case, service room is kept within these.
    Wall,
    /// Glued in: neither a body nor its service room may reach into it.
    Fixed,
    /// Loose: it can be taken out of a service room, but better stands beside it.
    Loose,
    /// Lies over the chamber: bodies are kept below it, and it is lifted off for service.
    Lid,
    /// Room for the service of something, better left free.
    ServiceRoom,
}

/// How much is asked of a place, most first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Comfort {
    /// Fingers have room all around, service rooms are clear.
    Fingers,
    /// The least gap all around, service rooms are clear.
    Clear,
    /// The least gap all around; what can be taken out stands in a service room.
    Crowded,
}

/// A free place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Found {
    pub(super) place: Place,
    pub(super) comfort: Comfort,
}

/// The place that misses least when none is free.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Miss {
    pub(super) place: Place,
    /// By how much it lacks room, gap counted in, mm.
    pub(super) short_mm: f64,
    /// What is in the way; `None` for the chamber's own sides.
    pub(super) obstacle: Option<Obstacle>,
}

/// What a place is searched for, and where.
pub(super) struct Search<'a> {
    pub(super) compound: &'a Compound<'a>,
    /// The chamber's floor.
    pub(super) floor: [DVec2; 2],
    /// Height of the compound's foot.
    pub(super) foot_z: f64,
    pub(super) things: &'a [Thing],
    /// Least gap to everything, mm.
    pub(super) gap_mm: f64,
    /// Gap around it that fingers need, mm.
    pub(super) finger_gap_mm: f64,
}

impl Search<'_> {
    /// The free place nearest to the middle of the chamber, with as much comfort as there is; turned
    /// only if it finds none otherwise.
    pub(super) fn nearest(&self) -> Result<Found, Miss> {
        let straight: &[Quarters] = &[0];
        for turns in [straight, self.compound.turns()] {
            for comfort in [Comfort::Fingers, Comfort::Clear, Comfort::Crowded] {
                let mut found: Option<(f64, Place)> = None;
                for &quarters in turns {
                    let field = self.field(quarters, comfort);
                    let Some(middle) = field.nearest() else { continue };
                    let far = middle.distance(self.middle());
                    if found.is_none_or(|(least, _)| far < least - ROUNDING_MM) {
                        found = Some((far, self.place(middle, quarters)));
                    }
                }
                if let Some((_, place)) = found {
                    return Ok(Found { place, comfort });
                }
            }
        }
        Err(self.miss())
    }

    fn middle(&self) -> DVec2 {
        0.5 * (self.floor[0] + self.floor[1])
    }

    fn place(&self, middle: DVec2, quarters: Quarters) -> Place {
        Place { middle, foot_z: self.foot_z, quarters }
    }

    /// Where in the chamber it would lack least.
    fn miss(&self) -> Miss {
        let turns = std::iter::once(0).chain(self.compound.turns().iter().copied());
        let misses = turns.map(|quarters| {
            let field = self.field(quarters, Comfort::Crowded);
            let (middle, (short_mm, obstacle)) = field.least_miss();
            Miss { place: self.place(middle, quarters), short_mm, obstacle }
        });
        let least = misses.reduce(|a, b| if b.short_mm < a.short_mm - ROUNDING_MM { b } else { a });
        least.expect("it is tried unturned at least")
    }

    /// What keeps the compound's middle out, turned so.
    fn field(&self, quarters: Quarters, comfort: Comfort) -> Field {
        let at_zero = self.place(DVec2::ZERO, quarters);
        let gap = match comfort {
            Comfort::Fingers => self.finger_gap_mm.max(self.gap_mm),
            Comfort::Clear | Comfort::Crowded => self.gap_mm,
        };
        let mut field = Field::over(self.floor);
        for body in &self.compound.bodies {
            // A stub is no place to take hold of.
            let is_stub = matches!(body.kind, BodyKind::Stub(_));
            let gap = if is_stub { self.gap_mm } else { gap };
            for block in blocks(&body.shape, &body.pose(&at_zero)) {
                let [lo, hi] = block.plan();
                field.keep_within(self.floor[0] - lo + gap, self.floor[1] - hi - gap);
                for (thing, other) in self.things.iter().enumerate() {
                    // Room that is only to be left free needs no gap.
                    let gaps = match other.kind {
                        ThingKind::Wall => continue,
                        ThingKind::ServiceRoom if comfort == Comfort::Crowded => continue,
                        ThingKind::ServiceRoom => [0.0; 2],
                        ThingKind::Fixed | ThingKind::Loose | ThingKind::Lid => [gap, self.gap_mm],
                    };
                    let obstacle = Obstacle { thing, is_in_service_room: false };
                    field.keep_out(&block, gaps, &other.blocks, obstacle);
                }
            }
        }
        for room in self.compound.service(&at_zero) {
            for (thing, other) in self.things.iter().enumerate() {
                let is_kept_clear = match other.kind {
                    ThingKind::Wall | ThingKind::Fixed => true,
                    ThingKind::Loose => comfort != Comfort::Crowded,
                    ThingKind::Lid | ThingKind::ServiceRoom => false,
                };
                if is_kept_clear {
                    let obstacle = Obstacle { thing, is_in_service_room: true };
                    field.keep_out(&Block::of_box(room), [0.0; 2], &other.blocks, obstacle);
                }
            }
        }
        field
    }
}
