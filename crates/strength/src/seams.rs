//! Glued seams: what the panels on both sides do to each.

use std::collections::BTreeMap;

use design::Design;
use params::File;

use crate::material;
use crate::panels::SeamLoad;
use crate::seam::Seam;

/// Peak of the shear stress over the mean in a rectangular section: 3/2 (parabola of the theory of beams; Gere and Goodno,
/// Mechanics of Materials, ch. 5, from memory).
const SHEAR_PEAK: f64 = 1.5;

/// Parts with a glued joint of which nothing is reckoned, each once, in the order of the joints: what such a joint holds is
/// small, or no panel of this theory.
pub(crate) fn left_out<'a>(seams: &[Seam], design: &'a Design) -> Vec<&'a str> {
    let is_left = |(index, joint): &(usize, &design::Joint)| {
        joint.kind.is_glued() && seams.iter().all(|seam| seam.joint != *index)
    };
    let left = design.joints.iter().enumerate().filter(is_left);
    let mut names: Vec<&str> =
        left.map(|(_, joint)| design.placed[joint.a].name.as_str()).collect();
    names.dedup();
    names
}

/// All seams that a panel loads, the weakest first.
///
/// Of a seam of bonded width `s`: peel `σ = 6 M / s² + N / s`, shear `τ = 3/2 · V / s` (stresses of a rectangular section under
/// moment, pull and shear; Gere and Goodno, ch. 5, from memory). `M` is that of the seam clamped alone, an upper bound: a real
/// one turns a little and passes it on. Around a corner both panels have the same moment, so the greater is taken; the pull of
/// one panel and the shear of the other act together.
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
    let sum = |of: fn(&SeamLoad) -> f64| loads.iter().map(|load| of(load)).sum::<f64>();
    let moment_n = loads.iter().map(|load| load.moment_n).fold(0.0, f64::max);
    let (pull, shear) = (sum(|load| load.most.pull_n_mm), sum(|load| load.most.shear_n_mm));
    let certain = [sum(|load| load.hinged.pull_n_mm), sum(|load| load.hinged.shear_n_mm)];
    let hardest = loads.iter().max_by(|a, b| a.moment_n.total_cmp(&b.moment_n))?;
    let [a, b] = [joint.a, joint.b].map(|placed| &design.placed[placed]);
    let sheets = [a, b].map(|part| {
        let sheet = design.pieces[part.piece].sheet.as_ref()?;
        Some(material::of_sheet(file, &design.sheets[sheet]).lasting_stress_dry_mpa)
    });
    let parent = sheets.into_iter().flatten().reduce(f64::min)?;
    Some(Seam {
        joint: index,
        words: format!("{} of {} to {}", joint.faces[0], a.name, b.name),
        parameter: a.parameter.clone(),
        width_mm,
        pull_n_mm: pull,
        shear_n_mm: shear,
        certain_mpa: (certain[0] / width_mm).max(SHEAR_PEAK * certain[1] / width_mm),
        moment_n,
        peel_mpa: 6.0 * moment_n / (width_mm * width_mm) + pull / width_mm,
        shear_mpa: SHEAR_PEAK * shear / width_mm,
        sheet_mpa: parent,
        allowable_mpa: file.strength.joint * parent,
        load: hardest.load.clone(),
    })
}

/// Bonded width that resists turning, mm: of an edge its thickness, the least of the band; the sides of a groove or step
/// help, which is not counted. The edge is the first of the joint.
fn width_mm(design: &Design, index: usize) -> f64 {
    let joint = &design.joints[index];
    let piece = &design.pieces[design.placed[joint.a].piece];
    let sheet = piece.sheet.as_ref().map(|name| &design.sheets[name]);
    joint.width_mm.min(sheet.map_or(f64::INFINITY, |sheet| sheet.band_mm[0]))
}
