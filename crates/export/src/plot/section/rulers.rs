//! Rulers beside the box: the file's unit on the left, the other on the right.

use design::{Design, Role};
use units::System;

use super::Sump;
use super::frame::{Frame, rim_mm};
use super::parts;
use crate::decimal::decimal;
use crate::plot::paper::{BLACK, GREY, Paper, Text, stroke};
use crate::plot::words;

/// From the box to its ruler, mm.
const AWAY: f64 = 3.0;

pub(super) fn draw(paper: &mut Paper, sump: &Sump<'_>, frame: &Frame) {
    let other = match sump.design.report {
        System::Metric => System::UsCustomary,
        System::UsCustomary => System::Metric,
    };
    let [left, right] = overhang(sump.design).map(|mm| mm / sump.scale);
    let end = frame.x(sump.design.outside.x);
    ruler(paper, sump, frame, sump.design.report, frame.x(0.0) - left - AWAY, -1.0);
    ruler(paper, sump, frame, other, end + right + AWAY, 1.0);
}

/// How far fittings stand out of the two ends of the box, mm.
pub(super) fn overhang(design: &Design) -> [f64; 2] {
    let fittings = parts::of(design, &[Role::WallFitting]).into_iter();
    fittings.fold([0.0, 0.0], |[a, b], f| {
        [f64::max(a, -f.lo.x), f64::max(b, f.hi.x - design.outside.x)]
    })
}

/// A ruler whose ticks point away from the box, to the left with `way` -1.
fn ruler(paper: &mut Paper, sump: &Sump<'_>, frame: &Frame, units: System, x: f64, way: f64) {
    let unit = words::height_unit(units);
    let rim = rim_mm(sump.design);
    let mm_of = |v: f64| v / unit.per_si * 1e3;
    let top = rim * 1e-3 * unit.per_si;
    let pen = stroke(BLACK, 0.15);
    paper.line([x, frame.y(0.0)], [x, frame.y(rim)], &pen);
    let room = (frame.y(0.0) - frame.y(rim)) / 7.0;
    let numbered = words::ticks(0.0, top, room);
    for v in words::ticks(0.0, top, 5.0 * room) {
        let is_numbered = numbered.iter().any(|n| (n - v).abs() < 1e-6 * top);
        let y = frame.y(mm_of(v));
        paper.line([x, y], [x + way * if is_numbered { 1.8 } else { 1.0 }, y], &pen);
        if is_numbered {
            let text = decimal(v, 2);
            let text = Text::new(&text, [x + way * 2.4, y + 0.8], 2.3);
            paper.text(&if way < 0.0 { text.end() } else { text });
        }
    }
    let text = Text::new(unit.name, [x + way * 2.4, frame.y(rim) - 2.6], 2.3).colour(GREY);
    paper.text(&if way < 0.0 { text.end() } else { text });
}
