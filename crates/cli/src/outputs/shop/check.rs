//! What other programs must find on the sheets.

use design::Design;
use params::File;
use plate::Contour;
use serde_json::{Map, Value, json};
use shop::{Laid, LaidSheet, Offcut, StockPlan};
use study::Shopped;

use crate::files::Files;

/// Adds `checks/shop.json`.
pub(in crate::outputs) fn add(files: &mut Files, file: &File, design: &Design, shopped: &Shopped) {
    let text = serde_json::to_string(&sheets_json(file, design, shopped));
    let text = text.expect("plain data can be written") + "\n";
    files.add_fixed("checks/shop.json", "what to find on the sheets", text);
}

/// All sheets, with the true outlines of the parts as polygons on them; lengths in mm, the origin in the lower left
/// corner of each sheet.
pub(crate) fn sheets_json(file: &File, design: &Design, shopped: &Shopped) -> Value {
    let plans = shopped.plans.iter();
    let sheets = plans.clone().flat_map(|plan| {
        plan.sheets.iter().map(|sheet| sheet_json(file, design, shopped, plan, sheet))
    });
    let laid = shopped.works.iter().filter(|work| {
        let sheet = design.pieces[work.piece].sheet.as_ref();
        shopped.plans.iter().any(|plan| Some(&plan.sheet) == sheet)
    });
    let wanted = laid.map(|work| {
        let piece = &design.pieces[work.piece];
        (piece.number.clone(), json!(piece.quantity))
    });
    json!({
        "sheets": sheets.collect::<Vec<_>>(),
        "wanted": wanted.collect::<Map<String, Value>>(),
        "prices": plans.map(|plan| [plan.price, plan.least_price]).collect::<Vec<_>>(),
    })
}

fn sheet_json(
    file: &File,
    design: &Design,
    shopped: &Shopped,
    plan: &StockPlan,
    sheet: &LaidSheet,
) -> Value {
    let cutting = file.cutting_of(Some(&plan.sheet));
    let part = |laid: &Laid| {
        let loops = shopped.work(laid.piece).map_or(&[][..], |work| &work.pattern.through);
        let on_sheet = |contour: &Contour| polygon(&contour.moved(|p| laid.point(p), false));
        json!({
            "piece": design.pieces[laid.piece].number,
            "name": design.pieces[laid.piece].name,
            "copy": laid.copy,
            "is_in_opening": laid.is_in_opening,
            "loops": loops.iter().map(on_sheet).collect::<Vec<_>>(),
        })
    };
    let offcut = |offcut: &Offcut| json!({ "name": offcut.name, "corners_mm": offcut.corners_mm });
    json!({
        "name": sheet.name,
        "sheet": plan.sheet,
        "size_mm": sheet.size_mm,
        "price": sheet.price,
        "is_price_proved": plan.is_proved,
        "margin_mm": cutting.margin.to_mm(),
        "spacing_mm": cutting.spacing.to_mm(),
        "cut_mm": cutting.cut_width().to_mm(),
        "is_straight_through": plan.is_straight_through,
        "laid": sheet.laid.iter().map(part).collect::<Vec<_>>(),
        "offcuts": sheet.offcuts.iter().map(offcut).collect::<Vec<_>>(),
        "saw_cuts": sheet.saw_cuts.iter().map(|cut| cut.ends_mm).collect::<Vec<_>>(),
    })
}

/// Corners of a contour; arcs are divided so that their chords stay within [`CHORD_ERROR_MM`].
fn polygon(contour: &Contour) -> Vec<[f64; 2]> {
    let points = contour.0.iter().flat_map(|piece| {
        let sweep = piece.arc.map_or(0.0, |arc| arc.sweep.abs());
        let radius = piece.radius().unwrap_or(1.0).max(CHORD_ERROR_MM);
        // A chord over the angle a stays r (1 − cos a/2) < r a²/8 from its arc.
        let step = (8.0 * CHORD_ERROR_MM / radius).sqrt();
        let mut n = 1;
        while f64::from(n) * step < sweep {
            n += 1;
        }
        (0..n).map(move |k| piece.point_at(f64::from(k) / f64::from(n)).to_array())
    });
    points.collect()
}

/// How far a chord may stay from its arc, mm: a tenth of the grid that parts are laid on.
const CHORD_ERROR_MM: f64 = 0.001;
