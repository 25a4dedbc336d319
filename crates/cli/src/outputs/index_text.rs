//! The index as plain text.

use study::told::table::{Table, columns, wrapped};

use super::index::{CHAMBERS_HEAD, Index, PartRow, STRENGTH, WILL_IT_HOLD, courses_note};
use super::setting_out;
use crate::strength_files;
use study::told::one_line;
use study::told::strength;

/// Writes the index.
pub(crate) fn write(index: &Index<'_>) -> String {
    let mut text = heading(&one_line(index.title), '=');
    text += &format!("{}\n{}\n", index.outside, index.summary);
    text += &heading(WILL_IT_HOLD, '-');
    text += &strength_files::verdict(&index.verdict);
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
    text += &wrapped(index.chambers_note);
    text += &table(&CHAMBERS_HEAD, index.chambers.iter().map(|row| row.to_vec()));
    if let Some(rehearsals) = &index.rehearsals {
        text += &heading(&rehearsals.title, '-');
        text += &rehearsals.body();
    }
    if !index.courses.is_empty() {
        text += &heading("Failures one by one", '-');
        text += &wrapped(&courses_note());
        text.extend(index.courses.iter().map(|course| format!("\n{}", course.text())));
    }
    if !index.levels.is_empty() {
        text += &heading("Levels and flows", '-');
        let tables: Vec<String> = index.levels.iter().map(Table::text).collect();
        text += &tables.join("\n");
    }
    text += &heading("Fit and access", '-');
    text += &index.fit.text();
    text += &heading(STRENGTH, '-');
    text.extend(strength::CAUTIONS.iter().map(|words| wrapped(words) + "\n"));
    let tables: Vec<String> = index.strength.iter().map(Table::text_in_width).collect();
    text += &tables.join("\n");
    text += &heading("For the shop, and for gluing", '-');
    let tables: Vec<String> = index.shop.iter().map(Table::text_in_width).collect();
    text += &tables.join("\n");
    text += &heading("Setting out", '-');
    text += &wrapped(setting_out::NOTE);
    text += &table(&setting_out::HEAD, index.setting_out.iter().map(|row| row.cells().to_vec()));
    if !index.not_checked.is_empty() {
        text += &heading("Not checked", '-');
        for check in &index.not_checked {
            text += &wrapped(&format!("- {check}."));
        }
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

/// A table of lines.
fn table(head: &[&str], rows: impl Iterator<Item = Vec<String>>) -> String {
    let head: Vec<String> = head.iter().map(|cell| (*cell).to_owned()).collect();
    columns(&head, &rows.collect::<Vec<_>>())
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
