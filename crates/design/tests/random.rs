//! Guards `resolve` on many sumps: it never panics, and a design without failing findings keeps the laws
//! of a box, whatever the sizes.

use design::{Design, Role, resolve};
use findings::Grade;
use plate::{Shape, Tolerance, arrange};
use proptest::prelude::*;

/// A sump of three to five chambers with random sizes, mounts, guides and equipment.
fn sump() -> impl Strategy<Value = String> {
    let sheet = (4.0..15.0_f64, 0.0..0.6_f64);
    let outside = (400.0..1600.0_f64, 220.0..800.0_f64, 220.0..600.0_f64);
    let chambers = prop::collection::vec((60.0..400.0_f64, 0..6_usize, 0.3..1.1_f64), 2..5);
    let choices = (any::<bool>(), any::<bool>(), 20.0..70.0_f64, 0..3_usize);
    (sheet, outside, chambers, choices)
        .prop_map(|(sheet, outside, chambers, choices)| text(sheet, outside, &chambers, choices))
}

fn text(
    (t, spread): (f64, f64),
    (length, width, height): (f64, f64, f64),
    chambers: &[(f64, usize, f64)],
    (is_rabbet, has_rim, rim, guide): (bool, bool, f64, usize),
) -> String {
    let joint = if is_rabbet { "rabbet" } else { "butt" };
    let guide = ["strips", "groove", "printed"][guide];
    let mut text = format!(
        "format = 1\ntitle = \"Random\"\n[sheet.s]\nmaterial = \"PVC\"\nthickness = {t}\nmeasured = [{}, {}]\n[box]\noutside = {{ length = {length}, width = {width}, height = {height} }}\nsheet = \"s\"\njoint = \"{joint}\"\n",
        t - spread * 0.5,
        t + spread * 0.5,
    );
    if has_rim {
        text += &format!("rim = {{ width = {rim}, corner = 10 }}\n");
    }
    let mut rows = String::new();
    for (i, &(size, kind, share)) in chambers.iter().enumerate() {
        let crest = share * height * 0.7;
        let leaf = match kind {
            0 => format!("crest = {{ height = {crest} }}\n"),
            1 => format!("mount = \"lift-out\"\ncrest = {{ height = {crest} }}\n"),
            2 => format!(
                "mount = \"lift-out\"\ncrest = {{ height = {crest}, teeth = {{ width = 7, gap = 8, depth = 25 }} }}\n"
            ),
            3 => format!("underflow = 25\ncrest = {{ height = {crest} }}\n"),
            4 => format!(
                "crest = {{ height = {crest} }}\nopenings = [{{ holes = {{ bottom = 60, diameter = 12, spacing = 25, rows = 2, columns = 4 }} }}]\n"
            ),
            _ => format!(
                "crest = {{ height = {crest} }}\n[leaf.l{i}.door]\nbottom = 70\nwidth = 80\nheight = 60\nlowest = 90\nhighest = 120\n"
            ),
        };
        text += &format!("[leaf.l{i}]\n{leaf}");
        rows += &format!(
            "[[along]]\nchamber = \"c{i}\"\nlength = {size}\n[[along]]\ndivider = \"d{i}\"\nleaf = \"l{i}\"\n"
        );
        if kind == 1 || kind == 2 {
            rows += &format!("guide = \"{guide}\"\n");
        }
    }
    text + &rows
        + "[[along]]\nchamber = \"return\"\nlevel = 80\n[[equipment]]\nname = \"pump\"\nkind = \"pump\"\nchamber = \"return\"\nbox = [60, 60, 60]\n"
        + "[[level_marks]]\nchamber = \"return\"\nfrom = 20\nto = 120\nread_from = \"inside\"\n"
}

/// Every sheet part can be cut; nothing reaches out of the box but what stands on the rim.
fn keeps_the_laws(design: &Design) {
    for piece in &design.pieces {
        if let Shape::Sheet(plate) = &piece.shape {
            let arrangement = arrange(plate, &Tolerance::default()).expect("checked by resolve");
            assert!(arrangement.volume() > 0.0, "{} is empty", piece.name);
        }
    }
    for placed in &design.placed {
        let piece = &design.pieces[placed.piece];
        let Shape::Sheet(plate) = &piece.shape else { continue };
        let [lo, hi] = plate.outline.bounds().expect("it has an outline");
        for corner in [lo.extend(0.0), hi.extend(plate.thickness)] {
            let p = placed.pose.transform_point3(corner);
            let is_in =
                p.cmpge(glam::DVec3::splat(-1e-6)).all() && p.cmple(design.outside + 1e-6).all();
            assert!(
                is_in || piece.role == Role::Equipment,
                "{} reaches {p} out of {}",
                placed.name,
                design.outside
            );
        }
    }
    for joint in &design.joints {
        assert!(
            joint.a != joint.b && joint.a < design.placed.len() && joint.b < design.placed.len()
        );
        assert_eq!(
            joint.kind.is_glued(),
            joint.length_mm > 0.0 && joint.width_mm > 0.0,
            "{joint:?}"
        );
    }
    let quantities: usize = design.pieces.iter().map(|p| p.quantity).sum();
    let spares: usize = design.pieces.iter().filter(|p| p.is_spare).map(|p| p.quantity).sum();
    assert_eq!(quantities - spares, design.placed.len());
    for chamber in &design.chambers {
        assert!(chamber.level_mm >= 0.0 && chamber.level_mm <= design.outside.z, "{chamber:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 400,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(2),
        ..ProptestConfig::default()
    })]

    #[test]
    fn a_design_that_holds_keeps_the_laws(text in sump()) {
        let Some(file) = params::read(&text).file else { return Ok(()) };
        let resolved = resolve(&file);
        let fails = resolved.findings.iter().any(|f| f.grade == Grade::Fails);
        prop_assert!(fails || resolved.design.is_some());
        if let (false, Some(design)) = (fails, resolved.design) {
            keeps_the_laws(&design);
        }
    }
}

#[test]
fn the_random_sumps_are_worth_trying() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut holds = 0;
    for _ in 0..200 {
        let text = sump().new_tree(&mut runner).expect("a sump").current();
        let file = params::read(&text).file;
        let resolved = file.as_ref().map(resolve);
        holds += usize::from(
            resolved.is_some_and(|r| r.findings.iter().all(|f| f.grade != Grade::Fails)),
        );
    }
    assert!(holds >= 30, "only {holds} of 200 hold");
}
