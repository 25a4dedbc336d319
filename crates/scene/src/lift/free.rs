//! Whether bodies pass through each other in a picture.

use glam::{DVec3, dvec3};

use crate::scene::Body;
use crate::seen::meets_triangle;

/// Bodies that share less than this look as if they touched, mm.
const TOUCH_MM: f64 = 0.5;

/// A body that is not moved any more, and the box around it.
#[derive(Debug)]
pub(super) struct Standing {
    body: Body,
    bounds: [DVec3; 2],
}

impl Standing {
    /// Whether the boxes of both overlap while this one is raised by so much.
    pub(super) fn is_under(&self, other: &Self, lift_mm: f64) -> bool {
        let raised = [self.bounds[0], self.bounds[1] + DVec3::Z * lift_mm];
        raised[0].cmplt(other.bounds[1]).all() && other.bounds[0].cmplt(raised[1]).all()
    }

    /// `None` for a body without a surface.
    pub(super) fn of(body: Body) -> Option<Self> {
        Some(Self { bounds: body.bounds()?, body })
    }
}

/// Whether the surfaces of two bodies pierce each other, or one is inside the other.
pub(super) fn share_room(a: &Standing, b: &Standing) -> bool {
    let (box_a, box_b) = (a.bounds, b.bounds);
    let (a, b) = (&a.body, &b.body);
    let shared = [box_a[0].max(box_b[0]), box_a[1].min(box_b[1])];
    if (shared[1] - shared[0]).min_element() < TOUCH_MM {
        return false;
    }
    let [of_a, of_b] = [a, b].map(|body| within(body, shared));
    pierces(&of_a, &of_b)
        || pierces(&of_b, &of_a)
        || is_inside(a, box_a, b, box_b)
        || is_inside(b, box_b, a, box_a)
}

/// The triangles of a body that reach into a box.
fn within(body: &Body, [lo, hi]: [DVec3; 2]) -> Vec<[DVec3; 3]> {
    let reaches = |[a, b, c]: &[DVec3; 3]| {
        let (least, most) = (a.min(*b).min(*c), a.max(*b).max(*c));
        least.cmple(hi).all() && most.cmpge(lo).all()
    };
    body.triangles.iter().map(|t| t.corners).filter(reaches).collect()
}

/// Whether an edge of one surface goes through a triangle of the other, by more than a touch at its ends.
fn pierces(edges: &[[DVec3; 3]], faces: &[[DVec3; 3]]) -> bool {
    let boxed: Vec<([DVec3; 2], &[DVec3; 3])> =
        faces.iter().map(|t| ([t[0].min(t[1]).min(t[2]), t[0].max(t[1]).max(t[2])], t)).collect();
    let ends = edges.iter().flat_map(|[a, b, c]| [[*a, *b], [*b, *c], [*c, *a]]);
    // Of the two triangles at an edge one has it in this order.
    let ends = ends.filter(|[a, b]| (a.x, a.y, a.z) < (b.x, b.y, b.z));
    ends.filter(|[a, b]| a.distance(*b) > 2.0 * TOUCH_MM).any(|[a, b]| {
        let short = (b - a).normalize() * TOUCH_MM;
        let (start, end) = (a + short, b - short);
        let (least, most) = (start.min(end), start.max(end));
        boxed.iter().any(|([lo, hi], face)| {
            lo.cmple(most).all()
                && hi.cmpge(least).all()
                && meets_triangle(start, end - start, 1.0, **face)
        })
    })
}

/// Whether a body whose surface pierces nothing is inside another: whether one of its corners is.
fn is_inside(body: &Body, small: [DVec3; 2], of: &Body, large: [DVec3; 2]) -> bool {
    let fits = large[0].cmplt(small[0]).all() && small[1].cmplt(large[1]).all();
    let Some(corner) = body.triangles.first().map(|t| t.corners[0]).filter(|_| fits) else {
        return false;
    };
    // Along no edge that a sump has.
    let way = dvec3(0.8131, 0.3617, 0.4559) * (large[1] - large[0]).length();
    let met = of.triangles.iter().filter(|t| meets_triangle(corner, way, 2.0, t.corners)).count();
    met % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{Look, Side, Triangle};

    /// A block between two corners.
    fn block(lo: DVec3, hi: DVec3) -> Standing {
        // The corners of its six faces: bit 0 is x, bit 1 is y, bit 2 is z.
        const FACES: [[u8; 4]; 6] =
            [[0, 4, 6, 2], [1, 3, 7, 5], [0, 1, 5, 4], [2, 6, 7, 3], [0, 2, 3, 1], [4, 5, 7, 6]];
        let corner = |i: u8| {
            let pick = |bit: u8, k: usize| if i & bit == 0 { lo[k] } else { hi[k] };
            dvec3(pick(1, 0), pick(2, 1), pick(4, 2))
        };
        let triangle = |[a, b, c]: [u8; 3]| Triangle {
            corners: [a, b, c].map(corner),
            normals: [DVec3::Z; 3],
            side: Side::Broad,
        };
        let triangles = FACES.iter().flat_map(|[a, b, c, d]| [[*a, *b, *c], [*a, *c, *d]]);
        let body = Body {
            name: "block".to_owned(),
            look: Look { colour: [200; 3], is_clear: true },
            triangles: triangles.map(triangle).collect(),
            edges: Vec::new(),
            engraved: Vec::new(),
            way: None,
        };
        Standing::of(body).expect("it has a surface")
    }

    #[test]
    fn what_passes_through_shares_room_and_what_touches_does_not() {
        let frame = block(dvec3(0.0, 0.0, 100.0), dvec3(400.0, 60.0, 106.0));
        let check = |lo: DVec3, hi: DVec3, expected: bool| {
            let other = block(lo, hi);
            assert_eq!(share_room(&frame, &other), expected, "{lo} {hi}");
            assert_eq!(share_room(&other, &frame), expected, "{lo} {hi}");
        };
        // A leaf through it, one that ends in it, one that stands on it, one beside it.
        check(dvec3(100.0, 10.0, 0.0), dvec3(106.0, 300.0, 200.0), true);
        check(dvec3(100.0, 10.0, 0.0), dvec3(106.0, 50.0, 103.0), true);
        check(dvec3(100.0, 10.0, 106.0), dvec3(106.0, 50.0, 200.0), false);
        check(dvec3(100.0, 60.0, 0.0), dvec3(106.0, 300.0, 200.0), false);
        // All of it inside.
        check(dvec3(100.0, 10.0, 102.0), dvec3(106.0, 50.0, 104.0), true);
    }
}
