//! What a maker is told about a file.

use findings::Grade;

/// Grade, code and parameter of all that is wrong with a file that reads, a line each.
pub(crate) fn found_in(text: &str) -> String {
    let read = params::read(text);
    let file = read.file.unwrap_or_else(|| panic!("not read: {:#?}", read.findings));
    let wrong = design::resolve(&file).findings.into_iter().filter(|f| f.grade != Grade::Holds);
    wrong.map(|f| format!("{:?} {} {}: {}\n", f.grade, f.code, f.parameter, f.message)).collect()
}
