//! Gives each label a place outside the drawing, such that no two leader lines cross.
//!
//! Places stand in rows above and below the drawing and in columns beside it. Labels are matched to
//! places with a small total length of the leaders, by moving one or exchanging two as long as that
//! makes the total shorter. Of two leaders that cross, the exchange is always shorter (the triangle
//! inequality, twice), so that at the end none cross.

use glam::{DVec2, dvec2};

use crate::camera::Frame;

/// A label that wants a place.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    /// The point that it is about, px.
    pub(crate) anchor: DVec2,
    /// Width of its text, px.
    pub(crate) width: f64,
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

/// Places labels. The earlier ones matter more: the last are left out when there is no room for them
/// or no way past the others.
pub(crate) fn arrange(wanted: &[Wanted], layout: &Layout) -> Vec<Callout> {
    let mut kept: Vec<usize> = (0..wanted.len()).collect();
    loop {
        let widest = kept.iter().map(|&i| wanted[i].width).fold(0.0, f64::max);
        let ports = layout.ports(widest);
        kept.truncate(ports.len());
        let labels: Vec<Wanted> = kept.iter().map(|&i| wanted[i].clone()).collect();
        let mut plan = Plan::shortest(&labels, &ports, LEAST_CLEARANCE * layout.line);
        match plan.settle() {
            Ok(()) => {
                let placed = kept.iter().zip(&plan.chosen);
                return placed.map(|(&i, &p)| ports[p].callout(i, &wanted[i], layout)).collect();
            }
            Err(label) => {
                kept.remove(label);
            }
        }
    }
}

/// Which way the text stands off the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Edge {
    Left,
    Right,
    Above,
    Below,
}

#[derive(Clone, Copy, Debug)]
struct Port {
    at: DVec2,
    edge: Edge,
}

impl Layout {
    /// All places for texts up to a width, such that no two texts touch.
    fn ports(&self, widest: f64) -> Vec<Port> {
        let mut ports = Vec::new();
        let (drawing, paper) = (self.drawing, self.paper);
        let side_room = widest + self.gap;
        for (edge, x, room) in [
            (Edge::Left, drawing.min.x, drawing.min.x - paper.min.x),
            (Edge::Right, drawing.max.x, paper.max.x - drawing.max.x),
        ] {
            let height = drawing.max.y - drawing.min.y;
            if side_room <= room {
                ports.extend(spread(height, self.line).map(|y| Port {
                    at: dvec2(x, drawing.min.y + y),
                    edge,
                }));
            }
        }
        let (left, right) = (paper.min.x, paper.max.x);
        for (edge, y, room) in [
            (Edge::Above, drawing.min.y, drawing.min.y - paper.min.y),
            (Edge::Below, drawing.max.y, paper.max.y - drawing.max.y),
        ] {
            if self.line + self.gap <= room {
                ports.extend(spread(right - left, widest + self.line).map(|x| Port {
                    at: dvec2(left + x, y),
                    edge,
                }));
            }
        }
        ports
    }
}

/// Middles of as many cells of the given size as fit into a length, spread evenly.
fn spread(length: f64, cell: f64) -> impl Iterator<Item = f64> {
    let count = (length / cell).floor().max(0.0);
    let step = length / count.max(1.0);
    (0..).map(f64::from).take_while(move |i| *i < count).map(move |i| (i + 0.5) * step)
}

impl Port {
    fn callout(&self, label: usize, wanted: &Wanted, layout: &Layout) -> Callout {
        let half = 0.5 * layout.line;
        let min = match self.edge {
            Edge::Left => self.at - dvec2(layout.gap + wanted.width, half),
            Edge::Right => self.at + dvec2(layout.gap, -half),
            Edge::Above => self.at - dvec2(0.5 * wanted.width, layout.gap + layout.line),
            Edge::Below => self.at + dvec2(-0.5 * wanted.width, layout.gap),
        };
        let text = Frame { min, max: min + dvec2(wanted.width, layout.line) };
        Callout { label, anchor: wanted.anchor, port: self.at, text }
    }
}

/// Which label goes to which place.
struct Plan<'a> {
    labels: &'a [Wanted],
    ports: &'a [Port],
    /// Index of the place of each label.
    chosen: Vec<usize>,
    free: Vec<bool>,
    /// Leaders keep this far from the anchors of other labels, px.
    clearance: f64,
}

impl<'a> Plan<'a> {
    /// Each label takes the nearest free place; then everything that makes the leaders shorter.
    fn shortest(labels: &'a [Wanted], ports: &'a [Port], clearance: f64) -> Self {
        let free = vec![true; ports.len()];
        let mut plan = Self { labels, ports, chosen: Vec::new(), free, clearance };
        for label in 0..labels.len() {
            let nearest = (0..ports.len())
                .filter(|&p| plan.free[p])
                .min_by(|&a, &b| plan.length(label, a).total_cmp(&plan.length(label, b)));
            let nearest = nearest.expect("there are as many places as labels");
            plan.free[nearest] = false;
            plan.chosen.push(nearest);
        }
        while plan.improve() {}
        plan
    }

    fn length(&self, label: usize, port: usize) -> f64 {
        self.labels[label].anchor.distance(self.ports[port].at)
    }

    /// Shortens the leaders by moving single labels and exchanging pairs; whether anything changed.
    fn improve(&mut self) -> bool {
        // Each step shortens the total by more than rounding, so that this comes to an end.
        const LEAST_GAIN_PX: f64 = 1e-6;
        let mut improved = false;
        for a in 0..self.labels.len() {
            for port in 0..self.ports.len() {
                let gain = self.length(a, self.chosen[a]) - self.length(a, port);
                if self.free[port] && gain > LEAST_GAIN_PX {
                    self.send(a, port);
                    improved = true;
                }
            }
            for b in 0..a {
                let [p, q] = [self.chosen[a], self.chosen[b]];
                let now = self.length(a, p) + self.length(b, q);
                let then = self.length(a, q) + self.length(b, p);
                if now - then > LEAST_GAIN_PX {
                    self.chosen.swap(a, b);
                    improved = true;
                }
            }
        }
        improved
    }

    fn send(&mut self, label: usize, port: usize) {
        self.free[self.chosen[label]] = true;
        self.free[port] = false;
        self.chosen[label] = port;
    }

    /// Finds other places where a leader runs over another's anchor, or crosses it because points lie
    /// in a row. An error is the label that has to go.
    fn settle(&mut self) -> Result<(), usize> {
        let mut moves = 4 * self.labels.len();
        while let Some([a, b]) = self.conflict() {
            let other = [b, a].into_iter().find_map(|label| Some((label, self.way_out(label)?)));
            match other {
                Some((label, port)) if moves > 0 => self.send(label, port),
                _ => return Err(b),
            }
            moves -= 1;
        }
        Ok(())
    }

    /// A pair of labels, the more important first, that get in each other's way.
    fn conflict(&self) -> Option<[usize; 2]> {
        let pairs = (1..self.labels.len()).rev().flat_map(|b| (0..b).map(move |a| [a, b]));
        pairs.into_iter().find(|&[a, b]| self.collide((a, self.chosen[a]), (b, self.chosen[b])))
    }

    /// The free place with the shortest leader that is in nobody's way.
    fn way_out(&self, label: usize) -> Option<usize> {
        let others = |port: usize| {
            let mut others = (0..self.labels.len()).filter(|&o| o != label);
            others.all(|o| !self.collide((o, self.chosen[o]), (label, port)))
        };
        (0..self.ports.len())
            .filter(|&port| self.free[port] && others(port))
            .min_by(|&a, &b| self.length(label, a).total_cmp(&self.length(label, b)))
    }

    fn collide(&self, (a, port_a): (usize, usize), (b, port_b): (usize, usize)) -> bool {
        let (p, q) = (self.labels[a].anchor, self.labels[b].anchor);
        let (leader_a, leader_b) = ([p, self.ports[port_a].at], [q, self.ports[port_b].at]);
        distance(p, leader_b) < self.clearance
            || distance(q, leader_a) < self.clearance
            || cross(leader_a, leader_b)
    }
}

/// Whether two segments have a point in common.
pub(crate) fn cross([a, b]: [DVec2; 2], [c, d]: [DVec2; 2]) -> bool {
    let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
    let apart = |u: f64, v: f64| (u > 0.0 && v > 0.0) || (u < 0.0 && v < 0.0);
    let boxes = Frame { min: a.min(b), max: a.max(b) };
    let other = Frame { min: c.min(d), max: c.max(d) };
    !apart(side(a, b, c), side(a, b, d))
        && !apart(side(c, d, a), side(c, d, b))
        && boxes.min.cmple(other.max).all()
        && other.min.cmple(boxes.max).all()
}

/// Distance of a point from a segment.
pub(crate) fn distance(p: DVec2, [a, b]: [DVec2; 2]) -> f64 {
    let along = b - a;
    let t = ((p - a).dot(along) / along.length_squared().max(1e-12)).clamp(0.0, 1.0);
    p.distance(a + along * t)
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
        let placed = arrange(wanted, &layout);
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
            let wanted = |i| Wanted { anchor: at(f64::from(i)), width: 120.0 };
            (0..n).map(wanted).collect::<Vec<_>>()
        };
        assert_eq!(check(&row(16, |i| dvec2(400. + 50. * i, 450.))), 16);
        assert_eq!(check(&row(12, |i| dvec2(800., 150. + 50. * i))), 12);
        assert!(check(&row(16, |i| dvec2(400. + 3. * i, 300. + 2. * i))) >= 8);
    }

    #[test]
    fn labels_of_one_point_do_not_cross_but_are_left_out() {
        let wanted = vec![Wanted { anchor: dvec2(700., 300.), width: 90.0 }; 3];
        assert_eq!(check(&wanted), 1);
    }

    #[test]
    fn without_room_there_are_no_labels() {
        let wanted = [Wanted { anchor: dvec2(700., 300.), width: 9000.0 }];
        assert_eq!(check(&wanted), 0);
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
                })
                .collect();
            asked += wanted.len();
            placed += check(&wanted);
        }
        assert!(placed * 100 > asked * 97, "{placed} of {asked} labels were placed");
    }
}
