//! Tables: how wide their columns are, and their rows as slabs.

use std::rc::Rc;

use glam::{DVec2, dvec2};

use super::slab::Slab;
use crate::block::{Align, Column, Table};
use crate::figure::{Anchor, Lettering, Mark, Stroke};
use crate::lines::{broken, unbreakable};
use crate::part::{Part, Role, Tag};
use crate::style::{ACCENT, RULE, SMALL, TEXT};

/// Between columns, mm.
const GAP: f64 = 4.0;
/// Above and below the words of a row, mm.
const PAD: f64 = 0.7;
/// A table of so few rows stays on one page.
const SMALL_TABLE: usize = 5;
/// Heads of columns.
const HEAD: Lettering = SMALL.bold();

/// The slabs of a table: its head, tied to the first row, then a slab for each row.
pub(super) fn slabs(table: &Table, room: DVec2, thing: usize) -> Vec<Slab> {
    let widths = widths(table, room.x);
    let heads: Vec<String> = table.columns.iter().map(|column| column.head.clone()).collect();
    let mut head =
        row(&heads, &table.columns, &widths, HEAD, |c| Tag { thing, role: Role::Head(c) });
    let right = widths.iter().sum::<f64>() + GAP * count(widths.len().saturating_sub(1));
    let rule =
        |y: f64, stroke| Mark::path(&[dvec2(0.0, y), dvec2(right, y)], false, Some(stroke), None);
    head.marks.push(rule(head.height, Stroke::whole(0.35, ACCENT)));
    head.space = 3.0;
    head.stays_with_next = true;
    // What is repeated is not read again.
    let repeated = Rc::new(Slab { space: 0.0, parts: Vec::new(), ..head.clone() });

    let mut slabs = vec![head];
    let n = table.rows.len();
    for (i, cells) in table.rows.iter().enumerate() {
        let is_sum = table.has_sum && i + 1 == n;
        let lettering = if is_sum { TEXT.bold() } else { TEXT };
        let mut slab = row(cells, &table.columns, &widths, lettering, |c| Tag {
            thing,
            role: Role::Cell(i, c),
        });
        if is_sum {
            slab.marks.push(rule(0.0, Stroke::whole(0.35, ACCENT)));
        } else if i + 1 < n {
            slab.marks.push(rule(slab.height, Stroke::whole(0.1, RULE)));
        }
        // No row stands alone at either end of a page, and a small table is not parted.
        slab.stays_with_next = i + 1 < n && (n <= SMALL_TABLE || i == 0 || i + 2 == n);
        slab.head = Some(Rc::clone(&repeated));
        let most = room.y - repeated.height;
        slabs.extend(if slab.height > most { by_lines(slab, &repeated) } else { vec![slab] });
    }
    slabs
}

/// A row, or the head, as one slab. Heads stand on their rule, cells hang from theirs.
fn row(
    cells: &[String],
    columns: &[Column],
    widths: &[f64],
    lettering: Lettering,
    tag: impl Fn(usize) -> Tag,
) -> Slab {
    let mut slab = Slab { height: lettering.leading_mm() + 2.0 * PAD, ..Slab::default() };
    let lines_of = |(cell, &width): (&String, &f64)| broken(cell, lettering, width + 1e-6).len();
    let most = cells.iter().zip(widths).map(lines_of).max().unwrap_or(1);
    let mut x = 0.0;
    for (c, ((cell, column), &width)) in cells.iter().zip(columns).zip(widths).enumerate() {
        let tag = tag(c);
        let is_head = matches!(tag.role, Role::Head(_));
        let lines = broken(cell, lettering, width + 1e-6);
        if lines.is_empty() {
            slab.write("", lettering, dvec2(x, 0.0), Anchor::Start, &tag);
        }
        for (i, line) in lines.iter().enumerate() {
            let above = if is_head { most - lines.len() } else { 0 };
            let y = PAD + lettering.leading_mm() * count(above + i);
            match column.align {
                Align::Left => slab.write(line, lettering, dvec2(x, y), Anchor::Start, &tag),
                Align::Right => {
                    slab.write(line, lettering, dvec2(x + width, y), Anchor::End, &tag);
                }
            }
        }
        slab.height = slab.height.max(lettering.leading_mm() * count(most) + 2.0 * PAD);
        x += width + GAP;
    }
    slab
}

/// A row that is higher than a page, line by line.
fn by_lines(row: Slab, head: &Rc<Slab>) -> Vec<Slab> {
    let line = TEXT.leading_mm();
    let mut slabs: Vec<Slab> = Vec::new();
    let tag = |k: usize| row.parts.iter().find(|part| part.marks.contains(&k)).map(|p| &p.tag);
    let mut marks: Vec<(f64, &Mark, Option<&Tag>)> = row
        .marks
        .iter()
        .enumerate()
        .map(|(k, mark)| (0.5 * (mark.bounds()[0].y + mark.bounds()[1].y), mark, tag(k)))
        .collect();
    // Stable: of one line the cells keep their order.
    marks.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut marks = marks.into_iter().peekable();
    let mut top = 0.0;
    while top < row.height {
        let mut slab = Slab {
            height: line.min(row.height - top),
            head: Some(Rc::clone(head)),
            ..Slab::default()
        };
        while let Some((_, mark, tag)) = marks.next_if(|(middle, ..)| *middle < top + line) {
            let n = slab.marks.len();
            slab.parts.extend(tag.map(|tag| Part { marks: n..n + 1, tag: tag.clone() }));
            slab.marks.push(mark.placed(dvec2(0.0, -top), 1.0));
        }
        slabs.push(slab);
        top += line;
    }
    slabs
}

/// How wide each column is, so that the table fits: first what its words need; what is left goes to those that may
/// wrap, what is missing is taken from the widest of them, and from all others only when that is not enough.
fn widths(table: &Table, width: f64) -> Vec<f64> {
    let columns = &table.columns;
    let room = (width - GAP * count(columns.len().saturating_sub(1))).max(1.0);
    let needs = |whole_heads: bool| -> Vec<f64> {
        (0..columns.len()).map(|c| natural(table, c, whole_heads)).collect()
    };
    // Heads stay on one line if all of them can.
    let natural = Some(needs(true))
        .filter(|all| all.iter().sum::<f64>() <= room)
        .unwrap_or_else(|| needs(false));
    let total: f64 = natural.iter().sum();
    let wraps: Vec<bool> = columns.iter().map(|column| column.may_wrap).collect();
    let n_wraps = wraps.iter().filter(|wraps| **wraps).count();
    if total <= room {
        let more = if n_wraps > 0 { (room - total) / count(n_wraps) } else { 0.0 };
        return natural
            .iter()
            .zip(&wraps)
            .map(|(w, wraps)| if *wraps { w + more } else { *w })
            .collect();
    }
    let fixed: f64 = natural.iter().zip(&wraps).filter(|(_, wraps)| !**wraps).map(|(w, _)| w).sum();
    // A wrapping column should keep room for a word or two.
    if n_wraps > 0 && room - fixed > 18.0 * count(n_wraps) {
        return lowered(&natural, &wraps, room - fixed);
    }
    lowered(&natural, &vec![true; columns.len()], room)
}

/// Lowers the widest of those that may be, all to one width, until they fit `room` together.
fn lowered(natural: &[f64], may: &[bool], room: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..natural.len()).filter(|&i| may[i]).collect();
    order.sort_by(|&a, &b| natural[a].total_cmp(&natural[b]).then(a.cmp(&b)));
    let mut widths = natural.to_vec();
    let mut left = room;
    for (k, &i) in order.iter().enumerate() {
        widths[i] = natural[i].min(left / count(order.len() - k));
        left -= widths[i];
    }
    widths
}

/// What a column's words need on one line; of its head all or only the longest word.
fn natural(table: &Table, column: usize, whole_head: bool) -> f64 {
    let head = &table.columns[column].head;
    let words = if whole_head { vec![head.clone()] } else { unbreakable(head) };
    let head = words.into_iter().map(|word| HEAD.width_mm(&word));
    let n = table.rows.len();
    let cells = table.rows.iter().enumerate().filter_map(|(i, row)| {
        let lettering = if table.has_sum && i + 1 == n { TEXT.bold() } else { TEXT };
        row.get(column).map(|cell| lettering.width_mm(cell))
    });
    head.chain(cells).fold(0.0, f64::max)
}

fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}
