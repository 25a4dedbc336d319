//! One square of the picture: which surfaces cover which pixels.
//!
//! Every surface that a line of sight meets is kept, in a list per pixel (an A-buffer: Carpenter,
//! *SIGGRAPH* 1984, 103), so that clear sheets can be put over one another in their true order.

use glam::{Vec2, vec2};

use super::paint::Paint;
use super::pixel::{SUBPIXELS, index_32, pixel_of};
use super::stage::{Facet, Stroke};

/// Side of a tile, px.
pub(super) const TILE: usize = 32;
/// Samples per pixel.
pub(super) const SAMPLES: usize = 4;
/// All samples.
pub(super) const FULL: u32 = (1 << SAMPLES) - 1;
/// Places of the samples about a pixel's middle, in subpixels: no two in one row or column, so that
/// nearly upright and nearly level edges get four steps.
const SAMPLE_PLACES: [[i64; 2]; SAMPLES] = [[-32, -96], [96, -32], [-96, 32], [32, 96]];
/// Greatest offset of a sample, subpixels.
const REACH: i64 = 96;
/// End of a list.
const END: u32 = u32::MAX;
/// Marks the index of a stroke among those of facets.
const STROKE: u32 = 1 << 31;

/// A surface over a pixel.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fragment {
    pub(super) near: f32,
    surface: u32,
    next: u32,
    cover: u32,
}

/// What a fragment belongs to.
#[derive(Clone, Copy, Debug)]
pub(super) enum Surface {
    /// Index of the facet, and the samples that it covers, as bits.
    Facet(usize, u32),
    /// Index of the stroke, and the share of the pixel that it covers.
    Stroke(usize, f32),
}

impl Fragment {
    pub(super) fn surface(&self) -> Surface {
        let index = (self.surface & !STROKE) as usize;
        if self.surface & STROKE == 0 {
            Surface::Facet(index, self.cover)
        } else {
            Surface::Stroke(index, f32::from_bits(self.cover))
        }
    }
}

/// Lists of fragments, one per pixel of the tile.
#[derive(Debug)]
pub(super) struct Tile {
    /// Upper left pixel.
    origin: [usize; 2],
    heads: Vec<u32>,
    fragments: Vec<Fragment>,
    /// Nearness of the nearest opaque surface that covers the whole pixel.
    wall: Vec<f32>,
}

impl Tile {
    pub(super) fn new() -> Self {
        let pixels = TILE * TILE;
        Self {
            origin: [0, 0],
            heads: vec![END; pixels],
            fragments: Vec::with_capacity(16 * pixels),
            wall: vec![f32::NEG_INFINITY; pixels],
        }
    }

    pub(super) fn reset(&mut self, origin: [usize; 2]) {
        self.origin = origin;
        self.heads.fill(END);
        self.wall.fill(f32::NEG_INFINITY);
        self.fragments.clear();
    }

    /// Fragments over a pixel of the tile, latest drawn first.
    pub(super) fn over(&self, x: usize, y: usize) -> impl Iterator<Item = &Fragment> {
        let first = self.fragments.get(self.heads[y * TILE + x] as usize);
        std::iter::successors(first, |f| self.fragments.get(f.next as usize))
    }

    fn push(&mut self, pixel: usize, near: f32, surface: u32, cover: u32) {
        let next = std::mem::replace(&mut self.heads[pixel], index_32(self.fragments.len()));
        self.fragments.push(Fragment { near, surface, next, cover });
    }

    /// Draws a facet. Opaque facets should come first: what lies behind them is left out.
    pub(super) fn facet(&mut self, number: usize, facet: &Facet) {
        let Some(scan) = Scan::of(facet, self.origin) else { return };
        let is_opaque = matches!(facet.paint, Paint::Opaque(_) | Paint::Cut(_));
        let surface = index_32(number);
        let [x0, x1] = scan.columns;
        let per_px = facet.near.per_px().x;
        for y in scan.rows[0]..scan.rows[1] {
            let mut edges = scan.edges_at(y);
            let mut near = facet.near.at(self.middle(x0, y));
            let mut entered = false;
            for x in x0..x1 {
                let cover = scan.cover(edges);
                edges = scan.right_of(edges);
                let here = near;
                near += per_px;
                let Some(cover) = cover else {
                    if entered {
                        break;
                    }
                    continue;
                };
                // Between two samples there may be none that a thin facet covers, and more after.
                entered = true;
                if cover == 0 {
                    continue;
                }
                let pixel = y * TILE + x;
                // Beyond the facet's edge the plane may run far off: its corners bound it.
                let here =
                    if cover == FULL { here } else { here.clamp(facet.range[0], facet.range[1]) };
                if here < self.wall[pixel] {
                    continue;
                }
                if is_opaque && cover == FULL {
                    self.wall[pixel] = here;
                }
                self.push(pixel, here, surface, cover);
            }
        }
    }

    /// Draws a stroke with smooth sides and round ends.
    pub(super) fn stroke(&mut self, number: usize, stroke: &Stroke) {
        let [a, b] = stroke.ends;
        let along = b - a;
        let length_squared = along.length_squared();
        let reach = stroke.half_width + 0.5;
        let corner = vec2(self.origin[0] as f32, self.origin[1] as f32);
        let rows = within(a.y.min(b.y) - reach - corner.y, a.y.max(b.y) + reach - corner.y);
        let surface = STROKE | index_32(number);
        for y in rows[0]..rows[1] {
            let middle_y = self.middle(0, y).y;
            let [left, right] = columns_near(stroke, reach, middle_y);
            let columns = within(left - corner.x, right - corner.x);
            for x in columns[0]..columns[1] {
                let to = vec2(corner.x + x as f32 + 0.5, middle_y) - a;
                let t = if length_squared > 0.0 {
                    (to.dot(along) / length_squared).clamp(0.0, 1.0)
                } else {
                    0.0
                };
                let cover = (reach - (to - along * t).length()).clamp(0.0, 1.0);
                let near = stroke.near[0] + (stroke.near[1] - stroke.near[0]) * t;
                let pixel = y * TILE + x;
                if cover > 0.0 && near >= self.wall[pixel] {
                    self.push(pixel, near, surface, cover.to_bits());
                }
            }
        }
    }

    fn middle(&self, x: usize, y: usize) -> Vec2 {
        vec2((self.origin[0] + x) as f32 + 0.5, (self.origin[1] + y) as f32 + 0.5)
    }
}

/// Pixels of a tile from `lo` to `hi`, both in px from the tile's corner.
fn within(lo: f32, hi: f32) -> [usize; 2] {
    let end = TILE as f32;
    let from = lo.floor().clamp(0.0, end);
    let to = hi.ceil().clamp(0.0, end);
    [super::pixel::index(from), super::pixel::index(to)]
}

/// Where a row of pixels at height `y` comes within `reach` of the line through a stroke.
fn columns_near(stroke: &Stroke, reach: f32, y: f32) -> [f32; 2] {
    let [a, b] = stroke.ends;
    let box_columns = [a.x.min(b.x) - reach, a.x.max(b.x) + reach];
    let along = b - a;
    if along.y.abs() < 1e-3 {
        return box_columns;
    }
    let middle = a.x + (y - a.y) * along.x / along.y;
    let half = reach * along.length() / along.y.abs();
    [box_columns[0].max(middle - half), box_columns[1].min(middle + half)]
}

/// A facet's edges over a tile. An edge's value is positive inside, and whole numbers decide, so that
/// of two facets with a common edge exactly one covers each sample.
struct Scan {
    columns: [usize; 2],
    rows: [usize; 2],
    edges: [Edge; 3],
}

#[derive(Clone, Copy)]
struct Edge {
    /// Value at the middle of the tile's pixel `(columns[0], 0)`.
    start: i64,
    per_column: i64,
    per_row: i64,
    /// Change from a pixel's middle to each sample.
    samples: [i64; SAMPLES],
    /// Greatest of these, without sign.
    margin: i64,
}

impl Scan {
    fn of(facet: &Facet, origin: [usize; 2]) -> Option<Self> {
        let span = |axis: usize| {
            let values = facet.corners.map(|c| c[axis] - index_i64(origin[axis]) * SUBPIXELS);
            let lo = values[0].min(values[1]).min(values[2]) - REACH;
            let hi = values[0].max(values[1]).max(values[2]) + REACH;
            let span = [pixel_of(lo), pixel_of(hi + SUBPIXELS).min(TILE)];
            (hi >= 0 && span[0] < span[1]).then_some(span)
        };
        let (columns, rows) = (span(0)?, span(1)?);
        let at = [0, 1].map(|axis| index_i64(origin[axis]) * SUBPIXELS + SUBPIXELS / 2);
        let start = [at[0] + index_i64(columns[0]) * SUBPIXELS, at[1]];
        let [a, b, c] = facet.corners;
        let edges = [[a, b], [b, c], [c, a]].map(|ends| Edge::of(ends, start));
        let meets = edges.iter().all(|e| e.most(columns, rows) >= 0);
        meets.then_some(Self { columns, rows, edges })
    }

    fn edges_at(&self, row: usize) -> [i64; 3] {
        self.edges.map(|e| e.start + e.per_row * index_i64(row))
    }

    fn right_of(&self, values: [i64; 3]) -> [i64; 3] {
        let [a, b, c] = &self.edges;
        [values[0] + a.per_column, values[1] + b.per_column, values[2] + c.per_column]
    }

    /// The samples of a pixel that are inside; `None` if the pixel is away from the facet.
    fn cover(&self, values: [i64; 3]) -> Option<u32> {
        let [a, b, c] = &self.edges;
        // A sign bit in any of the three tells that one is below its bound.
        if ((values[0] - a.margin) | (values[1] - b.margin) | (values[2] - c.margin)) >= 0 {
            return Some(FULL);
        }
        if ((values[0] + a.margin) | (values[1] + b.margin) | (values[2] + c.margin)) < 0 {
            return None;
        }
        let inside = (0..SAMPLES).fold(0, |cover, s| {
            let inside = (values[0] + a.samples[s])
                | (values[1] + b.samples[s])
                | (values[2] + c.samples[s]);
            cover | (u32::from(inside >= 0) << s)
        });
        Some(inside)
    }
}

impl Edge {
    fn of([a, b]: [[i64; 2]; 2], start: [i64; 2]) -> Self {
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let owns = dy > 0 || (dy == 0 && dx > 0);
        let value = dx * (start[1] - a[1]) - dy * (start[0] - a[0]) - i64::from(!owns);
        let samples = SAMPLE_PLACES.map(|[x, y]| dx * y - dy * x);
        Self {
            start: value,
            per_column: -dy * SUBPIXELS,
            per_row: dx * SUBPIXELS,
            samples,
            margin: samples.iter().fold(0, |most, s| most.max(s.abs())),
        }
    }

    /// Greatest value at any sample of a block of pixels.
    fn most(&self, columns: [usize; 2], rows: [usize; 2]) -> i64 {
        let across = self.per_column.max(0) * index_i64(columns[1] - 1 - columns[0]);
        let last = self.per_row * index_i64(rows[1] - 1);
        let down = last.max(self.per_row * index_i64(rows[0]));
        self.start + across + down + self.margin
    }
}

fn index_i64(index: usize) -> i64 {
    i64::try_from(index).unwrap_or(i64::MAX)
}
