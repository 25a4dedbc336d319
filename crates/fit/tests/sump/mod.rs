//! Small sumps for tests.

use design::Design;

/// How every small sump begins; its box comes next.
const HEAD: &str = r#"
format = 1
title = "Box"
report = "metric"
[sheet.clear]
material = "cast acrylic"
thickness = 8
"#;

/// The design of a sump of 8 mm sheet `clear` with all that is told of its box and the rest.
pub(crate) fn sump(rest: &str) -> Design {
    let read = params::read(&format!("{HEAD}{rest}"));
    let file = read.file.unwrap_or_else(|| panic!("{:#?}", read.findings));
    design::resolve(&file).design.expect("it resolves")
}
