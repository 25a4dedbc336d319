//! Rectangles on sheets of several kinds, for the least money.
//!
//! All lengths are whole numbers of one unit (hundredths of a millimetre, say) and all prices of another, so that what
//! fits, fits exactly, and the same question has the same answer everywhere.

mod bound;
mod cover;
mod deal;
mod niche;
mod rect;
mod search;
mod space;
mod strip;

pub use bound::Bound;
pub use rect::{Rect, Size};
pub use strip::least_height;

use std::fmt;

/// A rectangle that is wanted, with the gap to its neighbours already added to both sides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// Its size.
    pub size: Size,
    /// Whether it may lie turned by 90°.
    pub turns: bool,
    /// Openings in which others may lie, each with its gap taken off, from its lower left corner as it lies unturned.
    pub rooms: Vec<Rect>,
}

/// A kind of sheet, with its margins already taken off.
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
    /// Whether a saw must be able to cut it: every cut straight through what it cuts.
    pub is_guillotine: bool,
    /// How many rounds of improvement.
    pub rounds: usize,
}

impl Default for Rules {
    fn default() -> Self {
        Self { is_guillotine: false, rounds: 1500 }
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

/// One sheet with what lies on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Its kind: a place in the list.
    pub kind: usize,
    /// What lies on it.
    pub puts: Vec<Put>,
}

/// Everything on sheets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Nest {
    /// The sheets, the fullest first.
    pub sheets: Vec<Sheet>,
    /// What they cost together.
    pub cost: u64,
    /// What any set of sheets costs at least.
    pub bound: Bound,
}

impl Nest {
    /// Whether no cheaper set of sheets exists.
    pub fn is_proved(&self) -> bool {
        self.cost <= self.bound.cost
    }
}

/// Why there is no nest.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum NestError {
    /// These items fit on no sheet, empty as it may be.
    TooLarge(Vec<usize>),
    /// No way was found to lay these items on the sheets that there are.
    TooFew(Vec<usize>),
}

impl fmt::Display for NestError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge(items) => write!(f, "{} of the parts fit on no sheet", items.len()),
            Self::TooFew(items) => write!(f, "no room was found for {} of the parts", items.len()),
        }
    }
}

impl std::error::Error for NestError {}

/// Lays all items on sheets, for as little money as it finds.
///
/// First a search by ruin and recreate with late acceptance (Schrimpf et al. 2000, J. Comput. Phys. 159, 139–171; Burke
/// and Bykov 2017, Eur. J. Oper. Res. 258, 70–78), then the cheapest choice among all full sheets that it saw. The
/// same question always has the same answer: the dice have a fixed seed, and rounds are counted, not seconds.
///
/// # Errors
/// When an item is larger than every sheet, or no room was found on the sheets that there are.
pub fn nest(items: &[Item], kinds: &[Kind], rules: Rules) -> Result<Nest, NestError> {
    let fits = |item: &Item, kind: &Kind| deal::lies(item, kind).next().is_some();
    let too_large: Vec<usize> =
        (0..items.len()).filter(|i| !kinds.iter().any(|kind| fits(&items[*i], kind))).collect();
    if !too_large.is_empty() {
        return Err(NestError::TooLarge(too_large));
    }
    let bound = bound::of(items, kinds);
    let (sheets, _) = search::search(items, kinds, rules, &bound);
    let sheets = sheets.map_err(NestError::TooFew)?;
    Ok(Nest { cost: sheets_cost(&sheets, kinds), sheets, bound })
}

fn sheets_cost(sheets: &[Sheet], kinds: &[Kind]) -> u64 {
    sheets.iter().map(|sheet| kinds[sheet.kind].cost).sum()
}
