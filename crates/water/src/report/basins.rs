//! Chambers and socks.

use design::WayKind;

use super::build::Bands;
use super::{BasinReport, DownFlow, SockReport};
use crate::bubbles;
use crate::running::Running;
use crate::solve::SteadySolver;
use crate::system::Part;

pub(super) fn all(running: &Running<'_>, bands: &Bands) -> Vec<BasinReport> {
    let system = &running.system;
    let basin = |(tank, b): (usize, &design::Basin)| {
        let volume_m3 = system.network.tanks[tank].volume(running.levels_m[tank]).0;
        let through_m3_s = through(running, tank);
        BasinReport {
            name: b.name.clone(),
            parameter: b.parameter.clone(),
            is_chamber: b.is_chamber,
            tank,
            level_m: bands.level(tank),
            rest_m: b.rest_mm * 1e-3,
            rim_m: b.rim_mm * 1e-3,
            volume_m3,
            through_m3_s,
            residence_s: if through_m3_s > 0.0 { volume_m3 / through_m3_s } else { f64::INFINITY },
            down_flow: down_flow(running, bands, tank),
        }
    };
    system.works.basins.iter().enumerate().map(basin).collect()
}

/// What comes into a tank, m³/s.
fn through(running: &Running<'_>, tank: usize) -> f64 {
    let pairs = running.system.network.elements.iter().zip(&running.flows_m3_s);
    let into = |(e, &q): (&crate::Element, &f64)| {
        if e.down == tank {
            q.max(0.0)
        } else if e.up == tank {
            (-q).max(0.0)
        } else {
            0.0
        }
    };
    pairs.map(into).sum()
}

/// Share of what leaves a space that must pass under a leaf for the space to count as a down-flow.
const MOSTLY: f64 = 0.5;

/// In a space that water leaves under a leaf it comes down over the whole plan area.
fn down_flow(running: &Running<'_>, bands: &Bands, tank: usize) -> Option<DownFlow> {
    let system = &running.system;
    let is_under = |i: &usize| {
        let is_underflow = matches!(system.parts[*i], Part::Way { kind: WayKind::Underflow, .. });
        is_underflow && system.network.elements[*i].up == tank && running.flows_m3_s[*i] > 0.0
    };
    let under: Vec<usize> = (0..system.parts.len()).filter(is_under).collect();
    let mid: f64 = under.iter().map(|&i| running.flows_m3_s[i]).sum();
    if mid <= MOSTLY * through(running, tank) || mid <= 0.0 {
        return None;
    }
    let most: f64 = under.iter().map(|&i| bands.element(i).high).sum();
    let area_m2 = system.network.tanks[tank].volume(running.levels_m[tank]).1;
    let speed_m_s = most / area_m2;
    Some(DownFlow {
        speed_m_s,
        smallest_rising_m: bubbles::smallest_rising(speed_m_s, &system.water),
    })
}

pub(super) fn socks(running: &Running<'_>, bands: &Bands) -> Vec<SockReport> {
    let works = running.system.works;
    let passing = |share: f64| -> Vec<f64> {
        let mut other = running.clone();
        let cloth: Vec<usize> =
            other.system.elements(|p| matches!(p, Part::Socks { .. })).collect();
        for i in cloth {
            other.system.network.elements[i].scale *= share;
        }
        let solved = SteadySolver::new(&other.system.network)
            .and_then(|mut solver| other.settle(&mut solver));
        if solved.is_ok() { other.levels_m } else { vec![f64::NAN; other.levels_m.len()] }
    };
    if works.shelves.is_empty() {
        return Vec::new();
    }
    let (half, clogged) = (passing(0.5), passing(0.0));
    let sock = |(k, shelf): (usize, &design::Shelf)| {
        let tank = running.system.tanks.shelves[k];
        SockReport {
            parameter: shelf.parameter.clone(),
            chamber: works.basins[shelf.basin].name.clone(),
            tank,
            clean_m: bands.level(tank),
            half_m: half[tank],
            clogged_m: clogged[tank],
            shelf_m: shelf.top_mm * 1e-3,
            is_assumed: shelf.passes_l_h.is_none(),
        }
    };
    works.shelves.iter().enumerate().map(sock).collect()
}
