//! Bridges: where a cutter is lifted a little so that a part stays held in its sheet until it is cut free by hand.
//!
//! They stand on straight edges only, away from corners, where a file or a scraper takes them off flush; never on an edge
//! that will be glued while another is free, as what is left of one keeps the joint open.

use design::{Design, PieceId};
use glam::DVec2;
use plate::{Contour, Face, FlatPattern, Segment};

use super::{CutPath, Operation, OperationKind};
use crate::process::Machine;

/// A bridge in a cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bridge {
    /// Its middle, on the edge of the part, mm.
    pub at: DVec2,
    /// The way of the edge there, the part on its left; of length 1.
    pub along: DVec2,
    /// How long what is left is along the edge, mm.
    pub length_mm: f64,
    /// How high it is above the lower face, mm.
    pub height_mm: f64,
    /// Which path of the tool is lifted over it.
    pub path: usize,
    /// From where to where the middle of the tool is lifted: longer than the bridge by the tool's width.
    pub lifted: [DVec2; 2],
    /// Whether it stands on an edge that will be glued: no other could take it.
    pub is_on_glued_edge: bool,
}

/// A stretch of a tool's path.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Its pieces, each from the end of the one before.
    pub pieces: Vec<Segment>,
    /// Whether the tool is lifted over a bridge here.
    pub is_lifted: bool,
}

/// Length around a part for each bridge, mm. From memory, common practice: one in 150 to 300 mm.
pub const SPACING_MM: f64 = 200.0;
/// Fewer do not hold a part (common practice), and more are never left (our judgement).
const FEWEST: usize = 2;
const MOST: usize = 16;
/// Two bridges on one edge are at least so far apart, mm (our judgement).
const APART_MM: f64 = 60.0;
/// From a bridge, and from where the tool is lifted, to the next corner or arc, mm (our judgement).
const CORNER_MM: f64 = 5.0;
/// What falls out of an opening is held from this width on, mm (our judgement): less is lifted out by the chips.
const HELD_REST_MM: f64 = 100.0;
/// How far beyond the cut there must be sheet for a bridge to hold to, mm: looked at from near to far (our judgement).
const BEYOND_MM: [f64; 3] = [0.5, 1.5, 3.0];
/// Between two places that are looked at, mm.
const STEP_MM: f64 = 5.0;
/// How near places are the same, mm: the tool may be reckoned a hair thinner.
const SAME_MM: f64 = 0.01;

/// Sides of a part's box.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct GluedSides {
    left: bool,
    right: bool,
    lower: bool,
    upper: bool,
}

impl GluedSides {
    /// Those that glue goes to.
    pub(super) fn of(design: &Design, piece: PieceId) -> Self {
        let mut sides = Self::default();
        for joint in design.joints.iter().filter(|joint| joint.kind.is_glued()) {
            for (placed, face) in [joint.a, joint.b].into_iter().zip(&joint.faces) {
                if design.placed[placed].piece == piece {
                    match face.as_str() {
                        "left edge" => sides.left = true,
                        "right edge" => sides.right = true,
                        "lower edge" => sides.lower = true,
                        "upper edge" => sides.upper = true,
                        _ => {}
                    }
                }
            }
        }
        sides
    }

    /// Whether a straight piece of an outline within a box lies on one of them.
    fn has(self, piece: &Segment, [lo, hi]: [DVec2; 2]) -> bool {
        let is_at =
            |a: f64, b: f64, side: f64| (a - side).abs() < SAME_MM && (b - side).abs() < SAME_MM;
        let (a, b) = (piece.start, piece.end);
        (self.left && is_at(a.x, b.x, lo.x))
            || (self.right && is_at(a.x, b.x, hi.x))
            || (self.lower && is_at(a.y, b.y, lo.y))
            || (self.upper && is_at(a.y, b.y, hi.y))
    }
}

/// The bridges of an operation: of the outline, and of openings out of which something large falls.
pub(super) fn place(
    machine: &Machine,
    thickness_mm: f64,
    pattern: &FlatPattern,
    glued: GluedSides,
    operation: &Operation,
) -> Vec<Bridge> {
    let (Some(size), CutPath::Closed(edge)) = (machine.bridge(thickness_mm), &operation.edge)
    else {
        return Vec::new();
    };
    let is_held = match operation.kind {
        OperationKind::Outline => true,
        OperationKind::Inside => edge.bounds().is_some_and(|[lo, hi]| {
            (hi - lo).min_element() - 2.0 * machine.width_mm >= HELD_REST_MM
        }),
        _ => false,
    };
    if !is_held {
        return Vec::new();
    }
    let placer = Placer { machine, thickness_mm, size, pattern, glued, operation, edge };
    let all = placer.places();
    let (stained, free): (Vec<Place>, Vec<Place>) =
        all.iter().copied().partition(|place| place.bridge.is_on_glued_edge);
    // By the box around it: the teeth of a comb make its edge longer, not the part larger.
    let round = edge.bounds().map_or(0.0, |[lo, hi]| 2.0 * (hi - lo).element_sum());
    let wanted = wanted(round);
    let from = if room(&free) >= FEWEST { free } else { [free, stained].concat() };
    spread(from, wanted)
}

/// How many bridges a part should have that is so long around, mm.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "no panel is longer than 10 m"
)]
fn wanted(length_mm: f64) -> usize {
    ((length_mm / SPACING_MM).ceil() as usize).clamp(FEWEST, MOST)
}

/// A place that could take a bridge.
#[derive(Clone, Copy)]
struct Place {
    /// Which piece of the edge.
    piece: usize,
    bridge: Bridge,
}

struct Placer<'a> {
    machine: &'a Machine,
    thickness_mm: f64,
    /// Length and height, mm.
    size: [f64; 2],
    pattern: &'a FlatPattern,
    glued: GluedSides,
    operation: &'a Operation,
    edge: &'a Contour,
}

impl Placer<'_> {
    /// All places, in the order of the edge.
    fn places(&self) -> Vec<Place> {
        let Some(bounds) = self.edge.bounds() else { return Vec::new() };
        let half = 0.5 * self.size[0] + self.machine.radius_mm() + CORNER_MM;
        let mut places = Vec::new();
        for (i, piece) in self.edge.0.iter().enumerate().filter(|(_, piece)| piece.arc.is_none()) {
            let room = piece.length() - 2.0 * half;
            if room < 0.0 {
                continue;
            }
            let is_glued =
                self.operation.kind == OperationKind::Outline && self.glued.has(piece, bounds);
            let along = (piece.end - piece.start).normalize_or_zero();
            let steps = (room / STEP_MM).floor();
            let mut k = 0.0;
            while k <= steps {
                let middle = half + 0.5 * (room - steps * STEP_MM) + k * STEP_MM;
                let at = piece.start + along * middle;
                if let Some(bridge) = self.bridge(at, along, is_glued) {
                    places.push(Place { piece: i, bridge });
                }
                k += 1.0;
            }
        }
        places
    }

    /// A bridge here, where the sheet is whole below it and the tool runs straight along all of it.
    fn bridge(&self, at: DVec2, along: DVec2, is_on_glued_edge: bool) -> Option<Bridge> {
        let [length_mm, height_mm] = self.size;
        let inwards = along.perp();
        let whole = [-0.5, 0.0, 0.5].iter().all(|share| {
            let p = at + along * (share * length_mm) + inwards * (2.0 * SAME_MM);
            self.pattern.pockets.iter().all(|pocket| {
                let turns: i32 = pocket.loops.iter().map(|contour| contour.winding(p)).sum();
                let is_below_the_floor =
                    pocket.face == Face::Top && self.thickness_mm - pocket.depth_mm >= height_mm;
                turns == 0 || is_below_the_floor
            })
        });
        if !whole {
            return None;
        }
        let out = -inwards * self.machine.radius_mm();
        let reach = along * (0.5 * length_mm + self.machine.radius_mm());
        let lifted = [at + out - reach, at + out + reach];
        let runs_along = |path: &CutPath| match path {
            CutPath::Closed(contour) => {
                contour.0.iter().any(|piece| lifted.iter().all(|p| is_on(piece, *p)))
            }
            CutPath::Open(_) => false,
        };
        let path = self.operation.tool.iter().position(runs_along)?;
        let holds = |share: f64| self.is_sheet_beyond(at + along * (share * length_mm), -inwards);
        if ![-0.5, 0.0, 0.5].into_iter().all(holds) {
            return None;
        }
        Some(Bridge { at, along, length_mm, height_mm, path, lifted, is_on_glued_edge })
    }
}

impl Placer<'_> {
    /// Whether the cut at a place of the edge has sheet at its other side: in a narrow notch the tool comes back there.
    fn is_sheet_beyond(&self, at: DVec2, out: DVec2) -> bool {
        let pieces = self.operation.tool.iter().filter_map(|path| match path {
            CutPath::Closed(contour) => Some(contour),
            CutPath::Open(_) => None,
        });
        let pieces: Vec<&Segment> = pieces.flat_map(|contour| &contour.0).collect();
        BEYOND_MM.into_iter().all(|beyond| {
            let p = at + out * (self.machine.width_mm + beyond);
            let turns: i32 = self.pattern.through.iter().map(|contour| contour.winding(p)).sum();
            turns == 0 && pieces.iter().all(|s| s.distance(p) > self.machine.radius_mm())
        })
    }
}

fn is_on(piece: &Segment, p: DVec2) -> bool {
    piece.arc.is_none() && piece.distance(p) < SAME_MM
}

/// How many bridges these places take, far enough from one another.
fn room(places: &[Place]) -> usize {
    let edges = places.chunk_by(|a, b| a.piece == b.piece);
    edges.map(|edge| along_one_edge(edge).len()).sum()
}

/// As many as there is room for on one edge.
fn along_one_edge(edge: &[Place]) -> Vec<Place> {
    let mut kept: Vec<Place> = Vec::new();
    for place in edge {
        let is_apart =
            |last: &Place| last.bridge.at.distance(place.bridge.at) >= apart(&place.bridge);
        if kept.last().is_none_or(is_apart) {
            kept.push(*place);
        }
    }
    kept
}

fn apart(bridge: &Bridge) -> f64 {
    APART_MM.max(2.0 * bridge.lifted[0].distance(bridge.lifted[1]))
}

/// So many of these places, evenly along all of them.
fn spread(mut places: Vec<Place>, wanted: usize) -> Vec<Bridge> {
    places.sort_by_key(|place| place.piece);
    let n = wanted.min(room(&places));
    let mut chosen: Vec<Place> = Vec::new();
    for k in 0..n {
        // The middle of the k-th of n equal shares.
        let place = places[(2 * k + 1) * places.len() / (2 * n)];
        let is_apart = |other: &Place| {
            other.piece != place.piece
                || other.bridge.at.distance(place.bridge.at) >= apart(&place.bridge) - STEP_MM
        };
        if chosen.iter().all(is_apart) {
            chosen.push(place);
        }
    }
    chosen.into_iter().map(|place| place.bridge).collect()
}

impl Operation {
    /// A path of the tool as the stretches in which it cuts and those in which it is lifted over a bridge, beginning
    /// after a bridge where there is one. Open paths have none.
    pub fn runs(&self, path: usize) -> Vec<Run> {
        let Some(CutPath::Closed(contour)) = self.tool.get(path) else { return Vec::new() };
        let lifts: Vec<[DVec2; 2]> =
            self.bridges.iter().filter(|b| b.path == path).map(|b| b.lifted).collect();
        let mut runs: Vec<Run> = Vec::new();
        let mut add = |piece: Segment, is_lifted: bool| match runs.last_mut() {
            Some(run) if run.is_lifted == is_lifted => run.pieces.push(piece),
            _ => runs.push(Run { pieces: vec![piece], is_lifted }),
        };
        for piece in &contour.0 {
            let mut own: Vec<[DVec2; 2]> = lifts
                .iter()
                .filter(|ends| ends.iter().all(|p| is_on(piece, *p)))
                .map(|&[a, b]| {
                    let from = |p: DVec2| p.distance_squared(piece.start);
                    if from(a) <= from(b) { [a, b] } else { [b, a] }
                })
                .collect();
            let from = |ends: &[DVec2; 2]| ends[0].distance_squared(piece.start);
            own.sort_by(|a, b| from(a).total_cmp(&from(b)));
            let mut at = piece.start;
            for [a, b] in &own {
                add(Segment::line(at, *a), false);
                add(Segment::line(*a, *b), true);
                at = *b;
            }
            let rest = if own.is_empty() { *piece } else { Segment::line(at, piece.end) };
            add(rest, false);
        }
        // What begins where the contour is written to begin goes on from its end.
        if runs.len() > 1 && runs.last().is_some_and(|last| !last.is_lifted) {
            let first = runs.remove(0);
            if let Some(last) = runs.last_mut() {
                last.pieces.extend(first.pieces);
            }
            // The tool begins in what it cuts.
            runs.rotate_left(1);
        }
        runs
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::work::operations_of;
    use glam::dvec2;
    use params::{Cutting, Holding};
    use plate::{Cut, Plate};

    fn machine() -> Machine {
        Machine::new(&Cutting { holding: Holding::Tabs, ..Cutting::default() })
    }

    fn outline(plate: &Plate) -> Operation {
        operations_of(&machine(), plate).unwrap().1.pop().unwrap()
    }

    fn rounded(width: f64, height: f64) -> Plate {
        Plate::new(Contour::rounded_rectangle(DVec2::ZERO, dvec2(width, height), 12.0), 8.0)
    }

    #[test]
    fn larger_parts_have_more_bridges_and_none_at_a_corner() {
        for (size, n) in [([100.0, 80.0], 2), ([300.0, 200.0], 5), ([900.0, 450.0], 14)] {
            let outline = outline(&rounded(size[0], size[1]));
            assert_eq!(outline.bridges.len(), n, "{size:?}");
            for bridge in &outline.bridges {
                let (lo, hi) = (DVec2::splat(12.0), dvec2(size[0], size[1]) - 12.0);
                let [a, b] =
                    [-0.5, 0.5].map(|share| bridge.at + share * bridge.length_mm * bridge.along);
                for p in [a, b] {
                    let along = if bridge.along.x.abs() > 0.5 {
                        [p.x, lo.x, hi.x]
                    } else {
                        [p.y, lo.y, hi.y]
                    };
                    assert!(along[1] + CORNER_MM <= along[0] && along[0] <= along[2] - CORNER_MM);
                }
                assert!((bridge.lifted[0].distance(bridge.lifted[1]) - 12.0).abs() < 1e-9);
                assert!((bridge.height_mm - 1.5).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn glued_edges_stay_clean_while_another_is_free() {
        let machine = machine();
        let (pattern, operations) = operations_of(&machine, &rounded(300.0, 200.0)).unwrap();
        let outline = operations.last().unwrap();
        let place = |glued| place(&machine, 8.0, &pattern, glued, outline);
        let three = GluedSides { left: true, right: true, lower: true, upper: false };
        let bridges = place(three);
        assert!(bridges.len() >= 3);
        assert!(bridges.iter().all(|b| b.at.y > 199.0 && !b.is_on_glued_edge), "{bridges:?}");
        let all = place(GluedSides { upper: true, ..three });
        assert!(all.len() >= 3 && all.iter().all(|b| b.is_on_glued_edge));
    }

    #[test]
    fn round_and_tiny_parts_take_none() {
        let disc = Plate::new(Contour::circle(DVec2::ZERO, 100.0), 8.0);
        assert_eq!(outline(&disc).bridges, []);
        let tiny = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(20.0, 15.0)), 8.0);
        assert_eq!(outline(&tiny).bridges, []);
    }

    /// A step from below leaves nothing for a bridge; one from above leaves enough.
    #[test]
    fn no_bridge_stands_where_the_sheet_is_cut_away_below() {
        for (face, n_lower) in [(Face::Bottom, 0), (Face::Top, 1)] {
            let mut plate = rounded(300.0, 200.0);
            let step = Contour::rectangle(dvec2(-5.0, -5.0), dvec2(305.0, 8.0));
            plate.cuts.push(Cut::pocket(step, face, 4.0));
            let lower = outline(&plate).bridges.iter().filter(|b| b.at.y < 1.0).count();
            assert_eq!(lower.min(1), n_lower, "{face:?}");
        }
    }

    /// In a notch that is hardly wider than the cutter both of its sides are cut at once.
    #[test]
    fn no_bridge_stands_in_a_narrow_notch() {
        for (width, is_taken) in [(7.0, false), (14.0, false), (40.0, true)] {
            let mut plate = rounded(300.0, 200.0);
            let (lo, hi) = (dvec2(150.0, 40.0), dvec2(150.0 + width, 210.0));
            plate.cuts.push(Cut::through(Contour::rectangle(lo, hi)));
            let machine = machine();
            let (pattern, operations) = operations_of(&machine, &plate).unwrap();
            let sides = GluedSides { left: true, right: true, lower: true, upper: true };
            let outline = operations.last().unwrap();
            let bridges = place(&machine, 8.0, &pattern, sides, outline);
            let is_in = |b: &Bridge| {
                (149.0..151.0 + width).contains(&b.at.x) && b.at.y > 39.0 && b.at.y < 199.0
            };
            assert_eq!(bridges.iter().any(is_in), is_taken, "{width} {bridges:?}");
        }
    }

    #[test]
    fn runs_make_up_the_path_with_its_arcs_and_lift_over_every_bridge() {
        let outline = outline(&rounded(300.0, 200.0));
        let CutPath::Closed(path) = &outline.tool[0] else { panic!("closed") };
        let runs = outline.runs(0);
        assert!(!runs[0].is_lifted);
        assert_eq!(runs.iter().filter(|run| run.is_lifted).count(), outline.bridges.len());
        assert_eq!(runs.len(), 2 * outline.bridges.len());
        let pieces: Vec<&Segment> = runs.iter().flat_map(|run| &run.pieces).collect();
        let length: f64 = pieces.iter().map(|piece| piece.length()).sum();
        assert!((length - path.length()).abs() < 1e-9);
        let turn = |arcs: &mut dyn Iterator<Item = f64>| arcs.sum::<f64>();
        let own = turn(&mut pieces.iter().filter_map(|piece| Some(piece.arc?.sweep)));
        let whole = turn(&mut path.0.iter().filter_map(|piece| Some(piece.arc?.sweep)));
        assert!((own - whole).abs() < 1e-9 && whole > 6.0);
        for (a, b) in pieces.iter().zip(pieces.iter().cycle().skip(1)) {
            assert!(a.end.distance(b.start) < SAME_MM);
        }
        let lifted: f64 =
            runs.iter().filter(|r| r.is_lifted).flat_map(|r| &r.pieces).map(Segment::length).sum();
        assert!((lifted - 12.0 * outline.bridges.len() as f64).abs() < 1e-9);
    }
}
