//! A whole sheet with everything that is cut from it.

use glam::DVec2;
use params::DrawnPath;
use plate::Contour;
use shop::{CutPath, Laid, LaidSheet, Operation, OperationKind, Route, Work};

use crate::layers::{
    BRIDGES, Colour, Layer, Layers, Made, NOTE, NOTE_NAME, OFFCUT_NAME, SHEET_NAME, Shape,
    TOOL_PATH, bridge_name, closed, names,
};
use crate::note;

/// What is written for one sheet.
#[derive(Clone, Copy, Debug)]
pub struct NestedSheet<'a> {
    /// What lies where.
    pub sheet: &'a LaidSheet,
    /// What is done to each part.
    pub works: &'a [Work],
    /// In which order.
    pub route: &'a Route,
    /// What each of the sheet's `laid` is called on it: its number in the cut list.
    pub labels: &'a [String],
    /// Whether the edges of the parts are drawn, or where the middle of the tool runs.
    pub draw: DrawnPath,
    /// Name of the sheet, and what it is of.
    pub heading: &'a str,
    /// What the shop must know, a sentence each.
    pub about: &'a [String],
}

impl NestedSheet<'_> {
    /// Every layer of the drawing, with what is done on it.
    pub fn layer_list(&self) -> Vec<(String, String)> {
        let words = |name: &str| (name.to_owned(), crate::layers::words(name));
        names(&self.layers()).into_iter().map(words).collect()
    }

    /// What is cut, in the order of the route, then the sheet and what people read. A layer stands here anew wherever the
    /// route comes back to it: a part in an opening is cut out before that opening.
    pub(crate) fn layers(&self) -> Vec<Layer> {
        let mut layers = Layers(Vec::new());
        for (laid, operation) in self.in_order() {
            self.add(&mut layers, &self.sheet.laid[laid], operation);
        }
        if self.draw == DrawnPath::Part {
            self.add_bridges(&mut layers);
        }
        let made = layers.0.clone();
        let rectangle = |[lo, hi]: [DVec2; 2]| Shape::Closed(Contour::rectangle(lo, hi));
        layers.add(SHEET_NAME, NOTE, rectangle([DVec2::ZERO, self.sheet.size_mm]));
        for offcut in &self.sheet.offcuts {
            layers.add(OFFCUT_NAME, NOTE, rectangle(offcut.corners_mm));
        }
        let mut around = made;
        around.extend(layers.0.iter().find(|layer| layer.name == SHEET_NAME).cloned());
        let notes = note::strokes_of_sheet(self.heading, self.about, &around);
        for stroke in notes.into_iter().chain(self.numbers()) {
            layers.add(NOTE_NAME, NOTE, Shape::Open(stroke));
        }
        layers.0
    }

    /// Where bridges are to be left: as long as each, from the edge as far as the tool cuts.
    fn add_bridges(&self, layers: &mut Layers) {
        for laid in &self.sheet.laid {
            let operations = self.work(laid).map_or(&[][..], |work| &work.operations);
            for bridge in operations.iter().flat_map(|operation| &operation.bridges) {
                let half = 0.5 * bridge.length_mm * bridge.along;
                // The middle of the tool is lifted halfway across the cut.
                let middle = 0.5 * (bridge.lifted[0] + bridge.lifted[1]);
                let across = 2.0 * (middle - bridge.at);
                let corners = [-half, half, half + across, -half + across];
                let corners = corners.map(|off| laid.point(bridge.at + off));
                let name = bridge_name(bridge.height_mm, false);
                layers.add(&name, NOTE, Shape::Closed(Contour::polygon(&corners)));
            }
        }
    }

    /// Every operation on every part, in the order of the route. What no path was found for, as holes that are drilled, is
    /// drawn all the same, a finding tells of it: after all that comes before it, and before anything comes loose.
    fn in_order(&self) -> Vec<(usize, usize)> {
        let stage = |&(laid, operation): &(usize, usize)| {
            let operation = self.work(&self.sheet.laid[laid])?.operations.get(operation)?;
            let is_upper = operation.face == plate::Face::Top;
            let is_route = !operation.tool.is_empty();
            let rank = match operation.kind {
                OperationKind::Engrave => 0,
                OperationKind::Pocket => 1,
                OperationKind::Hole => 2,
                OperationKind::Inside if !is_route => 3,
                OperationKind::Inside | OperationKind::Outline if is_route => 4,
                _ => 5,
            };
            Some((is_upper, rank))
        };
        let in_route = self.route.steps.iter().map(|step| (step.laid, step.operation));
        let mut all: Vec<(usize, usize)> = in_route.collect();
        let routed = all.clone();
        all.extend(self.all().filter(|one| !routed.contains(one)));
        // Those of one stage stay in the order of the route.
        all.sort_by_key(stage);
        all
    }

    /// Every operation on every part, as they lie in the plan.
    fn all(&self) -> impl Iterator<Item = (usize, usize)> {
        let operations = |(i, laid): (usize, &Laid)| {
            let n = self.work(laid).map_or(0, |work| work.operations.len());
            (0..n).map(move |k| (i, k))
        };
        self.sheet.laid.iter().enumerate().flat_map(operations)
    }

    fn work(&self, laid: &Laid) -> Option<&Work> {
        self.works.iter().find(|work| work.piece == laid.piece)
    }

    fn add(&self, layers: &mut Layers, laid: &Laid, operation: usize) {
        let Some(work) = self.work(laid) else { return };
        let operation = &work.operations[operation];
        let (name, colour) = made(operation).layer();
        let on_sheet = |contour: &Contour| contour.moved(|p| laid.point(p), false);
        if self.draw == DrawnPath::Tool && !operation.tool.is_empty() {
            let name = format!("{TOOL_PATH}{name}");
            for (i, path) in operation.tool.iter().enumerate() {
                if operation.bridges.iter().any(|bridge| bridge.path == i) {
                    add_runs(layers, laid, operation, i, (&name, colour));
                } else {
                    layers.add_in_order(&name, colour, moved(path, laid));
                }
            }
            return;
        }
        match operation.pocket.and_then(|pocket| work.pattern.pockets.get(pocket)) {
            // A floor with islands has more than one edge.
            Some(region) => {
                for contour in &region.loops {
                    layers.add_in_order(&name, colour, closed(&on_sheet(contour)));
                }
            }
            None => layers.add_in_order(&name, colour, moved(&operation.edge, laid)),
        }
    }

    /// The number of each part, written on it where there is most room.
    fn numbers(&self) -> impl Iterator<Item = Vec<DVec2>> {
        let parts = self.sheet.laid.iter().zip(self.labels);
        parts.flat_map(|(laid, label)| {
            let place = self.work(laid).and_then(|work| work.pattern.roomiest_place());
            place.map_or_else(Vec::new, |(at, room)| note::label(label, laid.point(at), room))
        })
    }
}

/// One path of the tool in stretches, those in which it is lifted on a layer of their own.
fn add_runs(
    layers: &mut Layers,
    laid: &Laid,
    operation: &Operation,
    path: usize,
    (name, colour): (&str, Colour),
) {
    let height_mm = operation.bridges.iter().map(|bridge| bridge.height_mm).fold(0.0, f64::max);
    let over = bridge_name(height_mm, true);
    for run in operation.runs(path) {
        let on_sheet = Contour(run.pieces).moved(|p| laid.point(p), false);
        let (name, colour) = if run.is_lifted { (&*over, BRIDGES) } else { (name, colour) };
        layers.add_in_order(name, colour, Shape::Run(on_sheet.0));
    }
}

fn made(operation: &Operation) -> Made {
    match operation.kind {
        OperationKind::Engrave => Made::Engraving(operation.face),
        OperationKind::Pocket => Made::Pocket(operation.face, operation.depth_mm),
        OperationKind::Hole | OperationKind::Inside => Made::Opening,
        OperationKind::Outline => Made::Outline,
    }
}

fn moved(path: &CutPath, laid: &Laid) -> Shape {
    match path {
        CutPath::Closed(contour) => closed(&contour.moved(|p| laid.point(p), false)),
        CutPath::Open(points) => Shape::Open(points.iter().map(|&p| laid.point(p)).collect()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layers::tests::pattern;
    use glam::dvec2;
    use plate::Face;
    use shop::{Offcut, route};

    /// A letterbox leaf with its outline and its hole as operations, the rest of its pattern without any.
    fn work() -> Work {
        let pattern = pattern();
        let operation = |kind, contour: &Contour, grown: f64| Operation {
            kind,
            face: Face::Top,
            depth_mm: 8.0,
            edge: CutPath::Closed(contour.clone()),
            pocket: None,
            tool: vec![CutPath::Closed(contour.moved(|p| p * grown, false))],
            bridges: Vec::new(),
        };
        let operations = vec![
            operation(OperationKind::Hole, &pattern.through[1], 0.9),
            operation(OperationKind::Outline, &pattern.through[0], 1.1),
        ];
        Work { piece: 3, pattern, operations }
    }

    fn sheet() -> LaidSheet {
        let laid = |at, is_turned| Laid { piece: 3, copy: 1, at, is_turned, is_in_opening: false };
        LaidSheet {
            name: "clear-1".to_owned(),
            stock: None,
            size_mm: dvec2(900.0, 600.0),
            price: None,
            is_own: false,
            laid: vec![laid(dvec2(20.0, 20.0), false), laid(dvec2(600.0, 20.0), true)],
            offcuts: vec![Offcut {
                name: "clear-1-a".to_owned(),
                corners_mm: [dvec2(650.0, 0.0), dvec2(900.0, 600.0)],
            }],
            saw_cuts: Vec::new(),
        }
    }

    fn layers(draw: DrawnPath) -> Vec<Layer> {
        let (sheet, works, labels) = (sheet(), [work()], ["07".to_owned(), "07".to_owned()]);
        let about = ["Drawn in mm.".to_owned()];
        let route = route(&sheet, &works);
        let nested = NestedSheet {
            sheet: &sheet,
            works: &works,
            route: &route,
            labels: &labels,
            draw,
            heading: "clear-1",
            about: &about,
        };
        assert_eq!(crate::dxf::write_sheet(&nested), crate::dxf::write_sheet(&nested));
        assert!(crate::svg::write_sheet(&nested).contains("<title>clear-1</title>"));
        nested.layers()
    }

    #[test]
    fn what_is_cut_stands_in_the_order_of_cutting_and_the_rest_is_not_made() {
        let layers = layers(DrawnPath::Part);
        let names: Vec<(&str, bool, usize)> =
            layers.iter().map(|l| (l.name.as_str(), l.is_made, l.shapes.len())).collect();
        assert_eq!(names[0], ("cut through openings", true, 2));
        assert_eq!(names[1], ("cut through outline", true, 2));
        assert_eq!(names[2], ("sheet edge not cut", false, 1));
        assert_eq!(names[3], ("offcut not cut", false, 1));
        assert_eq!((names[4].0, names[4].1), ("note not cut", false));
        assert_eq!(names.len(), 5);
    }

    /// A small part in the opening of a large one is free before that opening is: else it would be cut out of what has
    /// come loose.
    #[test]
    fn a_part_in_an_opening_is_cut_out_before_the_opening() {
        let pattern = pattern();
        let operation = |kind, contour: &Contour| Operation {
            kind,
            face: Face::Top,
            depth_mm: 8.0,
            edge: CutPath::Closed(contour.clone()),
            pocket: None,
            tool: vec![CutPath::Closed(contour.clone())],
            bridges: Vec::new(),
        };
        let small = Contour::rectangle(dvec2(0.0, 0.0), dvec2(20.0, 10.0));
        let small_pattern = plate::FlatPattern {
            through: vec![small.clone()],
            pockets: vec![],
            engravings: vec![],
        };
        let works = [
            Work {
                piece: 3,
                operations: vec![
                    operation(OperationKind::Inside, &pattern.through[2]),
                    operation(OperationKind::Outline, &pattern.through[0]),
                ],
                pattern,
            },
            Work {
                piece: 4,
                pattern: small_pattern,
                operations: vec![operation(OperationKind::Outline, &small)],
            },
        ];
        let laid =
            |piece, at, is_in_opening| Laid { piece, copy: 1, at, is_turned: false, is_in_opening };
        let laid = vec![laid(3, DVec2::ZERO, false), laid(4, dvec2(120.0, 90.0), true)];
        let sheet = LaidSheet { laid, ..sheet() };
        let route = route(&sheet, &works);
        let labels = ["01".to_owned(), "02".to_owned()];
        let nested = NestedSheet {
            sheet: &sheet,
            works: &works,
            route: &route,
            labels: &labels,
            draw: DrawnPath::Part,
            heading: "clear-1",
            about: &[],
        };
        let layers = nested.layers();
        let cut: Vec<&str> = layers.iter().filter(|l| l.is_made).map(|l| &*l.name).collect();
        assert_eq!(cut, ["cut through outline", "cut through openings", "cut through outline"]);
        // The files keep that order: the small outline is the first thing that is drawn.
        let svg = crate::svg::write_sheet(&nested);
        let ids: Vec<&str> =
            svg.split("<g id=\"").skip(1).filter_map(|g| g.split('"').next()).collect();
        assert_eq!(
            ids[..3],
            ["cut-through-outline", "cut-through-openings", "cut-through-outline-2"]
        );
        let dxf = crate::dxf::write_sheet(&nested);
        assert_eq!(dxf.matches("AcDbLayerTableRecord\n  2\ncut through outline\n").count(), 1);
    }

    /// A hole that no path was found for is drilled before the part comes loose, and stands there in the file.
    #[test]
    fn holes_that_are_drilled_stand_before_the_outline() {
        let mut work = work();
        work.operations[0].tool.clear();
        let (sheet, works, labels) = (sheet(), [work], ["07".to_owned(), "07".to_owned()]);
        let route = route(&sheet, &works);
        assert_eq!(route.steps.len(), 2);
        let nested = NestedSheet {
            sheet: &sheet,
            works: &works,
            route: &route,
            labels: &labels,
            draw: DrawnPath::Part,
            heading: "clear-1",
            about: &[],
        };
        let layers = nested.layers();
        let names: Vec<&str> = layers.iter().take(2).map(|l| l.name.as_str()).collect();
        assert_eq!(names, ["cut through openings", "cut through outline"]);
    }

    #[test]
    fn a_turned_part_lies_turned() {
        let layers = layers(DrawnPath::Part);
        let Shape::Circle { centre, .. } = &layers[0].shapes[1] else {
            panic!("a hole is a circle")
        };
        // (40, 160) turned counter-clockwise is (−160, 40).
        assert!(centre.distance(dvec2(440.0, 60.0)) < 1e-9, "{centre}");
    }

    #[test]
    fn the_path_of_the_tool_has_layers_of_its_own() {
        let names: Vec<String> = layers(DrawnPath::Tool).into_iter().map(|l| l.name).collect();
        assert_eq!(names[..2], ["tool path cut through openings", "tool path cut through outline"]);
    }

    /// A part that a router cuts, held by bridges.
    fn bridged(draw: DrawnPath) -> (Work, Vec<Layer>) {
        let cutting = params::Cutting { holding: params::Holding::Tabs, ..Default::default() };
        let outline = Contour::rounded_rectangle(dvec2(0.0, 0.0), dvec2(300.0, 200.0), 12.0);
        let plate = plate::Plate::new(outline, 8.0);
        let (pattern, operations) =
            shop::operations_of(&shop::Machine::new(&cutting), &plate).expect("it is cut");
        let work = Work { piece: 3, pattern, operations };
        let (sheet, labels) = (sheet(), ["07".to_owned(), "07".to_owned()]);
        let works = [work.clone()];
        let route = route(&sheet, &works);
        let nested = NestedSheet {
            sheet: &sheet,
            works: &works,
            route: &route,
            labels: &labels,
            draw,
            heading: "clear-1",
            about: &[],
        };
        assert!(crate::dxf::write_sheet(&nested).contains("bridge 1.5 mm high"));
        assert!(crate::svg::write_sheet(&nested).contains("bridge-1.5-mm-high"));
        (work, nested.layers())
    }

    #[test]
    fn bridges_are_marked_beside_the_edges_and_no_tool_follows_the_marks() {
        let (work, layers) = bridged(DrawnPath::Part);
        let marks: Vec<&Layer> = layers.iter().filter(|l| l.name.starts_with("bridge")).collect();
        assert_eq!(marks.len(), 1);
        assert!(!marks[0].is_made);
        let n = work.operations[0].bridges.len();
        assert!(n >= 2);
        // Two copies lie on the sheet.
        assert_eq!(marks[0].shapes.len(), 2 * n);
        for shape in &marks[0].shapes {
            let Shape::Closed(mark) = shape else { panic!("a rectangle") };
            // 6 mm long, across a cut of 6 mm.
            assert!((mark.signed_area().abs() - 36.0).abs() < 1e-9);
        }
    }

    #[test]
    fn the_path_of_the_tool_is_lifted_over_bridges_and_keeps_its_arcs() {
        let (work, layers) = bridged(DrawnPath::Tool);
        let runs = |name: &str| -> Vec<Vec<plate::Segment>> {
            let of_name = layers.iter().filter(|l| l.name == name);
            let run = |shape: &Shape| match shape {
                Shape::Run(pieces) => pieces.clone(),
                _ => panic!("a run"),
            };
            of_name.flat_map(|l| &l.shapes).map(run).collect()
        };
        let lifted = runs("tool path bridge 1.5 mm high");
        assert_eq!(lifted.len(), 2 * work.operations[0].bridges.len());
        let cut = runs("tool path cut through outline");
        let turned: f64 =
            cut.iter().flatten().filter_map(|piece| piece.arc).map(|arc| arc.sweep).sum();
        assert!((turned - 2.0 * std::f64::consts::TAU).abs() < 1e-9);
    }

    #[test]
    fn numbers_stay_on_their_parts() {
        let layers = layers(DrawnPath::Part);
        let notes = layers.last().expect("the note");
        let below = |shape: &&Shape| match shape {
            Shape::Open(stroke) => stroke.iter().all(|p| p.y < 0.0),
            _ => false,
        };
        let on_parts = notes.shapes.iter().filter(|shape| !below(shape));
        for shape in on_parts {
            let Shape::Open(stroke) = shape else { panic!("a letter is a stroke") };
            for p in stroke {
                let is_in = |lo: DVec2, hi: DVec2| lo.cmple(*p).all() && p.cmple(hi).all();
                let first = is_in(dvec2(20.0, 20.0), dvec2(320.0, 220.0));
                assert!(first || is_in(dvec2(400.0, 20.0), dvec2(600.0, 320.0)), "{p}");
            }
        }
    }
}
