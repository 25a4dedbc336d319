//! Parts that share room.

use std::collections::BTreeSet;

use findings::Finding;
use glam::{DAffine3, DVec2, DVec3};
use plate::{Contour, Cut, Face, Plate, Shape, Tolerance, Turned, arrange};

use crate::draft::{Builder, Draft, DraftId};
use crate::model::Role;

/// Volumes below this are touch, not overlap, mm³.
const OVERLAP_MM3: f64 = 1e-3;
/// Parts are held against each other this much smaller all round, mm, so that touching faces do not count.
const SHRINK_MM: f64 = 0.005;

/// Pairs of parts that share room. Each part is held, as its bounding box or as its round section,
/// against the other's true shape: a pair overlaps only if both ways say so. Parts that touch by design
/// are held against each other as well: their touching faces do not count.
///
/// A spare is held in its place against all but what stands there instead of it.
pub(crate) fn clashes(b: &Builder<'_>) -> Vec<Finding> {
    let boxes: Vec<[DVec3; 2]> = b.drafts.iter().map(|d| bounds(&d.shape, &d.pose)).collect();
    let joined: BTreeSet<[DraftId; 2]> =
        b.joints.iter().map(|j| [j.a.min(j.b), j.a.max(j.b)]).collect();
    let mut findings = Vec::new();
    for i in 0..b.drafts.len() {
        for j in i + 1..b.drafts.len() {
            let (lo, hi) = (boxes[i][0].max(boxes[j][0]), boxes[i][1].min(boxes[j][1]));
            let is_near = (hi - lo).cmpgt(DVec3::splat(2.0 * SHRINK_MM)).all();
            if !is_near
                || never_together(b, i, j)
                || (joined.contains(&[i, j]) && is_notched(b, i, j))
            {
                continue;
            }
            let (one, other) = (&b.drafts[i], &b.drafts[j]);
            match (bites(one, other), bites(other, one)) {
                (Some(false), _) | (_, Some(false)) => {}
                (Some(true), Some(true)) => findings.push(overlap_finding(one, other, lo, hi)),
                _ => findings.push(not_told(one, other)),
            }
        }
    }
    findings
}

/// Whether two parts stand in one place at different times: leaves of one slot, with their doors.
fn never_together(b: &Builder<'_>, i: DraftId, j: DraftId) -> bool {
    let owner = |k: DraftId| {
        // A door with its screws belongs to the leaf whose parameter its own begins with.
        let of_leaf = |leaf: &Draft| {
            leaf.role == Role::Leaf && b.drafts[k].parameter == format!("{}.door", leaf.parameter)
        };
        b.drafts.iter().position(of_leaf).unwrap_or(k)
    };
    let (i, j) = (owner(i), owner(j));
    let slot = |k: DraftId| b.drafts[k].spare_for.unwrap_or(k);
    i != j && slot(i) == slot(j)
}

/// A leaf is notched around the stop of its printed channel, which a bounding box does not tell.
fn is_notched(b: &Builder<'_>, i: DraftId, j: DraftId) -> bool {
    [i, j].iter().any(|&k| b.drafts[k].role == Role::GuideChannel)
}

fn not_told(a: &Draft, c: &Draft) -> Finding {
    let message = format!(
        "whether {} and {} share room could not be told: their edges lie too close together",
        a.name, c.name
    );
    Finding::not_checked("clash-not-checked", &a.parameter, message)
        .with_hint("move one of them by a tenth of a millimetre")
}

fn overlap_finding(a: &Draft, c: &Draft, lo: DVec3, hi: DVec3) -> Finding {
    // The part that is easier to move is the one to speak of.
    let (mover, other) = if a.role.is_bought() || (a.loose.is_some() && c.loose.is_none()) {
        (a, c)
    } else {
        (c, a)
    };
    let size = hi - lo;
    let message = format!(
        "{} and {} share room: {:.1} × {:.1} × {:.1} mm near [{:.0}, {:.0}, {:.0}]",
        mover.name, other.name, size.x, size.y, size.z, lo.x, lo.y, lo.z
    );
    Finding::fails("parts-overlap", &mover.parameter, message)
        .with_limit(-size.min_element(), 0.0, "mm")
        .with_hint(format!(
            "move or shrink one of them; the other is given by `{}`",
            other.parameter
        ))
}

/// Whether the room of `tool` takes away from `part`; `None` when that cannot be told.
fn bites(part: &Draft, tool: &Draft) -> Option<bool> {
    let to_part = part.pose.inverse() * tool.pose;
    match &part.shape {
        Shape::Sheet(plate) => {
            // Edges that nearly meet are refused by the arrangement: a slightly smaller tool tells.
            let shrinks = [1.0, 3.0, 7.0].map(|times| times * SHRINK_MM);
            shrinks.into_iter().find_map(|shrink| bites_plate(plate, tool, &to_part, shrink))
        }
        Shape::Turned(turned) => Some(bites_turned(turned, tool, &to_part)),
    }
}

/// Whether the tool reaches into the rings of material of a turned body, looked at height by height.
fn bites_turned(part: &Turned, tool: &Draft, to_part: &DAffine3) -> bool {
    let [lo, hi] = bounds(&tool.shape, to_part);
    let axis = to_part.matrix3.z_axis.z;
    let tool_round = match &tool.shape {
        Shape::Turned(turned) if axis.abs() > 0.5 => Some(turned),
        _ => None,
    };
    let local = |z: f64| (z - to_part.translation.z) * axis;
    let mut heights: Vec<f64> = part.profile.iter().map(|p| p.y).chain([lo.z, hi.z]).collect();
    heights.extend(
        tool_round.iter().flat_map(|t| &t.profile).map(|p| to_part.translation.z + p.y * axis),
    );
    heights.retain(|&z| z >= lo.z && z <= hi.z);
    heights.sort_by(f64::total_cmp);
    heights
        .windows(2)
        .filter(|w| w[1] - w[0] > 2.0 * SHRINK_MM)
        .flat_map(|w| [w[0] + SHRINK_MM, w[1] - SHRINK_MM])
        .any(|z| {
            let (nearest, farthest) = match tool_round {
                Some(round) => {
                    let (d, r) = (
                        to_part.translation.truncate().length(),
                        rings_at(round, local(z)).last().map_or(0.0, |r| r[1]),
                    );
                    ((d - r).max(0.0), d + r)
                }
                None => {
                    let (lo, hi) = (lo.truncate(), hi.truncate());
                    (DVec2::ZERO.clamp(lo, hi).length(), lo.abs().max(hi.abs()).length())
                }
            };
            rings_at(part, z)
                .iter()
                .any(|ring| nearest < ring[1] - SHRINK_MM && farthest > ring[0] + SHRINK_MM)
        })
}

/// The rings of material of a turned body at one height: inner and outer radii, outwards.
fn rings_at(turned: &Turned, z: f64) -> Vec<[f64; 2]> {
    let crosses = |[p, q]: [DVec2; 2]| {
        let is_across = (p.y <= z) != (q.y <= z);
        is_across.then(|| p.x + (q.x - p.x) * (z - p.y) / (q.y - p.y))
    };
    let mut radii: Vec<f64> = turned.sides().filter_map(crosses).collect();
    radii.sort_by(f64::total_cmp);
    radii.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
}

/// Greatest radius of a turned body between two heights.
fn radius_within(turned: &Turned, from: f64, to: f64) -> f64 {
    let breaks = turned.profile.iter().map(|p| p.y).filter(|&y| from < y && y < to);
    let heights = [from, to].into_iter().chain(breaks.flat_map(|y| [y - SHRINK_MM, y + SHRINK_MM]));
    heights.filter_map(|z| rings_at(turned, z).last().map(|ring| ring[1])).fold(0.0, f64::max)
}

/// Whether a through-going cut of the tool's outline, at the heights that it shares with the plate, takes material.
fn bites_plate(plate: &Plate, tool: &Draft, to_part: &DAffine3, shrink: f64) -> Option<bool> {
    let [lo, hi] = bounds(&tool.shape, to_part);
    let (z0, z1) = (lo.z.max(0.0) + shrink, hi.z.min(plate.thickness) - shrink);
    if z0 >= z1 {
        return Some(false);
    }
    let is_upright = to_part.matrix3.z_axis.z.abs() > 0.5;
    let contour = match &tool.shape {
        Shape::Turned(turned) if is_upright => {
            // The tool's own heights that lie within the plate.
            let local = |z: f64| (z - to_part.translation.z) * to_part.matrix3.z_axis.z;
            let (a, c) = (local(z0), local(z1));
            let radius = radius_within(turned, a.min(c), a.max(c)) - shrink;
            if radius <= shrink {
                return Some(false);
            }
            Contour::circle(to_part.translation.truncate(), radius)
        }
        _ => {
            let (lo, hi) = (lo.truncate() + shrink, hi.truncate() - shrink);
            if !lo.cmplt(hi).all() {
                return Some(false);
            }
            Contour::rectangle(lo, hi)
        }
    };
    // The room that the tool takes, from the face that is nearer to it.
    let cut = if z0 <= shrink {
        Cut::pocket(contour, Face::Bottom, z1)
    } else {
        Cut::pocket(contour, Face::Top, plate.thickness - z0)
    };
    let tolerance = Tolerance::default();
    let volume = |plate: &Plate| arrange(plate, &tolerance).map(|a| a.volume());
    let mut bitten = plate.clone();
    bitten.cuts.push(cut);
    Some(volume(plate).ok()? - volume(&bitten).ok()? > OVERLAP_MM3)
}

/// Least and greatest corner of a shape in a pose along the axes.
pub(crate) fn bounds(shape: &Shape, pose: &DAffine3) -> [DVec3; 2] {
    let (lo, hi) = match shape {
        Shape::Sheet(plate) => {
            let [lo, hi] = plate.outline.bounds().unwrap_or([DVec2::ZERO; 2]);
            (lo.extend(0.0), hi.extend(plate.thickness))
        }
        Shape::Turned(turned) => {
            let (r, [z0, z1]) = turned.extent();
            (DVec3::new(-r, -r, z0), DVec3::new(r, r, z1))
        }
    };
    let (p, q) = (pose.transform_point3(lo), pose.transform_point3(hi));
    [p.min(q), p.max(q)]
}
