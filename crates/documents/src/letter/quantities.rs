//! How many panels of what, and who brings the sheets.

use std::collections::BTreeSet;

use design::{Design, PieceId};
use paper::Block;
use shop::StockPlan;
use units::Length;

use crate::prose::{Kind, count, table, words};

/// Quantities, sheet by sheet.
pub(super) fn sheets(design: &Design, plans: &[StockPlan]) -> Vec<Block> {
    if plans.is_empty() {
        let pieces = design.pieces.iter().filter(|piece| piece.role.is_sheet());
        let n: usize = pieces.map(|piece| piece.quantity).sum();
        return vec![words(format!("{} in all; lay them out as it suits you.", count(n, "panel")))];
    }
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let fine = |mm: f64| Length::mm(mm).show_fine(design.report);
    let rows = plans.iter().flat_map(|plan| {
        let sheet = design.sheets.get(&plan.sheet);
        let material = design.pieces.iter().find(|p| p.sheet.as_deref() == Some(&plan.sheet));
        let material = material.map_or(String::new(), |p| p.material.clone());
        let thickness = sheet.map_or(String::new(), |s| fine(s.nominal_mm));
        plan.sheets.iter().map(move |laid| {
            let kinds: BTreeSet<PieceId> = laid.laid.iter().map(|one| one.piece).collect();
            [
                laid.name.clone(),
                format!("{material}, {thickness}"),
                format!("{} × {}", show(laid.size_mm.x), show(laid.size_mm.y)),
                laid.laid.len().to_string(),
                kinds.len().to_string(),
                if laid.is_own { "from me" } else { "from you" }.to_owned(),
            ]
        })
    });
    let columns = [
        ("sheet", Kind::Name),
        ("material", Kind::Words),
        ("size", Kind::Number),
        ("panels", Kind::Number),
        ("of so many kinds", Kind::Number),
        ("from", Kind::Name),
    ];
    vec![table(columns, rows)]
}
