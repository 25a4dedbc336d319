//! Blocks of text above the box for what holds water, below it for what divides it, with leaders.

use design::WayKind;
use water::{Report, WayReport};

use super::cuts::Cut;
use super::levels::LEVEL;
use super::room::Uprights;
use super::{LEADING, SIZE, Sump, leaves};
use crate::plot::measure::text_width;
use crate::plot::paper::{Area, BLACK, GREY, Paper, Text, stroke};
use crate::plot::spread::{Spot, rows};
use crate::plot::words;

/// Height in which leaders run aslant, mm.
const ASLANT: f64 = 7.0;
/// Between blocks.
const GAP: f64 = 3.0;

/// One block.
struct Block {
    /// Which basin or leaf.
    id: usize,
    /// Where on the paper it belongs.
    x: f64,
    /// The first is its name.
    lines: Vec<String>,
}

/// Blocks in rows.
pub(super) struct Labels {
    blocks: Vec<Block>,
    spots: Vec<Spot>,
    lines: f64,
}

impl Labels {
    fn new(blocks: Vec<Block>, within: [f64; 2]) -> Self {
        let wanted: Vec<f64> = blocks.iter().map(|b| b.x).collect();
        let width = |b: &Block| {
            let lines = b.lines.iter().enumerate();
            lines.map(|(i, l)| text_width(l, SIZE, i == 0)).fold(0.0, f64::max)
        };
        let widths: Vec<f64> = blocks.iter().map(width).collect();
        let lines =
            blocks.iter().map(|b| b.lines.iter().fold(0.0, |n, _| n + 1.0)).fold(0.0, f64::max);
        Self { spots: rows(&wanted, &widths, GAP, within), blocks, lines }
    }

    fn row_height(&self) -> f64 {
        self.lines * LEADING + 1.5
    }

    /// Height of all rows and of their leaders, mm.
    pub(super) fn height(&self) -> f64 {
        let count = self.spots.iter().map(|s| s.row).max().map_or(0, |most| most + 1);
        (0..count).fold(ASLANT, |h, _| h + self.row_height())
    }

    /// Above `foot`, with leaders on to the height that `to` gives.
    pub(super) fn draw_above(&self, paper: &mut Paper, foot: f64, to: impl Fn(usize) -> f64) {
        for (block, spot) in self.blocks.iter().zip(&self.spots) {
            let top = (0..=spot.row).fold(foot - ASLANT, |y, _| y - self.row_height());
            // Stands on its leader, however many lines it has.
            let count = block.lines.iter().fold(0.0, |n, _| n + 1.0);
            let first = top + (self.lines - count) * LEADING;
            self.block(paper, block, spot, first);
            let lower = top + self.lines * LEADING + 0.3;
            let end = to(block.id);
            let points = [
                [spot.middle, lower],
                [spot.middle, foot - ASLANT],
                [block.x, foot],
                [block.x, end],
            ];
            paper.path(&points, false, &stroke(GREY, 0.15));
            for piece in points.windows(2) {
                paper.keep_off(piece[0], piece[1]);
            }
            paper.keep_free(Area::between([block.x - 1.3, end - 2.0], [block.x + 1.3, end]));
            // The sign for a water level: ISO 128 and everybody's drawings.
            let sign = [[block.x, end], [block.x - 1.1, end - 1.8], [block.x + 1.1, end - 1.8]];
            paper.path(
                &sign,
                true,
                &format!("fill=\"#ffffff\" stroke=\"{LEVEL}\" stroke-width=\"0.25\""),
            );
        }
    }

    /// Below `foot`.
    pub(super) fn draw_below(&self, paper: &mut Paper, foot: f64) {
        for (block, spot) in self.blocks.iter().zip(&self.spots) {
            let top = (0..spot.row).fold(foot + ASLANT, |y, _| y + self.row_height());
            self.block(paper, block, spot, top + 0.3);
            let points = [[block.x, foot], [spot.middle, foot + ASLANT], [spot.middle, top]];
            paper.path(&points, false, &stroke(GREY, 0.15));
        }
    }

    fn block(&self, paper: &mut Paper, block: &Block, spot: &Spot, top: f64) {
        let mut y = top + 0.8 * LEADING;
        for (i, line) in block.lines.iter().enumerate() {
            let text = Text::new(line, [spot.middle, y], SIZE).middle();
            paper.text(&if i == 0 { text.bold() } else { text.colour(BLACK) });
            y += LEADING;
        }
    }
}

/// Name, level and freeboard of every basin of the cut, `places` in its order.
pub(super) fn chambers(
    sump: &Sump<'_>,
    cut: &Cut,
    places: &[Uprights],
    within: [f64; 2],
) -> Labels {
    let units = sump.design.report;
    let of = |(&i, place): (&usize, &Uprights)| {
        let report = &sump.report.basins[i];
        let level = words::height_with_band(report.level_m, units);
        let freeboard = words::height(report.rim_m - report.level_m.mid, units);
        Block {
            id: i,
            x: place.leader,
            lines: vec![
                report.name.clone(),
                format!("level {level}"),
                format!("freeboard {freeboard}"),
            ],
        }
    };
    Labels::new(cut.basins.iter().zip(places).map(of).collect(), within)
}

/// Name of every leaf of the cut, and the head over what it leaves for water.
pub(super) fn leaves(sump: &Sump<'_>, cut: &Cut, x0: f64, within: [f64; 2]) -> Labels {
    let all = leaves::of(sump, cut);
    let of = |(i, leaf): (usize, &leaves::Leaf<'_>)| {
        let mut lines =
            vec![if leaf.is_cut { leaf.name.to_owned() } else { format!("{}, behind", leaf.name) }];
        for (way, report) in &leaf.ways {
            let line = head(way.shape, report, sump);
            lines.extend(line.filter(|line| !lines.contains(line)));
        }
        let middle = 0.5 * (leaf.x_mm[0] + leaf.x_mm[1]);
        Block { id: i, x: x0 + middle / sump.scale, lines }
    };
    Labels::new(all.iter().enumerate().map(of).collect(), within)
}

/// What a way is and how high water stands over its lower edge; the drop where that is drowned.
fn head(shape: design::WayShape, report: &WayReport, sump: &Sump<'_>) -> Option<String> {
    let units = sump.design.report;
    let name = short(report.kind);
    let drop = words::height(drop_m(sump.report, report), units);
    if report.kind == WayKind::Underflow {
        let design::WayShape::Rectangle { bottom_mm, top_mm, .. } = shape else { return None };
        let gap = words::height((top_mm - bottom_mm) * 1e-3, units);
        return Some(format!("{name} {gap}, drop {drop}"));
    }
    if report.head_m.mid <= 0.0 {
        // Finger holes are meant to be dry.
        return (report.kind != WayKind::FingerHoles).then(|| format!("{name} dry"));
    }
    if report.is_drowned {
        return Some(format!("{name}: drop {drop}"));
    }
    Some(format!("{name}: head {}", words::height(report.head_m.mid, units)))
}

/// From the level before a way to the one behind it, m: what a drowned way takes.
pub(super) fn drop_m(report: &Report, way: &WayReport) -> f64 {
    let level = |tank: usize| report.basins.iter().find(|b| b.tank == tank).map(|b| b.level_m.mid);
    let [up, down] = way.between.map(level);
    up.zip(down).map_or(0.0, |(up, down)| up - down)
}

/// A way's kind in a word or two.
pub(super) fn short(kind: WayKind) -> &'static str {
    match kind {
        WayKind::Crest => "crest",
        WayKind::Comb => "comb",
        WayKind::Underflow => "gap",
        WayKind::Letterbox => "letterbox",
        WayKind::Slots => "slots",
        WayKind::Holes => "holes",
        WayKind::FingerHoles => "finger holes",
        WayKind::Door => "door",
    }
}
