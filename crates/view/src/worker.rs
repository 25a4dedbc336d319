//! Loads beside the window, so that nothing waits.

use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::Instant;

use findings::Grade;

use crate::loading::{Load, Told};

/// Called from another thread when there is something to look at.
pub type Wake = Arc<dyn Fn() + Send + Sync>;

/// Loads one file, again and again. What a load tells that began before another is never seen.
pub struct Worker {
    path: PathBuf,
    loader: Arc<dyn Load>,
    wake: Wake,
    sender: Sender<(u64, Told)>,
    receiver: Receiver<(u64, Told)>,
    round: u64,
    /// When the last load began.
    pub began: Instant,
}

impl fmt::Debug for Worker {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Worker").field("path", &self.path).field("round", &self.round).finish()
    }
}

impl Worker {
    /// Begins to load.
    pub fn start(path: &Path, loader: Arc<dyn Load>, wake: Wake) -> Self {
        let (sender, receiver) = channel();
        let path = path.to_owned();
        let mut worker =
            Self { path, loader, wake, sender, receiver, round: 0, began: Instant::now() };
        worker.again();
        worker
    }

    /// Loads anew.
    pub fn again(&mut self) {
        self.round += 1;
        self.began = Instant::now();
        let (round, sender, wake) = (self.round, self.sender.clone(), self.wake.clone());
        let (path, loader) = (self.path.clone(), self.loader.clone());
        thread::spawn(move || {
            let mut tell = |told| {
                // Nobody listens any more when the window was closed.
                let _ = sender.send((round, told));
                wake();
            };
            match std::fs::read_to_string(&path) {
                Ok(text) => loader.load(&path.display().to_string(), &text, &mut tell),
                Err(error) => tell(Told::Refused(vec![unreadable(&path, &error)])),
            }
        });
    }

    /// What was told since the last time.
    pub fn told(&self) -> Vec<Told> {
        let new = self.receiver.try_iter();
        new.filter(|(round, _)| *round == self.round).map(|(_, told)| told).collect()
    }
}

fn unreadable(path: &Path, error: &std::io::Error) -> show::Finding {
    show::Finding {
        grade: Grade::Fails,
        code: "unreadable".to_owned(),
        message: format!("cannot read `{}`: {error}", path.display()),
        hint: Some("put the file back; the window looks again when it changes".to_owned()),
        parameter: String::new(),
        line: None,
        things: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    struct Echo;

    impl Load for Echo {
        fn load(&self, _: &str, text: &str, tell: &mut dyn FnMut(Told)) {
            thread::sleep(Duration::from_millis(30));
            tell(Told::Progress(if text.contains("new") { "new" } else { "old" }));
        }
    }

    fn until_told(worker: &Worker) -> Vec<Told> {
        for _ in 0..200 {
            thread::sleep(Duration::from_millis(10));
            let told = worker.told();
            if !told.is_empty() {
                return told;
            }
        }
        panic!("nothing was told");
    }

    #[test]
    fn what_began_before_another_load_is_never_seen() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.toml");
        std::fs::write(&path, "old").expect("written");
        let mut worker = Worker::start(&path, Arc::new(Echo), Arc::new(|| {}));
        thread::sleep(Duration::from_millis(60));
        std::fs::write(&path, "new").expect("written");
        worker.again();
        let told = until_told(&worker);
        assert!(matches!(told[..], [Told::Progress("new")]), "{told:?}");
    }

    #[test]
    fn a_file_that_is_gone_is_told() {
        let worker = Worker::start(Path::new("no/such.toml"), Arc::new(Echo), Arc::new(|| {}));
        let told = until_told(&worker);
        let Told::Refused(findings) = &told[0] else { panic!("{told:?}") };
        assert_eq!(findings[0].code, "unreadable");
    }
}
