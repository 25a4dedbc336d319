//! Where frames and words stand on the sheet.

use glam::{DVec2, dvec2};

use super::{FAINT, TEXT};
use crate::annotate::canvas::Canvas;
use crate::annotate::caption::shortened;
use crate::annotate::font::{Lettering, Weight};
use crate::image::whole_px;

/// A frame is at least so high and at most so wide, as shares of the other side.
const LEAST_HEIGHT: f64 = 0.55;
/// Most lines under a frame.
const MOST_LINES: usize = 4;

/// The sheet.
#[derive(Debug)]
pub(super) struct Layout {
    /// Everything is measured in this: 1 px in a strip of 1600 × 1000.
    pub(super) unit: f64,
    /// Size of every frame, px.
    pub(super) frame: [usize; 2],
    /// Their upper left corners.
    pub(super) places: Vec<[usize; 2]>,
    /// Size of the sheet: no higher than it needs to be.
    pub(super) size: [usize; 2],
    columns: usize,
    captions: Vec<Vec<String>>,
    caption: Lettering,
}

impl Layout {
    /// As many columns as make the drawings largest on a sheet of at most `size`. `aspect` is width over
    /// height of what a frame shows.
    pub(super) fn of(captions: &[String], size: [usize; 2], aspect: f64) -> Self {
        let count = captions.len().max(1);
        let all = (1..=count).map(|columns| Self::with(captions, size, columns, aspect));
        // Of nearly equal ones the one with more columns wastes less of the sheet.
        let best = all.reduce(|a, b| if b.worth(aspect) > 0.97 * a.worth(aspect) { b } else { a });
        best.unwrap_or_else(|| Self::with(captions, size, count, aspect))
    }

    /// How large the drawings are, px; less where the last row is not full.
    fn worth(&self, aspect: f64) -> f64 {
        const MISSING: f64 = 0.06;
        let [w, h] = self.frame.map(|v| v as f64);
        let missing = (self.columns - self.places.len() % self.columns) % self.columns;
        (w / aspect).min(h) * (1.0 - MISSING * missing as f64)
    }

    fn with(captions: &[String], size: [usize; 2], columns: usize, aspect: f64) -> Self {
        let [width, height] = size.map(|n| n as f64);
        let unit = libm::sqrt(width * height / 1.6e6).max(0.5);
        let caption = Lettering::new(Weight::Regular, 18.0 * unit);
        let rows = captions.len().div_ceil(columns.max(1)).max(1);
        let (margin, gap, top) = (24.0 * unit, 18.0 * unit, 60.0 * unit);
        let columns_f = columns as f64;
        let frame_width = (width - 2.0 * margin - (columns_f - 1.0) * gap) / columns_f;
        let captions: Vec<Vec<String>> =
            captions.iter().map(|words| wrapped(&caption, words, frame_width)).collect();
        let lines = captions.iter().map(Vec::len).max().unwrap_or(1);
        let under = (18.0 + 25.0 * lines as f64) * unit;
        let row = (height - top - 0.4 * margin) / rows as f64;
        let wanted = frame_width / aspect.min(1.0 / LEAST_HEIGHT);
        let frame_height = (row - under).min(wanted).max(16.0);
        let frame = [frame_width.max(16.0), frame_height].map(whole_px);
        let row = frame_height + under;
        let place = |i: usize| {
            let (r, c) = (i / columns, i % columns);
            [margin + c as f64 * (frame_width + gap), top + r as f64 * row].map(whole_px)
        };
        let places = (0..captions.len()).map(place).collect();
        let height = (top + rows as f64 * row + 0.4 * margin).min(height);
        let size = [size[0], whole_px(height)];
        Self { unit, frame, places, size, columns, captions, caption }
    }

    /// Title, project and note above, captions under the frames.
    pub(super) fn write(&self, canvas: &mut Canvas, title: &str, project: &str, note: &str) {
        let u = self.unit;
        let [width, margin, base] = [self.size[0] as f64, 24.0 * u, 38.0 * u];
        let (bold, plain) =
            (Lettering::new(Weight::Bold, 25.0 * u), Lettering::new(Weight::Regular, 17.0 * u));
        let title = shortened(&bold, title, width - 2.0 * margin);
        canvas.text(&bold, &title, dvec2(margin, base), TEXT, None);
        let room = width - 2.0 * margin - bold.width(&title) - 30.0 * u;
        let both = format!("{project}; {note}");
        let right = [both.as_str(), note].into_iter().find(|text| plain.width(text) <= room);
        if let Some(text) = right {
            let start = width - margin - plain.width(text);
            canvas.text(&plain, text, dvec2(start, base), FAINT, None);
        }
        for (lines, place) in self.captions.iter().zip(&self.places) {
            let [x, y] = place.map(|v| v as f64);
            let mut at = dvec2(x + 2.0 * u, y + self.frame[1] as f64 + 25.0 * u);
            for line in lines {
                canvas.text(&self.caption, line, at, TEXT, None);
                at += DVec2::Y * 25.0 * u;
            }
        }
    }
}

/// Words in lines of at most a width; what does not fit into the last line is left out.
fn wrapped(lettering: &Lettering, words: &str, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split(' ') {
        match lines.last_mut() {
            Some(line) if lettering.width(&format!("{line} {word}")) <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    if lines.len() > MOST_LINES {
        let rest = lines.split_off(MOST_LINES - 1).join(" ");
        lines.push(rest);
    }
    lines.iter().map(|line| shortened(lettering, line, width)).collect()
}
