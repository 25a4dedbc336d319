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
/// Over the rim names reach so far past the ends of the box, mm.
const OVERHANG: f64 = 8.0;
/// Leaders are at most so long, mm: where that can be, and at worst.
const NEAR: f64 = 16.0;
const FAR: f64 = 60.0;
/// A leader ends so far within a thing, mm.
const INSET: f64 = 1.2;
/// A name that reads upwards is as bad as so much more leader, mm.
const TURNED: f64 = 4.0;
/// From one place that is tried to the next, mm.
const STEP: f64 = 0.8;

/// Names each thing: in it where there is room, level or upright, else beside it, with a line. Returns the
/// names that found no room.
pub(super) fn draw(
    paper: &mut Paper,
    sump: &Sump<'_>,
    cut: &Cut,
    frame: &Frame,
    bodies: &[Area],
) -> Vec<String> {
    let rim = frame.y(rim_mm(sump.design));
    let [left, right] = [frame.x(0.0), frame.x(sump.design.outside.x)];
    let inside =
        Area { min: [left - OVERHANG, rim - PIPE_OVER_RIM], max: [right + OVERHANG, frame.y(0.0)] };
    let cut_leaves = leaves::of(sump, cut).into_iter().filter(|l| l.is_cut);
    let mut leaves: Vec<Area> = cut_leaves
        .map(|l| Area { min: frame.at(l.x_mm[0], l.top_mm), max: frame.at(l.x_mm[1], 0.0) })
        .collect();
    // The ends of the box with what is outside of them: names stand out over the rim only.
    let basins = cut.basins.iter().map(|&i| &sump.design.waterworks.basins[i]);
    let ends = basins.fold([right, left], |[a, b], basin| {
        [a.min(frame.x(basin.min.x)), b.max(frame.x(basin.max.x))]
    });
    for (outer, inner) in [(inside.min[0], ends[0]), (inside.max[0], ends[1])] {
        leaves.push(Area::between([outer, rim], [inner, inside.max[1]]));
    }
    let all: Vec<Area> = leaves.iter().chain(bodies).copied().collect();
    let mut things = here(sump, cut, &[Role::Equipment, Role::DrainPipe, Role::WallFitting]);
    // The narrow ones have least choice.
    things.sort_by(|a, b| (a.hi.x - a.lo.x).total_cmp(&(b.hi.x - b.lo.x)));
    things.retain(|thing| {
        let outline = Area {
            min: [frame.x(thing.lo.x), frame.y(thing.hi.z).max(inside.min[1])],
            max: [frame.x(thing.hi.x), frame.y(thing.lo.z.max(0.0))],
        };
        // In a pipe no name can be read, for shelves and levels run across it.
        let is_named = (thing.role != Role::DrainPipe
            && name_in(paper, &thing.name, &outline, bodies))
            || [(&all[..], NEAR), (&leaves[..], NEAR), (&all[..], FAR), (&[], FAR)]
                .into_iter()
                .any(|(off, longest)| {
                    name_near(paper, &thing.name, &outline, &inside, off, longest)
                });
        !is_named
    });
    things.into_iter().map(|thing: Part| thing.name).collect()
}

/// Shares of a thing's height and length at which its name may stand: the middle first.
const SHARES: [f64; 13] =
    [0.5, 0.42, 0.58, 0.35, 0.65, 0.28, 0.72, 0.2, 0.8, 0.13, 0.87, 0.07, 0.93];

/// Whether there was room in it, off all lines and off the edges of what else stands there.
fn name_in(paper: &mut Paper, name: &str, outline: &Area, bodies: &[Area]) -> bool {
    let [[x0, y0], [x1, y1]] = [outline.min, outline.max];
    let within = Area { min: [x0 + CLEAR, y0], max: [x1 - CLEAR, y1] };
    let level = Text::new(name, [0.0, 0.0], SIZE).middle();
    let is_free = |text: &Text<'_>| {
        let area = text.area();
        area.is_within(&within)
            && paper.is_free(&area)
            && bodies.iter().all(|body| area.is_within(body) || !area.overlaps(body))
    };
    for text in [level, level.turned()] {
        for across in SHARES {
            for share in SHARES {
                let at = [x0 + across * (x1 - x0), y0 + share * (y1 - y0)];
                // Half of what letters reach up less what they reach down.
                let down = 0.27 * SIZE;
                let at = if text.is_turned { [at[0] + down, at[1]] } else { [at[0], at[1] + down] };
                let text = Text { at, ..text };
                if is_free(&text) {
                    paper.text(&text);
                    return true;
                }
            }
        }
    }
    false
}

/// Whether there was room beside it, over or under it, off the obstacles and with a leader of at most
/// `longest`: where the leader is shortest.
fn name_near(
    paper: &mut Paper,
    name: &str,
    outline: &Area,
    inside: &Area,
    obstacles: &[Area],
    longest: f64,
) -> bool {
    let level = Text::new(name, [0.0; 2], SIZE).middle().on_patch();
    let mut best: Option<(f64, Text<'_>, [[f64; 2]; 2])> = None;
    for (text, penalty) in [(level, 0.0), (level.turned(), TURNED)] {
        let area = text.area();
        // Every place of its lower left corner from which the outline can be reached.
        let size = [area.max[0] - area.min[0], area.max[1] - area.min[1]];
        let span = |k: usize| {
            let lo = (outline.min[k] - size[k] - longest).max(inside.min[k]);
            let hi = (outline.max[k] + longest).min(inside.max[k] - size[k]);
            std::iter::successors(Some(lo), |v| Some(v + STEP)).take_while(move |v| *v <= hi)
        };
        for x in span(0) {
            for y in span(1) {
                let text = Text { at: [x - area.min[0], y - area.min[1]], ..text };
                let ends = leader(&text.area(), outline);
                let [a, b] = ends;
                let length = (b[0] - a[0]).hypot(b[1] - a[1]);
                let cost = length + penalty;
                let is_better =
                    length <= longest && best.as_ref().is_none_or(|b| cost < b.0 - 1e-9);
                if is_better && has_room(paper, &text, outline, obstacles, ends) {
                    best = Some((cost, text, ends));
                }
            }
        }
    }
    let Some((_, text, [a, b])) = best else { return false };
    paper.line(a, b, &stroke(BLACK, 0.13));
    paper.circle(b, 0.35, &format!("fill=\"{BLACK}\""));
    paper.text(&text);
    paper.keep_off(a, b);
    true
}

fn has_room(
    paper: &Paper,
    text: &Text<'_>,
    outline: &Area,
    obstacles: &[Area],
    [a, b]: [[f64; 2]; 2],
) -> bool {
    let area = text.area();
    let with_air = area.grown(0.3);
    !outline.overlaps(&area.grown(0.6))
        && !obstacles.iter().any(|o| o.overlaps(&with_air))
        && paper.is_free(&area)
        && paper.has_no_text(&Area::between(a, b).grown(0.1))
}

/// The shortest line from the middle of a side of a text into a thing.
fn leader(text: &Area, outline: &Area) -> [[f64; 2]; 2] {
    let middle = [0, 1].map(|k| 0.5 * (text.min[k] + text.max[k]));
    let starts = [
        [text.min[0], middle[1]],
        [text.max[0], middle[1]],
        [middle[0], text.min[1]],
        [middle[0], text.max[1]],
    ];
    let into = |a: [f64; 2]| {
        [0, 1].map(|k| {
            let inset = INSET.min(0.5 * (outline.max[k] - outline.min[k]));
            a[k].clamp(outline.min[k] + inset, outline.max[k] - inset)
        })
    };
    let length = |a: &[f64; 2]| (into(*a)[0] - a[0]).hypot(into(*a)[1] - a[1]);
    let start = starts.into_iter().min_by(|a, b| length(a).total_cmp(&length(b)));
    let a = start.unwrap_or(middle);
    [a, into(a)]
}
