//! Notices when the file is saved.

use std::path::{Path, PathBuf};
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
    /// A link is watched where it lies and where it leads.
    ///
    /// # Errors
    /// When the folder cannot be watched.
    pub fn on(path: &Path, wake: Wake) -> notify::Result<Self> {
        let real = path.canonicalize().unwrap_or_else(|_| path.to_owned());
        let places = if real.file_name() == path.file_name() && folder(&real) == folder(path) {
            vec![real]
        } else {
            vec![path.to_owned(), real]
        };
        let names: Vec<_> =
            places.iter().filter_map(|p| p.file_name().map(ToOwned::to_owned)).collect();
        let (sender, touched) = channel();
        let notice = move |event: notify::Result<notify::Event>| {
            // Some news were lost, perhaps of this file: it is looked at.
            let stroke = event.map_or(Some(Stroke::Other), |event| {
                let is_named = |path: &PathBuf| {
                    path.file_name().is_some_and(|name| names.iter().any(|known| known == name))
                };
                if event.need_rescan() {
                    return Some(Stroke::Other);
                }
                Stroke::of(event.kind).filter(|_| event.paths.iter().any(is_named))
            });
            if stroke.is_some_and(|stroke| sender.send(stroke).is_ok()) {
                wake();
            }
        };
        let mut watcher = notify::recommended_watcher(notice)?;
        for place in &places {
            watcher.watch(folder(place), RecursiveMode::NonRecursive)?;
        }
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

fn folder(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
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
    #[cfg(unix)]
    fn a_file_that_a_link_leads_to_is_seen() {
        let folder = tempfile::tempdir().expect("a folder");
        let elsewhere = tempfile::tempdir().expect("a folder");
        let (link, real) = (folder.path().join("a.toml"), elsewhere.path().join("b.toml"));
        std::fs::write(&real, "old").expect("written");
        std::os::unix::fs::symlink(&real, &link).expect("linked");
        let mut watch = Watch::on(&link, Arc::new(|| {})).expect("watched");
        std::fs::write(&real, "new").expect("written");
        assert!((0..60).any(|_| {
            sleep(Duration::from_millis(10));
            watch.is_saved(Instant::now()).is_ok()
        }));
    }

    #[test]
    fn other_files_are_not() {
        assert!(!is_seen(|path| {
            std::fs::write(path.with_extension("bak"), "new").expect("written");
        }));
    }
}
