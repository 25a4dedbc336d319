//! A sheet of paper that is drawn on: SVG elements in millimetres, and where text already stands.

use std::fmt::Write;

use super::measure::{ASCENT, DESCENT, text_width};
use crate::decimal::decimal;
use crate::xml::escape;

/// Where a text's place lies in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// A text and how it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Text<'a> {
    pub(super) words: &'a str,
    /// Place on the base line.
    pub(super) at: [f64; 2],
    pub(super) size: f64,
    pub(super) anchor: Anchor,
    pub(super) colour: &'a str,
    pub(super) is_bold: bool,
    /// Reads upwards.
    pub(super) is_turned: bool,
    /// On a light patch, where lines would run through it.
    pub(super) has_patch: bool,
}

/// Colour of plain text.
pub(super) const BLACK: &str = "#1d2328";
/// Colour of what matters less.
pub(super) const GREY: &str = "#59636b";

impl<'a> Text<'a> {
    pub(super) fn new(words: &'a str, at: [f64; 2], size: f64) -> Self {
        Self {
            words,
            at,
            size,
            anchor: Anchor::Start,
            colour: BLACK,
            is_bold: false,
            is_turned: false,
            has_patch: false,
        }
    }

    pub(super) fn middle(self) -> Self {
        Self { anchor: Anchor::Middle, ..self }
    }

    pub(super) fn end(self) -> Self {
        Self { anchor: Anchor::End, ..self }
    }

    pub(super) fn bold(self) -> Self {
        Self { is_bold: true, ..self }
    }

    pub(super) fn colour(self, colour: &'a str) -> Self {
        Self { colour, ..self }
    }

    pub(super) fn turned(self) -> Self {
        Self { is_turned: true, ..self }
    }

    pub(super) fn on_patch(self) -> Self {
        Self { has_patch: true, ..self }
    }

    pub(super) fn width(&self) -> f64 {
        text_width(self.words, self.size, self.is_bold)
    }

    /// What it covers.
    pub(super) fn area(&self) -> Area {
        let (width, [x, y]) = (self.width(), self.at);
        let before = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => 0.5 * width,
            Anchor::End => width,
        };
        let (up, down) = (ASCENT * self.size, DESCENT * self.size);
        if self.is_turned {
            Area { min: [x - up, y + before - width], max: [x + down, y + before] }
        } else {
            Area { min: [x - before, y - up], max: [x - before + width, y + down] }
        }
    }
}

/// A rectangle on the paper, y downwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Area {
    pub(super) min: [f64; 2],
    pub(super) max: [f64; 2],
}

impl Area {
    /// The rectangle of two corners.
    pub(super) fn between(a: [f64; 2], b: [f64; 2]) -> Self {
        Self { min: [a[0].min(b[0]), a[1].min(b[1])], max: [a[0].max(b[0]), a[1].max(b[1])] }
    }

    /// With so much more on every side.
    pub(super) fn grown(self, by: f64) -> Self {
        Self { min: self.min.map(|v| v - by), max: self.max.map(|v| v + by) }
    }

    pub(super) fn overlaps(&self, other: &Self) -> bool {
        (0..2).all(|k| self.min[k] < other.max[k] && other.min[k] < self.max[k])
    }

    pub(super) fn is_within(&self, other: &Self) -> bool {
        (0..2).all(|k| other.min[k] <= self.min[k] && self.max[k] <= other.max[k])
    }
}

/// A drawing in progress.
#[derive(Debug, Default)]
pub(super) struct Paper {
    body: String,
    texts: Vec<Area>,
    /// Lines that text keeps off, and other places without text.
    kept: Vec<Area>,
}

/// Text keeps so far off a line's middle, mm.
const OFF_LINES: f64 = 0.25;

impl Paper {
    /// Opens a group of this id; to be closed.
    pub(super) fn open(&mut self, id: &str) {
        self.push(&format!("<g id=\"{}\">", escape(id)));
    }

    pub(super) fn close(&mut self) {
        self.push("</g>");
    }

    /// A rectangle between two corners. `style` is a list of SVG attributes.
    pub(super) fn rect(&mut self, a: [f64; 2], b: [f64; 2], style: &str) {
        let [x, y] = [a[0].min(b[0]), a[1].min(b[1])].map(number);
        let [w, h] = [(b[0] - a[0]).abs(), (b[1] - a[1]).abs()].map(number);
        self.push(&format!("<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" {style}/>"));
    }

    pub(super) fn line(&mut self, a: [f64; 2], b: [f64; 2], style: &str) {
        let [x1, y1, x2, y2] = [a[0], a[1], b[0], b[1]].map(number);
        self.push(&format!("<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\" {style}/>"));
    }

    pub(super) fn path(&mut self, points: &[[f64; 2]], is_closed: bool, style: &str) {
        let points: Vec<String> =
            points.iter().map(|[x, y]| format!("{} {}", number(*x), number(*y))).collect();
        let close = if is_closed { " Z" } else { "" };
        self.push(&format!("<path d=\"M {}{close}\" {style}/>", points.join(" L ")));
    }

    pub(super) fn circle(&mut self, centre: [f64; 2], radius: f64, style: &str) {
        let [x, y, r] = [centre[0], centre[1], radius].map(number);
        self.push(&format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" {style}/>"));
    }

    pub(super) fn text(&mut self, text: &Text<'_>) {
        let area = text.area();
        if text.has_patch {
            self.rect(area.min, area.max, "fill=\"#ffffff\" fill-opacity=\"0.85\"");
        }
        let [x, y] = text.at.map(number);
        let anchor = match text.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let weight = if text.is_bold { " font-weight=\"bold\"" } else { "" };
        let turn = if text.is_turned {
            format!(" transform=\"rotate(-90 {x} {y})\"")
        } else {
            String::new()
        };
        self.push(&format!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\" text-anchor=\"{anchor}\" fill=\"{}\"{weight}{turn}>{}</text>",
            number(text.size),
            text.colour,
            escape(text.words)
        ));
        self.texts.push(area);
    }

    /// Whether no text stands there yet, nor anything that was kept free.
    pub(super) fn is_free(&self, area: &Area) -> bool {
        self.has_no_text(area) && !self.kept.iter().any(|kept| kept.overlaps(area))
    }

    /// Whether no text stands there yet.
    pub(super) fn has_no_text(&self, area: &Area) -> bool {
        !self.texts.iter().any(|text| text.overlaps(area))
    }

    /// Keeps text away from there.
    pub(super) fn keep_free(&mut self, area: Area) {
        self.kept.push(area);
    }

    /// Keeps text off a line: short pieces of it, so that a slanted one does not keep its whole box.
    pub(super) fn keep_off(&mut self, a: [f64; 2], b: [f64; 2]) {
        let d = [b[0] - a[0], b[1] - a[1]];
        let is_level = d[0].abs() < OFF_LINES || d[1].abs() < OFF_LINES;
        let count = if is_level { 1.0 } else { d[0].hypot(d[1]).ceil().max(1.0) };
        let starts = std::iter::successors(Some(0.0), |k| Some(k + 1.0));
        for k in starts.take_while(|k| *k < count) {
            let at = |share: f64| [a[0] + share * d[0], a[1] + share * d[1]];
            self.kept.push(Area::between(at(k / count), at((k + 1.0) / count)).grown(OFF_LINES));
        }
    }

    /// A line with a filled head at `b`.
    pub(super) fn arrow(&mut self, a: [f64; 2], b: [f64; 2], colour: &str, width: f64) {
        let head = 4.5 * width;
        let d = [b[0] - a[0], b[1] - a[1]];
        let length = d[0].hypot(d[1]).max(1e-9);
        let u = [d[0] / length, d[1] / length];
        let foot = [b[0] - head * u[0], b[1] - head * u[1]];
        self.line(a, foot, &stroke(colour, width));
        let side = [-u[1] * 0.4 * head, u[0] * 0.4 * head];
        let corners =
            [b, [foot[0] + side[0], foot[1] + side[1]], [foot[0] - side[0], foot[1] - side[1]]];
        self.path(&corners, true, &format!("fill=\"{colour}\""));
    }

    /// The whole file, `size` in mm.
    pub(super) fn finish(self, size: [f64; 2], title: &str, about: &str) -> String {
        let [w, h] = size.map(number);
        let (title, about) = (escape(title), escape(about));
        format!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
             <svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{w}mm\" height=\"{h}mm\" \
             viewBox=\"0 0 {w} {h}\" font-family=\"DejaVu Sans, Arial, sans-serif\">\n\
             <title>{title}</title>\n<desc>{about}</desc>\n\
             <rect id=\"ground\" x=\"0\" y=\"0\" width=\"{w}\" height=\"{h}\" fill=\"#ffffff\"/>\n\
             {}</svg>\n",
            self.body
        )
    }

    fn push(&mut self, element: &str) {
        writeln!(self.body, "{element}").expect("writing to a String does not fail");
    }
}

/// Attributes of a line.
pub(super) fn stroke(colour: &str, width: f64) -> String {
    format!("fill=\"none\" stroke=\"{colour}\" stroke-width=\"{}\"", number(width))
}

/// Attributes of a dashed line.
pub(super) fn dashed(colour: &str, width: f64, dash: &str) -> String {
    format!("{} stroke-dasharray=\"{dash}\"", stroke(colour, width))
}

/// A micrometre of paper is finer than any printer.
fn number(mm: f64) -> String {
    decimal(mm, 3)
}
