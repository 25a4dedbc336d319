//! A clip that a pipe or hose is pressed into.

use glam::dvec2;
use plate::{Contour, Plate, Segment, Shape};

use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures, Of};
use crate::printer::Printer;

/// The kind.
pub(crate) const PIPE_CLIP: Kind = Kind {
    name: "pipe-clip",
    what_for: "holds a pipe or hose to a wall or rim",
    is_jig: false,
    advice: "it guides a pipe and keeps it from swinging; it must not carry a pipe full of water by itself",
    measures: &[
        Measure {
            name: "pipe",
            words: "outer diameter of the pipe",
            of: Of::Mm,
            least: 4.0,
            most: 75.0,
            usual: 32.0,
            source: "common practice: a drain of 32 mm",
        },
        Measure {
            name: "width",
            words: "width along the pipe",
            of: Of::Mm,
            least: 5.0,
            most: 60.0,
            usual: 15.0,
            source: "common practice",
        },
        Measure {
            name: "mouth",
            words: "angle of the circle that is open, for pressing the pipe in",
            of: Of::Degrees,
            least: 80.0,
            most: 150.0,
            usual: 110.0,
            source: "common practice: it snaps in and holds",
        },
    ],
    make: pipe_clip,
};

/// Thickness of its wall for its diameter: stiff enough to hold, soft enough to open; common practice.
const WALL_SHARE: f64 = 0.09;
/// Least thickness of its wall, mm; common practice.
const LEAST_WALL_MM: f64 = 1.6;
/// Thickness and width of the foot that is glued, mm; common practice.
const FOOT_MM: f64 = 3.0;

/// An open ring on a flat foot, printed on its side: lines run around the ring, which so bends without splitting.
fn pipe_clip(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let inner = 0.5 * m.get("pipe") + printer.clearance_mm;
    let wall = printer.wall_mm((WALL_SHARE * m.get("pipe")).max(LEAST_WALL_MM));
    let outer = inner + wall;
    let half_mouth = 0.5 * m.get("mouth").to_radians();
    let up = std::f64::consts::FRAC_PI_2;
    let (from, to) = (up + half_mouth, up - half_mouth + std::f64::consts::TAU);
    let point = |r: f64, angle: f64| dvec2(r * libm::cos(angle), r * libm::sin(angle));
    // The foot is as wide as the ring's inside; its top meets the ring from below.
    let (half_foot, base) = (inner, -outer - printer.wall_mm(FOOT_MM));
    let meet = |side: f64| {
        let x = side * half_foot;
        dvec2(x, -(outer * outer - x * x).sqrt())
    };
    let (left, right) = (meet(-1.0), meet(1.0));
    let angle = |p: glam::DVec2| libm::atan2(p.y, p.x).rem_euclid(std::f64::consts::TAU);
    let outline = Contour(vec![
        Segment::arc(glam::DVec2::ZERO, point(outer, from), angle(left) - from),
        Segment::line(left, dvec2(left.x, base)),
        Segment::line(dvec2(left.x, base), dvec2(right.x, base)),
        Segment::line(dvec2(right.x, base), right),
        Segment::arc(glam::DVec2::ZERO, right, to - angle(right)),
        Segment::line(point(outer, to), point(inner, to)),
        Segment::arc(glam::DVec2::ZERO, point(inner, to), from - to),
        Segment::line(point(inner, from), point(outer, from)),
    ]);
    let plate = Plate::new(outline, printer.height_mm(m.get("width")));
    Fitting::new(Shape::Sheet(plate), "on its side")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, outline, volume_mm3};
    use std::f64::consts::PI;

    #[test]
    fn volume_is_an_open_ring_on_a_foot() {
        // A pipe of 32: inside 16.25, wall 9 % in whole lines 3.2; a mouth of 110° leaves 250° of the ring.
        let clip = PIPE_CLIP.made([], &FLAT).expect("a clip");
        let (inner, outer): (f64, f64) = (16.25, 19.45);
        let ring = 250.0 / 360.0 * PI * (outer * outer - inner * inner);
        // The foot: a rectangle down from the middle's height, less the half disc's part above it.
        let (x, base) = (inner, outer + 3.2);
        let under = x * (outer * outer - x * x).sqrt() + outer * outer * (x / outer).asin();
        is_close(volume_mm3(&clip), (ring + 2.0 * x * base - under) * 15.0);
    }

    #[test]
    fn the_pipe_snaps_in_and_stays() {
        for pipe in [16.0, 25.0, 32.0, 50.0] {
            let clip = PIPE_CLIP.made([("pipe", pipe)], &FLAT).expect("a clip");
            let radii: Vec<f64> = outline(&clip).0.iter().filter_map(Segment::radius).collect();
            let inner = radii.iter().copied().fold(f64::INFINITY, f64::min);
            is_close(2.0 * inner, pipe + 2.0 * FLAT.clearance_mm);
            // The mouth's chord at 110° is 0.82 of the diameter: less than the pipe, so it holds.
            let mouth = 2.0 * inner * (55.0_f64).to_radians().sin();
            assert!(mouth < 0.9 * pipe && mouth > 0.7 * pipe);
        }
    }
}
