//! Text inside XML.

/// The text for use between tags or in a double-quoted attribute.
///
/// Characters that XML 1.0 does not allow at all (§2.2) become the replacement character.
pub(crate) fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            // As itself an attribute's reader would turn it into a space.
            '\t' => escaped.push_str("&#9;"),
            '\n' => escaped.push_str("&#10;"),
            '\r' => escaped.push_str("&#13;"),
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => escaped.push('\u{fffd}'),
            _ => escaped.push(c),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_is_escaped_and_forbidden_characters_are_replaced() {
        assert_eq!(escape("a<b> & \"c\"\u{1}\nø"), "a&lt;b&gt; &amp; &quot;c&quot;\u{fffd}&#10;ø");
    }
}
