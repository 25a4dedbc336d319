//! The flat pattern of a plate: closed loops to cut and to clear, taken from its arrangement.

use std::collections::BTreeMap;

use glam::DVec2;

use crate::arrangement::{Arrangement, Edge, Interval};
use crate::contour::Contour;
use crate::faces::{half_edge, trace_loops};
use crate::plate::{Engraving, Face, Plate};
use crate::segment::Segment;
use crate::sets::Sets;
use crate::tidy::join_edges;

/// What is done to the sheet, seen from the top face, in the plate's own coordinates (mm).
///
/// The loops are the arrangement's own, so they enclose what the solid is made of: cuts that
/// overlap are one, a rabbet ends at the outline.
#[derive(Clone, Debug, PartialEq)]
pub struct FlatPattern {
    /// Edges of all that is material: the outer loop counter-clockwise, then its holes clockwise.
    /// A part in several pieces has an outer loop, followed by its holes, for each.
    pub through: Vec<Contour>,
    /// Floors below a face, by face (top first), then depth, then place in the arrangement.
    pub pockets: Vec<PocketRegion>,
    /// As described by the plate.
    pub engravings: Vec<Engraving>,
}

/// One connected region of one face that is lower than the face.
#[derive(Clone, Debug, PartialEq)]
pub struct PocketRegion {
    /// The face it is cut from.
    pub face: Face,
    /// How far below that face its floor is.
    pub depth_mm: f64,
    /// The outer loop counter-clockwise, then the holes in the floor clockwise. Where a through
    /// cut opens the floor or the outline ends it, so does the loop.
    pub loops: Vec<Contour>,
    /// The cuts that made it, indices into [`Plate::cuts`], ascending.
    pub made_by: Vec<usize>,
}

/// A place where an engraving leaves the face it is drawn on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MisplacedEngraving {
    /// Index into [`Plate::engravings`].
    pub engraving: usize,
    /// The first point of it that lies beside the part, over a hole, or over a pocket of its face.
    pub at: DVec2,
}

impl FlatPattern {
    /// Area of the material seen from above in mm².
    pub fn area_mm2(&self) -> f64 {
        self.through.iter().map(Contour::signed_area).sum()
    }

    /// Engravings of which a place does not lie on their face. The strokes are looked at every
    /// [`ENGRAVING_STEP_MM`], so that a line across a hole is seen as well as one that ends in it.
    pub fn misplaced_engravings(&self) -> Vec<MisplacedEngraving> {
        let find = |(engraving, drawn): (usize, &Engraving)| {
            let mut places = drawn.strokes.iter().flat_map(|stroke| places_along(stroke));
            let at = places.find(|&p| !self.reaches_face(drawn.face, p))?;
            Some(MisplacedEngraving { engraving, at })
        };
        self.engravings.iter().enumerate().filter_map(find).collect()
    }

    /// Whether the part has material right up to a face at `p`.
    fn reaches_face(&self, face: Face, p: DVec2) -> bool {
        let is_in = |loops: &[Contour]| loops.iter().map(|l| l.winding(p)).sum::<i32>() > 0;
        let mut pockets = self.pockets.iter().filter(|pocket| pocket.face == face);
        p.is_finite() && is_in(&self.through) && !pockets.any(|pocket| is_in(&pocket.loops))
    }
}

impl PocketRegion {
    /// Area of the floor in mm².
    pub fn area_mm2(&self) -> f64 {
        self.loops.iter().map(Contour::signed_area).sum()
    }
}

/// Distance of the places at which an engraved stroke is looked at, mm: narrower gaps are passed over.
pub const ENGRAVING_STEP_MM: f64 = 0.5;

/// The points of a stroke and places between them.
fn places_along(stroke: &[DVec2]) -> impl Iterator<Item = DVec2> + '_ {
    let between = stroke.windows(2).flat_map(|pair| {
        let (from, to) = (pair[0], pair[1]);
        // No panel is longer than 10 m; what is not finite is looked at by its ends.
        let steps = (from.distance(to) / ENGRAVING_STEP_MM).ceil().clamp(1.0, 20_000.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 20,000")]
        let steps = if steps.is_nan() { 1 } else { steps as u32 };
        (0..steps).map(move |k| from.lerp(to, f64::from(k) / f64::from(steps)))
    });
    between.chain(stroke.last().copied())
}

/// The flat pattern of a plate from its arrangement.
pub fn flat_pattern(plate: &Plate, arrangement: &Arrangement) -> FlatPattern {
    let material = regions(arrangement, |cell| cell.is_some().then_some(0.0));
    let through = material.iter().flat_map(|region| region.loops(arrangement)).collect();
    let mut pockets = Vec::new();
    for face in [Face::Top, Face::Bottom] {
        let depth = |cell: Option<Interval>| depth_below(face, plate.thickness, cell);
        let mut floors = regions(arrangement, depth);
        floors.sort_by(|a, b| a.height.total_cmp(&b.height));
        pockets.extend(floors.into_iter().map(|floor| PocketRegion {
            face,
            depth_mm: floor.height,
            loops: floor.loops(arrangement),
            made_by: floor.makers(plate, arrangement, face),
        }));
    }
    FlatPattern { through, pockets, engravings: plate.engravings.clone() }
}

/// How far the material of a cell lies below a face; `None` if it reaches the face, or is none.
fn depth_below(face: Face, thickness: f64, cell: Option<Interval>) -> Option<f64> {
    let [bottom, top] = cell?;
    let depth = match face {
        Face::Top => thickness - top,
        Face::Bottom => bottom,
    };
    (depth > 0.0).then_some(depth)
}

/// Cells of one height that hang together along edges.
struct Region {
    height: f64,
    cells: Vec<usize>,
    /// Edges with the region on one side: cell 1 is inside, cell 0 outside.
    rim: Vec<Edge>,
}

/// All regions of equal height, by their first cell. Heights are equal to the last bit or apart.
fn regions(a: &Arrangement, height: impl Fn(Option<Interval>) -> Option<f64>) -> Vec<Region> {
    let heights: Vec<Option<f64>> = a.cells.iter().map(|&cell| height(cell)).collect();
    let mut sets = Sets::new(a.cells.len());
    for edge in &a.edges {
        if heights[edge.left] == heights[edge.right] {
            sets.join(edge.left, edge.right);
        }
    }
    let mut regions: Vec<Region> = Vec::new();
    let mut region_of: Vec<Option<usize>> = vec![None; a.cells.len()];
    for cell in 0..a.cells.len() {
        let Some(height) = heights[cell] else { continue };
        let first = sets.find(cell);
        if first == cell {
            region_of[cell] = Some(regions.len());
            regions.push(Region { height, cells: Vec::new(), rim: Vec::new() });
        }
        region_of[cell] = region_of[first];
        regions[region_of[cell].expect("its first cell came before")].cells.push(cell);
    }
    for edge in &a.edges {
        let (left, right) = (region_of[edge.left], region_of[edge.right]);
        if left != right {
            if let Some(inside) = left {
                regions[inside].rim.push(Edge { left: 1, right: 0, ..*edge });
            }
            if let Some(inside) = right {
                regions[inside].rim.push(Edge { left: 0, right: 1, ..*edge });
            }
        }
    }
    regions
}

impl Region {
    fn makers(&self, plate: &Plate, arrangement: &Arrangement, face: Face) -> Vec<usize> {
        let all = self.cells.iter().flat_map(|&cell| &arrangement.made_by[cell]).copied();
        let mut makers: Vec<usize> = all.filter(|&cut| plate.cuts[cut].face == face).collect();
        makers.sort_unstable();
        makers.dedup();
        makers
    }

    /// The loops around the region: the outer one, then the holes.
    fn loops(&self, arrangement: &Arrangement) -> Vec<Contour> {
        let (corners, rim) = renumbered(arrangement, &self.rim);
        // Edges that another feature had split are joined again, so a circle is whole.
        let (corners, edges) = join_edges(corners, rim, &arrangement.tolerance);
        let pieces: Vec<(usize, usize, Segment)> = edges
            .iter()
            .map(|e| {
                let [start, end] = e.ends.map(|v| corners[v]);
                (e.ends[0], e.ends[1], Segment { start, end, arc: e.arc })
            })
            .collect();
        let inside_on_left = |h: usize| [edges[h / 2].left, edges[h / 2].right][h % 2] == 1;
        let walks = trace_loops(corners.len(), &pieces);
        let mut loops: Vec<Contour> = walks
            .into_iter()
            .filter(|walk| inside_on_left(walk[0]))
            .flat_map(|walk| parted_at_corners(&walk, &pieces))
            .map(|walk| Contour(walk.iter().map(|&h| half_edge(&pieces, h)).collect()))
            .collect();
        // A connected region has one outer loop, the only one with positive area.
        loops.sort_by_key(|l| l.signed_area() < 0.0);
        loops
    }
}

/// The edges with their own list of corners, in the arrangement's order.
fn renumbered(arrangement: &Arrangement, edges: &[Edge]) -> (Vec<DVec2>, Vec<Edge>) {
    let mut index: BTreeMap<usize, usize> =
        edges.iter().flat_map(|e| e.ends).map(|v| (v, 0)).collect();
    for (new, slot) in index.values_mut().enumerate() {
        *slot = new;
    }
    let corners = index.keys().map(|&v| arrangement.corners[v]).collect();
    let edges = edges.iter().map(|e| Edge { ends: e.ends.map(|v| index[&v]), ..*e });
    (corners, edges.collect())
}

/// A walk around a region that touches itself in a corner comes there twice: it is parted there,
/// so that every loop is simple.
fn parted_at_corners(walk: &[usize], pieces: &[(usize, usize, Segment)]) -> Vec<Vec<usize>> {
    let start = |h: usize| if h.is_multiple_of(2) { pieces[h / 2].0 } else { pieces[h / 2].1 };
    let mut loops = Vec::new();
    let mut open: Vec<usize> = Vec::new();
    let mut place: BTreeMap<usize, usize> = BTreeMap::new();
    for &h in walk {
        if let Some(&i) = place.get(&start(h)) {
            let closed = open.split_off(i);
            for h in &closed {
                place.remove(&start(*h));
            }
            loops.push(closed);
        }
        place.insert(start(h), open.len());
        open.push(h);
    }
    loops.push(open);
    loops
}
