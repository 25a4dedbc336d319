//! Ways over and through leaves, and the overflow of the display.

use design::WayShape;

use super::build::Bands;
use super::{CombReport, WayReport};
use crate::law::{Law, Strips};
use crate::network::Kind;
use crate::running::Running;
use crate::solve::SteadySolver;
use crate::system::Part;

pub(super) fn all(running: &Running<'_>, bands: &Bands) -> Vec<WayReport> {
    (0..running.system.parts.len()).filter_map(|i| way(running, bands, i)).collect()
}

fn way(running: &Running<'_>, bands: &Bands, element: usize) -> Option<WayReport> {
    let system = &running.system;
    let Part::Way { way, kind, .. } = system.parts[element] else { return None };
    let (e, spec) = (&system.network.elements[element], &system.works.ways[way]);
    let sill_m = sill_m(&e.law, &spec.shape);
    let (up, down) = (running.levels_m[e.up], running.levels_m[e.down]);
    let (from, flow_m3_s) = (bands.level(e.up), running.flows_m3_s[element]);
    let area_m2 = wetted_m2(&e.law, up.max(down));
    let range = e.law.range(up, down);
    Some(WayReport {
        name: e.name.clone(),
        leaf: spec.leaf.clone(),
        kind,
        between: [e.up, e.down],
        sill_m,
        head_m: from.map(|level| level - sill_m),
        is_drowned: down > sill_m,
        flow_m3_s,
        area_m2,
        speed_m_s: speed_m_s(flow_m3_s, area_m2),
        approach_m_s: speed_m_s(flow_m3_s, area_m2 / open_share(&spec.shape)),
        validity: range.validity,
        why: range.why,
    })
}

fn speed_m_s(flow_m3_s: f64, area_m2: f64) -> f64 {
    if area_m2 > 0.0 { flow_m3_s.abs() / area_m2 } else { 0.0 }
}

/// How much of a comb's edge is gaps.
fn open_share(shape: &WayShape) -> f64 {
    match *shape {
        #[expect(clippy::cast_precision_loss, reason = "at most a few thousand slots")]
        WayShape::Comb { gap_mm, count, width_mm, .. } => gap_mm * count as f64 / width_mm,
        _ => 1.0,
    }
}

/// Lower edge of a way as it is set.
fn sill_m(law: &Law, shape: &WayShape) -> f64 {
    match (law, shape) {
        (Law::Strips(strips), _) => {
            strips.strips().first().map_or_else(|| shape_sill_mm(shape) * 1e-3, |strip| strip.z0_m)
        }
        _ => shape_sill_mm(shape) * 1e-3,
    }
}

fn shape_sill_mm(shape: &WayShape) -> f64 {
    match *shape {
        WayShape::Crest { height_mm, .. } => height_mm,
        WayShape::Comb { sill_mm, .. } => sill_mm,
        WayShape::Rectangle { bottom_mm, .. } | WayShape::Slots { bottom_mm, .. } => bottom_mm,
        WayShape::Holes { bottom_mm, diameter_mm, .. } => bottom_mm - 0.5 * diameter_mm,
        WayShape::Door { bottom_mm, set_mm, .. } => set_mm.max(bottom_mm),
    }
}

/// Area below a level that is open to the water, m².
pub(super) fn wetted_m2(law: &Law, level_m: f64) -> f64 {
    match law {
        Law::Crest(crest) => (level_m - crest.crest_m()).max(0.0) * crest.width_m(),
        Law::Strips(strips) => {
            let of = |s: &crate::law::Strip| (level_m.min(s.z1_m) - s.z0_m).max(0.0) * s.width_m;
            strips.strips().iter().map(of).sum()
        }
        _ => 0.0,
    }
}

/// Shares of the slots that are taken to be blocked: none, a quarter, a half.
const BLOCKED: [f64; 3] = [0.0, 0.25, 0.5];

/// The level before every comb that carries water, while some of its slots are blocked.
pub(super) fn combs(running: &Running<'_>) -> Vec<CombReport> {
    let system = &running.system;
    let comb = |i: usize| {
        let e = &system.network.elements[i];
        if e.kind != Kind::Slots || running.flows_m3_s[i] <= 0.0 {
            return None;
        }
        let (leaf, before) = match system.parts[i] {
            Part::Way { way, .. } => {
                (system.works.ways[way].leaf.clone(), system.network.tanks[e.up].name.clone())
            }
            Part::Overflow => (String::new(), "display".to_owned()),
            _ => return None,
        };
        let level = |share: f64| [share, level_with_blocked(running, i, share)];
        Some(CombReport {
            name: e.name.clone(),
            leaf,
            before,
            tank: e.up,
            levels_m: BLOCKED.map(level).to_vec(),
        })
    };
    (0..system.parts.len()).filter_map(comb).collect()
}

/// Level before a comb with this share of its slots blocked, m; the edge above the tips stays free.
fn level_with_blocked(running: &Running<'_>, element: usize, share: f64) -> f64 {
    let mut other = running.clone();
    let e = &mut other.system.network.elements[element];
    let tank = e.up;
    if let Law::Strips(strips) = &mut e.law {
        let open = |s: &crate::law::Strip| {
            let left = if s.z1_m.is_finite() { 1.0 - share } else { 1.0 };
            crate::law::Strip { width_m: s.width_m * left, ..*s }
        };
        let left: Vec<crate::law::Strip> = strips.strips().iter().map(open).collect();
        let doubt = strips.doubt;
        *strips = Strips::new(strips.cd, left);
        strips.doubt = doubt;
    }
    let solved =
        SteadySolver::new(&other.system.network).and_then(|mut solver| other.settle(&mut solver));
    if solved.is_ok() { other.levels_m[tank] } else { f64::NAN }
}
