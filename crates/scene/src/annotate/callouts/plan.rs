//! Matches labels to places.

use super::ports::Port;
use super::{LEAST_CLEARANCE, Layout, Wanted, cross, distance};
use crate::camera::Frame;

/// What there is to plan with.
#[derive(Clone, Copy)]
pub(super) struct Room<'a> {
    pub(super) labels: &'a [Wanted],
    pub(super) ports: &'a [Port],
    pub(super) blocked: &'a [Frame],
    pub(super) layout: &'a Layout,
}

/// Which label goes to which place.
pub(super) struct Plan<'a> {
    room: Room<'a>,
    /// Index of the place of each label.
    pub(super) chosen: Vec<usize>,
    free: Vec<bool>,
    /// [`Layout::cost`] of all leaders, label by label.
    costs: Vec<f64>,
}

impl<'a> Plan<'a> {
    /// Each label takes the nearest free place; then everything that makes the leaders shorter.
    pub(super) fn shortest(room: Room<'a>) -> Self {
        let free = vec![true; room.ports.len()];
        let cost = |l, p: &Port| room.layout.cost(l, p.at, p.edge, room.blocked);
        let costs = room.labels.iter().flat_map(|l| room.ports.iter().map(move |p| cost(l, p)));
        let costs = costs.collect();
        let mut plan = Self { room, chosen: Vec::new(), free, costs };
        for label in 0..room.labels.len() {
            let nearest = (0..room.ports.len())
                .filter(|&p| plan.free[p])
                .min_by(|&a, &b| plan.cost(label, a).total_cmp(&plan.cost(label, b)));
            let nearest = nearest.expect("there are as many places as labels");
            plan.free[nearest] = false;
            plan.chosen.push(nearest);
        }
        while plan.improve() {}
        plan
    }

    fn cost(&self, label: usize, port: usize) -> f64 {
        self.costs[label * self.room.ports.len() + port]
    }

    /// Shortens the leaders by moving single labels and exchanging pairs; whether anything changed.
    fn improve(&mut self) -> bool {
        // Each step shortens the total by more than rounding, so that this comes to an end.
        const LEAST_GAIN_PX: f64 = 1e-6;
        let mut improved = false;
        for a in 0..self.room.labels.len() {
            for port in 0..self.room.ports.len() {
                let gain = self.cost(a, self.chosen[a]) - self.cost(a, port);
                if self.free[port] && gain > LEAST_GAIN_PX {
                    self.send(a, port);
                    improved = true;
                }
            }
            for b in 0..a {
                let [p, q] = [self.chosen[a], self.chosen[b]];
                let now = self.cost(a, p) + self.cost(b, q);
                let then = self.cost(a, q) + self.cost(b, p);
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
    pub(super) fn settle(&mut self) -> Result<(), usize> {
        while let Some([a, b]) = self.conflict() {
            let other = [b, a].into_iter().find_map(|label| Some((label, self.way_out(label)?)));
            let Some((label, port)) = other else { return Err(b) };
            self.send(label, port);
        }
        Ok(())
    }

    /// A pair of labels, the more important first, that get in each other's way.
    fn conflict(&self) -> Option<[usize; 2]> {
        let pairs = (1..self.room.labels.len()).rev().flat_map(|b| (0..b).map(move |a| [a, b]));
        pairs.into_iter().find(|&[a, b]| self.collide((a, self.chosen[a]), (b, self.chosen[b])))
    }

    /// The free place where a label is in the way of the fewest others, and of fewer than now, so that
    /// moving there comes to an end; of equal ones, that with the shortest leader.
    fn way_out(&self, label: usize) -> Option<usize> {
        let in_the_way = |port: usize| {
            let others = (0..self.room.labels.len()).filter(|&o| o != label);
            others.filter(|&o| self.collide((o, self.chosen[o]), (label, port))).count()
        };
        let now = in_the_way(self.chosen[label]);
        let free = (0..self.room.ports.len()).filter(|&port| self.free[port]);
        free.map(|port| (in_the_way(port), port))
            .filter(|&(count, _)| count < now)
            .min_by(|a, b| {
                a.0.cmp(&b.0).then(self.cost(label, a.1).total_cmp(&self.cost(label, b.1)))
            })
            .map(|(_, port)| port)
    }

    fn collide(&self, (a, port_a): (usize, usize), (b, port_b): (usize, usize)) -> bool {
        let clearance = LEAST_CLEARANCE * self.room.layout.line;
        let (p, q) = (self.room.labels[a].anchor, self.room.labels[b].anchor);
        let (leader_a, leader_b) =
            ([p, self.room.ports[port_a].at], [q, self.room.ports[port_b].at]);
        distance(p, leader_b) < clearance
            || distance(q, leader_a) < clearance
            || cross(leader_a, leader_b)
    }
}
