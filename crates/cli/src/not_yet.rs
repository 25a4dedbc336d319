//! The checks that a keeper would expect and that are not made yet. Silence about them would read as
//! "all is well".

use findings::Finding;

/// Code of the check and why nothing is said about it.
const CHECKS: [(&str, &str); 4] = [
    (
        "strength",
        "whether sheet, rim and joints are strong enough: neither stress nor bending is computed",
    ),
    (
        "ways-out",
        "whether lift-outs and equipment come out past rim and braces, and the box in and out of its cabinet",
    ),
    ("service-room", "whether hands and tools reach what must be cleaned, turned or unscrewed"),
    (
        "stock",
        "how many sheets are needed and what they cost: panels are not laid out on the sheets of `stock`",
    ),
];

/// A finding for each.
pub(crate) fn findings() -> impl Iterator<Item = Finding> {
    CHECKS.into_iter().map(|(code, reason)| Finding::not_checked(code, "", reason))
}
