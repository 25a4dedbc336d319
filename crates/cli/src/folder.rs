//! Puts the files of one run in place as one folder: all of them or none.
//!
//! The files are written into a hidden folder beside the target and brought to the disk; then the two
//! folders change places in one step of the file system, and the old one is removed. A run that is
//! killed leaves the target as it was, or as it is to be, never between. Where the file system cannot
//! exchange two folders, the old one is first moved aside and the next run moves it back if it has to.

mod lock;
mod standing;
mod swap;

use std::collections::BTreeSet;
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

use anyhow::{Context, bail};

use crate::files::{Files, MANIFEST, Manifest};
use lock::Lock;

/// A folder that only this run may write, until it is dropped.
#[derive(Debug)]
pub(crate) struct Folder {
    target: PathBuf,
    /// Where the new files are collected.
    making: PathBuf,
    /// Where the old folder waits when the two cannot change places in one step.
    aside: PathBuf,
    _lock: Lock,
}

impl Folder {
    /// Reserves `path` for this run, tidies up after a run that was killed, and makes sure that nothing
    /// of somebody else's would be lost. Makes the folders above `path`. `made_from` is the file of the folder that it is
    /// made from: a folder that was made from another kind of file is left alone.
    ///
    /// # Errors
    /// When another run has it, when it is not a folder of ours, or when the system refuses.
    pub(crate) fn reserve(path: &Path, made_from: &str) -> anyhow::Result<Self> {
        let target = resolve(path)?;
        let beside = |ending: &str| {
            let mut name = OsString::from(".");
            name.push(target.file_name().expect("`resolve` leaves a name"));
            name.push(ending);
            target.with_file_name(name)
        };
        let lock = Lock::take(&beside(".sumpwright-lock"))
            .with_context(|| format!("cannot reserve `{}`", path.display()))?;
        let folder = Self {
            making: beside(".sumpwright-new"),
            aside: beside(".sumpwright-old"),
            target,
            _lock: lock,
        };
        folder.tidy_up().with_context(|| format!("cannot tidy up beside `{}`", path.display()))?;
        standing::check(&folder.target, made_from, &path.display())?;
        Ok(folder)
    }

    /// Writes `files` and their manifest, and puts them in place of what stands there.
    pub(crate) fn put(&self, files: &Files, manifest: &Manifest) -> anyhow::Result<()> {
        let collected = self.collect(files, manifest);
        if collected.is_err() {
            // A full disk, most likely: give back what was taken. The next run would, too.
            remove(&self.making).ok();
        }
        collected.with_context(|| format!("cannot write into `{}`", self.making.display()))?;
        swap::put(&self.making, &self.target, &self.aside)
            .with_context(|| format!("cannot put the new folder at `{}`", self.target.display()))
    }

    fn collect(&self, files: &Files, manifest: &Manifest) -> io::Result<()> {
        fs::create_dir(&self.making)?;
        let mut folders = BTreeSet::from([self.making.clone()]);
        for (path, file) in files.iter() {
            let path = self.making.join(path);
            let folder = path.parent().expect("a file lies in a folder").to_owned();
            fs::create_dir_all(&folder)?;
            folders
                .extend(folder.ancestors().take_while(|f| *f != self.making).map(Path::to_owned));
            write(&path, &file.bytes)?;
        }
        write(&self.making.join(MANIFEST), manifest.to_json().as_bytes())?;
        folders.iter().try_for_each(|folder| swap::to_disk(folder))
    }

    /// Removes what a killed run left, and moves the old folder back if that run had come no further.
    fn tidy_up(&self) -> io::Result<()> {
        remove(&self.making)?;
        if exists(&self.aside) && !exists(&self.target) {
            fs::rename(&self.aside, &self.target)?;
        }
        remove(&self.aside)
    }
}

/// Where `path` is, without symbolic links, with a name of its own.
fn resolve(path: &Path) -> anyhow::Result<PathBuf> {
    let shown = path.display();
    let target = if exists(path) {
        fs::canonicalize(path).with_context(|| format!("cannot follow `{shown}`"))?
    } else {
        let name = path.file_name().with_context(|| format!("`{shown}` does not name a folder"))?;
        let above =
            path.parent().filter(|above| !above.as_os_str().is_empty()).unwrap_or(Path::new("."));
        fs::create_dir_all(above)
            .with_context(|| format!("cannot make the folder `{}`", above.display()))?;
        fs::canonicalize(above)
            .with_context(|| format!("cannot follow `{}`", above.display()))?
            .join(name)
    };
    let here =
        env::current_dir().and_then(fs::canonicalize).context("cannot tell the current folder")?;
    if target.file_name().is_none() || here.starts_with(&target) {
        bail!(
            "`{shown}` is the current folder or lies above it; choose a folder of its own with `--into`"
        );
    }
    Ok(target)
}

/// Whether anything stands there, a dangling link included.
fn exists(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok()
}

/// Writes a new file and waits until the disk has it.
fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = fs::File::create_new(path)?;
    io::Write::write_all(&mut file, bytes)?;
    file.sync_all()
}

/// Removes a folder with all that is in it; links are removed, not followed. Nothing there is fine.
fn remove(path: &Path) -> io::Result<()> {
    match fs::remove_dir_all(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        result => result,
    }
}

#[cfg(test)]
mod tests;
