//! The pictures under `renders/` are those that this version draws. `UPDATE_GOLDEN=1` keeps the new ones;
//! look at them before committing.

mod common;

use std::path::{Path, PathBuf};
use std::{env, fs};

use common::{DEMOS, all_of, demo, run};
use scene::{Image, View};

/// Differences of a channel up to this are not seen.
const TOLERANCE: u8 = 1;
/// Share of the pixels that may differ by more.
const MOST_SHARE: f64 = 1e-4;

#[test]
fn the_pictures_of_the_demos_are_up_to_date() {
    let renders = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../renders");
    let dir = tempfile::tempdir().expect("a temporary folder");
    let mut old = Vec::new();
    for name in DEMOS {
        let file = demo(name);
        let file = file.to_str().expect("a path in letters");
        let output = run(dir.path(), &["picture", file, "--into", "."]);
        assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
        for view in View::ALL {
            let picture = format!("{name}-{}.png", view.name());
            old.extend(difference(&renders.join(&picture), &dir.path().join(&picture)));
        }
    }
    assert!(old.is_empty(), "old pictures: {old:#?}");
}

/// What is wrong with a kept picture; with `UPDATE_GOLDEN` it is replaced instead.
fn difference(kept: &Path, drawn: &Path) -> Option<String> {
    if env::var_os("UPDATE_GOLDEN").is_some() {
        fs::copy(drawn, kept).expect("copied");
    }
    let read = |path: &Path| Image::from_png(&fs::read(path).ok()?).ok();
    let actual = read(drawn).expect("it was just drawn");
    let Some(expected) = read(kept) else {
        return Some(format!("{} is not there", kept.display()));
    };
    let comparison = expected.compared(&actual, TOLERANCE);
    (comparison.share > MOST_SHARE).then(|| {
        let sheet = shown(kept);
        fs::write(&sheet, expected.beside(&actual).to_png().expect("a picture has pixels"))
            .expect("written");
        format!("{comparison:?}: expected, difference and actual are in {}", sheet.display())
    })
}

fn shown(kept: &Path) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("../golden");
    fs::create_dir_all(&folder).expect("made");
    folder.join(kept.file_name().expect("a picture has a name"))
}
