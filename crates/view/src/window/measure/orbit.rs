//! Frames while the model turns.

use std::time::Instant;

use super::processor::busy_s;
use super::spread;

/// Frames that are not counted: programs are translated and memory is asked for.
const WARMING_UP: usize = 10;
/// After those that are counted so many more are taken apart. Waiting for the graphics driver costs time, so these
/// are not counted.
const BY_PARTS: usize = 30;

/// Times of frames.
#[derive(Debug)]
pub(in crate::window) struct Frames {
    wanted: usize,
    last: Option<Instant>,
    times_ms: Vec<f64>,
    /// Words and cards laid out, the model drawn, and all of it, of the frames that are taken apart.
    parts_ms: Vec<[f64; 3]>,
    /// How long the processor was busy until the first frame that is counted, and in all that are.
    busy_s: Option<f64>,
    spent_s: Option<f64>,
}

impl Frames {
    pub(super) fn new(wanted: usize) -> Self {
        Self {
            wanted: wanted + WARMING_UP,
            last: None,
            times_ms: Vec::new(),
            parts_ms: Vec::new(),
            busy_s: None,
            spent_s: None,
        }
    }

    /// Whether frames are taken apart now.
    pub(super) fn is_by_parts(&self) -> bool {
        self.wanted <= self.times_ms.len()
    }

    /// Counts a frame, with what the last one took for words and for drawing; what was measured, once there are enough.
    pub(super) fn count(&mut self, now: Instant, [words, drawn]: [f64; 2]) -> Option<String> {
        let before = self.last.replace(now)?;
        let all = now.duration_since(before).as_secs_f64() * 1e3;
        if self.times_ms.len() == WARMING_UP {
            self.busy_s = busy_s();
        }
        if self.is_by_parts() {
            self.parts_ms.push([words, drawn, all]);
        } else {
            self.times_ms.push(all);
            if self.is_by_parts() {
                self.spent_s = busy_s().zip(self.busy_s).map(|(end, begin)| end - begin);
            }
        }
        (self.parts_ms.len() == BY_PARTS + 1).then(|| self.told())
    }

    fn told(&self) -> String {
        let times = self.times_ms.get(WARMING_UP..).unwrap_or_default();
        let [median, p95, most] = spread(times);
        let mut words = format!(
            "{} frames while orbiting: median {median:.1} ms, 95 of 100 within {p95:.1} ms, the longest {most:.1} ms",
            times.len()
        );
        if let Some(spent) = self.spent_s {
            let each = spent * 1e3 / f64::from(u32::try_from(times.len()).unwrap_or(1)).max(1.0);
            words += &format!("\n{each:.1} ms of processor time a frame, on all cores together");
        }
        // The first was still drawn without waiting.
        let parts = self.parts_ms.get(1..).unwrap_or_default();
        let median = |k: usize| spread(&parts.iter().map(|part| part[k]).collect::<Vec<_>>())[0];
        let [laid, drawn, all] = [0, 1, 2].map(median);
        words
            + &format!(
                "\none after another: {laid:.1} ms words and cards laid out, {drawn:.1} ms model drawn, {:.1} ms all painted and shown",
                (all - laid - drawn).max(0.0)
            )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    #[test]
    fn frames_are_counted_after_warming_up() {
        let mut frames = Frames::new(100);
        let start = Instant::now();
        let slow = |k: u32| Duration::from_millis(u64::from(k) * 20);
        let told = (0..200).find_map(|k| frames.count(start + slow(k), [2.0, 5.0]));
        let told = told.expect("it ends");
        assert!(told.starts_with("100 frames while orbiting: median 20.0 ms"), "{told}");
        assert!(told.contains("2.0 ms words") && told.contains("13.0 ms all painted"), "{told}");
    }
}
