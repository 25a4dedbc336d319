//! What must not depend on how a part lies: turned, mirrored or turned over, it has the same volume,
//! the same faces and the same number of visible edges.
use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Plate, Tolerance, arrange, sample};
use solid::{FaceCounts, Solid};

fn moved(plate: &Plate, motion: impl Fn(DVec2) -> DVec2 + Copy, mirrors: bool) -> Plate {
    let contour = |c: &Contour| c.moved(motion, mirrors);
    let cut = |cut: &Cut| Cut { contour: contour(&cut.contour), ..cut.clone() };
    let cuts = plate.cuts.iter().map(cut).collect();
    Plate { outline: contour(&plate.outline), cuts, ..plate.clone() }
}

fn turned_over(plate: &Plate) -> Plate {
    let mirrored = moved(plate, |p| dvec2(-p.x, p.y), true);
    let cuts = mirrored.cuts.iter().map(|cut| Cut { face: cut.face.opposite(), ..cut.clone() });
    Plate { cuts: cuts.collect(), ..mirrored.clone() }
}

/// Volume, faces, lines; `None` if the plate is refused.
fn look(plate: &Plate) -> Option<(f64, FaceCounts, usize)> {
    let solid = Solid::of_plate(&arrange(plate, &Tolerance::default()).ok()?).ok()?;
    let mesh = solid.checked_mesh(0.05).ok()?;
    Some((solid.volume_mm3(), solid.brep().face_counts(), mesh.lines.len()))
}

#[test]
fn nothing_depends_on_how_a_part_lies() {
    let turn = DVec2::from_angle(0.3);
    let mut compared = 0;
    for seed in 0..200 {
        let plate = sample::plate(seed);
        let Some(before) = look(&plate) else { continue };
        let ways = [
            moved(&plate, |p| p + dvec2(1234.0, -567.0), false),
            moved(&plate, |p| turn.rotate(p), false),
            moved(&plate, |p| dvec2(p.y, p.x), true),
            turned_over(&plate),
        ];
        for way in &ways {
            let after = look(way).expect("as sound as before");
            assert!((after.0 / before.0 - 1.0).abs() < 1e-9, "plate {seed}");
            assert_eq!((after.1, after.2), (before.1, before.2), "plate {seed}");
            compared += 1;
        }
    }
    assert!(compared > 400, "{compared}");
}
