//! Parts that share room.

mod told;

use findings::Finding;
use glam::{DVec3, Vec3Swizzles};
use plate::{Arrangement, Shape};

use crate::draft::{Builder, Draft, DraftId};
use crate::equipment::NO_FREE_PLACE;
use crate::frame::bounds;
use crate::model::Role;
use crate::slice::{Body, Rectangle, rings_at, steps};
use crate::spaces::Layout;

/// Room shared by less than this in any direction, mm, is touch: rounding, or a face on a face.
const TOUCH_MM: f64 = 0.005;
/// Slices that are looked at between two places at which a part's form changes. Between them edges are
/// straight or round, so a shared room that all of them miss is a graze of hundredths of a millimetre.
const SLICES: u8 = 9;

/// Pairs of parts that share room, those that touch by design as well: their touching faces do not count.
/// A part that could not be arranged is left out: it is told of elsewhere.
///
/// A spare is held in its place against all but what stands there instead of it.
pub(crate) fn clashes(
    b: &Builder<'_>,
    layout: &Layout,
    arrangements: &[Option<Arrangement>],
) -> Vec<Finding> {
    let boxes: Vec<[DVec3; 2]> = b.drafts.iter().map(|d| bounds(&d.shape, &d.pose)).collect();
    let bodies: Vec<Option<Body<'_>>> =
        b.drafts.iter().zip(arrangements).map(|(d, a)| body(d, a.as_ref())).collect();
    let mut findings = Vec::new();
    for (i, one) in bodies.iter().enumerate() {
        for (j, other) in bodies.iter().enumerate().skip(i + 1) {
            let room = [boxes[i][0].max(boxes[j][0]), boxes[i][1].min(boxes[j][1])];
            let is_near = (room[1] - room[0]).cmpgt(DVec3::splat(2.0 * TOUCH_MM)).all();
            let is_told = has_no_place(b, i) || has_no_place(b, j);
            let is_made = b.drafts[i].is_only_made || b.drafts[j].is_only_made;
            let grips = b.drafts[i].grips == Some(j) || b.drafts[j].grips == Some(i);
            if !is_near
                || is_made
                || grips
                || never_together(b, i, j)
                || are_one(b, i, j)
                || is_told
            {
                continue;
            }
            if let (Some(one), Some(other)) = (one, other)
                && let Some(room) = shared(one, other, room)
            {
                findings.push(told::finding(b, layout, [i, j], room));
            }
        }
    }
    findings
}

fn body<'a>(draft: &'a Draft, arrangement: Option<&'a Arrangement>) -> Option<Body<'a>> {
    match &draft.shape {
        Shape::Sheet(_) => arrangement.map(|a| Body::of_sheet(a, &draft.pose)),
        Shape::Turned(turned) => Some(Body::of_turned(turned, &draft.pose)),
    }
}

/// Whether two parts stand in one place at different times: leaves of one slot, with their doors.
fn never_together(b: &Builder<'_>, i: DraftId, j: DraftId) -> bool {
    let leaf = |k: DraftId| b.drafts[k].part_of.unwrap_or(k);
    let slot = |k: DraftId| b.drafts[k].spare_for.unwrap_or(k);
    leaf(i) != leaf(j) && slot(leaf(i)) == slot(leaf(j))
}

/// Whether two bodies belong to one piece of equipment: they are simple forms that stand for its real
/// one, and may reach into each other.
fn are_one(b: &Builder<'_>, i: DraftId, j: DraftId) -> bool {
    let whole = |k: DraftId| b.drafts[k].part_of.unwrap_or(k);
    b.drafts[i].role == Role::Equipment
        && b.drafts[j].role == Role::Equipment
        && whole(i) == whole(j)
}

/// Whether no free place was found for it, so that it stands in the way wherever it is: that was said.
fn has_no_place(b: &Builder<'_>, k: DraftId) -> bool {
    let draft = &b.drafts[k];
    let main = draft.part_of.map_or(draft, |main| &b.drafts[main]);
    let is_of_it = |f: &Finding| {
        f.code == NO_FREE_PLACE && f.parameter.strip_prefix(&main.parameter) == Some(".chamber")
    };
    draft.role == Role::Equipment && b.findings.iter().any(is_of_it)
}

/// The room that two parts share within `room`, as far as their slices show it.
fn shared(a: &Body<'_>, b: &Body<'_>, room: [DVec3; 2]) -> Option<[DVec3; 2]> {
    if a.depth_axis() == b.depth_axis()
        && let (Some(one), Some(other)) = (a.turned(), b.turned())
    {
        let off = |p: DVec3| match a.depth_axis() {
            0 => p.yz(),
            1 => p.xz(),
            _ => p.xy(),
        };
        let distance = off(one.1).distance(off(other.1));
        return rings_meet(a, b, distance).then_some(room);
    }
    // Every part can be cut across two of the three axes, so one is left for both.
    let breaks = |axis: usize| {
        let mut breaks = [a.breaks(axis, room), b.breaks(axis, room)].concat();
        breaks.retain(|at| (room[0][axis]..=room[1][axis]).contains(at));
        breaks.extend([room[0][axis], room[1][axis]]);
        breaks.sort_by(f64::total_cmp);
        breaks
    };
    let (axis, breaks) = (0..3)
        .filter(|&axis| axis != a.depth_axis() && axis != b.depth_axis())
        .map(|axis| (axis, breaks(axis)))
        .min_by_key(|(_, breaks)| breaks.len())?;
    let places = breaks.windows(2).filter(|w| w[1] - w[0] > 2.0 * TOUCH_MM).flat_map(|w| {
        let (from, to) = (w[0] + TOUCH_MM, w[1] - TOUCH_MM);
        (0..SLICES).map(move |i| from + (to - from) * f64::from(i) / f64::from(SLICES - 1))
    });
    let found = places.flat_map(|at| {
        let (one, other) = (a.slice(axis, at), b.slice(axis, at));
        common(&one, &other).map(|rectangle| box_of(axis, at, rectangle)).collect::<Vec<_>>()
    });
    found.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
}

/// What rectangles of two parts share, where it is more than touch.
fn common<'a>(
    one: &'a [Rectangle],
    other: &'a [Rectangle],
) -> impl Iterator<Item = Rectangle> + 'a {
    let pairs = one.iter().flat_map(move |a| other.iter().map(move |b| (a, b)));
    pairs
        .map(|(a, b)| [0, 1].map(|k| [a[k][0].max(b[k][0]), a[k][1].min(b[k][1])]))
        .filter(|sides| sides.iter().all(|[from, to]| to - from > TOUCH_MM))
}

/// A rectangle in the plane across `axis` as a flat box of the sump.
fn box_of(axis: usize, at: f64, rectangle: Rectangle) -> [DVec3; 2] {
    [0, 1].map(|end| {
        let [p, q] = rectangle.map(|side| side[end]);
        match axis {
            0 => DVec3::new(at, p, q),
            1 => DVec3::new(p, at, q),
            _ => DVec3::new(p, q, at),
        }
    })
}

/// Whether two turned parts with parallel axes this far apart share room.
fn rings_meet(a: &Body<'_>, b: &Body<'_>, distance: f64) -> bool {
    let (Some((one, _)), Some((other, _))) = (a.turned(), b.turned()) else { return false };
    steps(one).into_iter().any(|step| {
        // The step in the sump, then in the frame of the other part.
        let sump = step.map(|z| a.depth_at(z));
        let [from, to] = sump.map(|at| b.depth_of(at));
        let (from, to) = (from.min(to), from.max(to));
        let rings = rings_at(one, 0.5 * (step[0] + step[1]));
        steps(other).into_iter().any(|[low, high]| {
            let shared = high.min(to) - low.max(from);
            shared > TOUCH_MM
                && rings_at(other, 0.5 * (low + high)).iter().any(|b| {
                    rings.iter().any(|a| {
                        let apart = distance >= a[1] + b[1] - TOUCH_MM;
                        let within = distance + b[1] <= a[0] + TOUCH_MM;
                        let around = distance + a[1] <= b[0] + TOUCH_MM;
                        !(apart || within || around)
                    })
                })
        })
    })
}
