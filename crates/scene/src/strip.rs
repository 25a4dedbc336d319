//! The film strip of a way out: one frame in place and one after each plain move, all from one place.
//!
//! The part that moves is coloured, its ghost stands where it was before the move, and an arrow shows the way. Everything
//! else is plain and can be seen through where it would hide the part; what was taken out before is gone.

pub(crate) mod arrow;
mod cast;
mod layout;
mod moments;
mod path;
mod viewpoint;

use design::{Design, RemovableId};
use fit::Step;
use glam::dvec2;

use crate::Error;
use crate::annotate::canvas::{Canvas, Ink};
use crate::camera::Camera;
use crate::error::{LEAST_SIDE, MOST_SIDE};
use crate::image::Image;
use crate::picture::render;
use crate::scene::Scene;
use cast::Cast;
use layout::Layout;
use moments::{Moment, moments};

const TEXT: Ink = Ink([38, 50, 58], 1.0);
const FAINT: Ink = Ink([104, 118, 126], 1.0);
const BORDER: Ink = Ink([176, 184, 189], 1.0);
/// What of the cabinet stands before the sump.
const NEAR: Ink = Ink([150, 138, 116], 0.55);

/// The film strip of one step of a way out as a PNG file, `size` (width, and height at most) in px. The same
/// bytes on any machine.
///
/// `scene` is [`Scene::assembled`] of the same design, and [`Scene::surrounded`] where there is a cabinet;
/// `gone` is what was taken out before, in order.
///
/// # Errors
/// When a side is shorter than [`LEAST_SIDE`] or longer than [`MOST_SIDE`], or when the design has no
/// such removable or the scene none of its parts.
pub fn strip(
    scene: &Scene,
    design: &Design,
    step: &Step,
    gone: &[RemovableId],
    size: [usize; 2],
) -> Result<Vec<u8>, Error> {
    draw_strip(scene, design, step, gone, size)?.to_png()
}

/// The pixels of [`strip`].
///
/// # Errors
/// As [`strip`].
pub fn draw_strip(
    scene: &Scene,
    design: &Design,
    step: &Step,
    gone: &[RemovableId],
    size: [usize; 2],
) -> Result<Image, Error> {
    if size.iter().any(|side| !(LEAST_SIDE..=MOST_SIDE).contains(side)) {
        return Err(Error::Size { width: size[0], height: size[1] });
    }
    let mut cast = Cast::of(scene, design, step.removable, gone)
        .ok_or_else(|| Error::NoPart { name: step.name.clone() })?;
    let moments = moments(step);
    let shown = viewpoint::shown(&cast, &moments);
    let captions: Vec<String> = moments.iter().map(|m| m.words.clone()).collect();
    let view = viewpoint::best(&cast, &moments, &shown);
    let layout = Layout::of(&captions, size, viewpoint::aspect(view, &shown));
    let camera = viewpoint::camera(view, &shown, layout.frame);
    cast.see_through(&camera, &moments);

    let [width, height] = layout.size;
    let mut sheet = Image { size: layout.size, pixels: vec![u8::MAX; 3 * width * height] };
    for (moment, &at) in moments.iter().zip(&layout.places) {
        sheet.put(&frame(&cast, moment, &camera, &layout), at);
    }
    let Some(mut canvas) = Canvas::over(&sheet) else { return Ok(sheet) };
    for &at in &layout.places {
        let [x, y] = at.map(|v| v as f64);
        let [w, h] = layout.frame.map(|v| v as f64);
        let corners = [dvec2(x, y), dvec2(x + w, y), dvec2(x + w, y + h), dvec2(x, y + h)];
        canvas.outline(&corners, layout.unit, BORDER);
    }
    let is_soft = design.removables.get(step.removable).is_some_and(|r| r.stiff_from_z.is_some());
    // It gives way where the picture shows it in something.
    let soft = if is_soft { "; its bag is soft, drawn full" } else { "" };
    let gap = fit::gap_words(step.least_gap_mm, scene.report);
    let note = format!("least gap on the way: {gap}{soft}");
    layout.write(&mut canvas, &title(design, step, gone), &scene.title, &note);
    Ok(canvas.into_image())
}

/// One frame without its words.
fn frame(cast: &Cast<'_>, moment: &Moment, camera: &Camera, layout: &Layout) -> Image {
    let image = render(&cast.scene_at(moment, camera), camera, layout.frame, 1.05 * layout.unit);
    let Some(mut canvas) = Canvas::over(&image) else { return image };
    for [a, b] in cast.near_lines(moment, camera) {
        let is_before_eye = camera.view(a).z.min(camera.view(b).z) > 1.0;
        if is_before_eye {
            canvas.line(&[camera.project(a), camera.project(b)], 0.9 * layout.unit, NEAR);
        }
    }
    let unit = layout.unit;
    let drawing = path::Drawing { cast, camera, unit, size: layout.frame, units: cast.units() };
    drawing.draw(&mut canvas, moment);
    canvas.into_image()
}

/// `leaf comb: way out, after lid left and sock inlet 1`.
fn title(design: &Design, step: &Step, gone: &[RemovableId]) -> String {
    /// More names than this are counted.
    const MOST: usize = 3;
    // What stands in the place of a leaf that is not in goes without saying.
    let stands_there = design.removables.get(step.removable).and_then(|r| r.instead_of);
    let gone = gone.iter().filter(|&&id| Some(id) != stands_there);
    let names: Vec<&str> =
        gone.filter_map(|&id| Some(design.removables.get(id)?.name.as_str())).collect();
    let after = match names.as_slice() {
        [] => String::new(),
        [one] => format!(", after {one}"),
        [before @ .., last] if names.len() <= MOST => {
            format!(", after {} and {last}", before.join(", "))
        }
        all => format!(", after {} other things", all.len()),
    };
    format!("{}: way out{after}", step.name)
}
