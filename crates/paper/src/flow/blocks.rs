//! From blocks to slabs.

use glam::{DVec2, dvec2};

use super::slab::{Slab, base_mm, tie_all, tie_ends};
use super::table;
use crate::block::{Block, Caution};
use crate::figure::{Anchor, Figure, Mark, Stroke};
use crate::lines::broken;
use crate::style::{ACCENT, INK, LARGE, SMALL, TEXT};

/// Space above a paragraph, mm.
const PARAGRAPH: f64 = 2.2;
/// Space above an item of a list, mm.
const ITEM: f64 = 0.9;
/// How far the words of an item stand in, mm.
const INDENT: f64 = 6.5;
/// How far words of caution stand in from their bar, mm.
const CAUTION_INDENT: f64 = 5.0;
/// Between things side by side, mm.
const GUTTER: f64 = 6.0;

/// What stands before an item.
#[derive(Clone, Copy)]
enum Sign {
    Dot,
    Box,
    Number(usize),
}

/// The slabs of blocks for pages with this much room, width and height.
pub(super) fn slabs(blocks: &[Block], room: DVec2) -> Vec<Slab> {
    let mut frames = 0;
    of_blocks(blocks, room, &mut frames)
}

fn of_blocks(blocks: &[Block], room: DVec2, frames: &mut usize) -> Vec<Slab> {
    let mut slabs: Vec<Slab> = Vec::new();
    let mut begins_page = false;
    for block in blocks {
        if *block == Block::NewPage {
            begins_page = true;
            continue;
        }
        let mut more = of_block(block, room, frames);
        if let Some(first) = more.first_mut() {
            first.begins_page |= begins_page;
            begins_page = false;
        }
        slabs.extend(more);
    }
    slabs
}

fn of_block(block: &Block, room: DVec2, frames: &mut usize) -> Vec<Slab> {
    match block {
        Block::Heading(level, text) => heading(*level, text, room.x),
        Block::Words(text) => paragraph(text, room.x),
        Block::Items(items) => list(items, room.x, |_| Sign::Dot),
        Block::Boxes(items) => list(items, room.x, |_| Sign::Box),
        Block::Numbered(first, items) => list(items, room.x, |i| Sign::Number(first + i)),
        Block::Table(table) => table::slabs(table, room),
        Block::Figure { figure, may_shrink, caption } => {
            pictured(figure, *may_shrink, caption, room)
        }
        Block::Caution(caution) => cautioned(caution, room.x, frames),
        Block::Together(blocks) => {
            let mut slabs = of_blocks(blocks, room, frames);
            tie_all(&mut slabs);
            slabs
        }
        Block::Beside(columns) => beside(columns, room, frames),
        Block::NewPage => Vec::new(),
    }
}

fn heading(level: u8, text: &str, width: f64) -> Vec<Slab> {
    let (lettering, space) = match level {
        0 | 1 => (LARGE.bold(), 0.0),
        2 => (LARGE, 7.5),
        _ => (TEXT.bold().in_colour(ACCENT), 4.5),
    };
    let mut slabs: Vec<Slab> = broken(text, lettering, width)
        .iter()
        .map(|line| Slab::line(line, lettering, 0.0))
        .collect();
    for slab in &mut slabs {
        slab.stays_with_next = true;
    }
    if let Some(first) = slabs.first_mut() {
        first.space = space;
        first.bookmark = Some((level.max(1), text.to_owned()));
    }
    if let Some(last) = slabs.last_mut().filter(|_| level <= 1) {
        // A title has a rule below it and some air.
        let y = last.height + 1.2;
        let rule = Mark::path(
            &[dvec2(0.0, y), dvec2(width, y)],
            false,
            Some(Stroke::whole(0.5, ACCENT)),
            None,
        );
        last.marks.push(rule);
        last.height = y + 1.8;
    }
    slabs
}

fn paragraph(text: &str, width: f64) -> Vec<Slab> {
    let mut slabs: Vec<Slab> =
        broken(text, TEXT, width).iter().map(|line| Slab::line(line, TEXT, 0.0)).collect();
    tie_ends(&mut slabs);
    if let Some(first) = slabs.first_mut() {
        first.space = PARAGRAPH;
    }
    slabs
}

fn list(items: &[String], width: f64, sign: impl Fn(usize) -> Sign) -> Vec<Slab> {
    let mut all = Vec::new();
    for (i, item) in items.iter().enumerate() {
        let lines = broken(item, TEXT, width - INDENT);
        let mut slabs: Vec<Slab> = Vec::new();
        for (k, line) in lines.iter().enumerate() {
            let mut slab = Slab { height: TEXT.leading_mm(), ..Slab::default() };
            if k == 0 {
                slab.space = if i == 0 { PARAGRAPH } else { ITEM };
                put_sign(&mut slab, sign(i));
            }
            slab.write(line, TEXT, dvec2(INDENT, 0.0), Anchor::Start);
            slabs.push(slab);
        }
        tie_ends(&mut slabs);
        all.extend(slabs);
    }
    all
}

fn put_sign(slab: &mut Slab, sign: Sign) {
    let base = base_mm(TEXT);
    let mut figure = Figure::default();
    match sign {
        Sign::Dot => {
            figure.circle(dvec2(2.6, base - 0.45 * TEXT.capital_mm), 0.6, None, Some(ACCENT));
        }
        Sign::Box => {
            let (lo, side) = (dvec2(1.0, base - 2.75), 3.1);
            figure.rectangle(lo, lo + DVec2::splat(side), Some(Stroke::whole(0.25, INK)), None);
        }
        Sign::Number(n) => {
            let lettering = TEXT.in_colour(ACCENT).bold();
            slab.write(&format!("{n}"), lettering, dvec2(4.6, 0.0), Anchor::End);
        }
    }
    slab.marks.extend(figure.marks);
}

fn cautioned(caution: &Caution, width: f64, frames: &mut usize) -> Vec<Slab> {
    let inner = width - 2.0 * CAUTION_INDENT;
    let head = TEXT.bold().in_colour(ACCENT);
    let set = |text: &str, lettering| -> Vec<Slab> {
        broken(text, lettering, inner)
            .iter()
            .map(|l| Slab::line(l, lettering, CAUTION_INDENT))
            .collect()
    };
    let mut slabs = set(&caution.head, head);
    for words in &caution.words {
        let mut more = set(words, TEXT);
        if let Some(first) = more.first_mut() {
            first.space = ITEM;
        }
        slabs.extend(more);
    }
    // Air within the frame.
    if let Some(first) = slabs.first_mut() {
        *first =
            Slab { height: first.height + 2.0, ..std::mem::take(first).moved(dvec2(0.0, 2.0)) };
        first.space = PARAGRAPH + 1.0;
    }
    if let Some(last) = slabs.last_mut() {
        last.height += 2.2;
    }
    tie_all(&mut slabs);
    for slab in &mut slabs {
        slab.frame = Some(*frames);
    }
    *frames += 1;
    slabs
}

fn pictured(figure: &Figure, may_shrink: bool, caption: &str, room: DVec2) -> Vec<Slab> {
    const SPACE: f64 = 3.5;
    // A figure with a scale that is larger than the page is made smaller all the same: and then says so.
    let mut caption = caption.to_owned();
    let lines = |caption: &str| {
        if caption.is_empty() { Vec::new() } else { broken(caption, SMALL, room.x) }
    };
    let fitting = |caption: &str| {
        let below = lines(caption).iter().map(|_| SMALL.leading_mm()).sum::<f64>() + 1.5;
        let most =
            dvec2(room.x, (room.y - below).max(0.3 * room.y)) / figure.size.max(DVec2::splat(1e-9));
        most.x.min(most.y).min(1.0)
    };
    let mut scale = fitting(&caption);
    if scale < 1.0 && !may_shrink {
        caption =
            format!("{caption} Not to scale: made smaller to fit the page.").trim().to_owned();
        scale = fitting(&caption);
    }
    let size = figure.size * scale;
    let mut slab = Slab { height: size.y, space: SPACE, ..Slab::default() };
    let left = 0.5 * (room.x - size.x);
    slab.marks = figure.marks.iter().map(|mark| mark.placed(dvec2(left, 0.0), scale)).collect();
    let mut slabs = vec![slab];
    for (i, line) in lines(&caption).iter().enumerate() {
        let mut slab = Slab { height: SMALL.leading_mm(), ..Slab::default() };
        slab.space = if i == 0 { 1.5 } else { 0.0 };
        slab.write(line, SMALL, dvec2(0.5 * room.x, 0.0), Anchor::Middle);
        slabs.push(slab);
    }
    tie_all(&mut slabs);
    slabs
}

/// Side by side as one slab; below one another where that is higher than a page.
fn beside(columns: &[(f64, Vec<Block>)], room: DVec2, frames: &mut usize) -> Vec<Slab> {
    let gaps = GUTTER * f64::from(u32::try_from(columns.len().saturating_sub(1)).unwrap_or(0));
    let shares: f64 = columns.iter().map(|(share, _)| share.max(0.0)).sum();
    let mut whole = Slab { space: PARAGRAPH, ..Slab::default() };
    let mut x = 0.0;
    for (share, blocks) in columns {
        let width = (room.x - gaps).max(1.0) * share.max(0.0) / shares.max(1e-9);
        let slabs = of_blocks(blocks, dvec2(width, room.y), frames);
        let mut y = 0.0;
        let mut drawn = Vec::new();
        for (i, slab) in slabs.iter().enumerate() {
            y += if i == 0 { 0.0 } else { slab.space };
            drawn.push((y, slab.height, slab));
            y += slab.height;
        }
        super::fill::frames(&drawn, dvec2(x, 0.0), width, &mut whole.marks);
        for (y, _, slab) in &drawn {
            whole.marks.extend(slab.marks.iter().map(|mark| mark.placed(dvec2(x, *y), 1.0)));
            whole.bookmark = whole.bookmark.take().or_else(|| slab.bookmark.clone());
        }
        whole.height = whole.height.max(y);
        x += width + GUTTER;
    }
    if whole.height <= room.y {
        return vec![whole];
    }
    columns.iter().flat_map(|(_, blocks)| of_blocks(blocks, room, frames)).collect()
}
