//! Dimensions: the whole width and height, and where the outline turns, counted from one corner.
//!
//! In the conventions of ISO 129-1 as we remember them: extension lines begin 1 mm off and pass the dimension line by
//! 2 mm; filled arrows of 15°; numbers above the line, read from below or from the right. Places along an edge are
//! running dimensions from a common origin: each number stands at the end of its extension line.

use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Mark, style};
use plate::FlatPattern;

use super::features::SAME_MM;
use super::notches::Notches;
use super::place::{Room, spread};
use super::view::{GLUE_OFF_MM, View};
use crate::drawing_sheet::{LETTERS, narrow};
use crate::lengths::Lengths;

/// Between two numbers of running dimensions, base line to base line.
const APART_MM: f64 = 4.0;
/// From the outline to the numbers of running dimensions.
const RUNNING_MM: f64 = 8.0;
/// Room for those numbers.
const NUMBER_MM: f64 = 13.0;
/// From all that to the dimension line of the whole.
const WHOLE_MM: f64 = 7.0;
/// More than so many along one side are not drawn.
const MOST: usize = 24;

/// Places where the outline turns, told by the side that they are nearest to.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Stations {
    /// Along the lower and the upper side: x and from which y on.
    pub(super) along_x: [Vec<DVec2>; 2],
    /// Along the left and the right side: y and from which x on.
    pub(super) along_y: [Vec<DVec2>; 2],
    /// Whether some were left out because they are too many.
    pub(super) is_cut: bool,
}

impl Stations {
    /// Those of a pattern, without what a row of notches tells.
    pub(super) fn of(pattern: &FlatPattern, notches: &[Notches], [lo, hi]: [DVec2; 2]) -> Self {
        let mut stations = Self::default();
        let outer = pattern.through.iter().filter(|contour| contour.signed_area() > 0.0);
        let pieces = outer.flat_map(|contour| &contour.0).filter(|piece| piece.arc.is_none());
        let middle = 0.5 * (lo + hi);
        for piece in pieces.filter(|piece| !notches.iter().any(|row| row.tells_of(piece))) {
            let along = (piece.end - piece.start).abs();
            let (a, b) = (piece.start, piece.end);
            // An upright edge is told by one number, a sloping one by those of its ends.
            if along.x < SAME_MM {
                let is_up = 0.5 * (a.y + b.y) > middle.y;
                let from = if is_up { a.y.max(b.y) } else { a.y.min(b.y) };
                stations.along_x[usize::from(is_up)].push(dvec2(a.x, from));
            } else if along.y < SAME_MM {
                let is_right = 0.5 * (a.x + b.x) > middle.x;
                let from = if is_right { a.x.max(b.x) } else { a.x.min(b.x) };
                stations.along_y[usize::from(is_right)].push(dvec2(a.y, from));
            } else {
                for p in [a, b] {
                    stations.along_x[usize::from(p.y > middle.y)].push(p);
                    stations.along_y[usize::from(p.x > middle.x)].push(dvec2(p.y, p.x));
                }
            }
        }
        let [lower, upper] = &mut stations.along_x;
        tidy(lower, [lo.x, hi.x], false);
        tidy(upper, [lo.x, hi.x], true);
        upper.retain(|p| !lower.iter().any(|other| (other.x - p.x).abs() < SAME_MM));
        let [left, right] = &mut stations.along_y;
        tidy(left, [lo.y, hi.y], false);
        tidy(right, [lo.y, hi.y], true);
        right.retain(|p| !left.iter().any(|other| (other.x - p.x).abs() < SAME_MM));
        for list in stations.along_x.iter_mut().chain(&mut stations.along_y) {
            stations.is_cut |= list.len() > MOST;
            list.truncate(MOST);
        }
        stations
    }

    /// How far dimensions reach beyond the view on paper: left, right, above, below.
    pub(super) fn margins(&self) -> [f64; 4] {
        let running =
            |list: &Vec<DVec2>| if list.is_empty() { 2.0 } else { RUNNING_MM + NUMBER_MM };
        let [left, right] = [&self.along_y[0], &self.along_y[1]].map(running);
        let [below, above] = [&self.along_x[0], &self.along_x[1]].map(running);
        [left + WHOLE_MM + 4.0, right + 2.0, above + 2.0, below + WHOLE_MM + 2.0]
    }
}

/// Sorted, each once, without the ends that the whole tells. Of equal ones that which is nearest to its side stays.
fn tidy(list: &mut Vec<DVec2>, [from, to]: [f64; 2], is_far: bool) {
    list.retain(|p| (p.x - from).abs() > SAME_MM && (p.x - to).abs() > SAME_MM);
    list.sort_by(|a, b| {
        let near = if is_far { b.y.total_cmp(&a.y) } else { a.y.total_cmp(&b.y) };
        a.x.total_cmp(&b.x).then(near)
    });
    list.dedup_by(|b, a| (a.x - b.x).abs() < SAME_MM);
}

/// Draws all.
pub(super) fn draw(
    figure: &mut Figure,
    view: &View,
    stations: &Stations,
    lengths: Lengths,
    room: &mut Room,
) {
    let [lo, hi] = view.bounds;
    let [upper_left, lower_right] = view.corners(view.bounds);
    // Running dimensions: each side with the direction out of it.
    for (is_upper, list) in stations.along_x.iter().enumerate() {
        let (edge, out) = if is_upper == 1 { (upper_left.y, -1.0) } else { (lower_right.y, 1.0) };
        let places: Vec<f64> = list.iter().map(|p| view.point(dvec2(p.x, lo.y)).x).collect();
        let moved = spread(&places, APART_MM, [upper_left.x - 6.0, lower_right.x + 6.0]);
        for ((p, &x), &to) in list.iter().zip(&places).zip(&moved) {
            let from = view.point(*p).y + out;
            let bend = [edge + 3.5 * out, edge + (RUNNING_MM - 1.5) * out, edge + RUNNING_MM * out];
            let line = [dvec2(x, from), dvec2(x, bend[0]), dvec2(to, bend[1]), dvec2(to, bend[2])];
            let at = dvec2(to + 0.5 * LETTERS.capital_mm, bend[2] + 1.0 * out);
            let anchor = if is_upper == 1 { Anchor::Start } else { Anchor::End };
            running(figure, room, &line, at, lengths.number(p.x - lo.x), anchor, true);
        }
    }
    for (is_right, list) in stations.along_y.iter().enumerate() {
        let (edge, out) = if is_right == 1 { (lower_right.x, 1.0) } else { (upper_left.x, -1.0) };
        // Paper counts downwards: from the greatest to the least.
        let list: Vec<DVec2> = list.iter().rev().copied().collect();
        let places: Vec<f64> = list.iter().map(|p| view.point(dvec2(lo.x, p.x)).y).collect();
        let moved = spread(&places, APART_MM, [upper_left.y - 4.0, lower_right.y + 4.0]);
        for ((p, &y), &to) in list.iter().zip(&places).zip(&moved) {
            let from = view.point(dvec2(p.y, lo.y)).x + out;
            let bend = [edge + 3.5 * out, edge + (RUNNING_MM - 1.5) * out, edge + RUNNING_MM * out];
            let line = [dvec2(from, y), dvec2(bend[0], y), dvec2(bend[1], to), dvec2(bend[2], to)];
            let at = dvec2(bend[2] + 1.0 * out, to + 0.5 * LETTERS.capital_mm);
            let anchor = if is_right == 1 { Anchor::Start } else { Anchor::End };
            running(figure, room, &line, at, lengths.number(p.x - lo.y), anchor, false);
        }
    }
    // The origin that all numbers count from.
    figure.circle(view.point(lo), 1.2, Some(narrow()), None);
    let [left, _, _, below] = stations.margins();
    let y = lower_right.y + below - 2.0;
    whole(
        figure,
        room,
        [dvec2(upper_left.x, y), dvec2(lower_right.x, y)],
        lower_right.y,
        &lengths.number(hi.x - lo.x),
    );
    let x = upper_left.x - left + 4.0;
    whole(
        figure,
        room,
        [dvec2(x, lower_right.y), dvec2(x, upper_left.y)],
        upper_left.x,
        &lengths.number(hi.y - lo.y),
    );
}

fn running(
    figure: &mut Figure,
    room: &mut Room,
    line: &[DVec2],
    at: DVec2,
    number: String,
    anchor: Anchor,
    is_upwards: bool,
) {
    figure.polyline(line, narrow());
    if is_upwards {
        figure.words_upwards(at, number, LETTERS, anchor);
    } else {
        figure.words(at, number, LETTERS, anchor);
    }
    take_last(figure, room);
    for pair in line.windows(2) {
        room.points.extend((0..=8).map(|i| pair[0].lerp(pair[1], f64::from(i) / 8.0)));
    }
}

/// The dimension line of the whole, from left to right or from below to above, with extension lines from `edge`.
pub(crate) fn whole(
    figure: &mut Figure,
    room: &mut Room,
    ends: [DVec2; 2],
    edge: f64,
    number: &str,
) {
    let [a, b] = ends;
    let is_along_x = (b.x - a.x).abs() > (b.y - a.y).abs();
    let along = (b - a).normalize_or_zero();
    for end in ends {
        // Away from the edge, on whichever side of it the dimension stands.
        let (from, to) = if is_along_x {
            let out = (end.y - edge).signum();
            (dvec2(end.x, edge + out * (1.0 + GLUE_OFF_MM)), dvec2(end.x, end.y + 2.0 * out))
        } else {
            let out = (end.x - edge).signum();
            (dvec2(edge + out * (1.0 + GLUE_OFF_MM), end.y), dvec2(end.x + 2.0 * out, end.y))
        };
        figure.line(from, to, narrow());
        room.points.extend((0..=20).map(|i| from.lerp(to, f64::from(i) / 20.0)));
    }
    let length = a.distance(b);
    let needed = LETTERS.width_mm(number) + 9.0;
    if length >= 7.0 {
        figure.line(a, b, narrow());
        arrow(figure, a, -along);
        arrow(figure, b, along);
    } else {
        // Too short for its arrows: they point at it from outside.
        figure.line(a - 6.0 * along, b + 6.0 * along, narrow());
        arrow(figure, a, along);
        arrow(figure, b, -along);
    }
    let middle = a.lerp(b, 0.5);
    let off = 1.0;
    // A number longer than its line stands beyond it.
    let at =
        if length >= needed { middle } else { b + (8.0 + 0.5 * LETTERS.width_mm(number)) * along };
    if length < needed {
        figure.line(b, b + (8.0 + LETTERS.width_mm(number)) * along, narrow());
    }
    if is_along_x {
        figure.words(at - dvec2(0.0, off), number, LETTERS, Anchor::Middle);
    } else {
        figure.words_upwards(at - dvec2(off, 0.0), number, LETTERS, Anchor::Middle);
    }
    take_last(figure, room);
    room.points.extend((0..=40).map(|i| a.lerp(b, f64::from(i) / 40.0)));
}

fn take_last(figure: &Figure, room: &mut Room) {
    if let Some(mark) = figure.marks.last() {
        room.boxes.push(mark.bounds());
    }
}

/// A filled arrow of 15° with its point here.
fn arrow(figure: &mut Figure, point: DVec2, way: DVec2) {
    let (length, half) = (2.5, 2.5 * (7.5_f64.to_radians()).tan());
    let back = point - length * way;
    let corners = [point, back + half * way.perp(), back - half * way.perp()];
    figure.marks.push(Mark::path(&corners, true, None, Some(style::INK)));
}
