//! Gives each label a place outside the drawing, such that no two leader lines cross.
//!
//! Places stand in rows above and below the drawing and in columns beside it. Labels are matched to
//! places with a small total length of the leaders, by moving one or exchanging two as long as that
//! makes the total shorter. Of two leaders that cross, the exchange is always shorter (the triangle
//! inequality, twice), so that hardly any cross at the end; what is left is looked for and put right.

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

/// Between texts in a row, line heights.
const ROOM_BETWEEN: f64 = 0.9;

/// Places labels. The earlier ones matter more: the last are left out when there is no room for them
/// or no way past the others. Leaders keep out of `blocked` where they can.
pub(crate) fn arrange(wanted: &[Wanted], layout: &Layout, blocked: &[Frame]) -> Vec<Callout> {
    // Cells narrower than the widest text bring labels nearer to their points, if the texts still fit
    // beside each other in the end.
    let tried = [0.45, 0.7, 1.0].map(|cell| arrange_in_cells(wanted, layout, blocked, cell));
    let count = |callouts: &Vec<Callout>| callouts.len();
    let length = |callouts: &Vec<Callout>| -> f64 {
        callouts.iter().map(|c| c.anchor.distance(c.port)).sum()
    };
    let better = |a: &Vec<Callout>, b: &Vec<Callout>| {
        count(b).cmp(&count(a)).then(length(a).total_cmp(&length(b)))
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
        let room = Room { labels: &labels, ports: &ports, blocked, line: layout.line };
        let mut plan = Plan::shortest(room);
        match plan.settle() {
            Ok(()) => {
                let placed = kept.iter().zip(&plan.chosen).map(|(&i, &p)| (i, ports[p])).collect();
                return slide(placed, wanted, layout);
            }
            Err(label) => {
                kept.remove(label);
            }
        }
    }
}

/// Moves places along their rows and columns towards the points, in the same order. An edge whose
/// leaders would then get in each other's way stays as it is; without room for its texts, labels go.
fn slide(placed: Vec<(usize, Port)>, wanted: &[Wanted], layout: &Layout) -> Vec<Callout> {
    let callout = |&(i, port): &(usize, Port)| port.callout(i, &wanted[i], layout);
    let mut settled = placed;
    for edge in [Edge::Left, Edge::Right, Edge::Above, Edge::Below] {
        let mut moved = settled.clone();
        slide_edge(&mut moved, edge, wanted, layout);
        let callouts: Vec<Callout> = moved.iter().map(callout).collect();
        if are_clear(&callouts, layout.line) {
            settled = moved;
        }
    }
    let mut kept: Vec<Callout> = Vec::new();
    for callout in settled.iter().map(callout) {
        let fits = layout.paper.grown(1e-6).contains(&callout.text);
        if fits && !kept.iter().any(|k| k.text.overlaps(&callout.text)) {
            kept.push(callout);
        }
    }
    kept
}

fn slide_edge(placed: &mut [(usize, Port)], edge: Edge, wanted: &[Wanted], layout: &Layout) {
    let is_row = matches!(edge, Edge::Above | Edge::Below);
    let axis = usize::from(!is_row);
    let mut members: Vec<usize> =
        (0..placed.len()).filter(|&i| placed[i].1.edge == edge).collect();
    members.sort_by(|&a, &b| placed[a].1.at[axis].total_cmp(&placed[b].1.at[axis]));
    let size = |i: usize| {
        if is_row { wanted[placed[i].0].width + ROOM_BETWEEN * layout.line } else { layout.line }
    };
    let items: Vec<[f64; 2]> =
        members.iter().map(|&i| [wanted[placed[i].0].anchor[axis], size(i)]).collect();
    let bounds = if is_row {
        // Texts may reach the paper's edge; the room between them need not.
        [layout.paper.min.x - 0.5 * ROOM_BETWEEN * layout.line, layout.paper.max.x + 0.5 * ROOM_BETWEEN * layout.line]
    } else {
        [layout.drawing.min.y, layout.drawing.max.y]
    };
    for (&i, at) in members.iter().zip(side_by_side(&items, bounds)) {
        placed[i].1.at[axis] = at;
    }
}

/// Middles of items `[wished middle, size]` that keep their order, do not overlap, lie within bounds
/// and have the least sum of squared distances from the wishes: by pooling neighbours that would
/// overlap (Barlow et al., *Statistical Inference under Order Restrictions*, 1972).
fn side_by_side(items: &[[f64; 2]], bounds: [f64; 2]) -> Vec<f64> {
    let mut before = 0.0;
    let mut offsets = Vec::with_capacity(items.len());
    for &[_, size] in items {
        offsets.push(before + 0.5 * size);
        before += size;
    }
    // With the room of all items before it taken off, an item may be anywhere not before the last.
    let mut pools: Vec<(f64, f64)> = Vec::new();
    for (&[wish, _], offset) in items.iter().zip(&offsets) {
        let mut pool = (wish - offset, 1.0);
        while let Some(&(mean, count)) = pools.last()
            && mean > pool.0
        {
            pools.pop();
            pool = ((mean * count + pool.0 * pool.1) / (count + pool.1), count + pool.1);
        }
        pools.push(pool);
    }
    let (first, last) = (bounds[0], (bounds[1] - before).max(bounds[0]));
    let starts = pools.iter().flat_map(|&(mean, count)| {
        (0..).map(f64::from).take_while(move |i| *i < count).map(move |_| mean.clamp(first, last))
    });
    starts.zip(&offsets).map(|(start, offset)| start + offset).collect()
}

/// Whether no two leaders or texts are in each other's way.
fn are_clear(callouts: &[Callout], line: f64) -> bool {
    let clearance = LEAST_CLEARANCE * line;
    let pairs = callouts.iter().enumerate().flat_map(|(i, a)| callouts[..i].iter().map(move |b| (a, b)));
    pairs.into_iter().all(|(a, b)| {
        let (leader_a, leader_b) = ([a.anchor, a.port], [b.anchor, b.port]);
        !a.text.overlaps(&b.text)
            && !cross(leader_a, leader_b)
            && distance(a.anchor, leader_b) >= clearance
            && distance(b.anchor, leader_a) >= clearance
    })
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
    /// All places for texts up to a width; in rows each has a cell of `cell` widths.
    fn ports(&self, widest: f64, cell: f64) -> Vec<Port> {
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
                ports.extend(spread(right - left, widest * cell + self.line).map(|x| Port {
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

/// What there is to plan with.
#[derive(Clone, Copy)]
struct Room<'a> {
    labels: &'a [Wanted],
    ports: &'a [Port],
    blocked: &'a [Frame],
    /// Height of a line of text, px.
    line: f64,
}

/// Which label goes to which place.
struct Plan<'a> {
    room: Room<'a>,
    /// Index of the place of each label.
    chosen: Vec<usize>,
    free: Vec<bool>,
    /// Lengths of all leaders, label by label, with an extra for running through what is blocked.
    lengths: Vec<f64>,
}

impl Room<'_> {
    fn length(&self, label: &Wanted, port: &Port) -> f64 {
        const DETOUR_LINES: f64 = 5.0;
        let line = [label.anchor, port.at];
        let blocked = self.blocked.iter().filter(|frame| passes(line, frame)).count();
        label.anchor.distance(port.at) + DETOUR_LINES * self.line * blocked as f64
    }
}

impl<'a> Plan<'a> {
    /// Each label takes the nearest free place; then everything that makes the leaders shorter.
    fn shortest(room: Room<'a>) -> Self {
        let free = vec![true; room.ports.len()];
        let lengths = room.labels.iter().flat_map(|l| room.ports.iter().map(|p| room.length(l, p)));
        let lengths = lengths.collect();
        let mut plan = Self { room, chosen: Vec::new(), free, lengths };
        for label in 0..room.labels.len() {
            let nearest = (0..room.ports.len())
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
        self.lengths[label * self.room.ports.len() + port]
    }

    /// Shortens the leaders by moving single labels and exchanging pairs; whether anything changed.
    fn improve(&mut self) -> bool {
        // Each step shortens the total by more than rounding, so that this comes to an end.
        const LEAST_GAIN_PX: f64 = 1e-6;
        let mut improved = false;
        for a in 0..self.room.labels.len() {
            for port in 0..self.room.ports.len() {
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
        let mut moves = 4 * self.room.labels.len();
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
        let pairs = (1..self.room.labels.len()).rev().flat_map(|b| (0..b).map(move |a| [a, b]));
        pairs.into_iter().find(|&[a, b]| self.collide((a, self.chosen[a]), (b, self.chosen[b])))
    }

    /// The free place with the shortest leader that is in nobody's way.
    fn way_out(&self, label: usize) -> Option<usize> {
        let others = |port: usize| {
            let mut others = (0..self.room.labels.len()).filter(|&o| o != label);
            others.all(|o| !self.collide((o, self.chosen[o]), (label, port)))
        };
        (0..self.room.ports.len())
            .filter(|&port| self.free[port] && others(port))
            .min_by(|&a, &b| self.length(label, a).total_cmp(&self.length(label, b)))
    }

    fn collide(&self, (a, port_a): (usize, usize), (b, port_b): (usize, usize)) -> bool {
        let clearance = LEAST_CLEARANCE * self.room.line;
        let (p, q) = (self.room.labels[a].anchor, self.room.labels[b].anchor);
        let (leader_a, leader_b) = ([p, self.room.ports[port_a].at], [q, self.room.ports[port_b].at]);
        distance(p, leader_b) < clearance
            || distance(q, leader_a) < clearance
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

/// Whether a segment runs through a frame.
pub(crate) fn passes(line: [DVec2; 2], frame: &Frame) -> bool {
    let Frame { min, max } = *frame;
    let (a, b) = (dvec2(min.x, max.y), dvec2(max.x, min.y));
    frame.holds(line[0]) || frame.holds(line[1]) || cross(line, [min, max]) || cross(line, [a, b])
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
    fn items_stand_side_by_side_near_their_wishes() {
        let at = side_by_side(&[[10.0, 4.0], [11.0, 4.0], [40.0, 6.0]], [0.0, 100.0]);
        assert!((at[0] - 8.5).abs() < 1e-9 && (at[1] - 12.5).abs() < 1e-9);
        assert!((at[2] - 40.0).abs() < 1e-9);
        let squeezed = side_by_side(&[[-50.0, 4.0], [500.0, 4.0]], [0.0, 100.0]);
        assert!((squeezed[0] - 2.0).abs() < 1e-9 && (squeezed[1] - 98.0).abs() < 1e-9);
    }

    #[test]
    fn a_leader_goes_around_what_is_blocked() {
        let wanted = [Wanted { anchor: dvec2(800., 150.), width: 100.0 }];
        let blocked = [Frame { min: dvec2(300., 105.), max: dvec2(1300., 140.) }];
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
                })
                .collect();
            asked += wanted.len();
            placed += check(&wanted);
        }
        assert!(placed * 100 > asked * 97, "{placed} of {asked} labels were placed");
    }
}
