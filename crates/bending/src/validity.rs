//! Where the theory of thin plates with small deflections ends.

use crate::corner::distance;
use crate::{Along, Plate, Rect};

/// Why a result is not to be trusted as it stands.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Doubt {
    /// So thick for its span that shear adds to the deflection: more than a tenth (common practice; Roark's Formulas for
    /// Stress and Strain, 8th ed., ch. 11, allows up to a quarter).
    #[error("its thickness is {ratio:.2} of the span of {:.0} mm; the theory of thin plates reaches to 0.1", 1e3 * span)]
    Thick {
        /// Thickness over span.
        ratio: f64,
        /// Least span, m.
        span: f64,
    },
    /// A strip between an opening and an edge or another opening that is no plate but a bar: less than four thicknesses
    /// wide (our judgement).
    #[error("the strip beside opening {opening} is {:.1} mm wide; below {:.1} mm it is no plate", 1e3 * width, 1e3 * needed)]
    Bridge {
        /// Which opening, from 0.
        opening: usize,
        /// Width of the strip, m.
        width: f64,
        /// Width that it would need, m.
        needed: f64,
    },
}

/// What is doubtful of a plate before it is loaded.
pub fn doubts(plate: &Plate) -> Vec<Doubt> {
    let t = plate.thickness;
    let span = spans(plate).into_iter().fold(f64::INFINITY, f64::min);
    let ratio = t / span;
    let mut doubts = Vec::new();
    if ratio > 0.1 {
        doubts.push(Doubt::Thick { ratio, span });
    }
    let needed = 4.0 * t;
    for (opening, of) in plate.openings.iter().enumerate() {
        let Rect { x, y } = of.rect;
        let to_edges = [x[0], plate.size[0] - x[1], y[0], plate.size[1] - y[1]];
        let others =
            plate.openings[opening + 1..].iter().map(|other| distance(of.rect, other.rect));
        // What reaches an edge, or another opening, leaves no strip there.
        let width = to_edges
            .into_iter()
            .chain(others)
            .filter(|width| *width > plate.snap())
            .fold(f64::INFINITY, f64::min);
        if width < needed {
            doubts.push(Doubt::Bridge { opening, width, needed });
        }
    }
    doubts
}

/// Both sides, and the ways between neighbouring rigid lines that run side by side.
fn spans(plate: &Plate) -> Vec<f64> {
    let mut spans = plate.size.to_vec();
    for along in [Along::X, Along::Y] {
        let rigid =
            plate.lines.iter().filter(|line| line.along == along && line.support.is_rigid());
        let mut places: Vec<f64> = rigid.map(|line| line.at).collect();
        places.sort_by(f64::total_cmp);
        let ways = places.windows(2).map(|pair| pair[1] - pair[0]);
        spans.extend(ways.filter(|way| *way > plate.snap()));
    }
    spans
}
