//! From saving the file to the new frame.

use std::path::PathBuf;
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::{Duration, Instant};

use super::spread;

/// Between two saves all is at rest for so long.
const REST: Duration = Duration::from_millis(250);
/// The file is written so long after this was asked for, when no frame is being drawn any more: an editor does not wait for
/// the window's frames.
const BETWEEN_FRAMES: Duration = Duration::from_millis(50);

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
    /// Tells when the file was written, or why it could not be.
    written: Option<Receiver<std::io::Result<Instant>>>,
    /// All of it, and the model's own part, ms.
    times_ms: Vec<[f64; 2]>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Stage {
    /// Nothing is to be seen.
    Resting,
    /// Saved; the first model is awaited.
    Saved,
    /// The model has come and its frame is drawn and shown before the next begins; the model's own part, ms.
    Drawn(Instant, f64),
}

impl Saves {
    pub(super) fn new(wanted: usize, copy: PathBuf) -> Self {
        let text = std::fs::read_to_string(&copy).ok();
        Self {
            wanted,
            copy,
            text,
            idle: None,
            stage: Stage::Resting,
            written: None,
            times_ms: Vec::new(),
        }
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
            (Stage::Saved, Some(took)) => match self.written.take().map(|written| written.recv()) {
                Some(Ok(Ok(at))) => self.stage = Stage::Drawn(at, took.as_secs_f64() * 1e3),
                Some(Ok(Err(error))) => {
                    return Some(format!("cannot write `{}`: {error}", self.copy.display()));
                }
                _ => self.stage = Stage::Resting,
            },
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
            (Stage::Saved, None) => {}
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
        let (tell, written) = channel();
        let copy = self.copy.clone();
        thread::spawn(move || {
            thread::sleep(BETWEEN_FRAMES);
            let at = Instant::now();
            // Nobody listens any more when the window was closed.
            let _ = tell.send(std::fs::write(copy, changed).map(|()| at));
        });
        (self.stage, self.written) = (Stage::Saved, Some(written));
        None
    }

    /// After so long it wants another frame, if none comes by itself.
    pub(super) fn wait(&self) -> Duration {
        match self.stage {
            Stage::Resting => REST / 4,
            Stage::Saved => Duration::from_secs(10),
            Stage::Drawn(..) => Duration::ZERO,
        }
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
