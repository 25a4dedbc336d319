//! Display, drains, pumps, top-up, skimmers and the air as elements.

use std::sync::Arc;

use design::{Display, Drain, Line, PumpData};
use params::DrainDuty;

use super::Missing;
use super::build::Builder;
use super::parts::Part;
use super::tanks::M_PER_MM;
use crate::evaporation::{self, Air};
use crate::fittings_loss::{self, Fitting};
use crate::law::{FullPipe, Gate, Law, Pipe, Strips};
use crate::network::Kind;
use crate::pipe_line::{PipeLine, SMOOTH_PLASTIC_M, TABLE_POINTS};
use crate::pump_curve::PumpCurve;
/// Thickness of the display's overflow crest, mm, which the file does not tell: an assumption.
const OVERFLOW_SHEET_MM: f64 = 6.0;
/// Thickness of the display's rim, mm, which the file does not tell: an assumption.
const DISPLAY_RIM_MM: f64 = 10.0;
/// A pump and a siphon stop drawing over this height as air enters their mouths, m; our judgement. It is
/// smooth, so that a siphon stronger than the pump comes to a balance instead of chattering.
pub(crate) const AIR_OVER_M: f64 = 0.02;
/// A tank that is given its rate by nothing but itself runs dry over this height, m.
const DRY_OVER_M: f64 = 0.002;
/// Doubt about what a pipe passes when it runs full, as a share; our judgement, as for a siphon.
const FULL_PIPE_DOUBT: f64 = 0.07;
const M3_S_PER_L_H: f64 = 1.0 / 3.6e6;
/// What evaporates is fresh: density of water near room temperature, kg/m³, rounded.
const FRESH_KG_M3: f64 = 998.0;

/// What evaporates.
pub(super) struct Evaporation {
    pub(super) m3_s: f64,
    pub(super) most_m3_s: f64,
    pub(super) is_computed: bool,
}

/// Overflow and rim of the display.
pub(super) fn add_display(b: &mut Builder<'_>, display: &Display) {
    let [crest, width, floor, rim, run] = [
        display.crest_mm,
        display.crest_width_mm,
        display.floor_mm,
        display.rim_mm,
        display.rim_run_mm,
    ]
    .map(|mm| mm * M_PER_MM);
    let between = [b.ids.display, b.ids.weir_box];
    let (kind, law) = match display.teeth_mm {
        None => {
            let sheet = OVERFLOW_SHEET_MM * M_PER_MM;
            (Kind::Crest, Law::crest(crest, width, sheet, crest - floor, width))
        }
        Some(teeth) => {
            let [tooth, gap, depth] = teeth.map(|mm| mm * M_PER_MM);
            let slots = width * gap / (tooth + gap);
            let law = Strips::comb(super::leaves::SLOTS, crest - depth, crest, slots, width);
            (Kind::Slots, Law::Strips(law))
        }
    };
    b.add("overflow of the display".to_owned(), kind, between, law, 1.0, Part::Overflow);
    let over = Law::crest(rim, run, DISPLAY_RIM_MM * M_PER_MM, rim - floor, run);
    let between = [b.ids.display, b.ids.display_floor];
    b.add("rim of the display".to_owned(), Kind::Crest, between, over, 1.0, Part::DisplayRim);
}

/// The loss coefficient of a drain without its valve, on the velocity head in its bore.
fn drain_loss(drain: &Drain) -> f64 {
    let bore_m = drain.bore_mm * M_PER_MM;
    Fitting::Entrance.loss(bore_m)
        + Fitting::Exit.loss(bore_m)
        + f64::from(drain.elbows) * Fitting::Elbow90.loss(bore_m)
        + drain.loss
}

/// A drain's pipe with its valve open by this share of the bore.
pub(crate) fn drain_line(drain: &Drain, open: f64, viscosity_m2_s: f64) -> PipeLine {
    PipeLine {
        bore_m: drain.bore_mm * M_PER_MM,
        length_m: drain.run_mm * M_PER_MM,
        loss_k: drain_loss(drain) + fittings_loss::valve(open),
        roughness_m: SMOOTH_PLASTIC_M,
        viscosity_m2_s,
    }
}

/// Each drain as a mouth with air in it, and a main drain also as a siphon.
pub(super) fn add_drains(b: &mut Builder<'_>, display: &Display) {
    for (k, drain) in b.works.drains.iter().enumerate() {
        let Some(intake_mm) = drain.intake_mm else { continue };
        let [intake, out, rim] = [intake_mm, drain.out_mm, display.rim_mm].map(|mm| mm * M_PER_MM);
        let open = b.setting.valves.get(&drain.name).copied().or(drain.valve).unwrap_or(1.0);
        let line = drain_line(drain, open, b.viscosity_m2_s);
        let table = Arc::new(line.flow_table((rim - out).max(0.1), TABLE_POINTS));
        let between = [b.ids.weir_box, b.tank_of(drain.into)];
        let is_siphon = drain.duty == DrainDuty::Main;
        if is_siphon {
            let gate = Gate { z_m: intake, over_m: AIR_OVER_M };
            let mut law = Pipe::new(out, Some(gate), Arc::clone(&table));
            law.transition_m3_s = Some(line.transition_m3_s());
            let law = Law::Pipe(law);
            let name = format!("drain {}", drain.name);
            b.add(name, Kind::Pipe, between, law, 1.0, Part::Siphon { drain: k });
        }
        let full = FullPipe { out_m: out, doubt: FULL_PIPE_DOUBT, table };
        let law = Law::lip(intake, drain.bore_mm * M_PER_MM, Some(full));
        let (name, scale) = if is_siphon {
            (format!("drain {} with air in it", drain.name), 0.0)
        } else {
            (format!("drain {}", drain.name), 1.0)
        };
        b.add(name, Kind::Lip, between, law, scale, Part::OpenDrain { drain: k });
    }
}

/// The pipe of a pump's line, with its check valve in it or not.
pub(crate) fn line_pipe(line: &Line, has_check_valve: bool, viscosity_m2_s: f64) -> PipeLine {
    let bore_m = line.bore_mm * M_PER_MM;
    // All of the jet's velocity head is lost at the outlet.
    let narrowing = (line.bore_mm / line.nozzle_mm) * (line.bore_mm / line.nozzle_mm);
    let nozzle = Fitting::Exit.loss(bore_m) * (narrowing * narrowing);
    let check = if has_check_valve { Fitting::CheckValve.loss(bore_m) } else { 0.0 };
    PipeLine {
        bore_m,
        length_m: line.length_mm * M_PER_MM,
        loss_k: Fitting::Entrance.loss(bore_m)
            + nozzle
            + f64::from(line.elbows) * Fitting::Elbow90.loss(bore_m)
            + line.loss
            + check,
        roughness_m: SMOOTH_PLASTIC_M,
        viscosity_m2_s,
    }
}

pub(crate) fn curve(line: &Line) -> Result<PumpCurve, Missing> {
    let curve = match &line.data {
        PumpData::Curve(points) => {
            let points: Vec<(f64, f64)> =
                points.iter().map(|&[q, h]| (q * M3_S_PER_L_H, h)).collect();
            PumpCurve::new(&points)
        }
        PumpData::Extremes { flow_l_h, head_m } => {
            PumpCurve::from_extremes(flow_l_h * M3_S_PER_L_H, *head_m)
        }
        PumpData::Unknown => {
            return Err(Missing::PumpData {
                pump: line.pump.clone(),
                parameter: line.pump_parameter.clone(),
            });
        }
    };
    curve.map_err(|error| Missing::Curve {
        pump: line.pump.clone(),
        parameter: format!("{}.curve", line.pump_parameter),
        reason: error.to_string(),
    })
}

/// Pumps with their lines, and the way back through each while its pump is off.
pub(super) fn add_lines(b: &mut Builder<'_>, display: &Display) -> Result<(), Missing> {
    for (k, line) in b.works.lines.iter().enumerate() {
        let (from, to) = (line.from, line.to.unwrap_or(b.ids.display));
        let [intake, outlet] = [line.intake_mm, line.outlet_mm].map(|mm| mm * M_PER_MM);
        let pipe = line_pipe(line, line.has_check_valve, b.viscosity_m2_s);
        let table = Arc::new(curve(line)?.table(&pipe, TABLE_POINTS));
        let law = Law::pump(outlet, Some(Gate { z_m: intake, over_m: AIR_OVER_M }), table);
        let name = format!("pump {}", line.pump);
        b.add(name, Kind::Pump, [from, to], law, 1.0, Part::Line { line: k });
        // The stopped pump is taken to hold nothing up: the display runs back as fast as it can.
        let back = line_pipe(line, false, b.viscosity_m2_s);
        let most_m = display.rim_mm.max(line.outlet_mm) * M_PER_MM - intake;
        let table = Arc::new(back.flow_table(most_m.max(0.1), TABLE_POINTS));
        let law = Law::pipe(intake, None, table);
        let name = format!("back through the line of {}", line.pump);
        b.add(name, Kind::Pipe, [to, from], law, 0.0, Part::BackSiphon { line: k });
    }
    Ok(())
}

pub(super) fn add_top_up(b: &mut Builder<'_>) {
    let (Some(top_up), Some(reservoir)) = (&b.works.top_up, b.ids.reservoir) else { return };
    let gate = Gate { z_m: 0.0, over_m: DRY_OVER_M };
    let law = Law::rate(top_up.rate_l_h * M3_S_PER_L_H, Some(gate));
    let between = [reservoir, top_up.basin];
    b.add("top-up".to_owned(), Kind::Given, between, law, 0.0, Part::TopUp);
}

/// What a wild skimmer throws out lands on the lid over it; without a lid it falls back beside the
/// skimmer and changes nothing.
pub(super) fn add_cups(b: &mut Builder<'_>) {
    for (k, skimmer) in b.works.skimmers.iter().enumerate() {
        let Some(cover) = b.works.covers.iter().position(|c| c.basin == skimmer.basin) else {
            continue;
        };
        let gate = Gate { z_m: skimmer.stand_mm * M_PER_MM, over_m: AIR_OVER_M };
        let law = Law::rate(skimmer.cup_overflow_l_h * M3_S_PER_L_H, Some(gate));
        let between = [skimmer.basin, b.ids.covers[cover]];
        let name = format!("cup of {}", skimmer.name);
        b.add(name, Kind::Given, between, law, 0.0, Part::Cup { skimmer: k });
    }
}

/// What the display and the sump give to the air, by their surfaces. All of the sump's comes from the
/// return chamber, where it shows: crests hold the others up while water runs.
pub(super) fn add_evaporation(b: &mut Builder<'_>, display: &Display) -> Evaporation {
    let display_m2 = display.surface_mm2 * 1e-6;
    let sump_m2: f64 = b.works.basins.iter().map(|basin| basin.area_mm2() * 1e-6).sum();
    let given = b.works.room.evaporation.map(|flow| flow.to_l_per_h() * M3_S_PER_L_H);
    let air = Air {
        temperature_c: b.works.room.temperature.to_celsius(),
        humidity: b.works.room.humidity,
    };
    let (water_c, salinity) = (b.water.temperature_c, b.water.salinity_g_kg);
    let of_all = |kg_m2_s: f64| kg_m2_s / FRESH_KG_M3 * (display_m2 + sump_m2);
    let m3_s = given.unwrap_or_else(|| of_all(evaporation::shah(water_c, salinity, air)));
    let most_m3_s = given
        .unwrap_or_else(|| of_all(evaporation::carrier(water_c, salinity, air, 0.0)).max(m3_s));
    let share = m3_s / (display_m2 + sump_m2);
    let air = b.ids.air;
    let of = |floor_m: f64, m2: f64| {
        Law::rate(share * m2, Some(Gate { z_m: floor_m, over_m: DRY_OVER_M }))
    };
    let (over, under) = (of(display.floor_mm * M_PER_MM, display_m2), of(0.0, sump_m2));
    let between = [b.ids.display, air];
    let name = "evaporation from the display".to_owned();
    b.add(name, Kind::Given, between, over, 1.0, Part::DisplayEvaporation);
    let between = [b.ids.returning, air];
    let name = "evaporation from the sump".to_owned();
    b.add(name, Kind::Given, between, under, 1.0, Part::SumpEvaporation);
    Evaporation { m3_s, most_m3_s, is_computed: given.is_none() }
}
