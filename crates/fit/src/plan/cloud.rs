//! Points held coordinate by coordinate, so that a processor works on several at once. Half of all planning is to find
//! how far points reach along a direction.

use glam::{DMat3, DVec3};

/// Some points.
#[derive(Clone, Debug, Default)]
pub(crate) struct Cloud {
    x: Vec<f64>,
    y: Vec<f64>,
    z: Vec<f64>,
}

/// How many are worked on at once.
const ABREAST: usize = 4;

impl Cloud {
    pub(crate) fn of(points: &[DVec3]) -> Self {
        let along = |axis: usize| points.iter().map(|p| p[axis]).collect();
        Self { x: along(0), y: along(1), z: along(2) }
    }

    pub(crate) fn clear(&mut self) {
        self.x.clear();
        self.y.clear();
        self.z.clear();
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.x.is_empty()
    }

    pub(crate) fn first(&self) -> Option<DVec3> {
        Some(DVec3::new(*self.x.first()?, *self.y.first()?, *self.z.first()?))
    }

    /// Adds points turned and shifted.
    pub(crate) fn extend_moved(&mut self, points: &Self, turn: &DMat3, shift: DVec3) {
        let rows = turn.transpose();
        for (axis, to) in [&mut self.x, &mut self.y, &mut self.z].into_iter().enumerate() {
            let (row, shift) = (rows.col(axis), shift[axis]);
            let along = points.x.iter().zip(&points.y).zip(&points.z);
            to.extend(along.map(|((x, y), z)| row.x * x + row.y * y + row.z * z + shift));
        }
    }

    /// Least and greatest corner of the box around them.
    pub(crate) fn bounds(&self) -> [DVec3; 2] {
        let [x, y, z] = [&self.x, &self.y, &self.z].map(|along| range(along));
        [DVec3::new(x[0], y[0], z[0]), DVec3::new(x[1], y[1], z[1])]
    }

    /// How far they reach along a direction.
    pub(crate) fn most(&self, direction: DVec3) -> f64 {
        let mut most = [f64::NEG_INFINITY; ABREAST];
        let [x, y, z] = [&self.x, &self.y, &self.z].map(|along| along.as_chunks::<ABREAST>());
        for ((x, y), z) in x.0.iter().zip(y.0).zip(z.0) {
            for k in 0..ABREAST {
                let along = direction.x * x[k] + direction.y * y[k] + direction.z * z[k];
                most[k] = if along > most[k] { along } else { most[k] };
            }
        }
        let rest = x.1.iter().zip(y.1).zip(z.1);
        let rest = rest.map(|((x, y), z)| direction.x * x + direction.y * y + direction.z * z);
        most.into_iter().chain(rest).fold(f64::NEG_INFINITY, f64::max)
    }

    /// The first point that reaches so far.
    pub(crate) fn point_at(&self, direction: DVec3, along: f64) -> DVec3 {
        let all = self.x.iter().zip(&self.y).zip(&self.z);
        let reaches = |((x, y), z): ((&f64, &f64), &f64)| {
            direction.x * x + direction.y * y + direction.z * z >= along
        };
        let place = all.map(reaches).position(|reaches| reaches).unwrap_or(0);
        DVec3::new(self.x[place], self.y[place], self.z[place])
    }
}

fn range(values: &[f64]) -> [f64; 2] {
    let (fours, rest) = values.as_chunks::<ABREAST>();
    let (mut least, mut most) = ([f64::INFINITY; ABREAST], [f64::NEG_INFINITY; ABREAST]);
    for four in fours {
        for (k, value) in four.iter().enumerate() {
            least[k] = if *value < least[k] { *value } else { least[k] };
            most[k] = if *value > most[k] { *value } else { most[k] };
        }
    }
    let fold = |start: f64, pick: fn(f64, f64) -> f64, abreast: [f64; ABREAST]| {
        abreast.into_iter().chain(rest.iter().copied()).fold(start, pick)
    };
    [fold(f64::INFINITY, f64::min, least), fold(f64::NEG_INFINITY, f64::max, most)]
}
