//! What the tests of plates share.
#![allow(dead_code, reason = "every test file uses a part of it")]
#![allow(clippy::allow_attributes, reason = "not every test file leaves something unused")]

pub(crate) mod levy;
pub(crate) mod ritz;

use bending::{Bending, Field, Plate, Pressure, Support, bend};

/// With this modulus and a thickness of 1 mm a plate with ν = 0.3 has the rigidity 1 N·m, so that results are coefficients.
pub(crate) const UNIT_MODULUS: f64 = 12.0 * 0.91 * 1e9;

/// A plate `a` wide and 1 m high with rigidity 1; edges left, right, bottom, top as S, C or F.
pub(crate) fn unit(a: f64, edges: &str) -> Plate {
    Plate::new([a, 1.0], 1e-3, UNIT_MODULUS, 0.3).with_edges(supports(edges))
}

pub(crate) fn supports(edges: &str) -> [Option<Support>; 4] {
    let mut supports = [None; 4];
    for (support, letter) in supports.iter_mut().zip(edges.chars()) {
        *support = match letter {
            'S' => Some(Support::Hinge),
            'C' => Some(Support::Clamp),
            'F' => None,
            _ => panic!("an edge is S, C or F"),
        };
    }
    supports
}

/// Water to the top of a plate that is 1 m high, 1 Pa at the bottom.
pub(crate) fn water() -> Pressure {
    Pressure::water(1.0, 1.0)
}

pub(crate) fn solved(plate: &Plate, load: Pressure) -> Bending {
    bend(plate, &[vec![load]]).expect("it stands")
}

pub(crate) fn field(plate: &Plate, load: Pressure) -> Field {
    solved(plate, load).fields.remove(0)
}

#[track_caller]
pub(crate) fn close(got: f64, want: f64, share: f64) {
    assert!((got - want).abs() <= share * want.abs(), "got {got}, want {want}");
}

/// Within a share, and half a unit of the last printed digit.
#[track_caller]
pub(crate) fn printed(what: &str, got: f64, want: f64, digit: f64, share: f64) {
    let limit = 0.5001 * digit + share * want.abs();
    assert!((got - want).abs() <= limit, "{what}: got {got}, printed {want}");
}
