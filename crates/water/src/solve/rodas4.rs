//! One step of Rodas4: a Rosenbrock method of order 4(3), stiffly accurate and L-stable, with cubic dense
//! output. Hairer & Wanner, Solving Ordinary Differential Equations II (2nd ed. 1996), section IV.7;
//! coefficients as in their code `rodas.f`, method 1.
//!
//! Every stage keeps the sum of volumes, because the columns of the Jacobian sum to zero.

use crate::network::Network;
use crate::solve::dense::{Matrix, Vector, add_scaled};
use crate::solve::layout::Layout;
use crate::solve::sparse::Triangles;

const A: [[f64; 4]; 4] = [
    [1.544, 0.0, 0.0, 0.0],
    [0.946_678_528_081_582_6, 0.255_701_169_898_328_4, 0.0, 0.0],
    [3.314_825_187_068_521, 2.896_124_015_972_201, 0.998_641_913_997_781_7, 0.0],
    [1.221_224_509_226_641, 6.019_134_481_288_629, 12.537_083_329_320_87, -0.687_886_036_105_895],
];
const C: [[f64; 5]; 5] = [
    [-5.668_8, 0.0, 0.0, 0.0, 0.0],
    [-2.430_093_356_833_875, -0.206_359_915_709_191_5, 0.0, 0.0, 0.0],
    [-0.107_352_905_815_137_5, -9.594_562_251_023_355, -20.470_286_148_096_16, 0.0, 0.0],
    [
        7.496_443_313_967_647,
        -10.246_804_314_643_52,
        -33.999_903_528_199_05,
        11.708_908_932_061_6,
        0.0,
    ],
    [
        8.083_246_795_921_522,
        -7.981_132_988_064_893,
        -31.521_594_328_743_71,
        16.319_305_431_231_36,
        -6.058_818_238_834_054,
    ],
];
const D2: [f64; 5] = [
    10.126_235_083_445_86,
    -7.487_995_877_610_167,
    -34.800_918_615_557_47,
    -7.992_771_707_568_823,
    1.025_137_723_295_662,
];
const D3: [f64; 5] = [
    -0.676_280_339_280_125_3,
    6.087_714_651_680_015,
    16.430_843_208_924_78,
    24.767_225_114_183_86,
    -6.594_389_125_716_872,
];
/// One over the method's γ.
const INVERSE_GAMMA: f64 = 4.0;

/// How exact a step must be.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tolerance {
    /// The error of a level, m.
    pub(crate) level_m: f64,
    /// The error of a level, as the time in which the level moves so far, s.
    pub(crate) time_s: f64,
}

/// However slowly a level drifts, no smaller error of it is asked for than this share of the one allowed, and
/// none smaller than a drift of this speed, m/s, makes in the time allowed.
///
/// Our judgement. Asking for a hundredth of the level's error rather than for a thousandth saves two steps of
/// five in the rehearsals of the demos; it moves no level by 1 µm and no event by a millisecond.
const LEAST_SHARE: f64 = 1e-2;
/// See [`LEAST_SHARE`]. A drift of 4 mm an hour is nobody's news by the second.
const SLOW_M_S: f64 = 1e-6;

impl Tolerance {
    /// What a level may err that moves at this speed, m/s.
    #[inline]
    fn allowed_m(&self, speed: f64) -> f64 {
        let least = LEAST_SHARE * self.level_m;
        self.level_m.min((self.time_s * speed.max(SLOW_M_S)).max(least))
    }
}

/// Where the system is, and how it moves there.
#[derive(Clone, Debug)]
pub(crate) struct State<const W: usize> {
    pub(crate) volumes: Vector<W>,
    pub(crate) levels: Vector<W>,
    pub(crate) inverse_areas: Vector<W>,
    inflow: Vector<W>,
    slope: Matrix<W>,
}

/// A step that was tried.
#[derive(Clone, Debug)]
pub(crate) struct Step<const W: usize> {
    /// Its length, s.
    pub(crate) h: f64,
    /// Volumes at its end, m³.
    pub(crate) end: Vector<W>,
    /// Its error over what is allowed.
    pub(crate) error: f64,
    c2: Vector<W>,
    c3: Vector<W>,
}

impl<const W: usize> State<W> {
    pub(crate) fn new(volumes: Vector<W>) -> Self {
        let zero = [0.0; W];
        Self { volumes, levels: zero, inverse_areas: zero, inflow: zero, slope: [[0.0; W]; W] }
    }

    /// Brings everything into line with the volumes and the elements as they are now.
    pub(crate) fn refresh(&mut self, network: &Network, layout: &Layout) {
        self.refresh_levels(layout);
        layout.linearise(&network.elements, &self.levels, &mut self.inflow, &mut self.slope);
    }

    /// Clears what belongs to elements that are no longer open.
    pub(crate) fn clear(&mut self) {
        self.slope = [[0.0; W]; W];
    }

    /// Brings levels and areas into line with the volumes.
    pub(crate) fn refresh_levels(&mut self, layout: &Layout) {
        layout.levels(&self.volumes, &mut self.levels, &mut self.inverse_areas);
    }

    /// A step of `h` seconds. `None` if it leads to no finite volumes.
    pub(crate) fn step(
        &self,
        network: &Network,
        layout: &Layout,
        h: f64,
        tolerance: Tolerance,
        triangles: &mut Triangles<W>,
    ) -> Option<Step<W>> {
        let order = &layout.order;
        for (row, column) in order.entries() {
            triangles.matrix[row][column] = -self.slope[row][column] * self.inverse_areas[column];
        }
        for (i, row) in triangles.matrix.iter_mut().enumerate().take(network.tanks.len()) {
            row[i] += INVERSE_GAMMA / h;
        }
        order.factor(triangles)?;
        let mut k = [[0.0; W]; 6];
        let (mut z, mut inverse_areas) = ([0.0; W], [0.0; W]);
        let mut y = self.volumes;
        k[0] = self.inflow;
        triangles.solve(&mut k[0]);
        for s in 1..6 {
            if s < 5 {
                y = self.volumes;
                for (k, a) in k.iter().zip(&A[s - 1]).take(s) {
                    add_scaled(&mut y, *a, k);
                }
            } else {
                add_scaled(&mut y, 1.0, &k[4]);
            }
            layout.levels(&y, &mut z, &mut inverse_areas);
            let mut right = [0.0; W];
            layout.inflow(&network.elements, &z, &mut right);
            for (k, c) in k.iter().zip(&C[s - 1]).take(s) {
                add_scaled(&mut right, c / h, k);
            }
            triangles.solve(&mut right);
            k[s] = right;
        }
        add_scaled(&mut y, 1.0, &k[5]);
        let mut step = Step { h, end: y, error: 0.0, c2: [0.0; W], c3: [0.0; W] };
        for ((k, d2), d3) in k.iter().zip(&D2).zip(&D3) {
            add_scaled(&mut step.c2, *d2, k);
            add_scaled(&mut step.c3, *d3, k);
        }
        step.error = self.error(network, &step, &k[5], tolerance);
        step.error.is_finite().then_some(step)
    }

    /// The largest error of a level over what is allowed; `last` is the last stage, which is the error of
    /// the volumes.
    fn error(
        &self,
        network: &Network,
        step: &Step<W>,
        last: &Vector<W>,
        tolerance: Tolerance,
    ) -> f64 {
        let mut worst = 0.0_f64;
        for (i, tank) in network.tanks.iter().enumerate() {
            if !step.end[i].is_finite() {
                return f64::INFINITY;
            }
            if !tank.is_sink {
                let per_area = self.inverse_areas[i];
                let speed = (step.end[i] - self.volumes[i]).abs() * per_area / step.h;
                worst = worst.max((last[i] * per_area).abs() / tolerance.allowed_m(speed));
            }
        }
        worst
    }

    /// Length of the first step after a start, s: half the time `τ = |z'| / |z''|` in which the motion
    /// changes, shortened by the fourth root of the tolerance over the way made in it. The order of the
    /// method makes it the fourth root; the rest is our judgement.
    pub(crate) fn first_step(&self, network: &Network, tolerance: Tolerance) -> f64 {
        let n = network.tanks.len();
        let rates: Vector<W> = std::array::from_fn(|i| self.inflow[i] * self.inverse_areas[i]);
        let (mut speed, mut turn) = (0.0_f64, 0.0_f64);
        for (r, _) in network.tanks.iter().enumerate().filter(|(_, tank)| !tank.is_sink) {
            let row = self.slope[r][..n].iter().zip(&rates);
            let change: f64 = row.map(|(slope, rate)| slope * rate).sum();
            speed = speed.max(rates[r].abs());
            turn = turn.max((change * self.inverse_areas[r]).abs());
        }
        if turn <= 1e-300 {
            return 1.0;
        }
        let tau = speed / turn;
        let share = (tolerance.level_m / (speed * tau)).min(1.0);
        (0.5 * tau * share.sqrt().sqrt()).clamp(1e-3, 60.0)
    }

    /// Volumes at a share `theta` of a step from here.
    pub(crate) fn within(&self, step: &Step<W>, theta: f64) -> Vector<W> {
        let rest = 1.0 - theta;
        std::array::from_fn(|i| {
            let bend = step.c2[i] + theta * step.c3[i];
            rest * self.volumes[i] + theta * (step.end[i] + rest * bend)
        })
    }

    /// Appends the shares of a step at which a level turns. Turns by less than `least_m` are left out.
    pub(crate) fn turns(
        &self,
        network: &Network,
        step: &Step<W>,
        least_m: f64,
        thetas: &mut Vec<f64>,
    ) {
        for (i, _) in network.tanks.iter().enumerate().filter(|(_, tank)| !tank.is_sink) {
            // v(θ) = v₀ + θ (Δ + c₂) + θ² (c₃ − c₂) − θ³ c₃; its derivative is a θ² + b θ + c.
            let (start, end) = (self.volumes[i], step.end[i]);
            let (c2, c3) = (step.c2[i], step.c3[i]);
            let (a, b, c) = (-3.0 * c3, 2.0 * (c3 - c2), end - start + c2);
            let d = b * b - 4.0 * a * c;
            if d < 0.0 {
                continue;
            }
            let w = -0.5 * (b + d.sqrt().copysign(b));
            for theta in [w / a, c / w] {
                // Also false for what is not a number.
                if 0.0 < theta && theta < 1.0 {
                    let rest = 1.0 - theta;
                    let v = rest * start + theta * (end + rest * (c2 + theta * c3));
                    let beyond = (v - start.max(end)).max(start.min(end) - v);
                    if least_m < beyond * self.inverse_areas[i] {
                        thetas.push(theta);
                    }
                }
            }
        }
    }
}
