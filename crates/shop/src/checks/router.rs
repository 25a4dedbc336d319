//! What a round cutter leaves, and what slips under it.

use design::PieceId;
use findings::Finding;
use glam::DVec2;
use params::Holding;
use plate::Contour;

use super::Shop;
use crate::work::{CutPath, Operation, OperationKind, Work, longest_unheld_mm};

/// Smaller parts slip under vacuum, mm²: a square of 100 mm (our judgement).
const HELD_MM2: f64 = 10_000.0;
/// Narrower parts slip however long they are, mm (our judgement).
const HELD_MM: f64 = 40.0;
/// A cutter cuts up to so many times its diameter deep, of one with a long edge.
const LONGEST_EDGE: f64 = 4.5;
/// Narrower strips between cuts do not hold bridges, mm (our judgement).
const LEAST_STRIP_MM: f64 = 3.0;
/// Longer stretches of an edge without a bridge are told, mm (our judgement).
const UNHELD_MM: f64 = 500.0;

pub(super) fn check(shop: &Shop<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(slips(shop));
    findings.extend(bridges(shop));
    findings.extend(shop.too_thick(
        LONGEST_EDGE * shop.machine.width_mm,
        "a cutter this wide",
        "a maker's brief on routing acrylic: the cutting edge is at most three times the cutter's diameter long, 4.5 times for solid carbide",
        "take a wider cutter (`cutting.tool`)",
    ));
    findings
}

fn slips(shop: &Shop<'_>) -> Option<Finding> {
    if shop.file.cutting.holding != Holding::Vacuum {
        return None;
    }
    let is_small = |work: &&&Work| {
        let narrow = work.pattern.through.first().and_then(Contour::bounds);
        let narrow = narrow.is_some_and(|[lo, hi]| (hi - lo).min_element() < HELD_MM);
        work.pattern.area_mm2() < HELD_MM2 || narrow
    };
    let small: Vec<PieceId> = shop.works.iter().filter(is_small).map(|work| work.piece).collect();
    if small.is_empty() {
        return None;
    }
    let message = format!(
        "vacuum may not hold small and narrow parts while they are cut out: {}",
        shop.names(&small)
    );
    Some(
        Finding::tight("small-part-under-vacuum", "cutting.holding", message)
            .with_source("our judgement: less than 100 cm² or narrower than 40 mm")
            .with_hint("ask for bridges that are trimmed by hand (`cutting.holding = \"tabs\"`), or tell the shop which parts they are"),
    )
}

/// What is to be said of bridges: where none has room, where one is in the way, and what they hold to.
fn bridges(shop: &Shop<'_>) -> Vec<Finding> {
    if shop.machine.bridge_mm.is_none() {
        return Vec::new();
    }
    let mut findings = Vec::new();
    let parts = |is_so: &dyn Fn(&Operation) -> bool| {
        shop.parts(|operation| operation.kind == OperationKind::Outline && is_so(operation))
    };
    let bare = parts(&|outline| outline.bridges.len() < 2 && !outline.tool.is_empty());
    if !bare.is_empty() {
        let message = format!(
            "there is no straight edge with room for two bridges, away from corners: {}",
            shop.names(&bare)
        );
        findings.push(
            Finding::tight("no-room-for-bridges", "cutting.holding", message)
                .with_source("our judgement: 5 mm from where the tool is lifted to the next corner or arc")
                .with_hint("make bridges shorter (`cutting.tab_length`), or have these parts held by vacuum or by tape under the sheet"),
        );
    }
    let stained = parts(&|outline| outline.bridges.iter().any(|bridge| bridge.is_on_glued_edge));
    if !stained.is_empty() {
        let message = format!(
            "no edge but those that are glued has room for bridges, so that they stand in glued edges: {}",
            shop.names(&stained)
        );
        findings.push(
            Finding::tight("bridge-in-glued-edge", "cutting.holding", message)
                .with_source("common practice: what is left of a bridge keeps a joint open")
                .with_hint("scrape these edges flush and square before gluing, or hold the sheet by vacuum (`cutting.holding`)"),
        );
    }
    let one_sided = parts(&is_held_at_one_side);
    if !one_sided.is_empty() {
        let message = format!(
            "bridges hold these parts at one side only, as their other edges are glued, round or short: {}",
            shop.names(&one_sided)
        );
        findings.push(
            Finding::tight("held-at-one-side", "cutting.holding", message)
                .with_source("common practice: a part that is held at one side may lift at the other")
                .with_hint("have them pressed or taped down at the other side, or hold the sheet by vacuum (`cutting.holding`)"),
        );
    }
    findings.extend(long_unheld(shop));
    findings.extend(strips(shop));
    findings
}

/// Long stretches of an edge without a bridge.
fn long_unheld(shop: &Shop<'_>) -> Option<Finding> {
    let unheld = |work: &&&Work| {
        let outline = work.operations.iter().find(|o| o.kind == OperationKind::Outline)?;
        let CutPath::Closed(edge) = &outline.edge else { return None };
        let mm = longest_unheld_mm(edge, &outline.bridges);
        // Parts without any are told as such.
        (!outline.bridges.is_empty() && mm > UNHELD_MM).then_some((work.piece, mm))
    };
    let all: Vec<(PieceId, f64)> = shop.works.iter().filter_map(|work| unheld(&work)).collect();
    let longest = all.iter().map(|(_, mm)| *mm).reduce(f64::max)?;
    let each = all.iter().map(|(piece, mm)| format!("{} ({})", shop.name(*piece), shop.show(*mm)));
    let message = format!(
        "edges without a bridge for long, as they are glued there, or have no room for one: {}",
        each.collect::<Vec<_>>().join(", ")
    );
    Some(
        Finding::tight("edge-unheld-for-long", "cutting.holding", message)
            .with_limit(longest, UNHELD_MM, "mm")
            .with_source("our judgement: common practice is one bridge in 150 to 300 mm")
            .with_hint("have these parts pressed or taped down there, or hold the sheet by vacuum (`cutting.holding`)"),
    )
}

/// Whether all bridges stand on one straight line of the outline.
fn is_held_at_one_side(outline: &Operation) -> bool {
    let [first, rest @ ..] = &outline.bridges[..] else { return false };
    let is_in_line = |at: DVec2| (at - first.at).perp_dot(first.along).abs() < 1.0;
    !rest.is_empty() && rest.iter().all(|bridge| is_in_line(bridge.at))
}

/// What lies between two cuts must bear the bridges.
fn strips(shop: &Shop<'_>) -> Option<Finding> {
    let spacing = shop.file.cutting.spacing.to_mm();
    if spacing >= LEAST_STRIP_MM {
        return None;
    }
    let message = format!(
        "strips of {} are left between the cuts of neighbours, which is little for bridges to hold to",
        shop.show(spacing)
    );
    Some(
        Finding::tight("strip-too-narrow-for-bridges", "cutting.spacing", message)
            .with_limit(spacing, LEAST_STRIP_MM, "mm")
            .with_source("our judgement")
            .with_hint("leave more between parts (`cutting.spacing`)"),
    )
}
