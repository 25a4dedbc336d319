//! Damages a parameter file in one of the ways that people and files do.

use crate::common::Dice;

/// Values that no reader of a parameter file may stumble over.
const VALUES: &[&str] = &[
    "0",
    "-1",
    "1e308",
    "-1e308",
    "1e-300",
    "nan",
    "inf",
    "-inf",
    "9223372036854775807",
    "1_000_000",
    "0.001",
    "3.5",
    "true",
    "\"\"",
    "\"36 1/4 in\"",
    "\"1/0 in\"",
    "\"-3 in\"",
    "\"5 gal\"",
    "\"../../outside\"",
    "\"/etc/passwd\"",
    "\"C:\\\\outside\"",
    "\"con\"",
    "\"\\u0000\"",
    "\"\\u202e\\n\\u001b[2J\"",
    "\"水槽\"",
    "\"<script>alert(1)</script>\"",
    "\"=1+1\"",
    "[]",
    "[[[[1]]]]",
    "{}",
    "{ a = 1 }",
    "1979-05-27",
    "'''\n'''",
    "[1, 2, 3]",
    "\"cast acrylic\"",
    "\"return\"",
];

/// Lines to push in anywhere.
const LINES: &[&str] = &[
    "[[along]]",
    "[leaf.comb]",
    "[box]",
    "[sheet.x]",
    "[[equipment]]",
    "format = 2",
    "format = 1",
    "title = \"../x\"",
    "= 3",
    "length = 100",
    "]]]",
    "\"",
    "'''",
    "[a.b.c.d.e.f]",
    "x = {",
    "[[lid]]",
    "[[sock_holder]]",
    "# \u{1b}[2J",
];

/// `text` with one to four damages: of every other file only measures are changed, so that it still
/// reads and the design has to cope; the rest are damaged in any way.
pub(crate) fn mutate(text: &str, dice: &mut Dice) -> String {
    let is_gentle = dice.below(2) == 0;
    let mut text = text.to_owned();
    for _ in 0..=dice.below(4) {
        text = if is_gentle { change_measure(&text, dice) } else { damage(&text, dice) };
    }
    text
}

fn change_measure(text: &str, dice: &mut Dice) -> String {
    let factor = 0.5 + dice.share();
    changed_number(text, dice, |number| number * factor)
}

fn damage(text: &str, dice: &mut Dice) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    if lines.is_empty() {
        return dice.pick(LINES).to_owned();
    }
    let at = dice.below(lines.len());
    match dice.below(12) {
        0 | 1 => return change_number(text, dice),
        2 | 3 => change_value(&mut lines, dice),
        4 => drop(lines.remove(at)),
        5 => lines.insert(at, lines[at].clone()),
        6 => {
            let other = dice.below(lines.len());
            lines.swap(at, other);
        }
        7 => lines.insert(at, dice.pick(LINES).to_owned()),
        8 => copy_block(&mut lines, at, dice),
        9 => lines.truncate(at),
        10 => return change_measure(text, dice),
        _ => return change_letter(text, dice),
    }
    lines.join("\n") + "\n"
}

/// Turns a number over, or makes it very small or large.
fn change_number(text: &str, dice: &mut Dice) -> String {
    match dice.below(4) {
        0 => changed_number(text, dice, |number| -number),
        1 => changed_number(text, dice, |number| number * 1e-6),
        2 => changed_number(text, dice, |number| number * 1000.0),
        _ => changed_number(text, dice, |_| 0.0),
    }
}

/// `text` with one of the numbers behind its keys changed.
fn changed_number(text: &str, dice: &mut Dice, change: impl Fn(f64) -> f64) -> String {
    let starts_number = |(i, letter): (usize, char)| {
        let line_start = text[..i].rfind('\n').map_or(0, |at| at + 1);
        let before = &text[line_start..i];
        let is_inner =
            before.ends_with(|c: char| c.is_ascii_alphanumeric() || c == '.' || c == '#');
        (letter.is_ascii_digit() && before.contains('=') && !before.starts_with('#') && !is_inner)
            .then_some(i)
    };
    let starts: Vec<usize> = text.char_indices().filter_map(starts_number).collect();
    if starts.is_empty() {
        return text.to_owned();
    }
    let start = starts[dice.below(starts.len())];
    let rest = &text[start..];
    let length = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
    let Ok(number) = rest[..length].parse::<f64>() else { return text.to_owned() };
    format!("{}{}{}", &text[..start], change(number), &rest[length..])
}

/// Puts something else behind a key.
fn change_value(lines: &mut [String], dice: &mut Dice) {
    let with_values: Vec<usize> = (0..lines.len()).filter(|&i| lines[i].contains(" = ")).collect();
    if with_values.is_empty() {
        return;
    }
    let line = &mut lines[with_values[dice.below(with_values.len())]];
    let key = line.split(" = ").next().unwrap_or_default().to_owned();
    *line = format!("{key} = {}", dice.pick(VALUES));
}

/// Repeats some lines many times: long layouts, double names.
fn copy_block(lines: &mut Vec<String>, at: usize, dice: &mut Dice) {
    let end = (at + 1 + dice.below(12)).min(lines.len());
    let block: Vec<String> = lines[at..end].to_vec();
    for _ in 0..=dice.below(20) {
        lines.splice(end..end, block.iter().cloned());
    }
}

fn change_letter(text: &str, dice: &mut Dice) -> String {
    let mut letters: Vec<char> = text.chars().collect();
    let at = dice.below(letters.len());
    letters[at] = *dice.pick(&[
        &'"',
        &'\'',
        &'[',
        &']',
        &'{',
        &'=',
        &'\0',
        &'ö',
        &'\n',
        &'-',
        &'9',
        &'.',
        &'\u{feff}',
    ]);
    letters.into_iter().collect()
}
