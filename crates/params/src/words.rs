//! Words for messages: what was written, shown so that it cannot harm a screen, and the nearest of
//! what is known.

/// How much of a text a message shows.
const SHOWN: usize = 40;

/// A text of the file in backticks, cut to a handy length, its invisible characters spelled out.
pub(crate) fn quoted(text: &str) -> String {
    let mut shown = String::new();
    for c in text.chars().take(SHOWN) {
        if is_invisible(c) { shown.extend(c.escape_unicode()) } else { shown.push(c) }
    }
    let more = if text.chars().nth(SHOWN).is_some() { "…" } else { "" };
    format!("`{shown}{more}`")
}

/// Characters that do not show or that change what is shown around them: control characters, and the
/// format characters of Unicode that set direction, join, or take no room.
pub(crate) fn is_invisible(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// The one of `known` that `written` was probably meant to be.
///
/// Letters are compared without case, `-`, `_` and spaces as the same; a third of the letters, at least
/// one, may be wrong, left out, too many or swapped with the next.
pub fn nearest<'a>(written: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let plain = |text: &str| text.to_lowercase().replace(['-', ' '], "_");
    if written.len() > 4 * SHOWN {
        return None; // The distance takes time by the product of both lengths.
    }
    let written = plain(written);
    let allowed = |known: &str| (known.chars().count().max(written.chars().count()) / 3).max(1);
    known
        .into_iter()
        .map(|known| (strsim::osa_distance(&written, &plain(known)), known))
        .filter(|&(distance, known)| distance <= allowed(known) && distance < known.chars().count())
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, known)| known)
}

/// `` `a`, `b` and `c` ``; with more than a dozen, the first ten and how many more there are.
pub fn listed<'a>(items: impl IntoIterator<Item = &'a str>, last: &str) -> String {
    let mut items: Vec<_> = items.into_iter().map(quoted).collect();
    if items.len() > 12 {
        let more = items.len() - 10;
        items.truncate(10);
        items.push(format!("{more} more"));
    }
    match items.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((end, items)) => format!("{} {last} {end}", items.join(", ")),
    }
}

/// `1 character`, `2 characters`.
pub(crate) fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

/// `a length`, `an angle`.
pub(crate) fn with_article(noun: &str) -> String {
    let article = if noun.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {noun}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_names_are_found() {
        let known = ["thickness", "length", "width", "leaf", "leaves", "sock_holder"];
        for (written, meant) in [
            ("thikness", Some("thickness")),
            ("lenght", Some("length")),
            ("Width", Some("width")),
            ("sock-holder", Some("sock_holder")),
            ("leafs", Some("leaf")),
            ("height", None),
            ("x", None),
            ("", None),
        ] {
            assert_eq!(nearest(written, known), meant, "{written}");
        }
    }

    #[test]
    fn what_is_written_cannot_harm_a_screen() {
        assert_eq!(quoted("a\u{1b}[31mb\u{202e}"), "`a\\u{1b}[31mb\\u{202e}`");
        assert_eq!(quoted(&"x".repeat(1000)), format!("`{}…`", "x".repeat(40)));
    }

    #[test]
    fn lists_read_as_sentences() {
        assert_eq!(listed(["a"], "or"), "`a`");
        assert_eq!(listed(["a", "b", "c"], "or"), "`a`, `b` or `c`");
    }
}
