//! What would make a panel hold, in words, from what was tried.

use design::{Design, Role};
use units::{Length, System};

use super::guides::ShortGuides;
use crate::panel::{Panel, TRIED_RIM_MM};
use crate::panels::sizes;

/// What helps a bottom on a frame first.
pub(crate) const LAY_FLAT: &str = "lay it on a flat board all over, with the mat that the sheet's maker wants, and write `bottom = \"flat\"` under `[strength]`";

/// All that was tried, and what else helps; the cause first where it is known.
pub(crate) fn words(panel: &Panel, design: &Design, system: System) -> String {
    let remedies = &panel.remedies;
    let mut told: Vec<String> =
        ShortGuides::of(panel, design).map(|guides| guides.remedy()).into_iter().collect();
    if design.pieces[panel.piece].role == Role::Bottom {
        told.push(LAY_FLAT.to_owned());
    }
    told.push(sheet(panel, system));
    // Seen as it is told: 0.996 is 1.00.
    let tried = |[factor, bulge]: [f64; 2]| {
        let enough = if factor < 0.995 { ", not enough alone" } else { "" };
        format!("factor {factor:.2} and {} of bulge{enough}", Length::mm(bulge).show(system))
    };
    if let Some(with) = remedies.with_rim {
        let width = Length::mm(TRIED_RIM_MM).show(system);
        told.push(format!("a rim {width} wide gives {}", tried(with)));
    }
    if let Some(with) = remedies.wider_rim {
        told.push(format!("a rim half as wide again gives {}", tried(with)));
    }
    if let Some(with) = remedies.one_more_brace {
        told.push(format!("one more brace in the longest stretch gives {}", tried(with)));
    }
    if design.pieces[panel.piece].role == Role::Leaf {
        told.push("or never drain one side of it alone".to_owned());
    }
    told.join("; ")
}

/// The thinnest sheet that would hold, with the thickness that was taken for it.
pub(crate) fn sheet(panel: &Panel, system: System) -> String {
    let remedies = &panel.remedies;
    let (Some(mm), Some(least)) = (remedies.thinnest_mm, remedies.thinnest_least_mm) else {
        let most = sizes::words(remedies.tried_to_mm, system);
        return format!("no sheet up to {most} was found to hold");
    };
    let mut left_out = vec!["corners of openings", "seams"];
    if remedies.without_screws {
        left_out.push("screws");
    }
    let rim = if remedies.with_its_rim { ", with the rim of the same sheet," } else { "" };
    format!(
        "sheet of {}{rim} would hold the loads that decide (reckoned with {}, the least that it may be; {} left out)",
        sizes::words(mm, system),
        Length::mm(least).show(system),
        and(&left_out)
    )
}

fn and(words: &[&str]) -> String {
    match words {
        [all @ .., last] if !all.is_empty() => format!("{} and {last}", all.join(", ")),
        _ => words.concat(),
    }
}
