//! The drawing above; below it the title, where the chamber is, what is told, and what was found.

use findings::{Grade, capital};
use glam::{DVec2, dvec2};

use super::spread::spread;
use super::{Stop, chamber_of, plan};
use crate::annotate::canvas::{Canvas, Ink};
use crate::annotate::caption::{shortened, wrapped};
use crate::annotate::font::{Lettering, Weight};
use crate::image::{Image, whole_px};
use crate::scene::Scene;

const PAPER: u8 = 252;
const TEXT: Ink = Ink([38, 50, 58], 1.0);
const FAINT: Ink = Ink([104, 118, 126], 1.0);
const RULE: Ink = Ink([206, 214, 218], 1.0);
const BLUE: Ink = Ink([14, 86, 140], 1.0);

/// Sizes are for a sheet so wide, px.
const WIDTH: f64 = 1400.0;
const MARGIN: f64 = 40.0;
const GAP: f64 = 44.0;
/// Width of the plan.
const PLAN: f64 = 250.0;
/// Width of what is told: lines of about seventy letters read well (common practice).
const TOLD: f64 = 640.0;
const LINE: f64 = 29.0;
/// Between paragraphs.
const REST: f64 = 11.0;
/// So many findings stand beside what is told; more of them stand below it, in columns over the whole width.
const BESIDE: usize = 3;
/// Columns of findings below.
const BELOW: usize = 3;
/// From what is told to the findings below it.
const APART: f64 = 60.0;
/// From the drawing to the base line of the title, and on to the first line of the columns.
const TITLE: f64 = 48.0;
const COLUMNS: f64 = 46.0;

/// One line of a column, and the room before it.
#[derive(Debug)]
pub(super) struct Line {
    words: String,
    pub(super) before: f64,
    ink: Ink,
    is_bold: bool,
}

/// All words in their lines.
#[derive(Debug)]
pub(super) struct Sheet<'a> {
    stops: &'a [Stop<'a>],
    which: usize,
    size: [usize; 2],
    unit: f64,
    plain: Lettering,
    bold: Lettering,
    note: Lettering,
    told: Vec<Line>,
    /// Beside what is told.
    found: Vec<Line>,
    /// Columns below it.
    below: Vec<Vec<Line>>,
    left_out: Vec<Line>,
    plan_height: f64,
}

impl<'a> Sheet<'a> {
    /// `size` is that of the drawing, px.
    pub(super) fn of(
        scene: &Scene,
        stops: &'a [Stop<'a>],
        which: usize,
        left_out: &str,
        size: [usize; 2],
    ) -> Self {
        let unit = size[0] as f64 / WIDTH;
        let plain = Lettering::new(Weight::Regular, 19.5 * unit);
        let bold = Lettering::new(Weight::Bold, 19.5 * unit);
        let note = Lettering::new(Weight::Regular, 16.0 * unit);
        let stop = &stops[which];
        let column = |lettering: &Lettering, words: &str, width: f64, ink: Ink| -> Vec<Line> {
            let lines = wrapped(lettering, words, width * unit).into_iter().enumerate();
            let line = |(k, words)| Line {
                words,
                before: if k == 0 { REST * unit } else { 0.0 },
                ink,
                is_bold: false,
            };
            lines.map(line).collect()
        };
        let told = stop.text.iter().flat_map(|words| column(&plain, words, TOLD, TEXT)).collect();
        let beside = WIDTH - 2.0 * MARGIN - PLAN - TOLD - 2.0 * GAP;
        let finding = |(grade, words): &(Grade, String), room: f64| -> Vec<Line> {
            let (head, ink) = head(*grade);
            let head = head.to_owned();
            let mut all = vec![Line { words: head, before: REST * unit, ink, is_bold: true }];
            let mut lines = column(&plain, words, room, TEXT);
            if let Some(first) = lines.first_mut() {
                first.before = 0.0;
            }
            all.extend(lines);
            all
        };
        let (found, below) = match stop.findings.len() {
            0 => {
                let is_whole = chamber_of(scene, stop).is_none();
                let words = if is_whole { NOTHING_MORE } else { NOTHING };
                (column(&plain, words, beside, FAINT), Vec::new())
            }
            1..=BESIDE => {
                (stop.findings.iter().flat_map(|f| finding(f, beside)).collect(), Vec::new())
            }
            _ => {
                let all = stop.findings.iter().map(|f| finding(f, column_width())).collect();
                let counted = counted(&stop.findings);
                (column(&plain, &counted, beside, FAINT), spread(all, BELOW, LINE * unit))
            }
        };
        let words = format!("From above, the front below. {left_out}");
        let left_out = column(&note, words.trim_end(), PLAN, FAINT);
        let plan_height = plan::height(scene, PLAN * unit);
        Self {
            stops,
            which,
            size,
            unit,
            plain,
            bold,
            note,
            told,
            found,
            below,
            left_out,
            plan_height,
        }
    }

    /// Of all of it, px.
    pub(super) fn height(&self) -> usize {
        let u = self.unit;
        let below = self.below.iter().map(|lines| self.tall(lines, LINE)).fold(0.0, f64::max);
        let apart = if self.below.is_empty() { 0.0 } else { APART * u };
        let all = self.beside_height() + apart + below;
        self.size[1] + whole_px((TITLE + COLUMNS - 10.0) * u + all + 22.0 * u)
    }

    /// Of plan, what is told, and what stands beside it, px.
    fn beside_height(&self) -> f64 {
        let plan = self.plan_height + self.tall(&self.left_out, NOTE_LINE) + 16.0 * self.unit;
        self.tall(&self.told, LINE).max(self.tall(&self.found, LINE)).max(plan)
    }

    /// Of lines of a column, px.
    fn tall(&self, lines: &[Line], line: f64) -> f64 {
        let u = self.unit;
        lines.iter().map(|l| line * u + l.before).sum::<f64>() - REST * u
    }

    /// The sheet with its drawing.
    pub(super) fn over(&self, drawing: &Image, scene: &Scene) -> Image {
        let [width, top] = self.size;
        let height = self.height();
        let mut sheet = Image { size: [width, height], pixels: vec![PAPER; 3 * width * height] };
        sheet.put(drawing, [0, 0]);
        let Some(mut canvas) = Canvas::over(&sheet) else { return sheet };
        let u = self.unit;
        let (width, top, margin) = (width as f64, top as f64, MARGIN * u);
        canvas.line(&[dvec2(0.0, top), dvec2(width, top)], 1.5 * u, RULE);
        self.title(&mut canvas, scene, top + TITLE * u);
        let start = top + (TITLE + COLUMNS) * u;
        // The plan begins where the letters of the first lines do.
        let plan_top = start - self.plain.cap_height;
        let plan_at = dvec2(margin, plan_top);
        plan::draw(&mut canvas, scene, self.stops, self.which, plan_at, PLAN * u);
        let below = dvec2(margin, plan_top + self.plan_height + 26.0 * u);
        self.column(&mut canvas, &self.left_out, below, NOTE_LINE, &self.note);
        let left = margin + (PLAN + GAP) * u;
        self.column(&mut canvas, &self.told, dvec2(left, start), LINE, &self.plain);
        let left = left + (TOLD + GAP) * u;
        let rule = left - 0.5 * GAP * u;
        let bottom = if self.below.is_empty() {
            height as f64 - 24.0 * u
        } else {
            plan_top + self.beside_height()
        };
        canvas.line(&[dvec2(rule, plan_top), dvec2(rule, bottom)], 1.2 * u, RULE);
        self.column(&mut canvas, &self.found, dvec2(left, start), LINE, &self.plain);
        self.draw_below(&mut canvas, start + self.beside_height() + APART * u);
        canvas.into_image()
    }

    /// The findings below, from the base line of their first lines.
    fn draw_below(&self, canvas: &mut Canvas, base: f64) {
        let u = self.unit;
        if self.below.is_empty() {
            return;
        }
        let (width, margin) = (self.size[0] as f64, MARGIN * u);
        let rule = base - self.plain.cap_height - 22.0 * u;
        canvas.line(&[dvec2(margin, rule), dvec2(width - margin, rule)], 1.2 * u, RULE);
        let step = (column_width() + GAP) * u;
        let lefts = std::iter::successors(Some(margin), |left| Some(left + step));
        for (lines, left) in self.below.iter().zip(lefts) {
            self.column(canvas, lines, dvec2(left, base), LINE, &self.plain);
        }
    }

    /// `3  Skimmer` to the left, the sump's name and how many stops there are to the right.
    fn title(&self, canvas: &mut Canvas, scene: &Scene, base: f64) {
        let u = self.unit;
        let (width, margin) = (self.size[0] as f64, MARGIN * u);
        let large = Lettering::new(Weight::Bold, 29.0 * u);
        let number = format!("{}", self.which + 1);
        canvas.text(&large, &number, dvec2(margin, base), BLUE, None);
        let left = margin + large.width(&number) + 16.0 * u;
        let title = capital(self.stops[self.which].title);
        let title = shortened(&large, &title, 0.6 * width);
        canvas.text(&large, &title, dvec2(left, base), TEXT, None);
        let of = format!("stop {} of {}", self.which + 1, self.stops.len());
        let room = width - margin - left - large.width(&title) - 40.0 * u;
        let both = format!("{}, {of}", scene.title);
        let told = [both, of].into_iter().find(|words| self.note.width(words) <= room);
        if let Some(words) = told {
            let start = dvec2(width - margin - self.note.width(&words), base);
            canvas.text(&self.note, &words, start, FAINT, None);
        }
    }

    fn column(
        &self,
        canvas: &mut Canvas,
        lines: &[Line],
        at: DVec2,
        line: f64,
        lettering: &Lettering,
    ) {
        let mut base = at;
        for (k, told) in lines.iter().enumerate() {
            if k > 0 {
                base.y += line * self.unit + told.before;
            }
            let lettering = if told.is_bold { &self.bold } else { lettering };
            canvas.text(lettering, &told.words, base, told.ink, None);
        }
    }
}

/// Height of a line of notes.
const NOTE_LINE: f64 = 23.0;
/// Said of a chamber of which nothing was found.
const NOTHING: &str = "Nothing that is checked fails or is tight here.";
/// Said of the sump when nothing was found but about its chambers.
const NOTHING_MORE: &str =
    "What was found about a chamber is told at its stop; about the rest there is nothing.";

/// Width of a column of findings below, for a sheet of [`WIDTH`].
fn column_width() -> f64 {
    let columns = BELOW as f64;
    (WIDTH - 2.0 * MARGIN - (columns - 1.0) * GAP) / columns
}

/// `6 tight, 7 not checked or not sure: told below, the worst first.`
fn counted(findings: &[(Grade, String)]) -> String {
    let grades = [
        (Grade::Fails, "fail"),
        (Grade::Tight, "tight"),
        (Grade::NotChecked, "not checked, or not sure"),
        (Grade::Holds, "hold"),
    ];
    let count = |grade: Grade| findings.iter().filter(|(g, _)| *g == grade).count();
    let told = grades.into_iter().filter(|(grade, _)| count(*grade) > 0);
    let told: Vec<String> = told.map(|(grade, word)| format!("{} {word}", count(grade))).collect();
    format!("Found here: {}; told below, the worst first.", told.join("; "))
}

/// What stands over a finding, in its colour; it reads without colour too.
fn head(grade: Grade) -> (&'static str, Ink) {
    match grade {
        Grade::Fails => ("Fails", Ink([176, 32, 32], 1.0)),
        Grade::Tight => ("Tight", Ink([186, 88, 4], 1.0)),
        Grade::NotChecked => ("Not checked, or not sure", Ink([92, 84, 132], 1.0)),
        Grade::Holds => ("Holds", Ink([28, 116, 62], 1.0)),
    }
}
