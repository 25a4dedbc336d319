//! The cheapest choice among sheets that were seen.

use microlp::{ComparisonOp, OptimizationDirection, Problem};

use super::search::Pool;
use super::{Item, Kind, Put, Sheet, sheets_cost};

/// Sheets that are considered: those on which an area costs least.
const MOST: usize = 1500;

/// A set of sheets from the pool on which everything lies, when one is found that is cheaper than the one that is known.
pub(super) fn cheapest(items: &[Item], kinds: &[Kind], pool: &Pool, known: &[Sheet]) -> Vec<Sheet> {
    choose(items, kinds, pool, known)
        .filter(|chosen| sheets_cost(chosen, kinds) < sheets_cost(known, kinds))
        .unwrap_or_else(|| known.to_vec())
}

fn choose(items: &[Item], kinds: &[Kind], pool: &Pool, known: &[Sheet]) -> Option<Vec<Sheet>> {
    let mut sheets: Vec<(&[usize], &Sheet)> = pool.sheets().collect();
    let price = |sheet: &Sheet| {
        let area: i64 = sheet.puts.iter().map(|put| items[put.item].size.area()).sum();
        kinds[sheet.kind].cost as f64 / area.max(1) as f64
    };
    sheets.sort_by(|a, b| price(a.1).total_cmp(&price(b.1)));
    sheets.truncate(MOST);
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let most = i32::try_from(items.len()).ok()?;
    let numbers: Vec<_> = sheets
        .iter()
        .map(|(_, sheet)| problem.add_integer_var(kinds[sheet.kind].cost as f64, (0, most)))
        .collect();
    let mut firsts = pool.sorts.clone();
    firsts.sort_unstable();
    firsts.dedup();
    for first in firsts {
        let count = |sorts: &[usize]| sorts.iter().filter(|sort| **sort == first).count();
        let wanted = count(&pool.sorts) as f64;
        let terms =
            numbers.iter().zip(&sheets).map(|(number, (sorts, _))| (*number, count(sorts) as f64));
        let terms: Vec<_> = terms.filter(|(_, count)| 0.0 < *count).collect();
        problem.add_constraint(terms.as_slice(), ComparisonOp::Ge, wanted);
    }
    for (k, kind) in kinds.iter().enumerate() {
        let Some(quantity) = kind.quantity else { continue };
        let of_kind = numbers.iter().zip(&sheets).filter(|(_, (_, sheet))| sheet.kind == k);
        let terms: Vec<_> = of_kind.map(|(number, _)| (*number, 1.0)).collect();
        problem.add_constraint(terms.as_slice(), ComparisonOp::Le, quantity as f64);
    }
    let _ = known;
    let solution = problem.solve().ok()?.into_solution().ok()?;
    let mut waiting: Vec<Vec<usize>> = vec![Vec::new(); items.len()];
    for (item, sort) in pool.sorts.iter().enumerate() {
        waiting[*sort].push(item);
    }
    let mut chosen = Vec::new();
    for (number, (_, sheet)) in numbers.iter().zip(&sheets) {
        let mut left = solution.var_value(*number).round();
        while 0.5 < left {
            left -= 1.0;
            let put = |put: &Put| Some(Put { item: waiting[pool.sorts[put.item]].pop()?, ..*put });
            let puts: Vec<Put> = sheet.puts.iter().filter_map(put).collect();
            if !puts.is_empty() {
                chosen.push(Sheet { kind: sheet.kind, puts });
            }
        }
    }
    waiting.iter().all(Vec::is_empty).then_some(chosen)
}
