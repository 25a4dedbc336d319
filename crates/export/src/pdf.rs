//! Documents as PDF.
//!
//! Words stay words and are tagged as what they are, for readers that read aloud (see `tags`), with the font's used letters embedded; lines have their width in mm; what is round is drawn by
//! cubic curves (see `curves`); nothing in the file comes from a clock, so the same document gives the same bytes.
//! Source: ISO 32000-2 (PDF 2.0), of which the library `krilla` writes what PDF 1.7 has. Read back by
//! `tests/outside/pdf_judge.py` with a reader that shares no code with it.

mod bookmarks;
mod curves;
mod tags;

use glam::DVec2;
use krilla::Document as File;
use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Size, Transform};
use krilla::image::Image;
use krilla::metadata::{DateTime, Metadata};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use paper::{Colour, Document, Lettering, Mark, Outline, Piece};

pub(crate) use curves::{Curve, curves};

/// Points of a PDF per millimetre: 72 in an inch.
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// Why a document was not written.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PdfError {
    /// A page has no size, or one that no paper has.
    #[error("page {number} is {width_mm} mm × {height_mm} mm: no paper has this size")]
    Page {
        /// Which page, from 1.
        number: usize,
        /// Its width.
        width_mm: f64,
        /// Its height.
        height_mm: f64,
    },
    /// A picture is no PNG that can be read.
    #[error("the picture \"{alt}\" could not be read: {reason}")]
    Picture {
        /// What it shows.
        alt: String,
        /// What its reader says.
        reason: String,
    },
    /// The font could not be read.
    #[error("the font of the documents could not be read")]
    Font,
    /// The writer refused.
    #[error("the document \"{title}\" could not be written: {reason}")]
    Writer {
        /// Which document.
        title: String,
        /// What the library says.
        reason: String,
    },
}

/// The bytes of a PDF.
///
/// # Errors
/// A page without a size, or a picture that is no PNG.
pub fn write(document: &Document) -> Result<Vec<u8>, PdfError> {
    let fonts = Fonts::read()?;
    let mut file = File::new();
    file.set_metadata(metadata(document));
    let mut tags = tags::Tags::default();
    for (i, page) in document.pages.iter().enumerate() {
        let size = page.figure.size;
        let [width, height] = [points(size.x), points(size.y)];
        let settings = PageSettings::from_wh(width, height).filter(|_| size.max_element() < 5000.0);
        let wrong = PdfError::Page { number: i + 1, width_mm: size.x, height_mm: size.y };
        let mut sheet = file.start_page_with(settings.ok_or(wrong)?);
        let mut surface = sheet.surface();
        for run in tags::runs(page) {
            let begun = surface.start_tagged(run.content());
            let mut marks = page.figure.marks[run.marks.clone()].iter();
            let drawn = marks.try_for_each(|mark| draw(mark, &mut surface, &fonts));
            surface.end_tagged();
            drawn?;
            tags.add(run, begun);
        }
        surface.finish();
        sheet.finish();
    }
    if let Some(outline) = bookmarks::outline(&document.pages) {
        file.set_outline(outline);
    }
    file.set_tag_tree(tags.tree(document.language));
    let refused = |reason: String| PdfError::Writer { title: document.title.clone(), reason };
    file.finish().map_err(|error| refused(error.to_string()))
}

/// Letters of a document that its font has not: they are drawn as boxes. Each once, in order.
pub fn missing_letters(document: &Document) -> Vec<char> {
    let mut missing = Vec::new();
    for mark in document.pages.iter().flat_map(|page| &page.figure.marks) {
        if let Mark::Words { text, .. } = mark {
            let new: Vec<char> =
                paper::font::missing(text).filter(|letter| !missing.contains(letter)).collect();
            missing.extend(new);
        }
    }
    missing.dedup();
    missing
}

fn metadata(document: &Document) -> Metadata {
    let mut metadata = Metadata::new()
        .title(document.title.clone())
        .creator("sumpwright".to_owned())
        .language(document.language.to_owned());
    if !document.author.is_empty() {
        metadata = metadata.authors(vec![document.author.clone()]);
    }
    match document.date.as_deref().and_then(day) {
        Some(date) => metadata.creation_date(date),
        None => metadata,
    }
}

/// `2026-11-26` as a date; `None` if it is none.
fn day(text: &str) -> Option<DateTime> {
    let mut parts = text.split('-');
    let year: u16 = parts.next()?.parse().ok()?;
    let month: u8 = parts.next()?.parse().ok().filter(|month| (1..=12).contains(month))?;
    let day: u8 = parts.next()?.parse().ok().filter(|day| (1..=31).contains(day))?;
    parts.next().is_none().then(|| DateTime::new(year).month(month).day(day))
}

struct Fonts {
    regular: Font,
    bold: Font,
}

impl Fonts {
    fn read() -> Result<Self, PdfError> {
        let read = |is_bold| Font::new(paper::font::file(is_bold).into(), 0).ok_or(PdfError::Font);
        Ok(Self { regular: read(false)?, bold: read(true)? })
    }

    fn of(&self, lettering: Lettering) -> Font {
        if lettering.is_bold { self.bold.clone() } else { self.regular.clone() }
    }
}

fn draw(mark: &Mark, surface: &mut Surface<'_>, fonts: &Fonts) -> Result<(), PdfError> {
    match mark {
        Mark::Outline(outline) => draw_outline(outline, surface),
        Mark::Words { at, text, lettering, anchor, turned_deg } => {
            let start = -lettering.width_mm(text) * anchor.share();
            let (sin, cos) = turned_deg.to_radians().sin_cos();
            // Paper counts y downwards: counter-clockwise as seen is a negative angle.
            let row = [cos, -sin, sin, cos].map(small);
            surface.push_transform(&Transform::from_row(
                row[0],
                row[1],
                row[2],
                row[3],
                points(at.x),
                points(at.y),
            ));
            surface.set_stroke(None);
            surface.set_fill(Some(fill(lettering.colour)));
            let glyphs: Vec<KrillaGlyph> = paper::font::glyphs(text, lettering.is_bold)
                .into_iter()
                .map(|g| {
                    let id = GlyphId::new(u32::from(g.id));
                    KrillaGlyph::new(id, small(g.advance_em), 0.0, 0.0, 0.0, g.start..g.end, None)
                })
                .collect();
            let origin = Point::from_xy(points(start), 0.0);
            surface.draw_glyphs(
                origin,
                &glyphs,
                fonts.of(*lettering),
                text,
                points(lettering.em_mm()),
                false,
            );
            surface.pop();
        }
        Mark::Picture { at, size, png, alt } => {
            let wrong = |reason: String| PdfError::Picture { alt: alt.clone(), reason };
            let image = Image::from_png(png.to_vec().into(), true).map_err(wrong)?;
            let no_size =
                || wrong(format!("it is to be drawn {} mm × {} mm large", size.x, size.y));
            let size = Size::from_wh(points(size.x), points(size.y)).ok_or_else(no_size)?;
            surface.push_transform(&Transform::from_translate(points(at.x), points(at.y)));
            surface.draw_image(image, size);
            surface.pop();
        }
    }
    Ok(())
}

fn draw_outline(outline: &Outline, surface: &mut Surface<'_>) {
    let Some(path) = path(outline) else { return };
    surface.set_fill(outline.fill.map(fill));
    surface.set_stroke(outline.stroke.as_ref().map(|stroke| {
        let dashes = || StrokeDash {
            array: stroke.dashes.iter().map(|&dash| points(dash)).collect(),
            offset: 0.0,
        };
        Stroke {
            paint: colour(stroke.colour).into(),
            width: points(stroke.width),
            line_cap: if stroke.dashes.is_empty() { LineCap::Round } else { LineCap::Butt },
            line_join: LineJoin::Round,
            dash: (!stroke.dashes.is_empty()).then(dashes),
            ..Stroke::default()
        }
    }));
    if outline.fill.is_some() || outline.stroke.is_some() {
        surface.draw_path(&path);
    }
}

fn path(outline: &Outline) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for pieces in &outline.loops {
        let Some(first) = pieces.first() else { continue };
        let start = first.start();
        builder.move_to(points(start.x), points(start.y));
        for piece in pieces {
            match piece {
                Piece::Line { to, .. } => builder.line_to(points(to.x), points(to.y)),
                Piece::Arc { centre, from, sweep } => {
                    for Curve { controls: [a, b], end } in curves(*centre, *from, *sweep) {
                        let [a, b, end] = [a, b, end].map(|p: DVec2| (points(p.x), points(p.y)));
                        builder.cubic_to(a.0, a.1, b.0, b.1, end.0, end.1);
                    }
                }
            }
        }
        if outline.is_closed {
            builder.close();
        }
    }
    builder.finish()
}

fn fill(of: Colour) -> Fill {
    Fill { paint: colour(of).into(), rule: FillRule::EvenOdd, ..Fill::default() }
}

fn colour([r, g, b]: Colour) -> rgb::Color {
    rgb::Color::new(r, g, b)
}

/// Millimetres as points. A number of single precision is off by less than 0.00004 mm on paper of a metre.
fn points(mm: f64) -> f32 {
    small(mm * POINTS_PER_MM)
}

#[expect(clippy::cast_possible_truncation, reason = "PDF numbers are of single precision")]
fn small(value: f64) -> f32 {
    value as f32
}

#[cfg(test)]
mod tests {
    use glam::dvec2;
    use paper::{Anchor, Figure, Page, style};

    use super::*;

    fn document() -> Document {
        let mut figure = Figure::new(dvec2(420.0, 297.0));
        let line = || paper::Stroke::whole(0.5, style::INK);
        figure.circle(dvec2(100.0, 100.0), 50.0, Some(line()), None);
        figure.words(dvec2(20.0, 20.0), "⌀ 50 ± 0.2", style::TEXT, Anchor::Start);
        figure.words_upwards(dvec2(20.0, 200.0), "up", style::TEXT, Anchor::Middle);
        let bookmarks =
            vec![(2, "early".to_owned()), (1, "one".to_owned()), (3, "deep".to_owned())];
        let page = Page { figure, bookmarks, parts: Vec::new() };
        let date = Some("2026-11-26".to_owned());
        Document {
            title: "Test".into(),
            author: "me".into(),
            date,
            language: "en",
            pages: vec![page.clone(), page],
        }
    }

    #[test]
    fn the_same_document_is_the_same_bytes_and_says_what_it_is() {
        let bytes = write(&document()).expect("written");
        assert_eq!(bytes, write(&document()).expect("written"));
        let text = String::from_utf8_lossy(&bytes);
        assert!(text.starts_with("%PDF-1.7"));
        assert!(text.contains("2026-11-26") || text.contains("D:20261126"), "{text}");
        // An A3 sheet lying: 420 mm and 297 mm in points.
        assert!(text.contains("[0 0 1190.5511 841.88"), "{text}");
        let undated = write(&Document { date: None, ..document() }).expect("written");
        assert!(!String::from_utf8_lossy(&undated).contains("CreationDate"));
    }

    #[test]
    fn what_is_read_aloud_is_tagged_and_the_rest_is_decoration() {
        use paper::{Align, Block, Column, Form, PaperForm, Table};
        let column = |head: &str| Column { head: head.into(), align: Align::Left, may_wrap: true };
        let table = Table {
            columns: vec![column("what"), column("price")],
            rows: vec![vec!["sheet".into(), "118".into()], vec!["film".into(), String::new()]],
            has_sum: false,
        };
        let blocks = [
            Block::Heading(1, "Costs".into()),
            Block::Words("A range.".into()),
            Block::Table(table),
            Block::Numbered(1, vec!["first".into(), "second".into()]),
        ];
        let mut pages = paper::flow(&blocks, &Form::text(PaperForm::A, "head", "foot"));
        pages.extend(document().pages);
        let bytes = write(&Document { pages, ..document() }).expect("written");
        let text = String::from_utf8_lossy(&bytes);
        let count = |what: &str| text.matches(&format!("/StructElem/S/{what}/")).count();
        assert_eq!([count("H1"), count("P"), count("Table"), count("TR")], [1, 1, 1, 3]);
        assert_eq!([count("TH"), count("TD"), count("LI"), count("Lbl")], [2, 4, 2, 2]);
        // Each drawing is one figure with what is written on it.
        assert_eq!(count("Figure"), 2);
        assert!(text.contains("/Lang(en)") && text.contains("/Marked true"), "{text}");
    }

    #[test]
    fn a_page_without_size_and_a_picture_that_is_none_are_refused() {
        let mut none = document();
        none.pages[1].figure.size = DVec2::ZERO;
        assert!(matches!(write(&none), Err(PdfError::Page { number: 2, .. })));
        let mut broken = document();
        let (at, size) = (DVec2::ZERO, DVec2::ONE);
        broken.pages[0].figure.marks.push(Mark::Picture {
            at,
            size,
            png: [1, 2, 3].into(),
            alt: "step 1".into(),
        });
        let error = write(&broken).expect_err("no PNG").to_string();
        assert!(error.contains("step 1"), "{error}");
    }

    #[test]
    fn letters_that_the_font_has_not_are_named() {
        let mut document = document();
        document.pages[0].figure.words(dvec2(20.0, 50.0), "水 tank 水", style::TEXT, Anchor::Start);
        assert_eq!(missing_letters(&document), ['水']);
    }

    #[test]
    fn only_days_are_dates() {
        for wrong in ["", "2026-13-01", "2026-11", "today", "2026-11-26-1"] {
            assert!(day(wrong).is_none(), "{wrong}");
        }
    }
}
