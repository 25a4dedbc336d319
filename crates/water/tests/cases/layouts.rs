//! Random layouts: chains of chambers with parallel branches, by-passes, double passages, dead ends and
//! drowned crests, under a display with its drains. The dice fall the same on every run.

use std::sync::Arc;

use water::law::{Gate, Strip, Strips};
use water::{Element, Kind, Law, Network, PumpTable, Table, Tank};

/// xorshift64: Marsaglia, J. Stat. Softw. 8 (2003) 14.
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        // Seeds that differ by one differ everywhere after this.
        Self(seed.wrapping_add(1).wrapping_mul(0x9E37_79B9_7F4A_7C15))
    }

    fn bits(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 >> 11
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.bits() as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.bits() % n as u64).expect("below a usize")
    }
}

pub(crate) struct Layout {
    pub(crate) network: Network,
    /// Only the return chamber and the source.
    pub(crate) held: Vec<bool>,
    pub(crate) order: Vec<usize>,
    /// The return chamber's given level, and 1.2 m above, its level elsewhere.
    pub(crate) start_m: Vec<f64>,
    pub(crate) return_tank: usize,
    /// Index of an element that brings water from outside into the inlet; closed.
    pub(crate) source: usize,
    pub(crate) flow_m3_s: f64,
}

fn passage(dice: &mut Dice, up: usize, down: usize, elements: &mut Vec<Element>) {
    const OPEN: f64 = f64::INFINITY;
    let w = dice.between(0.12, 0.45);
    let strip = |z0_m, z1_m, width_m| Strip { z0_m, z1_m, width_m };
    let over = strip(0.33, OPEN, w);
    let strips = |strips: &[Strip]| Law::Strips(Strips::new(0.61, strips.to_vec()));
    let law = match dice.below(6) {
        0 => {
            let z = dice.between(0.02, 0.30);
            Law::crest(z, w, 0.006, z, w)
        }
        1 => {
            let z = dice.between(0.05, 0.28);
            strips(&[strip(z, z + 0.03, 0.4 * w), strip(z + 0.03, OPEN, w)])
        }
        2 => {
            let z = dice.between(0.0, 0.2);
            strips(&[strip(z, z + dice.between(0.02, 0.06), w), over])
        }
        3 => strips(&[strip(0.0, dice.between(0.01, 0.08), w), over]),
        // A wide slot: nearly equal levels.
        4 => strips(&[strip(dice.between(0.0, 0.1), OPEN, w)]),
        // A door with half a millimetre below it.
        _ => strips(&[strip(0.0, 0.0005, 0.2), strip(dice.between(0.1, 0.3), OPEN, w)]),
    };
    let name = format!("passage {}", elements.len());
    elements.push(Element { name, kind: Kind::Opening, up, down, law, scale: 1.0, lean: 0.0 });
}

/// The chambers from the inlet to the return, and the order against the flow.
fn chambers(dice: &mut Dice, inlet: usize, ret: usize, elements: &mut Vec<Element>) -> Vec<usize> {
    let mut order = vec![0, 1];
    let mut i = inlet;
    while i < ret {
        order.push(i);
        let left = ret - i;
        i += match dice.below(5) {
            0 if 3 <= left => {
                for (a, b) in [(0, 1), (0, 2), (1, 3), (2, 3)] {
                    passage(dice, i + a, i + b, elements);
                }
                if dice.below(2) == 0 {
                    passage(dice, i + 1, i + 2, elements);
                }
                order.extend([i + 1, i + 2]);
                3
            }
            1 if 2 <= left => {
                passage(dice, i, i + 1, elements); // a dead end
                passage(dice, i, i + 2, elements);
                2
            }
            2 => {
                passage(dice, i, i + 1, elements);
                passage(dice, i, i + 1, elements);
                1
            }
            3 if 2 <= left => {
                for (a, b) in [(0, 1), (1, 2), (0, 2)] {
                    passage(dice, i + a, i + b, elements);
                }
                order.push(i + 1);
                2
            }
            _ => {
                passage(dice, i, i + 1, elements);
                1
            }
        };
    }
    order.reverse();
    order
}

pub(crate) fn layout(seed: u64) -> Layout {
    let dice = &mut Dice::new(seed);
    let count = 4 + dice.below(9);
    let (inlet, ret) = (2, count + 1);
    let mut tanks = vec![Tank::prism("display", 0.8, 0.6), Tank::prism("box", 1.0, 0.03)];
    tanks.extend(
        (0..count).map(|i| Tank::prism(format!("chamber {i}"), 0.0, dice.between(0.02, 0.18))),
    );
    tanks.push(Tank::prism("source", 0.0, 1.0));

    let pump = Arc::new(PumpTable::build(5.0, 2, |lift| {
        let q = ((5.0 - lift) / 1.87e6_f64).sqrt();
        (q, -0.5 / (1.87e6 * q))
    }));
    let drain = Arc::new(Table::build(0.0, 1.3, 2, |u| (1.35e-3 * u, 1.35e-3)));
    let gate = |z_m| Some(Gate { z_m, over_m: 0.02 });
    let comb = [
        Strip { z0_m: 1.30, z1_m: 1.325, width_m: dice.between(0.2, 0.5) },
        Strip { z0_m: 1.345, z1_m: f64::INFINITY, width_m: 0.5 },
    ];
    let mut elements: Vec<Element> = Vec::new();
    let mut add = |name: &str, up, down, law, scale| {
        let kind = Kind::Given;
        elements.push(Element { name: name.into(), kind, up, down, law, scale, lean: 0.0 });
    };
    let flow = dice.between(0.2, 1.2);
    add("pump", ret, 0, Law::pump(1.28, gate(0.02), pump), flow);
    add("main", 1, inlet, Law::pipe(0.22, gate(1.15), drain), dice.between(0.2, 1.3));
    add("second", 1, inlet, Law::lip(1.22, 0.04, None), 1.0);
    add("emergency", 1, inlet, Law::lip(1.25, 0.05, None), 1.0);
    add("comb", 0, 1, Law::Strips(Strips::new(0.6, comb.to_vec())), 1.0);
    add("source", ret + 1, inlet, Law::rate(1e-4, None), 0.0);
    let order = chambers(dice, inlet, ret, &mut elements);

    let tank_count = tanks.len();
    let return_m = dice.between(0.06, 0.28);
    let mut start_m = vec![return_m; tank_count];
    start_m[..2].fill(1.2);
    let held = (0..tank_count).map(|i| ret <= i).collect();
    Layout {
        network: Network { tanks, elements },
        held,
        order,
        start_m,
        return_tank: ret,
        source: 5,
        flow_m3_s: flow * 1.43e-3,
    }
}
