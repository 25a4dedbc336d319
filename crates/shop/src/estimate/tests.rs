//! Guards what an estimate adds up, and what it says that it does not.

use super::*;
use crate::film::film;
use crate::hardware::hardware;
use crate::sheets::lay;
use crate::work::works;

fn of_demo(name: &str, change: impl Fn(&mut params::File)) -> Estimate {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let read = params::read(&std::fs::read_to_string(path).expect("the demo is there"));
    let mut file = read.file.expect("it reads");
    change(&mut file);
    let design = design::resolve(&file).design.expect("it resolves");
    let (works, _) = works(&file, &design);
    let (plans, _) = lay(&file, &design, &works);
    estimate(&file, &design, &works, &plans, film(&file, &design).as_ref(), &hardware(&design))
}

#[test]
fn the_total_is_the_sum_of_the_rows() {
    let estimate = of_demo("brook", |_| {});
    assert!(
        !estimate.rows.is_empty() && estimate.rows.iter().all(|row| row.money[0] <= row.money[1])
    );
    let [least, most] = estimate.total.expect("it has prices");
    let sum = |end: usize| estimate.rows.iter().map(|row| row.money[end]).sum::<f64>();
    assert!((least - sum(0)).abs() < 1e-9 && (most - sum(1)).abs() < 1e-9);
}

#[test]
fn what_has_no_price_is_told_and_not_added() {
    let priced = of_demo("brook", |_| {});
    let bare = of_demo("brook", |file| {
        file.costs = params::Costs::default();
        file.background = None;
        file.sheet.values_mut().for_each(|sheet| sheet.stock.clear());
    });
    assert!(bare.total.is_none() && bare.rows.is_empty(), "{:#?}", bare.rows);
    for words in ["machine_hour", "solvent_litre", "stock"] {
        assert!(
            bare.not_reckoned.iter().any(|line| line.contains(words)),
            "{words}: {:#?}",
            bare.not_reckoned
        );
    }
    // The time is known all the same.
    assert!(bare.machine_minutes[0] > 0.0 && bare.machine_minutes[0] < bare.machine_minutes[1]);
    assert!(priced.not_reckoned.len() < bare.not_reckoned.len());
}

#[test]
fn a_price_of_a_thing_that_is_in_no_list_is_told() {
    let estimate = of_demo("brook", |file| {
        file.costs.each.insert("flux capacitor".into(), 5.0);
    });
    assert!(estimate.not_reckoned.iter().any(|line| line.contains("flux capacitor")));
}

#[test]
fn more_passes_take_longer() {
    let fast = of_demo("brook", |_| {});
    let slow = of_demo("brook", |file| file.cutting.pass_depth = Some(units::Length::mm(1.0)));
    let cut =
        |estimate: &Estimate| estimate.times.iter().map(SheetTime::cut_length_mm).sum::<f64>();
    assert!(cut(&slow) > 2.0 * cut(&fast));
    assert!(slow.machine_minutes[0] > fast.machine_minutes[0]);
}
