//! What is in the text of a STEP file: every vertex, edge and face of the solid, and nothing else, the
//! same on any number of threads. That it means what it should is judged by `tests/outside/step_judge.py`.
use export::step::{Assembly, Instance, Product, write};
use glam::{DAffine3, dvec3};
use plate::{Shape, sample};
use rayon::prelude::*;
use solid::{Curve, Solid};

fn some_solids() -> Vec<Solid> {
    let plates = (0..60).map(|seed| Shape::Sheet(sample::plate(seed)));
    let bodies = (0..20).map(|seed| Shape::Turned(sample::turned(seed)));
    plates.chain(bodies).filter_map(|shape| Solid::of_shape(&shape).ok()).collect()
}

fn text(solid: &Solid) -> String {
    let products = vec![Product { name: "part", colour: [1, 2, 3], solid }];
    write(&Assembly {
        title: "part",
        time_stamp: "2000-01-01T00:00:00",
        products,
        instances: vec![],
    })
    .expect("no instance that could be wrong")
}

fn count(text: &str, keyword: &str) -> usize {
    text.matches(&format!("={keyword}(")).count()
}

#[test]
fn every_vertex_edge_and_face_is_there_once() {
    let solids = some_solids();
    assert!(solids.len() > 50, "{}", solids.len());
    for solid in &solids {
        let (text, brep) = (text(solid), solid.brep());
        let faces = brep.face_counts();
        let arcs = brep.edges.iter().filter(|edge| edge.curve != Curve::Line).count();
        let expected = [
            ("VERTEX_POINT", brep.vertices.len()),
            ("EDGE_CURVE", brep.edges.len()),
            ("CIRCLE", arcs),
            ("LINE", brep.edges.len() - arcs),
            ("ORIENTED_EDGE", 2 * brep.edges.len()),
            ("ADVANCED_FACE", brep.faces.len()),
            ("PLANE", faces.plane),
            ("CYLINDRICAL_SURFACE", faces.cylinder),
            ("CONICAL_SURFACE", faces.cone),
            ("FACE_OUTER_BOUND", brep.faces.len()),
            ("CLOSED_SHELL", 1),
            ("MANIFOLD_SOLID_BREP", 1),
        ];
        for (keyword, expected) in expected {
            assert_eq!(count(&text, keyword), expected, "{keyword}");
        }
    }
}

#[test]
fn bytes_do_not_depend_on_threads_or_on_what_was_written_before() {
    let alone: Vec<String> = some_solids().iter().map(text).collect();
    let together: Vec<String> = some_solids().par_iter().map(text).collect();
    assert!(alone == together);
}

#[test]
fn a_part_used_twice_is_written_once() {
    let solids = some_solids();
    let placed = |name, x| Instance {
        product: 0,
        name,
        pose: DAffine3::from_translation(dvec3(x, 0.0, 0.0)),
    };
    let text = write(&Assembly {
        title: "two",
        time_stamp: "2000-01-01T00:00:00",
        products: vec![Product { name: "part", colour: [1, 2, 3], solid: &solids[0] }],
        instances: vec![placed("left", 0.0), placed("right", 500.0)],
    })
    .expect("rigid poses");
    assert_eq!(count(&text, "MANIFOLD_SOLID_BREP"), 1);
    assert_eq!(count(&text, "NEXT_ASSEMBLY_USAGE_OCCURRENCE"), 2);
    assert_eq!(count(&text, "PRODUCT"), 2);
}
