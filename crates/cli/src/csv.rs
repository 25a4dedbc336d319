//! Comma-separated values (RFC 4180) for spreadsheets.

/// A byte order mark, by which spreadsheets know UTF-8.
pub(crate) const MARK: &str = "\u{feff}";

/// Words as one cell. A cell that a spreadsheet would take for a formula is marked as text.
pub(crate) fn cell(words: &str) -> String {
    let marked = if words.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        format!("'{words}")
    } else {
        words.into()
    };
    if marked.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", marked.replace('"', "\"\""))
    } else {
        marked
    }
}

/// One line with its end.
pub(crate) fn line(cells: &[String]) -> String {
    cells.join(",") + "\r\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_hold_what_a_spreadsheet_would_break_or_run() {
        assert_eq!(cell("comb"), "comb");
        assert_eq!(cell("left, \"rear\""), "\"left, \"\"rear\"\"\"");
        assert_eq!(cell("=HYPERLINK(1)"), "'=HYPERLINK(1)");
    }
}
