//! Guards that the demo files can be drawn: every part in its place, every view without a failure.

use std::fs;
use std::path::Path;

use scene::{Error, Scene, Topic, View, draw};
use solid::{Mesh, Solid};

fn design(name: &str) -> design::Design {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../params").join(name);
    let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    let file = params::read(&text).file.expect("the file can be read");
    design::resolve(&file).design.expect("the file gives a design")
}

fn meshes(design: &design::Design) -> Vec<Mesh> {
    let mesh = |piece: &design::Piece| {
        let solid = Solid::of_shape(&piece.shape).expect("the piece is sound");
        solid.mesh(0.2).expect("the solid can be meshed")
    };
    design.pieces.iter().map(mesh).collect()
}

#[test]
fn every_demo_can_be_drawn() {
    for name in ["seahorse.toml", "mangrove.toml", "brook.toml", "fragfarm.toml"] {
        let design = design(name);
        let scene = Scene::assembled(&design, &meshes(&design)).unwrap();
        assert_eq!(scene.bodies.len(), design.placed.len(), "{name}");
        for (body, placed) in scene.bodies.iter().zip(&design.placed) {
            assert_eq!(body.name, placed.name);
            assert!(!body.triangles.is_empty() && !body.edges.is_empty(), "{}", body.name);
        }
        let chambers = scene.labels.iter().filter(|l| l.topic == Topic::Chamber).count();
        assert_eq!(chambers, design.chambers.len(), "{name}");
        for view in View::ALL {
            let image = draw(&scene, view, [480, 300]).unwrap();
            let bare = Scene {
                bodies: Vec::new(),
                waters: Vec::new(),
                labels: Vec::new(),
                ..scene.clone()
            };
            let empty = draw(&bare, view, [480, 300]).unwrap();
            let comparison = empty.compared(&image, 12);
            assert!(comparison.share > 0.08, "{name} {view:?}: {comparison:?}");
        }
    }
}

#[test]
fn each_piece_is_named_once() {
    let design = design("seahorse.toml");
    let scene = Scene::assembled(&design, &meshes(&design)).unwrap();
    let mut names: Vec<(Topic, &str)> =
        scene.labels.iter().map(|l| (l.topic, l.text.as_str())).collect();
    let count = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), count);
}

#[test]
fn the_section_runs_along_no_sheet() {
    for name in ["seahorse.toml", "mangrove.toml", "brook.toml", "fragfarm.toml"] {
        let design = design(name);
        let scene = Scene::assembled(&design, &meshes(&design)).unwrap();
        for body in &scene.bodies {
            let [lo, hi] = body.bounds().unwrap();
            let is_along = hi.y - lo.y < 0.1 * (hi.x - lo.x);
            let is_upright = hi.y - lo.y < 0.1 * (hi.z - lo.z);
            let is_met = lo.y < scene.section_y && scene.section_y < hi.y;
            assert!(!(is_along && is_upright && is_met), "{name}: {}", body.name);
        }
    }
}

#[test]
fn a_missing_mesh_is_refused() {
    let design = design("seahorse.toml");
    let error = Scene::assembled(&design, &[]).unwrap_err();
    assert!(matches!(error, Error::Meshes { meshes: 0, .. }), "{error}");
}

/// A leaf that is wider than the opening of the rim is drawn where its way has led it clear of the rim.
#[test]
fn lifted_leaves_have_come_free_of_the_rim() {
    for name in ["seahorse.toml", "mangrove.toml", "brook.toml"] {
        let design = design(name);
        let report = fit::Fit::of(&design).report;
        let scene = Scene::assembled(&design, &meshes(&design)).unwrap();
        let lifted = scene.on_ways(&design, &report).lifted();
        let leaves = design.removables.iter().filter(|r| r.kind == design::RemovableKind::Leaf);
        let mut count = 0;
        for part in leaves.flat_map(|leaf| &leaf.parts) {
            let [lo, _] = lifted.bodies[*part].bounds().unwrap();
            assert!(lo.z > design.outside.z, "{name}: {} at {lo}", lifted.bodies[*part].name);
            count += 1;
        }
        assert!(count > 0, "{name}");
    }
}
