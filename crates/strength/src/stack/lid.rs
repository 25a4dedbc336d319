//! Lids on the rim.

use design::{JointKind, PlacedId, Role};
use plate::Shape;

use super::channel::partners;
use super::parts::Causes;
use super::{Stack, StackCode, Subject};
use crate::place::bounds_of;

/// A lid must lie on the rim by so much, mm; our judgement: less slips off when it is touched.
const LIES_MM: f64 = 3.0;

pub(super) fn stacks(causes: &Causes<'_>) -> Vec<Stack> {
    let design = causes.design;
    let is_lid = |placed: &PlacedId| design.pieces[design.placed[*placed].piece].role == Role::Lid;
    (0..design.placed.len()).filter(is_lid).filter_map(|lid| rests(causes, lid)).collect()
}

/// On the rim at front and back.
fn rests(causes: &Causes<'_>, lid: PlacedId) -> Option<Stack> {
    let design = causes.design;
    let placed = &design.placed[lid];
    let rim = partners(design, lid, JointKind::Rests).next()?;
    let rim_placed = &design.placed[rim];
    let Shape::Sheet(plate) = &design.pieces[rim_placed.piece].shape else { return None };
    let [lo, hi] = bounds_of(design, lid);
    let laps = plate.cuts.iter().filter(|cut| !cut.depth.is_finite()).filter_map(|cut| {
        let corners =
            cut.contour.bounds()?.map(|p| rim_placed.pose.transform_point3(p.extend(0.0)));
        let (a, b) = (corners[0].min(corners[1]), corners[0].max(corners[1]));
        let is_under = a.x < hi.x && b.x > lo.x;
        is_under.then(|| (a.y - lo.y).min(hi.y - b.y))
    });
    let lap = laps.reduce(f64::min)?;
    let parts = vec![
        causes.cut(lid, "edge of the lid"),
        causes.cut(rim, "edge of the rim's opening"),
        causes.glued("place where it is laid"),
    ];
    let subject = Subject {
        code: StackCode::LidRests,
        words: format!("{} on the rim at front and back", placed.name),
        parameter: placed.parameter.clone(),
    };
    Some(Stack::new(subject, lap, [Some(LIES_MM), None], parts))
}
