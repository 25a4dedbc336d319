//! Paths of parameters, such as `leaf.comb.crest.height` or `along[2].across[0].width`.

/// How many keys and indices deep a path may be. The deepest of ours, an item six rows down, has 15.
pub(crate) const DEEPEST: usize = 32;

/// How much of a key a path shows; no key or name of ours is as long.
const LONGEST_KEY: usize = 60;

/// The path of `key` in the table at `parent`. A key that is no name stands in quotes.
pub(crate) fn key(parent: &str, key: &str) -> String {
    let is_plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | ' ');
    let key = if !key.is_empty() && key.len() <= LONGEST_KEY && key.chars().all(is_plain) {
        key.to_owned()
    } else {
        let cut = key.char_indices().nth(LONGEST_KEY).map_or(key.len(), |(at, _)| at);
        let more = if cut < key.len() { "…" } else { "" };
        format!("\"{}{more}\"", key[..cut].escape_debug())
    };
    if parent.is_empty() { key } else { format!("{parent}.{key}") }
}

/// The path of an item of the list at `parent`.
pub(crate) fn index(parent: &str, index: usize) -> String {
    format!("{parent}[{index}]")
}

/// The path of the table or list around; the file itself is `""`.
pub(crate) fn parent(path: &str) -> Option<&str> {
    let mut in_quotes = false;
    let mut is_escaped = false;
    let mut cut = (!path.is_empty()).then_some(0);
    for (at, c) in path.char_indices() {
        match c {
            _ if is_escaped => is_escaped = false,
            '\\' if in_quotes => is_escaped = true,
            '"' => in_quotes = !in_quotes,
            '.' | '[' if !in_quotes => cut = Some(at),
            _ => {}
        }
    }
    cut.map(|at| &path[..at])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_go_in_and_out() {
        let path = key(&key(&index(&key("", "along"), 2), "a.b\"[c"), "left over");
        assert_eq!(path, r#"along[2]."a.b\"[c".left over"#);
        let up: Vec<_> = std::iter::successors(Some(path.as_str()), |p| parent(p)).collect();
        assert_eq!(
            up,
            [r#"along[2]."a.b\"[c".left over"#, r#"along[2]."a.b\"[c""#, "along[2]", "along", ""]
        );
    }
}
