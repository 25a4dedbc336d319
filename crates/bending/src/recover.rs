//! From unknowns to what is asked for: moments, the largest of them, deflection, work.

mod peak;
mod singular;
mod stencil;

pub use peak::Peak;
pub(crate) use peak::top;
pub(crate) use stencil::{Second, seconds};

use crate::assembly::PER_NODE;
use crate::grid::Grid;
use crate::plate::{Along, Plate};
use crate::reactions::{Reactions, reactions};
use crate::solve::System;

/// Moments per length at a place, N·m/m: positive ones pull at the front.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moment {
    /// That bends along x.
    pub x: f64,
    /// That bends along y.
    pub y: f64,
    /// That twists.
    pub xy: f64,
}

impl Moment {
    /// The largest and the smallest over all directions.
    pub fn principal(&self) -> [f64; 2] {
        let middle = 0.5 * (self.x + self.y);
        let radius = libm::hypot(0.5 * (self.x - self.y), self.xy);
        [middle + radius, middle - radius]
    }
}

/// What one case of load does to a plate.
#[derive(Clone, Debug)]
pub struct Field {
    /// Deflection, its slopes along x and y, and its twist, of every node of the grid.
    pub(crate) unknowns: Vec<f64>,
    /// Moments at every node of the grid, N·m/m; where a support makes them jump, the larger ones. At corners of openings
    /// and other places without a bound they are only as large as the mesh makes them.
    pub moments: Vec<Moment>,
    /// Whether a node is too close to such a place to count.
    pub is_unbounded: Vec<bool>,
    /// The largest deflection with its sign, m.
    pub deflection: Peak,
    /// The largest moment that pulls at the front, N·m/m, where it is bounded; at least nought. `None` if nowhere.
    pub front: Option<Peak>,
    /// The largest moment that pulls at the back, as a positive number, N·m/m.
    pub back: Option<Peak>,
    /// What the supports exert.
    pub reactions: Reactions,
    /// The whole load towards the front, N.
    pub load: f64,
    /// Load times deflection, `∫ p w`, J: twice the energy.
    pub work: f64,
}

impl Field {
    /// The largest bending stress on either face, Pa, and where; `None` if nowhere bounded.
    pub fn stress(&self, plate: &Plate) -> Option<Peak> {
        let larger = |a: Peak, b: Peak| if b.value > a.value { b } else { a };
        let peak = self.front.into_iter().chain(self.back).reduce(larger)?;
        Some(Peak { value: plate.stress(peak.value), at: peak.at })
    }
}

/// What is the same for all cases of a plate.
#[derive(Debug)]
pub(crate) struct Recovery<'a> {
    system: &'a System<'a>,
    second_x: Vec<Second>,
    second_y: Vec<Second>,
    marks: Marks,
    is_unbounded: Vec<bool>,
}

/// Of each node and direction, x then y.
#[derive(Debug)]
pub(crate) struct Marks {
    /// A support crosses: the moment has a kink.
    pub(crate) is_kink: [Vec<bool>; 2],
    /// A support that resists turning crosses: the moment may jump.
    is_jump: [Vec<bool>; 2],
    /// An edge across which no moment is passed.
    is_free: [Vec<bool>; 2],
}

impl Marks {
    fn new(plate: &Plate, grid: &Grid) -> Self {
        let none = || [vec![false; grid.nodes()], vec![false; grid.nodes()]];
        let (mut is_kink, mut is_jump, mut is_free) = (none(), none(), none());
        let [free_x, free_y] = &mut is_free;
        for (node, (free_x, free_y)) in free_x.iter_mut().zip(free_y).enumerate() {
            let [lower_left, upper_left, lower_right, upper_right] = grid.around(node);
            let is_corner = grid.around(node).into_iter().filter(|live| *live).count() == 1;
            let is_edge = |a: [bool; 2], b: [bool; 2]| a[0] == a[1] && b[0] == b[1] && a != b;
            *free_x = is_corner || is_edge([lower_left, upper_left], [lower_right, upper_right]);
            *free_y = is_corner || is_edge([lower_left, lower_right], [upper_left, upper_right]);
        }
        for line in &plate.lines {
            let across = if line.along == Along::X { 1 } else { 0 };
            for at in grid.on_line(line) {
                is_kink[across][at.node] = true;
                if line.support.resists_turning() {
                    is_jump[across][at.node] = true;
                    is_free[across][at.node] = false;
                }
            }
        }
        for point in &plate.points {
            let node = grid.nearest_node(point.at);
            is_kink.iter_mut().for_each(|of_axis| of_axis[node] = true);
        }
        Self { is_kink, is_jump, is_free }
    }
}

impl<'a> Recovery<'a> {
    pub(crate) fn new(system: &'a System<'a>) -> Self {
        let (plate, grid) = (system.plate, &system.grid);
        let marks = Marks::new(plate, grid);
        let along = |along: Along, axis: usize| {
            let places = grid.places(along);
            let others = grid.nodes() / places.len();
            let mut of_node = vec![Second::Nothing; grid.nodes()];
            for other in 0..others {
                let node = |k: usize| grid.node_on(along, k, other);
                let is_live = |k: usize| grid.is_step_live(along, k, other);
                let is_kink = |k: usize| marks.is_kink[axis][node(k)];
                for (k, second) in seconds(places, is_live, is_kink, node).into_iter().enumerate() {
                    of_node[node(k)] = second;
                }
            }
            of_node
        };
        let (second_x, second_y) = (along(Along::X, 0), along(Along::Y, 1));
        let is_unbounded = singular::near_singular(plate, grid);
        Self { system, second_x, second_y, marks, is_unbounded }
    }

    pub(crate) fn into_kinks(self) -> [Vec<bool>; 2] {
        self.marks.is_kink
    }

    pub(crate) fn field(&self, u: Vec<f64>, load: &[f64]) -> Field {
        let (plate, grid) = (self.system.plate, &self.system.grid);
        let moments = self.moments(&u);
        let principal: Vec<[f64; 2]> = moments.iter().map(Moment::principal).collect();
        let peak_of = |values: Vec<f64>| {
            let is_plate = |node: usize| grid.around(node).contains(&true);
            let may = |node: usize| is_plate(node) && !self.is_unbounded[node];
            let is_smooth = |node: usize, along: Along| {
                !self.marks.is_kink[if along == Along::X { 0 } else { 1 }][node]
            };
            let peak = peak::largest(grid, &values, may, is_smooth)?;
            Some(Peak { value: peak.value.max(0.0), ..peak })
        };
        let front = peak_of(principal.iter().map(|[most, _]| *most).collect());
        let back = peak_of(principal.iter().map(|[_, least]| -least).collect());
        let reactions = reactions(self.system, &self.marks, &self.is_unbounded, &u, load);
        let all = load.iter().step_by(PER_NODE).sum();
        let work = load.iter().zip(&u).map(|(f, u)| f * u).sum();
        let deflection = largest_deflection(plate, grid, &u);
        let is_unbounded = self.is_unbounded.clone();
        Field {
            unknowns: u,
            moments,
            is_unbounded,
            deflection,
            front,
            back,
            reactions,
            load: all,
            work,
        }
    }

    /// `M_x = −D (w_xx + ν w_yy)` and so on (Timoshenko and Woinowsky-Krieger, art. 10; article from memory).
    fn moments(&self, u: &[f64]) -> Vec<Moment> {
        let (d, nu) = (self.system.plate.rigidity(), self.system.plate.poisson);
        let second = |second: &Second, slope: usize, is_jump: bool| match second {
            Second::Nothing => 0.0,
            Second::Smooth(stencil) => stencil.apply(u, slope),
            Second::Kinked(before, after) => {
                let (before, after) = (before.apply(u, slope), after.apply(u, slope));
                match is_jump {
                    true if before.abs() > after.abs() => before,
                    true => after,
                    false => 0.5 * (before + after),
                }
            }
        };
        (0..self.system.grid.nodes())
            .map(|node| {
                let mut x = second(&self.second_x[node], 1, self.marks.is_jump[0][node]);
                let mut y = second(&self.second_y[node], 2, self.marks.is_jump[1][node]);
                // No moment is passed across a free edge: that is truer than the one-sided derivative.
                match self.marks.is_free.each_ref().map(|of_axis| of_axis[node]) {
                    [true, true] => (x, y) = (0.0, 0.0),
                    [true, false] => x = -nu * y,
                    [false, true] => y = -nu * x,
                    [false, false] => {}
                }
                let twist = u[PER_NODE * node + 3];
                Moment { x: -d * (x + nu * y), y: -d * (y + nu * x), xy: -d * (1.0 - nu) * twist }
            })
            .collect()
    }
}

/// Looked for between the nodes too, around the largest: that of the nodes alone may be 1 % low.
fn largest_deflection(plate: &Plate, grid: &Grid, u: &[f64]) -> Peak {
    const PARTS: usize = 8;
    let w = |node: usize| u[PER_NODE * node];
    let is_plate = |node: &usize| grid.around(*node).contains(&true);
    let largest = |a: &usize, b: &usize| w(*a).abs().total_cmp(&w(*b).abs());
    let Some(node) = (0..grid.nodes()).filter(is_plate).max_by(largest) else {
        return Peak { value: 0.0, at: plate.size };
    };
    let mut peak = Peak { value: w(node), at: grid.place(node) };
    let (i, j) = (node / grid.ys.len(), node % grid.ys.len());
    for i in [i.wrapping_sub(1), i] {
        for j in [j.wrapping_sub(1), j] {
            if !grid.is_live(i, j) {
                continue;
            }
            for part in 0..(PARTS + 1) * (PARTS + 1) {
                let share = |k: usize| k as f64 / PARTS as f64;
                let (s, t) = (share(part / (PARTS + 1)), share(part % (PARTS + 1)));
                let value = crate::sample::in_cell(grid, u, (i, j), (s, t));
                if value.abs() > peak.value.abs() {
                    let between = |places: &[f64], k: usize, s: f64| {
                        places[k] + s * (places[k + 1] - places[k])
                    };
                    peak = Peak { value, at: [between(&grid.xs, i, s), between(&grid.ys, j, t)] };
                }
            }
        }
    }
    peak
}
