//! The system around the sump: display, drains, pumps with their lines, skimmers, top-up.

use glam::{DVec2, dvec2};
use params::{DrainPipe, EquipmentKind, File};
use units::Length;

use super::basins::basin_of;
use super::{Basin, Display, Drain, Into, Line, PumpData, Shelf, Skimmer, TopUp};
use crate::draft::Builder;
use crate::spaces::Layout;

/// The float switches on this far below the level that is kept, mm, unless the file says otherwise: the
/// play of small float switches, from memory.
const FLOAT_PLAY_MM: f64 = 2.0;
/// Height of a pump's intake over its own height, unless the file says otherwise; common practice.
const INTAKE_SHARE: f64 = 1.0 / 3.0;
/// What a wild skimmer throws out, L/h, unless the file says otherwise: an assumption.
const CUP_OVERFLOW_L_H: f64 = 100.0;

pub(super) fn display(file: &File) -> Option<Display> {
    let display = file.display.as_ref()?;
    let [length, width, height] =
        [display.inside.length, display.inside.width, display.inside.height].map(Length::to_mm);
    let floor_mm = display.stands.to_mm();
    let crest_mm = floor_mm + display.overflow.crest.height.to_mm();
    let weir_box = &display.overflow.weir_box;
    let teeth = display.overflow.crest.teeth;
    Some(Display {
        surface_mm2: length * width,
        displaced_l: display.displaced.to_l(),
        floor_mm,
        rim_mm: floor_mm + height,
        rim_run_mm: 2.0 * (length + width),
        crest_mm,
        crest_width_mm: display.overflow.crest.width.to_mm(),
        teeth_mm: teeth.map(|t| [t.width, t.gap, t.depth].map(Length::to_mm)),
        box_mm2: weir_box.length.to_mm() * weir_box.width.to_mm(),
        box_floor_mm: crest_mm - weir_box.depth.to_mm(),
    })
}

pub(super) fn drains(b: &Builder<'_>, layout: &Layout, shelves: &[Shelf]) -> Vec<Drain> {
    let file = b.file;
    let drain = |(i, spec): (usize, &DrainPipe)| {
        let basin = basin_of(layout, &spec.chamber)?;
        let out_mm = spec.end.to_mm();
        let stands_mm = file.display.as_ref().map_or(0.0, |d| d.stands.to_mm());
        let intake_mm = spec.intake.map(|intake| stands_mm + intake.to_mm());
        let straight_mm = intake_mm.map_or(0.0, |intake| (intake - out_mm).max(0.0));
        Some(Drain {
            name: spec.name.clone(),
            parameter: format!("drain[{i}]"),
            duty: spec.duty,
            into: end(layout, shelves, basin, spec),
            out_mm,
            intake_mm,
            bore_mm: crate::equipment::bore_mm(spec),
            run_mm: spec.run.map_or(straight_mm, Length::to_mm),
            elbows: spec.elbows,
            loss: spec.loss,
            valve: spec.valve,
        })
    };
    file.drain.iter().enumerate().filter_map(drain).collect()
}

/// A drain ends in a sock if it hangs in one or above the shelf, else in the chamber.
fn end(layout: &Layout, shelves: &[Shelf], basin: usize, spec: &DrainPipe) -> Into {
    let Some(k) = shelves.iter().position(|s| s.basin == basin) else { return Into::Basin(basin) };
    let shelf = &shelves[k];
    let at: Option<DVec2> =
        spec.at.map(|[x, y]| layout.spaces[basin].min + dvec2(x.to_mm(), y.to_mm()));
    // Without a place it hangs in the first sock.
    let is_in_sock = spec.through.is_none()
        && at.is_none_or(|at| {
            shelf.middles.iter().any(|m| m.distance(at) < 0.5 * shelf.diameter_mm)
        });
    if is_in_sock || spec.end.to_mm() >= shelf.top_mm { Into::Shelf(k) } else { Into::Basin(basin) }
}

pub(super) fn lines(b: &Builder<'_>, layout: &Layout) -> Vec<Line> {
    let file = b.file;
    let stands_mm = file.display.as_ref().map_or(0.0, |d| d.stands.to_mm());
    let line = |(i, spec): (usize, &params::ReturnLine)| {
        let (k, pump) = file.equipment.iter().enumerate().find(|(_, e)| e.name == spec.pump)?;
        let to = match &spec.to {
            Some(chamber) => Some(basin_of(layout, chamber)?),
            None => None,
        };
        // An outlet in a chamber is measured like everything else in the sump.
        let base_mm = if to.is_some() { 0.0 } else { stands_mm };
        let outlet_mm = base_mm + spec.outlet.to_mm();
        let nozzle_mm = spec.nozzle.unwrap_or(spec.bore).to_mm();
        let mouth_mm = outlet_mm - 0.5 * nozzle_mm;
        Some(Line {
            pump: pump.name.clone(),
            parameter: format!("return_line[{i}]"),
            pump_parameter: format!("equipment[{k}]"),
            from: basin_of(layout, &pump.chamber)?,
            to,
            data: pump_data(pump),
            intake_mm: pump.stand.to_mm()
                + pump.intake.map_or(INTAKE_SHARE * height_mm(pump), Length::to_mm),
            intake_diameter_mm: pump.intake_diameter.map(Length::to_mm),
            bore_mm: spec.bore.to_mm(),
            length_mm: spec.length.to_mm(),
            elbows: spec.elbows,
            loss: spec.loss,
            outlet_mm,
            nozzle_mm,
            // Whichever comes out of the water first lets the air in.
            break_mm: spec.break_hole.map_or(mouth_mm, |hole| mouth_mm.max(base_mm + hole.to_mm())),
            mouth_mm,
            has_break_hole: spec.break_hole.is_some(),
            has_check_valve: spec.check_valve,
        })
    };
    file.return_line.iter().enumerate().filter_map(line).collect()
}

fn height_mm(thing: &params::Equipment) -> f64 {
    let height = thing.block.map(|b| b[2]).or(thing.cylinder.map(|c| c.height));
    height.map_or(0.0, Length::to_mm)
}

fn pump_data(pump: &params::Equipment) -> PumpData {
    if !pump.curve.is_empty() {
        let point = |p: &params::CurvePoint| [p.flow.to_l_per_h(), p.head.to_m()];
        return PumpData::Curve(pump.curve.iter().map(point).collect());
    }
    match (pump.flow, pump.head) {
        (Some(flow), Some(head)) => {
            PumpData::Extremes { flow_l_h: flow.to_l_per_h(), head_m: head.to_m() }
        }
        _ => PumpData::Unknown,
    }
}

pub(super) fn skimmers(b: &Builder<'_>, layout: &Layout) -> Vec<Skimmer> {
    let things = b.file.equipment.iter().enumerate();
    things
        .filter(|(_, e)| e.kind == EquipmentKind::Skimmer)
        .filter_map(|(i, e)| {
            Some(Skimmer {
                name: e.name.clone(),
                parameter: format!("equipment[{i}]"),
                basin: basin_of(layout, &e.chamber)?,
                stand_mm: e.stand.to_mm(),
                depth_mm: e.depth.map(|depth| depth.map(Length::to_mm)),
                cup_overflow_l_h: e.cup_overflow.map_or(CUP_OVERFLOW_L_H, units::Flow::to_l_per_h),
                is_assumed: e.cup_overflow.is_none(),
            })
        })
        .collect()
}

pub(super) fn top_up(b: &Builder<'_>, layout: &Layout, basins: &[Basin]) -> Option<TopUp> {
    let spec = b.file.top_up.as_ref()?;
    let return_basin = return_basin(basins);
    let basin = match &spec.chamber {
        Some(chamber) => basin_of(layout, chamber)?,
        None => return_basin?,
    };
    let kept = basins[basin].kept_level_mm;
    let high = spec.high.map(Length::to_mm).or(kept)?;
    let low = spec.low.map_or(high - FLOAT_PLAY_MM, Length::to_mm);
    Some(TopUp {
        parameter: "top_up".to_owned(),
        basin,
        reservoir_l: spec.reservoir.to_l(),
        rate_l_h: spec.rate.to_l_per_h(),
        float_mm: [low, high],
        salinity_g_kg: spec.salinity.to_g_per_kg(),
    })
}

/// The chamber that is kept at a level, else the last.
fn return_basin(basins: &[Basin]) -> Option<usize> {
    let kept = basins.iter().position(|basin| basin.kept_level_mm.is_some());
    kept.or_else(|| basins.iter().rposition(|basin| basin.is_chamber))
}
