//! Rectangles on sheets of several kinds, for the least money.
//!
//! All lengths are whole numbers of one unit (hundredths of a millimetre, say) and all prices of another, so that what
//! fits, fits exactly, and the same question has the same answer everywhere.
//!
//! [`nest`] finds sheets by ruin and recreate, and a price that no set of sheets is below. [`least_height`] packs a strip.
//! [`Free`] tells what is left. [`saw::cuts`] tells in which order a saw cuts what lies so that it can.

mod bound;
mod free;
mod niche;
mod rect;
pub mod saw;
mod search;
mod space;
mod strip;
#[cfg(test)]
mod tests;

pub use free::Free;
pub use rect::{Rect, Size};
pub use strip::least_height;

/// A rectangle that is wanted, with the gap to its neighbours already added at its right and upper sides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// Its size.
    pub size: Size,
    /// Whether it may lie turned by 90°.
    pub turns: bool,
    /// Openings in which others may lie, from its lower left corner as it lies unturned. Like a kind of sheet, each is
    /// larger by a gap at its right and upper sides than what may be covered.
    pub rooms: Vec<Rect>,
    /// The rectangles around its openings, drawn in by the gap and then made larger like a room: whatever lies in an opening,
    /// clear of its edge, lies in one of these. Rooms need not be all that an opening has; the bound reckons with these.
    pub openings: Vec<Rect>,
}

impl Item {
    /// The sizes that it has on a kind of sheet where it fits, with whether it is turned.
    fn lies(&self, kind: &Kind) -> impl Iterator<Item = (Size, bool)> {
        let (into, turns) = (kind.size, self.turns && kind.turns);
        let turned = turns && self.size.width != self.size.height;
        [(self.size, false), (self.size.turned(), true)]
            .into_iter()
            .filter(move |(size, is_turned)| (!is_turned || turned) && size.lies_in(into))
    }
}

/// A kind of sheet, with its margins taken off and a gap added at its right and upper sides: what lies along these needs
/// none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kind {
    /// Its size.
    pub size: Size,
    /// What one costs.
    pub cost: u64,
    /// How many there are; `None`: as many as wanted.
    pub quantity: Option<usize>,
    /// Whether what lies on it may be turned: not on a patterned sheet.
    pub turns: bool,
}

/// How to lay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rules {
    /// Whether a saw must be able to cut it: every cut straight through what it cuts. Nothing lies in rooms then.
    pub is_guillotine: bool,
    /// How many rounds of improvement; none follow once the price is proved.
    pub rounds: usize,
    /// How many rounds after that for smaller sheets and a larger rest, at the same price.
    pub tidying: usize,
    /// Where the dice begin.
    pub seed: u64,
}

impl Default for Rules {
    /// A second at most for some hundred items.
    fn default() -> Self {
        Self { is_guillotine: false, rounds: 5000, tidying: 300, seed: 1 }
    }
}

/// Where an item lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Put {
    /// Its place in the list.
    pub item: usize,
    /// What it covers, from the lower left corner of the sheet within its margins.
    pub rect: Rect,
    /// Whether it is turned by 90°, counter-clockwise.
    pub is_turned: bool,
}

impl Put {
    /// The rooms of an item that lies so.
    pub fn rooms(self, item: &Item) -> impl Iterator<Item = Rect> {
        let Rect { x, y, .. } = self.rect;
        let lying =
            move |room: &Rect| if self.is_turned { room.turned_in(item.size) } else { *room };
        item.rooms.iter().map(move |room| lying(room).moved(x, y))
    }
}

/// One sheet with what lies on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Its kind: a place in the list.
    pub kind: usize,
    /// What lies on it. What lies in a room comes after the item whose room it is.
    pub puts: Vec<Put>,
}

/// Everything on sheets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Nest {
    /// The sheets: the dearest first, then the fullest.
    pub sheets: Vec<Sheet>,
    /// What they cost together.
    pub cost: u64,
    /// No set of sheets costs less.
    pub bound: u64,
}

impl Nest {
    /// Whether no cheaper set of sheets exists.
    pub fn is_proved(&self) -> bool {
        self.cost <= self.bound
    }
}

/// Why there is no nest.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum NestError {
    /// These items fit on no sheet, empty as it may be.
    #[error("{} of the parts fit on no sheet", .0.len())]
    TooLarge(Vec<usize>),
    /// The sheets that there are do not suffice.
    #[error("no room was found for {} of the parts", left.len())]
    TooFew {
        /// What was left over in the best try.
        left: Vec<usize>,
        /// Whether it is proved that not all can lie on these sheets.
        is_proved: bool,
    },
}

/// Lays all items on sheets, for as little money as it finds.
///
/// A search by ruin and recreate (Schrimpf, Schneider, Stamm-Wilbrandt and Dueck 2000, J. Comput. Phys. 159, 139–171) with
/// late acceptance (Burke and Bykov 2017, Eur. J. Oper. Res. 258, 70–78). The same question always has the same answer:
/// the dice have a seed, and rounds are counted, not seconds.
///
/// # Errors
/// When an item is larger than every sheet, or no room was found on the sheets that there are.
pub fn nest(items: &[Item], kinds: &[Kind], rules: Rules) -> Result<Nest, NestError> {
    let fits = |item: &Item| kinds.iter().any(|kind| item.lies(kind).next().is_some());
    let too_large: Vec<usize> = (0..items.len()).filter(|i| !fits(&items[*i])).collect();
    if !too_large.is_empty() {
        return Err(NestError::TooLarge(too_large));
    }
    // A sheet on which nothing lies is of no use, and within its margins there may be less than nothing of it.
    let is_useful = |kind: &Kind| items.iter().any(|item| item.lies(kind).next().is_some());
    let useful: Vec<usize> = (0..kinds.len()).filter(|k| is_useful(&kinds[*k])).collect();
    let usable: Vec<Kind> = useful.iter().map(|k| kinds[*k].clone()).collect();
    let bound = bound::of(items, &usable);
    let mut sheets = search::search(items, &usable, rules, bound.unwrap_or(0))
        .map_err(|left| NestError::TooFew { left, is_proved: bound.is_none() })?;
    for sheet in &mut sheets {
        sheet.kind = useful[sheet.kind];
    }
    let cost = sheets.iter().map(|sheet| kinds[sheet.kind].cost).sum();
    Ok(Nest { sheets, cost, bound: bound.unwrap_or(0) })
}
