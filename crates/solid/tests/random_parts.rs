//! Ten thousand random plates and a thousand turned bodies: each is a closed, oriented solid of the
//! right volume, or is refused by name. Membership is judged against the cuts as they were drawn,
//! past the arrangement, the solid and the mesher.
use glam::{DVec2, DVec3, dvec2};
use plate::{Contour, Face, Plate, Tolerance, arrange, sample};
use rayon::prelude::*;
use solid::{Brep, Curve, Error, Mesh, Solid, Surface};

const CHORD_ERROR_MM: f64 = 0.05;

/// What became of one part.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Tally {
    solids: usize,
    /// Refused by the arrangement, or a defect that has a name.
    refused: usize,
    /// Solids whose arcs are too close for chords.
    unmeshable: usize,
    columns: usize,
}

impl Tally {
    fn plus(self, other: Self) -> Self {
        Self {
            solids: self.solids + other.solids,
            refused: self.refused + other.refused,
            unmeshable: self.unmeshable + other.unmeshable,
            columns: self.columns + other.columns,
        }
    }
}

#[test]
fn ten_thousand_plates() {
    let tally = (0..10_000).into_par_iter().map(plate_of).reduce(Tally::default, Tally::plus);
    println!("{tally:?}");
    // The plates are the same on every run, and 7,986 of them are sound; the test would be hollow if
    // sound ones came to be refused, or most columns lay too near an edge.
    assert!(tally.solids >= 7_950 && tally.unmeshable < 10 && tally.columns > 50_000, "{tally:?}");
}

fn plate_of(seed: u64) -> Tally {
    let plate = sample::plate(seed);
    let refused = Tally { refused: 1, ..Tally::default() };
    let arrangement = match arrange(&plate, &Tolerance::default()) {
        Ok(arrangement) => arrangement,
        // The plates are sound by themselves: only features or floors that nearly meet are refused.
        Err(plate::Error::NearMiss { .. } | plate::Error::CloseHeights { .. }) => return refused,
        Err(error) => panic!("plate {seed}: {error}"),
    };
    let solid = match Solid::of_plate(&arrangement) {
        Ok(solid) => solid,
        Err(Error::Defect(_)) => return refused,
        Err(error) => panic!("plate {seed}: {error}"),
    };
    let mesh = match solid.checked_mesh(CHORD_ERROR_MM) {
        Ok(mesh) => mesh,
        Err(Error::Unmeshable { .. }) => {
            return Tally { solids: 1, unmeshable: 1, ..Tally::default() };
        }
        Err(error) => panic!("plate {seed}: {error}"),
    };
    check_mesh(seed, &solid, &mesh);
    let columns = if seed.is_multiple_of(4) { check_columns(seed, &plate, &mesh) } else { 0 };
    Tally { solids: 1, columns, ..Tally::default() }
}

#[test]
fn a_thousand_turned_bodies() {
    let solids = (0..1_000).into_par_iter().filter(|&seed| turned_is_sound(seed)).count();
    println!("{solids} of 1000 turned bodies are sound, the others refused");
    assert!(solids > 500, "{solids}");
}

fn turned_is_sound(seed: u64) -> bool {
    let turned = sample::turned(seed);
    match Solid::of_turned(&turned) {
        Ok(solid) => {
            let mesh =
                solid.checked_mesh(CHORD_ERROR_MM).unwrap_or_else(|e| panic!("body {seed}: {e}"));
            check_mesh(seed, &solid, &mesh);
            true
        }
        Err(Error::Turned(_)) => false,
        Err(error) => panic!("body {seed}: {error}"),
    }
}

/// The mesh is closed, and its volume is within the chord error times the area of the round walls.
fn check_mesh(seed: u64, solid: &Solid, mesh: &Mesh) {
    assert!(mesh.is_closed(), "part {seed}: the mesh is open");
    let bound = CHORD_ERROR_MM * round_area(solid.brep()) + 1e-9 * solid.volume_mm3();
    let off = (mesh.volume_mm3() - solid.volume_mm3()).abs();
    assert!(off <= bound, "part {seed}: {off} mm³ off, at most {bound} expected");
    for (triangle, normals) in mesh.triangles.iter().zip(&mesh.normals) {
        let [a, b, c] = mesh.corners(triangle);
        let flat = (b - a).cross(c - a).normalize_or_zero();
        // A chord turns by 30° at most; shading normals lean no further than that. A sliver has no
        // direction worth comparing.
        let broad = (b - a).cross(c - a).length() > 1e-6;
        assert!(
            !broad || normals.iter().all(|n| n.dot(flat) > 0.8),
            "part {seed}: a normal looks inwards"
        );
    }
}

fn round_area(brep: &Brep) -> f64 {
    let height = |edges: &[(usize, bool)]| {
        let z = edges.iter().map(|&(e, _)| brep.vertices[brep.edges[e].ends[0]].z);
        let z: Vec<f64> = z.collect();
        z.iter().copied().fold(f64::MIN, f64::max) - z.iter().copied().fold(f64::MAX, f64::min)
    };
    let longest_arc = |edges: &[(usize, bool)]| {
        let length = |&(e, _): &(usize, bool)| match brep.edges[e].curve {
            Curve::Line => 0.0,
            Curve::Arc { centre, sweep } => {
                sweep.abs() * centre.distance(brep.vertices[brep.edges[e].ends[0]])
            }
        };
        edges.iter().map(length).fold(0.0, f64::max)
    };
    let area = |face: &solid::BrepFace| match face.surface {
        Surface::Plane { .. } => 0.0,
        Surface::Cylinder { .. } => longest_arc(&face.bounds[0]) * height(&face.bounds[0]),
        Surface::Cone { slope, .. } => {
            longest_arc(&face.bounds[0]) * height(&face.bounds[0]) * (1.0 + slope * slope).sqrt()
        }
    };
    brep.faces.iter().map(area).sum()
}

/// Looks down on a grid of places: what is material there by the plate's own cuts, and by the mesh.
fn check_columns(seed: u64, plate: &Plate, mesh: &Mesh) -> usize {
    let [lo, hi] = plate.outline.bounds().expect("an outline has segments");
    let mut seen = 0;
    for k in 0..40_u32 {
        // An irrational lattice, off every grid that parts are drawn on.
        let share =
            dvec2((f64::from(k) * 0.754_877_666).fract(), (f64::from(k) * 0.569_840_290).fract());
        let at = lo + share * (hi - lo) + dvec2(0.003_141, 0.002_718);
        if let Some(expected) = material_by_cuts(plate, at) {
            let found = material_by_mesh(mesh, at);
            assert!(
                found.len() == expected.len()
                    && found.iter().zip(&expected).all(|(a, b)| (a - b).abs() < 1e-6),
                "plate {seed} at {at}: material in {found:?}, by its cuts in {expected:?}"
            );
            seen += 1;
        }
    }
    seen
}

/// Bottom and top of the material by the description of the plate; `None` too near an edge to tell
/// a curve from its chords.
fn material_by_cuts(plate: &Plate, at: DVec2) -> Option<Vec<f64>> {
    let contours = std::iter::once(&plate.outline).chain(plate.cuts.iter().map(|cut| &cut.contour));
    let near = |c: &Contour| c.0.iter().any(|s| s.distance(at) < 2.0 * CHORD_ERROR_MM);
    if contours.clone().any(near) {
        return None;
    }
    let inside = |contour: &Contour| contour.winding(at) != 0;
    if !inside(&plate.outline) {
        return Some(vec![]);
    }
    let [mut bottom, mut top] = [0.0, plate.thickness];
    for cut in plate.cuts.iter().filter(|cut| inside(&cut.contour)) {
        match cut.face {
            Face::Top => top = f64::min(top, plate.thickness - cut.depth),
            Face::Bottom => bottom = f64::max(bottom, cut.depth),
        }
    }
    // Floors from both faces that meet leave nothing, but for rounding.
    Some(if top - bottom > 1e-6 { vec![bottom, top] } else { vec![] })
}

/// Heights at which an upright line passes through the mesh, upwards.
fn material_by_mesh(mesh: &Mesh, at: DVec2) -> Vec<f64> {
    let mut heights: Vec<f64> =
        mesh.triangles.iter().filter_map(|t| height_on(mesh.corners(t), at)).collect();
    heights.sort_by(f64::total_cmp);
    heights
}

fn height_on([a, b, c]: [DVec3; 3], at: DVec2) -> Option<f64> {
    let side = |p: DVec3, q: DVec3| (q - p).truncate().perp_dot(at - p.truncate());
    let (u, v, w) = (side(b, c), side(c, a), side(a, b));
    let whole = u + v + w;
    let within = whole != 0.0 && [u, v, w].iter().all(|x| x / whole >= 0.0);
    within.then(|| (u * a.z + v * b.z + w * c.z) / whole)
}
