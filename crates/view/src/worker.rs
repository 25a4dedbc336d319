//! Loads beside the window, so that nothing waits.

use std::fmt;
use std::io::ErrorKind;
use std::ops::ControlFlow;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, Sender, SyncSender, channel, sync_channel};
use std::thread;
use std::time::{Duration, Instant};

use findings::Grade;

use crate::loading::{Load, Told};

/// What is done sooner is not told: the frame that says so would only hold up the frame that shows what comes of it.
const BRIEF: Duration = Duration::from_millis(60);

/// A load waits no longer than this for the frame with its model: a window that is hidden draws none.
const FRAME: Duration = Duration::from_millis(300);

/// Called from another thread when there is something to look at.
pub type Wake = Arc<dyn Fn() + Send + Sync>;

/// Loads one file, again and again. What a load tells that began before another is never seen, and it ends as soon as it
/// would tell something.
pub struct Worker {
    path: PathBuf,
    loader: Arc<dyn Load>,
    wake: Wake,
    sender: Sender<News>,
    receiver: Receiver<News>,
    /// How many loads have begun.
    round: Arc<AtomicU64>,
    /// The text that was read last.
    text: Option<String>,
    /// Tells the load that its model is on the screen.
    seen: Option<SyncSender<()>>,
    /// How long the model that was told last was in the making, if it was told the last time and was the first of its load.
    pub took: Option<Duration>,
}

/// Told by one of the loads.
struct News {
    round: u64,
    told: Told,
    /// Since this load began.
    took: Duration,
    /// Whether it is the first model of this load.
    is_first: bool,
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
        let round = Arc::default();
        let mut worker = Self {
            path: path.to_owned(),
            loader,
            wake,
            sender,
            receiver,
            round,
            text: None,
            seen: None,
            took: None,
        };
        worker.again();
        worker
    }

    /// Loads anew, if the text is another one.
    pub fn again(&mut self) {
        let (rounds, sender, wake) = (self.round.clone(), self.sender.clone(), self.wake.clone());
        let (path, loader) = (self.path.clone(), self.loader.clone());
        let began = Instant::now();
        // A few kilobytes: nobody waits for that.
        let read = std::fs::read_to_string(&path);
        let new = read.as_ref().ok().cloned();
        // Touched is not changed.
        if new.is_some() && self.text == new {
            return;
        }
        self.text = new;
        let round = rounds.fetch_add(1, Ordering::SeqCst) + 1;
        let (seen, is_seen) = sync_channel(1);
        self.seen = Some(seen);
        thread::spawn(move || {
            let mut has_model = false;
            let mut tell = |told| {
                let is_model = matches!(told, Told::Model { .. });
                let is_brief = matches!(told, Told::Progress(_)) && began.elapsed() < BRIEF;
                let is_first = is_model && !has_model;
                has_model |= is_first;
                let news = News { round, told, took: began.elapsed(), is_first };
                // Said too late, of the model before.
                let _ = is_seen.try_recv();
                if rounds.load(Ordering::SeqCst) != round || sender.send(news).is_err() {
                    return ControlFlow::Break(());
                }
                if is_brief {
                    return ControlFlow::Continue(());
                }
                wake();
                if is_model {
                    // What comes next takes all cores, and the frame would wait for it.
                    let _ = is_seen.recv_timeout(FRAME);
                }
                ControlFlow::Continue(())
            };
            let load = || match read {
                Ok(text) => loader.load(&path.display().to_string(), &text, &mut tell),
                Err(error) => tell(Told::Refused(vec![unreadable(&path, &error)])),
            };
            // Nothing of it is used any more after it failed, but that it can tell.
            if catch_unwind(AssertUnwindSafe(load)).is_err() {
                let _ = tell(Told::Refused(vec![failed(&path)]));
            }
        });
    }

    /// Lets a load go on that waits until its model is on the screen.
    pub fn seen(&self) {
        if let Some(seen) = &self.seen {
            // Full: it was told already.
            let _ = seen.try_send(());
        }
    }

    /// What was told since the last time.
    pub fn told(&mut self) -> Vec<Told> {
        let now = self.round.load(Ordering::SeqCst);
        let new: Vec<News> = self.receiver.try_iter().filter(|news| news.round == now).collect();
        self.took = new.iter().find(|news| news.is_first).map(|news| news.took);
        new.into_iter().map(|news| news.told).collect()
    }
}

fn unreadable(path: &Path, error: &std::io::Error) -> show::Finding {
    let hint = match error.kind() {
        ErrorKind::InvalidData => "save it as UTF-8; the window looks again when it changes",
        ErrorKind::PermissionDenied => {
            "allow it to be read; the window looks again when it changes"
        }
        _ => "put the file back; the window looks again when it changes",
    };
    refusal("unreadable", format!("cannot read `{}`: {error}", path.display()), hint)
}

/// The fault is the program's: whatever a file says, there is an answer to it.
fn failed(path: &Path) -> show::Finding {
    let message =
        format!("the program itself failed on `{}`, by a mistake of its own", path.display());
    refusal("program", message, "take back the last change, and report the file to the project")
}

fn refusal(code: &str, message: String, hint: &str) -> show::Finding {
    show::Finding {
        grade: Grade::Fails,
        code: code.to_owned(),
        message,
        hint: Some(hint.to_owned()),
        parameter: String::new(),
        line: None,
        things: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::loading::Tell;

    struct Echo;

    impl Load for Echo {
        fn load(&self, _: &str, text: &str, tell: &mut Tell<'_>) -> ControlFlow<()> {
            thread::sleep(Duration::from_millis(30));
            tell(Told::Progress(if text.contains("new") { "new" } else { "old" }))
        }
    }

    fn until_told(worker: &mut Worker) -> Vec<Told> {
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
        let told = until_told(&mut worker);
        assert!(matches!(told[..], [Told::Progress("new")]), "{told:?}");
    }

    #[test]
    fn what_was_only_touched_is_not_loaded_again() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.toml");
        std::fs::write(&path, "old").expect("written");
        let mut worker = Worker::start(&path, Arc::new(Echo), Arc::new(|| {}));
        until_told(&mut worker);
        worker.again();
        thread::sleep(Duration::from_millis(120));
        assert!(worker.told().is_empty());
    }

    struct Breaks;

    impl Load for Breaks {
        fn load(&self, _: &str, text: &str, _: &mut Tell<'_>) -> ControlFlow<()> {
            assert!(text.is_empty(), "as meant by the test");
            ControlFlow::Continue(())
        }
    }

    #[test]
    fn a_load_that_breaks_is_told() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.toml");
        std::fs::write(&path, "something").expect("written");
        let mut worker = Worker::start(&path, Arc::new(Breaks), Arc::new(|| {}));
        let told = until_told(&mut worker);
        let Told::Refused(findings) = &told[0] else { panic!("{told:?}") };
        assert_eq!(findings[0].code, "program");
    }

    #[test]
    fn a_file_that_is_gone_is_told() {
        let mut worker = Worker::start(Path::new("no/such.toml"), Arc::new(Echo), Arc::new(|| {}));
        let told = until_told(&mut worker);
        let Told::Refused(findings) = &told[0] else { panic!("{told:?}") };
        assert_eq!(findings[0].code, "unreadable");
    }
}
