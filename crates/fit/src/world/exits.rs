//! How one gets out: past the rim, then out of the cabinet.

use design::{Design, Opening, Role, Surroundings};
use glam::{DVec2, DVec3};
use plate::{Arrangement, Shape, Tolerance, arrange};

use super::{Door, Exits, Origin, Thing, Window};

/// A rim that stands into the box by more than this beside an opening is notched there, mm.
const NOTCH_MM: f64 = 0.01;

pub(super) fn exits(design: &Design, things: &[Thing]) -> Exits {
    let of_role = |role: Role| {
        things.iter().filter(move |thing| match thing.origin {
            Origin::Placed(id) => design.pieces[design.placed[id].piece].role == role,
            _ => false,
        })
    };
    let top = |z: f64, thing: &Thing| z.max(thing.bounds[1].z);
    let rim_z = of_role(Role::Wall).chain(of_role(Role::Rim)).fold(design.outside.z, top);
    let walls: Vec<[DVec3; 2]> = of_role(Role::Wall).map(|thing| thing.bounds).collect();
    let open_box = window(inside(design, &walls), rim_z);
    let rims: Vec<&Thing> = of_role(Role::Rim).collect();
    let rim = match rims.as_slice() {
        [rim] => rim_windows(design, rim, &open_box).unwrap_or_else(|| vec![open_box]),
        _ => vec![open_box],
    };
    let around = design.surroundings.as_ref();
    let doors = around.map_or_else(Vec::new, |s| s.openings.iter().map(door).collect());
    Exits { rim_z, rim, doors, room: room(design, around) }
}

/// The box's clear opening between its walls.
fn inside(design: &Design, walls: &[[DVec3; 2]]) -> [DVec2; 2] {
    let (mut lo, mut hi) = (DVec2::ZERO, design.outside.truncate());
    let middle = 0.5 * hi;
    for [from, to] in walls {
        // A wall is thin across.
        let k = usize::from(to.x - from.x > to.y - from.y);
        if to[k] < middle[k] {
            lo[k] = lo[k].max(to[k]);
        } else {
            hi[k] = hi[k].min(from[k]);
        }
    }
    [lo, hi]
}

fn window([lo, hi]: [DVec2; 2], z: f64) -> Window {
    let (middle, half) = (0.5 * (lo + hi), 0.5 * (hi - lo));
    Window { centre: middle.extend(z), u: DVec3::X, v: DVec3::Y, half_u: half.x, half_v: half.y }
}

/// Rectangles around all openings of the rim; `None` when its openings cannot be told one from another.
fn rim_windows(design: &Design, rim: &Thing, open_box: &Window) -> Option<Vec<Window>> {
    let Origin::Placed(id) = rim.origin else { return None };
    let placed = &design.placed[id];
    let Shape::Sheet(plate) = &design.pieces[placed.piece].shape else { return None };
    let arrangement = arrange(plate, &Tolerance::default()).ok()?;
    let half = DVec2::new(open_box.half_u, open_box.half_v) - NOTCH_MM;
    let middle = open_box.centre.truncate();
    let in_sump = |[lo, hi]: [DVec2; 2]| {
        let ends = [lo, hi].map(|p| placed.pose.transform_point3(p.extend(0.0)).truncate());
        [ends[0].min(ends[1]), ends[0].max(ends[1])]
    };
    let mut windows = Vec::new();
    for cell in openings(&arrangement) {
        let [lo, hi] = in_sump(cell.bounds);
        if cell.is_outside {
            // The rim's outer edge: where it comes within the box, the gap beside it is an opening, too.
            let is_within = (lo - middle).abs().cmplt(half).all();
            if is_within || (hi - middle).abs().cmplt(half).all() {
                return None;
            }
        } else {
            windows.push(window([lo, hi], rim.bounds[1].z));
        }
    }
    Some(windows)
}

/// An opening of a sheet, or one edge of what is outside it.
struct Hole {
    bounds: [DVec2; 2],
    is_outside: bool,
}

fn openings(arrangement: &Arrangement) -> Vec<Hole> {
    let mut holes: Vec<Hole> = Vec::new();
    let empty = [DVec2::INFINITY, DVec2::NEG_INFINITY];
    let mut of_cell = vec![empty; arrangement.cells.len()];
    for edge in &arrangement.edges {
        let [lo, hi] = arrangement.segment(edge).bounds();
        for cell in [edge.left, edge.right] {
            if cell == 0 {
                holes.push(Hole { bounds: [lo, hi], is_outside: true });
            } else {
                of_cell[cell] = [of_cell[cell][0].min(lo), of_cell[cell][1].max(hi)];
            }
        }
    }
    let cells = of_cell.into_iter().zip(&arrangement.cells).skip(1);
    let through = cells.filter(|(_, height)| height.is_none());
    holes.extend(through.map(|(bounds, _)| Hole { bounds, is_outside: false }));
    holes
}

fn door(opening: &Opening) -> Door {
    let [lo, hi] = opening.gap;
    let out = opening.out;
    let (middle, half) = (0.5 * (lo + hi), 0.5 * (hi - lo));
    let (u, v) = (DVec3::Z.cross(out), DVec3::Z);
    let centre = middle + out * half.dot(out.abs());
    let window = Window { centre, u, v, half_u: half.dot(u.abs()), half_v: half.dot(v.abs()) };
    Door { window, out, beyond: out.dot(centre) }
}

/// Nothing need go farther than this: the inside of the cabinet with room for the largest part in front of each opening, or
/// room for the largest part around and above a sump that stands free.
fn room(design: &Design, around: Option<&Surroundings>) -> [DVec3; 2] {
    let far = design.outside.length();
    let Some(around) = around else {
        let beside = DVec3::new(far, far, 0.0);
        return [-beside, design.outside + DVec3::splat(far)];
    };
    let [mut lo, mut hi] = around.inside;
    if !around.has_ceiling {
        hi.z += far;
    }
    for opening in &around.openings {
        let ends = opening.gap.map(|p| p + far * opening.out);
        lo = lo.min(opening.gap[0]).min(ends[0]).min(ends[1]);
        hi = hi.max(opening.gap[1]).max(ends[0]).max(ends[1]);
    }
    [lo, hi]
}
