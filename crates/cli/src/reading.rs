//! From a path to what the parameter file says: what every command but `new` begins with.

use std::fs;
use std::io::Read;
use std::path::Path;

use anyhow::{Context, bail};
use study::{Reading, Source};

/// A parameter file is a few pages long; what is longer than this is something else.
const MOST_BYTES: u64 = 1 << 20;

/// Reads and resolves a file.
///
/// # Errors
/// When it is not there, is no text in UTF-8, or is far too long.
pub(crate) fn read(path: &Path) -> anyhow::Result<Reading> {
    Ok(Reading::of(source(path)?))
}

fn source(path: &Path) -> anyhow::Result<Source> {
    let name = path.display().to_string();
    let file = fs::File::open(path).with_context(|| format!("cannot read `{name}`"))?;
    let mut bytes = Vec::new();
    file.take(MOST_BYTES + 1)
        .read_to_end(&mut bytes)
        .with_context(|| format!("cannot read `{name}`"))?;
    if bytes.len() as u64 > MOST_BYTES {
        bail!("`{name}` is longer than {} kB; it is no parameter file", MOST_BYTES / 1024);
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let line = error.as_bytes()[..good].iter().filter(|byte| **byte == b'\n').count() + 1;
        anyhow::anyhow!("`{name}` is not text in UTF-8: line {line}; save it as UTF-8")
    })?;
    Ok(Source { name, text })
}
