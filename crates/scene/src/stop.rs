//! One stop of a tour as a sheet: the chamber cut free of the rest, and what is told of it below.

mod plan;
mod sheet;
mod slice;
mod spread;

use design::Design;
use findings::Grade;
use glam::{DVec2, DVec3};
use rayon::prelude::*;

use crate::Error;
use crate::annotate::{NamePlace, Notes, Style, annotate};
use crate::camera::{Camera, Lens};
use crate::error::{LEAST_SIDE, MOST_SIDE};
use crate::image::{Image, whole_px};
use crate::picture::render;
use crate::scene::{Level, Scene, Topic};
use crate::view::opened;
use sheet::Sheet;
use slice::Slice;

/// What is told of one stop, and from where it is looked at.
#[derive(Clone, Debug)]
pub struct Stop<'a> {
    /// What the stop is called: its chamber's name, or the sump's.
    pub title: &'a str,
    /// What is told, a paragraph each.
    pub text: &'a [String],
    /// What was found, the worst first.
    pub findings: Vec<(Grade, String)>,
    /// What it is about: least and greatest corner, mm. Where that is no single chamber all of the sump is shown.
    pub about: [DVec3; 2],
    /// Direction from there to the eye.
    pub from: DVec3,
}

/// Height of the drawing over its width; the words below it take what they need.
const DRAWING: f64 = 0.56;
/// Labels have letters as large as the words below: so many units for a pixel of width.
const LETTERS: f64 = 1.05 / 1400.0;
/// Shown chambers are told apart by their floors to this, mm.
const SAME_MM: f64 = 0.01;

/// Every stop of a tour as a PNG file, `width` px wide and as high as its words need. The same bytes on any machine.
///
/// `scene` is [`Scene::assembled`] of the design; what is around the sump is not drawn.
///
/// # Errors
/// When the width is less than [`LEAST_SIDE`] or a side becomes more than [`MOST_SIDE`].
pub fn tour(
    scene: &Scene,
    design: &Design,
    stops: &[Stop<'_>],
    width: usize,
) -> Result<Vec<Vec<u8>>, Error> {
    let png = |k: usize| draw_stop(scene, design, stops, k, width)?.to_png();
    (0..stops.len()).into_par_iter().map(png).collect()
}

/// The pixels of one stop of [`tour`].
///
/// # Errors
/// As [`tour`].
pub fn draw_stop(
    scene: &Scene,
    design: &Design,
    stops: &[Stop<'_>],
    which: usize,
    width: usize,
) -> Result<Image, Error> {
    let size = [width, whole_px(DRAWING * width as f64)];
    let refused = |height: usize| Err(Error::Size { width, height });
    if size.iter().any(|side| !(LEAST_SIDE..=MOST_SIDE).contains(side)) {
        return refused(size[1]);
    }
    let Some(stop) = stops.get(which) else { return refused(0) };
    let chamber = chamber_of(scene, stop);
    let (drawing, left_out) = match chamber {
        Some(level) => of_chamber(scene, design, stop, level, size),
        None => of_all(scene, stop, size),
    };
    let sheet = Sheet::of(scene, stops, which, &left_out, size);
    if sheet.height() > MOST_SIDE {
        return refused(sheet.height());
    }
    Ok(sheet.over(&drawing, scene))
}

/// The chamber that a stop is about.
fn chamber_of<'a>(scene: &'a Scene, stop: &Stop<'_>) -> Option<&'a Level> {
    let [lo, hi] = stop.about.map(DVec3::truncate);
    let is_same = |a: DVec2, b: DVec2| a.distance(b) < SAME_MM;
    scene.levels.iter().find(|level| is_same(level.min, lo) && is_same(level.max, hi))
}

/// The chamber alone, cut free.
fn of_chamber(
    scene: &Scene,
    design: &Design,
    stop: &Stop<'_>,
    level: &Level,
    size: [usize; 2],
) -> (Image, String) {
    let slice = Slice::of(scene, design, level);
    let left_out = slice.left_out();
    let from = stop.from.normalize_or(-DVec3::Y);
    let mut scene = slice.into_scene(scene, design, level);
    let camera = framed(&scene, from, size);
    slice::see_through(&mut scene, &camera);
    (annotated(&scene, from, size), left_out)
}

/// The whole sump, with the names and levels of its chambers.
fn of_all(scene: &Scene, stop: &Stop<'_>, size: [usize; 2]) -> (Image, String) {
    let (mut scene, is_opened) = opened(scene.clone());
    scene.cabinet = None;
    scene.labels.retain(|label| matches!(label.topic, Topic::Chamber | Topic::Leaf | Topic::Door));
    slice::tell_levels(&mut scene);
    let left_out = if is_opened { "The opaque front wall is drawn clear." } else { "" };
    let left_out = left_out.to_owned();
    (annotated(&scene, stop.from.normalize_or(-DVec3::Y), size), left_out)
}

/// The camera that shows all of a scene with room for its labels.
fn framed(scene: &Scene, from: DVec3, size: [usize; 2]) -> Camera {
    let style = Style::of_unit(LETTERS * size[0] as f64);
    let room = style.drawing_room(&scene.labels, Lens::Perspective, size);
    Camera::framed(from, DVec3::Z, Lens::Perspective, &scene.points(), room)
}

fn annotated(scene: &Scene, from: DVec3, size: [usize; 2]) -> Image {
    let style = Style::of_unit(LETTERS * size[0] as f64);
    let mut labels = scene.labels.clone();
    labels.sort_by_key(|label| label.topic);
    labels.truncate(style.most_labels(size));
    let camera = framed(scene, from, size);
    let image = render(scene, &camera, size, style.line_px());
    let notes = Notes { view: None, names: NamePlace::Front, has_levels: false };
    annotate(&image, scene, &labels, &camera, &style, notes)
}
