//! A sheet of small things side by side, each with its name and what is told of it.

mod eye;

use glam::{DAffine3, DVec2, DVec3, dvec2};
use plate::Shape;
use rayon::prelude::*;
use solid::Mesh;
use units::System;

use crate::Error;
use crate::annotate::canvas::{Canvas, Ink};
use crate::annotate::caption::{shortened, wrapped};
use crate::annotate::font::{Lettering, Weight};
use crate::camera::{Camera, Frame, Lens};
use crate::error::{LEAST_SIDE, MOST_SIDE};
use crate::from_design::bare;
use crate::image::{Image, whole_px};
use crate::picture::render;
use crate::scene::{Body, Look, Scene};

/// One thing on the sheet, lying as its own frame says: z is up.
#[derive(Clone, Debug)]
pub struct Exhibit<'a> {
    /// Its name.
    pub name: &'a str,
    /// Its measures, under the name.
    pub measures: &'a str,
    /// What it is for, under the measures.
    pub what_for: &'a str,
    /// Its shape.
    pub shape: &'a Shape,
    /// A mesh of its shape.
    pub mesh: &'a Mesh,
    /// Its colour: red, green, blue (sRGB).
    pub colour: [u8; 3],
}

/// What the sheet is called, and a note beside it.
#[derive(Clone, Copy, Debug)]
pub struct Heading<'a> {
    /// What all of it is.
    pub title: &'a str,
    /// How it is to be read.
    pub note: &'a str,
}

const PAPER: u8 = 252;
const TEXT: Ink = Ink([38, 50, 58], 1.0);
const FAINT: Ink = Ink([94, 108, 116], 1.0);

/// Sizes are for a sheet so wide, px.
const WIDTH: f64 = 1600.0;
const MARGIN: f64 = 32.0;
const GAP: f64 = 22.0;
/// From the upper edge to the first row.
const TOP: f64 = 70.0;
/// Height of a drawing over its width.
const ASPECT: f64 = 0.72;
/// A card is at least so wide: lines under it hold about thirty letters.
const LEAST_CARD: f64 = 270.0;
/// Heights of lines: of a name, of what is told.
const NAME_LINE: f64 = 30.0;
const LINE: f64 = 21.0;
/// From the words of a row to the next row.
const ROW_GAP: f64 = 22.0;

/// All exhibits on one sheet, `width` px wide and as high as they need, as a PNG file. Each is seen as large as its place
/// allows, from the side that shows most of it: nothing is to one scale. The same bytes on any machine.
///
/// # Errors
/// When the width is less than [`LEAST_SIDE`] or a side becomes more than [`MOST_SIDE`], or there is nothing to show.
pub fn gallery(
    heading: Heading<'_>,
    exhibits: &[Exhibit<'_>],
    width: usize,
) -> Result<Vec<u8>, Error> {
    draw_gallery(heading, exhibits, width)?.to_png()
}

/// The pixels of [`gallery`].
///
/// # Errors
/// As [`gallery`].
pub fn draw_gallery(
    heading: Heading<'_>,
    exhibits: &[Exhibit<'_>],
    width: usize,
) -> Result<Image, Error> {
    let is_possible = |side| (LEAST_SIDE..=MOST_SIDE).contains(&side);
    if exhibits.is_empty() || !is_possible(width) {
        return Err(Error::Size { width, height: 0 });
    }
    let sheet = Sheet::of(exhibits, width);
    if !is_possible(sheet.height) {
        return Err(Error::Size { width, height: sheet.height });
    }
    let frame = [sheet.card, ASPECT * sheet.card].map(whole_px);
    let drawings: Vec<Image> =
        exhibits.par_iter().map(|exhibit| drawing(exhibit, frame, sheet.unit)).collect();
    let blank = vec![PAPER; 3 * width * sheet.height];
    let mut image = Image { size: [width, sheet.height], pixels: blank };
    for (card, drawing) in sheet.cards.iter().zip(&drawings) {
        image.put(drawing, card.place.to_array().map(whole_px));
    }
    let Some(mut canvas) = Canvas::over(&image) else { return Ok(image) };
    sheet.write(&mut canvas, heading, width);
    Ok(canvas.into_image())
}

/// The thing alone, as large as its place allows.
fn drawing(exhibit: &Exhibit<'_>, size: [usize; 2], unit: f64) -> Image {
    let scene = alone(exhibit);
    let frame = room(size, 0.07);
    let camera = framed(&scene, eye::best(&scene), frame);
    render(&scene, &camera, size, 1.15 * unit.max(0.6))
}

/// A frame inside a picture, with a share of its width as margin.
fn room(size: [usize; 2], margin: f64) -> Frame {
    let margin = margin * size[0] as f64;
    let size = dvec2(size[0] as f64, size[1] as f64);
    Frame { min: DVec2::splat(margin), max: size - margin }
}

fn framed(scene: &Scene, from: DVec3, frame: Frame) -> Camera {
    Camera::framed(from, DVec3::Z, Lens::Perspective, &scene.points(), frame)
}

/// A scene with nothing else in it, its least corner at the origin.
fn alone(exhibit: &Exhibit<'_>) -> Scene {
    let [lo, hi] = exhibit.shape.bounds();
    let look = Look { colour: exhibit.colour, is_clear: false };
    let pose = DAffine3::from_translation(-lo);
    let body = Body { look, ..bare(exhibit.name, exhibit.shape, pose, exhibit.mesh) };
    Scene {
        title: String::new(),
        report: System::Metric,
        outside: hi - lo,
        bodies: vec![body],
        waters: Vec::new(),
        labels: Vec::new(),
        levels: Vec::new(),
        guides: Vec::new(),
        section_y: 0.0,
        spares: Vec::new(),
        cabinet: None,
    }
}

/// Where everything stands, px.
struct Sheet {
    unit: f64,
    height: usize,
    /// Width of a drawing.
    card: f64,
    cards: Vec<Card>,
    bold: Lettering,
    plain: Lettering,
}

/// One exhibit's place, and its words in lines.
struct Card {
    place: DVec2,
    name: String,
    measures: Vec<String>,
    what_for: Vec<String>,
}

impl Sheet {
    fn of(exhibits: &[Exhibit<'_>], width: usize) -> Self {
        let width = width as f64;
        // Small sheets get relatively larger letters, or nobody could read them.
        let unit = (width / WIDTH).max(0.62);
        let (margin, gap) = (MARGIN * unit, GAP * unit);
        let most = ((width - 2.0 * margin + gap) / (LEAST_CARD * unit + gap)).floor();
        let columns = whole_px(most).clamp(1, exhibits.len());
        let card = (width - 2.0 * margin + gap) / columns as f64 - gap;
        let bold = Lettering::new(Weight::Bold, 20.0 * unit);
        let plain = Lettering::new(Weight::Regular, 15.5 * unit);
        let mut cards = Vec::new();
        let mut top = TOP * unit;
        for row in exhibits.chunks(columns) {
            let mut lines = 0;
            for (column, exhibit) in row.iter().enumerate() {
                let told = Card {
                    place: dvec2(margin + column as f64 * (card + gap), top),
                    name: shortened(&bold, exhibit.name, card),
                    measures: wrapped(&plain, exhibit.measures, card),
                    what_for: wrapped(&plain, exhibit.what_for, card),
                };
                lines = lines.max(told.measures.len() + told.what_for.len());
                cards.push(told);
            }
            top += ASPECT * card + (NAME_LINE + LINE * lines as f64 + ROW_GAP) * unit;
        }
        Self { unit, height: whole_px(top), card, cards, bold, plain }
    }

    fn write(&self, canvas: &mut Canvas, heading: Heading<'_>, width: usize) {
        let u = self.unit;
        let (width, margin, base) = (width as f64, MARGIN * u, 44.0 * u);
        let large = Lettering::new(Weight::Bold, 27.0 * u);
        let title = shortened(&large, heading.title, width - 2.0 * margin);
        canvas.text(&large, &title, dvec2(margin, base), TEXT, None);
        let note = Lettering::new(Weight::Regular, 17.0 * u);
        let room = width - 2.0 * margin - large.width(&title) - 30.0 * u;
        if note.width(heading.note) <= room {
            let start = width - margin - note.width(heading.note);
            canvas.text(&note, heading.note, dvec2(start, base), FAINT, None);
        }
        for card in &self.cards {
            let mut at = card.place + dvec2(2.0 * u, ASPECT * self.card + 26.0 * u);
            canvas.text(&self.bold, &card.name, at, TEXT, None);
            at.y += NAME_LINE * u - 5.0 * u;
            let measures = card.measures.iter().map(|line| (line, TEXT));
            for (line, ink) in measures.chain(card.what_for.iter().map(|line| (line, FAINT))) {
                canvas.text(&self.plain, line, at, ink, None);
                at.y += LINE * u;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use plate::{Contour, Plate, Turned};
    use solid::Solid;

    fn exhibits(shapes: &[(Shape, Mesh)]) -> Vec<Exhibit<'_>> {
        let exhibit = |(shape, mesh)| Exhibit {
            name: "a thing with a name that is long for its card",
            measures: "pipe 32 mm, width 15 mm, mouth 110°; 41.3 × 47.1 × 15 mm",
            what_for: "holds a pipe or hose to a wall or rim, and says so in many words",
            shape,
            mesh,
            colour: [128, 176, 188],
        };
        shapes.iter().map(|(shape, mesh)| exhibit((shape, mesh))).collect()
    }

    fn shapes(count: usize) -> Vec<(Shape, Mesh)> {
        let shape = |i: usize| {
            let size = 10.0 + i as f64;
            let shape = if i.is_multiple_of(2) {
                let outline = Contour::rectangle(DVec2::ZERO, dvec2(2.0 * size, size));
                Shape::Sheet(Plate::new(outline, 8.0))
            } else {
                Shape::Turned(Turned::cylinder(size, 12.0))
            };
            let mesh = Solid::of_shape(&shape).unwrap().mesh(0.2).unwrap();
            (shape, mesh)
        };
        (0..count).map(shape).collect()
    }

    /// Cards with all their words lie beside or below each other, inside the sheet.
    #[test]
    fn nothing_overlaps() {
        let shapes = shapes(11);
        let exhibits = exhibits(&shapes);
        for width in [400, 900, 1600, 2400] {
            let sheet = Sheet::of(&exhibits, width);
            let frames: Vec<Frame> = sheet
                .cards
                .iter()
                .map(|card| {
                    let lines = (card.measures.len() + card.what_for.len()) as f64;
                    let height = ASPECT * sheet.card + (NAME_LINE + LINE * lines) * sheet.unit;
                    let words = card.measures.iter().chain(&card.what_for);
                    assert!(words.clone().all(|line| sheet.plain.width(line) <= sheet.card));
                    assert!(sheet.bold.width(&card.name) <= sheet.card);
                    Frame { min: card.place, max: card.place + dvec2(sheet.card, height) }
                })
                .collect();
            let paper = Frame { min: DVec2::ZERO, max: dvec2(width as f64, sheet.height as f64) };
            for (i, frame) in frames.iter().enumerate() {
                assert!(paper.contains(frame), "{width}: {frame:?} in {paper:?}");
                assert!(frames[..i].iter().all(|other| !other.overlaps(frame)), "{width}: {i}");
            }
        }
    }

    #[test]
    fn the_same_sheet_every_time_and_none_of_nothing() {
        let shapes = shapes(3);
        let exhibits = exhibits(&shapes);
        let heading = Heading { title: "Things", note: "not to one scale" };
        let draw = || draw_gallery(heading, &exhibits, 700).unwrap();
        assert_eq!(draw(), draw());
        assert!(draw_gallery(heading, &[], 700).is_err());
        assert!(draw_gallery(heading, &exhibits, 100).is_err());
    }
}
