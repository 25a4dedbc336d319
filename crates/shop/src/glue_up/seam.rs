//! Where a joint runs: the strip that is bonded, and the two seams along it that solvent can be fed into.

use glam::{DVec3, dvec3};

use super::block::{Block, TOUCH_MM};

/// Seams are looked at in places this far apart, mm; our judgement: thin solvent runs further by itself.
pub const APART_MM: f64 = 25.0;
/// Where a seam ends in a corner, its last place lies so far from it, mm; our judgement, as above.
const FROM_END_MM: f64 = 15.0;
/// The tip of the needle is held so far off both faces, mm.
const TIP_MM: f64 = 1.0;

/// The strip where two parts are bonded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Patch {
    /// From the first part of the joint to the second, a unit vector along an axis.
    pub(super) out: DVec3,
    /// Along the strip, a unit vector along an axis.
    pub(super) along: DVec3,
    /// Its width across, mm.
    pub(super) width_mm: f64,
    /// Along its two long sides.
    pub(super) seams: [Seam; 2],
}

/// One long side of the strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Seam {
    /// Its ends, mm.
    pub(super) ends: [DVec3; 2],
    /// Out of the strip, across it, a unit vector.
    pub(super) side: DVec3,
    /// Out of the face that goes on beyond the seam: away from the second part where that goes on, away from the
    /// first where that does; `None` where neither does, and the seam lies open.
    pub(super) face: Option<DVec3>,
}

impl Patch {
    /// The strip of a joint between two parts that touch or go into each other a little.
    pub(super) fn of(a: &Block, b: &Block) -> Option<Self> {
        let shared = a.shared(b);
        let size = shared.size();
        let axes = [DVec3::X, DVec3::Y, DVec3::Z];
        // They meet where they share the least: nothing, or the depth of a groove.
        let across_joint = (0..3).min_by(|&i, &j| size[i].total_cmp(&size[j]))?;
        let [i, j] = match across_joint {
            0 => [1, 2],
            1 => [0, 2],
            _ => [0, 1],
        };
        let [long, short] = if size[i] >= size[j] { [i, j] } else { [j, i] };
        if size[short] <= TOUCH_MM || size[across_joint] < -1.0 {
            return None;
        }
        let towards = (b.middle() - a.middle())[across_joint].signum();
        let out = axes[across_joint] * towards;
        let seam = |sign: f64| {
            let side = axes[short] * sign;
            let at = shared.reach(side);
            let goes_on = |block: &Block| block.reach(side) > at + TIP_MM;
            let (level, face) = match (goes_on(a), goes_on(b)) {
                (_, true) => (-b.reach(-out), Some(-out)),
                (true, false) => (a.reach(out), Some(out)),
                (false, false) => (0.5 * (a.reach(out) - b.reach(-out)), None),
            };
            let end = |along: f64| {
                let mut p = dvec3(0.0, 0.0, 0.0);
                p[long] = along;
                p[short] = at * sign;
                p[across_joint] = level * towards;
                p
            };
            Seam { ends: [end(shared.lo[long]), end(shared.hi[long])], side, face }
        };
        Some(Self { out, along: axes[long], width_mm: size[short], seams: [seam(1.0), seam(-1.0)] })
    }
}

impl Seam {
    /// Where the tip of a needle is held, all along the seam.
    pub(super) fn places(&self) -> impl Iterator<Item = DVec3> + use<> {
        let [from, to] = self.ends;
        let length = from.distance(to);
        let inset = FROM_END_MM.min(0.25 * length);
        let way = (to - from) / length.max(TIP_MM);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a length of at most some metres in pieces of centimetres"
        )]
        let pieces = ((length - 2.0 * inset) / APART_MM).ceil().max(1.0) as u32;
        let first = from + way * inset + TIP_MM * (self.side + self.face.unwrap_or(DVec3::ZERO));
        let step = way * (length - 2.0 * inset) / f64::from(pieces);
        (0..=pieces).map(move |k| first + step * f64::from(k))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block(lo: [f64; 3], hi: [f64; 3]) -> Block {
        Block { lo: lo.into(), hi: hi.into() }
    }

    #[test]
    fn a_wall_on_a_bottom_has_a_seam_inside_and_one_outside() {
        let wall = block([0.0, 0.0, 8.0], [500.0, 8.0, 300.0]);
        let bottom = block([0.0, 0.0, 0.0], [500.0, 300.0, 8.0]);
        let patch = Patch::of(&wall, &bottom).unwrap();
        assert_eq!((patch.out, patch.along), (-DVec3::Z, DVec3::X));
        assert!((patch.width_mm - 8.0).abs() < 1e-12);
        let [inside, outside] = patch.seams;
        assert_eq!((inside.side, inside.face), (DVec3::Y, Some(DVec3::Z)));
        assert_eq!(inside.ends, [dvec3(0.0, 8.0, 8.0), dvec3(500.0, 8.0, 8.0)]);
        assert_eq!((outside.side, outside.face), (-DVec3::Y, None));
        assert_eq!(outside.ends[0], dvec3(0.0, 0.0, 8.0));
    }

    #[test]
    fn the_seam_of_a_groove_lies_at_the_face_that_it_is_cut_into() {
        let leaf = block([100.0, 5.0, 8.0], [106.0, 200.0, 250.0]);
        let wall = block([0.0, 0.0, 8.0], [500.0, 8.0, 300.0]);
        let patch = Patch::of(&leaf, &wall).unwrap();
        assert_eq!((patch.out, patch.along), (-DVec3::Y, DVec3::Z));
        let is_at_face = |s: &Seam| (s.ends[0].y - 8.0).abs() < 1e-9 && s.face == Some(DVec3::Y);
        assert!(patch.seams.iter().all(is_at_face));
    }

    #[test]
    fn under_a_rim_the_seam_is_fed_from_below() {
        let rim = block([0.0, 0.0, 300.0], [500.0, 300.0, 308.0]);
        let wall = block([0.0, 0.0, 8.0], [500.0, 8.0, 300.0]);
        let patch = Patch::of(&rim, &wall).unwrap();
        assert_eq!(patch.seams[0].face, Some(-DVec3::Z));
        assert!((patch.seams[0].ends[0].z - 300.0).abs() < 1e-9);
        assert_eq!(patch.seams[1].face, None);
    }

    #[test]
    fn parts_far_apart_have_none() {
        let a = block([0.0; 3], [10.0; 3]);
        let b = block([20.0; 3], [30.0; 3]);
        assert!(Patch::of(&a, &b).is_none());
    }
}
