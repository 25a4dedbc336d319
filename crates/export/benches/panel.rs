//! How long a panel takes from its description to its STEP file, and how that grows with 1, 4 and 16
//! times as many openings. The printed times are per panel; growth of at most `openings^1.15` is wanted.

mod slotted;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use export::step::{Assembly, Product, write};
use plate::{Tolerance, arrange};
use slotted::slotted;
use solid::Solid;
use std::hint::black_box;

const CHORD_ERROR_MM: f64 = 0.05;

fn panel(c: &mut Criterion) {
    let mut group = c.benchmark_group("panel");
    group.sample_size(10);
    for n in [10, 20, 40] {
        let plate = slotted(n);
        let arrangement = arrange(&plate, &Tolerance::default()).expect("slots apart");
        let solid = Solid::of_plate(&arrangement).expect("a sound panel");
        let step = || {
            let products = vec![Product { name: "panel", colour: [200, 220, 240], solid: &solid }];
            let time_stamp = "2000-01-01T00:00:00";
            write(&Assembly { title: "panel", time_stamp, products, instances: vec![] })
                .expect("written")
        };
        let openings = n * n;
        group.throughput(Throughput::Elements(u64::from(openings)));
        group.bench_with_input(BenchmarkId::new("arrange", openings), &plate, |b, plate| {
            b.iter(|| arrange(black_box(plate), &Tolerance::default()));
        });
        group.bench_with_input(
            BenchmarkId::new("solid", openings),
            &arrangement,
            |b, arrangement| {
                b.iter(|| Solid::of_plate(black_box(arrangement)));
            },
        );
        group.bench_with_input(BenchmarkId::new("mesh", openings), &solid, |b, solid| {
            b.iter(|| black_box(solid).mesh(CHORD_ERROR_MM));
        });
        group.bench_with_input(BenchmarkId::new("checked mesh", openings), &solid, |b, solid| {
            b.iter(|| black_box(solid).checked_mesh(CHORD_ERROR_MM));
        });
        group.bench_function(BenchmarkId::new("STEP", openings), |b| b.iter(step));
    }
    group.finish();
}

criterion_group!(benches, panel);
criterion_main!(benches);
