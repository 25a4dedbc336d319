//! What is done to a sheet, one layer for each operation. The DXF and the SVG are both written from
//! this list, so they cannot disagree.

use glam::DVec2;
use plate::{Contour, Face, Segment};

use crate::decimal::decimal;
use crate::note;
use crate::panel::Panel;

/// One operation and where it is done.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Layer {
    pub(crate) name: String,
    pub(crate) colour: Colour,
    /// Whether a tool follows it; else it is for people to read.
    pub(crate) is_made: bool,
    pub(crate) shapes: Vec<Shape>,
}

/// One line on a layer.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Shape {
    Circle {
        centre: DVec2,
        radius: f64,
    },
    Closed(Contour),
    Open(Vec<DVec2>),
    /// Pieces one after another, straight or round, that do not come back to where they began.
    Run(Vec<Segment>),
}

/// A colour by its index in the colour table that DXF refers to; checked by `tests/outside/flat_judge.py`. What an SVG is
/// drawn in says `svg/look.rs`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Colour {
    pub(crate) index: u8,
}

const OUTLINE: Colour = Colour { index: 132 };
const OPENINGS: Colour = Colour { index: 142 };
const POCKET_UPPER: Colour = Colour { index: 42 };
const POCKET_LOWER: Colour = Colour { index: 32 };
const ENGRAVE_UPPER: Colour = Colour { index: 202 };
const ENGRAVE_LOWER: Colour = Colour { index: 212 };
pub(crate) const BRIDGES: Colour = Colour { index: 12 };
pub(crate) const NOTE: Colour = Colour { index: 253 };

/// The layer of the panel's outer edge: cut all the way through, the tool outside the line.
pub(crate) const OUTLINE_NAME: &str = "cut through outline";
/// The layer of holes and openings: cut all the way through, the tool inside the line.
pub(crate) const OPENINGS_NAME: &str = "cut through openings";
/// How the names of layers end that no tool follows.
const NOT_CUT: &str = "not cut";
/// The layer of number, name and notes.
pub(crate) const NOTE_NAME: &str = "note not cut";
/// The layer of a sheet's edge.
pub(crate) const SHEET_NAME: &str = "sheet edge not cut";
/// The layer of what is left of a sheet and worth keeping.
pub(crate) const OFFCUT_NAME: &str = "offcut not cut";

/// How the names of layers begin on which the path of the tool's middle is drawn.
pub(crate) const TOOL_PATH: &str = "tool path ";

/// What is done on a layer of this name, for people.
pub(crate) fn words(name: &str) -> String {
    let (is_path, work) = match name.strip_prefix(TOOL_PATH) {
        Some(work) => (true, work),
        None => (false, name),
    };
    let along = |beside: &str| if is_path { "the tool along the line" } else { beside }.to_owned();
    match work {
        OUTLINE_NAME => format!("cut all the way through, {}", along("the tool outside the line")),
        OPENINGS_NAME => format!("cut all the way through, {}", along("the tool inside the line")),
        _ if work.starts_with("pocket") => {
            format!("floor of that depth below that face, {}", along("cleared inside the line"))
        }
        _ if work.starts_with(BRIDGE) && is_path => {
            "the tool along the line, lifted so that so much of the sheet is left".to_owned()
        }
        _ if work.starts_with(BRIDGE) => {
            "bridges to be left so high in the cut, trimmed by hand: no tool follows the line"
                .to_owned()
        }
        _ if work.starts_with("engrave") => "engrave along the line".to_owned(),
        _ => "for people to read: no tool follows it".to_owned(),
    }
}

/// How the names of layers begin on which bridges are drawn.
const BRIDGE: &str = "bridge";

/// The layer of all bridges of one height: where they are left, or where the tool is lifted over them.
pub(crate) fn bridge_name(height_mm: f64, is_path: bool) -> String {
    let bridge = format!("{BRIDGE} {} mm high", decimal(height_mm, 3));
    if is_path { format!("{TOOL_PATH}{bridge}") } else { format!("{bridge} {NOT_CUT}") }
}

/// The layer of all pockets of one depth from one face.
pub(crate) fn pocket_name(face: Face, depth_mm: f64) -> String {
    let depth = decimal(depth_mm, 3);
    let point = if depth.contains('.') { "" } else { ".0" };
    format!("pocket {depth}{point} mm from {}", face_words(face))
}

fn engrave_name(face: Face) -> String {
    format!("engrave {}", face_words(face))
}

const fn face_words(face: Face) -> &'static str {
    match face {
        Face::Top => "upper face",
        Face::Bottom => "lower face",
    }
}

/// All layers of a panel that hold something, in the order in which they read best: outline,
/// openings, pockets, engraving, note.
pub(crate) fn layers(panel: &Panel) -> Vec<Layer> {
    let mut layers = Layers(Vec::new());
    let pattern = panel.pattern;
    // The sense of a loop tells an outer edge from a hole in it.
    for contour in pattern.through.iter().filter(|c| c.signed_area() > 0.0) {
        layers.make(Made::Outline, closed(contour));
    }
    for contour in pattern.through.iter().filter(|c| c.signed_area() <= 0.0) {
        layers.make(Made::Opening, closed(contour));
    }
    for pocket in &pattern.pockets {
        for contour in &pocket.loops {
            layers.make(Made::Pocket(pocket.face, pocket.depth_mm), closed(contour));
        }
    }
    for engraving in &pattern.engravings {
        for stroke in engraving.strokes.iter().filter(|s| s.len() > 1) {
            layers.make(Made::Engraving(engraving.face), Shape::Open(stroke.clone()));
        }
    }
    for stroke in note::strokes(panel, &layers.0) {
        layers.add(NOTE_NAME, NOTE, Shape::Open(stroke));
    }
    layers.0
}

/// What a tool does along a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Made {
    /// Cuts the part free.
    Outline,
    /// Cuts a hole or an opening.
    Opening,
    /// Clears a floor below a face, so many mm deep.
    Pocket(Face, f64),
    /// Engraves a face.
    Engraving(Face),
}

impl Made {
    /// Name and colour of its layer.
    pub(crate) fn layer(self) -> (String, Colour) {
        match self {
            Self::Outline => (OUTLINE_NAME.to_owned(), OUTLINE),
            Self::Opening => (OPENINGS_NAME.to_owned(), OPENINGS),
            Self::Pocket(face, depth_mm) => {
                let colour = if face == Face::Top { POCKET_UPPER } else { POCKET_LOWER };
                (pocket_name(face, depth_mm), colour)
            }
            Self::Engraving(face) => {
                let colour = if face == Face::Top { ENGRAVE_UPPER } else { ENGRAVE_LOWER };
                (engrave_name(face), colour)
            }
        }
    }
}

pub(crate) fn closed(contour: &Contour) -> Shape {
    contour.as_circle().map_or_else(
        || Shape::Closed(contour.clone()),
        |(centre, radius)| Shape::Circle { centre, radius },
    )
}

/// Lower left and upper right corner around all layers; zeros if there is nothing.
pub(crate) fn bounds(layers: &[Layer]) -> [DVec2; 2] {
    let shapes = layers.iter().flat_map(|l| &l.shapes);
    let boxes = shapes.filter_map(Shape::bounds);
    boxes.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]).unwrap_or_default()
}

impl Shape {
    fn bounds(&self) -> Option<[DVec2; 2]> {
        match self {
            Self::Circle { centre, radius } => {
                Some([centre - DVec2::splat(*radius), centre + DVec2::splat(*radius)])
            }
            Self::Closed(contour) => contour.bounds(),
            Self::Run(pieces) => {
                let boxes = pieces.iter().map(Segment::bounds);
                boxes.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
            }
            Self::Open(stroke) => {
                let boxes = stroke.iter().map(|&p| [p, p]);
                boxes.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
            }
        }
    }
}

/// The names of all layers, each once, in the order in which they are first met.
pub(crate) fn names(layers: &[Layer]) -> Vec<&str> {
    let mut names: Vec<&str> = Vec::new();
    for layer in layers {
        if !names.contains(&layer.name.as_str()) {
            names.push(&layer.name);
        }
    }
    names
}

/// Layers in the order of their first shape.
pub(crate) struct Layers(pub(crate) Vec<Layer>);

impl Layers {
    fn make(&mut self, made: Made, shape: Shape) {
        let (name, colour) = made.layer();
        self.add(&name, colour, shape);
    }

    /// Adds a shape after all others, on a layer that begins anew unless the last shape is on it too.
    pub(crate) fn add_in_order(&mut self, name: &str, colour: Colour, shape: Shape) {
        if self.0.last().is_none_or(|layer| layer.name != name) {
            let is_made = !name.ends_with(NOT_CUT);
            self.0.push(Layer { name: name.to_owned(), colour, is_made, shapes: Vec::new() });
        }
        self.0.last_mut().expect("there is one now").shapes.push(shape);
    }

    pub(crate) fn add(&mut self, name: &str, colour: Colour, shape: Shape) {
        if let Some(layer) = self.0.iter_mut().find(|l| l.name == name) {
            layer.shapes.push(shape);
        } else {
            let is_made = !name.ends_with(NOT_CUT);
            self.0.push(Layer { name: name.to_owned(), colour, is_made, shapes: vec![shape] });
        }
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use glam::dvec2;
    use plate::{Engraving, FlatPattern, PocketRegion};

    /// A leaf with a round hole, a rounded opening, a groove on each face and a mark.
    pub(crate) fn pattern() -> FlatPattern {
        let groove = |face, y: f64, depth_mm| PocketRegion {
            face,
            depth_mm,
            made_by: vec![],
            loops: vec![Contour::rectangle(dvec2(0.0, y), dvec2(300.0, y + 8.0))],
        };
        let opening = Contour::rounded_rectangle(dvec2(100.0, 80.0), dvec2(200.0, 120.0), 6.0);
        FlatPattern {
            through: vec![
                Contour::rounded_rectangle(dvec2(0.0, 0.0), dvec2(300.0, 200.0), 12.5),
                Contour::circle(dvec2(40.0, 160.0), 11.0).reversed(),
                opening.reversed(),
            ],
            pockets: vec![groove(Face::Top, 20.0, 4.0), groove(Face::Bottom, 50.0, 2.625)],
            engravings: vec![Engraving {
                face: Face::Top,
                strokes: vec![vec![dvec2(250.0, 150.0), dvec2(280.0, 150.0)]],
            }],
        }
    }

    pub(crate) fn panel(pattern: &FlatPattern) -> Panel<'_> {
        Panel {
            number: "07",
            name: "letterbox leaf",
            project: "a sump",
            material: "cast acrylic",
            thickness_mm: 7.85,
            order: "order 8 mm sheet (measured 7.7 to 8 mm)",
            facing: "Upper face = inside of the sump.",
            engraving_mm: Some(0.3),
            quantity: 2,
            notes: &[],
            pattern,
        }
    }

    #[test]
    fn every_operation_has_a_layer_named_for_what_is_done() {
        let pattern = pattern();
        let names: Vec<_> = layers(&panel(&pattern)).into_iter().map(|l| l.name).collect();
        let expected = [
            "cut through outline",
            "cut through openings",
            "pocket 4.0 mm from upper face",
            "pocket 2.625 mm from lower face",
            "engrave upper face",
            "note not cut",
        ];
        assert_eq!(names, expected);
    }

    #[test]
    fn circles_are_circles_and_the_rest_keeps_its_arcs() {
        let pattern = pattern();
        let layers = layers(&panel(&pattern));
        assert!(
            matches!(layers[1].shapes[0], Shape::Circle { radius, .. } if (radius - 11.0).abs() < 1e-12)
        );
        let Shape::Closed(opening) = &layers[1].shapes[1] else { panic!("not a circle") };
        assert_eq!(opening.0.iter().filter(|s| s.arc.is_some()).count(), 4);
    }

    #[test]
    fn layer_names_are_legal_in_dxf() {
        let pattern = pattern();
        for layer in layers(&panel(&pattern)) {
            assert!(!layer.name.contains(|c| "<>/\\\":;?*|,=`".contains(c)), "{}", layer.name);
            assert!(layer.name.len() <= 255);
        }
    }
}
