//! What the tests of the kinds share.

use plate::{Contour, Shape, Tolerance, arrange};

use crate::fitting::Fitting;
use crate::printer::Printer;

/// The usual printer without elephant's foot: volumes are then those of plain arithmetic.
pub(crate) const FLAT: Printer = Printer {
    nozzle_mm: 0.4,
    layer_mm: 0.2,
    bed_mm: [200.0; 3],
    clearance_mm: 0.25,
    hole_loss_mm: 0.2,
    foot_mm: 0.0,
    filament: crate::filament::Filament::Petg,
};

pub(crate) fn volume_mm3(fitting: &Fitting) -> f64 {
    match &fitting.shape {
        Shape::Sheet(plate) => {
            arrange(plate, &Tolerance::default()).expect("an arrangement").volume()
        }
        Shape::Turned(turned) => turned.volume_mm3(),
    }
}

/// Within a millionth of the larger.
#[track_caller]
pub(crate) fn is_close(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-6 * a.abs().max(b.abs()), "{a} {b}");
}

/// The profile, seen from above as it lies on the bed.
pub(crate) fn outline(fitting: &Fitting) -> &Contour {
    match &fitting.shape {
        Shape::Sheet(plate) => &plate.outline,
        Shape::Turned(_) => panic!("it is turned"),
    }
}

/// What goes through, in the order in which it was cut.
pub(crate) fn holes(fitting: &Fitting) -> Vec<&Contour> {
    match &fitting.shape {
        Shape::Sheet(plate) => plate
            .cuts
            .iter()
            .filter(|cut| cut.depth >= plate.thickness)
            .map(|cut| &cut.contour)
            .collect(),
        Shape::Turned(_) => panic!("it is turned"),
    }
}
