//! Names of what stands and hangs in the chambers.

use design::Role;

use super::Sump;
use super::cuts::Cut;
use super::frame::{Frame, rim_mm};
use super::leaves;
use super::parts::Part;
use super::things::{PIPE_OVER_RIM, here};
use crate::plot::paper::{Area, BLACK, Paper, Text, stroke};

const SIZE: f64 = 2.2;
/// From a name in its thing to the thing's sides, mm.
const CLEAR: f64 = 0.4;
/// From a thing to its name beside it, mm.
const AWAY: f64 = 1.5;

/// Names each thing: in it where there is room, level or upright, else beside it, with a line. Returns the
/// names that found no room.
pub(super) fn draw(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, frame: &Frame) -> Vec<String> {
    let inside = Area {
        min: [frame.x(0.0), frame.y(rim_mm(sump.design)) - PIPE_OVER_RIM],
        max: [frame.x(sump.design.outside.x), frame.y(0.0)],
    };
    let cut_leaves = leaves::of(sump, cut).into_iter().filter(|l| l.is_cut);
    let obstacles: Vec<Area> = cut_leaves
        .map(|l| Area { min: frame.at(l.x_mm[0], l.top_mm), max: frame.at(l.x_mm[1], 0.0) })
        .collect();
    let mut things = here(sump, cut, &[Role::Equipment, Role::DrainPipe, Role::WallFitting]);
    // The narrow ones have least choice.
    things.sort_by(|a, b| (a.hi.x - a.lo.x).total_cmp(&(b.hi.x - b.lo.x)));
    things.retain(|thing| {
        let outline = Area {
            min: [frame.x(thing.lo.x), frame.y(thing.hi.z).max(inside.min[1])],
            max: [frame.x(thing.hi.x), frame.y(thing.lo.z.max(0.0))],
        };
        // In a pipe no name can be read, for shelves and levels run across it.
        let is_named = (thing.role != Role::DrainPipe && name_in(paper, &thing.name, &outline))
            || name_beside(paper, &thing.name, &outline, &inside, &obstacles)
            || name_beside(paper, &thing.name, &outline, &inside, &[]);
        !is_named
    });
    things.into_iter().map(|thing: Part| thing.name).collect()
}

/// Whether there was room in it.
fn name_in(paper: &mut Paper, name: &str, outline: &Area) -> bool {
    let [[x0, y0], [x1, y1]] = [outline.min, outline.max];
    let within = Area { min: [x0 + CLEAR, y0], max: [x1 - CLEAR, y1] };
    let middle = 0.5 * (x0 + x1);
    let level = Text::new(name, [0.0, 0.0], SIZE).middle();
    for text in [level, level.turned()] {
        for share in [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9] {
            let y = y0 + share * (y1 - y0);
            // Half of what letters reach up less what they reach down.
            let down = 0.27 * SIZE;
            let at = if text.is_turned { [middle + down, y] } else { [middle, y + down] };
            let text = Text { at, ..text };
            if text.area().is_within(&within) && paper.is_free(&text.area()) {
                paper.text(&text);
                return true;
            }
        }
    }
    false
}

/// Whether there was room beside it, off the obstacles.
fn name_beside(
    paper: &mut Paper,
    name: &str,
    outline: &Area,
    inside: &Area,
    obstacles: &[Area],
) -> bool {
    let [[x0, y0], [x1, y1]] = [outline.min, outline.max];
    let text = Text::new(name, [0.0; 2], SIZE).on_patch();
    let places = (0..60u32).flat_map(|step| {
        let y = y0 + AWAY * (1.0 + f64::from(step));
        [
            Text { at: [x1 + AWAY, y], ..text },
            Text { at: [x0 - AWAY, y], ..text.end() },
            Text { at: [x1 + 2.0 * AWAY, y], ..text.middle().turned() },
            Text { at: [x0 - AWAY, y], ..text.middle().turned() },
        ]
    });
    let is_free = |text: &Text<'_>, paper: &Paper| {
        let area = text.area();
        area.is_within(inside)
            && paper.is_free(&area)
            && !obstacles.iter().any(|o| o.overlaps(&area))
    };
    let Some(text) = places.into_iter().find(|t| is_free(t, paper)) else { return false };
    let area = text.area();
    let height = 0.5 * (area.min[1] + area.max[1]);
    let y = height.clamp(y0 + 0.5, y1.max(y0 + 0.5));
    let middle = 0.5 * (x0 + x1);
    let (from, to) = if area.min[0] > middle { (area.min[0], x1) } else { (area.max[0], x0) };
    paper.line([from, height], [0.5 * (to + middle), y], &stroke(BLACK, 0.13));
    paper.text(&text);
    true
}
