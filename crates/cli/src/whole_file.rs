//! Single files, written whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::Path;

use anyhow::Context;

use crate::file_name::FileName;

/// What to do with a file that is there already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum There {
    /// Leave it and fail.
    Stays,
    /// Put the new one in its place.
    IsReplaced,
}

/// Writes files, told by name, extension and content, into a folder that may hold others; those of the
/// same name are replaced. Returns the paths.
pub(crate) fn write_all<'a>(
    folder: &Path,
    files: impl IntoIterator<Item = (&'a FileName, &'static str, &'a [u8])>,
) -> anyhow::Result<Vec<String>> {
    fs::create_dir_all(folder)
        .with_context(|| format!("cannot make the folder `{}`", folder.display()))?;
    let write = |(name, extension, bytes): (&FileName, &str, &[u8])| {
        let path = folder.join(format!("{name}.{extension}"));
        write(&path, bytes, There::IsReplaced)?;
        Ok(path.display().to_string())
    };
    files.into_iter().map(write).collect()
}

/// Writes `bytes` beside `path`, brings them to the disk, and gives the file its name.
pub(crate) fn write(path: &Path, bytes: &[u8], there: There) -> anyhow::Result<()> {
    try_write(path, bytes, there).with_context(|| format!("cannot write `{}`", path.display()))
}

fn try_write(path: &Path, bytes: &[u8], there: There) -> io::Result<()> {
    let folder =
        path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut builder = tempfile::Builder::new();
    builder.prefix(".sumpwright-");
    // Temporary files are made for their owner alone; this one is to become a file like any other.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut file = builder.tempfile_in(folder).map_err(without_path)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    let kept = match there {
        There::Stays => file.persist_noclobber(path),
        There::IsReplaced => file.persist(path),
    };
    kept.map(|_| ()).map_err(|error| error.error)
}

/// The error of the system alone: the temporary file's name would only puzzle the reader.
fn without_path(error: io::Error) -> io::Error {
    error.raw_os_error().map_or_else(|| error.kind().into(), io::Error::from_raw_os_error)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_only_when_it_may_be() {
        let dir = tempfile::tempdir().expect("a temporary folder");
        let path = dir.path().join("sump.toml");
        write(&path, b"one", There::Stays).expect("written");
        write(&path, b"two", There::Stays).expect_err("there already");
        assert_eq!(fs::read(&path).expect("read"), b"one");
        write(&path, b"two", There::IsReplaced).expect("replaced");
        assert_eq!(fs::read(&path).expect("read"), b"two");
        assert_eq!(fs::read_dir(dir.path()).expect("read").count(), 1);
    }
}
