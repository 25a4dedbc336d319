//! The closed shell of a plate, composed level by level from its arrangement.
//!
//! A wall stands on an edge of the arrangement wherever one side is material and the other is not.
//! Everything is shared by its place: a vertex by (corner, level), a level edge by (edge of the
//! arrangement, level), an upright edge by (corner, two levels next to each other there). So
//! neighbouring faces use the same edges, and the shell is closed without any welding.
use crate::error::Error;
use crate::floors::{Floor, HalfEdge, floors};
use crate::geometry::{Curve, Surface};
use crate::topology::{self, Edge, Face, Shell, Vertex, Wire};
use glam::{DVec3, dvec3};
use plate::Arrangement;

pub(crate) fn shell_of_plate(arrangement: &Arrangement) -> Result<Shell, Error> {
    let levels = levels(arrangement);
    let cells = cells_by_level(arrangement, &levels);
    let walls = walls(arrangement, &cells);
    let mut frame = Frame::new(arrangement, &levels, &walls);
    let floors = floors(arrangement, &cells, &levels)?;
    let mut shell = Shell::with_capacity(walls.len() + floors.len());
    for wall in &walls {
        shell.push(frame.wall_face(wall)?);
    }
    for floor in &floors {
        shell.push(frame.floor_face(floor));
    }
    Ok(shell)
}

/// Bottom and top of what is material, as indices into the list of levels.
pub(crate) type Span = [usize; 2];

/// All heights of the part, upwards. The arrangement makes equal heights equal to the last bit.
fn levels(arrangement: &Arrangement) -> Vec<f64> {
    let mut levels: Vec<f64> = arrangement.cells.iter().flatten().flatten().copied().collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    levels
}

fn cells_by_level(arrangement: &Arrangement, levels: &[f64]) -> Vec<Option<Span>> {
    let index = |z: f64| levels.partition_point(|&level| level < z);
    arrangement.cells.iter().map(|cell| cell.map(|heights| heights.map(index))).collect()
}

/// A piece of wall on one edge of the arrangement.
struct Wall {
    edge: usize,
    material_left: bool,
    span: Span,
}

fn walls(arrangement: &Arrangement, cells: &[Option<Span>]) -> Vec<Wall> {
    let mut walls = Vec::new();
    for (i, edge) in arrangement.edges.iter().enumerate() {
        let (left, right) = (cells[edge.left], cells[edge.right]);
        let mut add = |material_left, span| walls.push(Wall { edge: i, material_left, span });
        less(left, right).for_each(|span| add(true, span));
        less(right, left).for_each(|span| add(false, span));
    }
    walls
}

/// What of `a` is not in `b`: nothing, one piece, or one below and one above.
fn less(a: Option<Span>, b: Option<Span>) -> impl Iterator<Item = Span> {
    let pieces = match (a, b) {
        (None, _) => [None, None],
        (Some(a), None) => [Some(a), None],
        (Some(a), Some(b)) => [Some([a[0], a[1].min(b[0])]), Some([a[0].max(b[1]), a[1]])],
    };
    pieces.into_iter().flatten().filter(|span| span[0] < span[1])
}

/// The vertices and edges that faces share.
struct Frame<'a> {
    arrangement: &'a Arrangement,
    levels: &'a [f64],
    /// For every corner: its vertices upwards, each with its level.
    vertices: Vec<Vec<(usize, Vertex)>>,
    /// For every corner: the edge from each of its vertices to the next one, once it is needed.
    uprights: Vec<Vec<Option<Edge>>>,
    /// For every edge of the arrangement: the level edges made so far.
    level_edges: Vec<Vec<(usize, Edge)>>,
}

impl<'a> Frame<'a> {
    fn new(arrangement: &'a Arrangement, levels: &'a [f64], walls: &[Wall]) -> Self {
        let mut at: Vec<Vec<usize>> = vec![Vec::new(); arrangement.corners.len()];
        for wall in walls {
            for corner in arrangement.edges[wall.edge].ends {
                at[corner].extend(wall.span);
            }
        }
        for levels in &mut at {
            levels.sort_unstable();
            levels.dedup();
        }
        let uprights = at.iter().map(|levels| vec![None; levels.len()]).collect();
        let vertices = at.into_iter().zip(&arrangement.corners).map(|(at, corner)| {
            let vertex = |level| (level, topology::vertex(corner.extend(levels[level])));
            at.into_iter().map(vertex).collect()
        });
        Self {
            arrangement,
            levels,
            vertices: vertices.collect(),
            uprights,
            level_edges: vec![Vec::new(); arrangement.edges.len()],
        }
    }

    /// Where in the lists of a corner a level stands.
    fn rung(&self, corner: usize, level: usize) -> usize {
        self.vertices[corner].partition_point(|v| v.0 < level)
    }

    /// Edges up a corner, from one level to another.
    fn up(&mut self, corner: usize, [from, to]: Span) -> Vec<Edge> {
        let rungs = self.rung(corner, from)..self.rung(corner, to);
        let vertices = &self.vertices[corner];
        let uprights = &mut self.uprights[corner];
        let edge = |k: usize| topology::edge(&vertices[k].1, &vertices[k + 1].1, Curve::Line);
        rungs.map(|k| uprights[k].get_or_insert_with(|| edge(k)).clone()).collect()
    }

    /// The edge of the arrangement at a level, along or against its direction.
    fn level_edge(&mut self, half: HalfEdge, level: usize) -> Edge {
        let known = self.level_edges[half.edge].iter().find(|e| e.0 == level).map(|e| e.1.clone());
        let forward = known.unwrap_or_else(|| {
            let flat = &self.arrangement.edges[half.edge];
            let [start, end] =
                flat.ends.map(|corner| &self.vertices[corner][self.rung(corner, level)].1);
            let curve = flat.arc.map_or(Curve::Line, |arc| Curve::Arc {
                centre: arc.centre.extend(self.levels[level]),
                sweep: arc.sweep,
            });
            let edge = topology::edge(start, end, curve);
            self.level_edges[half.edge].push((level, edge.clone()));
            edge
        });
        if half.forward { forward } else { forward.inverse() }
    }

    /// A wall, its boundary counter-clockwise seen from outside: along the bottom with the material
    /// on the left, up, back along the top, down.
    fn wall_face(&mut self, wall: &Wall) -> Result<Face, Error> {
        let half = HalfEdge { edge: wall.edge, forward: wall.material_left };
        let [start, end] = half.ends(self.arrangement);
        let [bottom, top] = wall.span;
        let mut wire = Wire::new();
        wire.push_back(self.level_edge(half, bottom));
        wire.extend(self.up(end, wall.span));
        wire.push_back(self.level_edge(half, top).inverse());
        wire.extend(self.up(start, wall.span).iter().rev().map(Edge::inverse));
        let [start, end] =
            [start, end].map(|corner| self.arrangement.corners[corner].extend(self.levels[bottom]));
        let surface = match self.arrangement.edges[wall.edge].arc {
            None => Surface::Plane { origin: start, u: (end - start).normalize(), v: DVec3::Z },
            Some(arc) => Surface::Cylinder {
                centre: arc.centre.extend(self.levels[bottom]),
                radius: self.arrangement.corners[self.arrangement.edges[wall.edge].ends[0]]
                    .distance(arc.centre),
                // Material inside a counter-clockwise arc: the wall bulges outwards.
                outward: (arc.sweep > 0.0) == wall.material_left,
            },
        };
        Face::try_new(vec![wire], surface)
            .map_err(|e| Error::Wall { at: start, reason: e.to_string() })
    }

    /// A level face. Its loops run counter-clockwise around the material seen from above, the outer one first.
    ///
    /// Two loops may share a corner (two pockets of different depth that meet there), which truck's
    /// checked constructor refuses though the solid is sound; whether it is, is checked on the whole shell.
    fn floor_face(&mut self, floor: &Floor) -> Face {
        let mut wires = Vec::with_capacity(floor.loops.len());
        for halves in &floor.loops {
            let wire: Wire =
                halves.iter().map(|&half| self.level_edge(half, floor.level)).collect();
            wires.push(if floor.faces_up { wire } else { wire.inverse() });
        }
        let origin = dvec3(0.0, 0.0, self.levels[floor.level]);
        let (u, v) = if floor.faces_up { (DVec3::X, DVec3::Y) } else { (DVec3::Y, DVec3::X) };
        Face::new_unchecked(wires, Surface::Plane { origin, u, v })
    }
}
