//! Words in pages for a browser.

/// Words as text of a page, in an attribute too. Letters that no page may hold are replaced.
pub(crate) fn escaped(words: &str) -> String {
    let mut text = String::with_capacity(words.len());
    for letter in words.chars() {
        match letter {
            '&' => text += "&amp;",
            '<' => text += "&lt;",
            '>' => text += "&gt;",
            '"' => text += "&quot;",
            '\'' => text += "&#39;",
            '\n' | '\t' => text.push(letter),
            _ if letter.is_control() => text.push('\u{fffd}'),
            _ => text.push(letter),
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::escaped;

    #[test]
    fn names_cannot_become_markup() {
        assert_eq!(escaped("<b a=\"'&\u{1b}"), "&lt;b a=&quot;&#39;&amp;\u{fffd}");
    }
}
