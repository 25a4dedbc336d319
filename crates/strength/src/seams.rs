//! Glued seams: what the panels on both sides do to each.

use std::collections::BTreeMap;

use design::{Design, Placed, Role};
use params::File;

use crate::panels::{SeamLoad, Worst};
use crate::seam::{Seam, SeamStress};
use crate::{ladder, material};

/// Peak of the shear stress over the mean in a rectangular section: 3/2 (parabola of the theory of beams; Gere and Goodno,
/// Mechanics of Materials, ch. 5, from memory).
const SHEAR_PEAK: f64 = 1.5;

/// Parts with a glued joint of which nothing is reckoned, each once, in the order of the joints: what such a joint holds is
/// small, or no panel of this theory.
pub(crate) fn left_out<'a>(seams: &[Seam], design: &'a Design) -> Vec<&'a Placed> {
    let is_left = |(index, joint): &(usize, &design::Joint)| {
        joint.kind.is_glued() && seams.iter().all(|seam| seam.joint != *index)
    };
    let left = design.joints.iter().enumerate().filter(is_left);
    let mut parts: Vec<&Placed> = left.map(|(_, joint)| &design.placed[joint.a]).collect();
    // Several of a kind bear one name: they are told once.
    parts.dedup_by(|a, b| a.name == b.name);
    parts
}

/// All seams that a panel loads, the weakest first.
///
/// Of a seam of bonded width `s`: peel `σ = 6 M / s² + N / s`, shear `τ = 3/2 · V / s` (stresses of a rectangular section under
/// moment, pull and shear; Gere and Goodno, ch. 5, from memory). `M` is that of the seam clamped alone, an upper bound: a real
/// one turns a little and passes it on. Around a corner both panels have the same moment, so the greater is taken; the pull of
/// one panel and the shear of the other act together. Beside the bound stands an estimate, [`shared`].
///
/// The limit is a share of what the sheet may carry for years dry, not wet: tests of joints state theirs by the strength of dry
/// sheet, so that the share takes in what water and years do to a joint (our judgement). For cast acrylic 30 % of 5 MPa is 1.5
/// MPa at 23 °C; common practice is 1 to 2 MPa.
pub(crate) fn seams(file: &File, design: &Design, loads: &[SeamLoad]) -> Vec<Seam> {
    let mut by_joint: BTreeMap<usize, Vec<&SeamLoad>> = BTreeMap::new();
    for load in loads {
        by_joint.entry(load.joint).or_default().push(load);
    }
    let mut seams: Vec<Seam> = by_joint
        .into_iter()
        .filter_map(|(joint, loads)| seam(file, design, joint, &loads))
        .collect();
    seams.sort_by(|a, b| a.factor().total_cmp(&b.factor()));
    seams
}

fn seam(file: &File, design: &Design, index: usize, loads: &[&SeamLoad]) -> Option<Seam> {
    let joint = &design.joints[index];
    let width_mm = width_mm(design, index);
    let all: Vec<&Worst> = loads.iter().map(|load| &load.all).collect();
    let years: Vec<&Worst> = loads.iter().filter_map(|load| load.years.as_ref()).collect();
    let sum = |of: fn(&Worst) -> f64| all.iter().map(|load| of(load)).sum::<f64>();
    let certain = [sum(|load| load.hinged.pull_n_mm), sum(|load| load.hinged.shear_n_mm)];
    let [a, b] = [joint.a, joint.b].map(|placed| &design.placed[placed]);
    let sheets = [a, b].map(|part| {
        let sheet = design.pieces[part.piece].sheet.as_ref()?;
        let facts = material::of_sheet(file, &design.sheets[sheet]);
        Some((facts.lasting_stress_dry_mpa, facts.strength_mpa))
    });
    let weaker = sheets.into_iter().flatten().reduce(|a, b| if b.0 < a.0 { b } else { a });
    let (sheet_mpa, strength_mpa) = weaker?;
    let is_corner = [a, b]
        .iter()
        .all(|part| matches!(design.pieces[part.piece].role, Role::Wall | Role::Bottom));
    let most = stress(&all, width_mm, is_corner)?;
    Some(Seam {
        joint: index,
        words: format!("{} of {} to {}", joint.faces[0], a.name, b.name),
        parameter: a.parameter.clone(),
        width_mm,
        years: stress(&years, width_mm, is_corner),
        certain_mpa: (certain[0] / width_mm).max(SHEAR_PEAK * certain[1] / width_mm),
        sheet_mpa,
        sheet_brief_mpa: ladder::limit(sheet_mpa, strength_mpa, most.duration),
        most,
        allowable_mpa: file.strength.joint * sheet_mpa,
    })
}

/// What the panels on both sides do to a seam together; `None` without any.
fn stress(loads: &[&Worst], width_mm: f64, is_corner: bool) -> Option<SeamStress> {
    let sum = |of: fn(&Worst) -> f64| loads.iter().map(|load| of(load)).sum::<f64>();
    let hardest = loads.iter().max_by(|a, b| a.moment_n.total_cmp(&b.moment_n))?;
    let moment_n = hardest.moment_n;
    let shared_moment_n = match loads {
        [a, b] if is_corner => shared([a, b].map(|load| (load.moment_n, load.stiffness_n))),
        _ => None,
    };
    let shared_moment_n = shared_moment_n.unwrap_or(moment_n);
    let (pull_n_mm, shear_n_mm) =
        (sum(|load| load.most.pull_n_mm), sum(|load| load.most.shear_n_mm));
    let peel = |moment: f64| 6.0 * moment / (width_mm * width_mm) + pull_n_mm / width_mm;
    Some(SeamStress {
        pull_n_mm,
        shear_n_mm,
        moment_n,
        shared_moment_n,
        peel_mpa: peel(moment_n),
        shared_peel_mpa: peel(shared_moment_n),
        shear_mpa: SHEAR_PEAK * shear_n_mm / width_mm,
        load: hardest.load.clone(),
        duration: hardest.duration,
    })
}

/// The moment at a corner whose two panels turn together, from the moment of each if it were clamped there and its stiffness against
/// turning: `M = (M₁ K₂ + M₂ K₁) / (K₁ + K₂)`. One step of moment distribution (H. Cross, Analysis of continuous frames by
/// distributing fixed-end moments, Trans. ASCE 96, 1932, from memory); the Portland Cement Association's Rectangular Concrete Tanks
/// corrects the moments of walls with fixed edges in the same way, "to allow for a certain rotation about the vertical edges". `K`
/// is that of both ends of a panel turning alike, exact where both corners of a box are alike. An estimate: moments and angles
/// are taken where each is greatest, and differ along the edge.
fn shared(sides: [(f64, Option<f64>); 2]) -> Option<f64> {
    let [(moment_a, stiffness_a), (moment_b, stiffness_b)] = sides;
    let (a, b) = (stiffness_a?, stiffness_b?);
    Some((moment_a * b + moment_b * a) / (a + b))
}

/// Bonded width that resists turning, mm: of an edge its thickness, the least of the band; the sides of a groove or step
/// help, which is not counted. The edge is the first of the joint.
fn width_mm(design: &Design, index: usize) -> f64 {
    let joint = &design.joints[index];
    let piece = &design.pieces[design.placed[joint.a].piece];
    let sheet = piece.sheet.as_ref().map(|name| &design.sheets[name]);
    joint.width_mm.min(sheet.map_or(f64::INFINITY, |sheet| sheet.band_mm[0]))
}

#[cfg(test)]
mod tests;
