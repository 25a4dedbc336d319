//! Pumps with their lines, and drains.

use std::f64::consts::PI;

use design::{Into, PumpData};
use params::DrainDuty;

use super::build::Bands;
use super::{DrainReport, LineReport};
use crate::running::Running;
use crate::submergence;
use crate::system::{Part, curve, drain_line, line_pipe};

/// Points of a drain's capacity.
const CAPACITY_POINTS: usize = 7;
/// Litres an hour in a US gallon a minute: 231 in³ of 16.387 064 mL, 60 times.
const M3_S_PER_US_GPM: f64 = 231.0 * 16.387_064e-6 / 60.0;

pub(super) fn lines(running: &Running<'_>, bands: &Bands) -> Vec<LineReport> {
    let system = &running.system;
    let line = |(k, spec): (usize, &design::Line)| {
        let element = system.elements(|p| *p == Part::Line { line: k }).next()?;
        let flow_m3_s = bands.element(element);
        let pipe = line_pipe(spec, spec.has_check_valve, system.viscosity_m2_s());
        let curve = curve(spec).ok()?;
        let to = spec.to.unwrap_or(system.tanks.display);
        let e = &system.network.elements[element];
        let range = e.law.range(running.levels_m[e.up], running.levels_m[e.down]);
        let upper_m = running.levels_m[to].max(spec.outlet_mm * 1e-3);
        let intake_m = spec.intake_mm * 1e-3;
        let diameter_m = spec.intake_diameter_mm.unwrap_or(spec.bore_mm) * 1e-3;
        let (wanted_submergence_m, wanted_submergence_source) =
            match (system.works.limits.submergence, spec.intake_diameter_mm) {
                (Some(given), _) => (given.to_m(), "`limits.submergence`"),
                (None, Some(_)) => (
                    submergence::intake_depth_m(diameter_m, flow_m3_s.high),
                    "ANSI/HI 9.8, for the intake's diameter",
                ),
                (None, None) => (
                    submergence::intake_depth_m(diameter_m, flow_m3_s.high),
                    "ANSI/HI 9.8, for an intake as wide as the line: an assumption",
                ),
            };
        Some(LineReport {
            pump: spec.pump.clone(),
            parameter: spec.parameter.clone(),
            pump_parameter: spec.pump_parameter.clone(),
            to: spec
                .to
                .map_or_else(|| "display".to_owned(), |b| system.works.basins[b].name.clone()),
            flow_m3_s,
            lift_m: upper_m - running.levels_m[spec.from],
            head_m: curve.head(flow_m3_s.mid),
            shut_off_m: curve.head_max_m(),
            speed_m_s: pipe.velocity(flow_m3_s.mid),
            intake_m,
            submergence_m: lowest_m(running, bands, spec.from) - intake_m,
            wanted_submergence_m,
            wanted_submergence_source,
            curve_is_guessed: !matches!(spec.data, PumpData::Curve(_)),
            validity: range.validity,
            why: range.why,
        })
    };
    system.works.lines.iter().enumerate().filter_map(line).collect()
}

/// Lowest level of a basin while all is well: that of its band, or where the float lets it fall to.
fn lowest_m(running: &Running<'_>, bands: &Bands, basin: usize) -> f64 {
    let top_up = running.system.works.top_up.as_ref().filter(|top_up| top_up.basin == basin);
    let float_m = top_up.map_or(f64::INFINITY, |top_up| top_up.float_mm[0] * 1e-3);
    bands.level(basin).low.min(float_m)
}

pub(super) fn drains(running: &Running<'_>, bands: &Bands) -> Vec<DrainReport> {
    let system = &running.system;
    let return_flow = running.return_flow();
    let drain = |(k, spec): (usize, &design::Drain)| {
        let intake_m = spec.intake_mm? * 1e-3;
        let is_main = spec.duty == DrainDuty::Main;
        let part = if is_main { Part::Siphon { drain: k } } else { Part::OpenDrain { drain: k } };
        let element = system.elements(|p| *p == part).next()?;
        let flow_m3_s = bands.element(element);
        let bore_m = spec.bore_mm * 1e-3;
        let e = &system.network.elements[element];
        let range = e.law.range(running.levels_m[e.up], running.levels_m[e.down]);
        let set = system.setting.valves.get(&spec.name).copied();
        Some(DrainReport {
            name: spec.name.clone(),
            parameter: spec.parameter.clone(),
            duty: spec.duty,
            flow_m3_s,
            share: if return_flow > 0.0 { flow_m3_s.mid / return_flow } else { 0.0 },
            speed_m_s: flow_m3_s.mid / (0.25 * PI * bore_m * bore_m),
            intake_m,
            valve_open: is_main.then(|| set.or(spec.valve).unwrap_or(1.0)),
            valve_is_set: set.is_some(),
            capacity: capacity(running, k, element, intake_m),
            quiet_m3_s: annular_m3_s(bore_m, 0.25),
            validity: range.validity,
            why: range.why,
            ends_in_return: spec.into == Into::Basin(system.tanks.returning),
        })
    };
    system.works.drains.iter().enumerate().filter_map(drain).collect()
}

/// What a drain can carry at levels of the overflow box from its mouth to the display's rim.
fn capacity(running: &Running<'_>, drain: usize, element: usize, intake_m: f64) -> Vec<[f64; 2]> {
    let system = &running.system;
    let spec = &system.works.drains[drain];
    let rim_m = system.works.display.as_ref().map_or(intake_m, |d| d.rim_mm * 1e-3);
    let e = &system.network.elements[element];
    let below_m = running.levels_m[e.down];
    let line = drain_line(spec, 1.0, system.viscosity_m2_s());
    #[expect(clippy::cast_precision_loss, reason = "a handful of points")]
    let level = |i: usize| intake_m + (rim_m - intake_m) * i as f64 / (CAPACITY_POINTS - 1) as f64;
    let at = |level_m: f64| {
        let q = if spec.duty == DrainDuty::Main {
            let head_m = level_m - below_m.max(spec.out_mm * 1e-3);
            if level_m > intake_m { line.q_at(head_m.max(0.0)) } else { 0.0 }
        } else {
            e.law.flow(level_m, below_m, 0.0).q
        };
        [level_m, q]
    };
    (0..CAPACITY_POINTS).map(level).map(at).collect()
}

/// Flow that clings to the wall of an upright pipe, m³/s, with this share of its bore filled.
///
/// `Q = 27.8 · r^(5/3) · d^(8/3)`, Q in US gallons a minute, d the bore in inches, for tall stacks at
/// their terminal speed and r up to 1/3. Source: Wyly & Eaton, *Capacities of stacks in sanitary drainage
/// systems for buildings*, NBS Monograph 31 (1961), after Dawson & Kalinske (1937); the constant from
/// memory. In a drop of a metre the water is slower still and carries less: an upper hint.
pub(crate) fn annular_m3_s(bore_m: f64, share: f64) -> f64 {
    27.8 * share.powf(5.0 / 3.0) * (bore_m / 0.0254).powf(8.0 / 3.0) * M3_S_PER_US_GPM
}

#[cfg(test)]
mod tests {
    use super::annular_m3_s;

    /// Values of the formula by an independent computation, L/h.
    #[test]
    fn annular_flow_of_common_bores() {
        for (bore_mm, share, l_h) in
            [(25.0, 0.25, 600.0), (32.0, 7.0 / 24.0, 1500.0), (50.0, 1.0 / 3.0, 6158.0)]
        {
            let ours = annular_m3_s(bore_mm * 1e-3, share) * 3.6e6;
            assert!((ours - l_h).abs() < 0.6, "{bore_mm}: {ours}");
        }
    }
}
