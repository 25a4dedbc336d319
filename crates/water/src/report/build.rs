//! From a running system to what is told of it.

use super::{Report, WaterReport, basins, combinations, doors, plumbing, reserve, ways};
use crate::band::{Leans, band};
use crate::evaporation::{self, Air};
use crate::network::Kind;
use crate::rehearsal::Figure;
use crate::running::Running;

/// Everything that is told of a running sump, with bands.
pub fn report(running: &Running<'_>) -> Report {
    let bands = Bands::of(running);
    let system = &running.system;
    let display = system.tanks.display;
    let volumes = system.network.volumes(&running.levels_m);
    let pairs = volumes.iter().zip(system.is_outside());
    let volume_m3: f64 = pairs.filter(|(_, is_outside)| !is_outside).map(|(m3, _)| m3).sum();
    let flow = bands.flow();
    Report {
        return_flow_m3_s: flow,
        display_m: bands.level(display),
        weir_box_m: bands.level(system.tanks.weir_box),
        display_rim_m: system.works.display.as_ref().map_or(0.0, |d| d.rim_mm * 1e-3),
        volume_m3,
        turnover_per_h: flow.mid * 3600.0 / volumes[display],
        water: water(running, volume_m3),
        basins: basins::all(running, &bands),
        ways: ways::all(running, &bands),
        combs: ways::combs(running),
        socks: basins::socks(running, &bands),
        lines: plumbing::lines(running, &bands),
        drains: plumbing::drains(running, &bands),
        combinations: combinations::all(running),
        combinations_left_out: combinations::left_out(running),
        doors: doors::all(running),
        reserve: reserve::of(running),
        band_is_doubtful: bands.is_doubtful,
        band_is_known: bands.is_known,
    }
}

fn water(running: &Running<'_>, volume_m3: f64) -> WaterReport {
    let system = &running.system;
    let water = &system.water;
    WaterReport {
        temperature_c: water.temperature_c,
        salinity_g_kg: water.salinity_g_kg,
        density_kg_m3: water.density,
        viscosity_m2_s: water.kinematic_viscosity(),
        salt_per_litre_g: water.salt_per_litre_g(),
        salt_kg: water.salt_per_litre_g() * volume_m3,
        evaporation_l_day: system.evaporation_m3_s * 86_400e3,
        evaporation_most_l_day: system.evaporation_most_m3_s * 86_400e3,
        evaporation_is_computed: system.evaporation_is_computed,
        evaporation_out_of_range: evaporation_out_of_range(running),
        salt_per_fresh_litre_g: water.salt_per_fresh_litre_g(),
    }
}

fn evaporation_out_of_range(running: &Running<'_>) -> Option<String> {
    let system = &running.system;
    let room = &system.works.room;
    let air = Air { temperature_c: room.temperature.to_celsius(), humidity: room.humidity };
    let in_range = evaporation::in_range(system.water.temperature_c, air);
    in_range.err().filter(|_| system.evaporation_is_computed).map(|error| error.to_string())
}

/// Levels of all tanks and flows of all elements with their bands.
pub(super) struct Bands {
    figures: Vec<Figure>,
    tanks: usize,
    elements: usize,
    is_doubtful: bool,
    is_known: bool,
}

impl Bands {
    pub(super) fn of(running: &Running<'_>) -> Self {
        let system = &running.system;
        let (tanks, elements) = (system.network.tanks.len(), system.network.elements.len());
        let kinds: Vec<Kind> = (Kind::ALL.into_iter())
            .filter(|k| *k != Kind::Given && system.network.elements.iter().any(|e| e.kind == *k))
            .collect();
        let quantities = |running: &Running<'_>| -> Vec<f64> {
            let levels = running.levels_m.iter();
            levels.chain(&running.flows_m3_s).copied().chain([running.return_flow()]).collect()
        };
        let mid = quantities(running);
        let n = mid.len();
        let band = band(&kinds, n, &mut |leans: &Leans| {
            if *leans == Leans::NONE {
                return mid.clone();
            }
            running.leaning(leans).map_or_else(|_| vec![f64::NAN; n], |other| quantities(&other))
        });
        let figures: Vec<Figure> = band.quantities.iter().map(Figure::of).collect();
        Self {
            is_known: band.quantities.iter().all(|b| b.low.is_finite() && b.high.is_finite()),
            figures,
            tanks,
            elements,
            // Flows through leaks are small and may turn; what counts are levels.
            is_doubtful: band.is_outside_at_check_corner[..tanks].iter().any(|&is| is),
        }
    }

    /// Level of a tank, m.
    pub(super) fn level(&self, tank: usize) -> Figure {
        self.figures[tank]
    }

    /// Flow through an element, m³/s.
    pub(super) fn element(&self, element: usize) -> Figure {
        self.figures[self.tanks + element]
    }

    /// Flow up to the display, m³/s.
    pub(super) fn flow(&self) -> Figure {
        self.figures[self.tanks + self.elements]
    }
}
