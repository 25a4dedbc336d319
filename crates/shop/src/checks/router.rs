//! What a round cutter leaves, and what slips under it.

use design::{Joint, JointKind, PieceId, Role};
use findings::Finding;
use glam::DVec2;
use params::{Holding, Relief};
use plate::{Contour, Shape};

use super::Shop;

/// Smaller parts slip under vacuum, mm²: a square of 100 mm (our judgement).
const HELD_MM2: f64 = 10_000.0;
/// Narrower parts slip however long they are, mm (our judgement).
const HELD_MM: f64 = 40.0;
/// A cutter cuts up to so many times its diameter deep, of one with a long edge.
const LONGEST_EDGE: f64 = 4.5;
/// A square corner may stay off by this, mm: it is scraped (our judgement).
const SCRAPED_MM: f64 = 0.1;

pub(super) fn check(shop: &Shop<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(slips(shop));
    findings.extend(bridges(shop));
    findings.extend(shop.design.joints.iter().filter_map(|joint| square_end(shop, joint)));
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
    let is_small = |work: &&crate::work::Work| {
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

fn bridges(shop: &Shop<'_>) -> Option<Finding> {
    if shop.file.cutting.holding != Holding::Tabs {
        return None;
    }
    let message =
        "where bridges are left in the outlines is not worked out: no path told here has any";
    Some(
        Finding::not_checked("bridges-not-placed", "cutting.holding", message)
            .with_hint("tell the shop which edges are glued, so that no bridge is left in them"),
    )
}

/// Whether a square part goes into the step or groove that is made for it.
fn square_end(shop: &Shop<'_>, joint: &Joint) -> Option<Finding> {
    let (part, host) = (&shop.design.placed[joint.a], &shop.design.placed[joint.b]);
    let (piece, other) = (&shop.design.pieces[part.piece], &shop.design.pieces[host.piece]);
    // Steps run out over the edges: nothing in them is round. The same is so of grooves that are open.
    if joint.kind != JointKind::Dado || piece.role != Role::Leaf {
        return None;
    }
    let (Shape::Sheet(leaf), Shape::Sheet(plate)) = (&piece.shape, &other.shape) else {
        return None;
    };
    let [lo, hi] = leaf.outline.bounds()?;
    // The leaf's corners that go into the groove, in the host's own sheet; the end that is off the sheet is open.
    let to_host = host.pose.inverse() * part.pose;
    let corner =
        |x: f64, y: f64, z: f64| to_host.transform_point3(glam::DVec3::new(x, y, z)).truncate();
    let is_in = |p: DVec2, contour: &Contour| contour.winding(p) != 0;
    let mut worst: f64 = 0.0;
    for x in [lo.x, hi.x] {
        for y in [lo.y, hi.y] {
            for z in [0.0, leaf.thickness] {
                let at = corner(x, y, z);
                // A hair inwards: what lies on the groove's very edge is in it.
                let inwards =
                    corner(x, if y > lo.y { y - 0.5 } else { y + 0.5 }, 0.5 * leaf.thickness);
                let own = plate
                    .cuts
                    .iter()
                    .filter(|cut| cut.depth < plate.thickness && is_in(inwards, &cut.contour));
                let own: Vec<&Contour> = own.map(|cut| &cut.contour).collect();
                if own.is_empty() || own.iter().any(|contour| is_in(at, contour)) {
                    continue;
                }
                let away = own
                    .iter()
                    .flat_map(|c| &c.0)
                    .map(|s| s.distance(at))
                    .fold(f64::INFINITY, f64::min);
                worst = worst.max(away);
            }
        }
    }
    if worst <= SCRAPED_MM {
        return None;
    }
    let message = format!(
        "the square end of {} stands {} into the round end of its groove in {}",
        part.name,
        shop.show(worst),
        host.name
    );
    let relief = match shop.file.cutting.relief {
        Relief::Beyond => {
            "let the groove have bites at its corners (`cutting.relief = \"dogbone\"`), or round that corner of the leaf by hand"
        }
        Relief::Dogbone | Relief::Tbone => {
            "round that corner of the leaf by hand, or take a thinner cutter (`cutting.tool`)"
        }
    };
    Some(
        Finding::tight("square-end-in-round-groove", &piece.parameter, message)
            .with_limit(worst, SCRAPED_MM, "mm")
            .with_source("our judgement: a tenth of a millimetre is scraped off by hand")
            .with_hint(relief),
    )
}
