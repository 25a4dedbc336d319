//! Sheets for which no order of straight cuts was found.

use ::findings::Finding;

use crate::{LaidSheet, StockPlan};

/// Sheets that are to be cut straight through and have no cuts, one finding each.
pub(super) fn unsawn(plan: &StockPlan) -> Vec<Finding> {
    let sheets = plan.sheets.iter().filter(|sheet| plan.is_straight_through && lacks_cuts(sheet));
    sheets.map(|sheet| told(plan, sheet)).collect()
}

/// No part is as large as its sheet: the blade goes along every edge.
fn lacks_cuts(sheet: &LaidSheet) -> bool {
    sheet.saw_cuts.is_empty() && !sheet.laid.is_empty()
}

fn told(plan: &StockPlan, sheet: &LaidSheet) -> Finding {
    let message = format!(
        "sheet `{}` has no plan for the saw: wherever a cut as wide as the blade would go straight through what is left, it meets one of its {} parts",
        sheet.name,
        sheet.laid.len()
    );
    Finding::not_checked("no-saw-plan", format!("sheet.{}.stock", plan.sheet), message)
        .with_source("our search: any cut that meets no part is as good as another, so none was overlooked")
        .with_hint("leave more between parts (`cutting.spacing`), or check `cutting.kerf`, and ask the shop before it cuts this sheet")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::tests::sawn_plan;

    #[test]
    fn a_sheet_without_cuts_is_told() {
        let mut plan = sawn_plan();
        assert_eq!(unsawn(&plan), []);
        plan.sheets[0].saw_cuts.clear();
        let found = unsawn(&plan);
        assert_eq!(found.len(), 1);
        assert!(found[0].message.contains(&format!("`{}`", plan.sheets[0].name)));
        plan.is_straight_through = false;
        assert_eq!(unsawn(&plan), []);
    }
}
