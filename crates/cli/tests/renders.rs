//! The pictures under `renders/` are those that this version draws. `UPDATE_GOLDEN=1` keeps the new ones;
//! look at them before committing.

mod common;

use std::path::{Path, PathBuf};
use std::{env, fs};

use common::{DEMOS, all_of, demo, run};
use design::{Design, RemovableKind};
use fit::{Fit, Step};
use scene::{Image, Scene, View};
use solid::{Mesh, Solid};

/// Differences of a channel up to this are not seen.
const TOLERANCE: u8 = 1;
/// Share of the pixels that may differ by more.
const MOST_SHARE: f64 = 1e-4;

/// Width of a kept film strip, and its height at most, px: as small as its words can be read.
const STRIP: [usize; 2] = [960, 600];

#[test]
fn the_film_strip_of_the_hardest_way_out_of_each_demo_is_up_to_date() {
    let renders = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../renders");
    let dir = tempfile::tempdir().expect("a temporary folder");
    let mut old = Vec::new();
    for name in DEMOS {
        let text = fs::read_to_string(demo(name)).expect("the demo is there");
        let file = params::read(&text).file.expect("the demo can be read");
        let design = design::resolve(&file).design.expect("the demo gives a design");
        let steps = hardest(&design, &Fit::of(&design));
        let (step, before) = steps.split_last().expect("every leaf of a demo comes out");
        let gone: Vec<usize> = before.iter().map(|step| step.removable).collect();
        let scene = surrounded(&design);
        let png = scene::strip(&scene, &design, step, &gone, STRIP).expect("it can be drawn");
        let picture = format!("{name}-way-out.png");
        let drawn = dir.path().join(&picture);
        fs::write(&drawn, png).expect("written");
        old.extend(difference(&renders.join(&picture), &drawn));
    }
    assert!(old.is_empty(), "old film strips: {old:#?}");
}

/// The kept stop of the tour of each demo: the chamber with most in it, or one that lies behind another.
const STOPS: [(&str, &str); 4] =
    [("brook", "inlet"), ("fragfarm", "skimmer"), ("mangrove", "return"), ("seahorse", "inlet")];

#[test]
fn one_stop_of_the_tour_of_each_demo_is_up_to_date() {
    let renders = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../renders");
    let dir = tempfile::tempdir().expect("a temporary folder");
    let mut old = Vec::new();
    for (name, chamber) in STOPS {
        let file = demo(name);
        let file = file.to_str().expect("a path in letters");
        let output = run(dir.path(), &["tour", file, "--into", name]);
        assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
        let files = common::contents(&dir.path().join(name));
        let ends = format!("-{chamber}.png");
        let (_, bytes) = files.iter().find(|(path, _)| path.ends_with(&ends)).expect("a stop");
        let picture = format!("{name}-tour.png");
        let drawn = dir.path().join(&picture);
        fs::write(&drawn, bytes).expect("written");
        old.extend(difference(&renders.join(&picture), &drawn));
    }
    assert!(old.is_empty(), "old stops: {old:#?}");
}

/// The steps of the leaf that takes most of them, then of the most moves, then of the narrowest way; of a sump without
/// a leaf that lifts out, of such a door.
fn hardest(design: &Design, fit: &Fit) -> Vec<Step> {
    let of = |kind: RemovableKind| {
        let ways = fit.report.ways.iter();
        let ways = ways.filter(|way| {
            let removable = &design.removables[way.removable];
            removable.kind == kind && removable.instead_of.is_none()
        });
        let last = |steps: &[Step]| {
            steps.last().map_or((0, 0.0), |step| (step.moves.len(), step.least_gap_mm))
        };
        ways.map(|way| &way.steps).max_by(|a, b| {
            let ((m, gap), (n, other)) = (last(a), last(b));
            a.len().cmp(&b.len()).then(m.cmp(&n)).then(other.total_cmp(&gap))
        })
    };
    let steps = of(RemovableKind::Leaf).or_else(|| of(RemovableKind::Door));
    steps.cloned().unwrap_or_default()
}

/// The scene in its cabinet.
fn surrounded(design: &Design) -> Scene {
    let mesh = |shape: &plate::Shape| -> Mesh {
        let solid = Solid::of_shape(shape).expect("the shape is sound");
        solid.mesh(0.2).expect("the solid can be meshed")
    };
    let meshes: Vec<Mesh> = design.pieces.iter().map(|piece| mesh(&piece.shape)).collect();
    let scene = Scene::assembled(design, &meshes).expect("one mesh per piece");
    let Some(around) = &design.surroundings else { return scene };
    let meshes: Vec<Mesh> = around.things.iter().map(|thing| mesh(&thing.shape)).collect();
    scene.surrounded(around, &meshes).expect("one mesh per thing")
}

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

#[test]
fn the_sheet_of_all_fittings_is_up_to_date() {
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../renders/fittings.png");
    let dir = tempfile::tempdir().expect("a temporary folder");
    let output = run(dir.path(), &["fittings", "--picture", "fittings.png"]);
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    assert_eq!(difference(&kept, &dir.path().join("fittings.png")), None);
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
