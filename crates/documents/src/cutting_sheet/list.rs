//! What lies on a sheet, and what is to be known about it.

use std::collections::{BTreeMap, BTreeSet};

use design::Role;
use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Lettering, Stroke, broken, style};
use params::Process;
use plate::Contour;
use shop::{Bridge, LaidSheet};

use super::{CuttingSheets, LIST_MM};
use crate::drawing_sheet::{LETTERS, NAMES, fitted, narrow};
use crate::lengths::Lengths;

const LINE_MM: f64 = 4.6;
/// Where columns begin, mm: number, name, pieces here, size.
const COLUMNS: [f64; 4] = [0.0, 10.0, 66.0, 78.0];

/// A line of the list.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Line {
    /// Heads of the columns.
    Head([&'static str; 4]),
    /// A panel: number, name, how many of how many, size; or a cut: number, where, from where to where.
    Panel([String; 4]),
    /// Words, or none; the first line of a note has a dash.
    Note(String, bool),
}

/// How many lines have room in a height.
pub(super) fn most_lines(height: f64) -> usize {
    crate::panel_drawing::whole(height / LINE_MM).max(1)
}

/// The lines of a sheet.
pub(super) fn lines(of: &CuttingSheets<'_>, sheet: &LaidSheet) -> Vec<Line> {
    let lengths = Lengths(of.design.report);
    let mut here: BTreeMap<usize, usize> = BTreeMap::new();
    for laid in &sheet.laid {
        *here.entry(laid.piece).or_default() += 1;
    }
    let mut lines = vec![Line::Head(["no", "panel", "here", "size"])];
    for (id, n) in here {
        let piece = &of.design.pieces[id];
        let bounds = of.work(id).and_then(|work| {
            let boxes = work.pattern.through.iter().filter_map(Contour::bounds);
            boxes.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
        });
        let size = bounds.map(|[lo, hi]| hi - lo).unwrap_or_default();
        let size = format!("{} × {}", lengths.number(size.x), lengths.number(size.y));
        let n =
            if n == piece.quantity { format!("{n}") } else { format!("{n} of {}", piece.quantity) };
        lines.push(Line::Panel([piece.number.clone(), piece.name.clone(), n, size]));
    }
    lines.push(Line::Note(String::new(), false));
    for note in notes(of, sheet, lengths) {
        for (i, line) in broken(&note, LETTERS, LIST_MM - 3.5).into_iter().enumerate() {
            lines.push(Line::Note(line, i == 0));
        }
    }
    if !sheet.saw_cuts.is_empty() {
        lines.push(Line::Note(String::new(), false));
        lines.push(Line::Head(["cut", "in the order of the saw", "", "from – to"]));
    }
    for (i, cut) in sheet.saw_cuts.iter().enumerate() {
        let [a, b] = cut.ends_mm;
        let is_upright = (a.x - b.x).abs() < (a.y - b.y).abs();
        let (along, at, from, to) =
            if is_upright { ("upright, x", a.x, a.y, b.y) } else { ("level, y", a.y, a.x, b.x) };
        let ends = format!("{} – {}", lengths.number(from.min(to)), lengths.number(from.max(to)));
        let place = format!("{along} {}", lengths.number(at));
        lines.push(Line::Panel([format!("{}", i + 1), place, String::new(), ends]));
    }
    lines
}

fn notes(of: &CuttingSheets<'_>, sheet: &LaidSheet, lengths: Lengths) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(stock) = of.design.sheets.get(&of.plan.sheet) {
        let order = study::stock::order(stock, of.design.report);
        let material =
            sheet.laid.first().map_or("", |laid| of.design.pieces[laid.piece].material.as_str());
        notes.push(format!("Sheet {}: {material}, {order}.", of.plan.sheet));
    }
    let size = [sheet.size_mm.x, sheet.size_mm.y].map(|mm| lengths.with_unit(mm));
    let whose = if sheet.is_own { "brought by the maker" } else { "brought by the shop" };
    notes.push(match sheet.stock {
        None => format!("{} × {}: a usual size, as the file names none.", size[0], size[1]),
        Some(_) => format!("{} × {}, {whose}.", size[0], size[1]),
    });
    notes.push(match of.plan.sheets.len() {
        1 => "The only sheet of this kind.".to_owned(),
        n => format!("One of {n} sheets of this kind."),
    });
    let cutting = of.file.cutting_of(Some(&of.plan.sheet));
    let process = match cutting.process {
        Process::Router => format!("Router, cutter {}", lengths.with_unit(cutting.tool.to_mm())),
        Process::Laser => "Laser".to_owned(),
        Process::Saw => "Panel saw".to_owned(),
    };
    let gaps = [cutting.spacing, cutting.margin].map(|gap| lengths.with_unit(gap.to_mm()));
    notes.push(format!(
        "{process}; {} kept between cuts, {} from the edges (dashed).",
        gaps[0], gaps[1]
    ));
    notes.push("Seen from the upper faces. A name reads along the lower edge of its panel where it has room.".to_owned());
    notes.extend(bridges(of, sheet, lengths));
    if cutting.process != Process::Saw {
        notes.extend(for_a_saw(of, sheet));
    }
    if !sheet.saw_cuts.is_empty() {
        notes.push("Numbers in colour: cuts in the order of the saw, each straight through its piece; the line is the middle of the blade.".to_owned());
    }
    if !sheet.offcuts.is_empty() {
        let names: Vec<String> = sheet
            .offcuts
            .iter()
            .map(|offcut| {
                let size = offcut.corners_mm[1] - offcut.corners_mm[0];
                format!("{} ({} × {})", offcut.name, lengths.number(size.x), lengths.number(size.y))
            })
            .collect();
        notes.push(format!("Hatched, keep: {}.", names.join(", ")));
    }
    let walls: BTreeSet<&str> = sheet
        .laid
        .iter()
        .map(|laid| &of.design.pieces[laid.piece])
        .filter(|piece| piece.role == Role::Wall)
        .map(|piece| piece.number.as_str())
        .collect();
    if !walls.is_empty() {
        let walls: Vec<&str> = walls.into_iter().collect();
        notes.push(format!(
            "Cosmetic: the outer, lower faces of {}. The protective film stays on.",
            walls.join(", ")
        ));
    }
    notes.push(match of.design.report {
        units::System::Metric => "Lengths in mm.".to_owned(),
        units::System::UsCustomary => "Lengths in decimal inches.".to_owned(),
    });
    notes
}

/// What the marks of bridges mean.
fn bridges(of: &CuttingSheets<'_>, sheet: &LaidSheet, lengths: Lengths) -> Option<String> {
    let works = sheet.laid.iter().filter_map(|laid| of.work(laid.piece));
    let all: Vec<&Bridge> =
        works.flat_map(|work| &work.operations).flat_map(|operation| &operation.bridges).collect();
    let first = all.first()?;
    let [length, height] = [first.length_mm, first.height_mm].map(|mm| lengths.with_unit(mm));
    Some(format!(
        "Bold strokes at edges: {} bridges, {length} long and {height} high, left in the cut and trimmed flush by hand.",
        all.len()
    ))
}

/// Which parts a panel saw could make.
fn for_a_saw(of: &CuttingSheets<'_>, sheet: &LaidSheet) -> Option<String> {
    let pieces: BTreeSet<usize> = sheet.laid.iter().map(|laid| laid.piece).collect();
    let is_plain = |piece: &usize| of.work(*piece).is_some_and(shop::is_for_a_saw);
    let numbers: Vec<&str> = pieces
        .into_iter()
        .filter(is_plain)
        .map(|piece| of.design.pieces[piece].number.as_str())
        .collect();
    let n = numbers.len();
    (0 < n).then(|| {
        format!(
            "A panel saw could make {} too, straight edges without holes or grooves: {}.",
            if n == 1 { "this one" } else { "these" },
            numbers.join(", ")
        )
    })
}

/// Draws lines with their upper left corner here.
pub(super) fn draw(figure: &mut Figure, at: DVec2, width: f64, lines: &[Line]) {
    let mut y = at.y;
    for line in lines {
        y += LINE_MM;
        match line {
            Line::Head(heads) => {
                cells(figure, dvec2(at.x, y - 1.0), width, &heads.map(str::to_owned), NAMES);
                figure.line(dvec2(at.x, y + 0.6), dvec2(at.x + width, y + 0.6), narrow());
            }
            Line::Panel(words) => {
                cells(figure, dvec2(at.x, y), width, words, LETTERS);
                let rule = Stroke::whole(0.1, style::RULE);
                figure.line(dvec2(at.x, y + 1.2), dvec2(at.x + width, y + 1.2), rule);
            }
            Line::Note(words, is_first) => {
                // A little below the table and the note before.
                let y = y + 0.5;
                if *is_first {
                    figure.words(
                        dvec2(at.x, y),
                        "–",
                        LETTERS.in_colour(style::ACCENT),
                        Anchor::Start,
                    );
                }
                if !words.is_empty() {
                    figure.words(dvec2(at.x + 3.5, y), words.as_str(), LETTERS, Anchor::Start);
                }
            }
        }
    }
}

fn cells(figure: &mut Figure, at: DVec2, width: f64, words: &[String; 4], lettering: Lettering) {
    for (i, cell) in words.iter().enumerate() {
        let end = COLUMNS.get(i + 1).copied().unwrap_or(width);
        let lettering = if i == 0 { lettering.bold().in_colour(style::ACCENT) } else { lettering };
        let (cell, lettering) = fitted(cell, lettering, end - COLUMNS[i] - 1.5);
        if !cell.is_empty() {
            figure.words(at + dvec2(COLUMNS[i], 0.0), cell, lettering, Anchor::Start);
        }
    }
}
