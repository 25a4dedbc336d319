//! The sheet with the panels on it.

use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Lettering, Mark, Outline, Stroke, style};
use plate::Contour;
use shop::{Laid, LaidSheet};

use super::CuttingSheets;
use crate::drawing_sheet::{LETTERS, NAMES, narrow, wide};
use crate::lengths::Lengths;
use crate::outline::{loops, samples};
use crate::panel_drawing::dimensions::whole;
use crate::panel_drawing::place::Room;

/// Between the lines that hatch an offcut, mm on paper.
const HATCH_MM: f64 = 4.0;

/// Draws it with its lower left corner at `origin`.
pub(super) fn draw(
    figure: &mut Figure,
    of: &CuttingSheets<'_>,
    sheet: &LaidSheet,
    origin: DVec2,
    scale: f64,
    region: [DVec2; 2],
) {
    let place = |p: DVec2| origin + dvec2(p.x, -p.y) * scale;
    let upper_left = place(dvec2(0.0, sheet.size_mm.y));
    let lower_right = place(dvec2(sheet.size_mm.x, 0.0));
    let mut room = Room { within: region, ..Room::default() };
    figure.rectangle(upper_left, lower_right, Some(wide()), None);
    let margin = of.file.cutting.margin.to_mm() * scale;
    if margin > 0.0 {
        let dashed = Stroke { width: 0.18, colour: style::QUIET, dashes: vec![3.0, 1.5] };
        figure.rectangle(upper_left + margin, lower_right - margin, Some(dashed), None);
    }
    for offcut in &sheet.offcuts {
        let [lo, hi] = offcut.corners_mm.map(place);
        hatch(figure, dvec2(lo.x, hi.y), dvec2(hi.x, lo.y));
    }
    let mut named: Vec<(&Laid, [DVec2; 2])> = Vec::new();
    for laid in &sheet.laid {
        let Some(work) = of.work(laid.piece) else { continue };
        let moved: Vec<Contour> = work
            .pattern
            .through
            .iter()
            .map(|contour| contour.moved(|p| laid.point(p), false))
            .collect();
        let floors: Vec<Contour> =
            work.pattern.pockets.iter().flat_map(|pocket| &pocket.loops).cloned().collect();
        let floors: Vec<Contour> =
            floors.iter().map(|contour| contour.moved(|p| laid.point(p), false)).collect();
        let solid = Outline {
            loops: loops(&moved, &place),
            is_closed: true,
            stroke: None,
            fill: Some(style::TINT),
        };
        figure.marks.push(Mark::Outline(solid));
        let thin = Some(Stroke::whole(0.13, style::QUIET));
        figure.marks.push(Mark::Outline(Outline {
            loops: loops(&floors, &place),
            is_closed: true,
            stroke: thin,
            fill: None,
        }));
        let edge = Some(Stroke::whole(0.35, style::INK));
        figure.marks.push(Mark::Outline(Outline {
            loops: loops(&moved, &place),
            is_closed: true,
            stroke: edge,
            fill: None,
        }));
        room.points.extend(samples(moved.iter().chain(&floors), 1.2 / scale).map(place));
        let bounds = moved
            .iter()
            .filter_map(Contour::bounds)
            .reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]);
        if let Some([lo, hi]) = bounds {
            let (a, b) = (place(lo), place(hi));
            named.push((laid, [a.min(b), a.max(b)]));
        }
    }
    for (i, cut) in sheet.saw_cuts.iter().enumerate() {
        let [a, b] = cut.ends_mm.map(place);
        figure.line(a, b, Stroke::whole(0.3, style::ACCENT));
        room.points.extend((0..=60).map(|k| a.lerp(b, f64::from(k) / 60.0)));
        // A cut's number stands at its end, where the saw leaves.
        let at = a.lerp(b, 0.97);
        let lettering = NAMES.bold().in_colour(style::ACCENT);
        room.put_near(figure, [at - 0.3, at + 0.3], &format!("{}", i + 1), lettering);
    }
    // Small panels have the fewest places for their names.
    named.sort_by(|a, b| {
        (a.1[1] - a.1[0]).element_product().total_cmp(&(b.1[1] - b.1[0]).element_product())
    });
    for (laid, bounds) in named {
        name(figure, of, laid, bounds, &mut room);
    }
    for offcut in &sheet.offcuts {
        let [a, b] = offcut.corners_mm.map(place);
        inside(
            figure,
            &mut room,
            [a.min(b), a.max(b)],
            &offcut.name,
            LETTERS.in_colour(style::QUIET),
            false,
        );
    }
    figure.circle(place(DVec2::ZERO), 1.2, Some(narrow()), None);
    let lengths = Lengths(of.design.report);
    let (y, x) = (lower_right.y + 9.0, upper_left.x - 9.0);
    let across = [dvec2(upper_left.x, y), dvec2(lower_right.x, y)];
    whole(figure, &mut room, across, lower_right.y, &lengths.number(sheet.size_mm.x));
    let up = [dvec2(x, lower_right.y), dvec2(x, upper_left.y)];
    whole(figure, &mut room, up, upper_left.x, &lengths.number(sheet.size_mm.y));
}

/// Number and name of a panel along its own lower edge, so that they show which way it lies; else its number alone.
fn name(
    figure: &mut Figure,
    of: &CuttingSheets<'_>,
    laid: &Laid,
    bounds: [DVec2; 2],
    room: &mut Room,
) {
    let piece = &of.design.pieces[laid.piece];
    let number = if piece.quantity > 1 {
        format!("{}/{}", piece.number, laid.copy)
    } else {
        piece.number.clone()
    };
    let long = format!("{number} {}", piece.name);
    let number_only = LETTERS.bold().in_colour(style::ACCENT);
    let ways = [(&long, LETTERS), (&long, NAMES.in_colour(style::INK)), (&number, number_only)];
    for (text, lettering) in ways {
        for upwards in [laid.is_turned, !laid.is_turned] {
            if inside(figure, room, bounds, text, lettering, upwards) {
                return;
            }
        }
    }
    room.put_near(figure, bounds, &number, number_only);
}

/// Writes words where they are free within a box, as near to its middle as there is room; whether there was.
fn inside(
    figure: &mut Figure,
    room: &mut Room,
    [lo, hi]: [DVec2; 2],
    text: &str,
    lettering: Lettering,
    upwards: bool,
) -> bool {
    let long = dvec2(lettering.width_mm(text), lettering.capital_mm);
    let size = if upwards { dvec2(long.y, long.x) } else { long };
    let spare = hi - lo - size - 1.0;
    if spare.min_element() < 0.0 {
        return false;
    }
    let mut steps: Vec<DVec2> = Vec::new();
    for i in -6..=6 {
        for j in -6..=6 {
            steps.push(dvec2(f64::from(i), f64::from(j)) / 12.0);
        }
    }
    steps.sort_by(|a, b| a.length_squared().total_cmp(&b.length_squared()));
    let middle = 0.5 * (lo + hi);
    for step in steps {
        let at = middle + step * spare;
        let place = [at - 0.5 * size, at + 0.5 * size];
        if room.is_free(place) {
            if upwards {
                let base = dvec2(place[1].x, at.y);
                figure.words_upwards(base, text, lettering, Anchor::Middle);
            } else {
                figure.words(dvec2(at.x, place[1].y), text, lettering, Anchor::Middle);
            }
            room.boxes.push(place);
            return true;
        }
    }
    false
}

/// Thin slanted lines within a rectangle, upper left and lower right corner on paper.
fn hatch(figure: &mut Figure, lo: DVec2, hi: DVec2) {
    let stroke = || Stroke::whole(0.13, style::RULE);
    figure.rectangle(
        lo,
        hi,
        Some(Stroke { width: 0.18, colour: style::QUIET, dashes: vec![1.5, 1.0] }),
        None,
    );
    // Lines x + y = c across the box.
    let mut c = lo.x + lo.y + HATCH_MM;
    while c < hi.x + hi.y {
        let from = dvec2((c - hi.y).max(lo.x), (c - lo.x).min(hi.y));
        let to = dvec2((c - lo.y).min(hi.x), (c - hi.x).max(lo.y));
        figure.line(from, to, stroke());
        c += HATCH_MM;
    }
}
