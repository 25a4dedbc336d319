//! Files packed into one, as ZIP: the same bytes for the same files.
//!
//! Source: PKWARE, *APPNOTE.TXT, .ZIP File Format Specification*. Read back by Python's `zipfile` in
//! `tests/outside/pdf_judge.py`.

use std::io::{Cursor, Write as _};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// Why files could not be packed.
#[derive(Debug, thiserror::Error)]
#[error("the files could not be packed: {0}")]
pub struct Error(#[from] zip::result::ZipError);

/// Files by their path, in this order, packed into one.
///
/// # Errors
/// Two files of one path, or more than 4 GiB.
pub fn write<'a>(files: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> Result<Vec<u8>, Error> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    // The time of an entry is a fixed one, so that equal files are packed alike.
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .compression_level(Some(6))
        .last_modified_time(DateTime::DEFAULT)
        .unix_permissions(0o644);
    for (path, bytes) in files {
        zip.start_file(path, options)?;
        zip.write_all(bytes).map_err(zip::result::ZipError::from)?;
    }
    Ok(zip.finish()?.into_inner())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_files_are_packed_alike_and_two_of_one_name_are_refused() {
        let files = [("a.txt", &b"one"[..]), ("b/c.txt", &b"two"[..])];
        assert_eq!(write(files).expect("packed"), write(files).expect("packed"));
        write([files[0], files[0]]).expect_err("two of one name");
    }
}
