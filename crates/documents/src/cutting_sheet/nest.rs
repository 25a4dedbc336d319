//! The sheet with the panels on it.

use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Lettering, Mark, Outline, Stroke, style};
use plate::Contour;
use shop::{Bridge, Laid, LaidSheet};

use super::CuttingSheets;
use crate::drawing_sheet::{LETTERS, NAMES, narrow, wide};
use crate::lengths::Lengths;
use crate::outline::{loops, samples};
use crate::panel_drawing::dimensions::whole;
use crate::panel_drawing::place::Room;

/// Between the lines that hatch an offcut, mm on paper.
const HATCH_MM: f64 = 4.0;
/// How far the mark of a bridge stands out of its edge, mm on paper.
const BRIDGE_MM: f64 = 1.6;

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
    for [a, b] in
        [[0.0, 0.0, 1.0, 0.0], [1.0, 0.0, 1.0, 1.0], [1.0, 1.0, 0.0, 1.0], [0.0, 1.0, 0.0, 0.0]]
            .map(|[x, y, u, v]| [dvec2(x, y), dvec2(u, v)])
    {
        let [a, b] = [a, b].map(|share| upper_left + share * (lower_right - upper_left));
        room.points.extend((0..=200).map(|i| a.lerp(b, f64::from(i) / 200.0)));
    }
    let mut named: Vec<Named<'_>> = Vec::new();
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
        if !floors.is_empty() {
            let thin = Some(Stroke::whole(0.13, style::QUIET));
            figure.marks.push(Mark::Outline(Outline {
                loops: loops(&floors, &place),
                is_closed: true,
                stroke: thin,
                fill: None,
            }));
        }
        let edge = Some(Stroke::whole(0.35, style::INK));
        figure.marks.push(Mark::Outline(Outline {
            loops: loops(&moved, &place),
            is_closed: true,
            stroke: edge,
            fill: None,
        }));
        for bridge in work.operations.iter().flat_map(|operation| &operation.bridges) {
            mark_bridge(figure, &mut room, laid, bridge, &place);
        }
        room.points.extend(samples(moved.iter().chain(&floors), 1.2 / scale).map(place));
        let bounds = moved
            .iter()
            .filter_map(Contour::bounds)
            .reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]);
        if let Some([lo, hi]) = bounds {
            let (a, b) = (place(lo), place(hi));
            named.push(Named { laid, bounds: [a.min(b), a.max(b)], contours: moved });
        }
    }
    for (i, cut) in sheet.saw_cuts.iter().enumerate() {
        let [a, b] = cut.ends_mm.map(place);
        figure.line(a, b, Stroke::whole(0.3, style::ACCENT));
        room.points.extend((0..=60).map(|k| a.lerp(b, f64::from(k) / 60.0)));
        // A cut's number stands at its end, where the saw leaves.
        let at = a.lerp(b, 0.97);
        let lettering = NAMES.bold().in_colour(style::ACCENT);
        room.put_near(figure, [at - 0.3, at + 0.3], false, &format!("{}", i + 1), lettering);
    }
    // Small panels have the fewest places for their names.
    named.sort_by(|a, b| a.area().total_cmp(&b.area()));
    let back = |p: DVec2| dvec2(p.x - origin.x, origin.y - p.y) / scale;
    let names: Vec<bool> =
        named.iter().map(|panel| name(figure, of, panel, &back, &mut room)).collect();
    for (panel, _) in named.iter().zip(&names).filter(|(_, is_named)| !**is_named) {
        // Beside it, where no other panel lies: in an opening of its own, too.
        let n = room.boxes.len();
        let others =
            named.iter().filter(|other| other.laid != panel.laid && !other.is_around(panel));
        room.boxes.extend(others.map(|other| other.bounds));
        let [lo, hi] = panel.bounds;
        let foot = dvec2(0.5 * (lo.x + hi.x), hi.y - 0.3);
        let target = if panel.contours.len() > 1 { [foot, foot] } else { panel.bounds };
        let lettering = LETTERS.bold().in_colour(style::ACCENT);
        let words = room.boxes.len();
        room.put_near(figure, target, false, &number(of, panel.laid), lettering);
        let placed = room.boxes.split_off(words);
        room.boxes.truncate(n);
        room.boxes.extend(placed);
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
            |_| true,
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

/// A short bold stroke from the edge outwards, where a bridge is left in the cut.
fn mark_bridge(
    figure: &mut Figure,
    room: &mut Room,
    laid: &Laid,
    bridge: &Bridge,
    place: &impl Fn(DVec2) -> DVec2,
) {
    let middle = 0.5 * (bridge.lifted[0] + bridge.lifted[1]);
    let [edge, beyond] = [bridge.at, middle].map(|p| place(laid.point(p)));
    let out = (beyond - edge).normalize_or_zero() * BRIDGE_MM;
    figure.line(edge - 0.3 * out, edge + out, Stroke::whole(0.7, style::ACCENT));
    room.points.extend([edge, edge + 0.5 * out, edge + out]);
}

/// A panel that is to be named.
struct Named<'a> {
    laid: &'a Laid,
    /// Its box on paper.
    bounds: [DVec2; 2],
    /// Its edges on the sheet.
    contours: Vec<Contour>,
}

impl Named<'_> {
    fn area(&self) -> f64 {
        (self.bounds[1] - self.bounds[0]).element_product()
    }

    /// Whether another lies within its box: in an opening.
    fn is_around(&self, other: &Self) -> bool {
        self.bounds[0].cmple(other.bounds[0]).all() && other.bounds[1].cmple(self.bounds[1]).all()
    }
}

/// The number of a panel, with that of the copy where there are several.
fn number(of: &CuttingSheets<'_>, laid: &Laid) -> String {
    let piece = &of.design.pieces[laid.piece];
    if piece.quantity > 1 {
        format!("{}/{}", piece.number, laid.copy)
    } else {
        piece.number.clone()
    }
}

/// Number and name of a panel on its own material, along its own lower edge so that they show which way it lies, if there
/// is room; else its number. Whether there was room. `back` leads from paper to the sheet.
fn name(
    figure: &mut Figure,
    of: &CuttingSheets<'_>,
    panel: &Named<'_>,
    back: &impl Fn(DVec2) -> DVec2,
    room: &mut Room,
) -> bool {
    let laid = panel.laid;
    let number = number(of, laid);
    let long = format!("{number} {}", of.design.pieces[laid.piece].name);
    let number_only = LETTERS.bold().in_colour(style::ACCENT);
    let ways = [(&long, LETTERS), (&long, NAMES.in_colour(style::INK)), (&number, number_only)];
    let is_material = |p: DVec2| panel.contours.iter().map(|c| c.winding(back(p))).sum::<i32>() > 0;
    ways.into_iter().any(|(text, lettering)| {
        [laid.is_turned, !laid.is_turned].into_iter().any(|upwards| {
            inside(figure, room, panel.bounds, text, lettering, upwards, is_material)
        })
    })
}

/// Writes words where they are free within a box, as near to its middle as there is room; whether there was.
fn inside(
    figure: &mut Figure,
    room: &mut Room,
    [lo, hi]: [DVec2; 2],
    text: &str,
    lettering: Lettering,
    upwards: bool,
    may_lie_at: impl Fn(DVec2) -> bool,
) -> bool {
    let long = dvec2(lettering.width_mm(text), lettering.capital_mm);
    let size = if upwards { dvec2(long.y, long.x) } else { long };
    let spare = hi - lo - size - 1.0;
    if spare.min_element() < 0.0 {
        return false;
    }
    let mut steps: Vec<DVec2> = Vec::new();
    for i in -12..=12 {
        for j in -12..=12 {
            steps.push(dvec2(f64::from(i), f64::from(j)) / 24.0);
        }
    }
    steps.sort_by(|a, b| a.length_squared().total_cmp(&b.length_squared()));
    let middle = 0.5 * (lo + hi);
    for step in steps {
        let at = middle + step * spare;
        let place = [at - 0.5 * size, at + 0.5 * size];
        if may_lie_at(at) && room.is_free(place) {
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
