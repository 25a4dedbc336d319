//! What can fail.

use design::{BasinId, Strainer, Waterworks, Way};

/// One failure. Indices are those of [`Waterworks`].
#[derive(Clone, Debug, PartialEq)]
pub enum Failure {
    /// All pumps stop and stay off.
    PowerCut,
    /// All pumps stop and start again after a while.
    PowerBack,
    /// These drains are blocked.
    DrainsBlocked {
        /// The drains.
        drains: Vec<usize>,
        /// What reports call them.
        name: String,
    },
    /// No sock passes anything.
    SocksClogged,
    /// No strainer in an opening of a leaf passes anything.
    StrainersClogged,
    /// A lift-out leaf has been left out.
    LeafMissing {
        /// Its divider.
        divider: String,
        /// Which leaf of the divider.
        place: usize,
        /// Its name.
        leaf: String,
    },
    /// A door has come off.
    DoorOff {
        /// Its leaf.
        leaf: String,
    },
    /// A door has been pushed up as far as it goes.
    DoorShut {
        /// Its leaf.
        leaf: String,
    },
    /// The float sticks and the top-up runs.
    TopUpStuck,
    /// Nothing tops up.
    NoTopUp,
    /// The power is cut and a check valve does not close.
    CheckValveFails {
        /// The line.
        line: usize,
    },
    /// The power is cut and the hole that should let air in is blocked.
    BreakHoleBlocked {
        /// The line.
        line: usize,
    },
    /// The lowest seam of a chamber leaks.
    SeamLeaks {
        /// The chamber.
        basin: BasinId,
    },
    /// A skimmer throws water out over its cup.
    CupOverflows {
        /// The skimmer.
        skimmer: usize,
        /// Whether the holes of the lid under it are blocked.
        has_blocked_holes: bool,
    },
    /// Several at once.
    Together(Vec<Self>),
}

/// Every strainer in a leaf that is in, with its way.
pub(crate) fn strainers(works: &Waterworks) -> impl Iterator<Item = (&Way, &Strainer)> {
    let ways = works.ways.iter().filter(|way| way.is_in);
    ways.flat_map(|way| way.strainers.iter().map(move |strainer| (way, strainer)))
}

impl Failure {
    /// What reports call it, and what a parameter file names it by.
    pub fn name(&self, works: &Waterworks) -> String {
        match self {
            Self::PowerCut => "power cut".to_owned(),
            Self::PowerBack => "power back".to_owned(),
            Self::DrainsBlocked { name, .. } => format!("{name} blocked"),
            Self::SocksClogged => "socks clogged".to_owned(),
            Self::StrainersClogged => "strainers clogged".to_owned(),
            Self::LeafMissing { leaf, .. } => format!("leaf {leaf} missing"),
            Self::DoorOff { leaf } => format!("door of {leaf} off"),
            Self::DoorShut { leaf } => format!("door of {leaf} shut"),
            Self::TopUpStuck => "top-up stuck open".to_owned(),
            Self::NoTopUp => "no top-up".to_owned(),
            Self::CheckValveFails { line } => {
                format!("check valve of {} fails", works.lines[*line].pump)
            }
            Self::BreakHoleBlocked { line } => {
                format!("break hole of {} blocked", works.lines[*line].pump)
            }
            Self::SeamLeaks { basin } => format!("seam of {} leaks", works.basins[*basin].name),
            Self::CupOverflows { skimmer, has_blocked_holes } => {
                let name = &works.skimmers[*skimmer].name;
                let holes = if *has_blocked_holes { ", lid holes blocked" } else { "" };
                format!("cup of {name} overflows{holes}")
            }
            Self::Together(failures) => {
                let names: Vec<String> = failures.iter().map(|f| f.name(works)).collect();
                names.join(" + ")
            }
        }
    }

    /// What happens, in a sentence.
    pub fn words(&self, works: &Waterworks) -> String {
        match self {
            Self::PowerCut => {
                "the power goes out: all pumps stop, that of the top-up too, and the display runs back as far as it can"
                    .to_owned()
            }
            Self::PowerBack => {
                "the power goes out for half an hour and comes back: the drains have to start again"
                    .to_owned()
            }
            Self::DrainsBlocked { name, .. } => {
                format!("something gets into the {name} and blocks the flow")
            }
            Self::SocksClogged => "every sock is clogged: all water takes the bypass".to_owned(),
            Self::StrainersClogged => {
                "every strainer in a leaf is clogged: nothing passes the openings behind them".to_owned()
            }
            Self::LeafMissing { leaf, divider, .. } => format!(
                "the lift-out leaf `{leaf}` of divider `{divider}` has been taken out and left out"
            ),
            Self::DoorOff { leaf } => {
                format!("the door of leaf `{leaf}` comes off: its whole opening is open")
            }
            Self::DoorShut { leaf } => {
                format!("the door of leaf `{leaf}` is pushed up to its highest setting")
            }
            Self::TopUpStuck => {
                "the float of the top-up sticks: the reservoir runs empty into the sump".to_owned()
            }
            Self::NoTopUp => {
                "nothing tops up: evaporation lowers the return chamber until the pump draws air"
                    .to_owned()
            }
            Self::CheckValveFails { line } => format!(
                "the power goes out and the check valve of `{}` does not close",
                works.lines[*line].pump
            ),
            Self::BreakHoleBlocked { line } => format!(
                "the power goes out and the break hole in the line of `{}` is blocked, and nothing else holds the water: it runs back down to the lower edge of the outlet",
                works.lines[*line].pump
            ),
            Self::SeamLeaks { basin } => format!(
                "the seam between bottom and walls of chamber `{}` opens",
                works.basins[*basin].name
            ),
            Self::CupOverflows { skimmer, has_blocked_holes } => {
                let holes =
                    if *has_blocked_holes { ", and the holes of the lid are blocked" } else { "" };
                format!(
                    "`{}` runs wild and throws water out over its cup{holes}",
                    works.skimmers[*skimmer].name
                )
            }
            Self::Together(failures) => {
                let words: Vec<String> = failures.iter().map(|f| f.words(works)).collect();
                words.join("; ")
            }
        }
    }

    /// Path of the parameter that has most to do with it; empty for the whole file.
    pub fn parameter(&self, works: &Waterworks) -> String {
        match self {
            Self::DrainsBlocked { drains, .. } => {
                drains.first().map_or_else(String::new, |&k| works.drains[k].parameter.clone())
            }
            Self::SocksClogged => {
                works.shelves.first().map_or_else(String::new, |s| s.parameter.clone())
            }
            Self::StrainersClogged => strainers(works)
                .next()
                .map_or_else(String::new, |(_, strainer)| strainer.parameter.clone()),
            Self::LeafMissing { leaf, .. } => format!("leaf.{leaf}"),
            Self::DoorOff { leaf } | Self::DoorShut { leaf } => format!("leaf.{leaf}.door"),
            Self::TopUpStuck | Self::NoTopUp => "top_up".to_owned(),
            Self::CheckValveFails { line } | Self::BreakHoleBlocked { line } => {
                works.lines[*line].parameter.clone()
            }
            Self::SeamLeaks { basin } => works.basins[*basin].parameter.clone(),
            Self::CupOverflows { skimmer, .. } => works.skimmers[*skimmer].parameter.clone(),
            Self::PowerCut | Self::PowerBack => "display".to_owned(),
            Self::Together(_) => "rehearsals.together".to_owned(),
        }
    }
}
