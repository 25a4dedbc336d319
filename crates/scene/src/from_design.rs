//! From a design and the meshes of its pieces to a scene.

use std::collections::BTreeSet;

use design::{Chamber, Design, Piece, Placed, Role};
use fit::Rigid;
use glam::{DAffine3, DVec3, dvec3};
use plate::{Face, Shape};
use solid::Mesh;

use crate::Error;
use crate::nearest::{near_edge, near_face};
use crate::scene::{Body, Label, Level, Look, Scene, Side, Topic, Triangle, Water};

impl Scene {
    /// Puts the meshes of a design's pieces into their places, with water, labels and levels.
    ///
    /// `meshes` holds one mesh per piece, in the order of [`Design::pieces`]. The section cuts through
    /// as many chambers as one straight cut can, as near to the middle as that allows. What is loose is lifted straight
    /// up as far as the design says, until [`Scene::on_ways`] knows better.
    ///
    /// # Errors
    /// When there are more or fewer meshes than pieces.
    pub fn assembled(design: &Design, meshes: &[Mesh]) -> Result<Self, Error> {
        if meshes.len() != design.pieces.len() {
            return Err(Error::Meshes { meshes: meshes.len(), pieces: design.pieces.len() });
        }
        let in_place =
            |placed: &Placed| body(placed, &design.pieces[placed.piece], &meshes[placed.piece]);
        let bodies: Vec<Body> = design.placed.iter().map(in_place).collect();
        let levels: Vec<Level> = design.chambers.iter().map(|c| level(c, design)).collect();
        Ok(Self {
            title: design.title.clone(),
            report: design.report,
            outside: design.outside,
            waters: waters(design, &bodies),
            labels: labels(design, &bodies, &levels),
            guides: Vec::new(),
            section_y: section_y(design, &bodies),
            spares: design.spares.iter().map(in_place).collect(),
            cabinet: None,
            bodies,
            levels,
        })
    }
}

fn body(placed: &Placed, piece: &Piece, mesh: &Mesh) -> Body {
    Body {
        look: Look { colour: piece.look.colour, is_clear: piece.look.is_clear },
        engraved: engraved(&piece.shape, placed.pose),
        way: placed.loose.map(|loose| straight_up(loose.lift_mm)),
        ..bare(&placed.name, &piece.shape, placed.pose, mesh)
    }
}

/// As long as nothing better is known than how far.
fn straight_up(lift_mm: f64) -> Vec<Rigid> {
    vec![Rigid::HOME, Rigid::HOME.moved(DVec3::Z * lift_mm)]
}

/// A shape in its place, without a look of its own.
pub(crate) fn bare(name: &str, shape: &Shape, pose: DAffine3, mesh: &Mesh) -> Body {
    let corners = |t: &[u32; 3]| t.map(|i| pose.transform_point3(mesh.positions[i as usize]));
    let triangles = mesh.triangles.iter().zip(&mesh.normals).map(|(t, normals)| Triangle {
        corners: corners(t),
        normals: normals.map(|n| pose.transform_vector3(n)),
        side: side(shape, normals[0]),
    });
    let line = |line: &Vec<u32>| {
        line.iter().map(|&i| pose.transform_point3(mesh.positions[i as usize])).collect()
    };
    Body {
        name: name.to_owned(),
        look: Look { colour: [u8::MAX; 3], is_clear: false },
        triangles: triangles.collect(),
        edges: mesh.lines.iter().map(line).collect(),
        engraved: Vec::new(),
        way: None,
    }
}

/// The broad faces of sheet are those across its thickness, which is its own `z`.
fn side(shape: &Shape, normal: DVec3) -> Side {
    match shape {
        Shape::Sheet(_) if normal.z.abs() < 0.5 => Side::Edge,
        Shape::Sheet(_) | Shape::Turned(_) => Side::Broad,
    }
}

fn engraved(shape: &Shape, pose: DAffine3) -> Vec<Vec<DVec3>> {
    let Shape::Sheet(plate) = shape else { return Vec::new() };
    let strokes = plate.engravings.iter().flat_map(|engraving| {
        let z = match engraving.face {
            Face::Top => plate.thickness,
            Face::Bottom => 0.0,
        };
        engraving.strokes.iter().map(move |stroke| (stroke, z))
    });
    let place = |(stroke, z): (&Vec<glam::DVec2>, f64)| {
        stroke.iter().map(|p| pose.transform_point3(p.extend(z))).collect()
    };
    strokes.map(place).collect()
}

fn level(chamber: &Chamber, design: &Design) -> Level {
    Level {
        chamber: chamber.name.clone(),
        min: chamber.min,
        max: chamber.max,
        floor_z: design.floor_z,
        height_mm: chamber.level_mm,
    }
}

/// The water of the design, and what stands between two of its bodies under a leaf that leaves a gap
/// above the bottom.
fn waters(design: &Design, bodies: &[Body]) -> Vec<Water> {
    let standing = design.waters.iter().map(|w| Water {
        name: w.name.clone(),
        min: w.min,
        max: w.max,
        is_open: true,
    });
    let mut waters: Vec<Water> = standing.collect();
    let boxes: Vec<[DVec3; 2]> = bodies.iter().filter_map(Body::bounds).collect();
    let mut joined = Vec::new();
    for a in &waters {
        for b in &waters {
            joined.extend((0..2).filter_map(|axis| between(a, b, axis, &boxes)));
        }
    }
    waters.extend(joined);
    waters
}

/// Leaves between waters are no thicker than this, mm.
const MOST_BETWEEN_MM: f64 = 30.0;
/// Gaps less high than this are not worth drawing, mm.
const LEAST_GAP_MM: f64 = 1.0;

/// The water under what parts `a` from `b`, which comes after it along an axis.
fn between(a: &Water, b: &Water, axis: usize, boxes: &[[DVec3; 2]]) -> Option<Water> {
    let distance = b.min[axis] - a.max[axis];
    if !(0.0 < distance && distance < MOST_BETWEEN_MM) {
        return None;
    }
    let (mut min, mut max) = (a.min.max(b.min), a.max.min(b.max));
    min[axis] = a.max[axis];
    max[axis] = b.min[axis];
    let inside = |[lo, hi]: &&[DVec3; 2]| {
        let (p, q) = (lo.max(min), hi.min(max));
        (q - p).cmpgt(DVec3::splat(0.1)).all()
    };
    let lowest = boxes.iter().filter(inside).map(|b| b[0].z).fold(f64::INFINITY, f64::min);
    max.z = max.z.min(lowest);
    let is_gap =
        lowest.is_finite() && max.z - min.z > LEAST_GAP_MM && (max - min).min_element() > 0.0;
    is_gap.then(|| Water {
        name: format!("under {} and {}", a.name, b.name),
        min,
        max,
        is_open: false,
    })
}

/// One label for each chamber and for each piece that is worth a name.
fn labels(design: &Design, bodies: &[Body], levels: &[Level]) -> Vec<Label> {
    let chambers = levels.iter().map(|level| Label {
        text: level.chamber.clone(),
        topic: Topic::Chamber,
        anchor: level
            .min
            .lerp(level.max, 0.5)
            .with_y(level.min.y + 0.35 * (level.max.y - level.min.y))
            .extend(level.floor_z + level.height_mm),
        body: None,
    });
    let mut named = BTreeSet::new();
    let pieces = design.placed.iter().zip(bodies).enumerate().filter_map(|(i, (placed, body))| {
        let piece = &design.pieces[placed.piece];
        let topic = topic(piece.role)?;
        let anchor = anchor(body, topic)?;
        named.insert(placed.piece).then(|| Label {
            text: piece.name.clone(),
            topic,
            anchor,
            body: Some(i),
        })
    });
    chambers.chain(pieces).collect()
}

/// What a label of a piece would be about; `None` for what is too small or too plain for a label.
pub(crate) fn topic(role: Role) -> Option<Topic> {
    match role {
        Role::Equipment => Some(Topic::Equipment),
        Role::Leaf => Some(Topic::Leaf),
        Role::SockHolder => Some(Topic::SockHolder),
        Role::Door => Some(Topic::Door),
        Role::Rim => Some(Topic::Rim),
        Role::DrainPipe | Role::Sock => Some(Topic::Insert),
        Role::Lid => Some(Topic::Lid),
        Role::WallFitting | Role::GuideChannel | Role::Fitting => Some(Topic::Fitting),
        Role::Bottom | Role::Wall => Some(Topic::Wall),
        Role::GuideStrip | Role::Ledge | Role::SockRing | Role::Knob | Role::Screw | Role::Jig => {
            None
        }
    }
}

/// A point of a body that is likely to be seen and that tells it from its neighbours.
pub(crate) fn anchor(body: &Body, topic: Topic) -> Option<DVec3> {
    let [lo, hi] = body.bounds()?;
    let at = |x: f64, y: f64, z: f64| lo + (hi - lo) * dvec3(x, y, z);
    Some(match topic {
        // Sheet inside is known by its edge: the upper one, not far from the front.
        Topic::Leaf | Topic::Door => {
            // Along the sheet near the front or the inlet end; across it in the middle.
            let share = |size: f64, other: f64| if size < other { 0.5 } else { 0.3 };
            let size = hi - lo;
            near_face(body, at(share(size.x, size.y), share(size.y, size.x), 1.0))
        }
        Topic::SockHolder | Topic::Lid => near_edge(body, at(0.75, 0.0, 1.0)),
        Topic::Rim => near_edge(body, at(0.8, 0.0, 1.0)),
        Topic::Wall => wall_anchor([lo, hi]),
        Topic::Insert => near_face(body, at(0.5, 0.0, 0.86)),
        Topic::Equipment | Topic::Fitting | Topic::Chamber => near_face(body, at(0.5, 0.0, 0.75)),
    })
}

/// A point on the broad face of a wall or the bottom, away from the middle, where most else is.
fn wall_anchor([lo, hi]: [DVec3; 2]) -> DVec3 {
    let size = hi - lo;
    let at = |x: f64, y: f64, z: f64| lo + size * dvec3(x, y, z);
    if size.z < size.x.min(size.y) {
        at(0.9, 0.0, 0.5)
    } else if size.y < size.x {
        at(0.1, 0.0, if lo.y > 0.0 { 0.9 } else { 0.3 })
    } else {
        at(if lo.x > 0.0 { 1.0 } else { 0.0 }, 0.7, 0.8)
    }
}

/// Cuts this near to a face of a sheet would run along it, mm.
const ALONG_SHEET_MM: f64 = 3.0;

/// Where a cut along the length meets most chambers and runs along no sheet.
fn section_y(design: &Design, bodies: &[Body]) -> f64 {
    let width = design.outside.y;
    let boxes: Vec<[DVec3; 2]> = bodies.iter().filter_map(Body::bounds).collect();
    let runs_along_sheet = |y: f64| {
        boxes.iter().any(|[lo, hi]| {
            let size = hi - lo;
            let is_upright_along = size.y < 0.2 * size.x && size.y < 0.2 * size.z;
            is_upright_along && lo.y - ALONG_SHEET_MM < y && y < hi.y + ALONG_SHEET_MM
        })
    };
    let met = |y: f64| design.chambers.iter().filter(|c| c.min.y < y && y < c.max.y).count();
    // From the middle outwards, so that of equals the one nearest to the middle comes first.
    let steps = (0..20_u32).flat_map(|i| [0.5 - 0.02 * f64::from(i), 0.5 + 0.02 * f64::from(i)]);
    let places = steps.map(|share| share * width);
    let best = places
        .filter(|&y| !runs_along_sheet(y))
        .reduce(|best, y| if met(y) > met(best) { y } else { best });
    best.unwrap_or(0.5 * width)
}
