//! Finding the instant at which a watched value rises to zero.

use crate::network::Network;
use crate::solve::dense::Vector;
use crate::solve::layout::Layout;
use crate::solve::plan::Plan;
use crate::solve::rodas4::{State, Step, Tolerance};
use crate::solve::sparse::Triangles;

/// A step of the system from where it is, and what is needed to look into it.
pub(crate) struct Look<'a, const W: usize> {
    pub(crate) network: &'a Network,
    pub(crate) plan: &'a dyn Plan,
    pub(crate) layout: &'a Layout,
    pub(crate) state: &'a State<W>,
    pub(crate) tolerance: Tolerance,
}

/// An event inside a step.
pub(crate) struct Located<const W: usize> {
    /// Which watched value rose to zero.
    pub(crate) watch: usize,
    /// The step that leads to that instant.
    pub(crate) step: Step<W>,
}

impl<const W: usize> Look<'_, W> {
    /// The first event in a step, if there is one. `before` are the watched values at its start, `thetas`
    /// the shares of the step at which to look, rising, the last of them 1; `values` is room to work in.
    pub(crate) fn first_event(
        &self,
        step: &Step<W>,
        before: &[f64],
        thetas: &[f64],
        triangles: &mut Triangles<W>,
        values: &mut Vec<f64>,
    ) -> Option<Located<W>> {
        if before.iter().all(|value| 0.0 <= *value) {
            return None;
        }
        let mut left = 0.0;
        for &theta in thetas {
            self.values_within(step, theta, values);
            let crossed = (0..before.len().min(values.len()))
                .filter(|&k| before[k] < 0.0 && 0.0 <= values[k])
                .map(|k| (self.root(step, k, left, theta), k))
                .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            if let Some((theta, watch)) = crossed {
                let step = self.redo(step, watch, before[watch], theta, triangles)?;
                return Some(Located { watch, step });
            }
            left = theta;
        }
        None
    }

    /// The watched values at a share of a step, by its dense output.
    fn values_within(&self, step: &Step<W>, theta: f64, values: &mut Vec<f64>) {
        let volumes = if theta < 1.0 { self.state.within(step, theta) } else { step.end };
        self.values(&volumes, values);
    }

    fn values(&self, volumes: &Vector<W>, values: &mut Vec<f64>) {
        let (mut z, mut inverse_areas) = ([0.0; W], [0.0; W]);
        self.layout.levels(volumes, &mut z, &mut inverse_areas);
        values.clear();
        self.plan.watch(&z[..self.network.tanks.len()], values);
    }

    /// Share of a step, between two shares, at which a watched value rises to zero by the dense output:
    /// false position after Illinois (Dowell & Jarratt, BIT 11 (1971) 168).
    fn root(&self, step: &Step<W>, watch: usize, left: f64, right: f64) -> f64 {
        let mut values = Vec::new();
        let mut value = |theta: f64| {
            self.values_within(step, theta, &mut values);
            values.get(watch).copied().unwrap_or(0.0)
        };
        let (mut a, mut b) = (left, right);
        let (mut at_a, mut at_b) = (value(a).min(-f64::MIN_POSITIVE), value(b));
        let mut side = 0;
        for _ in 0..60 {
            if (b - a) * step.h < 1e-7 || at_b < 1e-13 {
                break;
            }
            let mut x = (a * at_b - b * at_a) / (at_b - at_a);
            if !(a < x && x < b) {
                x = 0.5 * (a + b);
            }
            let at_x = value(x);
            if 0.0 <= at_x {
                (b, at_b) = (x, at_x);
                if side == 1 {
                    at_a *= 0.5;
                }
                side = 1;
            } else {
                (a, at_a) = (x, at_x);
                if side == -1 {
                    at_b *= 0.5;
                }
                side = -1;
            }
        }
        b
    }

    /// Steps anew to the instant that the dense output proposes, and corrects it by the secant. The dense
    /// output is of lower order: in slow drifts towards a float its own root is seconds off.
    fn redo(
        &self,
        step: &Step<W>,
        watch: usize,
        before: f64,
        theta: f64,
        triangles: &mut Triangles<W>,
    ) -> Option<Step<W>> {
        let mut values = Vec::new();
        let mut best: Option<(f64, Step<W>)> = None;
        let (mut x, mut last) = (theta, (0.0, before));
        for _ in 0..4 {
            let h = x * step.h;
            let Some(tried) =
                self.state.step(self.network, self.layout, h, self.tolerance, triangles)
            else {
                break;
            };
            self.values(&tried.end, &mut values);
            let value = values.get(watch).copied().unwrap_or(0.0);
            if best.as_ref().is_none_or(|(least, _)| value.abs() < *least) {
                best = Some((value.abs(), tried));
            }
            let next = x - value * (x - last.0) / (value - last.1);
            let is_within = 0.0 < next && next <= 1.0;
            if !is_within || (next - x).abs() * step.h < 1e-6 {
                break;
            }
            last = (x, value);
            x = next;
        }
        best.map(|(_, step)| step)
    }
}
