//! Guards that the work grows with the panels and no faster: it is counted, not timed.

use std::fmt::Write;

use bending::bend;
use strength::{Levels, Waters, tasks};

/// A long box with so many dividers, 250 mm apart, and as many leaves glued in.
fn with_dividers(count: usize) -> String {
    let mut text = format!(
        r#"
format = 1
title = "A row"
[sheet.thick]
material = "cast acrylic"
thickness = 12
[box]
outside = {{ length = {}, width = 420, height = 420 }}
sheet = "thick"
rim = {{ width = 50 }}
"#,
        250 * (count + 1)
    );
    for k in 0..count {
        write!(text, "[leaf.l{k}]\ncrest = {{ height = 280 }}\n").expect("a text takes all");
    }
    for k in 0..count {
        let length = if k == 0 { "" } else { "length = 238\n" };
        write!(
            text,
            "[[along]]\nchamber = \"c{k}\"\n{length}[[along]]\ndivider = \"d{k}\"\nleaf = \"l{k}\"\n"
        )
        .expect("a text takes all");
    }
    text + "[[along]]\nchamber = \"last\"\nlength = 238\n"
}

/// Multiplications to factor the equations of all plates, but for a constant: nodes times the square of those across. And how
/// many plates there are.
fn work(count: usize) -> (f64, usize) {
    let read = params::read(&with_dividers(count));
    let file = read.file.unwrap_or_else(|| panic!("{:#?}", read.findings));
    let resolved = design::resolve(&file);
    let design = resolved.design.unwrap_or_else(|| panic!("{:#?}", resolved.findings));
    let levels = design.waterworks.basins.iter().map(|basin| Levels {
        running_mm: 0.6 * basin.rim_mm,
        running_low_mm: 0.5 * basin.rim_mm,
        highest_mm: 0.8 * basin.rim_mm,
        highest_in: "a rehearsal".to_owned(),
    });
    let waters = Waters { density_kg_m3: 1025.0, basins: levels.collect(), ..Waters::default() };
    let all = tasks(&file, &design, &waters);
    let of_task = |task: &strength::Task| {
        let grid = bend(&task.plate, &task.loads).expect("its supports hold it").grid;
        let across = grid.xs.len().min(grid.ys.len()) as f64;
        grid.nodes() as f64 * across * across
    };
    (all.iter().map(of_task).sum(), all.len())
}

#[test]
fn twice_as_many_panels_are_twice_the_work() {
    let (few, many) = (work(5), work(10));
    assert!(many.1 > few.1 + 10, "{few:?} {many:?}");
    assert!(many.0 <= 2.2 * few.0, "{few:?} {many:?}");
}
