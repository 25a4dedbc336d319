//! Guards pictures of gluing: the new part and its seams are seen, what is to come is not, and the bytes repeat.

mod sample;

use glam::{DVec3, dvec3};
use scene::{Assembly, Error, FeedLine, Image, Scene, assembly, draw_assembly};

const SIZE: [usize; 2] = [600, 400];

/// A bottom and a wall of the sample, by their places.
fn two(scene: &Scene) -> (usize, usize) {
    let place = |is: &dyn Fn(DVec3) -> bool| {
        scene
            .bodies
            .iter()
            .position(|b| b.bounds().is_some_and(|[lo, hi]| is(hi - lo)))
            .expect("the sample has it")
    };
    let outside = scene.outside;
    let bottom = place(&|size| size.z < 20.0 && size.x > 0.9 * outside.x);
    let wall = place(&|size| size.x > 0.9 * outside.x && size.y < 20.0 && size.z > 50.0);
    (bottom, wall)
}

fn share(image: &Image, is: impl Fn([u8; 3]) -> bool) -> f64 {
    let all = image.pixels.chunks_exact(3);
    let n = all.len() as f64;
    all.filter(|p| is([p[0], p[1], p[2]])).count() as f64 / n
}

fn is_new([r, g, b]: [u8; 3]) -> bool {
    r > 90 && i32::from(r) > i32::from(g) + 40 && g > b
}

fn is_seam([r, g, b]: [u8; 3]) -> bool {
    b > 110 && i32::from(b) > i32::from(r) + 90 && i32::from(b) > i32::from(g) + 50
}

#[test]
fn the_new_part_and_its_seam_are_seen() {
    let scene = sample::sump();
    let (bottom, wall) = two(&scene);
    let [lo, hi] = scene.bodies[wall].bounds().unwrap();
    let seam = FeedLine {
        ends: [dvec3(lo.x, lo.y, lo.z), dvec3(hi.x, lo.y, lo.z)],
        from: dvec3(0.0, -0.7, 0.7),
    };
    for down in [DVec3::NEG_Z, DVec3::NEG_Y, DVec3::X] {
        let step = Assembly {
            standing: &[bottom],
            new: &[wall],
            seams: &[seam],
            down,
            way: Some(DVec3::NEG_Z),
        };
        let image = draw_assembly(&scene, &step, SIZE).unwrap();
        assert!(share(&image, is_new) > 0.02, "{down}: {}", share(&image, is_new));
        assert!(share(&image, is_seam) > 0.001, "{down}: {}", share(&image, is_seam));
        let without = Assembly { seams: &[], way: None, ..step.clone() };
        let without = draw_assembly(&scene, &without, SIZE).unwrap();
        assert!(share(&without, is_seam) < 1e-4, "{down}");
        let again = assembly(&scene, &step, SIZE).unwrap();
        assert_eq!(again, image.to_png().unwrap());
    }
}

#[test]
fn nothing_new_is_said() {
    let scene = sample::sump();
    let step = Assembly { standing: &[0], new: &[], seams: &[], down: DVec3::NEG_Z, way: None };
    assert!(matches!(draw_assembly(&scene, &step, SIZE), Err(Error::NothingNew)));
    let small = draw_assembly(&scene, &step, [10, 10]);
    assert!(matches!(small, Err(Error::Size { .. })));
}
