//! Text in one line.

/// Text in one line, so that a name in a file can neither break a list nor command the terminal.
pub fn one_line(text: &str) -> String {
    text.chars().map(|letter| if letter.is_control() { '\u{fffd}' } else { letter }).collect()
}
