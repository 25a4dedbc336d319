//! The title, the size and the scale, below the drawing.

use glam::dvec2;
use units::{Length, System};

use super::canvas::Canvas;
use super::{FAINT, Style, TEXT};
use crate::camera::{Camera, Lens};
use crate::scene::Scene;

/// Writes the title and the view to the left, the size and, where lengths are to scale, a scale to the
/// right.
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
    let margin = 24.0 * u;
    let base = height - 22.0 * u;
    let dimensions = dimensions(scene);
    let right = width - margin - style.note.width(&dimensions);
    let title = shortened(&scene.title, style, 0.45 * width);
    canvas.text(&style.title, &title, dvec2(margin, base), TEXT, None);
    let after = margin + style.title.width(&title) + 14.0 * u;
    canvas.text(&style.note, view, dvec2(after, base), FAINT, None);
    canvas.text(&style.note, &dimensions, dvec2(right, base), FAINT, None);
    if camera.lens == Lens::Parallel {
        let (length_mm, text) = scale_bar(scene, 0.14 * width / camera.scale);
        let length = length_mm * camera.scale;
        let end = right - 34.0 * u;
        let start = end - length;
        let y = base - 0.35 * style.note.cap_height;
        for x in [start, end] {
            canvas.line(&[dvec2(x, y - 5.0 * u), dvec2(x, y + 5.0 * u)], 1.5 * u, FAINT);
        }
        canvas.line(&[dvec2(start, y), dvec2(end, y)], 1.5 * u, FAINT);
        let text_at = start - 10.0 * u - style.note.width(&text);
        canvas.text(&style.note, &text, dvec2(text_at, base), FAINT, None);
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
fn scale_bar(scene: &Scene, limit_mm: f64) -> (f64, String) {
    const ROUND: [f64; 10] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];
    let unit = match scene.report {
        System::Metric => 1.0,
        System::UsCustomary => 25.4,
    };
    let fitting = ROUND.iter().rev().find(|&&n| n * unit <= limit_mm);
    let length_mm = fitting.unwrap_or(&ROUND[0]) * unit;
    (length_mm, Length::mm(length_mm).show(scene.report))
}

/// The title, with its end left out when it is wider than a limit.
fn shortened(title: &str, style: &Style, limit: f64) -> String {
    if style.title.width(title) <= limit {
        return title.to_owned();
    }
    let mut kept = String::new();
    for c in title.chars() {
        if style.title.width(&format!("{kept}{c}…")) > limit {
            break;
        }
        kept.push(c);
    }
    format!("{}…", kept.trim_end())
}
