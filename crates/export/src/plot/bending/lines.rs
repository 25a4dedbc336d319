//! Lines of equal deflection, the places of greatest deflection and stress, and words at both.

use glam::{DVec2, dvec2};
use paper::{Anchor, Figure, Lettering, Mark, Stroke, style};
use strength::Contour;

use super::labels::{Labels, around, base, crosses};
use super::thin::{FINE, thinned};
use super::words::bend_number;
use super::{Frame, PLAIN, SHEET, words};

/// Width of a line, mm.
const WIDTH: f64 = 0.3;
/// Letters on lines.
const SMALL: Lettering = Lettering { capital_mm: 1.8, ..style::TEXT };
/// Places along a line at which its words are tried.
const TRIED: usize = 48;
/// A line shorter than this has no words, mm.
const SHORT: f64 = 9.0;
/// Marks nearer to each other than this would cover each other, mm.
const NEAR: f64 = 3.2;
/// Words on one line stand no nearer than this, mm.
const APART: f64 = 70.0;

fn on_paper(frame: &Frame<'_>, contour: &Contour) -> Vec<DVec2> {
    contour.line.iter().map(|p| frame.place(*p)).collect()
}

pub(super) fn stroke() -> Stroke {
    Stroke::whole(WIDTH, style::ACCENT)
}

/// The lines.
pub(super) fn draw(figure: &mut Figure, frame: &Frame<'_>) {
    for contour in &frame.panel.contours {
        figure.polyline(&thinned(&on_paper(frame, contour), FINE), stroke());
    }
}

/// A ring at the greatest deflection, a cross at the greatest stress, a diamond where a corner is stressed more, each with
/// its value.
pub(super) fn mark(figure: &mut Figure, frame: &Frame<'_>, labels: &mut Labels) {
    let panel = frame.panel;
    let bent = frame.place(panel.deflection.at_mm);
    let stressed = frame.place(panel.stress.at_mm);
    if bent.distance(stressed) < NEAR {
        // Both at one place: a wide ring around the cross.
        figure.circle(bent, 2.4, Some(Stroke::whole(0.5, style::INK)), Some([255, 255, 255]));
        cross(figure, bent);
    } else {
        ring(figure, bent);
        cross(figure, stressed);
    }
    let corner = words::corner(panel).map(|(corner, _)| frame.place(corner.at_mm));
    if let Some(at) = corner {
        diamond(figure, at);
    }
    for at in [bent, stressed].into_iter().chain(corner) {
        labels.take(at - 2.2, at + 2.2);
    }
    let told = [(bent, words::deflection(frame)), (stressed, words::stress(frame))];
    for (at, value) in told.into_iter().chain(corner.zip(words::corner_stress(frame))) {
        let letters = PLAIN.bold();
        let Some(middle) = beside(at, &value, letters, labels) else { continue };
        let [lo, hi] = around(middle, &value, letters);
        figure.rectangle(lo - 0.4, hi + 0.4, None, Some(SHEET));
        figure.words(base(middle, letters), value, letters, Anchor::Middle);
        labels.take(lo, hi);
    }
}

/// The nearest place beside a mark where words stand clear.
fn beside(at: DVec2, words: &str, letters: Lettering, labels: &Labels) -> Option<DVec2> {
    let [lo, hi] = around(DVec2::ZERO, words, letters);
    let half = 0.5 * (hi - lo);
    let rings = [3.0, 5.0, 8.0, 12.0, 17.0].into_iter();
    let mut places = rings.flat_map(|away| {
        let (x, y) = (half.x + away, half.y + away);
        [(x, 0.0), (-x, 0.0), (0.0, -y), (0.0, y), (x, -y), (-x, -y), (x, y), (-x, y)]
    });
    let middle = |(x, y): (f64, f64)| at + dvec2(x, y);
    places.find(|place| labels.room(around(middle(*place), words, letters)).is_some()).map(middle)
}

/// The sign of the greatest deflection.
pub(super) fn ring(figure: &mut Figure, at: DVec2) {
    figure.circle(at, 1.5, Some(Stroke::whole(0.5, style::INK)), Some([255, 255, 255]));
    figure.circle(at, 0.4, None, Some(style::INK));
}

/// The sign of the greatest stress.
pub(super) fn cross(figure: &mut Figure, at: DVec2) {
    for arm in [dvec2(1.4, 1.4), dvec2(1.4, -1.4)] {
        figure.line(at - arm, at + arm, Stroke::whole(1.3, [255, 255, 255]));
    }
    for arm in [dvec2(1.4, 1.4), dvec2(1.4, -1.4)] {
        figure.line(at - arm, at + arm, Stroke::whole(0.6, style::INK));
    }
}

/// The sign of a corner that is stressed more.
pub(super) fn diamond(figure: &mut Figure, at: DVec2) {
    let corners = [dvec2(1.8, 0.0), dvec2(0.0, 1.8), dvec2(-1.8, 0.0), dvec2(0.0, -1.8)];
    let stroke = Stroke::whole(0.5, style::INK);
    let corners = corners.map(|corner| at + corner);
    figure.marks.push(Mark::path(&corners, true, Some(stroke), Some([255, 255, 255])));
}

/// The deflection on each line, where there is room for it.
pub(super) fn label(figure: &mut Figure, frame: &Frame<'_>, labels: &mut Labels) {
    let lines: Vec<Vec<DVec2>> =
        frame.panel.contours.iter().map(|contour| on_paper(frame, contour)).collect();
    for (own, contour) in frame.panel.contours.iter().enumerate() {
        let words = bend_number(contour.mm.abs(), frame);
        let length: f64 = lines[own].windows(2).map(|w| w[0].distance(w[1])).sum();
        if length < SHORT {
            continue;
        }
        let mut stood: Vec<DVec2> = Vec::new();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a few words on one line"
        )]
        let wanted = (length / APART).clamp(1.0, 6.0) as usize;
        for _ in 0..wanted {
            let Some(middle) = clearest(own, &words, &lines, &stood, labels) else { break };
            let [lo, hi] = around(middle, &words, SMALL);
            figure.rectangle(lo, hi, None, Some(SHEET));
            figure.words(base(middle, SMALL), &words, SMALL, Anchor::Middle);
            labels.take(lo, hi);
            stood.push(middle);
        }
    }
}

/// Where on a line its words stand farthest from all else, clear of every other line.
fn clearest(
    own: usize,
    words: &str,
    lines: &[Vec<DVec2>],
    stood: &[DVec2],
    labels: &Labels,
) -> Option<DVec2> {
    let others = || lines.iter().enumerate().filter(|(other, _)| *other != own);
    let line = &lines[own];
    let step = (line.len() / TRIED).max(1);
    let room = |&at: &DVec2| {
        let [lo, hi] = around(at, words, SMALL);
        let meets = |line: &Vec<DVec2>| line.windows(2).any(|w| crosses([lo, hi], [w[0], w[1]]));
        let is_far = stood.iter().all(|other| other.distance(at) >= 0.8 * APART);
        let room = labels.room([lo, hi]).filter(|_| is_far)?;
        (!others().any(|(_, line)| meets(line))).then_some((at, room.min(40.0)))
    };
    let places = line.iter().step_by(step).filter_map(room);
    places.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(at, _)| at)
}
