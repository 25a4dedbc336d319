//! Notices when the file is saved.

use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use notify::event::{AccessKind, AccessMode, ModifyKind, RenameMode};
use notify::{EventKind, RecommendedWatcher, RecursiveMode, Watcher};

use crate::worker::Wake;

/// An editor saves in several strokes: empties, writes, removes, renames. Where the system does not tell when the last of
/// them is done, it is quiet that long before the file is read.
pub const QUIET: Duration = Duration::from_millis(100);

/// What was done to the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stroke {
    /// It is whole: what wrote it has closed it, or it was put in the place of the old one.
    Last,
    /// More may follow.
    Other,
}

impl Stroke {
    fn of(kind: EventKind) -> Option<Self> {
        match kind {
            EventKind::Access(AccessKind::Close(AccessMode::Write))
            | EventKind::Modify(ModifyKind::Name(RenameMode::To)) => Some(Self::Last),
            EventKind::Access(_) => None,
            _ => Some(Self::Other),
        }
    }
}

/// Watches one file.
#[derive(Debug)]
pub struct Watch {
    // Dropped, it would watch no more.
    _watcher: RecommendedWatcher,
    touched: Receiver<Stroke>,
    last: Option<Instant>,
}

impl Watch {
    /// Watches a file. Its folder is what is watched: many editors put a new file in the place of the old, and a
    /// watch on the old one would go deaf.
    ///
    /// # Errors
    /// When the folder cannot be watched.
    pub fn on(path: &Path, wake: Wake) -> notify::Result<Self> {
        let name = path.file_name().map(ToOwned::to_owned);
        let (sender, touched) = channel();
        let notice = move |event: notify::Result<notify::Event>| {
            let Ok(event) = event else { return };
            let is_ours = event.paths.iter().any(|path| path.file_name() == name.as_deref());
            let stroke = Stroke::of(event.kind).filter(|_| is_ours);
            if stroke.is_some_and(|stroke| sender.send(stroke).is_ok()) {
                wake();
            }
        };
        let mut watcher = notify::recommended_watcher(notice)?;
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
        watcher.watch(folder.unwrap_or(Path::new(".")), RecursiveMode::NonRecursive)?;
        Ok(Self { _watcher: watcher, touched, last: None })
    }

    /// Whether the file was saved whole, or touched and it has been quiet since; else how long to wait before asking again,
    /// if at all.
    pub fn is_saved(&mut self, now: Instant) -> Result<(), Option<Duration>> {
        let strokes: Vec<Stroke> = self.touched.try_iter().collect();
        match strokes.last() {
            Some(Stroke::Last) => self.last = None,
            Some(Stroke::Other) => self.last = Some(now),
            None => {}
        }
        if strokes.contains(&Stroke::Last) {
            return Ok(());
        }
        let Some(last) = self.last else { return Err(None) };
        match QUIET.checked_sub(now.saturating_duration_since(last)) {
            Some(rest) if !rest.is_zero() => Err(Some(rest)),
            _ => {
                self.last = None;
                Ok(())
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;
    use std::thread::sleep;

    fn is_seen(change: impl FnOnce(&Path)) -> bool {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.toml");
        std::fs::write(&path, "old").expect("written");
        let mut watch = Watch::on(&path, Arc::new(|| {})).expect("watched");
        change(&path);
        (0..60).any(|_| {
            sleep(Duration::from_millis(10));
            watch.is_saved(Instant::now()).is_ok()
        })
    }

    #[test]
    fn a_file_written_in_place_is_seen() {
        assert!(is_seen(|path| std::fs::write(path, "new").expect("written")));
    }

    #[test]
    #[cfg(target_os = "linux")]
    fn a_file_that_was_closed_is_seen_at_once() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.toml");
        std::fs::write(&path, "old").expect("written");
        let mut watch = Watch::on(&path, Arc::new(|| {})).expect("watched");
        std::fs::write(&path, "new").expect("written");
        // Whatever the clock says, it never seems quiet.
        let now = Instant::now();
        let is_seen = (0..100).any(|_| {
            sleep(Duration::from_millis(10));
            watch.is_saved(now).is_ok()
        });
        assert!(is_seen);
    }

    #[test]
    fn a_file_put_in_its_place_is_seen() {
        assert!(is_seen(|path| {
            let beside = path.with_extension("new");
            std::fs::write(&beside, "new").expect("written");
            std::fs::rename(&beside, path).expect("renamed");
        }));
    }

    #[test]
    fn other_files_are_not() {
        assert!(!is_seen(|path| {
            std::fs::write(path.with_extension("bak"), "new").expect("written");
        }));
    }
}
