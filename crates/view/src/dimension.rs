//! Dimensions between two places that were picked.

use fit::Rigid;
use glam::{DVec2, DVec3};
use scene::{Body, Camera};
use show::ThingId;

use crate::pick::Hit;

/// A corner is taken when the pointer is nearer than this, px; our judgement.
const CORNER_PX: f64 = 9.0;
/// An edge is taken when the pointer is nearer than this and no corner is, px; our judgement.
const EDGE_PX: f64 = 6.0;
/// Two faces are parallel when their normals differ by less than this, rad: a millimetre over 2 m.
const PARALLEL_RAD: f64 = 5e-4;
/// Two pieces of an edge that turn by more than this meet in a corner, rad: more than a chord of a round edge does
/// (our judgement).
const CORNER_RAD: f64 = 0.35;

/// What a place lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum On {
    /// A flat face, and its outward unit normal.
    Face(DVec3),
    /// A face that is round.
    Round,
    /// An edge.
    Edge,
    /// A corner.
    Corner,
}

/// A place on a thing, given where the thing is at home: it goes along with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Of what.
    pub thing: ThingId,
    /// Where, mm.
    pub at: DVec3,
    /// On what.
    pub on: On,
}

impl Spot {
    /// Where a line of sight met a thing, or the corner or the edge of that thing that is near in the picture.
    pub fn of(hit: &Hit, body: &Body, place: Rigid, camera: &Camera, pointer: DVec2) -> Self {
        let at = place.home_of(hit.at);
        let normal = place.turn.inverse() * hit.normal;
        let on = if hit.is_flat { On::Face(normal) } else { On::Round };
        let to_px = |p: DVec3| camera.project(place.apply(p));
        // Of what lies at the same place in the picture the nearest to where the thing was met is meant.
        let nearest = |found: Vec<(f64, DVec3)>, most_px: f64| {
            let near = found.into_iter().filter(|(px, _)| *px < most_px).map(|(_, p)| p);
            near.min_by(|a, b| a.distance_squared(at).total_cmp(&b.distance_squared(at)))
        };
        let corners = body.edges.iter().flat_map(|edge| corners(edge));
        let corners = corners.map(|p| (to_px(p).distance(pointer), p)).collect();
        if let Some(at) = nearest(corners, CORNER_PX) {
            return Self { thing: hit.thing, at, on: On::Corner };
        }
        let pieces = body.edges.iter().flat_map(|edge| edge.windows(2));
        let on_edges = pieces.map(|pair| {
            let [a, b] = [pair[0], pair[1]];
            let share = share_near(to_px(a), to_px(b), pointer);
            let p = a.lerp(b, share);
            (to_px(p).distance(pointer), p)
        });
        match nearest(on_edges.collect(), EDGE_PX) {
            Some(at) => Self { thing: hit.thing, at, on: On::Edge },
            None => Self { thing: hit.thing, at, on },
        }
    }
}

/// Ends of an edge, and where it turns sharply.
fn corners(edge: &[DVec3]) -> impl Iterator<Item = DVec3> {
    let is_closed = edge.len() > 2
        && edge.first().zip(edge.last()).is_some_and(|(a, b)| a.distance_squared(*b) < 1e-12);
    let ends = if is_closed { [None, None] } else { [edge.first(), edge.last()] };
    let turns = |p: DVec3, q: DVec3, r: DVec3| {
        let (before, after) = (q - p, r - q);
        before.length_squared() > 0.0
            && after.length_squared() > 0.0
            && CORNER_RAD < before.angle_between(after)
    };
    let sharp = edge.windows(3).filter(move |w| turns(w[0], w[1], w[2])).map(|window| window[1]);
    // Where a closed edge begins it may turn as well.
    let seam = match edge {
        [first, second, .., before, _] if is_closed && turns(*before, *first, *second) => {
            Some(*first)
        }
        _ => None,
    };
    ends.into_iter().flatten().copied().chain(sharp).chain(seam)
}

/// How far from `a` to `b` the place nearest to `p` is, from 0 to 1.
fn share_near(a: DVec2, b: DVec2, p: DVec2) -> f64 {
    let along = b - a;
    let length = along.length_squared();
    if length < 1e-12 { 0.0 } else { ((p - a).dot(along) / length).clamp(0.0, 1.0) }
}

/// A distance, where it is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dimension {
    /// One end, mm.
    pub from: DVec3,
    /// The other, mm.
    pub to: DVec3,
    /// What was picked, where that is not the other end: the foot of a perpendicular lies beside it.
    pub beside: Option<DVec3>,
    /// Whether it is the perpendicular distance of two parallel faces.
    pub is_square: bool,
}

impl Dimension {
    /// Between two places, with where their things are now: square between parallel faces, else from point to point.
    pub fn between(a: (&Spot, Rigid), b: (&Spot, Rigid)) -> Self {
        let [from, to] = [a, b].map(|(spot, place)| place.apply(spot.at));
        if let (On::Face(n), On::Face(m)) = (a.0.on, b.0.on) {
            let (n, m) = (a.1.turn * n, b.1.turn * m);
            if n.cross(m).length() < PARALLEL_RAD {
                let foot = from + n * n.dot(to - from);
                let beside = (foot.distance(to) > 1e-6).then_some(to);
                return Self { from, to: foot, beside, is_square: true };
            }
        }
        Self { from, to, beside: None, is_square: false }
    }

    /// mm.
    pub fn length_mm(&self) -> f64 {
        self.from.distance(self.to)
    }

    /// Its parts along the sump, from front to back, and upwards, mm, none negative.
    pub fn parts_mm(&self) -> DVec3 {
        (self.to - self.from).abs()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::{DQuat, dvec2, dvec3};
    use scene::{Lens, Look};

    const CAMERA: Camera = Camera {
        eye: dvec3(0.0, -1000.0, 0.0),
        right: DVec3::X,
        up: DVec3::Z,
        forward: DVec3::Y,
        lens: Lens::Parallel,
        scale: 2.0,
        centre: dvec2(400.0, 300.0),
    };

    /// A square of side 100 mm with its front edge at y = 0 and its rear edge at y = 8, as a sheet has.
    fn sheet() -> Body {
        let ring = |y: f64| {
            let corner = |x: f64, z: f64| dvec3(x, y, z);
            vec![
                corner(0.0, 0.0),
                corner(100.0, 0.0),
                corner(100.0, 100.0),
                corner(0.0, 100.0),
                corner(0.0, 0.0),
            ]
        };
        Body {
            name: String::new(),
            look: Look { colour: [0; 3], is_clear: true },
            triangles: Vec::new(),
            edges: vec![ring(0.0), ring(8.0)],
            engraved: Vec::new(),
            way: None,
        }
    }

    fn spot_at(at: DVec3) -> Spot {
        let hit = Hit { thing: 3, distance_mm: 1000.0, at, normal: -DVec3::Y, is_flat: true };
        Spot::of(&hit, &sheet(), Rigid::HOME, &CAMERA, CAMERA.project(at))
    }

    fn face(at: DVec3, normal: DVec3) -> Spot {
        Spot { thing: 0, at, on: On::Face(normal) }
    }

    fn between(a: &Spot, b: &Spot) -> Dimension {
        Dimension::between((a, Rigid::HOME), (b, Rigid::HOME))
    }

    #[test]
    fn places_near_corners_and_edges_are_taken_there() {
        // Two px are one mm.
        let check = |x: f64, z: f64, on: On, at: DVec3| {
            let spot = spot_at(dvec3(x, 0.0, z));
            assert_eq!(spot.on, on, "{x} {z}");
            assert!(spot.at.distance(at) < 1e-9, "{spot:?}");
        };
        check(3.0, 3.0, On::Corner, DVec3::ZERO);
        check(98.0, 97.0, On::Corner, dvec3(100.0, 0.0, 100.0));
        check(40.0, 2.0, On::Edge, dvec3(40.0, 0.0, 0.0));
        check(50.0, 50.0, On::Face(-DVec3::Y), dvec3(50.0, 0.0, 50.0));
        check(40.0, 3.5, On::Face(-DVec3::Y), dvec3(40.0, 0.0, 3.5));
    }

    #[test]
    fn the_edge_that_is_seen_is_meant_and_not_the_one_behind() {
        let spot = spot_at(dvec3(40.0, 8.0, 2.0));
        assert!((spot.at.y - 8.0).abs() < 1e-9, "{spot:?}");
    }

    #[test]
    fn a_round_edge_has_no_corners() {
        let at = |k: i32| {
            let angle = std::f64::consts::TAU * f64::from(k % 32) / 32.0;
            dvec3(angle.cos(), 0.0, angle.sin())
        };
        let ring: Vec<DVec3> = (0..=32).map(at).collect();
        assert_eq!(corners(&ring).count(), 0);
        assert_eq!(corners(&sheet().edges[0]).count(), 4);
        assert_eq!(corners(&[DVec3::ZERO, DVec3::X]).count(), 2);
    }

    /// Two sheets 212 mm apart, picked at places that do not lie opposite.
    #[test]
    fn parallel_faces_are_measured_square() {
        let a = face(dvec3(10.0, 50.0, 20.0), DVec3::X);
        let b = face(dvec3(222.0, 300.0, 150.0), -DVec3::X);
        let told = between(&a, &b);
        assert!(told.is_square && (told.length_mm() - 212.0).abs() < 1e-9, "{told:?}");
        assert_eq!(told.beside, Some(b.at));
        assert!((told.parts_mm() - dvec3(212.0, 0.0, 0.0)).length() < 1e-9);
        let back = between(&b, &a);
        assert!((back.length_mm() - 212.0).abs() < 1e-9);
    }

    /// 3, 4, 12 and 13.
    #[test]
    fn other_places_are_measured_from_point_to_point() {
        let corner = |at: DVec3| Spot { thing: 0, at, on: On::Corner };
        let told = between(&corner(DVec3::ONE), &corner(dvec3(4.0, -3.0, 13.0)));
        assert!(!told.is_square && (told.length_mm() - 13.0).abs() < 1e-9);
        assert!((told.parts_mm() - dvec3(3.0, 4.0, 12.0)).length() < 1e-9);
        let askew = between(&face(DVec3::ZERO, DVec3::X), &face(dvec3(3.0, 4.0, 0.0), DVec3::Y));
        assert!(!askew.is_square && (askew.length_mm() - 5.0).abs() < 1e-9);
    }

    #[test]
    fn round_faces_are_measured_from_where_they_were_picked() {
        let at = dvec3(50.0, 0.0, 50.0);
        let hit = Hit { thing: 3, distance_mm: 9.0, at, normal: -DVec3::Y, is_flat: false };
        let spot = Spot::of(&hit, &sheet(), Rigid::HOME, &CAMERA, CAMERA.project(at));
        assert_eq!((spot.on, spot.at), (On::Round, at));
        assert!(!between(&spot, &face(dvec3(0.0, 9.0, 0.0), DVec3::Y)).is_square);
    }

    /// The part is turned by a quarter and moved: what was picked on it goes along.
    #[test]
    fn a_dimension_goes_along_with_what_moves() {
        let place = Rigid::HOME
            .turned(DQuat::from_rotation_z(std::f64::consts::FRAC_PI_2), DVec3::ZERO)
            .moved(dvec3(0.0, 30.0, 0.0));
        let (a, b) = (face(DVec3::ZERO, -DVec3::Y), face(dvec3(5.0, 7.0, 9.0), DVec3::X));
        assert!(!between(&a, &b).is_square, "at home they stand square to each other");
        let told = Dimension::between((&a, Rigid::HOME), (&b, place));
        assert!(told.is_square && (told.length_mm() - 35.0).abs() < 1e-9, "{told:?}");
        let hit = Hit {
            thing: 0,
            distance_mm: 1.0,
            at: place.apply(dvec3(50.0, 0.0, 50.0)),
            normal: DVec3::X,
            is_flat: true,
        };
        let spot = Spot::of(&hit, &sheet(), place, &CAMERA, CAMERA.project(hit.at));
        assert!(spot.at.y.abs() < 1e-9, "{spot:?}");
    }
}
