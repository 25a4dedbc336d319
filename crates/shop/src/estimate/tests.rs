//! Guards what an estimate adds up, and what it says that it does not.

use super::*;
use crate::film::film;
use crate::hardware::hardware;
use crate::sheets::lay;
use crate::work::OperationKind;
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
fn sheets_without_a_price_are_chosen_by_area_and_in_no_sum() {
    let bare = of_demo("seahorse", |file| {
        file.sheet
            .values_mut()
            .flat_map(|sheet| &mut sheet.stock)
            .for_each(|size| size.price = None);
    });
    assert!(bare.rows.iter().all(|row| !row.what.starts_with("sheet")), "{:#?}", bare.rows);
    let told =
        bare.not_reckoned.iter().any(|line| line.starts_with("1 sheet of `clear8`: no price"));
    assert!(told, "{:#?}", bare.not_reckoned);
    let own = bare
        .assumptions
        .iter()
        .any(|line| line == "1 sheet of `clear8` is your own and costs nothing.");
    assert!(own, "{:#?}", bare.assumptions);
}

#[test]
fn amounts_are_told_in_the_units_of_the_file() {
    let quantity = |estimate: &Estimate, what: &str| {
        let row = estimate.rows.iter().find(|row| row.what == what).expect("it is reckoned");
        row.quantity.clone()
    };
    let us = of_demo("seahorse", |file| file.report = params::Report::Us);
    assert!(
        quantity(&us, "solvent cement").ends_with(" fl oz")
            && quantity(&us, "film").ends_with(" ft²")
    );
    let metric = of_demo("seahorse", |_| {});
    assert!(
        quantity(&metric, "solvent cement").ends_with(" mL")
            && quantity(&metric, "film").ends_with(" m²")
    );
}

#[test]
fn a_price_of_a_thing_that_is_in_no_list_is_told() {
    let text = include_str!("../../../../params/brook.toml");
    let mut file = params::read(text).file.expect("understood");
    let hardware = hardware(&design::resolve(&file).design.expect("resolved"));
    file.costs.each.insert("flux capacitor".into(), 5.0);
    file.costs.each.insert(hardware[0].name.clone(), 5.0);
    let parameters: Vec<String> =
        unknown_prices(&file, &hardware).into_iter().map(|finding| finding.parameter).collect();
    assert_eq!(parameters, ["costs.each.flux capacitor"]);
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

#[test]
fn what_the_machine_does_not_make_is_told() {
    // The gate has two holes for screws that are narrower than the cutter.
    let estimate = of_demo("seahorse", |_| {});
    assert!(
        estimate.not_reckoned.iter().any(|line| line.starts_with("holes") && line.contains("(2)")),
        "{:#?}",
        estimate.not_reckoned
    );
}

#[test]
fn a_saw_goes_along_its_own_cuts_and_a_laser_in_one_pass() {
    let saw = of_demo("seahorse", |file| file.cutting.process = params::Process::Saw);
    assert!(saw.times.iter().all(|time| time.entries > 0 && time.minutes[0] < time.minutes[1]));
    assert!(
        saw.times.iter().all(|time| time.cut_mm.keys().all(|kind| *kind == OperationKind::Outline))
    );
    assert!(saw.not_reckoned.iter().any(|line| line.starts_with("inside cuts")));
    let laser = of_demo("seahorse", |file| file.cutting.process = params::Process::Laser);
    assert!(laser.times.iter().all(|time| time.passes == 1));
}
