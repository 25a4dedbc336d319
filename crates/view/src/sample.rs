//! Bodies for tests.

use glam::{DVec3, dvec3};
use scene::{Body, Look, Side, Triangle};

/// A clear square about a point, square to y, of half a side, mm.
pub(crate) fn square(middle: DVec3, half: f64) -> Body {
    let corner = |x: f64, z: f64| middle + dvec3(x * half, 0.0, z * half);
    let (a, b, c, d) = (corner(-1., -1.), corner(1., -1.), corner(1., 1.), corner(-1., 1.));
    let triangle = |corners| Triangle { corners, normals: [-DVec3::Y; 3], side: Side::Broad };
    Body {
        name: String::new(),
        look: Look { colour: [0; 3], is_clear: true },
        triangles: vec![triangle([a, b, c]), triangle([a, c, d])],
        edges: Vec::new(),
        engraved: Vec::new(),
        way: None,
    }
}
