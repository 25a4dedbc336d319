//! A clip that a pipe or hose is pressed into.

use glam::dvec2;
use plate::{Contour, Plate, Segment, Shape};

use crate::error::Error;
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Follows, Holds, Side, Stand};
use crate::strain::BentArc;

/// The kind.
pub(crate) const PIPE_CLIP: Kind = Kind {
    name: "pipe-clip",
    what_for: "is glued to a wall by its foot; a pipe or hose is pressed into it",
    is_jig: false,
    stand: Stand::glued(Side::Foot, Side::Top).holding(Holds::Upright),
    in_pieces: None,
    advice: "glue the foot before the pipe is in; no screws through a wall that holds water. It guides a pipe and keeps it from swinging; it must not carry a pipe full of water by itself",
    measures: &[
        Measure::mm(
            "pipe",
            "outer diameter of the pipe",
            [4.0, 32.0, 75.0],
            "common practice: a drain of 32 mm",
        )
        .follows(Follows::Pipe),
        Measure::mm("width", "width along the pipe", [5.0, 15.0, 60.0], PRACTICE),
        Measure::degrees(
            "mouth",
            "angle of the circle that is open, for pressing the pipe in",
            [95.0, 120.0, 150.0],
            "common practice: it snaps in and holds",
        ),
    ],
    make: pipe_clip,
};

/// Thickness of its wall for its diameter, where the filament lets so thick arms bend; common practice.
const WALL_SHARE: f64 = 0.09;
/// Thickness that it has otherwise, mm, if the filament lets it; common practice.
const USUAL_WALL_MM: f64 = 1.6;
/// Share of what the filament stands that arms are strained by: pipes are larger than their names, and arms shorter than in
/// theory. Our judgement.
const MARGIN: f64 = 0.8;
/// Thickness of the foot that is glued, mm; common practice.
const FOOT_MM: f64 = 3.0;

/// An open ring on a flat foot, printed on its side: lines run around the ring, which so bends without splitting.
fn pipe_clip(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let inner = 0.5 * m.get("pipe") + printer.clearance_mm;
    let half_mouth = 0.5 * m.get("mouth").to_radians();
    let wall = wall_mm(m, printer)?;
    let outer = inner + wall;
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
    Fitting::new(Shape::Sheet(plate), "on its side", printer)
}

/// Thickness of the ring: the greatest of whole lines that the filament stands when the pipe is pressed in.
///
/// # Errors
/// [`Error::Strain`] if two lines are too much.
fn wall_mm(m: &Measures, printer: &Printer) -> Result<f64, Error> {
    let most = MARGIN * printer.filament.strain_in_pressing();
    let mut wall = printer.wall_mm((WALL_SHARE * m.get("pipe")).max(USUAL_WALL_MM));
    while strain(m, wall, printer) > most {
        wall -= printer.nozzle_mm;
        if wall < printer.least_wall_mm() - 1e-9 {
            return Err(Error::Strain {
                what: "arms, when the `pipe` is pressed in,",
                measure: Some("mouth"),
                percent: 100.0 * strain(m, printer.least_wall_mm(), printer),
                filament: printer.filament.name(),
                most_percent: 100.0 * most,
                how_long: "for a moment, with a margin",
                remedy: "open the `mouth` wider, or print it with a finer nozzle",
            });
        }
    }
    Ok(wall)
}

/// How far each arm is strained when the mouth is as wide as the pipe; the foot holds the ring up to its own width.
fn strain(m: &Measures, wall: f64, printer: &Printer) -> f64 {
    let radius = 0.5 * m.get("pipe");
    let inner = radius + printer.clearance_mm;
    let tip = 0.5 * m.get("mouth").to_radians();
    let root = std::f64::consts::PI - libm::asin(inner / (inner + wall));
    let arm = BentArc { radius_mm: inner + 0.5 * wall, thickness_mm: wall, tip, root };
    arm.strain((radius - inner * libm::sin(tip)).max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{FLAT, is_close, outline, volume_mm3};
    use std::f64::consts::PI;

    #[test]
    fn volume_is_an_open_ring_on_a_foot() {
        // A pipe of 32: inside 16.25, wall 2.4, the most of whole lines that PETG stands; a mouth of 120° leaves 240° of the ring.
        let clip = PIPE_CLIP.made([], &FLAT).expect("a clip");
        let (inner, outer): (f64, f64) = (16.25, 18.65);
        let ring = 240.0 / 360.0 * PI * (outer * outer - inner * inner);
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
            // The mouth's chord at 120° is 0.87 of the diameter: less than the pipe, so it holds.
            let mouth = 2.0 * inner * (60.0_f64).to_radians().sin();
            assert!(mouth < 0.9 * pipe && mouth > 0.7 * pipe);
        }
    }

    #[test]
    fn arms_are_as_thick_as_the_filament_stands_and_a_mouth_too_narrow_is_refused_by_name() {
        use crate::Filament;
        for filament in Filament::ALL {
            let printer = Printer { filament, ..FLAT };
            for pipe in [20.0, 32.0, 50.0, 75.0] {
                let measures = Measures::of(&PIPE_CLIP, [("pipe", pipe)]).expect("in range");
                let wall = wall_mm(&measures, &printer).expect("a wall");
                let most = 0.8 * filament.strain_in_pressing();
                assert!(strain(&measures, wall, &printer) <= most, "{filament:?} {pipe}");
                let thicker = wall + FLAT.nozzle_mm;
                let is_full = wall >= (0.09 * pipe).max(1.6) - 1e-9;
                assert!(is_full || strain(&measures, thicker, &printer) > most);
            }
        }
        let coarse = Printer { nozzle_mm: 0.8, ..FLAT };
        let refusal =
            PIPE_CLIP.made([("pipe", 8.0), ("mouth", 95.0)], &coarse).expect_err("too stiff");
        let words = refusal.to_string();
        assert!(
            words.contains("PETG stands 2.4 % for a moment, with a margin; open the `mouth` wider"),
            "{words}"
        );
        let refusal = PIPE_CLIP.made([("mouth", 151.0)], &FLAT).expect_err("too wide").to_string();
        assert_eq!(refusal, "`mouth` is 151°; it goes from 95° to 150°");
    }

    #[test]
    fn the_pipe_meets_the_same_circle_and_mouth_by_any_nozzle() {
        for nozzle_mm in [0.25, 0.4, 0.6, 0.8] {
            let clip = PIPE_CLIP.made([], &Printer { nozzle_mm, ..FLAT }).expect("a clip");
            let radii = outline(&clip).0.iter().filter_map(Segment::radius);
            is_close(radii.fold(f64::INFINITY, f64::min), 16.25);
        }
    }
}
