//! Keeps two runs off one folder.

use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use anyhow::bail;

/// A lock on a path, given back when dropped, and by the system when the run is killed.
#[derive(Debug)]
pub(super) struct Lock {
    path: PathBuf,
    _file: File,
}

impl Lock {
    /// Takes the lock, or says that another run has it.
    pub(super) fn take(path: &Path) -> anyhow::Result<Self> {
        loop {
            let file = File::options().create(true).truncate(false).write(true).open(path)?;
            match file.try_lock() {
                Ok(()) => {}
                Err(TryLockError::WouldBlock) => {
                    bail!(
                        "another run is writing it; wait for that run, or choose another folder with `--into`"
                    )
                }
                Err(TryLockError::Error(error)) => return Err(error.into()),
            }
            // The run that had the lock before may have removed its file between our opening and locking
            // it; a lock on a file that is gone keeps nobody off.
            if is_at(&file, path)? {
                return Ok(Self { path: path.to_owned(), _file: file });
            }
        }
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        // A lock file that cannot be removed does no harm: it is empty and the next run uses it.
        if cfg!(unix) {
            fs::remove_file(&self.path).ok();
        }
    }
}

#[cfg(unix)]
fn is_at(file: &File, path: &Path) -> io::Result<bool> {
    use std::os::unix::fs::MetadataExt;
    let held = file.metadata()?;
    match fs::metadata(path) {
        Ok(there) => Ok((there.dev(), there.ino()) == (held.dev(), held.ino())),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(false),
        Err(error) => Err(error),
    }
}

/// Elsewhere the file is never removed, so it is always the one.
#[cfg(not(unix))]
fn is_at(_: &File, _: &Path) -> io::Result<bool> {
    Ok(true)
}
