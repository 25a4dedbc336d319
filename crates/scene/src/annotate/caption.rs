//! The title, the size and the scale, below the drawing.

use glam::{DVec2, dvec2};
use units::{Length, System};

use super::canvas::Canvas;
use super::font::Lettering;
use super::{FAINT, Style, TEXT};
use crate::camera::{Camera, Lens};
use crate::scene::Scene;

/// Writes the title and the view to the left, the size and, where lengths are to scale, a scale to the
/// right. What does not fit beside the title is left out, the scale first.
pub(super) fn draw(
    canvas: &mut Canvas,
    scene: &Scene,
    camera: &Camera,
    style: &Style,
    view: &str,
    size: [usize; 2],
) {
    let u = style.unit;
    let [width, height] = size.map(|n| n as f64);
    let (margin, gap) = (24.0 * u, 14.0 * u);
    let base = height - 22.0 * u;
    let title = shortened(&style.title, &scene.title, 0.45 * width);
    canvas.text(&style.title, &title, dvec2(margin, base), TEXT, None);
    let left = margin + style.title.width(&title) + gap;
    let mut right = width - margin;
    let dimensions = dimensions(scene);
    let start = right - style.note.width(&dimensions);
    if left + gap < start {
        canvas.text(&style.note, &dimensions, dvec2(start, base), FAINT, None);
        right = start - 34.0 * u;
        let bar = Bar::of(scene, camera, style, 0.14 * width);
        if camera.lens == Lens::Parallel && left + style.note.width(view) + gap < right - bar.width
        {
            bar.draw(canvas, dvec2(right, base), style);
            right -= bar.width + 34.0 * u;
        }
    }
    let words = shortened(&style.note, view, right - left);
    canvas.text(&style.note, &words, dvec2(left, base), FAINT, None);
}

/// A length to scale.
struct Bar {
    text: String,
    length: f64,
    /// With its text, px.
    width: f64,
}

impl Bar {
    /// Of the longest round length up to a limit in px.
    fn of(scene: &Scene, camera: &Camera, style: &Style, limit: f64) -> Self {
        let (length_mm, text) = round_length(scene, limit / camera.scale);
        let length = length_mm * camera.scale;
        let width = style.note.width(&text) + 10.0 * style.unit + length;
        Self { text, length, width }
    }

    /// Ends at `end`, on the base line.
    fn draw(&self, canvas: &mut Canvas, end: DVec2, style: &Style) {
        let u = style.unit;
        let y = end.y - 0.5 * style.note.cap_height;
        let ends = [end.x - self.length, end.x];
        for x in ends {
            canvas.line(&[dvec2(x, y - 5.0 * u), dvec2(x, y + 5.0 * u)], 1.5 * u, FAINT);
        }
        canvas.line(&ends.map(|x| dvec2(x, y)), 1.5 * u, FAINT);
        canvas.text(&style.note, &self.text, dvec2(end.x - self.width, end.y), FAINT, None);
    }
}

/// `1000 × 420 × 380 mm`.
fn dimensions(scene: &Scene) -> String {
    let shown = scene.outside.to_array().map(|mm| Length::mm(mm).show(scene.report));
    let [x, y, z] = &shown;
    let number = |s: &str| s.split(' ').next().unwrap_or_default().to_owned();
    format!("outside {} × {} × {z}", number(x), number(y))
}

/// The longest round length up to a limit, mm, and how it is written.
fn round_length(scene: &Scene, limit_mm: f64) -> (f64, String) {
    const ROUND: [f64; 10] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];
    let unit = match scene.report {
        System::Metric => 1.0,
        System::UsCustomary => 25.4,
    };
    let fitting = ROUND.iter().rev().find(|&&n| n * unit <= limit_mm);
    let length_mm = fitting.unwrap_or(&ROUND[0]) * unit;
    (length_mm, Length::mm(length_mm).show(scene.report))
}

/// A text, with its end left out when it is wider than a limit.
pub(crate) fn shortened(lettering: &Lettering, text: &str, limit: f64) -> String {
    if lettering.width(text) <= limit {
        return text.to_owned();
    }
    let mut kept = String::new();
    for c in text.chars() {
        if lettering.width(&format!("{kept}{c}…")) > limit {
            break;
        }
        kept.push(c);
    }
    if kept.is_empty() { kept } else { format!("{}…", kept.trim_end()) }
}

/// Words in lines of at most a width. A word that is wider than a line is broken; a no-break space breaks none.
pub(crate) fn wrapped(lettering: &Lettering, words: &str, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    let fits = |text: &str| lettering.width(text) <= width;
    let parts = |letter: char| letter.is_whitespace() && letter != '\u{a0}';
    for word in words.split(parts).filter(|word| !word.is_empty()) {
        let last = lines.last_mut().filter(|line| !line.is_empty());
        if let Some(line) = last {
            let longer = format!("{line} {word}");
            if fits(&longer) {
                *line = longer;
                continue;
            }
            lines.push(String::new());
        }
        for letter in word.chars() {
            let Some(line) = lines.last_mut() else { continue };
            if line.is_empty() || fits(&format!("{line}{letter}")) {
                line.push(letter);
            } else {
                lines.push(letter.to_string());
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::super::font::Weight;
    use super::*;

    #[test]
    fn long_text_is_shortened_to_its_room() {
        let lettering = Lettering::new(Weight::Regular, 17.0);
        let text = "cut along the length";
        assert_eq!(shortened(&lettering, text, 1000.0), text);
        assert_eq!(shortened(&lettering, text, 5.0), "");
        let short = shortened(&lettering, text, 90.0);
        assert!(short.ends_with('…') && lettering.width(&short) <= 90.0, "{short}");
    }

    #[test]
    fn all_words_stay_within_their_column() {
        let lettering = Lettering::new(Weight::Regular, 20.0);
        let words =
            "The water stands 253 mm above the floor, by anextremelylongnamethatnobodywouldgive.";
        let lines = wrapped(&lettering, words, 160.0);
        assert!(
            lines.len() > 3 && lines.iter().all(|line| lettering.width(line) <= 160.0),
            "{lines:?}"
        );
        let whole: String = lines.concat().split(' ').collect();
        assert_eq!(whole, words.split(' ').collect::<String>());
    }
}
