//! What is written over a picture: names, levels, the title and the scale.

mod callouts;
pub(crate) mod canvas;
pub(crate) mod caption;
pub(crate) mod font;
mod levels;
mod names;
mod spots;

use glam::{DVec2, DVec3};

use crate::camera::{Camera, Frame, Lens};
use crate::image::Image;
use crate::scene::{Body, Label, Scene, Topic};
use crate::seen::Seen;
use canvas::{Canvas, Ink};
use font::{Lettering, Weight};
use spots::Obstacles;

/// Sizes and letters for one picture.
#[derive(Debug)]
pub(crate) struct Style {
    /// Everything is measured in this: 1 px in a picture of 1600 × 1000.
    unit: f64,
    label: Lettering,
    chamber: Lettering,
    title: Lettering,
    note: Lettering,
    /// Height of a line of labels.
    line: f64,
    gap: f64,
}

const TEXT: Ink = Ink([38, 50, 58], 1.0);
const FAINT: Ink = Ink([104, 118, 126], 1.0);
const LEADER: Ink = Ink([52, 66, 74], 0.95);
const WATER: Ink = Ink([14, 86, 140], 1.0);
const HALO: Ink = Ink([255, 255, 255], 0.82);

impl Style {
    /// For a picture of a size in px.
    pub(crate) fn new(size: [usize; 2]) -> Self {
        let [width, height] = size.map(|n| n as f64);
        // Small pictures get relatively larger letters, or nobody could read them.
        Self::of_unit(libm::sqrt(width * height / 1.6e6).max(0.62))
    }

    /// With everything in so many pixels for what is one in a picture of 1600 × 1000.
    pub(crate) fn of_unit(unit: f64) -> Self {
        let label = Lettering::new(Weight::Regular, 19.0 * unit);
        let line = 30.0 * unit;
        Self {
            unit,
            label,
            chamber: Lettering::new(Weight::Bold, 18.0 * unit),
            title: Lettering::new(Weight::Bold, 23.0 * unit),
            note: Lettering::new(Weight::Regular, 17.0 * unit),
            line,
            gap: 7.0 * unit,
        }
    }

    /// Letters and colour of a label outside the drawing: chambers read as they do inside it.
    fn of(&self, topic: Topic) -> (&Lettering, Ink) {
        if topic == Topic::Chamber { (&self.chamber, WATER) } else { (&self.label, TEXT) }
    }

    /// Width of a fine line of the drawing, px.
    pub(crate) fn line_px(&self) -> f64 {
        1.12 * libm::pow(self.unit, 0.6)
    }

    /// Most labels in a picture: more would be hard to find one's way in. Fewer where letters are large
    /// for the picture.
    pub(crate) fn most_labels(&self, size: [usize; 2]) -> usize {
        const MOST: f64 = 16.0;
        let [width, height] = size.map(|n| n as f64 / self.unit);
        let count = MOST * libm::sqrt(width * height / 1.6e6);
        (0..16).take_while(|&i| f64::from(i) < count).count()
    }

    /// What the labels leave for the drawing. Room for columns beside it is kept where rows above and
    /// below might not do: in perspective, which leaves corners free, and with many labels.
    pub(crate) fn drawing_room(&self, labels: &[Label], lens: Lens, size: [usize; 2]) -> Frame {
        // Texts in the two rows, with what is between them, may take this share of both.
        const MOST_IN_ROWS: f64 = 0.8;
        let paper = self.paper(size);
        let widths = labels.iter().map(|l| self.of(l.topic).0.width(&l.text));
        let widest = widths.clone().fold(0.0, f64::max);
        let in_rows: f64 = widths.map(|w| w + self.line).sum();
        let fits_in_rows = in_rows < 2.0 * MOST_IN_ROWS * paper.size().x;
        let column = if lens == Lens::Parallel && fits_in_rows {
            20.0 * self.unit
        } else {
            (widest + self.gap + 22.0 * self.unit).min(0.25 * paper.size().x)
        };
        let row = self.line + self.gap + 8.0 * self.unit;
        Frame { min: paper.min + DVec2::new(column, row), max: paper.max - DVec2::new(column, row) }
    }

    /// Everything inside the margins and above the caption.
    fn paper(&self, size: [usize; 2]) -> Frame {
        let [width, height] = size.map(|n| n as f64);
        let margin = 18.0 * self.unit;
        Frame {
            min: DVec2::splat(margin),
            max: DVec2::new(width - margin, height - margin - 38.0 * self.unit),
        }
    }
}

/// What is written on a picture besides the labels.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Notes<'a> {
    /// Which view it is; without, there is no title below the drawing.
    pub(crate) view: Option<&'a str>,
    /// Where the names of chambers may stand.
    pub(crate) names: names::Place,
    /// Whether water levels are dimensioned.
    pub(crate) has_levels: bool,
}

pub(crate) use names::Place as NamePlace;

/// Writes on a picture of `scene`. The earlier labels matter more.
pub(crate) fn annotate(
    image: &Image,
    scene: &Scene,
    labels: &[Label],
    camera: &Camera,
    style: &Style,
    notes: Notes<'_>,
) -> Image {
    let Some(mut canvas) = Canvas::over(image) else { return image.clone() };
    let drawing = drawing_frame(scene, camera);
    let mut obstacles = Obstacles { texts: Vec::new(), things: things(scene, camera, drawing) };
    let marks = if notes.has_levels {
        levels::plan(scene, camera, style, &mut obstacles)
    } else {
        Vec::new()
    };
    let seen = Seen::new(scene, camera);
    let surroundings =
        names::Surroundings { scene, camera, seen: &seen, style, place: notes.names };
    let (mut names, mut outside) = (Vec::new(), Vec::new());
    for label in labels {
        let level = scene.levels.iter().find(|l| l.chamber == label.text);
        let level = level.filter(|_| label.topic == Topic::Chamber);
        let is_marked = marks.iter().any(|m| m.chamber == label.text);
        let text = match level {
            Some(level) if notes.has_levels && !is_marked => {
                format!("{}, {}", label.text, levels::height(level, scene))
            }
            _ => label.text.clone(),
        };
        match level.and_then(|l| surroundings.place(&text, l, &mut obstacles)) {
            Some(name) => names.push(name),
            None => {
                let anchor = seen.anchor(label, scene, &obstacles.things);
                outside.extend(anchor.map(|anchor| Outside { text, anchor, topic: label.topic }));
            }
        }
    }
    let callouts = place_callouts(&outside, drawing, camera, style, image.size, &obstacles.texts);
    for callout in &callouts {
        draw_leader(&mut canvas, callout, style);
    }
    for mark in &marks {
        levels::draw(&mut canvas, mark, style);
    }
    for name in &names {
        names::draw(&mut canvas, name, style);
    }
    for callout in &callouts {
        draw_label(&mut canvas, &outside[callout.label], callout, style);
    }
    if let Some(view) = notes.view {
        caption::draw(&mut canvas, scene, camera, style, view, image.size);
    }
    canvas.into_image()
}

/// A label that goes outside the drawing.
struct Outside {
    text: String,
    anchor: DVec3,
    topic: Topic,
}

impl Outside {
    /// Sheet and pipes are named at their upper ends.
    fn is_upper(&self) -> bool {
        use Topic::{Door, Insert, Leaf, Lid, Rim, SockHolder};
        matches!(self.topic, Leaf | Door | SockHolder | Lid | Rim | Insert)
    }
}

/// The part of the picture that the drawing takes.
fn drawing_frame(scene: &Scene, camera: &Camera) -> Frame {
    let points = scene.points().into_iter().map(|p| camera.project(p));
    Frame::around(points).unwrap_or(Frame { min: DVec2::ZERO, max: DVec2::ZERO })
}

/// The parts of the picture that opaque things inside the sump take.
fn things(scene: &Scene, camera: &Camera, drawing: Frame) -> Vec<Frame> {
    // What takes more than this share of the drawing is no thing inside, but a wall of it.
    const MOST_SHARE: f64 = 0.3;
    let area = |frame: &Frame| frame.size().element_product();
    let frame = |body: &Body| {
        let corners = body.triangles.iter().flat_map(|t| t.corners);
        Frame::around(corners.map(|p| camera.project(p)))
    };
    let opaque = scene.bodies.iter().filter(|b| !b.look.is_clear).filter_map(frame);
    opaque.filter(|f| area(f) < MOST_SHARE * area(&drawing)).collect()
}

fn place_callouts(
    labels: &[Outside],
    drawing: Frame,
    camera: &Camera,
    style: &Style,
    size: [usize; 2],
    blocked: &[Frame],
) -> Vec<callouts::Callout> {
    let wanted: Vec<callouts::Wanted> = labels
        .iter()
        .map(|label| callouts::Wanted {
            anchor: camera.project(label.anchor),
            width: style.of(label.topic).0.width(&label.text),
            is_upper: label.is_upper(),
        })
        .collect();
    let layout = callouts::Layout {
        drawing: drawing.grown(8.0 * style.unit),
        paper: style.paper(size),
        line: style.line,
        gap: style.gap,
    };
    callouts::arrange(&wanted, &layout, blocked)
}

fn draw_leader(canvas: &mut Canvas, callout: &callouts::Callout, style: &Style) {
    let u = style.unit;
    let line = [callout.anchor, callout.port];
    canvas.line(&line, 4.2 * u, Ink(HALO.0, 0.6));
    canvas.disc(callout.anchor, 5.0 * u, Ink(HALO.0, 0.8));
    canvas.line(&line, 1.25 * u, LEADER);
    canvas.disc(callout.anchor, 3.1 * u, LEADER);
}

fn draw_label(canvas: &mut Canvas, label: &Outside, callout: &callouts::Callout, style: &Style) {
    let middle = 0.5 * (callout.text.min.y + callout.text.max.y);
    let (lettering, ink) = style.of(label.topic);
    let start = DVec2::new(callout.text.min.x, middle + 0.5 * lettering.cap_height);
    canvas.text(lettering, &label.text, start, ink, Some((3.0 * style.unit, HALO)));
}
