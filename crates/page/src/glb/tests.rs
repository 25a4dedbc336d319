//! Guards what is written against an independent reader of glTF.

use std::collections::BTreeSet;

use design::Design;
use fit::{Fit, Motion, Rigid};
use glam::{DQuat, DVec3};
use gltf::animation::util::ReadOutputs;
use gltf::animation::{Interpolation, Property};
use gltf::mesh::Mode;
use scene::{Look, Scene, Side, Triangle};
use show::{Door, Group, Step, Thing};
use solid::Solid;

use super::animations::{slides, steps};
use super::{Animation, Away, Moving, write};

/// How far single precision may be off a metre from the origin, mm.
const SINGLE_MM: f64 = 2e-4;

const BROOK: &str = include_str!("../../../../params/brook.toml");
const FRAGFARM: &str = include_str!("../../../../params/fragfarm.toml");
const MANGROVE: &str = include_str!("../../../../params/mangrove.toml");
const SEAHORSE: &str = include_str!("../../../../params/seahorse.toml");

fn design(text: &str) -> Design {
    let file = params::read(text).file.expect("the file can be read");
    design::resolve(&file).design.expect("the file gives a design")
}

fn mesh(shape: &plate::Shape) -> solid::Mesh {
    Solid::of_shape(shape).expect("the shape is sound").mesh(0.5).expect("it can be meshed")
}

fn scene(design: &Design) -> Scene {
    let meshes: Vec<_> = design.pieces.iter().map(|piece| mesh(&piece.shape)).collect();
    let scene = Scene::assembled(design, &meshes).expect("one mesh per piece");
    let Some(around) = &design.surroundings else { return scene };
    let meshes: Vec<_> = around.things.iter().map(|thing| mesh(&thing.shape)).collect();
    scene.surrounded(around, &meshes).expect("one mesh per thing")
}

fn bodies(scene: &Scene) -> Vec<&scene::Body> {
    let around = scene.cabinet.iter().flat_map(|cabinet| &cabinet.things).map(|thing| &thing.body);
    scene.bodies.iter().chain(&scene.spares).chain(around).collect()
}

struct File {
    gltf: gltf::Gltf,
    bytes: Vec<u8>,
}

impl File {
    fn of(scene: &Scene, animations: &[Animation]) -> Self {
        let gltf = gltf::Gltf::from_slice(&write(scene, animations)).expect("it can be read");
        let bytes = gltf.blob.clone().expect("it has a binary chunk");
        Self { gltf, bytes }
    }

    fn node(&self, name: &str) -> gltf::Node<'_> {
        let mut found = self.gltf.nodes().filter(|node| node.name() == Some(name));
        let node = found.next().unwrap_or_else(|| panic!("no node `{name}`"));
        assert!(found.next().is_none(), "two nodes `{name}`");
        node
    }

    /// Triangles of a node, back in the sump's frame and in mm.
    fn triangles(&self, name: &str) -> Vec<[DVec3; 3]> {
        let mesh = self.node(name).mesh().expect("a node has a mesh");
        let mut triangles = Vec::new();
        for primitive in mesh.primitives().filter(|p| p.mode() == Mode::Triangles) {
            let reader = primitive.reader(|_| Some(&self.bytes));
            let places: Vec<[f32; 3]> = reader.read_positions().expect("places").collect();
            let indices: Vec<u32> = reader.read_indices().expect("indices").into_u32().collect();
            triangles.extend(
                indices.chunks_exact(3).map(|t| [0, 1, 2].map(|k| back(places[t[k] as usize]))),
            );
        }
        triangles
    }
}

/// From metres with y up to millimetres with z up.
fn back([x, y, z]: [f32; 3]) -> DVec3 {
    DVec3::new(f64::from(x), -f64::from(z), f64::from(y)) * 1e3
}

fn bounds(points: impl Iterator<Item = DVec3>) -> [DVec3; 2] {
    let start = [DVec3::INFINITY, DVec3::NEG_INFINITY];
    points.fold(start, |[lo, hi], p| [lo.min(p), hi.max(p)])
}

fn signed_volume(triangles: impl Iterator<Item = [DVec3; 3]>) -> f64 {
    triangles.map(|[a, b, c]| a.dot(b.cross(c)) / 6.0).sum()
}

#[test]
fn every_body_is_there_by_its_name_with_all_its_triangles_in_its_place() {
    for file in [BROOK, MANGROVE, SEAHORSE, FRAGFARM] {
        let scene = scene(&design(file));
        let file = File::of(&scene, &[]);
        let all = bodies(&scene);
        assert_eq!(file.gltf.nodes().len(), all.len() + scene.waters.len());
        let names: BTreeSet<_> =
            file.gltf.nodes().map(|node| node.name().map(str::to_owned)).collect();
        assert_eq!(names.len(), file.gltf.nodes().len(), "names are unique");
        for body in all {
            let written = file.triangles(&body.name);
            assert_eq!(written.len(), body.triangles.len(), "{}", body.name);
            let [lo, hi] = bounds(written.iter().flatten().copied());
            let [want_lo, want_hi] = body.bounds().expect("a body has triangles");
            let off = (lo - want_lo).abs().max((hi - want_hi).abs()).max_element();
            assert!(off < SINGLE_MM, "{}: {off} mm", body.name);
            let want = signed_volume(body.triangles.iter().map(|t: &Triangle| t.corners));
            let got = signed_volume(written.into_iter());
            assert!(want > 0.0 && (got / want - 1.0).abs() < 1e-3, "{}: {got} {want}", body.name);
        }
    }
}

#[test]
fn the_boxes_that_the_file_tells_are_those_of_its_corners() {
    let scene = scene(&design(MANGROVE));
    let file = File::of(&scene, &[]);
    for primitive in file.gltf.meshes().flat_map(|mesh| mesh.primitives()) {
        let reader = primitive.reader(|_| Some(&file.bytes));
        let places = reader.read_positions().expect("places");
        let told = primitive.bounding_box();
        let (mut lo, mut hi) = ([f32::MAX; 3], [f32::MIN; 3]);
        for p in places {
            for k in 0..3 {
                (lo[k], hi[k]) = (lo[k].min(p[k]), hi[k].max(p[k]));
            }
        }
        let bits = |p: [f32; 3]| p.map(f32::to_bits);
        assert_eq!([bits(told.min), bits(told.max)], [bits(lo), bits(hi)]);
    }
}

#[test]
fn water_stands_in_its_box_with_its_surface_up() {
    let scene = scene(&design(SEAHORSE));
    let file = File::of(&scene, &[]);
    assert!(!scene.waters.is_empty());
    for water in &scene.waters {
        let triangles = file.triangles(&format!("water of {}", water.name));
        assert_eq!(triangles.len(), 12);
        let [lo, hi] = bounds(triangles.iter().flatten().copied());
        assert!((lo.z - water.min.z).abs() < SINGLE_MM && (hi.z - water.max.z).abs() < SINGLE_MM);
        assert!(
            (lo - water.min).abs().max_element() < 0.5
                && (hi - water.max).abs().max_element() < 0.5
        );
        assert!(lo.x > water.min.x && hi.y < water.max.y, "it keeps off the walls");
        let volume = signed_volume(triangles.into_iter());
        assert!((volume / (hi - lo).element_product() - 1.0).abs() < 1e-4, "all sides face out");
    }
}

/// A reader need not guess it from names: a chamber, too, may be called “under the stairs”.
#[test]
fn water_says_whether_its_surface_is_open() {
    let scene = scene(&design(SEAHORSE));
    let bytes = write(&scene, &[]);
    // Section 4.4.3 of the standard: the length of the JSON is told at byte 12, and it begins at byte 20.
    let length = u32::from_le_bytes(bytes[12..16].try_into().expect("four bytes"));
    let json = &bytes[20..20 + usize::try_from(length).expect("it is short")];
    let gltf: serde_json::Value = serde_json::from_slice(json).expect("it is JSON");
    let nodes = gltf["nodes"].as_array().expect("there are nodes");
    let told: Vec<(&str, bool)> = nodes
        .iter()
        .map(|node| &node["extras"])
        .filter(|extras| extras["group"] == "water")
        .map(|extras| (extras["space"].as_str().expect("a name"), extras["is_open"] == true))
        .collect();
    let meant: Vec<(&str, bool)> =
        scene.waters.iter().map(|water| (water.name.as_str(), water.is_open)).collect();
    assert_eq!(told, meant);
    assert!(told.iter().any(|(_, is_open)| !is_open), "some stands under a leaf");
}

#[test]
fn looks_are_materials_that_any_reader_knows() {
    let scene = scene(&design(MANGROVE));
    let file = File::of(&scene, &[]);
    for body in bodies(&scene) {
        let mesh = file.node(&body.name).mesh().expect("a node has a mesh");
        let faces: Vec<_> = mesh.primitives().filter(|p| p.mode() == Mode::Triangles).collect();
        let is_seen_through = |p: &gltf::Primitive<'_>| {
            let material = p.material();
            material.alpha_mode() == gltf::material::AlphaMode::Blend
                && material.pbr_metallic_roughness().base_color_factor()[3] < 1.0
        };
        assert!(faces.iter().all(|p| is_seen_through(p) == body.look.is_clear), "{}", body.name);
        let sides: BTreeSet<Side> = body.triangles.iter().map(|t| t.side).collect();
        let expected = if body.look.is_clear { sides.len() } else { 1 };
        assert_eq!(faces.len(), expected, "{}", body.name);
        let Look { colour, .. } = body.look;
        // The standard's formula from linear to sRGB (IEC 61966-2-1), backwards to what was written.
        let told = faces[0].material().pbr_metallic_roughness().base_color_factor();
        for (told, want) in told.iter().zip(colour) {
            let encoded = if *told <= 0.003_130_8 {
                12.92 * told
            } else {
                1.055 * told.powf(1.0 / 2.4) - 0.055
            };
            assert!((encoded * 255.0 - f32::from(want)).abs() < 0.6, "{}", body.name);
        }
    }
}

/// Where a reader that keeps to the standard puts a node at an instant: shift and turn, in the sump's frame.
fn played(file: &File, node: usize, t_s: f64) -> Rigid {
    let animation = file.gltf.animations().next().expect("an animation");
    let mut at = Rigid::HOME;
    for channel in animation.channels().filter(|c| c.target().node().index() == node) {
        if channel.target().property() == Property::Scale {
            continue;
        }
        assert_eq!(channel.sampler().interpolation(), Interpolation::Linear);
        let reader = channel.reader(|_| Some(&file.bytes));
        let times: Vec<f64> = reader.read_inputs().expect("times").map(f64::from).collect();
        assert!(times.windows(2).all(|w| w[0] < w[1]), "instants rise");
        let next = times.partition_point(|t| *t <= t_s).clamp(1, times.len() - 1);
        let share = ((t_s - times[next - 1]) / (times[next] - times[next - 1])).clamp(0.0, 1.0);
        match reader.read_outputs().expect("values") {
            ReadOutputs::Translations(shifts) => {
                let shifts: Vec<DVec3> = shifts.map(back).collect();
                assert_eq!(shifts.len(), times.len());
                at.shift = shifts[next - 1].lerp(shifts[next], share);
            }
            ReadOutputs::Rotations(turns) => {
                let turns: Vec<DQuat> = turns
                    .into_f32()
                    .map(|[x, y, z, w]| {
                        DQuat::from_xyzw(f64::from(x), -f64::from(z), f64::from(y), f64::from(w))
                    })
                    .collect();
                at.turn = turns[next - 1].slerp(turns[next], share);
            }
            _ => panic!("only shifts and turns"),
        }
    }
    at
}

/// How far apart two displacements put the corners of a body at most, mm.
fn apart(body: &scene::Body, a: &Rigid, b: &Rigid) -> f64 {
    let corners = body.triangles.iter().flat_map(|t| t.corners);
    corners.map(|p| a.apply(p).distance(b.apply(p))).fold(0.0, f64::max)
}

#[test]
fn a_real_way_out_is_played_as_it_was_planned() {
    let design = design(MANGROVE);
    let scene = scene(&design);
    let fit = Fit::of(&design);
    let of_leaf = |way: &&fit::Way| {
        design.removables[way.removable].kind == design::RemovableKind::Leaf
            && !way.steps.is_empty()
    };
    let way = fit.report.ways.iter().find(of_leaf).expect("a leaf comes out");
    let step = way.steps.last().expect("a step");
    let removable = &design.removables[step.removable];
    let names: Vec<String> =
        removable.parts.iter().map(|id| design.placed[*id].name.clone()).collect();
    let motions = step.moves.iter().map(|m| (m.motion(), [m.begin_s, m.end_s])).collect();
    let moving = Moving { bodies: names.clone(), motions };
    let file = File::of(
        &scene,
        &[Animation { name: "way".into(), parts: vec![moving], away: Vec::new() }],
    );
    let mut compared = 0;
    for name in &names {
        let node = file.node(name).index();
        let body = scene.bodies.iter().find(|body| body.name == *name).expect("a body");
        for m in &step.moves {
            for share in [0.0, 0.31, 0.5, 1.0] {
                let t_s = m.begin_s + (m.end_s - m.begin_s) * share;
                let off = apart(body, &played(&file, node, t_s), &m.motion().at(share));
                assert!(off < 0.2, "{name}, {}: {off} mm at {share}", m.words);
                compared += 1;
            }
        }
        let end = step.moves.last().expect("a move");
        assert!(end.to.shift.length() > 100.0, "it goes somewhere");
    }
    assert!(compared >= 8, "{compared}");
}

#[test]
fn parts_turn_and_wait_for_each_other() {
    let scene = scene(&design(MANGROVE));
    let [a, b] = [&scene.bodies[0], &scene.bodies[1]];
    let turn = Motion::turn(
        Rigid::HOME.moved(DVec3::new(3.0, -20.0, 50.0)),
        DQuat::from_axis_angle(DVec3::new(0.6, 0.0, 0.8), 1.3),
        DVec3::new(100.0, 40.0, -30.0),
    );
    let slide = Motion::slide(Rigid::HOME, DVec3::new(0.0, 0.0, 400.0));
    let moving = |body: &scene::Body, motion, at| Moving {
        bodies: vec![body.name.clone(), "nothing of this name".into()],
        motions: vec![(motion, at)],
    };
    let parts = vec![moving(a, turn, [0.0, 2.0]), moving(b, slide, [2.5, 3.5])];
    let file = File::of(&scene, &[Animation { name: "both".into(), parts, away: Vec::new() }]);
    let node = |body: &scene::Body| file.node(&body.name).index();
    for share in [0.0, 0.2, 0.5, 0.77, 1.0] {
        let off = apart(a, &played(&file, node(a), 2.0 * share), &turn.at(share));
        assert!(off < 0.3, "{off} mm at {share}");
        let off = apart(b, &played(&file, node(b), 2.5 + share), &slide.at(share));
        assert!(off < 0.01, "{off} mm at {share}");
        assert!(apart(b, &played(&file, node(b), 2.5 * share), &Rigid::HOME) < 0.01, "b waits");
    }
}

/// Whether such a reader shows a node at an instant: it has its size or none.
fn is_seen(file: &File, node: usize, t_s: f64) -> bool {
    let animation = file.gltf.animations().next().expect("an animation");
    let mut scales = animation
        .channels()
        .filter(|c| c.target().node().index() == node && c.target().property() == Property::Scale);
    let Some(channel) = scales.next() else { return true };
    assert!(scales.next().is_none(), "one channel of a kind");
    assert_eq!(channel.sampler().interpolation(), Interpolation::Step);
    let reader = channel.reader(|_| Some(&file.bytes));
    let times: Vec<f64> = reader.read_inputs().expect("times").map(f64::from).collect();
    assert!(times.windows(2).all(|w| w[0] < w[1]), "instants rise");
    let Some(ReadOutputs::Scales(sizes)) = reader.read_outputs() else { panic!("sizes") };
    let sizes: Vec<[f32; 3]> = sizes.collect();
    assert_eq!(sizes.len(), times.len());
    let size = sizes[times.partition_point(|t| *t <= t_s).max(1) - 1];
    let [none, whole] = [0.0_f32, 1.0].map(|size| [size.to_bits(); 3]);
    let size = size.map(f32::to_bits);
    assert!(size == none || size == whole, "{size:?}");
    size == whole
}

fn thing(name: &str) -> Thing {
    Thing {
        name: name.into(),
        group: Group::Sump,
        what: String::new(),
        parameter: String::new(),
        line: None,
        size: String::new(),
        stock: None,
        mass: None,
        findings: Vec::new(),
        way: None,
    }
}

fn step(things: &[usize], undone: &[usize], rise_mm: f64) -> Step {
    let motion = Motion::slide(Rigid::HOME, DVec3::new(0.0, 0.0, rise_mm));
    let Motion { from, to, pivot } = motion;
    let raised = fit::Move {
        kind: fit::MoveKind::Slide,
        words: String::new(),
        begin_s: 0.0,
        end_s: 2.0,
        from,
        to,
        pivot,
        distance_mm: rise_mm,
        angle_deg: 0.0,
    };
    Step {
        name: String::new(),
        things: things.to_vec(),
        undone: undone.to_vec(),
        undo: None,
        moves: vec![raised],
        least_gap: String::new(),
    }
}

#[test]
fn what_is_undone_stays_behind_and_what_is_out_is_away_when_the_next_comes() {
    let scene = scene(&design(SEAHORSE));
    let [spare, standing, knob, first] =
        ["leaf letterbox", "leaf comb", "knob 1 of leaf gate", "heater"];
    let things = [spare, standing, knob, first].map(thing);
    let both = [step(&[3], &[2, 1], 300.0), step(&[0], &[], 400.0)];
    let file = File::of(&scene, &[steps(spare.into(), &both, &things)]);
    let [spare, standing, knob, first] =
        [spare, standing, knob, first].map(|name| file.node(name).index());
    // The second step begins at 2.5 s.
    for (t_s, seen) in [
        (0.0, [true, false, false, true]),
        (2.4, [true, false, false, true]),
        (2.6, [true, false, false, false]),
        (4.5, [true, false, false, false]),
    ] {
        assert_eq!([spare, standing, knob, first].map(|n| is_seen(&file, n, t_s)), seen, "{t_s}");
    }
    for node in [standing, knob] {
        assert_eq!(played(&file, node, 4.5), Rigid::HOME, "it does not go along");
    }
    assert!((played(&file, spare, 4.5).shift.z - 400.0).abs() < SINGLE_MM);
    assert!((played(&file, first, 2.0).shift.z - 300.0).abs() < SINGLE_MM);
}

/// A leaf that is not in would show within the one that stands in its slot.
#[test]
fn a_spare_is_there_only_in_its_own_animation() {
    let scene = scene(&design(SEAHORSE));
    assert!(!scene.spares.is_empty());
    let things = ["leaf letterbox", "leaf comb", "heater"].map(thing);
    let own = steps("own".into(), &[step(&[2], &[1], 300.0), step(&[0], &[], 400.0)], &things);
    let other = steps("other".into(), &[step(&[1], &[], 400.0)], &things);
    let size = |node: &gltf::Node<'_>| node.transform().decomposed().2.map(f32::to_bits);
    let [none, whole] = [0.0_f32, 1.0].map(|size| [size.to_bits(); 3]);
    for (animation, is_there) in [(own, true), (other, false)] {
        let file = File::of(&scene, &[animation]);
        let is_spare = |name: &str| scene.spares.iter().any(|spare| spare.name == name);
        for node in file.gltf.nodes() {
            let name = node.name().expect("it has a name");
            assert_eq!(size(&node), if is_spare(name) { none } else { whole }, "{name}");
        }
        let spare = file.node("leaf letterbox").index();
        let animation = file.gltf.animations().next().expect("an animation");
        let tells = animation.channels().any(|c| c.target().node().index() == spare);
        assert_eq!(tells, is_there);
        if is_there {
            assert!([0.0, 2.0, 4.0].iter().all(|t_s| is_seen(&file, spare, *t_s)));
            assert!(!is_seen(&file, file.node("leaf comb").index(), 0.0), "they do not cross");
        }
    }
}

#[test]
fn a_door_slides_from_where_it_is_to_both_its_ends() {
    let scene = scene(&design(SEAHORSE));
    let name = "door of leaf gate";
    let mut things = [thing(name)];
    let door = Door {
        leaf: "gate".into(),
        things: vec![0],
        lowest_mm: 150.0,
        highest_mm: 225.0,
        set_mm: 200.0,
    };
    let slide = slides(&door, &things).expect("it slides");
    let end_s = slide.parts[0].motions.last().expect("a motion").1[1];
    let file = File::of(&scene, &[slide]);
    let node = file.node(name).index();
    // By 25 mm a second: 50 mm down, 75 mm up, 25 mm down.
    for (t_s, z) in [(0.0, 0.0), (1.0, -25.0), (2.0, -50.0), (5.0, 25.0), (end_s, 0.0)] {
        let off = played(&file, node, t_s).shift.distance(DVec3::new(0.0, 0.0, z));
        assert!(off < 0.03, "{off} mm at {t_s} s");
    }
    assert!((end_s - 6.0).abs() < 1e-9);
    things[0].group = Group::Spare;
    assert!(slides(&door, &things).is_none(), "its leaf is not in");
}

#[test]
fn what_moves_twice_moves_both_times() {
    let scene = scene(&design(MANGROVE));
    let [a, b] = [&scene.bodies[0], &scene.bodies[1]];
    let up = Motion::slide(Rigid::HOME, DVec3::new(0.0, 0.0, 100.0));
    let aside = Motion::slide(up.to, DVec3::new(0.0, -50.0, 0.0));
    let moving = |bodies: &[&scene::Body], motion, at| Moving {
        bodies: bodies.iter().map(|body| body.name.clone()).collect(),
        motions: vec![(motion, at)],
    };
    let parts = vec![moving(&[a, b], up, [0.0, 1.0]), moving(&[a], aside, [3.0, 4.0])];
    let away = vec![Away { bodies: vec![a.name.clone()], from_s: 1.5 }];
    let file = File::of(&scene, &[Animation { name: "twice".into(), parts, away }]);
    let [a, b] = [a, b].map(|body| file.node(&body.name).index());
    for (t_s, y, z) in [
        (0.5, 0.0, 50.0),
        (1.0, 0.0, 100.0),
        (2.9, 0.0, 100.0),
        (3.5, -25.0, 100.0),
        (9.0, -50.0, 100.0),
    ] {
        let off = played(&file, a, t_s).shift.distance(DVec3::new(0.0, y, z));
        assert!(off < SINGLE_MM, "{off} mm at {t_s} s");
    }
    assert!((played(&file, b, 9.0).shift.z - 100.0).abs() < SINGLE_MM, "the other moves once");
    let seen = [0.0, 1.4, 1.6, 2.9, 3.1].map(|t_s| is_seen(&file, a, t_s));
    assert_eq!(seen, [true, true, false, false, true], "away until it moves again");
    assert!(is_seen(&file, b, 2.0));
}

#[test]
fn bytes_repeat() {
    let scene = scene(&design(MANGROVE));
    assert_eq!(write(&scene, &[]), write(&scene, &[]));
}
