//! What stands where the folder is to go, and whether it may be replaced.

use std::collections::BTreeMap;
use std::fmt::Display;
use std::path::Path;
use std::{fs, io};

use anyhow::{Context, bail};

use crate::files::{Listed, MANIFEST, Manifest, sha256};

/// Files that systems put into folders as one looks at them.
const LITTER: &[&str] = &[".DS_Store", "Thumbs.db", "desktop.ini"];

/// Fails unless `target` is nothing, an empty folder, or a folder of ours in which nobody has worked.
/// `made_from` is what folders of this kind are made from, `shown` is what the user calls it.
pub(super) fn check(target: &Path, made_from: &str, shown: &impl Display) -> anyhow::Result<()> {
    match fs::metadata(target) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(error).with_context(|| format!("cannot look at `{shown}`")),
        Ok(there) if !there.is_dir() => {
            bail!("`{shown}` is not a folder; choose another with `--into`")
        }
        Ok(_) => {}
    }
    let found = files_in(target).with_context(|| format!("cannot look into `{shown}`"))?;
    if found.is_empty() {
        return Ok(());
    }
    let manifest = fs::read(target.join(MANIFEST)).ok().and_then(|bytes| Manifest::read(&bytes));
    let Some(manifest) = manifest else {
        bail!(
            "`{shown}` holds files that sumpwright did not write; choose another folder with `--into`"
        );
    };
    let earlier = &manifest.parameter_file.path;
    if earlier != made_from {
        bail!(
            "`{shown}` holds what another verb of sumpwright made from its `{earlier}`; choose another folder with `--into`, or remove \
             this one"
        );
    }
    let others = not_ours(target, &found, &manifest)?;
    if let Some(first) = others.first() {
        let more = if others.len() > 1 {
            format!(" and {} more", others.len() - 1)
        } else {
            String::new()
        };
        bail!(
            "`{shown}` holds files that were added or changed since sumpwright wrote it: `{first}`{more}; \
             move them to a safe place, or choose another folder with `--into`"
        );
    }
    Ok(())
}

/// Paths of files that the manifest does not list, or lists with another content.
fn not_ours(target: &Path, found: &[String], manifest: &Manifest) -> anyhow::Result<Vec<String>> {
    let listed: BTreeMap<&str, &Listed> =
        manifest.files.iter().map(|file| (file.path.as_str(), file)).collect();
    let mut others = Vec::new();
    for path in found.iter().filter(|path| *path != MANIFEST) {
        let is_same = match listed.get(path.as_str()) {
            None => false,
            Some(listed) => {
                let bytes =
                    fs::read(target.join(path)).with_context(|| format!("cannot read `{path}`"))?;
                sha256(&bytes) == listed.sha256
            }
        };
        if !is_same {
            others.push(path.clone());
        }
    }
    Ok(others)
}

/// Everything in a folder that is not a folder, with `/` between the parts, sorted; links are not followed.
fn files_in(folder: &Path) -> io::Result<Vec<String>> {
    let mut found = Vec::new();
    let mut open = vec![(folder.to_owned(), String::new())];
    while let Some((folder, prefix)) = open.pop() {
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            let name = entry.file_name().to_string_lossy().into_owned();
            if entry.file_type()?.is_dir() {
                open.push((entry.path(), format!("{prefix}{name}/")));
            } else if !LITTER.contains(&name.as_str()) {
                found.push(format!("{prefix}{name}"));
            }
        }
    }
    found.sort();
    Ok(found)
}
