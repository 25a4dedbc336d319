//! The table of what is cut into a panel, and the notes beside its view.

use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Stroke, broken, style};
use plate::Face;

use super::features::{Depth, Feature, Form};
use crate::drawing_sheet::{LETTERS, NAMES, fitted, narrow};
use crate::lengths::Lengths;

const LINE_MM: f64 = 4.6;
const GAP_MM: f64 = 4.0;
const HEADS: [&str; 6] = ["", "x", "y", "shape", "depth", "repeats"];

/// Height of the table, mm; nothing for no rows.
pub(super) fn table_height(rows: usize) -> f64 {
    if rows == 0 { 0.0 } else { LINE_MM * (super::features::real(rows) + 2.4) }
}

/// Draws the table with its upper left corner here. What is too long for its column is set smaller.
pub(super) fn table(
    figure: &mut Figure,
    at: DVec2,
    width: f64,
    rows: &[Feature],
    lengths: Lengths,
) {
    if rows.is_empty() {
        return;
    }
    let cells: Vec<[String; 6]> = rows.iter().map(|row| words(row, lengths)).collect();
    let mut widths: Vec<f64> = (0..6)
        .map(|c| {
            let all = cells.iter().map(|row| LETTERS.width_mm(&row[c]));
            all.fold(if c == 5 { 0.0 } else { NAMES.width_mm(HEADS[c]) }, f64::max)
        })
        .collect();
    // What is missing is taken from the words, never from the numbers.
    let over = widths.iter().sum::<f64>() + 5.0 * GAP_MM - width;
    if over > 0.0 {
        let wordy = widths[3] + widths[4] + widths[5];
        let share = ((wordy - over) / wordy).max(0.3);
        for width in &mut widths[3..] {
            *width *= share;
        }
    }
    let right = at.x + (widths.iter().sum::<f64>() + 5.0 * GAP_MM).min(width);
    let mut y = at.y + LINE_MM;
    let put = |figure: &mut Figure, y: f64, row: &[String; 6], lettering: paper::Lettering| {
        let mut x = at.x;
        for (c, cell) in row.iter().enumerate() {
            let lettering =
                if c == 0 { lettering.bold().in_colour(style::ACCENT) } else { lettering };
            let (cell, lettering) = fitted(cell, lettering, widths[c] + 1e-6);
            let (x_at, anchor) =
                if c == 1 || c == 2 { (x + widths[c], Anchor::End) } else { (x, Anchor::Start) };
            if !cell.is_empty() {
                figure.words(dvec2(x_at, y), cell, lettering, anchor);
            }
            x += widths[c] + GAP_MM;
        }
    };
    let mut heads = HEADS.map(str::to_owned);
    if rows.iter().all(|row| row.count() == 1) {
        heads[5].clear();
    }
    put(figure, y - 1.0, &heads, NAMES);
    figure.line(dvec2(at.x, y + 0.6), dvec2(right, y + 0.6), narrow());
    for row in &cells {
        y += LINE_MM;
        put(figure, y, row, LETTERS);
        figure.line(dvec2(at.x, y + 1.2), dvec2(right, y + 1.2), Stroke::whole(0.1, style::RULE));
    }
    let said = if rows.iter().any(|row| matches!(row.shape, Form::Scale(..))) {
        "x, y from the ring: of ⌀ the centre, of all else the lower left corner, of a scale that of its marks."
    } else {
        "x, y from the corner with the ring: of ⌀ the centre, of all else the lower left corner."
    };
    let (said, lettering) = fitted(said, NAMES, width);
    figure.words(dvec2(at.x, y + LINE_MM), said, lettering, Anchor::Start);
}

/// The cells of a row.
fn words(row: &Feature, lengths: Lengths) -> [String; 6] {
    let n = |mm: f64| lengths.number(mm);
    let with_radius = |words: String, radius: Option<f64>| match radius {
        Some(radius) => format!("{words}, R {}", n(radius)),
        None => words,
    };
    let shape = match row.shape {
        Form::Round(diameter) => format!("⌀ {}", n(diameter)),
        Form::Slot(size) => format!("slot {} × {}", n(size.x), n(size.y)),
        Form::Rectangle(size, radius) => {
            with_radius(format!("{} × {}", n(size.x), n(size.y)), radius)
        }
        Form::RoundEnd(size) => format!("{} × {}, one end round", n(size.x), n(size.y)),
        Form::AllRound(width) => format!("step all round, {} wide", n(width)),
        Form::Notch(size, radius) => {
            with_radius(format!("notch {} × {}", n(size.x), n(size.y)), radius)
        }
        Form::Scale(marks, size) => {
            format!("scale, {marks} marks, {} × {}", n(size.x), n(size.y))
        }
        Form::Engraving(size) => format!("engraved, {} × {}", n(size.x), n(size.y)),
        Form::Other(size) => format!("within {} × {}", n(size.x), n(size.y)),
    };
    let depth = match row.depth {
        Depth::Through => "through".to_owned(),
        Depth::Pocket(Face::Top, depth) => n(depth),
        Depth::Pocket(Face::Bottom, depth) => format!("{}, from below", n(depth)),
        Depth::Engraved(face, depth) => {
            let below = if face == Face::Bottom { ", from below" } else { "" };
            format!("{}{below}", depth.map_or("–".to_owned(), n))
        }
    };
    let step = row.repeat.step;
    let repeats = match row.repeat.count {
        [1, 1] => String::new(),
        [along, 1] => format!("{along} × every {}", n(step.x)),
        [1, up] => format!("{up} × up every {}", n(step.y)),
        [along, up] => format!("{along} × {up} every {} × {}", n(step.x), n(step.y)),
    };
    let shape = if row.count() > 1 { format!("{} × {shape}", row.count()) } else { shape };
    let at = row.point();
    [row.tag.clone(), n(at.x), n(at.y), shape, depth, repeats]
}

/// Height of notes of this width, mm.
pub(super) fn notes_height(notes: &[String], width: f64) -> f64 {
    let lines: usize = notes.iter().map(|note| broken(note, LETTERS, width - 3.5).len()).sum();
    super::features::real(lines) * LINE_MM + super::features::real(notes.len()) * 0.8
}

/// Writes notes, each with a dash before it, with their upper left corner here.
pub(super) fn notes(figure: &mut Figure, at: DVec2, width: f64, notes: &[String]) {
    let mut y = at.y;
    for note in notes {
        for (i, line) in broken(note, LETTERS, width - 3.5).iter().enumerate() {
            y += LINE_MM;
            if i == 0 {
                figure.words(dvec2(at.x, y), "–", LETTERS.in_colour(style::ACCENT), Anchor::Start);
            }
            figure.words(dvec2(at.x + 3.5, y), line.as_str(), LETTERS, Anchor::Start);
        }
        y += 0.8;
    }
}
