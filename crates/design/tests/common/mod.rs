//! What a maker is told about a file, and the design that it resolves into.

#![allow(dead_code, clippy::allow_attributes, reason = "every test file uses a part of this")]

use design::Design;
use findings::Grade;

/// Grade, code and parameter of all that is wrong with a file that reads, a line each.
pub(crate) fn found_in(text: &str) -> String {
    let read = params::read(text);
    let file = read.file.unwrap_or_else(|| panic!("not read: {:#?}", read.findings));
    let wrong = design::resolve(&file).findings.into_iter().filter(|f| f.grade != Grade::Holds);
    wrong.map(|f| format!("{:?} {} {}: {}\n", f.grade, f.code, f.parameter, f.message)).collect()
}

/// The design of a file that reads, whatever was found.
pub(crate) fn resolved(text: &str) -> Design {
    let read = params::read(text);
    let file = read.file.unwrap_or_else(|| panic!("not read: {:#?}", read.findings));
    design::resolve(&file).design.expect("it resolves")
}

/// The design of one of the files in `params`.
pub(crate) fn demo(name: &str) -> Design {
    let path = format!("{}/../../params/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    resolved(&std::fs::read_to_string(path).expect("the demo is there"))
}
