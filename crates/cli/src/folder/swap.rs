//! Puts one folder in place of another.

use std::path::Path;
use std::{fs, io};

use super::{exists, remove};

/// Puts `new` at `target` and removes what stood there. `aside` is a free place beside them.
pub(super) fn put(new: &Path, target: &Path, aside: &Path) -> io::Result<()> {
    if !exists(target) {
        fs::rename(new, target)?;
    } else if exchange(new, target)? {
        above_to_disk(target)?;
        return remove(new);
    } else {
        put_in_two_steps(new, target, aside)?;
    }
    above_to_disk(target)
}

/// The way for file systems that cannot exchange two folders. A run killed between the two renames
/// leaves the old folder at `aside`, whole, for the next run to move back.
fn put_in_two_steps(new: &Path, target: &Path, aside: &Path) -> io::Result<()> {
    fs::rename(target, aside)?;
    if let Err(error) = fs::rename(new, target) {
        fs::rename(aside, target)?;
        return Err(error);
    }
    above_to_disk(target)?;
    remove(aside)
}

/// Lets two folders change places in one step; says whether the system could.
#[cfg(target_os = "linux")]
fn exchange(a: &Path, b: &Path) -> io::Result<bool> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    use rustix::io::Errno;
    match renameat_with(CWD, a, CWD, b, RenameFlags::EXCHANGE) {
        Ok(()) => Ok(true),
        Err(Errno::INVAL | Errno::NOSYS | Errno::OPNOTSUPP) => Ok(false),
        Err(errno) => Err(errno.into()),
    }
}

#[cfg(not(target_os = "linux"))]
fn exchange(_: &Path, _: &Path) -> io::Result<bool> {
    Ok(false)
}

/// Waits until the disk knows which files the folder above `path` holds.
fn above_to_disk(path: &Path) -> io::Result<()> {
    to_disk(path.parent().expect("a target lies in a folder"))
}

/// Waits until the disk knows which files a folder holds, where the system lets one ask for it.
pub(super) fn to_disk(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { fs::File::open(folder)?.sync_all() } else { Ok(()) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_steps_replace_the_folder_as_well() {
        let dir = tempfile::tempdir().expect("a temporary folder");
        let [new, target, aside] = ["new", "target", "aside"].map(|name| dir.path().join(name));
        for (folder, text) in [(&new, "new"), (&target, "old")] {
            fs::create_dir(folder).expect("made");
            fs::write(folder.join("text"), text).expect("written");
        }
        put_in_two_steps(&new, &target, &aside).expect("replaced");
        assert_eq!(fs::read_to_string(target.join("text")).expect("read"), "new");
        assert!(!exists(&new) && !exists(&aside));
    }
}
