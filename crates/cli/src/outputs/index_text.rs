//! The index as plain text.

use super::index::{CHAMBERS_HEAD, CHAMBERS_NOTE, Index, PartRow};
use super::setting_out;
use crate::draw::one_line;

/// Writes the index.
pub(crate) fn write(index: &Index<'_>) -> String {
    let mut text = heading(&one_line(index.title), '=');
    text += &format!("{}\n{}\n", index.outside, index.summary);
    text += &heading("Before you begin", '-');
    for caution in &index.cautions {
        text += &wrapped(&format!("{}. {}", caution.title, caution.text));
        text.push('\n');
    }
    text += &heading("Parts", '-');
    text += &table(
        &["no", "part", "qty", "for", "material", "sheet to order", "size", "mass each", "notes"],
        index.parts.iter().map(cells),
    );
    text += &heading("Chambers", '-');
    text += &wrapped(CHAMBERS_NOTE);
    text += &table(&CHAMBERS_HEAD, index.chambers.iter().map(|row| row.to_vec()));
    text += &heading("Setting out", '-');
    text += &wrapped(setting_out::NOTE);
    text += &table(&setting_out::HEAD, index.setting_out.iter().map(|row| row.cells().to_vec()));
    text += &heading("Not checked yet", '-');
    for check in &index.not_checked {
        text += &wrapped(&format!("- {check}."));
    }
    text += &heading("Findings", '-');
    text += &index.findings;
    for group in &index.groups {
        text += &heading(group.title, '-');
        let row = |file: &super::index::Entry<'_>| {
            vec![file.path.to_owned(), file.size.clone(), file.purpose.to_owned()]
        };
        text += &table(&["file", "size", "what it is for"], group.files.iter().map(row));
    }
    text
}

fn cells(part: &PartRow) -> Vec<String> {
    let PartRow { number, name, quantity, material, sheet, size, mass, role, notes, .. } = part;
    vec![
        number.clone(),
        name.clone(),
        quantity.clone(),
        (*role).to_owned(),
        material.clone(),
        sheet.clone(),
        size.clone(),
        mass.clone(),
        notes.clone(),
    ]
}

fn heading(words: &str, line: char) -> String {
    let gap = if line == '=' { "" } else { "\n" };
    format!("{gap}{words}\n{}\n", line.to_string().repeat(words.chars().count()))
}

/// Columns as wide as their widest cell.
fn table(head: &[&str], rows: impl Iterator<Item = Vec<String>>) -> String {
    let head: Vec<String> = head.iter().map(|cell| (*cell).to_owned()).collect();
    let rows: Vec<Vec<String>> = std::iter::once(head)
        .chain(rows.map(|row| row.iter().map(|cell| one_line(cell)).collect()))
        .collect();
    let width =
        |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..rows[0].len()).map(width).collect();
    let line = |row: &Vec<String>| {
        let cells: Vec<String> =
            row.iter().zip(&widths).map(|(cell, width)| format!("{cell:width$}")).collect();
        cells.join("  ").trim_end().to_owned() + "\n"
    };
    rows.iter().map(line).collect()
}

/// Lines of at most 90 letters.
fn wrapped(words: &str) -> String {
    let mut text = String::new();
    let mut width = 0;
    for word in words.split(' ') {
        let letters = word.chars().count();
        if width > 0 && width + 1 + letters > 90 {
            text.push('\n');
            width = 0;
        } else if width > 0 {
            text.push(' ');
            width += 1;
        }
        text += word;
        width += letters;
    }
    text + "\n"
}
