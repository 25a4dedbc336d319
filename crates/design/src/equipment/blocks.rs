//! Parts as upright blocks, by which a free place is searched: rectangles and discs, seen from above,
//! between two heights. They are never smaller than the part.

use glam::{DAffine3, DVec2, DVec3};
use plate::{Arrangement, Plate, Shape, Tolerance, Turned, arrange};

use crate::frame::bounds;
use crate::slice::{Body, rings_at, steps};

/// A rectangle with all that is no farther from it than a radius, between two heights. A disc is a
/// rectangle of no size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Block {
    pub(super) core: [DVec2; 2],
    pub(super) radius_mm: f64,
    pub(super) z: [f64; 2],
}

impl Block {
    pub(super) fn of_box([lo, hi]: [DVec3; 2]) -> Self {
        Self { core: [lo.truncate(), hi.truncate()], radius_mm: 0.0, z: [lo.z, hi.z] }
    }

    /// Its outline, seen from above.
    pub(super) fn plan(&self) -> [DVec2; 2] {
        [self.core[0] - self.radius_mm, self.core[1] + self.radius_mm]
    }
}

/// The form of a part that stands along the sump's axes.
///
/// Upright round bodies are discs, solid within; lying ones and sheets on edge the boxes around them; a
/// sheet that lies flat is cut into strips, so that its openings stay open.
pub(super) fn blocks(shape: &Shape, pose: &DAffine3) -> Vec<Block> {
    let is_flat = pose.matrix3.z_axis.z.abs() > 0.5;
    let around = bounds(shape, pose);
    match shape {
        Shape::Turned(turned) if is_flat => discs(turned, pose),
        Shape::Sheet(plate) if is_flat && !plate.cuts.is_empty() => strips(plate, pose, around),
        _ => vec![Block::of_box(around)],
    }
}

fn discs(turned: &Turned, pose: &DAffine3) -> Vec<Block> {
    let middle = pose.translation.truncate();
    let disc = |[low, high]: [f64; 2]| {
        // Between two steps sides are straight, so that the widest place is at one of the ends.
        let inset = END_SHARE * (high - low);
        let radius = |z: f64| rings_at(turned, z).last().map_or(0.0, |ring| ring[1]);
        let radius_mm = radius(low + inset).max(radius(high - inset));
        let ends = [low, high].map(|z| pose.transform_point3(z * DVec3::Z).z);
        Block { core: [middle; 2], radius_mm, z: [ends[0].min(ends[1]), ends[0].max(ends[1])] }
    };
    steps(turned).into_iter().map(disc).collect()
}

/// So far from the ends of a step its rings are read, over its height.
const END_SHARE: f64 = 1e-9;
/// A stretch of a sheet in which its edges run aslant or round is cut into strips this wide, mm, but no
/// more than so many.
const STRIP_MM: f64 = 2.0;
const MOST_STRIPS: u32 = 32;

/// A flat sheet in strips across x. A sheet that cannot be arranged is taken as the box around it: that
/// is told elsewhere.
fn strips(plate: &Plate, pose: &DAffine3, around: [DVec3; 2]) -> Vec<Block> {
    let Ok(arrangement) = arrange(plate, &Tolerance::default()) else {
        return vec![Block::of_box(around)];
    };
    strips_of(&arrangement, pose, around)
}

fn strips_of(arrangement: &Arrangement, pose: &DAffine3, around: [DVec3; 2]) -> Vec<Block> {
    let body = Body::of_sheet(arrangement, pose);
    let mut breaks = body.breaks(0, around);
    // Round edges turn back where they run along x.
    let arcs = arrangement.edges.iter().filter_map(|edge| arrangement.segment(edge).arc);
    breaks.extend(arcs.map(|arc| pose.transform_point3(arc.centre.extend(0.0)).x));
    breaks.retain(|x| (around[0].x..=around[1].x).contains(x));
    breaks.sort_by(f64::total_cmp);
    let stretches = breaks.windows(2).filter(|w| w[1] - w[0] > LEAST_STRIP_MM);
    stretches.flat_map(|w| stretch(&body, [w[0], w[1]])).collect()
}

/// Narrower strips are rounding.
const LEAST_STRIP_MM: f64 = 1e-6;

/// Strips of a stretch within which the sheet's edges rise or fall but never turn back: what is material
/// somewhere in a strip lies between what is material at its two ends.
fn stretch(body: &Body<'_>, [from, to]: [f64; 2]) -> Vec<Block> {
    let inset = END_SHARE * (to - from);
    let slice = |x: f64| {
        let mut rectangles = body.slice(0, x.clamp(from + inset, to - inset));
        rectangles.sort_by(|a, b| a[0][0].total_cmp(&b[0][0]).then(a[1][0].total_cmp(&b[1][0])));
        rectangles
    };
    let is_straight = {
        let (a, c) = (slice(from), slice(to));
        a.len() == c.len()
            && a.iter().zip(&c).all(|(a, c)| {
                (a[0][0] - c[0][0]).abs().max((a[0][1] - c[0][1]).abs()) < LEAST_STRIP_MM
            })
    };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a length over two millimetres, cut off at few"
    )]
    let wanted = ((to - from) / STRIP_MM).ceil().min(f64::from(MOST_STRIPS)) as u32;
    let count = if is_straight { 1 } else { wanted.max(1) };
    let at = |i: u32| from + (to - from) * f64::from(i) / f64::from(count);
    let mut blocks = Vec::new();
    for i in 0..count {
        let (x, next) = (at(i), at(i + 1));
        let (a, c) = (slice(x), slice(next));
        // Both show the same rectangles, unless one is a graze of rounding: then all count.
        let hulls: Vec<[[f64; 2]; 2]> = if a.len() == c.len() {
            let hull = |p: [f64; 2], q: [f64; 2]| [p[0].min(q[0]), p[1].max(q[1])];
            a.iter().zip(&c).map(|(a, c)| [hull(a[0], c[0]), hull(a[1], c[1])]).collect()
        } else {
            [a, c].concat()
        };
        blocks.extend(hulls.into_iter().map(|[y, z]| Block {
            core: [DVec2::new(x, y[0]), DVec2::new(next, y[1])],
            radius_mm: 0.0,
            z,
        }));
    }
    blocks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::pose;
    use glam::dvec2;
    use plate::{Contour, Cut};

    fn holds(block: &Block, p: DVec3) -> bool {
        let q = p.truncate();
        let nearest = q.clamp(block.core[0], block.core[1]);
        q.distance(nearest) <= block.radius_mm + 1e-6
            && (block.z[0] - 1e-9..=block.z[1] + 1e-9).contains(&p.z)
    }

    /// A frame with round inner corners and a round hole: every point of it is in a block, and the
    /// blocks are hardly larger.
    #[test]
    fn strips_cover_a_sheet_and_leave_its_openings_open() {
        let mut frame = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(200.0, 120.0)), 8.0);
        let opening = Contour::rounded_rectangle(dvec2(30.0, 30.0), dvec2(150.0, 90.0), 20.0);
        frame.cuts.push(Cut::through(opening.clone()));
        let hole = Contour::circle(dvec2(175.0, 60.0), 11.0);
        frame.cuts.push(Cut::through(hole.clone()));
        for (x, y) in [(DVec3::X, DVec3::Y), (DVec3::X, -DVec3::Y), (DVec3::Y, -DVec3::X)] {
            let pose = pose(x, y, DVec3::new(300.0, 300.0, 50.0));
            let found = blocks(&Shape::Sheet(frame.clone()), &pose);
            let mut area = 0.0;
            for block in &found {
                let size = block.core[1] - block.core[0];
                area += size.x * size.y;
            }
            let exact = 200.0 * 120.0 - opening.signed_area().abs() - hole.signed_area().abs();
            assert!(area >= exact - 1e-6 && area < 1.02 * exact, "{area}, not {exact}");
            for i in 0..200_u32 {
                for j in 0..120_u32 {
                    let p = dvec2(f64::from(i) + 0.37, f64::from(j) + 0.41);
                    let is_open = opening.winding(p) != 0 || hole.winding(p) != 0;
                    let sump = pose.transform_point3(p.extend(4.0));
                    assert!(is_open || found.iter().any(|b| holds(b, sump)), "{p} is not covered");
                }
            }
            let middle = pose.transform_point3(dvec2(90.0, 60.0).extend(4.0));
            assert!(!found.iter().any(|b| holds(b, middle)), "the opening is closed");
        }
    }

    #[test]
    fn an_upright_cone_is_covered_by_discs_and_a_lying_rod_by_its_box() {
        let cone = Turned {
            profile: vec![dvec2(0.0, 0.0), dvec2(10.0, 0.0), dvec2(20.0, 40.0), dvec2(0.0, 40.0)],
        };
        let upright = pose(DVec3::X, DVec3::Y, DVec3::new(50.0, 60.0, 5.0));
        let discs = blocks(&Shape::Turned(cone), &upright);
        for z in 0..=40_u32 {
            let z = f64::from(z);
            let p = DVec3::new(50.0 + 10.0 + 0.25 * z, 60.0, 5.0 + z);
            assert!(discs.iter().any(|b| holds(b, p)), "{p} is not covered");
        }
        let rod = Shape::Turned(Turned::cylinder(6.0, 30.0));
        let [block] = blocks(&rod, &pose(DVec3::Y, DVec3::Z, DVec3::new(50.0, 60.0, 70.0)))[..]
        else {
            panic!("one block")
        };
        assert_eq!(block.plan(), [dvec2(50.0, 57.0), dvec2(80.0, 63.0)]);
        assert_eq!(block.z.map(f64::to_bits), [67.0_f64, 73.0].map(f64::to_bits));
    }
}
