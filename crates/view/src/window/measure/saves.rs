//! From saving the file to the new frame.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use super::spread;

/// Between two saves all is at rest for so long.
const REST: Duration = Duration::from_millis(250);

/// Times from saves to frames.
#[derive(Debug)]
pub(in crate::window) struct Saves {
    wanted: usize,
    /// The file that is written, and what it was at first.
    copy: PathBuf,
    text: Option<String>,
    /// Since when all is at rest.
    idle: Option<Instant>,
    stage: Stage,
    /// All of it, and the model's own part, ms.
    times_ms: Vec<[f64; 2]>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Stage {
    /// Nothing is to be seen.
    Resting,
    /// Saved then; the first model is awaited.
    Saved(Instant),
    /// The model has come and its frame is drawn and shown before the next begins; the model's own part, ms.
    Drawn(Instant, f64),
}

impl Saves {
    pub(super) fn new(wanted: usize, copy: PathBuf) -> Self {
        let text = std::fs::read_to_string(&copy).ok();
        Self { wanted, copy, text, idle: None, stage: Stage::Resting, times_ms: Vec::new() }
    }

    /// Called as each frame begins, after news was taken in: `took` is how long the first model of the last load was in the
    /// making, once. What was measured, once there is enough.
    pub(super) fn go_on(
        &mut self,
        now: Instant,
        is_idle: bool,
        took: Option<Duration>,
    ) -> Option<String> {
        match (self.stage, took) {
            (Stage::Saved(at), Some(took)) => {
                self.stage = Stage::Drawn(at, took.as_secs_f64() * 1e3);
            }
            (Stage::Drawn(at, own), _) => {
                self.times_ms.push([now.duration_since(at).as_secs_f64() * 1e3, own]);
                (self.stage, self.idle) = (Stage::Resting, None);
            }
            (Stage::Resting, _) if is_idle => {
                if self.times_ms.len() == self.wanted {
                    return Some(self.told());
                }
                let since = *self.idle.get_or_insert(now);
                if REST < now.duration_since(since) {
                    return self.save();
                }
            }
            (Stage::Resting, _) => self.idle = None,
            (Stage::Saved(_), None) => {}
        }
        None
    }

    /// Writes the file with something changed; in words why it cannot.
    fn save(&mut self) -> Option<String> {
        let changed = self.text.as_deref().and_then(|text| changed(text, self.times_ms.len()));
        let Some(changed) = changed else {
            return Some(
                "the file has no `set = …` or `level = …` with a bare number to change".to_owned(),
            );
        };
        self.stage = Stage::Saved(Instant::now());
        let written = std::fs::write(&self.copy, changed);
        written.err().map(|error| format!("cannot write `{}`: {error}", self.copy.display()))
    }

    fn told(&self) -> String {
        let of = |value: &dyn Fn(&[f64; 2]) -> f64| {
            let [median, p95, most] = spread(&self.times_ms.iter().map(value).collect::<Vec<_>>());
            format!("median {median:.1} ms, 95 of 100 within {p95:.1} ms, the longest {most:.1} ms")
        };
        format!(
            "{} saves, from writing the file to the new frame: {}\nthe model's own part of it: {}\nbeyond it: {}",
            self.times_ms.len(),
            of(&|[all, _]| *all),
            of(&|[_, own]| *own),
            of(&|[all, own]| all - own),
        )
    }
}

/// The text with the setting of its first door, or its first level, a millimetre or two lower; each time another.
fn changed(text: &str, time: usize) -> Option<String> {
    let mut is_done = false;
    let line = |line: &str| {
        let value = ["set", "level"].iter().find_map(|key| {
            let rest = line.trim_start().strip_prefix(key)?.trim_start().strip_prefix('=')?;
            let number = rest.split('#').next().unwrap_or_default().trim();
            Some((number, number.parse::<f64>().ok()?))
        });
        match value.filter(|_| !is_done) {
            Some((number, value)) => {
                is_done = true;
                let lower = if time.is_multiple_of(2) { 1.0 } else { 2.0 };
                line.replacen(number, &format!("{}", value - lower), 1)
            }
            None => line.to_owned(),
        }
    };
    let lines: Vec<String> = text.lines().map(line).collect();
    is_done.then(|| lines.join("\n") + "\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_one_setting_is_changed() {
        let text = "[a]\nlowest = 3\nset = 250   # of the door\nset = 9\n";
        assert_eq!(
            changed(text, 0).as_deref(),
            Some("[a]\nlowest = 3\nset = 249   # of the door\nset = 9\n")
        );
        assert_ne!(changed(text, 0), changed(text, 1));
        assert_eq!(changed("title = \"set\"\n", 0), None);
    }

    #[test]
    fn demos_have_something_to_change() {
        for text in [
            include_str!("../../../../../params/fragfarm.toml"),
            include_str!("../../../../../params/mangrove.toml"),
            include_str!("../../../../../params/seahorse.toml"),
        ] {
            assert!(changed(text, 0).is_some_and(|changed| changed != text));
        }
    }
}
