//! What a beam cannot do, and what it must not do.

use design::PieceId;
use findings::Finding;
use params::Material;

use super::Shop;
use crate::work::OperationKind;

/// Thickest acrylic that a laser of 100 W cuts, and one of 130 W, mm; suppliers of lasers. What a shop has is not known, so
/// that the smaller is the limit.
const THICKEST_MM: [f64; 2] = [12.0, 18.0];

pub(super) fn check(shop: &Shop<'_>) -> Vec<Finding> {
    let mut findings: Vec<Finding> = shop.sheets().filter_map(poisonous).collect();
    findings.extend(pockets(shop));
    findings.extend(glued_edges(shop));
    findings.extend(leaning_edges(shop));
    findings.extend(shop.too_thick(
        THICKEST_MM[0],
        "a laser of 100 W",
        &format!(
            "common practice: suppliers of lasers give about {} for 100 W and {} for 130 W",
            shop.show(THICKEST_MM[0]),
            shop.show(THICKEST_MM[1])
        ),
        "ask the shop what its laser cuts with square edges before you order, or let it be routed (`process`)",
    ));
    findings
}

/// Materials that no laser may cut.
fn poisonous(sheet: &design::Sheet) -> Option<Finding> {
    let (words, source) = match sheet.material {
        Material::CastAcrylic | Material::ExtrudedAcrylic => return None,
        Material::Pvc => (
            "PVC under a laser gives off hydrogen chloride, which is poisonous, and which eats the machine: never",
            "lists of materials that workshops allow: Kansas State University Libraries, laser cutters (PVC: never); Protohaven, approved laser materials (chlorinated plastics: prohibited); that the gas is mostly hydrogen chloride is from memory",
        ),
        Material::Polycarbonate => (
            "polycarbonate under a laser burns, chars and gives off poisonous fumes: never",
            "lists of materials that workshops allow: Kansas State University Libraries, laser cutters (polycarbonate over 1 mm: a fire risk); Protohaven, approved laser materials (polycarbonate: prohibited)",
        ),
    };
    let message = format!("sheet `{}`: {words}", sheet.name);
    Some(
        Finding::fails("poisonous-under-laser", format!("sheet.{}.material", sheet.name), message)
            .with_source(source)
            .with_hint("let it be routed or sawn (`process`), or take cast acrylic"),
    )
}

fn pockets(shop: &Shop<'_>) -> Option<Finding> {
    let parts = shop.parts_with(OperationKind::Pocket);
    if parts.is_empty() {
        return None;
    }
    let message = format!(
        "a laser cuts through; it makes no grooves, steps or pockets of a true depth, as these parts have: {}",
        shop.names(&parts)
    );
    Some(
        Finding::fails("pocket-under-laser", &shop.parameter, message)
            .with_source("common practice: the depth of engraving by a beam is neither even nor true")
            .with_hint("let these parts be routed, or join them without grooves (`joint = \"butt\"`, strips or printed guides)"),
    )
}

/// Edges that solvent goes to, left polished and under stress by the beam.
fn glued_edges(shop: &Shop<'_>) -> Option<Finding> {
    let placed = &shop.design.placed;
    let glued = shop.design.joints.iter().filter(|joint| joint.kind.is_glued());
    // The first of a joint is the part of which an edge is glued.
    let mut parts: Vec<PieceId> = glued.map(|joint| placed[joint.a].piece).collect();
    parts.retain(|piece| shop.works.iter().any(|work| work.piece == *piece));
    parts.sort_unstable();
    parts.dedup();
    if parts.is_empty() {
        return None;
    }
    let message = format!(
        "edges that a laser has cut are under stress and craze when solvent runs to them; glued are edges of: {}",
        shop.names(&parts)
    );
    Some(
        Finding::tight("glued-edge-under-stress", &shop.parameter, message)
            .with_source("a maker's installation guide for acrylic sheet (Plexiglas MC: no solvent on flame-polished or laser-cut edges; do not polish edges to be cemented); how to anneal is common practice, from memory")
            .with_hint("have these edges routed or scraped square, or anneal the parts before gluing by the sheet maker's schedule (for acrylic about 80 °C for hours, slow cooling, protective film off); never flame-polish an edge that is glued"),
    )
}

/// A beam's cut is wider above than below: an edge that is glued stands off by half of that at one side.
fn leaning_edges(shop: &Shop<'_>) -> Option<Finding> {
    let gap = 0.5 * shop.machine.taper_mm;
    if gap <= Material::SOLVENT_FILLS_MM {
        return None;
    }
    let message = format!(
        "edges lean by {} over the thickness of the sheet, and solvent is drawn into {} at most",
        shop.show(gap),
        shop.show(Material::SOLVENT_FILLS_MM)
    );
    Some(
        Finding::fails("edge-leans", "cutting.taper", message)
            .with_limit(gap, Material::SOLVENT_FILLS_MM, "mm")
            .with_source("common practice: solvent runs into 0.05 to 0.2 mm")
            .with_hint("have edges that are glued routed, or scrape them square"),
    )
}
