//! What is wrong with a design that could be put together: parts that cannot be cut, that overlap,
//! that hang in the air.

use std::collections::BTreeSet;

use findings::{Finding, Grade};
use glam::{DAffine3, DVec2, DVec3};
use plate::{Contour, Cut, Face, Plate, Shape, Tolerance, Turned, arrange};

use crate::draft::{Builder, Draft, DraftId};
use crate::model::Role;

/// All checks. What only follows from a failure that is already known is left out: a maker mends the
/// cause, and the rest is told when it is still there.
pub(crate) fn run(b: &mut Builder<'_>) {
    let known: Vec<String> = b
        .findings
        .iter()
        .filter(|f| f.grade == Grade::Fails)
        .map(|f| f.parameter.clone())
        .collect();
    let is_news = |f: &Finding| {
        !known.iter().any(|k| is_within(k, &f.parameter) || is_within(&f.parameter, k))
    };
    let all = cuttable(&b.drafts).into_iter().chain(overlaps(b)).chain(floating(b));
    let findings: Vec<Finding> = all.filter(is_news).collect();
    b.findings.extend(findings);
}

/// Whether `inner` is `outer` or a parameter below it.
fn is_within(inner: &str, outer: &str) -> bool {
    inner.strip_prefix(outer).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
}

/// Every sheet part must have an arrangement without fatal defects.
fn cuttable(drafts: &[Draft]) -> Vec<Finding> {
    let tolerance = Tolerance::default();
    let mut findings = Vec::new();
    for draft in drafts {
        let Shape::Sheet(plate) = &draft.shape else { continue };
        match arrange(plate, &tolerance) {
            Err(error) => findings.push(
                Finding::fails("part-not-cuttable", &draft.parameter, format!("{}: {error}", draft.name))
                    .with_hint("the place is given in the part's own frame, mm; change the sizes that meet there"),
            ),
            Ok(arrangement) => {
                for defect in arrangement.defects(&tolerance) {
                    let message = format!("{}: {defect}", draft.name);
                    let finding = if defect.is_fatal() {
                        Finding::fails("part-not-cuttable", &draft.parameter, message)
                    } else {
                        Finding::tight("part-doubtful", &draft.parameter, message)
                    };
                    findings.push(finding.with_hint("the place is given in the part's own frame, mm; change the sizes that meet there"));
                }
            }
        }
    }
    findings
}

/// Volumes below this are touch, not overlap, mm³.
const OVERLAP_MM3: f64 = 1e-3;
/// Parts are held against each other this much smaller all round, mm, so that touching faces do not count.
const SHRINK_MM: f64 = 0.005;

/// Pairs of placed parts that share room though no joint lets them touch. Each part is held, as its bounding box or as its round
/// section, against the other's true shape: a pair overlaps only if both ways say so.
fn overlaps(b: &Builder<'_>) -> Vec<Finding> {
    let placed: Vec<DraftId> = (0..b.drafts.len()).filter(|&i| !b.drafts[i].is_spare).collect();
    let joined: BTreeSet<[DraftId; 2]> =
        b.joints.iter().map(|j| [j.a.min(j.b), j.a.max(j.b)]).collect();
    let boxes: Vec<[DVec3; 2]> = b.drafts.iter().map(|d| bounds(&d.shape, &d.pose)).collect();
    let mut findings = Vec::new();
    for (k, &i) in placed.iter().enumerate() {
        for &j in &placed[k + 1..] {
            let (lo, hi) = (boxes[i][0].max(boxes[j][0]), boxes[i][1].min(boxes[j][1]));
            if joined.contains(&[i.min(j), i.max(j)]) {
                continue;
            }
            let is_near = (hi - lo).cmpgt(DVec3::splat(2.0 * SHRINK_MM)).all();
            if is_near && bites(&b.drafts[i], &b.drafts[j]) && bites(&b.drafts[j], &b.drafts[i]) {
                findings.push(overlap_finding(&b.drafts[i], &b.drafts[j], lo, hi));
            }
        }
    }
    findings
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

/// Whether the room of `tool` takes away from `part`.
fn bites(part: &Draft, tool: &Draft) -> bool {
    let to_part = part.pose.inverse() * tool.pose;
    match &part.shape {
        Shape::Sheet(plate) => bites_plate(plate, tool, &to_part),
        Shape::Turned(turned) => bites_turned(turned, tool, &to_part),
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
fn bites_plate(plate: &Plate, tool: &Draft, to_part: &DAffine3) -> bool {
    let [lo, hi] = bounds(&tool.shape, to_part);
    let (z0, z1) = (lo.z.max(0.0) + SHRINK_MM, hi.z.min(plate.thickness) - SHRINK_MM);
    if z0 >= z1 {
        return false;
    }
    let is_upright = to_part.matrix3.z_axis.z.abs() > 0.5;
    let contour = match &tool.shape {
        Shape::Turned(turned) if is_upright => {
            // The tool's own heights that lie within the plate.
            let local = |z: f64| (z - to_part.translation.z) * to_part.matrix3.z_axis.z;
            let (a, c) = (local(z0), local(z1));
            let radius = radius_within(turned, a.min(c), a.max(c)) - SHRINK_MM;
            if radius <= SHRINK_MM {
                return false;
            }
            Contour::circle(to_part.translation.truncate(), radius)
        }
        _ => {
            let (lo, hi) = (lo.truncate() + SHRINK_MM, hi.truncate() - SHRINK_MM);
            if !lo.cmplt(hi).all() {
                return false;
            }
            Contour::rectangle(lo, hi)
        }
    };
    // The room that the tool takes, from the face that is nearer to it.
    let cut = if z0 <= SHRINK_MM {
        Cut::pocket(contour, Face::Bottom, z1)
    } else {
        Cut::pocket(contour, Face::Top, plate.thickness - z0)
    };
    let tolerance = Tolerance::default();
    let volume = |plate: &Plate| arrange(plate, &tolerance).map(|a| a.volume());
    let mut bitten = plate.clone();
    bitten.cuts.push(cut);
    match (volume(plate), volume(&bitten)) {
        (Ok(whole), Ok(left)) => whole - left > OVERLAP_MM3,
        // What cannot be told apart at this place counts as touching; the part itself is checked elsewhere.
        _ => false,
    }
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

/// Parts that neither glue nor contact joins to the bottom. Pipes and equipment may hang.
fn floating(b: &Builder<'_>) -> Vec<Finding> {
    let mut reached: BTreeSet<DraftId> =
        (0..b.drafts.len()).filter(|&i| b.drafts[i].role == Role::Bottom).collect();
    loop {
        let next: Vec<DraftId> = b
            .joints
            .iter()
            .flat_map(|j| [(j.a, j.b), (j.b, j.a)])
            .filter(|(from, to)| reached.contains(from) && !reached.contains(to))
            .map(|(_, to)| to)
            .collect();
        if next.is_empty() {
            break;
        }
        reached.extend(next);
    }
    let may_hang = |role: Role| matches!(role, Role::Equipment | Role::DrainPipe);
    (0..b.drafts.len())
        .filter(|i| !reached.contains(i) && !may_hang(b.drafts[*i].role) && !b.drafts[*i].is_spare)
        .map(|i| {
            let draft = &b.drafts[i];
            Finding::fails(
                "part-floats",
                &draft.parameter,
                format!("{} touches nothing that holds it", draft.name),
            )
            .with_hint("give it something to rest on")
        })
        .collect()
}
