//! Sections across grooves and steps: how wide, how deep, what is left under the floor.
//!
//! In the conventions of ISO 128-3 as we remember them: cut material is hatched at 45° with thin lines, and ends that are
//! broken off are thin too.

use design::Piece;
use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Stroke, style};
use plate::Face;

use super::dimensions::whole;
use super::features::{Depth, Feature, Form, SAME_MM, real};
use super::place::Room;
use crate::drawing_sheet::{LETTERS, NAMES, fitted, narrow};
use crate::lengths::Lengths;

/// What is cut into the panel equally wide and deep.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Section {
    /// Letters of all that are so.
    tags: Vec<String>,
    width_mm: f64,
    depth_mm: f64,
    face: Face,
    /// Whether it lies along an edge of the panel.
    is_step: bool,
    thickness_mm: f64,
}

/// Width of one on paper, with what is written beside it, mm.
const CELL_MM: f64 = 56.0;
/// Material that is shown beside the groove, mm on paper.
const BESIDE_MM: f64 = 9.0;
/// From the heading to the upper face: the dimension of the width.
const ABOVE_MM: f64 = 15.5;
/// From the lower face to the next.
const BELOW_MM: f64 = 9.0;
/// Edges of cut material: thinner than those of the view, which alone is to the scale in the title block.
const EDGE_MM: f64 = 0.35;
/// Sheets thinner than this are drawn twice as large.
const THIN_MM: f64 = 5.0;
/// Wider ones have no room here; their depth stands in the table.
const WIDEST_MM: f64 = 30.0;
/// Between lines of the hatching.
const HATCH_MM: f64 = 1.6;

/// The sections that a panel of this size needs, each kind once.
pub(super) fn of(piece: &Piece, rows: &[Feature], size: DVec2) -> Vec<Section> {
    let plate::Shape::Sheet(plate) = &piece.shape else { return Vec::new() };
    let mut found: Vec<Section> = Vec::new();
    for row in rows {
        let Depth::Pocket(face, depth_mm) = row.depth else { continue };
        let Some((width_mm, is_step)) = across(row, size) else { continue };
        let thickness_mm = plate.thickness;
        if width_mm * f64::from(times(thickness_mm)) > WIDEST_MM {
            continue;
        }
        let tags = vec![row.tag.clone()];
        let section = Section { tags, width_mm, depth_mm, face, is_step, thickness_mm };
        match found.iter_mut().find(|other| other.is_like(&section)) {
            Some(other) => other.tags.push(row.tag.clone()),
            None => found.push(section),
        }
    }
    found
}

/// How wide a groove is across its length, and whether it lies along an edge.
fn across(row: &Feature, size: DVec2) -> Option<(f64, bool)> {
    let [lo, hi] = row.first;
    let along = hi - lo;
    let is_upright = along.x < along.y;
    let at_edge = if is_upright {
        lo.x < SAME_MM || size.x - hi.x < SAME_MM
    } else {
        lo.y < SAME_MM || size.y - hi.y < SAME_MM
    };
    match row.shape {
        Form::AllRound(width) => Some((width, true)),
        Form::Slot(_) | Form::RoundEnd(_) | Form::Rectangle(..) => {
            Some((along.min_element(), at_edge))
        }
        Form::Round(diameter) => Some((diameter, false)),
        _ => None,
    }
}

/// How many times as large as it is a sheet is drawn.
fn times(thickness_mm: f64) -> u32 {
    if thickness_mm < THIN_MM { 2 } else { 1 }
}

impl Section {
    fn is_like(&self, other: &Self) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() < SAME_MM;
        near(self.width_mm, other.width_mm)
            && near(self.depth_mm, other.depth_mm)
            && (self.face, self.is_step) == (other.face, other.is_step)
    }

    /// Width, depth and thickness on paper.
    fn on_paper(&self) -> [f64; 3] {
        let times = f64::from(times(self.thickness_mm));
        [self.width_mm, self.depth_mm, self.thickness_mm].map(|mm| mm * times)
    }

    /// The outline, from its upper left corner as if the groove were in the upper face. The last sides to the right, and
    /// for a groove those to the left, are where the panel goes on.
    fn profile(&self) -> Vec<DVec2> {
        let [w, d, t] = self.on_paper();
        let s = BESIDE_MM;
        let points = if self.is_step {
            vec![[0.0, d], [w, d], [w, 0.0], [w + s, 0.0], [w + s, t], [0.0, t]]
        } else {
            vec![
                [0.0, 0.0],
                [s, 0.0],
                [s, d],
                [s + w, d],
                [s + w, 0.0],
                [w + 2.0 * s, 0.0],
                [w + 2.0 * s, t],
                [0.0, t],
            ]
        };
        let turned = |y: f64| if self.face == Face::Top { y } else { t - y };
        points.into_iter().map(|[x, y]| dvec2(x, turned(y))).collect()
    }
}

/// Height of all sections where there is so much width, mm.
pub(super) fn height(sections: &[Section], width: f64) -> f64 {
    let lines = sections.chunks(in_a_line(width));
    lines.map(|line| ABOVE_MM + BELOW_MM + thickest(line)).sum()
}

fn in_a_line(width: f64) -> usize {
    super::whole(width / CELL_MM).max(1)
}

fn thickest(line: &[Section]) -> f64 {
    line.iter().map(|section| section.on_paper()[2]).fold(0.0, f64::max)
}

/// Draws all, the upper left corner here.
pub(super) fn draw(
    figure: &mut Figure,
    at: DVec2,
    width: f64,
    sections: &[Section],
    lengths: Lengths,
) {
    let mut y = at.y;
    for line in sections.chunks(in_a_line(width)) {
        for (i, section) in line.iter().enumerate() {
            one(figure, dvec2(at.x + CELL_MM * real(i), y), section, lengths);
        }
        y += ABOVE_MM + BELOW_MM + thickest(line);
    }
}

fn one(figure: &mut Figure, at: DVec2, section: &Section, lengths: Lengths) {
    let heading =
        format!("Section of {}, {}:1", section.tags.join(", "), times(section.thickness_mm));
    let (heading, lettering) = fitted(&heading, LETTERS.bold(), CELL_MM - 4.0);
    figure.words(at + dvec2(0.0, 4.6), heading, lettering, Anchor::Start);
    let [w, _, t] = section.on_paper();
    let origin = at + dvec2(2.0, ABOVE_MM);
    let points: Vec<DVec2> = section.profile().into_iter().map(|p| origin + p).collect();
    hatch(figure, &points);
    let right = points.iter().map(|p| p.x).fold(0.0, f64::max);
    for (k, &a) in points.iter().enumerate() {
        let b = points[(k + 1) % points.len()];
        let is_upright = (a.x - b.x).abs() < 1e-9;
        let goes_on = |x: f64| (a.x - x).abs() < 1e-9;
        let is_broken = is_upright && (goes_on(right) || !section.is_step && goes_on(origin.x));
        let width = if is_broken { 0.18 } else { EDGE_MM };
        figure.line(a, b, Stroke { width, ..narrow() });
    }
    // On the side of the face that it is cut into.
    let from = origin.x + if section.is_step { 0.0 } else { BESIDE_MM };
    let (edge, line) = match section.face {
        Face::Top => (origin.y, origin.y - 4.5),
        Face::Bottom => (origin.y + t, origin.y + t + 4.5),
    };
    let mut room = Room::default();
    let ends = [dvec2(from, line), dvec2(from + w, line)];
    whole(figure, &mut room, ends, edge, &lengths.number(section.width_mm));
    let left = lengths.number(section.thickness_mm - section.depth_mm);
    let face = if section.face == Face::Top { "" } else { " from below" };
    let said = format!("{} deep{face}, {left} left", lengths.number(section.depth_mm));
    let below = if section.face == Face::Top { 3.6 } else { 8.2 };
    let (said, lettering) = fitted(&said, NAMES.in_colour(style::INK), CELL_MM - 4.0);
    figure.words(dvec2(origin.x, origin.y + t + below), said, lettering, Anchor::Start);
}

/// Lines at 45° through a shape of straight sides.
fn hatch(figure: &mut Figure, points: &[DVec2]) {
    let along = |p: DVec2| p.x + p.y;
    let (least, most) = points
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), p| (a.min(along(*p)), b.max(along(*p))));
    // Half a step in, so that no line runs through a corner of round measure.
    let mut k = least + 0.37 * HATCH_MM;
    while k < most {
        let mut crossings: Vec<f64> = Vec::new();
        for (i, &a) in points.iter().enumerate() {
            let b = points[(i + 1) % points.len()];
            let (from, to) = (along(a) - k, along(b) - k);
            if (from < 0.0) != (to < 0.0) {
                crossings.push(a.lerp(b, from / (from - to)).x);
            }
        }
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            let [from, to] = [pair[0], pair[1]].map(|x| dvec2(x, k - x));
            figure.line(from, to, Stroke { width: 0.13, ..narrow() });
        }
        k += HATCH_MM * std::f64::consts::SQRT_2;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn section(is_step: bool, face: Face) -> Section {
        Section {
            tags: vec!["A".into()],
            width_mm: 8.1,
            depth_mm: 3.0,
            face,
            is_step,
            thickness_mm: 7.9,
        }
    }

    /// Area enclosed by the points.
    fn area(points: &[DVec2]) -> f64 {
        let next = points.iter().cycle().skip(1);
        0.5 * points.iter().zip(next).map(|(a, b)| a.perp_dot(*b)).sum::<f64>().abs()
    }

    #[test]
    fn the_profile_lacks_what_is_cut_away() {
        for face in [Face::Top, Face::Bottom] {
            for (is_step, beside) in [(true, BESIDE_MM), (false, 2.0 * BESIDE_MM)] {
                let section = section(is_step, face);
                let full = (8.1 + beside) * 7.9;
                assert!((area(&section.profile()) - (full - 8.1 * 3.0)).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn hatching_stays_in_the_material() {
        let mut figure = Figure::new(DVec2::splat(100.0));
        let points = section(false, Face::Top).profile();
        hatch(&mut figure, &points);
        assert!(figure.marks.len() > 8);
        for mark in &figure.marks {
            let [lo, hi] = mark.bounds();
            let middle = 0.5 * (lo + hi);
            let is_in_groove = BESIDE_MM < middle.x && middle.x < BESIDE_MM + 8.1 && middle.y < 3.0;
            assert!(!is_in_groove, "{middle}");
        }
    }
}
