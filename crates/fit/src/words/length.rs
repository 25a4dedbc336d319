//! Lengths as a hand moves them.

use units::{MM_PER_IN, System};

/// A length to move something by: whole millimetres, tenths below 10 mm; inches to the eighth, below one inch to
/// the sixteenth: `3 1/2 in`. Finer than a hand is not told.
pub fn length(mm: f64, system: System) -> String {
    match system {
        System::Metric if mm < 9.95 => units::Length::mm(mm).show(system),
        System::Metric => format!("{mm:.0} mm"),
        System::UsCustomary => inches(mm / MM_PER_IN),
    }
}

fn inches(inches: f64) -> String {
    // Below an inch in sixteenths, above in eighths, which are even sixteenths.
    let sixteenths =
        if inches < 1.0 { (inches * 16.0).round() } else { (inches * 8.0).round() * 2.0 };
    let whole = (sixteenths / 16.0).floor();
    let rest = sixteenths - 16.0 * whole;
    let mut parts = Vec::new();
    if 0.0 < whole || rest < 0.5 {
        parts.push(format!("{whole:.0}"));
    }
    if 0.5 < rest {
        let (mut top, mut bottom) = (rest, 16.0);
        while 1.0 < bottom && (top / 2.0).fract() < 0.25 {
            (top, bottom) = (top / 2.0, bottom / 2.0);
        }
        parts.push(format!("{top:.0}/{bottom:.0}"));
    }
    if sixteenths < 0.5 {
        "less than 1/16 in".to_owned()
    } else {
        format!("{} in", parts.join(" "))
    }
}
