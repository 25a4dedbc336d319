//! The headless picture: from a scene and a camera to pixels, on any machine the same.

mod backdrop;
mod blend;
mod clip;
mod ink;
mod light;
mod outline;
mod paint;
mod pixel;
mod sight;
mod stage;
mod tile;

use glam::vec2;
use rayon::prelude::*;

use crate::camera::Camera;
use crate::image::Image;
use crate::scene::Scene;
use backdrop::Backdrop;
use blend::Blend;
use light::Encoder;
use sight::Sightlines;
use stage::{Facet, Stage, Stroke};
use tile::{Fragment, TILE, Tile};

/// Draws a scene, without labels. `line_px` is the width of a fine line.
///
/// The bytes do not depend on the machine or on how many threads work.
pub fn render(scene: &Scene, camera: &Camera, size: [usize; 2], line_px: f64) -> Image {
    let stage = Stage::of(scene, camera, line_px);
    let sightlines = Sightlines::of(camera);
    let backdrop = Backdrop::new(scene.outside, size[1]);
    let length = pixel::single(scene.outside.max_element().max(1.0));
    let blend = Blend {
        stage: &stage,
        sightlines: &sightlines,
        backdrop: &backdrop,
        water: blend::WATER / length,
    };
    let encoder = Encoder::new();
    let mut image = Image::new(size);
    let [width, height] = size;
    image.pixels.par_chunks_mut(TILE * width * 3).enumerate().for_each_init(
        Row::new,
        |row, (i, pixels)| {
            row.collect(&stage, i * TILE, width);
            let rows = TILE.min(height - i * TILE);
            for column in 0..width.div_ceil(TILE) {
                row.draw(&stage, column);
                let left = column * TILE;
                for y in 0..rows {
                    for x in 0..TILE.min(width - left) {
                        row.over.clear();
                        row.over.extend(row.tile.over(x, y).copied());
                        let middle = vec2((left + x) as f32 + 0.5, (i * TILE + y) as f32 + 0.5);
                        let light = blend.pixel(middle, &mut row.over);
                        let at = (y * width + left + x) * 3;
                        pixels[at..at + 3].copy_from_slice(&encoder.encode(light));
                    }
                }
            }
        },
    );
    image
}

/// One row of tiles at work.
struct Row {
    tile: Tile,
    /// What may touch each tile of the row: opaque facets, clear facets, strokes.
    opaque: Vec<Vec<usize>>,
    clear: Vec<Vec<usize>>,
    strokes: Vec<Vec<usize>>,
    top: usize,
    order: Vec<(f32, Item)>,
    over: Vec<Fragment>,
}

#[derive(Clone, Copy)]
enum Item {
    Facet(usize),
    Stroke(usize),
}

impl Row {
    fn new() -> Self {
        Self {
            tile: Tile::new(),
            opaque: Vec::new(),
            clear: Vec::new(),
            strokes: Vec::new(),
            top: 0,
            order: Vec::new(),
            over: Vec::new(),
        }
    }

    /// Sorts everything that may touch the row into its tiles.
    fn collect(&mut self, stage: &Stage, top: usize, width: usize) {
        let tiles = width.div_ceil(TILE);
        for lists in [&mut self.opaque, &mut self.clear, &mut self.strokes] {
            lists.resize_with(tiles, Vec::new);
            lists.iter_mut().for_each(Vec::clear);
        }
        self.top = top;
        for (i, facet) in stage.facets.iter().enumerate() {
            let [lo, hi] = facet.extent();
            let lists = if facet.is_opaque() { &mut self.opaque } else { &mut self.clear };
            add(lists, i, lo, hi, top);
        }
        for (i, stroke) in stage.strokes.iter().enumerate() {
            let [lo, hi] = stroke.extent();
            add(&mut self.strokes, i, lo, hi, top);
        }
    }

    /// Draws one tile: opaque facets first, so that what they hide is left out; then the rest from
    /// behind, so that each pixel's list begins with the nearest.
    fn draw(&mut self, stage: &Stage, column: usize) {
        let left = column * TILE;
        self.tile.reset([left, self.top]);
        for &i in &self.opaque[column] {
            self.tile.facet(i, &stage.facets[i]);
        }
        let half = TILE as f32 * 0.5;
        let middle = vec2(left as f32 + half, self.top as f32 + half);
        self.order.clear();
        let facets = self.clear[column].iter().map(|&i| {
            let facet: &Facet = &stage.facets[i];
            (facet.near.at(middle).clamp(facet.range[0], facet.range[1]), Item::Facet(i))
        });
        self.order.extend(facets);
        let strokes = self.strokes[column].iter().map(|&i| {
            let stroke: &Stroke = &stage.strokes[i];
            (stroke.near_at(middle), Item::Stroke(i))
        });
        self.order.extend(strokes);
        self.order.sort_by(|a, b| a.0.total_cmp(&b.0));
        for &(_, item) in &self.order {
            match item {
                Item::Facet(i) => self.tile.facet(i, &stage.facets[i]),
                Item::Stroke(i) => self.tile.stroke(i, &stage.strokes[i]),
            }
        }
    }
}

/// Adds an item that reaches from `lo` to `hi` (px) to the lists of the tiles that it may touch.
fn add(lists: &mut [Vec<usize>], item: usize, lo: [f64; 2], hi: [f64; 2], top: usize) {
    if hi[1] < top as f64 || lo[1] > (top + TILE) as f64 || hi[0] < 0.0 {
        return;
    }
    let first = pixel::index_up_to(lo[0] / TILE as f64, lists.len());
    let last = pixel::index_up_to(hi[0] / TILE as f64, lists.len() - 1);
    if let Some(lists) = lists.get_mut(first..=last) {
        lists.iter_mut().for_each(|list| list.push(item));
    }
}
