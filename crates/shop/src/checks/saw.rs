//! What a panel saw cannot do: anything but straight cuts that go right through.

use design::PieceId;
use findings::Finding;

use super::Shop;
use crate::work::{CutPath, OperationKind, is_sawable};

pub(super) fn check(shop: &Shop<'_>) -> Vec<Finding> {
    const HINT: &str = "let these parts be routed, or give the saw only the plain ones and have the rest made by hand";
    let kinds = [
        (OperationKind::Pocket, "grooves, steps or pockets"),
        (OperationKind::Hole, "holes, which are drilled"),
        (OperationKind::Inside, "inside cuts"),
        (OperationKind::Engrave, "engraving"),
    ];
    let mut findings = Vec::new();
    let mut tell = |what: &str, parts: &[PieceId]| {
        if parts.is_empty() {
            return;
        }
        let message =
            format!("a panel saw makes no {what}, as these parts have: {}", shop.names(parts));
        findings.push(
            Finding::fails("not-for-a-saw", &shop.parameter, message)
                .with_source("a panel saw makes straight cuts that go right through")
                .with_hint(HINT),
        );
    };
    tell("outline that is round or goes inwards", &shop.parts(is_odd_outline));
    for (kind, what) in kinds {
        tell(what, &shop.parts_with(kind));
    }
    findings
}

fn is_odd_outline(operation: &crate::work::Operation) -> bool {
    let CutPath::Closed(edge) = &operation.edge else { return false };
    operation.kind == OperationKind::Outline && !is_sawable(edge)
}
