//! How long frames take while the model turns, and how long it takes from saving the file to the new frame.

mod orbit;
mod processor;
mod saves;

use std::path::PathBuf;
use std::time::Instant;

use eframe::egui;
use glam::dvec2;

use super::App;
use orbit::Frames;
use saves::Saves;

/// What is measured.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Measuring {
    /// So many frames while the model turns.
    Frames(usize),
    /// So many times the file is saved with something changed: a copy that was made for it.
    Saves(usize, PathBuf),
}

/// What was measured so far.
#[derive(Debug)]
pub(super) enum Measure {
    Frames(Frames),
    Saves(Saves),
}

impl Measure {
    pub(super) fn new(what: &Measuring) -> Self {
        match what {
            Measuring::Frames(wanted) => Self::Frames(Frames::new(*wanted)),
            Measuring::Saves(wanted, copy) => Self::Saves(Saves::new(*wanted, copy.clone())),
        }
    }

    /// Whether drawing is to wait until the graphics driver is done, so that its share of the time is known.
    pub(super) fn is_waiting(&self) -> bool {
        matches!(self, Self::Frames(frames) if frames.is_by_parts())
    }
}

impl App {
    /// Does what is measured, and counts.
    pub(super) fn measure(&mut self, ctx: &egui::Context) {
        let now = Instant::now();
        let is_idle = self.model.is_some() && self.progress.is_none();
        let drawn_ms = self.canvas.lock().map_or(0.0, |canvas| canvas.drawn_ms);
        let size = self.frame.size();
        let told = match &mut self.measure {
            Some(Measure::Frames(frames)) if is_idle => {
                let told = frames.count(now, [self.worded_ms, drawn_ms]);
                self.state.orbit = self.state.orbit.turned(dvec2(-4.0, 0.0), size.y);
                ctx.request_repaint();
                told
            }
            Some(Measure::Saves(saves)) => {
                let told = saves.go_on(now, is_idle, self.worker.took);
                ctx.request_repaint_after(saves.wait());
                told
            }
            _ => None,
        };
        let Some(words) = told else { return };
        self.measure = None;
        if let Ok(mut measured) = self.measured.lock() {
            let detail = format!("{:?}", self.detail()).to_lowercase();
            let [width, height] = size.to_array();
            *measured = Some(format!("{words}\nmodel of {width:.0} × {height:.0} px, {detail}"));
        }
        ctx.send_viewport_cmd(egui::ViewportCommand::Close);
    }
}

/// Median, the time within which 95 of 100 are, and the longest.
fn spread(times_ms: &[f64]) -> [f64; 3] {
    let mut times = times_ms.to_vec();
    times.sort_by(f64::total_cmp);
    let at = |percent: usize| {
        times.get((times.len() * percent / 100).min(times.len().saturating_sub(1)))
    };
    [50, 95, 100].map(|percent| at(percent).copied().unwrap_or(0.0))
}
