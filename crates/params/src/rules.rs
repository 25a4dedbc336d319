//! Checks of a file as a whole, without geometry: names, references, the order of rows, and numbers
//! that must agree with one another.

mod leaves;
mod loose;
mod names;
mod references;
mod rows;
mod sheets;
mod water;

use findings::Finding;
use units::Length;

use crate::File;
use crate::gaps::Gaps;

/// Checks a file whose values are each of the right form.
pub(crate) fn check(file: &File, gaps: &Gaps, findings: &mut Vec<Finding>) {
    let mut rules = Rules { file, gaps, findings };
    names::check(&mut rules);
    references::check(&mut rules);
    rows::check(&mut rules);
    water::check(&mut rules);
    sheets::check(&mut rules);
    leaves::check(&mut rules);
    loose::check(&mut rules);
}

/// What the checks work with.
struct Rules<'a> {
    file: &'a File,
    gaps: &'a Gaps,
    findings: &'a mut Vec<Finding>,
}

impl Rules<'_> {
    /// A length in the units that the maker wants reports in.
    fn show(&self, length: Length) -> String {
        length.show_fine(self.file.report.system())
    }

    /// Adds a finding that follows from the values and lists at the paths it has `read`, unless one of
    /// these is not known.
    fn add(&mut self, read: &[&str], finding: Finding) {
        if read.iter().all(|path| self.gaps.knows_all(path)) {
            self.findings.push(finding);
        }
    }
}

/// Something that stands in the file: its path and itself.
struct At<'a, T> {
    path: String,
    value: &'a T,
}

impl<T> At<'_, T> {
    /// The path of one of its keys.
    fn key(&self, key: &str) -> String {
        crate::path::key(&self.path, key)
    }
}

/// The items of a list of the file.
fn each<'a, T>(path: &str, items: &'a [T]) -> impl Iterator<Item = At<'a, T>> {
    items
        .iter()
        .enumerate()
        .map(move |(index, value)| At { path: crate::path::index(path, index), value })
}

/// The entries of a table of names of the file, with their names.
fn each_named<'a, T>(
    path: &str,
    entries: &'a std::collections::BTreeMap<String, T>,
) -> impl Iterator<Item = (&'a str, At<'a, T>)> {
    entries
        .iter()
        .map(move |(name, value)| (name.as_str(), At { path: crate::path::key(path, name), value }))
}
