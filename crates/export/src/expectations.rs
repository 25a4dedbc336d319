//! What outside readers must find in the files that were written, from our own arithmetic.
//!
//! The command line writes these lists as JSON beside the files; the judges in `tests/outside/`
//! read the files with other libraries and compare. Areas come from the plate's arithmetic, not
//! from the text that was written.

use glam::DAffine3;
use plate::{Contour, FlatPattern};
use serde::Serialize;
use solid::{Brep, BrepFace, Curve, Mesh, Solid, Surface};

use crate::layers;
use crate::panel::Panel;

/// A panel and its two drawings: a line of `checks/panels.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PanelFiles {
    /// Number in the cut list.
    pub number: String,
    /// Its name.
    pub name: String,
    /// Path of its DXF in the output folder.
    pub dxf: String,
    /// Path of its SVG in the output folder.
    pub svg: String,
    /// Area inside the outline, openings not taken off.
    pub outline_area_mm2: f64,
    /// Area that is material anywhere in its thickness.
    pub net_area_mm2: f64,
    /// Thickness of the sheet.
    pub thickness_mm: f64,
    /// Volume of the panel, pockets taken off.
    pub volume_mm3: f64,
    /// `[x_min, y_min, x_max, y_max]` of the outline, in the panel's own frame.
    pub bounds: [f64; 4],
    /// Pockets, one for each layer.
    pub pockets: Vec<Pocket>,
    /// Length of all engraved strokes.
    pub engraved_length_mm: f64,
    /// Whole circles that are cut or pocketed.
    pub circles: usize,
    /// How far all arcs turn together, those of whole circles left out.
    pub arc_turn_rad: f64,
    /// Length of all lines that are cut or bound a pocket.
    pub contour_length_mm: f64,
}

/// All pockets of one depth from one face.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pocket {
    /// Name of its layer.
    pub layer: String,
    /// Depth.
    pub depth_mm: f64,
    /// Area of its floor.
    pub area_mm2: f64,
}

impl PanelFiles {
    /// What is expected of a panel's drawings.
    ///
    /// `net_area_mm2` and `volume_mm3` are those of the arrangement that the solid was built from,
    /// so the drawings are held against the solid, not against themselves.
    pub fn new(panel: &Panel, net_area_mm2: f64, volume_mm3: f64, [dxf, svg]: [&str; 2]) -> Self {
        let pattern = panel.pattern;
        let pocketed = pattern.pockets.iter().flat_map(|p| &p.loops);
        let contours: Vec<&Contour> = pattern.through.iter().chain(pocketed).collect();
        let circles = contours.iter().filter(|c| c.as_circle().is_some()).count();
        let others = contours.iter().filter(|c| c.as_circle().is_none());
        let arcs = others.flat_map(|c| &c.0).filter_map(|piece| piece.arc);
        let areas = pattern.through.iter().map(Contour::signed_area);
        let engraved = pattern.engravings.iter().flat_map(|e| &e.strokes);
        Self {
            number: panel.number.to_owned(),
            name: panel.name.to_owned(),
            dxf: dxf.to_owned(),
            svg: svg.to_owned(),
            outline_area_mm2: areas.filter(|area| *area > 0.0).sum(),
            net_area_mm2,
            thickness_mm: panel.thickness_mm,
            volume_mm3,
            bounds: bounds(&pattern.through),
            pockets: pockets(pattern),
            engraved_length_mm: engraved
                .flat_map(|stroke| stroke.windows(2).map(|ends| ends[0].distance(ends[1])))
                .sum(),
            circles,
            arc_turn_rad: arcs.map(|arc| arc.sweep.abs()).sum(),
            contour_length_mm: contours.iter().map(|c| c.length()).sum(),
        }
    }
}

/// `[x_min, y_min, x_max, y_max]` around all contours; zeros if there are none.
fn bounds(contours: &[Contour]) -> [f64; 4] {
    let boxes = contours.iter().filter_map(Contour::bounds);
    let [lo, hi] = boxes.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]).unwrap_or_default();
    [lo.x, lo.y, hi.x, hi.y]
}

fn pockets(pattern: &FlatPattern) -> Vec<Pocket> {
    let mut pockets: Vec<Pocket> = Vec::new();
    for region in &pattern.pockets {
        let layer = layers::pocket_name(region.face, region.depth_mm);
        let area_mm2: f64 = region.loops.iter().map(Contour::signed_area).sum();
        match pockets.iter_mut().find(|p| p.layer == layer) {
            Some(pocket) => pocket.area_mm2 += area_mm2,
            None => pockets.push(Pocket { layer, depth_mm: region.depth_mm, area_mm2 }),
        }
    }
    pockets
}

/// A part and its STL: a line of `checks/meshes.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MeshFile {
    /// Its name.
    pub name: String,
    /// Path of its STL in the output folder.
    pub stl: String,
    /// Exact volume of the solid.
    pub volume_mm3: f64,
    /// How far the mesh's volume may be off, for its chords.
    pub tolerance_mm3: f64,
    /// Whether it lies with its lowest face on `z = 0`, ready to print.
    pub is_for_printing: bool,
}

/// How far the volume of a written mesh may be from that of its exact solid, in mm³.
///
/// Chords lie at most `chord_error_mm` inside or outside of the round walls; single precision, in
/// which STL and 3MF are read, shifts every face by at most half the last bit of its coordinates.
pub fn mesh_tolerance_mm3(solid: &Solid, mesh: &Mesh, chord_error_mm: f64) -> f64 {
    let brep = solid.brep();
    let round: f64 = brep.faces.iter().map(|face| round_area_mm2(brep, face)).sum();
    let area = |t: &[u32; 3]| {
        let [a, b, c] = mesh.corners(t);
        0.5 * (b - a).cross(c - a).length()
    };
    let total: f64 = mesh.triangles.iter().map(area).sum();
    let farthest = mesh.positions.iter().map(|p| p.abs().max_element()).fold(0.0, f64::max);
    let half_last_bit = 0.5 * f64::from(f32::EPSILON) * farthest;
    round * chord_error_mm + total * half_last_bit
}

/// Area of a round face, or a little more: half its arcs times its slant height. 0 for a flat one.
fn round_area_mm2(brep: &Brep, face: &BrepFace) -> f64 {
    let slope = match face.surface {
        Surface::Plane { .. } => return 0.0,
        Surface::Cylinder { .. } => 0.0,
        Surface::Cone { slope, .. } => slope,
    };
    let (mut arcs, mut lo, mut hi) = (0.0, f64::INFINITY, f64::NEG_INFINITY);
    for edge in face.bounds.iter().flatten().map(|&(edge, _)| &brep.edges[edge]) {
        let [start, end] = edge.ends.map(|vertex| brep.vertices[vertex]);
        if let Curve::Arc { centre, sweep } = edge.curve {
            arcs += start.distance(centre) * sweep.abs();
        }
        lo = lo.min(start.z).min(end.z);
        hi = hi.max(start.z).max(end.z);
    }
    0.5 * arcs * (hi - lo) * libm::sqrt(1.0 + slope * slope)
}

/// A 3MF and what is in it: a line of `checks/assemblies.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AssemblyFile {
    /// Path of the 3MF in the output folder.
    pub threemf: String,
    /// Its items, in order.
    pub items: Vec<AssemblyItem>,
}

/// One item of a 3MF.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AssemblyItem {
    /// Its name.
    pub name: String,
    /// Its number in the cut list.
    pub part_number: String,
    /// Its colour, `#RRGGBB`.
    pub colour: String,
    /// Its pose: three columns of the rotation, then the translation.
    pub pose: [f64; 12],
    /// Exact volume of the solid.
    pub volume_mm3: f64,
    /// How far the mesh's volume may be off, for its chords.
    pub tolerance_mm3: f64,
}

impl AssemblyItem {
    /// What is expected of an item of a 3MF.
    pub fn new(item: &crate::threemf::Item, volume_mm3: f64, tolerance_mm3: f64) -> Self {
        let [r, g, b] = item.colour;
        Self {
            name: item.name.to_owned(),
            part_number: item.part_number.to_owned(),
            colour: format!("#{r:02X}{g:02X}{b:02X}"),
            pose: DAffine3::to_cols_array(&item.pose),
            volume_mm3,
            tolerance_mm3,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layers::tests::{panel, pattern};
    use std::f64::consts::PI;

    #[test]
    fn areas_and_counts_are_those_of_the_drawing_by_hand() {
        let pattern = pattern();
        let files = PanelFiles::new(&panel(&pattern), 1.0, 2.0, ["a.dxf", "a.svg"]);
        let rounded = 300.0 * 200.0 - (4.0 - PI) * 12.5 * 12.5;
        assert!((files.outline_area_mm2 - rounded).abs() < 1e-9);
        for (bound, expected) in files.bounds.iter().zip([0.0, 0.0, 300.0, 200.0]) {
            assert!((bound - expected).abs() < 1e-12);
        }
        assert_eq!(files.circles, 1);
        // Four rounded corners of the outline and four of the opening.
        assert!((files.arc_turn_rad - 4.0 * PI).abs() < 1e-9);
        let outline = 1000.0 - (8.0 - 2.0 * PI) * 12.5;
        let opening = 280.0 - (8.0 - 2.0 * PI) * 6.0;
        let rest = 22.0 * PI + 2.0 * 616.0;
        assert!((files.contour_length_mm - outline - opening - rest).abs() < 1e-9);
        assert_eq!(files.pockets[1].layer, "pocket 2.625 mm from lower face");
        assert!((files.pockets[1].area_mm2 - 2400.0).abs() < 1e-9);
        assert!((files.engraved_length_mm - 30.0).abs() < 1e-12);
    }

    #[test]
    fn a_mesh_of_a_cone_is_within_its_tolerance_and_that_is_small() {
        let profile = [(0.0, 0.0), (30.0, 0.0), (10.0, 40.0), (0.0, 40.0)].map(Into::into).to_vec();
        let solid = Solid::of_turned(&plate::Turned { profile }).expect("a cone without its tip");
        // The lateral area of a frustum: π (r₀ + r₁) times the slant height.
        let chords = PI * 40.0 * 2000.0_f64.sqrt() * 0.05;
        let mesh = solid.mesh(0.05).expect("a simple solid");
        let tolerance = mesh_tolerance_mm3(&solid, &mesh, 0.05);
        assert!(chords <= tolerance && tolerance < 1.001 * chords, "{tolerance} {chords}");
        assert!((mesh.volume_mm3() - solid.volume_mm3()).abs() < tolerance);
    }

    #[test]
    fn the_lists_are_plain_json() {
        let pattern = pattern();
        let files = PanelFiles::new(&panel(&pattern), 1.0, 2.0, ["a.dxf", "a.svg"]);
        let json = serde_json::to_value(&files).expect("plain data");
        assert_eq!(json["dxf"], "a.dxf");
        assert_eq!(json["pockets"][0]["layer"], "pocket 4.0 mm from upper face");
    }
}
