//! How long the plates of a large sump take: fourteen of them under six cases of load each, and the six that are glued three times over
//! (all joints hinged, only the sides clamped, only the bottom clamped).

use std::hint::black_box;

use bending::{Along, Hold, Line, Opening, Plate, Point, Pressure, Rect, Support, bend};
use criterion::{Criterion, criterion_group, criterion_main};

const WATER: f64 = 1025.0 * 9.806_65;

fn plate(size: [f64; 2], edges: [Option<Support>; 4]) -> Plate {
    Plate::new(size, 0.01, 3.2e9, 0.37).with_edges(edges)
}

/// Sides and bottom of a glued wall: all hinged, the sides clamped, the bottom clamped.
fn fixities(top: Option<Support>) -> [[Option<Support>; 4]; 3] {
    let (h, c) = (Some(Support::Hinge), Some(Support::Clamp));
    [[h, h, h, top], [c, c, h, top], [h, h, c, top]]
}

/// Walls with a rim, their braces and the dividers behind them, and the bottom on its frame.
fn glued(fixity: usize) -> Vec<Plate> {
    let rim = Some(Support::Beam { ei: 576.0, gj: 0.0 });
    let edges = fixities(rim)[fixity];
    let divider =
        |at: f64, to: f64| Line { along: Along::Y, at, span: [0.0, to], support: Support::Hinge };
    let mut walls = vec![plate([1.5, 0.45], edges), plate([1.5, 0.45], edges)];
    for wall in &mut walls {
        wall.lines.extend([divider(0.35, 0.3), divider(0.7, 0.4), divider(1.1, 0.25)]);
        wall.points.extend([0.5, 1.0].map(|x| Point { at: [x, 0.45], hold: Hold::Spring(2e5) }));
    }
    walls.extend([plate([0.6, 0.45], edges), plate([0.6, 0.45], edges)]);
    let mut bottom = plate([1.5, 0.6], fixities(Some(Support::Hinge))[fixity]);
    bottom.lines.push(divider(0.7, 0.6));
    walls.extend([bottom, plate([0.6, 0.4], fixities(None)[fixity])]);
    walls
}

/// Leaves in guides, three with a door, and two doors.
fn loose() -> Vec<Plate> {
    let h = Some(Support::Hinge);
    let mut plates: Vec<Plate> =
        [0.3, 0.35, 0.4, 0.25, 0.42, 0.38].map(|y| plate([0.58, y], [h, h, h, None])).into();
    for leaf in &mut plates[..3] {
        let rect = Rect { x: [0.2, 0.35], y: [0.08, 0.18] };
        leaf.openings.push(Opening { rect, radius: 0.01 });
    }
    plates.extend([plate([0.2, 0.15], [h; 4]), plate([0.25, 0.15], [h; 4])]);
    plates
}

fn run(plates: &[Plate]) -> f64 {
    let deflection = |plate: &Plate| {
        let cases: Vec<Vec<Pressure>> = (5..11)
            .map(|k| vec![Pressure::water(WATER, f64::from(k) / 10.0 * plate.size[1])])
            .collect();
        bend(black_box(plate), &cases).map_or(0.0, |bending| bending.fields[5].deflection.value)
    };
    plates.iter().map(deflection).sum()
}

fn plates(criterion: &mut Criterion) {
    let mut once = glued(0);
    once.extend(loose());
    assert_eq!(once.len(), 14);
    criterion.bench_function("14 plates, 6 cases", |bench| bench.iter(|| run(&once)));
    let mut all = once.clone();
    all.extend(glued(1));
    all.extend(glued(2));
    criterion.bench_function("14 plates, 6 cases, 3 fixities", |bench| bench.iter(|| run(&all)));
    criterion.bench_function("28 plates, 6 cases", |bench| {
        bench.iter(|| run(&once) + run(&once));
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = plates
}
criterion_main!(benches);
