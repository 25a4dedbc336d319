//! Guards the ends of grooves: whatever relief is asked for, a square part goes to the end, and the design holds.

use findings::Grade;
use params::Relief;
use plate::{Shape, Tolerance, arrange, flat_pattern};

/// A demo with another relief; fails with all failing findings.
fn with_relief(name: &str, relief: Relief) -> design::Design {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let read = params::read(&std::fs::read_to_string(path).expect("the demo is there"));
    let mut file = read.file.expect("it reads");
    file.cutting.relief = relief;
    let resolved = design::resolve(&file);
    let failing: Vec<_> = resolved.findings.iter().filter(|f| f.grade == Grade::Fails).collect();
    assert!(failing.is_empty(), "{name}: {failing:#?}");
    resolved.design.expect("nothing failed")
}

/// Area of all pockets, mm², and how many arcs of the cutter's radius bound them.
fn pockets(design: &design::Design, cutter_radius_mm: f64) -> (f64, usize) {
    let (mut area, mut bites) = (0.0, 0);
    for piece in &design.pieces {
        let Shape::Sheet(plate) = &piece.shape else { continue };
        let arrangement = arrange(plate, &Tolerance::default()).expect("no finding failed");
        let pattern = flat_pattern(plate, &arrangement);
        area += pattern.pockets.iter().map(plate::PocketRegion::area_mm2).sum::<f64>();
        let arcs = pattern.pockets.iter().flat_map(|p| &p.loops).flat_map(|l| &l.0);
        bites += arcs
            .filter(|s| s.radius().is_some_and(|r| (r - cutter_radius_mm).abs() < 1e-9))
            .count();
    }
    (area, bites)
}

#[test]
fn every_relief_makes_a_design_that_holds() {
    for (name, radius_mm) in [("mangrove", 2.0), ("fragfarm", 3.0)] {
        let [beyond, dogbone, tbone] = [Relief::Beyond, Relief::Dogbone, Relief::Tbone]
            .map(|relief| with_relief(name, relief));
        let [(long, _), (least, bites), (more, others)] =
            [beyond, dogbone, tbone].map(|design| pockets(&design, radius_mm));
        // A round end beyond the part takes more than bites, and a bite into the end more than one along the diagonal.
        assert!(least < more && more < long, "{name}: {least} {more} {long}");
        assert!(bites >= 2 && others >= 2, "{name}: {bites} {others}");
    }
}
