//! The files of one run, in memory until all of them are there.

use std::collections::BTreeMap;
use std::fmt::Write;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::file_name::FileName;

/// Name of the file that lists the others.
pub(crate) const MANIFEST: &str = "manifest.json";
/// What a manifest of ours says about its maker.
const MADE_BY: &str = "sumpwright";
/// Version of the manifest's form.
const MANIFEST_FORMAT: u32 = 1;

/// Files by their path in the folder, with `/` between the parts.
#[derive(Debug, Default)]
pub(crate) struct Files {
    files: BTreeMap<String, File>,
}

/// One file.
#[derive(Debug)]
pub(crate) struct File {
    /// What is in it.
    pub(crate) bytes: Vec<u8>,
    /// What it is for, in a few words.
    pub(crate) purpose: String,
}

impl Files {
    /// Adds `folder/name.extension`. Only `name` may come from the parameter file; the rest is ours.
    pub(crate) fn add(
        &mut self,
        folder: &'static str,
        name: &FileName,
        extension: &'static str,
        purpose: impl Into<String>,
        bytes: impl Into<Vec<u8>>,
    ) {
        let slash = if folder.is_empty() { "" } else { "/" };
        self.insert(format!("{folder}{slash}{name}.{extension}"), purpose.into(), bytes.into());
    }

    /// Adds a file whose path is the same on every run.
    pub(crate) fn add_fixed(
        &mut self,
        path: &'static str,
        purpose: &'static str,
        bytes: impl Into<Vec<u8>>,
    ) {
        self.insert(path.to_owned(), purpose.to_owned(), bytes.into());
    }

    fn insert(&mut self, path: String, purpose: String, bytes: Vec<u8>) {
        let earlier = self.files.insert(path, File { bytes, purpose });
        debug_assert!(earlier.is_none(), "two files of one name: part numbers are unique");
    }

    /// Path and file, in the order of the paths.
    pub(crate) fn iter(&self) -> impl Iterator<Item = (&str, &File)> {
        self.files.iter().map(|(path, file)| (path.as_str(), file))
    }

    /// How many bytes all of them are.
    pub(crate) fn total_bytes(&self) -> usize {
        self.files.values().map(|file| file.bytes.len()).sum()
    }
}

/// The list of a folder's files: proof of what is ours in it, and that it is whole.
#[derive(Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Manifest {
    made_by: String,
    version: String,
    format: u32,
    /// The parameter file that the folder was made from.
    pub(crate) parameter_file: Listed,
    /// Every file but the manifest itself, in the order of the paths.
    pub(crate) files: Vec<Listed>,
}

/// One line of a manifest.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Listed {
    /// Path in the folder, with `/` between the parts.
    pub(crate) path: String,
    /// Size.
    pub(crate) bytes: u64,
    /// SHA-256 of the content, hexadecimal.
    pub(crate) sha256: String,
}

impl Manifest {
    /// Lists `files`, made from a parameter file kept under the path `parameter_file`.
    pub(crate) fn of(files: &Files, parameter_file: &str) -> Self {
        let files: Vec<Listed> =
            files.iter().map(|(path, file)| Listed::of(path, &file.bytes)).collect();
        let parameter_file = files
            .iter()
            .find(|listed| listed.path == parameter_file)
            .cloned()
            .expect("the parameter file's copy is one of the files");
        let version = env!("CARGO_PKG_VERSION").to_owned();
        Self {
            made_by: MADE_BY.to_owned(),
            version,
            format: MANIFEST_FORMAT,
            parameter_file,
            files,
        }
    }

    /// Reads a manifest; `None` when it is not one of ours.
    pub(crate) fn read(bytes: &[u8]) -> Option<Self> {
        let manifest: Self = serde_json::from_slice(bytes).ok()?;
        (manifest.made_by == MADE_BY && manifest.format == MANIFEST_FORMAT).then_some(manifest)
    }

    /// As JSON, with a last line end.
    pub(crate) fn to_json(&self) -> String {
        serde_json::to_string_pretty(self).expect("strings and numbers can be written") + "\n"
    }
}

impl Listed {
    fn of(path: &str, bytes: &[u8]) -> Self {
        Self { path: path.to_owned(), bytes: bytes.len() as u64, sha256: sha256(bytes) }
    }
}

/// SHA-256, hexadecimal.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold(String::new(), |mut text, byte| {
        write!(text, "{byte:02x}").expect("writing to a string");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_manifest_reads_back() {
        let mut files = Files::default();
        files.add(
            "model/parts",
            &FileName::numbered("01", "Bottom"),
            "step",
            "the bottom",
            "solid",
        );
        files.add_fixed("parameters.toml", "what it was made from", "format = 1");
        let manifest = Manifest::of(&files, "parameters.toml");
        assert_eq!(manifest.files[0].path, "model/parts/01-bottom.step");
        assert_eq!(manifest.parameter_file.bytes, 10);
        assert_eq!(Manifest::read(manifest.to_json().as_bytes()), Some(manifest));
    }

    #[test]
    fn a_manifest_of_another_maker_is_not_ours() {
        assert_eq!(Manifest::read(b"{}"), None);
        assert_eq!(Manifest::read(b"not json"), None);
    }

    /// FIPS 180-2, appendix B.1: the digest of `abc`.
    #[test]
    fn digests_are_those_of_the_standard() {
        assert_eq!(
            sha256(b"abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }
}
