//! The pipes and pumps behind the elements, as they were given: whoever computes them again by other means
//! must not begin from our tables.

use serde::Serialize;

use super::parts::Part;
use super::{System, curve, drain_line, line_pipe};
use crate::pipe_line::PipeLine;
use crate::pump_curve::PumpCurve;

/// The pipe that an element's discharge comes from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PipeOf {
    /// Index of the element.
    pub element: usize,
    /// The pipe with its fittings, its valve as set.
    pub pipe: PipeLine,
    /// The pump that feeds it, if one does.
    pub pump: Option<PumpCurve>,
}

impl System<'_> {
    /// Every element that is a pipe or a pump with its line, or lies above a pipe.
    pub fn pipes(&self) -> Vec<PipeOf> {
        let viscosity_m2_s = self.viscosity_m2_s();
        let of = |(element, part): (usize, &Part)| match part {
            Part::Siphon { drain } | Part::OpenDrain { drain } => {
                let drain = &self.works.drains[*drain];
                let open = self.setting.valves.get(&drain.name).copied().or(drain.valve);
                let pipe = drain_line(drain, open.unwrap_or(1.0), viscosity_m2_s);
                Some(PipeOf { element, pipe, pump: None })
            }
            Part::Line { line } => {
                let line = &self.works.lines[*line];
                let pipe = line_pipe(line, line.has_check_valve, viscosity_m2_s);
                Some(PipeOf { element, pipe, pump: Some(curve(line).ok()?) })
            }
            Part::BackSiphon { line } => {
                let pipe = line_pipe(&self.works.lines[*line], false, viscosity_m2_s);
                Some(PipeOf { element, pipe, pump: None })
            }
            _ => None,
        };
        self.parts.iter().enumerate().filter_map(of).collect()
    }
}
