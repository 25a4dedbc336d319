//! The panel that speed is measured on, for the bench and for `examples/panel_speed.rs`.
use glam::dvec2;
use plate::{Contour, Cut, Plate};

/// A sheet of 600 × 400 × 6 mm with rounded corners and `n` × `n` rounded slots.
pub(crate) fn slotted(n: u32) -> Plate {
    let outline = Contour::rounded_rectangle(dvec2(0.0, 0.0), dvec2(600.0, 400.0), 10.0);
    let mut plate = Plate::new(outline, 6.0);
    let field = dvec2(600.0, 400.0) / f64::from(n);
    for i in 0..n {
        for j in 0..n {
            let centre = field * (dvec2(f64::from(i), f64::from(j)) + 0.5);
            let radius = 0.1 * field.y;
            let reach = dvec2(0.3 * field.x - radius, 0.0);
            plate.cuts.push(Cut::through(Contour::slot(centre - reach, centre + reach, radius)));
        }
    }
    plate
}
