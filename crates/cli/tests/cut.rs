//! What `cut` prints and writes, and what it says of a process that cannot do it.

mod common;

use std::fs;
use std::io::Read;

use common::{all_of, contents, run};

/// A small sump below a display: two chambers, one weir, a door.
const SMALL: &str = include_str!("water/small.toml");

fn folder(text: &str) -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), text).expect("written");
    dir
}

/// The small sump with lines added, and sheets to buy.
fn priced(more: &str) -> String {
    let sheet = "thickness = 8\n";
    assert!(SMALL.contains(sheet), "the small sump has sheet of 8 mm");
    let stock = "thickness = 8\nstock = [{ size = [2050, 1525], price = 148 }, { size = [1000, 600], price = 40 }]\n";
    SMALL.replacen(sheet, stock, 1) + more
}

#[track_caller]
fn check(name: &str, text: &str) {
    let dir = folder(text);
    insta::assert_snapshot!(name, all_of(&run(dir.path(), &["cut", "sump.toml"])));
}

#[test]
fn sheets_and_costs_of_a_small_sump() {
    check("cut", &priced("\n[costs]\ncurrency = \"EUR\"\nmachine_hour = [50, 90]\n"));
    check("cut_us", &priced("").replace("report = \"metric\"", "report = \"us\""));
    check("cut_without_stock", SMALL);
}

#[test]
fn what_no_sheet_is_large_enough_for() {
    let small = SMALL.replacen(
        "thickness = 8\n",
        "thickness = 8\nstock = [{ size = [500, 400], price = 9 }]\n",
        1,
    );
    check("cut_too_small", &small);
}

#[test]
fn a_laser_for_pvc_is_refused() {
    let pvc = priced("\n[cutting]\nprocess = \"laser\"\n").replace("cast acrylic", "PVC");
    let dir = folder(&pvc);
    let refused = run(dir.path(), &["cut", "sump.toml", "--into", "shop"]);
    let said = all_of(&refused);
    assert_eq!(refused.status.code(), Some(1), "{said}");
    assert!(said.contains("nothing was written: a finding fails"), "{said}");
    assert!(!dir.path().join("shop").exists());
}

#[test]
fn what_is_left_of_an_earlier_package_is_named() {
    let dir = folder(&priced(""));
    fs::create_dir(dir.path().join("shop")).expect("made");
    fs::write(dir.path().join("shop/clear-7.dxf"), "old").expect("written");
    let said = all_of(&run(dir.path(), &["cut", "sump.toml", "--into", "shop"]));
    assert!(said.contains("`shop/clear-7.dxf` was there before"), "{said}");
    assert_eq!(said.matches("was there before").count(), 1, "{said}");
}

#[test]
fn the_package_is_the_same_every_time_and_holds_what_a_shop_needs() {
    let dir = folder(&priced("\n[cutting]\ndraw = \"tool\"\n"));
    let written = |name: &str| {
        let ran = run(dir.path(), &["cut", "sump.toml", "--into", name]);
        assert_eq!(ran.status.code(), Some(0), "{}", all_of(&ran));
        contents(&dir.path().join(name))
    };
    let first = written("one");
    assert_eq!(first, written("two"), "the same bytes");
    let drawing = String::from_utf8_lossy(&first["clear-1.dxf"]).into_owned();
    assert!(drawing.contains("tool path cut through outline"));
    assert!(first["glue-up-guide.pdf"].starts_with(b"%PDF"));
    let mut zip =
        zip::ZipArchive::new(std::io::Cursor::new(&first["for-the-shop.zip"])).expect("a zip");
    let names: Vec<String> =
        zip.file_names().map(|name| name.expect("a name").into_owned()).collect();
    assert_eq!(names[0], "letter-to-the-shop.pdf");
    for name in ["cutting-sheets.pdf", "drawings.pdf", "sheets/clear-1.dxf", "panels/01-bottom.dxf"]
    {
        assert!(names.iter().any(|there| there == name), "{name} is in {names:?}");
    }
    assert!(names.iter().all(|name| !name.contains("glue")), "the guide is the maker's: {names:?}");
    let mut sheet = Vec::new();
    let mut packed = zip.by_name("sheets/clear-1.dxf").expect("there");
    packed.read_to_end(&mut sheet).expect("readable");
    assert_eq!(sheet, first["clear-1.dxf"]);
}
