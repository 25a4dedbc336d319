//! Hoses that are bent aside while something is carried through where they hang.

use super::listed;

/// What is done by hand before, with the hoses of these drains bent aside: `bend the hose of `drain main` aside`.
pub(crate) fn with_hoses(undo: Option<String>, drains: &[String]) -> Option<String> {
    let names: Vec<String> = drains.iter().map(|drain| format!("`{drain}`")).collect();
    let s = if names.len() == 1 { "" } else { "s" };
    let bend = (!names.is_empty()).then(|| format!("bend the hose{s} of {} aside", listed(&names)));
    let said: Vec<String> = undo.into_iter().chain(bend).collect();
    (!said.is_empty()).then(|| said.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hoses_are_told_after_what_is_undone() {
        let undo = || Some("unplug it".to_owned());
        let drains = ["drain main".to_owned(), "drain emergency".to_owned()];
        assert_eq!(with_hoses(None, &[]), None);
        assert_eq!(with_hoses(undo(), &[]), undo());
        let one = with_hoses(undo(), &drains[..1]);
        assert_eq!(one.as_deref(), Some("unplug it; bend the hose of `drain main` aside"));
        let two = with_hoses(None, &drains);
        let both = "bend the hoses of `drain main` and `drain emergency` aside";
        assert_eq!(two.as_deref(), Some(both));
    }
}
