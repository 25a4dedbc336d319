//! What would make a panel hold, in words, from what was tried.

use design::{Design, Role, Sheet};
use units::{Length, System};

use super::guides::ShortGuides;
use crate::panel::{Panel, TRIED_RIM_MM};

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
    told.push(sheet(panel, design, system));
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
pub(crate) fn sheet(panel: &Panel, design: &Design, system: System) -> String {
    let show = |mm: f64| Length::mm(mm).show(system);
    match panel.remedies.thinnest_mm {
        Some(mm) => {
            let least = least_mm(panel, design, mm).map_or(String::new(), |least| {
                format!(
                    "reckoned with {}, its nominal thickness less the usual tolerance; ",
                    show(least)
                )
            });
            format!(
                "sheet of {} would hold the loads that decide ({least}corners of openings and seams left out)",
                show(mm)
            )
        }
        None => "no sheet up to 30 mm was found to hold".to_owned(),
    }
}

/// Thickness that a sheet of the panel's material may have at least when it is ordered so thick, mm.
fn least_mm(panel: &Panel, design: &Design, nominal_mm: f64) -> Option<f64> {
    let material = design.sheets.get(&panel.sheet)?.material;
    Some(nominal_mm - Sheet::deviation_of(material, nominal_mm))
}
