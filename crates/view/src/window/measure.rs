//! How long frames take while the model turns.

use std::time::Instant;

use eframe::egui;
use glam::dvec2;

use super::App;

/// Frames that are not counted: programs are translated and memory is asked for.
const WARMING_UP: usize = 10;

/// Times of frames.
#[derive(Debug)]
pub(super) struct Measure {
    wanted: usize,
    last: Option<Instant>,
    times_ms: Vec<f64>,
}

impl Measure {
    pub(super) fn new(wanted: usize) -> Self {
        Self { wanted: wanted + WARMING_UP, last: None, times_ms: Vec::new() }
    }

    /// Counts a frame; what was measured, once there are enough.
    fn count(&mut self, now: Instant) -> Option<String> {
        if let Some(last) = self.last.replace(now) {
            self.times_ms.push(now.duration_since(last).as_secs_f64() * 1e3);
        }
        if self.times_ms.len() < self.wanted {
            return None;
        }
        let mut times = self.times_ms.split_off(WARMING_UP.min(self.times_ms.len()));
        times.sort_by(f64::total_cmp);
        let at = |percent: usize| times[(times.len() * percent / 100).min(times.len() - 1)];
        let [median, p95, most] = [at(50), at(95), at(100)];
        Some(format!(
            "{} frames while orbiting: median {median:.1} ms, 95 of 100 within {p95:.1} ms, the longest {most:.1} ms",
            times.len()
        ))
    }
}

impl App {
    /// Turns the model a little and counts, if that was asked for and all is loaded.
    pub(super) fn measure(&mut self, ctx: &egui::Context) {
        if self.model.is_none() || self.progress.is_some() {
            return;
        }
        let Some(measure) = &mut self.measure else { return };
        if let Some(words) = measure.count(Instant::now()) {
            self.measure = None;
            if let Ok(mut measured) = self.measured.lock() {
                let detail = format!("{:?}", self.detail()).to_lowercase();
                let [width, height] = self.frame.size().to_array();
                *measured =
                    Some(format!("{words}; model of {width:.0} × {height:.0} px, {detail}"));
            }
            ctx.send_viewport_cmd(egui::ViewportCommand::Close);
            return;
        }
        self.state.orbit = self.state.orbit.turned(dvec2(-4.0, 0.0), self.frame.size().y);
        self.note_motion(ctx);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    #[test]
    fn frames_are_counted_after_warming_up() {
        let mut measure = Measure::new(100);
        let start = Instant::now();
        let slow = |k: u32| Duration::from_millis(u64::from(k) * 20);
        let told = (0..).find_map(|k| measure.count(start + slow(k)));
        let told = told.expect("it ends");
        assert!(told.starts_with("100 frames while orbiting: median 20.0 ms"), "{told}");
    }
}
