//! Which panel lies where on which sheet.

use design::PieceId;
use glam::DVec2;

/// All that is cut from one kind of sheet of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct StockPlan {
    /// Name of the sheet in the file.
    pub sheet: String,
    /// The sheets to buy or to take from home, in the order of their numbers.
    pub sheets: Vec<LaidSheet>,
    /// How many parts fit on none of the sheets and are not laid. A finding that fails names them.
    pub n_left_out: usize,
    /// What they cost together; `None` where parts are left out, and where one of them is bought and has no price.
    pub price: Option<f64>,
    /// What any set of the file's sheets would cost at least, from the rigorous bound; `None` as above, and where the set
    /// was not chosen by its price.
    pub least_price: Option<f64>,
    /// What the set has least of.
    pub chosen_by: ChosenBy,
    /// Whether no set exists that has less of what it was chosen by: it is at the bound.
    pub is_proved: bool,
    /// Whether every cut goes straight through what it cuts.
    pub is_straight_through: bool,
}

impl StockPlan {
    /// Sheets of the maker's own, those that are bought and have a price, and those of which no price is known.
    pub fn counts(&self) -> [usize; 3] {
        let count = |is: &dyn Fn(&LaidSheet) -> bool| self.sheets.iter().filter(|s| is(s)).count();
        [
            count(&|sheet| sheet.is_own),
            count(&|sheet| !sheet.is_own && sheet.price.is_some()),
            count(&|sheet| sheet.price.is_none()),
        ]
    }

    /// Whether less area would do, in words.
    pub fn area_words(&self) -> &'static str {
        if self.is_proved {
            "no set of them has less area while parts are laid by the rectangles around them (proved)"
        } else {
            "whether a set of less area exists is not known"
        }
    }
}

/// What a set of sheets has least of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChosenBy {
    /// Of its price: every sheet of the file has one, or is the maker's own.
    Price,
    /// Of the area that is bought: some sheet of the file has no price.
    Area,
    /// Of its number: the file names no sheets, and those of a usual size are reckoned with.
    Number,
}

/// One sheet with the panels on it. The origin is its lower left corner, x along its length; y runs up.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidSheet {
    /// What it is called on papers and files: `clear8-1`.
    pub name: String,
    /// Which of the file's sizes it is, an index into `stock`; `None` for a usual size.
    pub stock: Option<usize>,
    /// Length and width as bought, mm.
    pub size_mm: DVec2,
    /// Its price, when the file says so; nothing for the maker's own.
    pub price: Option<f64>,
    /// Whether the maker has it already.
    pub is_own: bool,
    /// What lies on it.
    pub laid: Vec<Laid>,
    /// What is left and worth keeping.
    pub offcuts: Vec<Offcut>,
    /// For straight-through cutting: the cuts in the order of the saw.
    pub saw_cuts: Vec<SawCut>,
}

/// A panel in its place on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laid {
    /// Which part.
    pub piece: PieceId,
    /// Which of its copies, from 1.
    pub copy: usize,
    /// Where the origin of the part's own frame lies, mm.
    pub at: DVec2,
    /// Whether it is turned by 90°, counter-clockwise.
    pub is_turned: bool,
    /// Whether it lies in an opening of another part.
    pub is_in_opening: bool,
}

impl Laid {
    /// A point of the part's own frame on the sheet.
    pub fn point(&self, p: DVec2) -> DVec2 {
        self.at + if self.is_turned { p.perp() } else { p }
    }
}

/// A rectangle that is left over and large enough to be used again.
#[derive(Clone, Debug, PartialEq)]
pub struct Offcut {
    /// What to write on it: `clear8-1-a`.
    pub name: String,
    /// Lower left and upper right corner, mm.
    pub corners_mm: [DVec2; 2],
}

/// One straight cut of a saw, through all of the piece that it is made in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SawCut {
    /// From here to there, mm: the middle of the blade.
    pub ends_mm: [DVec2; 2],
    /// How many cuts lie above it in the tree of cuts: 0 for the first.
    pub depth: usize,
}
