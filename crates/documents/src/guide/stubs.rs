//! Stubs of bridges in edges that are glued: they are scraped off, or they keep the joint open.

use std::collections::BTreeMap;

use design::{Design, PieceId};
use glam::DVec2;
use shop::Work;
use shop::glue_up::Step;

use crate::prose::count;

/// The side of a part on which a bridge stands, by the way of the edge there, the part on its left.
fn side(along: DVec2) -> &'static str {
    let out = -along.perp();
    match () {
        () if out.x < -0.5 => "left edge",
        () if out.x > 0.5 => "right edge",
        () if out.y < 0.0 => "lower edge",
        () => "upper edge",
    }
}

/// How many stubs a panel has in each of its glued edges.
fn in_glued_edges(work: &Work) -> BTreeMap<&'static str, usize> {
    let mut edges = BTreeMap::new();
    let bridges = work.operations.iter().flat_map(|operation| &operation.bridges);
    for bridge in bridges.filter(|bridge| bridge.is_on_glued_edge) {
        *edges.entry(side(bridge.along)).or_default() += 1;
    }
    edges
}

fn of_piece(works: &[Work], piece: PieceId) -> BTreeMap<&'static str, usize> {
    works.iter().find(|work| work.piece == piece).map(in_glued_edges).unwrap_or_default()
}

/// What is said before anything is glued: which panels have stubs in glued edges. `None` where no panel has any.
pub(super) fn of_all(design: &Design, works: &[Work]) -> Option<String> {
    let stained = works.iter().filter(|work| !in_glued_edges(work).is_empty());
    let names: Vec<String> = stained
        .map(|work| {
            let piece = &design.pieces[work.piece];
            format!("{} ({})", piece.name, piece.number)
        })
        .collect();
    (!names.is_empty()).then(|| {
        format!(
            "Scrape the stubs of bridges (tabs) off flush and square where they stand in edges that are glued: {}. What is left \
             of one keeps the joint open. Check each edge with a square and a straight edge.",
            fit::listed(&names)
        )
    })
}

/// What is said at a step: stubs in the edges that are glued in it.
pub(super) fn of_step(design: &Design, works: &[Work], step: &Step) -> Option<String> {
    let mut told: Vec<String> = Vec::new();
    for id in step.joints() {
        let joint = &design.joints[id];
        for (part, face) in [joint.a, joint.b].into_iter().zip(&joint.faces) {
            let stubs = of_piece(works, design.placed[part].piece);
            let Some(&n) = stubs.get(face.as_str()) else { continue };
            let what = format!("{}: {} in its {face}", design.placed[part].name, count(n, "stub"));
            if !told.contains(&what) {
                told.push(what);
            }
        }
    }
    (!told.is_empty()).then(|| {
        format!(
            "Stubs of bridges (tabs): scrape them flush and square before anything is glued. {}.",
            told.join("; ")
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::tests::demo;

    #[test]
    fn an_edge_is_named_by_the_side_it_looks_to() {
        // Round a part that lies to the left of the way: right along the lower edge, up along the right one.
        let ways = [DVec2::X, DVec2::Y, DVec2::NEG_X, DVec2::NEG_Y].map(side);
        assert_eq!(ways, ["lower edge", "right edge", "upper edge", "left edge"]);
    }

    #[test]
    fn every_stub_in_a_glued_edge_is_told_at_a_step_and_before() {
        let (mut file, design, _) = demo("mangrove");
        let (glue_up, _) = shop::glue_up::glue_up(&design);
        assert_eq!(of_all(&design, &shop::works(&file, &design).0), None);
        file.cutting.process = params::Process::Router;
        file.cutting.holding = params::Holding::Tabs;
        let (works, _) = shop::works(&file, &design);
        let findings = shop::check_process(&file, &design, &works);
        let finding = findings.iter().find(|f| f.code == "bridge-in-glued-edge").unwrap();
        let before = of_all(&design, &works).unwrap();
        assert!(before.contains("flush and square"));
        let steps: Vec<String> =
            glue_up.steps.iter().filter_map(|step| of_step(&design, &works, step)).collect();
        let mut stained = 0;
        for work in works.iter().filter(|work| !in_glued_edges(work).is_empty()) {
            let piece = &design.pieces[work.piece];
            assert!(finding.message.contains(&piece.number), "{}: {finding}", piece.name);
            assert!(before.contains(&format!("{} ({})", piece.name, piece.number)));
            for edge in in_glued_edges(work).keys() {
                let placed = design.placed.iter().filter(|placed| placed.piece == work.piece);
                let told = placed.into_iter().any(|placed| {
                    let start = format!("{}: ", placed.name);
                    let end = format!("in its {edge}");
                    steps
                        .iter()
                        .flat_map(|step| step.split([';', '.']))
                        .any(|told| told.trim().starts_with(&start) && told.ends_with(&end))
                });
                assert!(told, "{} {edge} in {steps:?}", piece.name);
                stained += 1;
            }
        }
        assert!(stained > 0);
    }
}
