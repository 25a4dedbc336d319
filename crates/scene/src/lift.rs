//! Draws what can be taken out where it is lifted to.

mod free;
mod way;

use fit::Rigid;
use glam::{DVec3, dvec3};

use crate::scene::{Body, Scene};

impl Scene {
    /// The scene with everything loose where its way leads it, and dashed lines from the places of the parts that have
    /// labels to where they are drawn.
    pub fn lifted(&self) -> Self {
        let mut lifted = self.clone();
        for label in &mut lifted.labels {
            let Some(body) = label.body.and_then(|i| self.bodies.get(i)) else { continue };
            let Some(to) = body.lifted_to() else { continue };
            label.anchor = to.apply(label.anchor);
            lifted.guides.extend(guides(body, body.way.as_deref().unwrap_or_default()));
        }
        let move_out = |body: Body| match body.lifted_to() {
            Some(to) => body.moved(&to),
            None => body,
        };
        lifted.bodies = lifted.bodies.into_iter().map(move_out).collect();
        lifted
    }
}

/// The lines on which the underside of a body leaves its place: one from each end of an upright sheet, one
/// from each corner of a level one, one from the middle of anything else and of a level sheet that does not go
/// straight up, of which four lines would be a tangle.
fn guides(body: &Body, way: &[Rigid]) -> Vec<Vec<DVec3>> {
    let Some([lo, hi]) = body.bounds() else { return Vec::new() };
    let (size, middle) = (hi - lo, 0.5 * (lo + hi));
    let [x, y] = [[lo.x, hi.x], [lo.y, hi.y]];
    let is_straight = way.iter().all(|at| at.apply(lo).with_z(0.0).distance(lo.with_z(0.0)) < 1.0);
    let is_level = size.z < 0.2 * size.x.min(size.y) && is_straight;
    let feet: Vec<[f64; 2]> = if is_level {
        vec![[x[0], y[0]], [x[1], y[0]], [x[1], y[1]], [x[0], y[1]]]
    } else if size.x < 0.2 * size.y {
        y.map(|y| [middle.x, y]).to_vec()
    } else if size.y < 0.2 * size.x {
        x.map(|x| [x, middle.y]).to_vec()
    } else {
        vec![[middle.x, middle.y]]
    };
    let line = |[x, y]: [f64; 2]| way.iter().map(|at| at.apply(dvec3(x, y, lo.z))).collect();
    feet.into_iter().map(line).collect()
}
