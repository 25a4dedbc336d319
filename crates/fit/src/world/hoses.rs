//! Hoses of drains as columns of room that had better be left free.
//!
//! A hose is soft: it stops nothing, but whoever carries something through where it hangs must bend it aside. How far it
//! hangs from straight is not in the file.

use std::f64::consts::PI;

use design::{Design, HoseAbove};
use glam::DVec3;

use super::{ThingId, World};
use crate::convex::Convex;

/// Sides of the prism around a hose. It is 1/cos(180°/12) = 1.035 times as wide as the hose at its corners: of one 40 mm
/// wide 0.7 mm on each side, less than a hose hangs out of straight (our judgement).
const SIDES: u32 = 12;

/// The room that one hose takes.
#[derive(Clone, Debug)]
pub(crate) struct Hose {
    /// The drain pipe that it hangs on: it goes with it.
    pub(crate) drain: ThingId,
    /// The prism around it.
    pub(crate) column: Convex,
}

/// All hoses on drain pipes that are among the things.
pub(crate) fn hoses(world: &World, design: &Design) -> Vec<Hose> {
    let all = design.surroundings.iter().flat_map(|around| &around.hoses);
    let hose = |hose: &HoseAbove| {
        let drain = world.things.iter().position(|thing| thing.name == hose.drain)?;
        Some(Hose { drain, column: column(hose) })
    };
    all.filter_map(hose).collect()
}

/// Its sides touch the hose.
fn column(hose: &HoseAbove) -> Convex {
    let step = PI / f64::from(SIDES);
    let radius = 0.5 * hose.diameter_mm / libm::cos(step);
    let corner = |k: u32| {
        let angle = 2.0 * step * f64::from(k);
        hose.middle.extend(0.0) + radius * DVec3::new(libm::cos(angle), libm::sin(angle), 0.0)
    };
    Convex::prism((0..SIDES).map(corner), hose.z)
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;

    #[test]
    fn a_column_holds_its_hose_and_little_more() {
        let (middle, z) = (dvec2(100.0, 50.0), [300.0, 700.0]);
        let (drain, parameter) = (String::new(), String::new());
        let column = column(&HoseAbove { drain, parameter, middle, diameter_mm: 40.0, z });
        assert_eq!(column.points.len(), 24);
        for p in &column.points {
            assert!(p.truncate().distance(middle) < 20.8, "{p}");
        }
        // Along whichever direction, it reaches as far as the round does.
        for k in 0..360 {
            let angle = f64::from(k).to_radians();
            let along = dvec2(libm::cos(angle), libm::sin(angle));
            let reach = column.points.iter().map(|p| (p.truncate() - middle).dot(along));
            assert!(reach.fold(0.0, f64::max) >= 20.0 - 1e-9, "{k}");
        }
        assert!((column.min.z - z[0]).abs() < 1e-9 && (column.max.z - z[1]).abs() < 1e-9);
    }
}
