//! Gives each label a place outside the drawing, such that no two leader lines cross.
//!
//! Places stand in rows above and below the drawing and in columns beside it. Labels are matched to
//! places with a small total length of the leaders, by moving one or exchanging two as long as that
//! makes the total shorter. Of two leaders that cross, the exchange is always shorter (the triangle
//! inequality, twice), so that hardly any cross at the end; what is left is looked for and put right.

mod crossing;
mod plan;
mod ports;
mod slide;

use glam::{DVec2, dvec2};

use crate::camera::Frame;
use crossing::{cross, distance, passes};
use plan::{Plan, Room};
use ports::Edge;
use slide::slide;

/// A label that wants a place.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    /// The point that it is about, px.
    pub(crate) anchor: DVec2,
    /// Width of its text, px.
    pub(crate) width: f64,
    /// Whether the point is at the upper end of something, which a leader from below would run along.
    pub(crate) is_upper: bool,
}

/// Where a label goes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Callout {
    /// Which of the wanted.
    pub(crate) label: usize,
    /// The point that it is about.
    pub(crate) anchor: DVec2,
    /// Where its leader ends.
    pub(crate) port: DVec2,
    /// The room of its text.
    pub(crate) text: Frame,
    edge: Edge,
}

impl Callout {
    /// Whether two texts overlap, or stand so near beside each other that they would read as one.
    fn text_touches(&self, other: &Self, line: f64) -> bool {
        let beside = dvec2(0.5 * ROOM_BETWEEN * line, 0.0);
        let wide = Frame { min: self.text.min - beside, max: self.text.max + beside };
        wide.overlaps(&other.text)
    }
}

/// Room and sizes, px.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Layout {
    /// The drawing, which labels stay out of.
    pub(crate) drawing: Frame,
    /// What labels must stay in.
    pub(crate) paper: Frame,
    /// Height of a line of text with its room.
    pub(crate) line: f64,
    /// Between a leader's end and the text.
    pub(crate) gap: f64,
}

/// Leaders that come closer than this to another label's anchor look like two, px per line height.
const LEAST_CLEARANCE: f64 = 0.22;

/// Between texts in a row, line heights.
const ROOM_BETWEEN: f64 = 0.9;

/// Places labels. The earlier ones matter more: the last are left out when there is no room for them
/// or no way past the others. Leaders keep out of `blocked` where they can.
pub(crate) fn arrange(wanted: &[Wanted], layout: &Layout, blocked: &[Frame]) -> Vec<Callout> {
    // Cells narrower than the widest text bring labels nearer to their points, if the texts still fit
    // beside each other in the end.
    let tried = [0.45, 0.7, 1.0].map(|cell| arrange_in_cells(wanted, layout, blocked, cell));
    let cost = |callouts: &[Callout]| -> f64 {
        callouts.iter().map(|c| layout.cost(&wanted[c.label], c.port, c.edge, blocked)).sum()
    };
    let better = |a: &Vec<Callout>, b: &Vec<Callout>| {
        b.len().cmp(&a.len()).then(cost(a).total_cmp(&cost(b)))
    };
    tried.into_iter().min_by(better).unwrap_or_default()
}

/// Places labels in rows of cells; `cell` is the width of one, in widths of the widest text.
fn arrange_in_cells(
    wanted: &[Wanted],
    layout: &Layout,
    blocked: &[Frame],
    cell: f64,
) -> Vec<Callout> {
    let mut kept: Vec<usize> = (0..wanted.len()).collect();
    loop {
        let widest = kept.iter().map(|&i| wanted[i].width).fold(0.0, f64::max);
        let ports = layout.ports(widest, cell);
        kept.truncate(ports.len());
        let labels: Vec<Wanted> = kept.iter().map(|&i| wanted[i].clone()).collect();
        let room = Room { labels: &labels, ports: &ports, blocked, layout };
        let mut plan = Plan::shortest(room);
        match plan.settle() {
            Ok(()) => {
                let placed = kept.iter().zip(&plan.chosen).map(|(&i, &p)| (i, ports[p])).collect();
                return slide(placed, wanted, layout, blocked);
            }
            Err(label) => {
                kept.remove(label);
            }
        }
    }
}

/// Whether no two leaders or texts are in each other's way.
fn are_clear(callouts: &[Callout], line: f64) -> bool {
    let clearance = LEAST_CLEARANCE * line;
    let pairs =
        callouts.iter().enumerate().flat_map(|(i, a)| callouts[..i].iter().map(move |b| (a, b)));
    pairs.into_iter().all(|(a, b)| {
        let (leader_a, leader_b) = ([a.anchor, a.port], [b.anchor, b.port]);
        !a.text_touches(b, line)
            && !cross(leader_a, leader_b)
            && distance(a.anchor, leader_b) >= clearance
            && distance(b.anchor, leader_a) >= clearance
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn layout() -> Layout {
        Layout {
            drawing: Frame { min: dvec2(200., 100.), max: dvec2(1400., 800.) },
            paper: Frame { min: dvec2(10., 10.), max: dvec2(1590., 900.) },
            line: 30.0,
            gap: 8.0,
        }
    }

    fn check(wanted: &[Wanted]) -> usize {
        let layout = layout();
        let placed = arrange(wanted, &layout, &[]);
        for (i, a) in placed.iter().enumerate() {
            assert!(a.anchor == wanted[a.label].anchor);
            assert!(!a.text.overlaps(&layout.drawing), "{a:?} lies on the drawing");
            assert!(layout.paper.grown(1e-9).contains(&a.text), "{a:?} leaves the paper");
            for b in &placed[..i] {
                assert!(!cross([a.anchor, a.port], [b.anchor, b.port]), "{a:?} crosses {b:?}");
                assert!(!a.text.overlaps(&b.text), "{a:?} lies on {b:?}");
            }
        }
        placed.len()
    }

    #[test]
    fn leaders_to_points_in_a_row_do_not_cross() {
        let row = |n: u32, at: fn(f64) -> DVec2| {
            let wanted = |i| Wanted { anchor: at(f64::from(i)), width: 120.0, is_upper: false };
            (0..n).map(wanted).collect::<Vec<_>>()
        };
        assert!(check(&row(16, |i| dvec2(400. + 50. * i, 450.))) >= 15);
        assert_eq!(check(&row(12, |i| dvec2(800., 150. + 50. * i))), 12);
        // Nearer together than leaders can fan out: some labels have to go.
        let dense = check(&row(16, |i| dvec2(400. + 8. * i, 300. + 5. * i)));
        assert!(dense >= 6, "{dense}");
    }

    #[test]
    fn labels_of_one_point_do_not_cross_but_are_left_out() {
        let wanted = vec![Wanted { anchor: dvec2(700., 300.), width: 90.0, is_upper: false }; 3];
        assert_eq!(check(&wanted), 1);
    }

    #[test]
    fn without_room_there_are_no_labels() {
        let wanted = [Wanted { anchor: dvec2(700., 300.), width: 9000.0, is_upper: false }];
        assert_eq!(check(&wanted), 0);
    }

    #[test]
    fn a_leader_goes_around_what_is_blocked() {
        let wanted = [Wanted { anchor: dvec2(800., 150.), width: 100.0, is_upper: false }];
        let blocked = [Frame { min: dvec2(750., 105.), max: dvec2(850., 120.) }];
        let placed = arrange(&wanted, &layout(), &blocked);
        assert_eq!(placed.len(), 1);
        assert!(!passes([placed[0].anchor, placed[0].port], &blocked[0]), "{placed:?}");
    }

    #[test]
    fn leaders_to_random_points_do_not_cross() {
        // A linear congruential generator (Knuth, TAOCP 2, 3.3.4), for places that are the same always.
        let mut state = 1_u64;
        let mut random = |lo: f64, hi: f64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            lo + (hi - lo) * (state >> 40) as f64 / (1_u64 << 24) as f64
        };
        let (mut asked, mut placed) = (0, 0);
        for _ in 0..400 {
            let wanted: Vec<Wanted> = (0..16)
                .map(|_| Wanted {
                    anchor: dvec2(random(200., 1400.), random(100., 800.)),
                    width: random(40., 170.),
                    is_upper: false,
                })
                .collect();
            asked += wanted.len();
            placed += check(&wanted);
        }
        assert!(placed * 100 > asked * 97, "{placed} of {asked} labels were placed");
    }
}
