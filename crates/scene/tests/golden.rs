//! Guards how pictures look: each view of a sump made by hand, against the picture that was looked at
//! and kept. `UPDATE_GOLDEN=1` keeps the new ones; look at them before committing.

mod sample;

use std::fs;
use std::path::{Path, PathBuf};

use scene::{Image, Scene, View, draw};

/// Differences of a channel up to this are not seen.
const TOLERANCE: u8 = 1;
/// Share of the pixels that may differ by more.
const MOST_SHARE: f64 = 1e-4;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden")
}

#[track_caller]
fn check(name: &str, scene: &Scene, view: View) {
    let actual = draw(scene, view, [640, 400]).expect("the size is allowed");
    let path = folder().join(format!("{name}-{}.png", view.name()));
    if std::env::var_os("UPDATE_GOLDEN").is_some() {
        fs::create_dir_all(folder()).expect("the folder can be made");
        fs::write(&path, actual.to_png().expect("a picture has pixels"))
            .expect("the file can be written");
    }
    let kept = fs::read(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    let expected = Image::from_png(&kept).expect("it is a picture");
    let comparison = expected.compared(&actual, TOLERANCE);
    if comparison.share > MOST_SHARE {
        let shown = Path::new(env!("CARGO_TARGET_TMPDIR")).join("../golden");
        fs::create_dir_all(&shown).expect("the folder can be made");
        let sheet = shown.join(format!("{name}-{}.png", view.name()));
        fs::write(&sheet, expected.beside(&actual).to_png().expect("a picture has pixels"))
            .expect("the file can be written");
        panic!("{comparison:?}: expected, difference and actual are in {}", sheet.display());
    }
}

#[test]
fn clear_sump() {
    let scene = sample::sump();
    for view in View::ALL {
        check("clear", &scene, view);
    }
}

#[test]
fn opaque_sump() {
    let scene = sample::sump_of(sample::GREY);
    for view in [View::Whole, View::Section] {
        check("opaque", &scene, view);
    }
}
