//! Flat panels as SVG 1.1, in millimetres.
//!
//! Width and height are in mm and so is the view box: one unit of the drawing is one millimetre.
//! Source: W3C, *Scalable Vector Graphics (SVG) 1.1 (Second Edition)*, §7.10 (units), §8.3.8 and
//! appendix F.6 (arcs). Read back by `svgpathtools` and `svgelements` in
//! `tests/outside/svg_judge.py`.

mod look;

use std::f64::consts::{FRAC_PI_2, TAU};
use std::fmt::Write;

use glam::{DVec2, dvec2};
use plate::{Contour, Segment};

use crate::decimal::coordinate;
use crate::layers::{Layer, Shape, bounds, layers};
use crate::nested::NestedSheet;
use crate::note;
use crate::panel::Panel;
use crate::xml::escape;

/// White space around everything, mm.
const MARGIN_MM: f64 = 5.0;
/// Width of lines, mm: thin enough to show what is cut where, thick enough to see.
const LINE_MM: f64 = 0.2;
/// Of a whole sheet they are this share of its size, or they could not be seen on a screen.
const LINE_SHARE: f64 = 1.0 / 2500.0;

/// The panel at true scale, `y` upwards as on the sheet, as the text of one SVG file.
///
/// One group for each operation; its title is the name of the DXF layer, its id the same name with
/// dashes. The group `note-not-cut` carries number, name and notes. Each operation has its colour and its kind of line.
pub fn write(panel: &Panel) -> String {
    let title = format!("{} {}", panel.number, panel.name);
    file(&layers(panel), &title, &note::about(panel).join(" "))
}

/// A whole sheet with everything that is cut from it, as [`write()`] a panel and in the order in which it is cut.
pub fn write_sheet(sheet: &NestedSheet<'_>) -> String {
    file(&sheet.layers(), sheet.heading, &sheet.about.join(" "))
}

fn file(layers: &[Layer], title: &str, about: &str) -> String {
    let [lo, hi] = bounds(layers);
    let size = hi - lo + DVec2::splat(2.0 * MARGIN_MM);
    // SVG counts y downwards from the upper left corner.
    let place = |p: DVec2| dvec2(p.x - lo.x + MARGIN_MM, hi.y - p.y + MARGIN_MM);
    let (width, height) = (coordinate(size.x), coordinate(size.y));
    let (title, about) = (escape(title), escape(about));

    let line_mm = (LINE_SHARE * size.max_element()).max(LINE_MM);
    let group = |(k, layer): (usize, &Layer)| {
        // A layer that is come back to has a group for each time.
        let nth = layers[..k].iter().filter(|earlier| earlier.name == layer.name).count();
        let nth = if nth == 0 { String::new() } else { format!("-{}", nth + 1) };
        group(layer, &nth, line_mm, &place)
    };
    let groups: String = layers.iter().enumerate().map(group).collect();
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" \
         width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\n\
         <title>{title}</title>\n\
         <desc>{about}</desc>\n\
         {groups}</svg>\n"
    )
}

fn group(layer: &Layer, nth: &str, line_mm: f64, place: &impl Fn(DVec2) -> DVec2) -> String {
    let look = look::of(&layer.name);
    let attributes = look.attributes(line_mm);
    let short = |length_mm: f64| look.on_short(length_mm, line_mm);
    let id = layer.name.replace(' ', "-") + nth;
    let shapes: String = layer.shapes.iter().map(|shape| element(shape, place, &short)).collect();
    format!(
        "<g id=\"{id}\" fill=\"none\" {attributes}>\n\
         <title>{}</title>\n{shapes}</g>\n",
        layer.name
    )
}

fn element(
    shape: &Shape,
    place: &impl Fn(DVec2) -> DVec2,
    short: &impl Fn(f64) -> String,
) -> String {
    match shape {
        Shape::Circle { centre, radius } => {
            let c = place(*centre);
            let [x, y, r] = [c.x, c.y, *radius].map(coordinate);
            let short = short(TAU * radius);
            format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"{short}/>\n")
        }
        Shape::Closed(contour) => format!("<path d=\"{}\"/>\n", closed_path(contour, place)),
        Shape::Run(pieces) => format!("<path d=\"{}\"/>\n", run(pieces, place)),
        Shape::Open(stroke) => {
            let points: Vec<String> = stroke.iter().map(|&p| pair(place(p))).collect();
            format!("<path d=\"M {}\"/>\n", points.join(" L "))
        }
    }
}

fn closed_path(contour: &Contour, place: &impl Fn(DVec2) -> DVec2) -> String {
    run(&contour.0, place) + " Z"
}

fn run(pieces: &[Segment], place: &impl Fn(DVec2) -> DVec2) -> String {
    let mut path = String::new();
    if let Some(first) = pieces.first() {
        path = format!("M {}", pair(place(first.start)));
    }
    for piece in pieces.iter().flat_map(quarters) {
        let end = pair(place(piece.end));
        match (piece.arc, piece.radius()) {
            (Some(arc), Some(radius)) => {
                // Counter-clockwise on the sheet is against SVG's positive angles.
                let sweep = u8::from(arc.sweep < 0.0);
                let r = coordinate(radius);
                write!(path, " A {r} {r} 0 0 {sweep} {end}")
            }
            _ => write!(path, " L {end}"),
        }
        .expect("writing to a String does not fail");
    }
    path
}

/// An arc in equal parts of a quarter turn at most.
///
/// SVG gives the ends and the radius, and the reader finds the centre: over a half circle a
/// rounding of the radius by 1e-7 mm would move the centre by a micrometre.
fn quarters(segment: &Segment) -> Vec<Segment> {
    let Some(arc) = segment.arc else { return vec![*segment] };
    let mut parts = 1;
    while arc.sweep.abs() > 1.001 * FRAC_PI_2 * f64::from(parts) {
        parts += 1;
    }
    let point = |i: u32| match i {
        0 => segment.start,
        i if i == parts => segment.end,
        i => segment.point_at(f64::from(i) / f64::from(parts)),
    };
    let arc = Some(plate::Arc { sweep: arc.sweep / f64::from(parts), ..arc });
    (0..parts).map(|i| Segment { start: point(i), end: point(i + 1), arc }).collect()
}

fn pair(p: DVec2) -> String {
    format!("{} {}", coordinate(p.x), coordinate(p.y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layers::tests::{panel, pattern};

    #[test]
    fn the_drawing_has_the_size_it_says_and_the_circle_its_place() {
        let pattern = pattern();
        let text = write(&panel(&pattern));
        // 300 mm of panel and two margins; the hole is 40 mm from the upper edge of the panel.
        assert!(text.contains("width=\"310mm\""));
        assert!(text.contains("viewBox=\"0 0 310 "));
        assert!(text.contains("<circle cx=\"45\" cy=\"45\" r=\"11\"/>"), "{text}");
    }

    #[test]
    fn half_circles_are_written_in_quarters() {
        let slot = Contour::slot(dvec2(0.0, 0.0), dvec2(30.0, 0.0), 5.0);
        let path = closed_path(&slot, &|p| dvec2(p.x, -p.y));
        let expected = "M 0 5 L 30 5 A 5 5 0 0 0 35 0 A 5 5 0 0 0 30 -5 \
                        L 0 -5 A 5 5 0 0 0 -5 0 A 5 5 0 0 0 0 5 Z";
        assert_eq!(path, expected);
    }

    #[test]
    fn names_cannot_break_the_file() {
        let pattern = pattern();
        let text = write(&Panel { name: "</title><script>", ..panel(&pattern) });
        assert!(text.contains("&lt;/title&gt;&lt;script&gt;"));
    }
}
