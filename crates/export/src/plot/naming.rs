//! Names in things, or beside them with a leader.

use super::paper::{Area, BLACK, Paper, Text, stroke};

/// From a name in its thing to the thing's sides, mm.
const CLEAR: f64 = 0.4;
/// A leader ends so far within a thing, mm.
const INSET: f64 = 1.2;
/// A name that reads upwards is as bad as so much more leader, mm.
const TURNED: f64 = 4.0;
/// From one place that is tried to the next, mm.
const STEP: f64 = 0.8;

/// Shares of a thing's height and length at which its name may stand: the middle first.
const SHARES: [f64; 13] =
    [0.5, 0.42, 0.58, 0.35, 0.65, 0.28, 0.72, 0.2, 0.8, 0.13, 0.87, 0.07, 0.93];

/// Whether there was room in it, off all lines and off the edges of what else stands there.
pub(super) fn name_in(
    paper: &mut Paper,
    name: &str,
    size: f64,
    outline: &Area,
    bodies: &[Area],
) -> bool {
    let [[x0, y0], [x1, y1]] = [outline.min, outline.max];
    let within = Area { min: [x0 + CLEAR, y0], max: [x1 - CLEAR, y1] };
    let level = Text::new(name, [0.0, 0.0], size).middle();
    let is_free = |text: &Text<'_>| {
        let area = text.area();
        area.is_within(&within)
            && paper.is_free(&area)
            && bodies.iter().all(|body| {
                // On a smaller thing that stands on this one it would read as the name of that.
                let is_on_it = body.is_within(outline) && !outline.is_within(body);
                !area.overlaps(body) || (area.is_within(body) && !is_on_it)
            })
    };
    for text in [level, level.turned()] {
        for across in SHARES {
            for share in SHARES {
                let at = [x0 + across * (x1 - x0), y0 + share * (y1 - y0)];
                // Half of what letters reach up less what they reach down.
                let down = 0.27 * size;
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

/// Where a text may stand that belongs to a thing, with a leader.
#[derive(Clone, Copy, Debug)]
pub(super) struct Near<'a> {
    /// Of the letters.
    pub(super) size: f64,
    /// The thing.
    pub(super) outline: &'a Area,
    /// The text stays in there.
    pub(super) inside: &'a Area,
    /// The text stays off these.
    pub(super) off: &'a [Area],
    /// Most length of the leader.
    pub(super) longest: f64,
    /// Whether the leader ends in a dot.
    pub(super) has_dot: bool,
}

/// Whether there was room beside it, over or under it: where the leader is shortest.
pub(super) fn name_near(paper: &mut Paper, name: &str, near: &Near<'_>) -> bool {
    let Near { size: letters, outline, inside, off, longest, has_dot } = *near;
    let level = Text::new(name, [0.0; 2], letters).middle().on_patch();
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
                if is_better && has_room(paper, &text, outline, off, ends) {
                    best = Some((cost, text, ends));
                }
            }
        }
    }
    let Some((_, text, [a, b])) = best else { return false };
    paper.line(a, b, &stroke(BLACK, 0.13));
    if has_dot {
        paper.circle(b, 0.35, &format!("fill=\"{BLACK}\""));
    }
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
