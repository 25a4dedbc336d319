//! What other programs must find on the sheets.

use params::File;
use plate::Contour;
use serde_json::{Value, json};
use shop::{LaidSheet, StockPlan};
use study::Shopped;

use crate::files::Files;

/// Adds `checks/shop.json`: what other programs must find on the sheets.
pub(in crate::outputs) fn add(files: &mut Files, file: &File, shopped: &Shopped) {
    let text = serde_json::to_string(&plans_json(file, shopped))
        .expect("plain data can be written")
        + "\n";
    files.add_fixed("checks/shop.json", "what to find on the sheets", text);
}

/// Every plan, with the true outlines of the parts as polygons on the sheet.
pub(crate) fn plans_json(file: &File, shopped: &Shopped) -> Vec<Value> {
    shopped.plans.iter().map(|plan| plan_json(file, shopped, plan)).collect()
}

fn plan_json(file: &File, shopped: &Shopped, plan: &StockPlan) -> Value {
    let cutting = &file.cutting;
    let laid = |sheet: &LaidSheet| -> Vec<Value> {
        let part = |laid: &shop::Laid| {
            let loops = shopped.work(laid.piece).map_or(&[][..], |work| &work.pattern.through);
            let on_sheet = |contour: &Contour| polygon(&contour.moved(|p| laid.point(p), false));
            json!({
                "piece": laid.piece,
                "copy": laid.copy,
                "is_in_opening": laid.is_in_opening,
                "loops": loops.iter().map(on_sheet).collect::<Vec<_>>(),
            })
        };
        sheet.laid.iter().map(part).collect()
    };
    let sheet = |sheet: &LaidSheet| {
        let cuts: Vec<_> = sheet
            .saw_cuts
            .iter()
            .map(|cut| json!({ "ends_mm": cut.ends_mm, "depth": cut.depth }))
            .collect();
        let offcuts: Vec<_> = sheet
            .offcuts
            .iter()
            .map(|offcut| json!({ "name": offcut.name, "corners_mm": offcut.corners_mm }))
            .collect();
        json!({
            "name": sheet.name,
            "stock": sheet.stock,
            "size_mm": sheet.size_mm,
            "price": sheet.price,
            "margin_mm": shop::sheets::gaps::edge_mm(cutting),
            "spacing_mm": shop::sheets::gaps::between_mm(cutting),
            "cut_mm": cutting.cut_width().to_mm(),
            "laid": laid(sheet),
            "offcuts": offcuts,
            "saw_cuts": cuts,
        })
    };
    json!({
        "sheet": plan.sheet,
        "price": plan.price,
        "least_price": plan.least_price,
        "is_proved": plan.is_proved,
        "is_straight_through": plan.is_straight_through,
        "sheets": plan.sheets.iter().map(sheet).collect::<Vec<_>>(),
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
