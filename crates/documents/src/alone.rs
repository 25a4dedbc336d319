//! Leaves that must not hold water on one side alone.

use crate::prose::capital;

/// What is done about leaves of these names; nothing where there are none.
pub fn together<S: AsRef<str>>(names: &[S]) -> Option<String> {
    let names: Vec<&str> = names.iter().map(AsRef::as_ref).collect();
    let (leaves, it) = match names.as_slice() {
        [] => return None,
        [one] => (format!("of {one}"), "it"),
        all => (format!("of each of {}", fit::listed(all)), "such a leaf"),
    };
    Some(format!(
        "Fill and drain both sides {leaves} together: with water up to its edge on one side and none on the other {it} carries \
         more than it may for long, or bends too far."
    ))
}

/// The same as the end of a sentence: `; never beside leaf gate`. Empty where there are none.
pub(crate) fn never_beside<S: AsRef<str>>(names: &[S]) -> String {
    let names: Vec<&str> = names.iter().map(AsRef::as_ref).collect();
    if names.is_empty() { String::new() } else { format!("; never beside {}", fit::listed(&names)) }
}

/// The heading over them.
pub(crate) fn heading<S: AsRef<str>>(names: &[S]) -> String {
    let what = if names.len() == 1 { "a leaf that needs" } else { "leaves that need" };
    capital(&format!("{what} water on both sides"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn leaves_are_named_and_without_any_nothing_is_said() {
        let none: [&str; 0] = [];
        assert_eq!(together(&none), None);
        assert_eq!(never_beside(&none), "");
        let one = together(&["leaf comb"]).expect("it is named");
        assert!(one.starts_with("Fill and drain both sides of leaf comb together: "), "{one}");
        let two = together(&["leaf comb", "leaf gate"]).expect("both are named");
        assert!(two.contains("of each of leaf comb and leaf gate together"), "{two}");
    }
}
