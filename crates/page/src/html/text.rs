//! Text as HTML and bytes as text.

/// Text that stands for itself in HTML, also within quotes.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            _ => out.push(c),
        }
    }
    out
}

/// Prose as HTML, with what stands in backticks set apart: names of parts, chambers and parameters.
pub(super) fn told(text: &str) -> String {
    let pieces: Vec<&str> = text.split('`').collect();
    let last = pieces.len() - 1;
    let mut out = String::with_capacity(text.len());
    for (k, piece) in pieces.into_iter().enumerate() {
        match k % 2 {
            0 => out.push_str(&escaped(piece)),
            // One that is not closed is no name.
            _ if k == last => out.push_str(&escaped(&format!("`{piece}"))),
            _ => out.push_str(&format!("<i>{}</i>", escaped(piece))),
        }
    }
    out
}

/// `1 part`, `3 parts`.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/// Bytes in base 64 with padding (RFC 4648, section 4).
pub(super) fn base64(bytes: &[u8]) -> String {
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let byte = |k: usize| u32::from(chunk.get(k).copied().unwrap_or(0));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for k in 0..4 {
            let digit = (bits >> (18 - 6 * k)) & 63;
            let is_there = k <= chunk.len();
            out.push(if is_there { char::from(DIGITS[digit as usize]) } else { '=' });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base64_is_that_of_the_standard() {
        // RFC 4648, section 10: its test vectors.
        for (plain, told) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(plain.as_bytes()), told);
        }
    }

    #[test]
    fn what_html_would_read_as_its_own_is_escaped() {
        assert_eq!(escaped(r#"<a b='c'>"&"#), "&lt;a b=&#39;c&#39;&gt;&quot;&amp;");
    }

    #[test]
    fn one_is_not_told_as_many() {
        let told = [0, 1, 2].map(|count| counted(count, "part", "parts"));
        assert_eq!(told, ["0 parts", "1 part", "2 parts"]);
    }

    #[test]
    fn names_are_set_apart() {
        assert_eq!(told("raise `a<b` or `c`"), "raise <i>a&lt;b</i> or <i>c</i>");
        assert_eq!(told("`x`"), "<i>x</i>");
        assert_eq!(told("5 ` of 7"), "5 ` of 7");
        assert_eq!(told(""), "");
    }
}
