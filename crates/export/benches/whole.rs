//! How long the largest demo takes from its text to the STEP assembly, step by step, and how the whole
//! grows with 1, 4 and 16 times as many openings in its leaves.

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use design::Design;
use export::step::{Assembly, Instance, Product, write};
use solid::{Checked, checked};

const CHORD_ERROR_MM: f64 = 0.05;
const DEMO: &str = include_str!("../../../params/fragfarm.toml");

/// The largest demo with one more field of holes, of so many rows and columns.
fn demo(rows: u32, columns: u32) -> String {
    let crest = "[leaf.over]\ncrest = { height = 215 }\n";
    let holes = format!(
        "openings = [{{ holes = {{ bottom = 30, diameter = 4, spacing = 6.5, rows = {rows}, columns = {columns} }} }}]\n"
    );
    assert!(DEMO.contains(crest), "the demo has this leaf");
    DEMO.replacen(crest, &format!("{crest}{holes}"), 1).replacen("tool = 6\n", "tool = 4\n", 1)
}

fn resolved(text: &str) -> Design {
    let file = params::read(text).file.expect("the demo is read");
    design::resolve(&file).design.expect("the demo is resolved")
}

fn built(design: &Design) -> Vec<Checked> {
    design.pieces.iter().map(|p| checked(&p.shape, CHORD_ERROR_MM).expect("sound")).collect()
}

fn step(design: &Design, parts: &[Checked]) -> String {
    let products = design.pieces.iter().zip(parts);
    let products = products
        .map(|(piece, part)| Product {
            name: &piece.name,
            colour: piece.look.colour,
            solid: &part.solid,
        })
        .collect();
    let instances = design.placed.iter();
    let instances =
        instances.map(|p| Instance { product: p.piece, name: &p.name, pose: p.pose }).collect();
    let time_stamp = "2000-01-01T00:00:00";
    write(&Assembly { title: &design.title, time_stamp, products, instances }).expect("written")
}

fn all(text: &str) -> usize {
    let design = resolved(text);
    step(&design, &built(&design)).len()
}

fn whole(c: &mut Criterion) {
    let mut group = c.benchmark_group("whole");
    group.sample_size(10);
    let design = resolved(DEMO);
    let parts = built(&design);
    group.bench_function("read", |b| b.iter(|| params::read(black_box(DEMO))));
    let file = params::read(DEMO).file.expect("the demo is read");
    group.bench_function("resolve", |b| b.iter(|| design::resolve(black_box(&file))));
    group.bench_function("solids and checked meshes", |b| b.iter(|| built(black_box(&design))));
    group.bench_function("STEP", |b| b.iter(|| step(&design, black_box(&parts))));
    group.bench_function("all", |b| b.iter(|| all(black_box(DEMO))));
    for (rows, columns) in [(4, 20), (8, 40), (16, 80)] {
        let text = demo(rows, columns);
        group.bench_function(BenchmarkId::new("all, holes added", rows * columns), |b| {
            b.iter(|| all(black_box(&text)));
        });
    }
    group.finish();
}

criterion_group!(benches, whole);
criterion_main!(benches);
