//! A second look at an order of gluing that shares no code with the first: material is asked of the parts' own contours,
//! point by point; needles are marched; what stands is found by walking through joints; support by half planes.

use std::collections::BTreeSet;

use design::{Design, PlacedId};
use glam::{DVec2, DVec3};
use plate::{Face, Shape};

use super::super::{GlueUp, Step, StepPlace};

/// Everything that is wrong with an order.
pub(super) fn audit(design: &Design, glue_up: &GlueUp) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut made: BTreeSet<usize> = BTreeSet::new();
    let glued: BTreeSet<usize> =
        (0..design.joints.len()).filter(|&id| design.joints[id].kind.is_glued()).collect();
    let mut in_box: Vec<PlacedId> = Vec::new();
    for (k, step) in glue_up.steps.iter().enumerate() {
        let name = format!("step {}", k + 1);
        let joints = step.feeds.iter().flat_map(|feed| feed.joints.iter().map(|fed| fed.joint));
        for joint in joints {
            if !made.insert(joint) {
                wrong.push(format!("{name}: joint {joint} is made twice"));
            }
        }
        wrong.extend(
            step.unfed.iter().map(|unfed| format!("{name}: joint {} is not fed", unfed.joint)),
        );
        let mut standing = step.standing.clone();
        if step.place == StepPlace::Box {
            if in_box.is_empty() {
                in_box.extend(&step.standing);
            }
            let said: BTreeSet<_> = step.standing.iter().collect();
            if said != in_box.iter().collect() {
                wrong.push(format!("{name}: something else stands"));
            }
            standing.clone_from(&in_box);
            in_box.extend(&step.parts);
        }
        let all: Vec<PlacedId> = standing.iter().chain(&step.parts).copied().collect();
        if !is_joined(design, &all, &made) {
            wrong.push(format!("{name}: it is not all joined"));
        }
        wrong.extend(way_in(design, step, &standing).map(|what| format!("{name}: way in: {what}")));
        for feed in &step.feeds {
            if !feed.is_on_blocks && !stands(design, &all, feed.down) {
                wrong.push(format!("{name}: it falls"));
            }
            for fed in &feed.joints {
                let is_level =
                    fed.seams.iter().all(|s| (s.ends[0] - s.ends[1]).dot(feed.down).abs() < 0.1);
                if !is_level {
                    wrong.push(format!("{name}: joint {} does not lie level", fed.joint));
                }
                if fed.seams.is_empty()
                    || !fed.seams.iter().all(|s| is_reached(design, &all, s.ends, feed.down))
                {
                    wrong.push(format!("{name}: no needle gets to joint {}", fed.joint));
                }
            }
        }
        if step.place == StepPlace::Box && !stands(design, &all, DVec3::NEG_Z) {
            wrong.push(format!("{name}: it falls on its bottom"));
        }
    }
    wrong.extend(glued.difference(&made).map(|joint| format!("joint {joint} is never made")));
    wrong
}

fn is_joined(design: &Design, all: &[PlacedId], made: &BTreeSet<usize>) -> bool {
    let mut seen = vec![all[0]];
    let mut k = 0;
    while k < seen.len() {
        for &id in made {
            let joint = &design.joints[id];
            for (p, q) in [(joint.a, joint.b), (joint.b, joint.a)] {
                if p == seen[k] && all.contains(&q) && !seen.contains(&q) {
                    seen.push(q);
                }
            }
        }
        k += 1;
    }
    seen.len() == all.len()
}

/// Corners of the part's own box.
fn own(design: &Design, id: PlacedId) -> [DVec3; 2] {
    match &design.pieces[design.placed[id].piece].shape {
        Shape::Sheet(plate) => {
            let [lo, hi] = plate.outline.bounds().unwrap();
            [lo.extend(0.0), hi.extend(plate.thickness)]
        }
        Shape::Turned(turned) => {
            let (r, [z0, z1]) = turned.extent();
            [DVec3::new(-r, -r, z0), DVec3::new(r, r, z1)]
        }
    }
}

fn corners(design: &Design, id: PlacedId) -> Vec<DVec3> {
    let [lo, hi] = own(design, id);
    let mut all = Vec::new();
    for x in [lo.x, hi.x] {
        for y in [lo.y, hi.y] {
            all.extend(
                [lo.z, hi.z].map(|z| design.placed[id].pose.transform_point3(DVec3::new(x, y, z))),
            );
        }
    }
    all
}

fn bounds(design: &Design, id: PlacedId) -> [DVec3; 2] {
    let all = corners(design, id);
    [
        all.iter().copied().reduce(DVec3::min).unwrap(),
        all.iter().copied().reduce(DVec3::max).unwrap(),
    ]
}

/// Whether a part has material at a point and a hair around it.
fn is_material(design: &Design, id: PlacedId, p: DVec3) -> bool {
    const HAIR: f64 = 0.35;
    let placed = &design.placed[id];
    let p = placed.pose.inverse().transform_point3(p);
    let Shape::Sheet(plate) = &design.pieces[placed.piece].shape else { return true };
    let flat = p.truncate();
    let around = [DVec2::X, DVec2::Y, -DVec2::X, -DVec2::Y].map(|d| flat + HAIR * d);
    let inside = |contour: &plate::Contour| around.iter().all(|q| contour.winding(*q) != 0);
    if p.z < HAIR || p.z > plate.thickness - HAIR || !inside(&plate.outline) {
        return false;
    }
    !plate.cuts.iter().any(|cut| {
        let below = match cut.face {
            Face::Top => plate.thickness - p.z,
            Face::Bottom => p.z,
        };
        below < cut.depth + HAIR && around.iter().any(|q| cut.contour.winding(*q) != 0)
    })
}

/// What is hit on the way in, going back from the place step by step.
fn way_in(design: &Design, step: &Step, standing: &[PlacedId]) -> Option<String> {
    let Some(way) = step.way else { return Some("there is none".into()) };
    for &m in &step.parts {
        let [lo, hi] = bounds(design, m);
        for &s in standing {
            let [a, b] = bounds(design, s);
            let mut back = 0.0;
            while back < 2500.0 {
                let shift = -way * back;
                let (p, q) = ((lo + shift).max(a), (hi + shift).min(b));
                if (q - p).cmpgt(DVec3::splat(0.7)).all() {
                    for k in 0..343 {
                        let share =
                            DVec3::new(f64::from(k % 7), f64::from(k / 7 % 7), f64::from(k / 49));
                        let at = p + (q - p) * (share + 0.5) / 7.0;
                        if is_material(design, s, at) && is_material(design, m, at - shift) {
                            let names = [m, s].map(|id| &design.placed[id].name);
                            return Some(format!("{} hits {}", names[0], names[1]));
                        }
                    }
                }
                back += if back < 60.0 { 3.0 } else { 17.0 };
            }
        }
    }
    None
}

/// Whether the centre of gravity lies over what it rests on: no line parts it from all bearing corners.
fn stands(design: &Design, all: &[PlacedId], down: DVec3) -> bool {
    let (mut middle, mut mass) = (DVec3::ZERO, 0.0);
    for &id in all {
        let [lo, hi] = bounds(design, id);
        let size = hi - lo;
        let piece = &design.pieces[design.placed[id].piece];
        let m = size.x * size.y * size.z * piece.density_kg_m3.unwrap_or(1100.0);
        middle += 0.5 * (lo + hi) * m;
        mass += m;
    }
    middle /= mass;
    let points: Vec<DVec3> = all.iter().flat_map(|&id| corners(design, id)).collect();
    let lowest = points.iter().map(|p| p.dot(down)).fold(f64::NEG_INFINITY, f64::max);
    let bearing: Vec<DVec3> = points.into_iter().filter(|p| p.dot(down) > lowest - 0.6).collect();
    let flat = |p: DVec3| p - down * p.dot(down);
    let (u, v) = if down.z.abs() > 0.5 {
        (DVec3::X, DVec3::Y)
    } else if down.x.abs() > 0.5 {
        (DVec3::Y, DVec3::Z)
    } else {
        (DVec3::Z, DVec3::X)
    };
    (0..360).all(|deg| {
        let (sin, cos) = f64::from(deg).to_radians().sin_cos();
        let out = u * cos + v * sin;
        bearing.iter().any(|p| (flat(*p) - flat(middle)).dot(out) > 1.0)
    })
}

/// Whether a needle of 60 mm with a bottle of 90 × 40 mm behind gets to every place of a seam, or to one 27 mm beside.
fn is_reached(design: &Design, all: &[PlacedId], [from, to]: [DVec3; 2], down: DVec3) -> bool {
    let (low, high) = (from.min(to) - 180.0, from.max(to) + 180.0);
    let boxes: Vec<[DVec3; 2]> = all
        .iter()
        .map(|&id| bounds(design, id))
        .filter(|[lo, hi]| lo.cmple(high).all() && low.cmple(*hi).all())
        .collect();
    let bench = all
        .iter()
        .flat_map(|&id| corners(design, id))
        .map(|p| p.dot(down))
        .fold(f64::NEG_INFINITY, f64::max);
    let far = |p: DVec3, room: f64| {
        p.dot(down) + room <= bench + 1e-9
            && boxes.iter().all(|[lo, hi]| (p - p.clamp(*lo, *hi)).length() >= room)
    };
    let is_free = |tip: DVec3, way: DVec3| {
        (3..=30).all(|k| far(tip + way * f64::from(k) * 2.0, 1.4))
            && (0..=22).all(|k| far(tip + way * (60.0 + 4.0 * f64::from(k)), 19.0))
    };
    let mut ways = Vec::new();
    for polar in 1..12 {
        for turn in 0..24 {
            let (s, c) = (f64::from(polar) * 15.0_f64.to_radians()).sin_cos();
            let (sin, cos) = (f64::from(turn) * 15.0_f64.to_radians()).sin_cos();
            ways.push(DVec3::new(s * cos, s * sin, c));
        }
    }
    let length = from.distance(to);
    let along = (to - from) / length;
    let pieces = (length / 10.0).ceil().max(1.0);
    let mut reached = Vec::new();
    let mut k = 0.0;
    let mut last = ways[0];
    while k <= pieces {
        let at = from + along * length * k / pieces;
        let serves = |way: &DVec3| {
            // The tip is held just off the corner, on the side that the needle comes from.
            let side = *way - along * way.dot(along);
            let steep = side.abs().to_array().into_iter().any(|v| v >= 0.49);
            let tip = at + side.signum() * (DVec3::ONE - along.abs());
            steep && far(tip, 0.9) && is_free(tip, *way)
        };
        let found = std::iter::once(&last).chain(&ways).find(|way| serves(way)).copied();
        let hit = found.is_some();
        last = found.unwrap_or(last);
        reached.push(hit);
        k += 1.0;
    }
    let reach = (27.0 / (length / pieces)).ceil();
    (0..reached.len()).all(|k| {
        reached.iter().enumerate().any(|(j, hit)| *hit && (j as f64 - k as f64).abs() <= reach)
    })
}
