//! Guards what a picture promises: the same bytes always, and light that obeys its laws.

mod sample;

use glam::{DVec3, dvec2, dvec3};
use scene::{Body, Camera, Frame, Image, Lens, Look, Scene, View, Water, draw, picture, render};

const SIZE: [usize; 2] = [480, 300];

fn in_threads(count: usize, scene: &Scene, view: View) -> Vec<u8> {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(count).build();
    let pool = pool.expect("threads can be started");
    pool.install(|| picture(scene, view, SIZE)).expect("the size is allowed")
}

#[test]
fn bytes_do_not_depend_on_threads_or_repetition() {
    let scene = sample::sump();
    for view in View::ALL {
        let once = in_threads(1, &scene, view);
        assert!(once == in_threads(8, &scene, view), "{view:?}");
        assert!(once == in_threads(8, &scene, view), "{view:?}");
    }
}

#[test]
fn the_order_of_bodies_does_not_show() {
    let scene = sample::sump();
    let mut turned = scene.clone();
    turned.bodies.reverse();
    turned.waters.reverse();
    turned.labels.clear();
    let without_labels = Scene { labels: Vec::new(), ..scene };
    for view in View::ALL {
        let a = draw(&without_labels, view, SIZE).unwrap();
        let comparison = a.compared(&draw(&turned, view, SIZE).unwrap(), 2);
        // Only where edges of two bodies fall together may the line of the one or the other be seen.
        assert!(comparison.share < 2e-3, "{view:?}: {comparison:?}");
    }
}

#[test]
fn sizes_out_of_range_are_refused() {
    let scene = sample::sump();
    for size in [[0, 300], [300, 100], [480, 100_000]] {
        let message = picture(&scene, View::Whole, size).unwrap_err().to_string();
        assert!(message.contains(&format!("{} × {}", size[0], size[1])), "{message}");
    }
}

#[test]
fn a_png_holds_the_pixels() {
    let image = draw(&sample::sump(), View::Section, SIZE).unwrap();
    assert!(Image::from_png(&image.to_png().unwrap()).unwrap() == image);
    assert!(Image::from_png(b"no picture").is_err());
}

/// A scene of nothing but these, without lines.
fn bare(bodies: Vec<Body>, waters: Vec<Water>) -> Scene {
    let bodies = bodies.into_iter().map(|body| Body { edges: Vec::new(), ..body }).collect();
    Scene { bodies, waters, labels: Vec::new(), levels: Vec::new(), ..sample::sump() }
}

/// The light, linear, that comes straight along `y` through the middle of a scene.
fn light_through(scene: &Scene) -> [f64; 3] {
    let frame = Frame { min: dvec2(40., 40.), max: dvec2(440., 260.) };
    let corners = [dvec3(0., 0., 0.), dvec3(1000., 420., 380.)];
    let camera = Camera::framed(-DVec3::Y, DVec3::Z, Lens::Parallel, &corners, frame);
    let pixel = render(scene, &camera, SIZE, 1.0).pixel([240, 150]);
    // IEC 61966-2-1.
    pixel.map(|byte| {
        let c = f64::from(byte) / 255.0;
        if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    })
}

fn water(depth: f64) -> Water {
    Water {
        name: "water".to_owned(),
        min: dvec3(0., 0., 0.),
        max: dvec3(1000., depth, 380.),
        is_open: true,
    }
}

/// Beer and Lambert: twice the way, the square of the share of light; half a byte of rounding allowed.
#[test]
fn water_weakens_light_by_the_length_of_its_way() {
    let nothing = light_through(&bare(Vec::new(), Vec::new()));
    let once = light_through(&bare(Vec::new(), vec![water(200.0)]));
    let twice = light_through(&bare(Vec::new(), vec![water(400.0)]));
    for i in 0..3 {
        let (once, twice) = (once[i] / nothing[i], twice[i] / nothing[i]);
        assert!((twice - once * once).abs() < 0.012, "channel {i}: {once} {twice}");
    }
    assert!(twice[0] < once[0] && once[0] < nothing[0], "red is taken most");
}

fn pane(y: f64, look: Look) -> Body {
    sample::sheet("pane", look, dvec3(0., y, 0.), dvec3(1000., y + 8.0, 380.))
}

#[test]
fn each_pane_takes_the_same_share_of_light() {
    let light = |count: u32| {
        let panes = (0..count).map(|i| pane(40.0 * f64::from(i), sample::CLEAR)).collect();
        light_through(&bare(panes, Vec::new()))[0]
    };
    let nothing = light(0);
    // A pane mirrors a little of the bright surroundings too: the shares agree only about.
    let shares: Vec<f64> = (1..5).map(|n| light(n) / light(n - 1)).collect();
    assert!(shares.iter().all(|s| (s - shares[0]).abs() < 0.02), "{shares:?}");
    assert!(light(4) < nothing && light(4) > 0.5 * nothing, "{} {nothing}", light(4));
}

#[test]
fn an_opaque_pane_hides_what_is_behind_it() {
    let front = light_through(&bare(vec![pane(0.0, sample::GREY)], Vec::new()));
    let mut more = vec![pane(0.0, sample::GREY), pane(100.0, sample::CLEAR)];
    more.push(pane(200.0, Look { colour: [255, 0, 0], is_clear: false }));
    let same = light_through(&bare(more, vec![water(420.0)]));
    assert!(front.iter().zip(same).all(|(a, b)| (a - b).abs() < 1e-12), "{front:?} {same:?}");
}

#[test]
fn an_eye_inside_the_sump_sees_no_garbage() {
    let scene = sample::sump();
    let [forward, right, up] = [DVec3::X, -DVec3::Y, DVec3::Z];
    for eye in [dvec3(400., 210., 200.), dvec3(242., 150., 250.), dvec3(8.0, 8.0, 8.0)] {
        let camera = Camera {
            eye,
            right,
            up,
            forward,
            lens: Lens::Perspective,
            scale: 300.0,
            centre: dvec2(240., 150.),
        };
        let image = render(&scene, &camera, SIZE, 1.0);
        let bright = image.pixels.iter().filter(|&&byte| byte > 40).count();
        assert!(2 * bright > image.pixels.len(), "{eye}");
    }
}

#[test]
fn nothing_at_all_is_drawn_as_an_empty_ground() {
    let empty = Scene { outside: DVec3::ZERO, ..bare(Vec::new(), Vec::new()) };
    for view in View::ALL {
        draw(&empty, view, SIZE).unwrap();
    }
}
