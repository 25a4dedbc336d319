//! What outside readers must find in the files that were written, from our own arithmetic.
//!
//! The command line writes these lists as JSON beside the files; the judges in `tests/outside/`
//! read the files with other libraries and compare. Areas come from the plate's arithmetic, not
//! from the text that was written.

use glam::DAffine3;
use plate::FlatPattern;
use serde::Serialize;

use crate::layers::{self, Shape};
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
    /// Arcs that are cut or pocketed, of contours that are not whole circles.
    pub arcs: usize,
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
        let layers = layers::layers(panel);
        let made: Vec<_> = layers.iter().filter(|l| l.is_made).flat_map(|l| &l.shapes).collect();
        let outline = layers.iter().filter(|l| l.name == layers::OUTLINE_NAME).cloned();
        let [lo, hi] = layers::bounds(&outline.collect::<Vec<_>>());
        let pattern = panel.pattern;
        let areas = pattern.through.iter().map(plate::Contour::signed_area);
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
            bounds: [lo.x, lo.y, hi.x, hi.y],
            pockets: pockets(pattern),
            engraved_length_mm: engraved
                .flat_map(|stroke| stroke.windows(2).map(|ends| ends[0].distance(ends[1])))
                .sum(),
            circles: made.iter().filter(|s| matches!(s, Shape::Circle { .. })).count(),
            arcs: made.iter().map(|s| arcs(s)).sum(),
        }
    }
}

fn arcs(shape: &Shape) -> usize {
    match shape {
        Shape::Closed(contour) => contour.0.iter().filter(|s| s.arc.is_some()).count(),
        Shape::Circle { .. } | Shape::Open(_) => 0,
    }
}

fn pockets(pattern: &FlatPattern) -> Vec<Pocket> {
    let mut pockets: Vec<Pocket> = Vec::new();
    for region in &pattern.pockets {
        let layer = layers::pocket_name(region.face, region.depth_mm);
        let area_mm2: f64 = region.loops.iter().map(plate::Contour::signed_area).sum();
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
        assert_eq!((files.circles, files.arcs), (1, 8));
        assert_eq!(files.pockets[1].layer, "pocket 2.625 mm from lower face");
        assert!((files.pockets[1].area_mm2 - 2400.0).abs() < 1e-9);
        assert!((files.engraved_length_mm - 30.0).abs() < 1e-12);
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
