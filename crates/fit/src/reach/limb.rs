//! What reaches in: a hand on its arm, or a tool in a hand.

use glam::{DQuat, DVec3};
use params::{Reach, Tool};

use super::obstacles::Bar;

/// Share of the length from fingertips to elbow that is the hand. Mean length of a woman's hand 176 mm (Ibeachu, Abu
/// and Didia, *Asian Journal of Medical Sciences* 3 (2011) 146) over her length from elbow to fingertip, 430 mm (British
/// women, 50th percentile; A. H. S. Chan, City University of Hong Kong, *Online anthropometry*, dimension 23).
const HAND: f64 = 176.0 / 430.0;
/// Share of the hand's length by which what is gripped lies nearer than the fingertips (the same, dimension 34).
const GRIP: f64 = 0.6;
/// Least angle in the elbow between forearm and upper arm, 38°: it bends by up to 142° from straight (common
/// textbook value, from memory).
const ELBOW_COSINE: f64 = 0.788_010_753_606_722;
/// Least angle in the fist between the handle of a tool and the arm, 60° (our judgement: a handle that is held in
/// the fist stands about square to the arm, and a wrist bends by some 30° that way).
const FIST_COSINE: f64 = 0.5;
/// Corners of the octagon around a round section.
const ROUND: u32 = 8;

/// Two straight links with a joint between them. All lengths mm.
#[derive(Clone, Debug)]
pub(crate) struct Limb {
    /// What it is called: `hand`, or the tool's name.
    pub(crate) name: String,
    /// From what touches the floor up to the joint: hand and forearm, or a tool.
    pub(crate) first: Link,
    /// From the joint to the shoulder: the upper arm, or the whole arm that holds the tool.
    pub(crate) second: Link,
    /// Half the breadth and half the thickness of the end that touches the floor.
    pub(crate) end: [f64; 2],
    /// Cosine of the least angle between the links, 1 when folded back onto each other.
    pub(crate) joint_cosine: f64,
}

/// A straight link along z from 0 to its length, as convex bars.
#[derive(Clone, Debug)]
pub(crate) struct Link {
    /// mm.
    pub(crate) length: f64,
    bars: Vec<Shaft>,
}

/// The hull of two sections, upright.
#[derive(Clone, Debug)]
struct Shaft {
    corners: Vec<DVec3>,
    /// Where its middle line begins and ends.
    spine: [DVec3; 2],
}

/// A section across a link.
#[derive(Clone, Copy, Debug)]
enum Section {
    /// Half its breadth and half its thickness.
    Flat([f64; 2]),
    /// Its radius; an octagon around it.
    Round(f64),
}

impl Limb {
    /// The bare hand: flat up to the wrist, from there thickening to the elbow, and the upper arm.
    pub(crate) fn hand(reach: &Reach) -> Self {
        let [forearm, upper] = reach.length.map(units::Length::to_mm);
        let end = reach.hand.map(|side| 0.5 * side.to_mm());
        let (wrist, arm) = (HAND * forearm, Section::Round(0.5 * reach.arm.to_mm()));
        let flat = Section::Flat(end);
        Self {
            name: "hand".to_owned(),
            first: Link::new(vec![
                Shaft::new((0.0, flat), (wrist, flat)),
                Shaft::new((wrist, flat), (forearm, arm)),
            ]),
            second: Link::new(vec![Shaft::new((0.0, arm), (upper, arm))]),
            end,
            joint_cosine: ELBOW_COSINE,
        }
    }

    /// A tool, held at its upper end by a straight arm.
    ///
    /// The tool is as broad as its head over its whole length: as such it can be slid in and out along its
    /// handle wherever it stands.
    pub(crate) fn tool(tool: &Tool, reach: &Reach) -> Self {
        let [forearm, upper] = reach.length.map(units::Length::to_mm);
        let handle = 0.5 * tool.handle.to_mm();
        let end = tool.head.map(|side| 0.5 * side.to_mm());
        let broad = Section::Flat(end.map(|half| half.max(handle)));
        let fist = Section::Round(0.5 * reach.hand[0].to_mm());
        let arm = Section::Round(0.5 * reach.arm.to_mm());
        let elbow = forearm - GRIP * HAND * forearm;
        Self {
            name: tool.name.clone(),
            first: Link::new(vec![Shaft::new((0.0, broad), (tool.length.to_mm(), broad))]),
            second: Link::new(vec![
                Shaft::new((0.0, fist), (elbow, arm)),
                Shaft::new((elbow, arm), (elbow + upper, arm)),
            ]),
            end,
            joint_cosine: FIST_COSINE,
        }
    }

    /// Length of the whole chain, stretched, mm.
    #[cfg(test)]
    pub(crate) fn length(&self) -> f64 {
        self.first.length + self.second.length
    }
}

impl Link {
    fn new(bars: Vec<Shaft>) -> Self {
        Self { length: bars.iter().fold(0.0, |most, bar| f64::max(most, bar.spine[1].z)), bars }
    }

    /// Its bars when it stands at the origin, turned.
    pub(crate) fn bars(&self, turn: DQuat) -> Vec<Bar> {
        let bar = |bar: &Shaft| {
            let corners = bar.corners.iter().map(|p| turn * *p).collect();
            Bar::new(corners, bar.spine.map(|p| turn * p), turn)
        };
        self.bars.iter().map(bar).collect()
    }

    /// Half its greatest thickness, mm.
    pub(crate) fn half(&self) -> f64 {
        self.bars.iter().flat_map(|bar| &bar.corners).fold(0.0, |most, p| f64::max(most, p.x))
    }
}

impl Shaft {
    fn new(from: (f64, Section), to: (f64, Section)) -> Self {
        let corners = [from, to].into_iter().flat_map(|(z, section)| section.corners(z)).collect();
        Self { corners, spine: [from.0, to.0].map(|z| z * DVec3::Z) }
    }
}

impl Section {
    fn corners(self, z: f64) -> Vec<DVec3> {
        match self {
            Self::Flat([x, y]) => {
                [(x, y), (-x, y), (-x, -y), (x, -y)].map(|(x, y)| DVec3::new(x, y, z)).to_vec()
            }
            Self::Round(radius) => {
                let eighth = core::f64::consts::TAU / f64::from(ROUND);
                let around = radius / libm::cos(0.5 * eighth);
                let corner = |i: u32| {
                    let angle = (f64::from(i) + 0.5) * eighth;
                    DVec3::new(around * libm::cos(angle), around * libm::sin(angle), z)
                };
                (0..ROUND).map(corner).collect()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NUREG-0700 rev. 3, table 11.4 (after MIL-STD-1472G): functional reach of the 5th percentile female, 67.7 cm from
    /// the wall behind her shoulders to the tip of her index finger.
    const FUNCTIONAL_REACH_MM: f64 = 677.0;
    /// Chan's dimension 25, shoulder-grip length of British women: 5th and 50th percentile.
    const SHOULDER_GRIP_MM: [f64; 2] = [555.0, 600.0];

    #[test]
    fn the_arm_is_as_long_as_most_womens() {
        let hand = Limb::hand(&Reach::default());
        assert!((hand.length() - FUNCTIONAL_REACH_MM).abs() < 5.0, "{}", hand.length());
    }

    #[test]
    fn an_arm_that_grips_is_as_long_as_measured() {
        let reach = Reach::default();
        let length = Limb::tool(&reach.tool[0], &reach).second.length;
        assert!(SHOULDER_GRIP_MM[0] < length && length < SHOULDER_GRIP_MM[1], "{length}");
    }

    #[test]
    fn a_round_section_lies_within_its_octagon() {
        let corners = Section::Round(10.0).corners(0.0);
        for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            let middle = 0.5 * (*a + *b);
            assert!((middle.length() - 10.0).abs() < 1e-12);
        }
    }
}
