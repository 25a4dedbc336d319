//! A network as it is between two events, laid out for speed: only what is open, and only what can pass
//! anything at the levels in question.

use crate::law::Law;
use crate::network::{Element, Network, Tank};
use crate::solve::dense::{Matrix, Vector};
use crate::solve::sparse::Order;

/// An open element.
#[derive(Clone, Copy, Debug)]
struct Way {
    element: usize,
    up: usize,
    down: usize,
    /// Nothing passes while neither level is above its sill, m. What has no sill has it at minus infinity,
    /// what never runs back has the downstream one at infinity.
    up_sill_m: f64,
    down_sill_m: f64,
    /// Whether its discharge can answer to the downstream level.
    feels_down: bool,
}

impl Way {
    fn new(element: usize, e: &Element, tanks: &[Tank]) -> Self {
        let sill_m = e.law.sill_m();
        let down_sill_m = if e.law.runs_back() { sill_m } else { Some(f64::INFINITY) };
        Self {
            element,
            up: e.up,
            down: e.down,
            up_sill_m: sill_m.unwrap_or(f64::NEG_INFINITY),
            down_sill_m: down_sill_m.unwrap_or(f64::NEG_INFINITY),
            feels_down: !matches!(e.law, Law::Rate(_)) && !tanks[e.down].is_sink,
        }
    }

    /// Whether both levels lie below the sill. False if one is not a number.
    #[inline]
    fn is_dry<const W: usize>(&self, levels: &Vector<W>) -> bool {
        levels[self.up] <= self.up_sill_m && levels[self.down] <= self.down_sill_m
    }
}

/// A part of a tank with one area.
#[derive(Clone, Copy, Debug)]
struct Slice {
    /// Volume of the tank below it, m³.
    from_m3: f64,
    /// Height at which it begins, m.
    from_m: f64,
    /// One over its area, 1/m².
    per_area: f64,
}

/// Tanks and open elements.
#[derive(Debug)]
pub(crate) struct Layout {
    /// Slices of all tanks, one tank after the other.
    slices: Vec<Slice>,
    /// The first slice of each tank, and the end of the last.
    first: Vec<usize>,
    ways: Vec<Way>,
    /// In what order the matrix is eliminated.
    pub(crate) order: Order,
}

impl Layout {
    /// The tanks; nothing is open yet.
    pub(crate) fn new(network: &Network) -> Self {
        let mut slices = Vec::new();
        let mut first = vec![0];
        for tank in &network.tanks {
            for step in &tank.steps {
                let from_m3 = tank.volume(step.z_m).0;
                slices.push(Slice { from_m3, from_m: step.z_m, per_area: 1.0 / step.area_m2 });
            }
            first.push(slices.len());
        }
        Self { slices, first, ways: Vec::new(), order: Order::default() }
    }

    /// Brings the open elements into line with the network.
    pub(crate) fn look(&mut self, network: &Network) {
        let open = network.elements.iter().enumerate().filter(|(_, e)| e.is_open());
        self.ways.clear();
        self.ways.extend(open.map(|(i, e)| Way::new(i, e, &network.tanks)));
        self.order
            .look(network.tanks.len(), self.ways.iter().map(|w| (w.up, w.down, w.feels_down)));
    }

    /// Net inflow of every tank at these levels.
    #[inline]
    pub(crate) fn inflow<const W: usize>(
        &self,
        elements: &[Element],
        levels: &Vector<W>,
        f: &mut Vector<W>,
    ) {
        f.fill(0.0);
        for way in self.ways.iter().filter(|way| !way.is_dry(levels)) {
            let q = elements[way.element].discharge(levels[way.up], levels[way.down]);
            f[way.up] -= q;
            f[way.down] += q;
        }
    }

    /// Net inflow and its derivatives by the levels: `j[row][column]`, off the diagonal never negative, the
    /// sum of every column zero. Only the entries that `order` names are written.
    #[inline]
    pub(crate) fn linearise<const W: usize>(
        &self,
        elements: &[Element],
        levels: &Vector<W>,
        f: &mut Vector<W>,
        j: &mut Matrix<W>,
    ) {
        f.fill(0.0);
        self.order.entries().for_each(|(row, column)| j[row][column] = 0.0);
        for way in self.ways.iter().filter(|way| !way.is_dry(levels)) {
            let (up, down) = (way.up, way.down);
            let flow = elements[way.element].flow(levels[up], levels[down]);
            f[up] -= flow.q;
            f[down] += flow.q;
            j[up][up] -= flow.up;
            j[down][up] += flow.up;
            // No discharge depends on the level of a sink; nothing then stands in its column.
            if way.feels_down {
                j[up][down] -= flow.down;
                j[down][down] += flow.down;
            }
        }
    }

    /// Levels (m) of all tanks at these volumes (m³), and one over the areas there (1/m²).
    #[inline]
    pub(crate) fn levels<const W: usize>(
        &self,
        volumes: &Vector<W>,
        levels: &mut Vector<W>,
        inverse_areas: &mut Vector<W>,
    ) {
        for (i, ends) in self.first.windows(2).enumerate() {
            let slices = &self.slices[ends[0]..ends[1]];
            let Some(mut here) = slices.first() else { continue };
            for above in &slices[1..] {
                if volumes[i] < above.from_m3 {
                    break;
                }
                here = above;
            }
            levels[i] = here.from_m + (volumes[i] - here.from_m3) * here.per_area;
            inverse_areas[i] = here.per_area;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::network::{Kind, Step};

    #[test]
    fn levels_are_those_of_the_tanks() {
        let step = |z_m, area_m2| Step { z_m, area_m2 };
        let steps = vec![step(0.8, 0.5), step(1.05, 0.6), step(1.2, 0.03)];
        let tanks = vec![
            Tank { name: "stepped".into(), steps, is_sink: false },
            Tank::prism("plain", 0.1, 0.2),
        ];
        let network = Network { tanks, elements: vec![] };
        let layout = Layout::new(&network);
        for i in -5..60_i32 {
            let volume = 0.01 * f64::from(i);
            let (mut z, mut per_area) = ([0.0; 8], [0.0; 8]);
            layout.levels(&[volume; 8], &mut z, &mut per_area);
            for (k, tank) in network.tanks.iter().enumerate() {
                let (level, area) = tank.level(volume);
                assert!((z[k] - level).abs() < 1e-14, "{} and {level} m", z[k]);
                assert!((per_area[k] * area - 1.0).abs() < 1e-14, "at {level} m");
            }
        }
    }

    /// What is left out because it is dry passes nothing, and what is not left out is all there.
    #[test]
    fn inflow_is_that_of_all_open_elements() {
        let names = ["a", "b", "c"];
        let tanks: Vec<Tank> = names.iter().map(|name| Tank::prism(*name, 0.0, 0.1)).collect();
        let laws = [
            Law::rectangle(0.1, 0.2, 0.05),
            Law::crest(0.15, 0.3, 0.006, 0.15, 0.4),
            Law::lip(0.12, 0.04, None),
            Law::mouth(0.18, 0.2, 0.003),
            Law::fabric(0.05, 0.25, 0.5, 0.02, 1e-3),
            Law::rate(1e-5, None),
        ];
        let element = |(i, law)| {
            let (up, down) = (i % 3, (i + 1) % 3);
            Element {
                name: format!("way {i}"),
                kind: Kind::Given,
                up,
                down,
                law,
                scale: 1.0,
                lean: 0.3,
            }
        };
        let elements: Vec<Element> = laws.into_iter().enumerate().map(element).collect();
        let mut network = Network { tanks, elements };
        network.elements[1].scale = 0.0;
        let mut layout = Layout::new(&network);
        layout.look(&network);
        let heights = [0.02, 0.08, 0.13, 0.17, 0.22, 0.3];
        for i in 0..216 {
            let levels =
                [heights[i % 6], heights[i / 6 % 6], heights[i / 36], 0.0, 0.0, 0.0, 0.0, 0.0];
            let (mut f, mut g, mut j) = ([0.0; 8], [0.0; 8], [[0.0; 8]; 8]);
            layout.inflow(&network.elements, &levels, &mut f);
            layout.linearise(&network.elements, &levels, &mut g, &mut j);
            for (k, q) in network.inflow(&levels[..3]).into_iter().enumerate() {
                assert!((f[k] - q).abs() < 1e-18 && (g[k] - q).abs() < 1e-18, "{} {q}", f[k]);
            }
            for column in 0..3 {
                let sum: f64 = j.iter().map(|row| row[column]).sum();
                assert!(sum.abs() < 1e-15, "column {column}: {sum}");
            }
        }
    }
}
