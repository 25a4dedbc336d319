//! Names of what stands and hangs in the chambers.

use design::Role;

use super::Sump;
use super::cuts::Cut;
use super::frame::{Frame, rim_mm};
use super::leaves;
use super::parts::Part;
use super::things::{PIPE_OVER_RIM, here};
use crate::plot::naming::{Near, name_in, name_near};
use crate::plot::paper::{Area, Paper};

const SIZE: f64 = 2.2;
/// Over the rim names reach so far past the ends of the box, mm.
const OVERHANG: f64 = 8.0;
/// Leaders are at most so long, mm: where that can be, and at worst.
const NEAR: f64 = 16.0;
const FAR: f64 = 60.0;

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
            && name_in(paper, &thing.name, SIZE, &outline, bodies))
            || [(&all[..], NEAR), (&leaves[..], NEAR), (&all[..], FAR), (&[], FAR)]
                .into_iter()
                .any(|(off, longest)| {
                    let near = Near {
                        size: SIZE,
                        outline: &outline,
                        inside: &inside,
                        off,
                        longest,
                        has_dot: true,
                    };
                    name_near(paper, &thing.name, &near)
                });
        !is_named
    });
    things.into_iter().map(|thing: Part| thing.name).collect()
}
