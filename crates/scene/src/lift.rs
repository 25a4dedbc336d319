//! Draws what can be taken out above its place.

use glam::{DVec3, dvec3};

use crate::scene::{Body, Scene};

impl Scene {
    /// The scene with everything loose lifted as far as it says, and dashed lines from the places of
    /// the parts that have labels to where they are drawn.
    pub fn lifted(&self) -> Self {
        let mut lifted = self.clone();
        for label in &self.labels {
            let body = label.body.and_then(|i| self.bodies.get(i));
            if let Some((body, lift)) = body.and_then(|b| Some((b, b.lift_mm?))) {
                lifted.guides.extend(guides(body, lift));
            }
        }
        for body in &mut lifted.bodies {
            let lift = DVec3::Z * body.lift_mm.unwrap_or(0.0);
            let lines = body.edges.iter_mut().chain(&mut body.engraved);
            lines.flatten().for_each(|p| *p += lift);
            body.triangles.iter_mut().flat_map(|t| &mut t.corners).for_each(|p| *p += lift);
        }
        for label in &mut lifted.labels {
            let body = label.body.and_then(|i| self.bodies.get(i));
            label.anchor.z += body.and_then(|b| b.lift_mm).unwrap_or(0.0);
        }
        lifted
    }
}

/// Lines from where the underside of a body stands to where it is lifted: one at each end of an
/// upright sheet, one at each corner of a level one, one in the middle of anything else.
fn guides(body: &Body, lift: f64) -> Vec<[DVec3; 2]> {
    let Some([lo, hi]) = body.bounds() else { return Vec::new() };
    let (size, middle) = (hi - lo, 0.5 * (lo + hi));
    let [x, y] = [[lo.x, hi.x], [lo.y, hi.y]];
    let is_level = size.z < 0.2 * size.x.min(size.y);
    let feet: Vec<[f64; 2]> = if is_level {
        vec![[x[0], y[0]], [x[1], y[0]], [x[1], y[1]], [x[0], y[1]]]
    } else if size.x < 0.2 * size.y {
        y.map(|y| [middle.x, y]).to_vec()
    } else if size.y < 0.2 * size.x {
        x.map(|x| [x, middle.y]).to_vec()
    } else {
        vec![[middle.x, middle.y]]
    };
    feet.into_iter().map(|[x, y]| [dvec3(x, y, lo.z), dvec3(x, y, lo.z + lift)]).collect()
}
