//! How deep brackets and dotted keys lie, found without building anything.

/// Rows six deep in one another, all in one value, need 13.
const DEEPEST: usize = 20;

/// The first place that lies deeper than anything of ours.
///
/// The parser bounds brackets and dots, but not their product: dotted keys in tables in tables make a
/// tree thousands deep, whose walk and end would take more stack than a thread has.
pub(super) fn too_deep(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
    let (mut brackets, mut dots, mut at) = (0_usize, 0_usize, 0);
    while let Some(byte) = bytes.get(at) {
        match byte {
            b'"' | b'\'' => {
                at = after_string(bytes, at);
                continue;
            }
            b'#' => {
                at += bytes[at..].iter().take_while(|byte| **byte != b'\n').count();
                continue;
            }
            b'[' | b'{' => (brackets, dots) = (brackets + 1, 0),
            b']' | b'}' => (brackets, dots) = (brackets.saturating_sub(1), 0),
            b'.' => dots += 1,
            b'=' | b',' | b'\n' => dots = 0,
            _ => {}
        }
        if brackets > DEEPEST || dots > DEEPEST {
            return Some(at);
        }
        at += 1;
    }
    None
}

/// The place behind the string that starts at `start`; a string of one line ends with its line.
fn after_string(bytes: &[u8], start: usize) -> usize {
    let quote = bytes[start];
    let of_lines = bytes[start..].starts_with(&[quote; 3]);
    let mut at = start + if of_lines { 3 } else { 1 };
    while let Some(&byte) = bytes.get(at) {
        match byte {
            b'\\' if quote == b'"' => at += 1,
            b'\n' if !of_lines => return at,
            _ if byte == quote && !of_lines => return at + 1,
            _ if byte == quote && bytes[at..].starts_with(&[quote; 3]) => return at + 3,
            _ => {}
        }
        at += 1;
    }
    bytes.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn brackets_and_dots_count_where_they_are_toml() {
        let deep = "[".repeat(30);
        for text in [
            format!("title = \"{deep}\""),
            format!("title = '{deep}'"),
            format!("title = \"\\\"{deep}\" # {deep}"),
            format!("title = \"\"\"\n\"{deep}\n\"\"\""),
            "a = [[[]]]\n".repeat(30),
            "a.b.c = 1.5\n".repeat(30),
        ] {
            assert_eq!(too_deep(&text), None, "{text}");
        }
        assert_eq!(too_deep(&deep), Some(20));
        assert_eq!(too_deep(&format!("title = \"\n{deep}")), Some(30));
        assert_eq!(too_deep(&"a.".repeat(30)), Some(41));
    }
}
