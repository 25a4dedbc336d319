//! Numbers of the water in the units of the file, as finely as they are known.

use units::{Flow, Length, MM_PER_IN, System, Volume};
use water::Figure;

/// Shows numbers in SI in a system of units.
#[derive(Clone, Copy, Debug)]
pub struct Figures(pub System);

/// A band of which one side is less than this share of the other is told by its ends.
const LOPSIDED: f64 = 0.5;

impl Figures {
    /// A height or depth, to a millimetre or a twentieth of an inch: estimates are no finer.
    pub fn length(self, m: f64) -> String {
        if !m.is_finite() {
            return UNKNOWN.to_owned();
        }
        Length::mm(self.rounded_mm(m)).show(self.0)
    }

    /// A height as finely as it is shown, mm.
    pub fn rounded_mm(self, m: f64) -> f64 {
        match self.0 {
            System::Metric => (m * 1e3).round(),
            System::UsCustomary => (m * 1e3 / MM_PER_IN * 20.0).round() / 20.0 * MM_PER_IN,
        }
    }

    /// The same with how far it may be off: `214 mm ±5`.
    pub fn length_band(self, figure: Figure) -> String {
        let off_m = (figure.high - figure.mid).max(figure.mid - figure.low);
        if !off_m.is_finite() {
            return format!("{} ±?", self.length(figure.mid));
        }
        if off_m < SURE_M {
            return self.length(figure.mid);
        }
        // Where one side is much wider than the other, ± would invent the other.
        let (above, below) = (figure.high - figure.mid, figure.mid - figure.low);
        if above.min(below) < LOPSIDED * off_m {
            let (low, high) = (self.length(figure.low), self.length(figure.high));
            let low = low.split(' ').next().unwrap_or_default();
            return format!("{} ({low} to {high})", self.length(figure.mid));
        }
        // A doubt is rounded up.
        let off = match self.0 {
            System::Metric => format!("{:.0}", (off_m * 1e3).ceil()),
            System::UsCustomary => {
                let twentieths = (off_m * 1e3 / MM_PER_IN * 20.0).ceil();
                format!("{:.2}", twentieths / 20.0)
            }
        };
        format!("{} ±{off}", self.length(figure.mid))
    }

    /// A flow: `3120 L/h`.
    pub fn flow(self, m3_s: f64) -> String {
        if !m3_s.is_finite() {
            return UNKNOWN.to_owned();
        }
        Flow::l_per_h(tens(m3_s * 3.6e6)).show(self.0)
    }

    /// The same with how far it may be off.
    pub fn flow_band(self, figure: Figure) -> String {
        let off = (figure.high - figure.mid).max(figure.mid - figure.low);
        let percent = 100.0 * off / figure.mid.abs();
        if percent.is_finite() {
            format!("{} ±{:.0} %", self.flow(figure.mid), (percent - 1e-6).ceil())
        } else {
            self.flow(figure.mid)
        }
    }

    /// A volume from litres.
    pub fn litres(self, l: f64) -> String {
        if !l.is_finite() {
            return UNKNOWN.to_owned();
        }
        Volume::l(l).show(self.0)
    }

    /// A volume.
    pub fn volume(self, m3: f64) -> String {
        self.litres(m3 * 1e3)
    }

    /// A speed: `118 mm/s`, `4.6 in/s`.
    pub fn speed(self, m_s: f64) -> String {
        match self.0 {
            System::Metric => format!("{:.0} mm/s", m_s * 1e3),
            System::UsCustomary => format!("{:.1} in/s", m_s * 1e3 / MM_PER_IN),
        }
    }

    /// The diameter of a bubble: `0.6 mm`, `0.02 in`.
    pub fn bubble(self, m: f64) -> String {
        Length::mm(m * 1e3).show(self.0)
    }

    /// A head of a pump: `1.52 m`, `5.0 ft`.
    pub fn head(self, m: f64) -> String {
        match self.0 {
            System::Metric => format!("{m:.2} m"),
            System::UsCustomary => format!("{:.1} ft", m * 1e3 / MM_PER_IN / 12.0),
        }
    }
}

/// A doubt less than this is none, m.
const SURE_M: f64 = 1e-5;

/// Stands where nothing is known.
pub const UNKNOWN: &str = "?";
/// Stands where there is nothing.
pub const NONE: &str = "–";

/// Larger flows to ten litres an hour: they are not known better.
fn tens(l_h: f64) -> f64 {
    if l_h.abs() < 100.0 { l_h } else { (l_h / 10.0).round() * 10.0 }
}

/// A time: `8 s`, `4 min`, `2.5 h`, `3.2 days`.
pub fn time(s: f64) -> String {
    let digits = |value: f64| if value < 9.95 { 1 } else { 0 };
    let of = |value: f64, unit: &str| format!("{value:.*} {unit}", digits(value));
    match s {
        s if s.is_nan() => UNKNOWN.to_owned(),
        s if s.is_infinite() => "never".to_owned(),
        s if s < 100.0 => format!("{s:.0} s"),
        s if s < 6000.0 => of(s / 60.0, "min"),
        s if s < 48.0 * 3600.0 => of(s / 3600.0, "h"),
        s => of(s / 86400.0, "days"),
    }
}

/// A time since a failure, in two units: `54 s`, `4 min 12 s`, `1 h 19 min`; long ones in one.
pub fn clock(s: f64) -> String {
    if !s.is_finite() || s >= 10.0 * 3600.0 - 30.0 {
        return time(s);
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "less than ten hours, and never negative"
    )]
    let whole = |value: f64| value.max(0.0).round() as u64;
    let two = |great: u64, unit: &str, small: u64, part: &str| match small {
        0 => format!("{great} {unit}"),
        _ => format!("{great} {unit} {small} {part}"),
    };
    let (seconds, minutes) = (whole(s), whole(s / 60.0));
    match seconds {
        0..100 => format!("{seconds} s"),
        100..600 => two(seconds / 60, "min", seconds % 60, "s"),
        600..3570 => format!("{minutes} min"),
        _ => two(minutes / 60, "h", minutes % 60, "min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_systems() {
        let figure = Figure { mid: 0.2144, low: 0.2113, high: 0.2201 };
        assert_eq!(Figures(System::Metric).length_band(figure), "214 mm ±6");
        assert_eq!(Figures(System::UsCustomary).length_band(figure), "8.45 in ±0.25");
        assert_eq!(Figures(System::Metric).length_band(Figure::exact(0.15)), "150 mm");
        assert_eq!(Figures(System::Metric).length(f64::NAN), "?");
        let flow = Figure { mid: 1e-3, low: 0.95e-3, high: 1.02e-3 };
        assert_eq!(Figures(System::Metric).flow_band(flow), "3600 L/h ±5 %");
        assert_eq!(Figures(System::UsCustomary).flow_band(flow), "951 gph ±5 %");
        assert_eq!(Figures(System::UsCustomary).head(1.524), "5.0 ft");
        assert_eq!(Figures(System::Metric).bubble(6e-4), "0.6 mm");
        assert_eq!(Figures(System::UsCustomary).bubble(6e-4), "0.02 in");
    }

    #[test]
    fn times_and_clocks() {
        let shown = [8.4, 99.4, 240.0, 5400.0, 9000.0, 360_000.0].map(time);
        assert_eq!(shown, ["8 s", "99 s", "4.0 min", "90 min", "2.5 h", "4.2 days"]);
        assert_eq!(time(f64::INFINITY), "never");
        let shown = [0.2, 99.0, 252.0, 300.0, 1800.0, 3599.0, 4740.0, 7200.0, 82_800.0].map(clock);
        let expected =
            ["0 s", "99 s", "4 min 12 s", "5 min", "30 min", "1 h", "1 h 19 min", "2 h", "23 h"];
        assert_eq!(shown, expected);
        assert_eq!([86_400.0 * 5.0, f64::INFINITY].map(clock), ["5.0 days", "never"]);
    }
}
