//! From blocks to slabs.

use glam::{DVec2, dvec2};

use super::slab::{Slab, base_mm, tie_all, tie_ends};
use super::table;
use crate::block::{Block, Caution};
use crate::figure::{Anchor, Figure, Mark, Stroke};
use crate::lines::broken;
use crate::part::{Part, Role, Tag};
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

/// How many things there are already.
#[derive(Default)]
pub(super) struct Counts {
    /// Frames around words of caution.
    frames: usize,
    /// Headings, paragraphs, lists, tables, figures.
    things: usize,
}

impl Counts {
    /// The tag of something new.
    fn tag(&mut self, role: Role) -> Tag {
        self.things += 1;
        Tag { thing: self.things, role }
    }
}

/// The slabs of blocks for pages with this much room, width and height.
pub(super) fn slabs(blocks: &[Block], room: DVec2) -> Vec<Slab> {
    of_blocks(blocks, room, &mut Counts::default())
}

fn of_blocks(blocks: &[Block], room: DVec2, counts: &mut Counts) -> Vec<Slab> {
    let mut slabs: Vec<Slab> = Vec::new();
    let mut begins_page = false;
    for block in blocks {
        if *block == Block::NewPage {
            begins_page = true;
            continue;
        }
        let mut more = of_block(block, room, counts);
        if let Some(first) = more.first_mut() {
            first.begins_page |= begins_page;
            begins_page = false;
        }
        slabs.extend(more);
    }
    slabs
}

fn of_block(block: &Block, room: DVec2, counts: &mut Counts) -> Vec<Slab> {
    match block {
        Block::Heading(level, text) => heading(*level, text, room.x, counts),
        Block::Words(text) => paragraph(text, room.x, counts),
        Block::Items(items) => list(items, room.x, counts, |_| Sign::Dot),
        Block::Boxes(items) => list(items, room.x, counts, |_| Sign::Box),
        Block::Numbered(first, items) => list(items, room.x, counts, |i| Sign::Number(first + i)),
        Block::Table(table) => table::slabs(table, room, counts.tag(Role::Words).thing),
        Block::Figure { figure, may_shrink, caption } => {
            pictured(figure, *may_shrink, caption, room, counts)
        }
        Block::Caution(caution) => cautioned(caution, room.x, counts),
        Block::Together(blocks) => {
            let mut slabs = of_blocks(blocks, room, counts);
            tie_all(&mut slabs);
            slabs
        }
        Block::Beside(columns) => beside(columns, room, counts),
        Block::NewPage => Vec::new(),
    }
}

fn heading(level: u8, text: &str, width: f64, counts: &mut Counts) -> Vec<Slab> {
    let (lettering, space) = match level {
        0 | 1 => (LARGE.bold(), 0.0),
        2 => (LARGE, 7.5),
        _ => (TEXT.bold().in_colour(ACCENT), 4.5),
    };
    let tag = counts.tag(Role::Heading(level.max(1), text.to_owned()));
    let mut slabs: Vec<Slab> = broken(text, lettering, width)
        .iter()
        .map(|line| Slab::line(line, lettering, 0.0, &tag))
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

fn paragraph(text: &str, width: f64, counts: &mut Counts) -> Vec<Slab> {
    let tag = counts.tag(Role::Words);
    let mut slabs: Vec<Slab> =
        broken(text, TEXT, width).iter().map(|line| Slab::line(line, TEXT, 0.0, &tag)).collect();
    tie_ends(&mut slabs);
    if let Some(first) = slabs.first_mut() {
        first.space = PARAGRAPH;
    }
    slabs
}

fn list(
    items: &[String],
    width: f64,
    counts: &mut Counts,
    sign: impl Fn(usize) -> Sign,
) -> Vec<Slab> {
    let mut all = Vec::new();
    let thing = counts.tag(Role::Words).thing;
    for (i, item) in items.iter().enumerate() {
        let lines = broken(item, TEXT, width - INDENT);
        let mut slabs: Vec<Slab> = Vec::new();
        for (k, line) in lines.iter().enumerate() {
            let mut slab = Slab { height: TEXT.leading_mm(), ..Slab::default() };
            if k == 0 {
                slab.space = if i == 0 { PARAGRAPH } else { ITEM };
                put_sign(&mut slab, sign(i), &Tag { thing, role: Role::Label(i) });
            }
            let tag = Tag { thing, role: Role::Item(i) };
            slab.write(line, TEXT, dvec2(INDENT, 0.0), Anchor::Start, &tag);
            slabs.push(slab);
        }
        tie_ends(&mut slabs);
        // No item stands alone at either end of the list.
        if let Some(last) = slabs.last_mut() {
            last.stays_with_next = i + 1 < items.len() && (i == 0 || i + 2 == items.len());
        }
        all.extend(slabs);
    }
    all
}

fn put_sign(slab: &mut Slab, sign: Sign, tag: &Tag) {
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
            slab.write(&format!("{n}"), lettering, dvec2(4.6, 0.0), Anchor::End, tag);
        }
    }
    slab.marks.extend(figure.marks);
}

fn cautioned(caution: &Caution, width: f64, counts: &mut Counts) -> Vec<Slab> {
    let inner = width - 2.0 * CAUTION_INDENT;
    let head = TEXT.bold().in_colour(ACCENT);
    let mut set = |text: &str, lettering| -> Vec<Slab> {
        let tag = counts.tag(Role::Words);
        broken(text, lettering, inner)
            .iter()
            .map(|l| Slab::line(l, lettering, CAUTION_INDENT, &tag))
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
        slab.frame = Some(counts.frames);
    }
    counts.frames += 1;
    slabs
}

fn pictured(
    figure: &Figure,
    may_shrink: bool,
    caption: &str,
    room: DVec2,
    counts: &mut Counts,
) -> Vec<Slab> {
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
    let tag = counts.tag(Role::Figure(said(figure, &caption)));
    slab.parts = vec![Part { marks: 0..slab.marks.len(), tag }];
    let mut slabs = vec![slab];
    let tag = counts.tag(Role::Words);
    for (i, line) in lines(&caption).iter().enumerate() {
        let mut slab = Slab { height: SMALL.leading_mm(), ..Slab::default() };
        slab.space = if i == 0 { 1.5 } else { 0.0 };
        slab.write(line, SMALL, dvec2(0.5 * room.x, 0.0), Anchor::Middle, &tag);
        slabs.push(slab);
    }
    tie_all(&mut slabs);
    slabs
}

/// A figure for who does not see it: what its pictures show, else the words below it, else the words in it.
fn said(figure: &Figure, caption: &str) -> String {
    let alts = figure.marks.iter().filter_map(|mark| match mark {
        Mark::Picture { alt, .. } => Some(alt.as_str()),
        _ => None,
    });
    let alts: Vec<&str> = alts.collect();
    match (&alts[..], caption) {
        ([], "") => figure.words_in_it(),
        ([], caption) => caption.to_owned(),
        (alts, _) => alts.join("; "),
    }
}

/// Side by side as one slab; below one another where that is higher than a page.
fn beside(columns: &[(f64, Vec<Block>)], room: DVec2, counts: &mut Counts) -> Vec<Slab> {
    let gaps = GUTTER * f64::from(u32::try_from(columns.len().saturating_sub(1)).unwrap_or(0));
    let shares: f64 = columns.iter().map(|(share, _)| share.max(0.0)).sum();
    let mut whole = Slab { space: PARAGRAPH, ..Slab::default() };
    let mut x = 0.0;
    for (share, blocks) in columns {
        let width = (room.x - gaps).max(1.0) * share.max(0.0) / shares.max(1e-9);
        let slabs = of_blocks(blocks, dvec2(width, room.y), counts);
        let mut y = 0.0;
        let mut drawn = Vec::new();
        for (i, slab) in slabs.iter().enumerate() {
            y += if i == 0 { 0.0 } else { slab.space };
            drawn.push((y, slab.height, slab));
            y += slab.height;
        }
        super::fill::frames(&drawn, dvec2(x, 0.0), width, &mut whole.marks);
        for (y, _, slab) in &drawn {
            slab.place(dvec2(x, *y), &mut whole.marks, &mut whole.parts);
            whole.bookmark = whole.bookmark.take().or_else(|| slab.bookmark.clone());
        }
        whole.height = whole.height.max(y);
        x += width + GUTTER;
    }
    if whole.height <= room.y {
        return vec![whole];
    }
    columns.iter().flat_map(|(_, blocks)| of_blocks(blocks, room, counts)).collect()
}
