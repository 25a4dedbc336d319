//! Checks of a file as a whole, without geometry: names, references, the order of rows, and numbers
//! that must agree with one another.

mod access;
mod around;
mod bodies;
mod cabinet;
mod curve;
mod display;
mod equipment;
mod fittings;
mod heights;
mod judging;
mod leaves;
mod line;
mod loose;
mod names;
mod printing;
mod references;
mod rows;
mod sheets;
mod shop;
mod strength;
mod walls;
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
    printing::check(&mut rules);
    leaves::check(&mut rules);
    loose::check(&mut rules);
    fittings::check(&mut rules);
    equipment::check(&mut rules);
    curve::check(&mut rules);
    display::check(&mut rules);
    line::check(&mut rules);
    heights::check(&mut rules);
    walls::check(&mut rules);
    around::check(&mut rules);
    cabinet::check(&mut rules);
    access::check(&mut rules);
    judging::check(&mut rules);
    shop::check(&mut rules);
    strength::check(&mut rules);
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

    /// Reports the first length when it is not larger than the second.
    fn larger(&mut self, [first, second]: [(String, Length); 2], what: &str) {
        if first.1 <= second.1 {
            self.disagree("not-larger", [first, second], what);
        }
    }

    /// Reports the first length when it is not smaller than the second.
    fn smaller(&mut self, [first, second]: [(String, Length); 2], what: &str) {
        if first.1 >= second.1 {
            self.disagree("not-smaller", [first, second], what);
        }
    }

    fn disagree(
        &mut self,
        code: &'static str,
        [(path, value), (other_path, other)]: [(String, Length); 2],
        what: &str,
    ) {
        let message = format!("{what}: {} against {}", self.show(value), self.show(other));
        // In one table the keys say enough.
        let [first, second] = match (path.rsplit_once('.'), other_path.rsplit_once('.')) {
            (Some((table, key)), Some((other_table, other_key))) if table == other_table => {
                [key, other_key]
            }
            _ => [path.as_str(), &other_path],
        };
        let hint = format!("change `{first}` or `{second}`");
        self.add(&[&path, &other_path], Finding::fails(code, &path, message).with_hint(hint));
    }

    /// Reports a band of which the least is more than the greatest; `what` is what the band is of.
    fn in_order(
        &mut self,
        path: &str,
        [least, most]: [f64; 2],
        what: &str,
        show: impl Fn(f64) -> String,
    ) {
        if least > most {
            let message = format!(
                "the least {what}, {}, is more than the greatest, {}",
                show(least),
                show(most)
            );
            self.add(
                &[path],
                Finding::fails("band-order", path, message).with_hint("write the least first"),
            );
        }
    }

    /// Reports a parameter that changes nothing.
    fn no_effect(&mut self, path: &str, read: &[&str], message: String, hint: &str) {
        let read: Vec<_> = read.iter().copied().chain([path]).collect();
        self.add(&read, Finding::tight("no-effect", path, message).with_hint(hint));
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
