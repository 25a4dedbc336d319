//! Guards film strips: the part that moves is seen in every frame, what was taken out is gone, and the bytes repeat.

use std::fs;
use std::path::Path;

use design::{Design, RemovableId, RemovableKind};
use fit::{Motion, Move, MoveKind, Rigid, Step};
use glam::DVec3;
use scene::{Error, Image, Scene, draw_strip};
use solid::{Mesh, Solid};

const SIZE: [usize; 2] = [720, 450];

fn design(name: &str) -> Design {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../params").join(name);
    let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    let file = params::read(&text).file.expect("the file can be read");
    design::resolve(&file).design.expect("the file gives a design")
}

fn mesh(shape: &plate::Shape) -> Mesh {
    let solid = Solid::of_shape(shape).expect("the shape is sound");
    solid.mesh(0.5).expect("the solid can be meshed")
}

fn scene(design: &Design) -> Scene {
    let meshes: Vec<Mesh> = design.pieces.iter().map(|piece| mesh(&piece.shape)).collect();
    Scene::assembled(design, &meshes).expect("one mesh per piece")
}

fn surrounded(scene: Scene, design: &Design) -> Scene {
    let around = design.surroundings.as_ref().expect("the demo has a cabinet");
    let meshes: Vec<Mesh> = around.things.iter().map(|thing| mesh(&thing.shape)).collect();
    scene.surrounded(around, &meshes).expect("one mesh per thing")
}

/// Straight up by each of these, mm.
fn step(design: &Design, who: RemovableId, lifts: &[f64]) -> Step {
    let mut from = Rigid::HOME;
    let moves = lifts.iter().map(|&mm| {
        let motion = Motion::slide(from, DVec3::Z * mm);
        from = motion.to;
        Move {
            kind: MoveKind::Raise,
            words: format!("raise it {mm} mm"),
            begin_s: 0.0,
            end_s: 1.0,
            from: motion.from,
            to: motion.to,
            pivot: motion.pivot,
            distance_mm: mm,
            angle_deg: 0.0,
        }
    });
    let removable = &design.removables[who];
    Step {
        removable: who,
        name: removable.name.clone(),
        undo: removable.undo.clone(),
        pushed_aside: Vec::new(),
        moves: moves.collect(),
        least_gap_mm: 2.0,
    }
}

fn find(design: &Design, kind: RemovableKind) -> RemovableId {
    design.removables.iter().position(|r| r.kind == kind).expect("there is one")
}

/// Pixels of the colour of what moves, and brightness of them and of the rest, 0 to 255.
fn moving(image: &Image, columns: [usize; 2]) -> (u32, f64) {
    let (mut count, mut light) = (0, 0.0);
    for y in 0..image.size[1] {
        for x in columns[0]..columns[1] {
            let [r, g, b] = image.pixel([x, y]).map(f64::from);
            if r > 140.0 && r > 1.9 * g && r > 2.5 * b {
                count += 1;
                // ITU-R BT.709, of the bytes: what a grey print shows.
                light += 0.2126 * r + 0.7152 * g + 0.0722 * b;
            }
        }
    }
    (count, light / f64::from(count.max(1)))
}

#[test]
fn the_part_is_seen_in_every_frame_and_dark_among_pale_things() {
    let design = design("seahorse.toml");
    let scene = scene(&design);
    for kind in [RemovableKind::Equipment, RemovableKind::Sock, RemovableKind::Leaf] {
        let step = step(&design, find(&design, kind), &[420.0]);
        let image = draw_strip(&scene, &design, &step, &[], SIZE).unwrap();
        assert_eq!(image.size[0], SIZE[0]);
        assert!(image.size[1] <= SIZE[1]);
        let third = SIZE[0] / 3;
        let mut shares = Vec::new();
        for i in 0..3 {
            let (count, light) = moving(&image, [i * third, (i + 1) * third]);
            assert!(count > 250, "{kind:?}, frame {i}: {count} pixels");
            assert!(light < 140.0, "{kind:?}, frame {i}: {light}");
            shares.push(count);
        }
        let all: f64 = image.pixels.iter().map(|&b| f64::from(b)).sum();
        let mean = all / f64::from(u32::try_from(image.pixels.len()).unwrap());
        assert!(mean > 200.0, "the rest is pale: {mean}");
    }
}

#[test]
fn frames_differ_as_the_part_moves() {
    let design = design("seahorse.toml");
    let scene = scene(&design);
    let who = find(&design, RemovableKind::Equipment);
    let image = draw_strip(&scene, &design, &step(&design, who, &[420.0]), &[], SIZE).unwrap();
    let third = SIZE[0] / 3;
    // Middle height of the coloured pixels of a frame.
    let height = |i: usize| {
        let rows = (0..image.size[1]).filter(|&y| {
            (i * third..(i + 1) * third).any(|x| {
                let [r, g, b] = image.pixel([x, y]).map(f64::from);
                r > 140.0 && r > 1.9 * g && r > 2.5 * b
            })
        });
        let (least, most) = rows.fold((usize::MAX, 0), |(lo, hi), y| (lo.min(y), hi.max(y)));
        least + most
    };
    assert!(height(1) + 20 < height(0), "{} {}", height(0), height(1));
    assert!(height(2) + 20 < height(1), "{} {}", height(1), height(2));
}

/// Pixels of the ink of arrows and their measures in a part of a strip.
fn ink(image: &Image, columns: [usize; 2]) -> usize {
    let rows = (0..image.size[1]).flat_map(|y| (columns[0]..columns[1]).map(move |x| [x, y]));
    let is_ink = |&at: &[usize; 2]| {
        let [r, g, b] = image.pixel(at);
        r.abs_diff(20) < 12 && g.abs_diff(48) < 12 && b.abs_diff(92) < 12
    };
    rows.filter(is_ink).count()
}

#[test]
fn short_moves_have_arrows_too() {
    let design = design("seahorse.toml");
    let scene = scene(&design);
    let who = find(&design, RemovableKind::Equipment);
    let image = draw_strip(&scene, &design, &step(&design, who, &[2.0, 420.0]), &[], SIZE).unwrap();
    let third = SIZE[0] / 3;
    let [before, short, long] = [0, 1, 2].map(|i| ink(&image, [i * third, (i + 1) * third]));
    assert_eq!(before, 0);
    assert!(short > 25 && long > 25, "{short} {long}");
}

#[test]
fn what_was_taken_out_before_is_gone() {
    let design = design("seahorse.toml");
    let scene = scene(&design);
    let who = find(&design, RemovableKind::Equipment);
    let step = step(&design, who, &[420.0]);
    let whole = draw_strip(&scene, &design, &step, &[], SIZE).unwrap();
    let gone: Vec<RemovableId> = (0..design.removables.len())
        .filter(|&id| id != who && design.removables[id].kind != RemovableKind::Sump)
        .collect();
    let alone = draw_strip(&scene, &design, &step, &gone, SIZE).unwrap();
    let comparison = whole.compared(&alone, 20);
    assert!(comparison.share > 0.02, "{comparison:?}");
    let bodies = |image: &Image| moving(image, [0, SIZE[0]]).0;
    assert!(bodies(&alone) > 700);
}

#[test]
fn a_leaf_that_is_not_in_is_drawn_where_it_would_be() {
    let design = design("seahorse.toml");
    let scene = scene(&design);
    let spare = design.removables.iter().position(|r| !r.spares.is_empty()).expect("a spare leaf");
    let step = step(&design, spare, &[420.0]);
    let image = draw_strip(&scene, &design, &step, &[], SIZE).unwrap();
    assert!(moving(&image, [0, SIZE[0] / 3]).0 > 250);
}

#[test]
fn the_cabinet_is_drawn_when_there_is_one() {
    let design = design("seahorse.toml");
    let scene = scene(&design);
    let step = step(&design, find(&design, RemovableKind::Leaf), &[50.0, 300.0]);
    let without = draw_strip(&scene, &design, &step, &[], SIZE).unwrap();
    let with = surrounded(scene, &design);
    let image = draw_strip(&with, &design, &step, &[], SIZE).unwrap();
    let comparison = image.compared(&without, 20);
    assert!(comparison.share > 0.1, "{comparison:?}");
    assert!(moving(&image, [0, SIZE[0]]).0 > 700, "no wall hides the part");
}

#[test]
fn bytes_do_not_depend_on_threads() {
    let design = design("mangrove.toml");
    let scene = surrounded(scene(&design), &design);
    let step = step(&design, find(&design, RemovableKind::Leaf), &[30.0, 40.0, 200.0]);
    let drawn = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
        let pool = pool.expect("threads can be started");
        pool.install(|| scene::strip(&scene, &design, &step, &[0], [480, 300])).unwrap()
    };
    assert!(drawn(1) == drawn(8));
}

#[test]
fn many_moves_and_long_words_still_fit() {
    let design = design("seahorse.toml");
    let scene = scene(&design);
    let mut step = step(&design, find(&design, RemovableKind::Door), &[20.0; 9]);
    step.name = "a name as long as nobody would give to any part of a sump ".repeat(4);
    for m in &mut step.moves {
        m.words = "turn it 40° to the left, seen from above, while you raise it ".repeat(6);
    }
    for size in [[240, 240], [2000, 300], [300, 1200]] {
        let image = draw_strip(&scene, &design, &step, &[1, 2, 3, 4, 5], size).unwrap();
        assert!(image.size[0] == size[0] && image.size[1] <= size[1]);
    }
}

#[test]
fn what_cannot_be_drawn_is_refused_by_name() {
    let design = design("seahorse.toml");
    let scene = scene(&design);
    let mut step = step(&design, 0, &[10.0]);
    step.removable = 1000;
    let error = draw_strip(&scene, &design, &step, &[], SIZE).unwrap_err();
    assert!(error.to_string().contains(&step.name), "{error}");
    let error = draw_strip(&scene, &design, &step, &[], [10, 10]).unwrap_err();
    assert!(matches!(error, Error::Size { .. }), "{error}");
}
