//! Figures of papers as SVG 1.1: one unit of the drawing is one millimetre.
//!
//! Source: W3C, *Scalable Vector Graphics (SVG) 1.1 (Second Edition)*, §8.3.8 (arcs), §10 (text), §11.4 (dashes). Words
//! are set in the reader's own sans serif, held to the width that they have in the PDF.

use std::fmt::Write;

use glam::DVec2;
use paper::{Anchor, Colour, Figure, Mark, Outline, Piece};

use crate::decimal::decimal;
use crate::xml::escape;

/// The text of an SVG file.
pub fn write(figure: &Figure, title: &str) -> String {
    let [width, height] = figure.size.to_array().map(number);
    let marks: String = figure.marks.iter().map(element).collect();
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" version=\"1.1\" \
         width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" \
         font-family=\"DejaVu Sans, Verdana, sans-serif\" fill=\"none\" stroke-linejoin=\"round\">\n\
         <title>{}</title>\n<rect width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>\n{marks}</svg>\n",
        escape(title)
    )
}

fn element(mark: &Mark) -> String {
    match mark {
        Mark::Outline(outline) => of_outline(outline),
        Mark::Words { at, text, lettering, anchor, turned_deg } => {
            let [x, y] = at.to_array().map(number);
            let place = match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            let turn = match number(-turned_deg).as_str() {
                "0" => String::new(),
                angle => format!(" transform=\"rotate({angle} {x} {y})\""),
            };
            let weight = if lettering.is_bold { " font-weight=\"bold\"" } else { "" };
            format!(
                "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\" text-anchor=\"{place}\" textLength=\"{}\" \
                 lengthAdjust=\"spacingAndGlyphs\" fill=\"{}\"{weight}{turn}>{}</text>\n",
                number(lettering.em_mm()),
                number(lettering.width_mm(text)),
                colour(lettering.colour),
                escape(text)
            )
        }
        Mark::Picture { at, size, png, alt } => {
            let [x, y, w, h] = [at.x, at.y, size.x, size.y].map(number);
            format!(
                "<image x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" \
                 xlink:href=\"data:image/png;base64,{}\"><title>{}</title></image>\n",
                base64(png),
                escape(alt)
            )
        }
    }
}

fn of_outline(outline: &Outline) -> String {
    let mut path = String::new();
    for pieces in &outline.loops {
        let Some(first) = pieces.first() else { continue };
        push(&mut path, "M", first.start());
        for piece in pieces {
            match piece {
                Piece::Line { to, .. } => push(&mut path, " L", *to),
                Piece::Arc { centre, from, sweep } => push_arc(&mut path, *centre, *from, *sweep),
            }
        }
        path += if outline.is_closed { " Z " } else { " " };
    }
    let mut look = String::new();
    if let Some(fill) = outline.fill {
        look += &format!(" fill=\"{}\" fill-rule=\"evenodd\"", colour(fill));
    }
    if let Some(stroke) = &outline.stroke {
        look += &format!(
            " stroke=\"{}\" stroke-width=\"{}\"",
            colour(stroke.colour),
            number(stroke.width)
        );
        if !stroke.dashes.is_empty() {
            let dashes: Vec<String> = stroke.dashes.iter().map(|&dash| number(dash)).collect();
            look += &format!(" stroke-dasharray=\"{}\"", dashes.join(" "));
        }
    }
    format!("<path d=\"{}\"{look}/>\n", path.trim_end())
}

/// An arc in parts of less than a half turn: SVG finds the centre from the ends, which is ill defined near one.
fn push_arc(path: &mut String, centre: DVec2, from: DVec2, sweep: f64) {
    let mut parts = 1_u32;
    while sweep.abs() > 1.001 * std::f64::consts::FRAC_PI_2 * f64::from(parts) && parts < 64 {
        parts += 1;
    }
    let radius = number(from.distance(centre));
    // Paper counts angles from x towards y, as SVG does.
    let way = u8::from(sweep > 0.0);
    for i in 1..=parts {
        let end = centre
            + DVec2::from_angle(sweep * f64::from(i) / f64::from(parts)).rotate(from - centre);
        push(path, &format!(" A {radius} {radius} 0 0 {way}"), end);
    }
}

fn push(path: &mut String, command: &str, p: DVec2) {
    write!(path, "{command} {} {}", number(p.x), number(p.y))
        .expect("writing to a String does not fail");
}

/// Rounded to a ten-thousandth of a millimetre on paper.
fn number(value: f64) -> String {
    decimal(value, 4)
}

fn colour([r, g, b]: Colour) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// RFC 4648, §4.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let byte = |i: usize| u32::from(three.get(i).copied().unwrap_or(0));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for k in 0..4_usize {
            let index = usize::try_from(bits >> (18 - 6 * k) & 63).unwrap_or(0);
            text.push(if k <= three.len() { char::from(LETTERS[index]) } else { '=' });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use glam::dvec2;
    use paper::{Stroke, style};

    use super::*;

    /// RFC 4648, §10.
    #[test]
    fn base64_gives_the_examples_of_its_standard() {
        let pairs = [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("foobar", "Zm9vYmFy"),
        ];
        for (bytes, text) in pairs {
            assert_eq!(base64(bytes.as_bytes()), text);
        }
    }

    #[test]
    fn a_figure_is_xml_in_millimetres_and_names_cannot_break_it() {
        let mut figure = Figure::new(dvec2(100.0, 60.0));
        figure.circle(dvec2(50.0, 30.0), 10.0, Some(Stroke::whole(0.25, style::INK)), None);
        figure.words_upwards(dvec2(5.0, 30.0), "a < b & \"c\"", style::TEXT, Anchor::Middle);
        let text = write(&figure, "<sheet>");
        let xml = roxmltree::Document::parse(&text).expect("XML");
        assert_eq!(xml.root_element().attribute("width"), Some("100mm"));
        let words = xml.descendants().find(|node| node.has_tag_name("text")).expect("there");
        assert_eq!(words.text(), Some("a < b & \"c\""));
        assert_eq!(words.attribute("transform"), Some("rotate(-90 5 30)"));
        assert!(text.contains("M 60 30 A 10 10 0 0 1 50 40"), "{text}");
    }
}
