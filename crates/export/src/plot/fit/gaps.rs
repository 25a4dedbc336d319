//! The tightest clearances as dimensions.

use design::{Design, Role, SurroundingKind};
use fit::{Clearance, Report};
use glam::{DVec2, DVec3, dvec2};
use units::{Length, System};

use super::Sheet;
use super::view::{Frame, View};
use crate::plot::naming::{Near, name_near};
use crate::plot::paper::{Area, Paper, stroke};

/// Colour of dimensions.
pub(super) const RED: &str = "#b3261e";
const WIDTH: f64 = 0.18;
const SIZE: f64 = 2.3;
/// Length of an arrow's head, mm.
const HEAD: f64 = 4.5 * WIDTH;
/// Gaps narrower than this have their arrows outside, mm on paper.
const NARROW: f64 = 3.0;
/// Length of an arrow that points inwards, mm.
const OUTSIDE: f64 = 2.4;
/// A gap is shown where its length in the view is at least this share of it.
const IN_VIEW: f64 = 0.97;
/// Gaps whose ends are as near as this in a view look like one, mm.
const SAME_MM: f64 = 2.0;
/// Most dimensions in a view: more would hide what they are about.
const MOST: usize = 26;

/// A dimension, on the paper.
struct Dimension {
    ends: [[f64; 2]; 2],
    words: String,
    row: usize,
}

/// Draws the dimensions of a view; the rows of the table whose numbers found no room.
pub(super) fn draw(
    paper: &mut Paper,
    sheet: &Sheet<'_>,
    frame: &Frame,
    [lo, hi]: [DVec2; 2],
) -> Vec<String> {
    let inside = Area::between(frame.at(lo), frame.at(hi)).grown(3.0);
    let dimension = |(i, clearance): (usize, &&Clearance)| Dimension {
        ends: clearance.at.map(|p| frame.at(sheet.view.flat(p))),
        words: format!("{} ({})", words(clearance, sheet.design.report), i + 1),
        row: i + 1,
    };
    let chosen: Vec<Dimension> = sheet.gaps.iter().enumerate().map(dimension).collect();
    paper.open("dimensions");
    for dimension in &chosen {
        lines(paper, dimension);
    }
    let mut left = Vec::new();
    for dimension in &chosen {
        let middle = [0, 1].map(|k| 0.5 * (dimension.ends[0][k] + dimension.ends[1][k]));
        let outline = Area { min: middle, max: middle }.grown(0.2);
        let near = |longest| Near {
            size: SIZE,
            outline: &outline,
            inside: &inside,
            off: &[],
            longest,
            has_dot: false,
        };
        if !(name_near(paper, &dimension.words, &near(9.0))
            || name_near(paper, &dimension.words, &near(28.0)))
        {
            left.push(dimension.row.to_string());
        }
    }
    paper.close();
    left
}

/// `3.2 mm`; less than nothing where two things share room.
pub(super) fn words(clearance: &Clearance, units: System) -> String {
    let gap = Length::mm(clearance.gap_mm.abs()).show(units);
    if is_clash(clearance) { format!("−{gap}") } else { gap }
}

fn is_clash(clearance: &Clearance) -> bool {
    clearance.gap_mm < -5e-4
}

/// For each thing the least gap on every side that shows in the view, the tightest first.
pub(super) fn chosen<'a>(design: &Design, report: &'a Report, view: View) -> Vec<&'a Clearance> {
    let mut taken: Vec<(usize, usize)> = Vec::new();
    let mut chosen = Vec::new();
    for clearance in &report.clearances {
        let [a, b] = clearance.at.map(|p| view.flat(p));
        let is_shown = a.distance(b) >= IN_VIEW * clearance.gap_mm.max(0.0);
        let is_tight = clearance.gap_mm < clearance.limit_mm;
        if !is_shown || chosen.len() == MOST || !(is_tight || is_worth_it(design, clearance)) {
            continue;
        }
        let way = b - a;
        let sides = [(clearance.a, side(way)), (clearance.b, side(-way))];
        let is_new = sides.iter().any(|s| !taken.contains(s));
        // A pipe goes on in the pipe above it: in the plan their gaps are one.
        let is_drawn = chosen.iter().any(|other: &&Clearance| {
            let [c, d] = other.at.map(|p| view.flat(p));
            let off = |c: DVec2, d: DVec2| a.distance(c).max(b.distance(d));
            off(c, d).min(off(d, c)) < SAME_MM
        });
        if !is_drawn && (is_new || is_clash(clearance)) {
            taken.extend(sides);
            chosen.push(clearance);
        }
    }
    chosen
}

/// Whether a gap that is wide enough is worth a dimension: not that of a small part, not what the chains show, and not
/// one through a wall of the sump.
fn is_worth_it(design: &Design, clearance: &Clearance) -> bool {
    // Things of the design come first, then its spares, then what is around: see `fit::World::things`.
    let role = |id: usize| Some(design.pieces[design.placed.get(id)?.piece].role);
    let roles = [clearance.a, clearance.b].map(role);
    let is_small = |role: Option<Role>| {
        matches!(
            role,
            Some(
                Role::Knob
                    | Role::Fitting
                    | Role::Screw
                    | Role::GuideStrip
                    | Role::GuideChannel
                    | Role::Ledge
                    | Role::SockRing
            )
        )
    };
    let is_box = |role| matches!(role, Some(Role::Bottom | Role::Wall | Role::Rim));
    let is_around = |role: Option<Role>| role.is_none();
    if roles.iter().any(|r| is_small(*r)) || roles.iter().all(|r| is_around(*r)) {
        return false;
    }
    if !roles.iter().any(|r| is_around(*r)) {
        return true;
    }
    let around = design.surroundings.iter().flat_map(|s| &s.things);
    let mut panels = around
        .filter(|t| matches!(t.kind, SurroundingKind::Panel | SurroundingKind::Mat))
        .map(|t| t.name.as_str());
    let is_panel = panels.any(|name| clearance.names.iter().any(|n| n == name));
    let is_inside = |p: &DVec3| p.cmpge(DVec3::ZERO).all() && p.cmple(design.outside).all();
    let is_below = clearance.at.iter().all(|p| p.z < design.outside.z);
    let is_through_wall = clearance.at.iter().any(is_inside) && is_below;
    let is_of_box = roles.iter().any(|r| is_box(*r));
    if is_of_box { !is_panel } else { !is_through_wall }
}

/// Which of four sides a direction is of: 0 to the right, 1 up, 2 to the left, 3 down.
fn side(way: DVec2) -> usize {
    let (is_across, is_ahead) = (way.x.abs() >= way.y.abs(), way.x + way.y >= 0.0);
    usize::from(!is_across) + if is_ahead { 0 } else { 2 }
}

/// Arrows that meet the ends, from within or from outside.
fn lines(paper: &mut Paper, dimension: &Dimension) {
    let [a, b] = dimension.ends.map(|[x, y]| dvec2(x, y));
    let length = a.distance(b);
    let Some(along) = (b - a).try_normalize() else {
        mark(paper, a);
        return;
    };
    let [start, end] = if length < NARROW {
        let [start, end] = [a - along * OUTSIDE, b + along * OUTSIDE];
        paper.arrow(start.to_array(), a.to_array(), RED, WIDTH);
        paper.arrow(end.to_array(), b.to_array(), RED, WIDTH);
        [start, end]
    } else {
        let middle = 0.5 * (a + b);
        paper.arrow(middle.to_array(), a.to_array(), RED, WIDTH);
        paper.arrow(middle.to_array(), b.to_array(), RED, WIDTH);
        [a, b]
    };
    // Short strokes across the ends show to what it is measured.
    let across = along.perp() * 0.5 * HEAD;
    for p in [a, b] {
        paper.line((p - across).to_array(), (p + across).to_array(), &stroke(RED, 0.12));
    }
    paper.keep_off(start.to_array(), end.to_array());
    paper.keep_free(Area::between((a - across).to_array(), (b + across).to_array()).grown(0.3));
}

/// Where things touch or share room.
fn mark(paper: &mut Paper, at: DVec2) {
    paper.circle(at.to_array(), 1.1, &stroke(RED, 0.3));
    for way in [dvec2(0.78, 0.78), dvec2(0.78, -0.78)] {
        paper.line((at - way).to_array(), (at + way).to_array(), &stroke(RED, 0.3));
    }
    paper.keep_free(Area { min: at.to_array(), max: at.to_array() }.grown(1.4));
}
