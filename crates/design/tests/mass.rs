//! Guards what parts are said to weigh.

mod common;

use common::demo;
use design::RemovableKind;

/// A plain wall against length × breadth × thickness × density by hand, and the sump against its sheet.
#[test]
fn sheet_weighs_its_volume_times_its_density() {
    let d = demo("brook");
    let bottom = d.pieces.iter().find(|p| p.role == design::Role::Bottom).expect("a bottom");
    let kg = bottom.mass_kg().expect("it is sheet");
    let plate::Shape::Sheet(plate) = &bottom.shape else { panic!("it is sheet") };
    let [lo, hi] = plate.outline.bounds().expect("it has an outline");
    let whole = (hi - lo).element_product() * plate.thickness * 1e-9;
    let whole = whole * bottom.density_kg_m3.expect("it is sheet");
    assert!(kg <= whole * 1.000_001 && kg > 0.8 * whole, "{kg} of {whole}");
    let sump = d.removables.iter().find(|r| r.kind == RemovableKind::Sump).expect("the sump");
    let all = d.mass(sump);
    assert!(all.at_least_kg().is_some_and(|sum| sum > kg), "{all:?}");
}

#[test]
fn what_is_bought_has_no_known_mass() {
    let d = demo("mangrove");
    let pumps: Vec<_> =
        d.removables.iter().filter(|r| r.kind == RemovableKind::Equipment).collect();
    assert!(!pumps.is_empty());
    for pump in pumps {
        let mass = d.mass(pump);
        assert_eq!(mass.at_least_kg(), None, "{}", pump.name);
        assert!(mass.n_unknown > 0);
    }
}

/// The weight is spread over all its bodies and comes together again.
#[test]
fn equipment_weighs_what_the_file_says_with_all_that_is_one_with_it() {
    let text = std::fs::read_to_string(format!(
        "{}/../../params/mangrove.toml",
        env!("CARGO_MANIFEST_DIR")
    ))
    .expect("the demo is there");
    let at = text.find("[[equipment]]").expect("it has equipment");
    let weighed = text[at..].replacen("[[equipment]]", "[[equipment]]\nweight = \"2400 g\"", 1);
    let d = common::resolved(&format!("{}{weighed}", &text[..at]));
    let known: Vec<_> = d
        .removables
        .iter()
        .filter(|r| r.kind == RemovableKind::Equipment)
        .filter_map(|r| d.mass(r).at_least_kg())
        .collect();
    assert!(matches!(known[..], [kg] if (kg - 2.4).abs() < 1e-12), "{known:?}");
}
