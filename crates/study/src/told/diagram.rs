//! A small section along the sump, to scale, in block characters: chambers side by side with their water,
//! and the dividers between them.

use design::{Design, WayKind, WayShape};
use units::{Length, System};
use water::Report;

/// Columns of the whole, with the scale of heights at the left.
const WIDTH: usize = 80;
/// Columns of that scale.
const SCALE: usize = 7;
/// A character is about twice as high as it is wide.
const HIGHER: f64 = 2.0;
/// Eighths of a character.
const EIGHTHS: [char; 9] = [' ', '▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/// What a column of characters shows, from the bottom to the rim.
#[derive(Clone, Debug, PartialEq)]
enum Column {
    /// Water up to a height, mm, of the basin of this index.
    Basin(usize, f64),
    /// A leaf from the first height to the second, with openings between others, and the water that stands
    /// on both sides, mm.
    Divider { from_mm: f64, to_mm: f64, openings: Vec<[f64; 2]>, water_mm: f64 },
    /// A wall of the box.
    Wall,
}

/// The sections, each with a line that names its chambers and a line for each level. A sump that is divided
/// across its width as well has more than one.
pub fn draw(design: &Design, report: &Report) -> String {
    let cuts = cuts(design);
    let sections = cuts.iter().enumerate().map(|(k, cut)| {
        let caption = if k == 0 { "" } else { "beside it:\n" };
        format!("{caption}{}", section(design, report, cut))
    });
    sections.collect::<Vec<_>>().join("\n")
}

fn section(design: &Design, report: &Report, cut: &[usize]) -> String {
    let columns = columns(design, report, cut);
    let rim_mm = design.waterworks.basins.iter().map(|b| b.rim_mm).fold(0.0, f64::max);
    let [from, to] = ends(design);
    let rows = rows(rim_mm / (HIGHER * (to - from) / count(WIDTH - SCALE - 2)));
    let row_mm = rim_mm / count(rows);
    let mut text = String::new();
    for row in (0..rows).rev() {
        let low = count(row) * row_mm;
        let body: String = columns.iter().map(|c| character(c, low, row_mm)).collect();
        text += &format!("{:>SCALE$}{}\n", mark(design.report, low, row_mm), body.trim_end());
    }
    text += &format!("{:>SCALE$}{}\n", "", "▔".repeat(columns.len()));
    text + &names(design, report, &columns, cut)
}

#[expect(clippy::cast_precision_loss, reason = "characters on a screen")]
fn count(n: usize) -> f64 {
    n as f64
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to what fits on a screen"
)]
fn rows(wanted: f64) -> usize {
    wanted.round().clamp(8.0, 24.0) as usize
}

/// Basins along lines from the inlet end to the far end, the line that meets most of them first, until
/// each is met.
fn cuts(design: &Design) -> Vec<Vec<usize>> {
    let basins = &design.waterworks.basins;
    let met = |y: f64| -> Vec<usize> {
        let is_met = |&i: &usize| basins[i].min.y < y && y < basins[i].max.y;
        let mut met: Vec<usize> = (0..basins.len()).filter(is_met).collect();
        met.sort_by(|&a, &b| basins[a].min.x.total_cmp(&basins[b].min.x));
        met
    };
    let (mut cuts, mut left): (Vec<Vec<usize>>, Vec<usize>) =
        (Vec::new(), (0..basins.len()).collect());
    while let Some(&first) = left.first() {
        let new = |cut: &Vec<usize>| cut.iter().filter(|i| left.contains(i)).count();
        let middle = |i: &usize| 0.5 * (basins[*i].min.y + basins[*i].max.y);
        let candidates = left.iter().map(|i| met(middle(i)));
        let best = candidates.reduce(|best, cut| if new(&cut) > new(&best) { cut } else { best });
        let cut = best.filter(|cut| new(cut) > 0).unwrap_or_else(|| vec![first]);
        left.retain(|i| !cut.contains(i));
        cuts.push(cut);
    }
    cuts
}

fn span(design: &Design, basin: usize) -> [f64; 2] {
    let basin = &design.waterworks.basins[basin];
    [basin.min.x, basin.max.x]
}

/// Inner ends of the box, mm.
fn ends(design: &Design) -> [f64; 2] {
    let basins = || design.waterworks.basins.iter();
    let from = basins().map(|b| b.min.x).fold(f64::INFINITY, f64::min);
    [from, basins().map(|b| b.max.x).fold(from, f64::max)]
}

fn columns(design: &Design, report: &Report, cut: &[usize]) -> Vec<Column> {
    let [from, to] = ends(design);
    let room = WIDTH - SCALE - 2;
    let place = |x: f64| columns_until((x - from) / (to - from).max(1.0) * count(room));
    let mut columns = vec![Column::Wall];
    for (k, &basin) in cut.iter().enumerate() {
        let end = place(span(design, basin)[1]);
        if k > 0 {
            columns.push(divider(design, report, [cut[k - 1], basin]));
        }
        // What came before may have taken more than its share: even the narrowest space has a column.
        let width = end.saturating_sub(columns.len() - 1).max(1);
        let level_mm = report.basins[basin].level_m.mid * 1e3;
        columns.extend((0..width).map(|_| Column::Basin(basin, level_mm)));
    }
    columns.push(Column::Wall);
    columns
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "columns on a screen")]
fn columns_until(share: f64) -> usize {
    share.round().max(0.0) as usize
}

/// What stands between two neighbours: up to its crest, open where it has openings.
fn divider(design: &Design, report: &Report, [a, b]: [usize; 2]) -> Column {
    let level_mm = |basin: usize| report.basins[basin].level_m.mid * 1e3;
    let works = &design.waterworks;
    let joins = |up: usize, down: usize| (up, down) == (a, b) || (up, down) == (b, a);
    let ways: Vec<_> = works.ways.iter().filter(|w| w.is_in && joins(w.up, w.down)).collect();
    let top_mm = ways.iter().map(|w| w.top_mm).reduce(f64::max);
    let mut to_mm = top_mm.unwrap_or_else(|| works.basins[a].rim_mm.max(works.basins[b].rim_mm));
    let mut from_mm = 0.0;
    let mut openings = Vec::new();
    for way in ways {
        match way.shape {
            WayShape::Crest { height_mm, .. } => to_mm = to_mm.min(height_mm),
            WayShape::Comb { sill_mm, .. } => to_mm = to_mm.min(sill_mm),
            WayShape::Rectangle { top_mm, .. } if way.kind == WayKind::Underflow => {
                from_mm = top_mm;
            }
            WayShape::Rectangle { bottom_mm, top_mm, .. }
            | WayShape::Slots { bottom_mm, top_mm, .. } => openings.push([bottom_mm, top_mm]),
            WayShape::Holes { bottom_mm, spacing_mm, rows, .. } => {
                openings.push([bottom_mm, bottom_mm + spacing_mm * count(rows.saturating_sub(1))]);
            }
            WayShape::Door { bottom_mm, top_mm, set_mm, .. } => {
                openings.push([set_mm.max(bottom_mm), top_mm]);
            }
        }
    }
    let water_mm = level_mm(a).min(level_mm(b));
    Column::Divider { from_mm, to_mm, openings, water_mm }
}

fn character(column: &Column, low: f64, row_mm: f64) -> char {
    let middle = low + 0.5 * row_mm;
    let water = |level_mm: f64| {
        let share = ((level_mm - low) / row_mm).clamp(0.0, 1.0);
        EIGHTHS[columns_until(8.0 * share).min(8)]
    };
    match column {
        Column::Wall => '║',
        Column::Basin(_, level_mm) => water(*level_mm),
        Column::Divider { from_mm, to_mm, openings, water_mm } => {
            if middle < *from_mm || *to_mm < middle {
                water(*water_mm)
            } else if openings.iter().any(|[lo, hi]| *lo <= middle && middle <= *hi) {
                '┊'
            } else {
                '┃'
            }
        }
    }
}

/// The height that a row of the scale carries, every 100 mm or 4 in: that nearest to its lower edge.
fn mark(system: System, low: f64, row_mm: f64) -> String {
    let step = match system {
        System::Metric => 100.0,
        System::UsCustomary => 4.0 * 25.4,
    };
    let nearest = (low / step).round() * step;
    let is_here = (nearest - low).abs() <= 0.5 * row_mm;
    if is_here { format!("{} ", Length::mm(nearest).show(system)) } else { String::new() }
}

/// Under each chamber its name, or a letter where that finds no room; then the level of each.
fn names(design: &Design, report: &Report, columns: &[Column], cut: &[usize]) -> String {
    let figures = super::figures::Figures(design.report);
    let (mut line, mut legend) = (vec![' '; columns.len()], String::new());
    let mut letters = 'a'..='z';
    for &basin in cut {
        let is_of = |c: &Column| matches!(c, Column::Basin(i, _) if *i == basin);
        let Some(start) = columns.iter().position(is_of) else { continue };
        let width = columns.iter().filter(|c| is_of(c)).count();
        let told = &report.basins[basin];
        let level = figures.length_band(told.level_m);
        let name = super::one_line(&told.name);
        let label = if name.chars().count() <= width {
            legend += &format!("{:>SCALE$}{name}: {level}\n", "");
            name
        } else {
            let letter = letters.next().unwrap_or('*');
            legend += &format!("{:>SCALE$}{letter} {name}: {level}\n", "");
            letter.to_string()
        };
        let room = width.saturating_sub(label.chars().count()) / 2;
        for (k, letter) in label.chars().enumerate() {
            if let Some(place) = line.get_mut(start + room + k) {
                *place = letter;
            }
        }
    }
    let line: String = line.into_iter().collect();
    format!("{:>SCALE$}{}\n{legend}", "", line.trim_end())
}
