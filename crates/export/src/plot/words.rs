//! Numbers on axes and in words, in the units of the file.

use units::{Flow, Length, System, Volume};
use water::Figure;

use crate::decimal::decimal;

/// A way to show heights or volumes on an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Unit {
    pub(super) name: &'static str,
    /// How many of it a metre, or a cubic metre, is.
    pub(super) per_si: f64,
}

/// The unit of heights.
pub(super) fn height_unit(system: System) -> Unit {
    match system {
        System::Metric => Unit { name: "mm", per_si: Length::mm(1000.0).to_mm() },
        System::UsCustomary => Unit { name: "in", per_si: Length::mm(1000.0).to_in() },
    }
}

/// The unit of volumes. US gallon of 231 in³: NIST SP 811 (2008), B.8.
pub(super) fn volume_unit(system: System) -> Unit {
    match system {
        System::Metric => Unit { name: "L", per_si: 1000.0 },
        System::UsCustomary => Unit { name: "gal", per_si: 1000.0 / 3.785_411_784 },
    }
}

/// A height in metres.
pub(super) fn height(m: f64, system: System) -> String {
    Length::mm(m * 1e3).show(system)
}

/// A volume in litres.
pub(super) fn volume(l: f64, system: System) -> String {
    Volume::l(l).show(system)
}

/// A flow in m³/s.
pub(super) fn flow(m3_s: f64, system: System) -> String {
    Flow::l_per_h(m3_s * 3.6e6).show(system)
}

/// A figure in metres with its band: `262.3 mm (260–265)`; without the band where it does not show.
pub(super) fn height_with_band(figure: Figure, system: System) -> String {
    with_band(figure, |m| height(m, system))
}

/// A figure in litres with its band.
pub(super) fn volume_with_band(figure: Figure, system: System) -> String {
    with_band(figure, |l| volume(l, system))
}

/// A figure with its band.
pub(super) fn with_band(figure: Figure, show: impl Fn(f64) -> String) -> String {
    let [mid, low, high] = [figure.mid, figure.low, figure.high].map(show);
    if low == high {
        return mid;
    }
    let bare = |text: &str| text.split(' ').next().unwrap_or_default().to_owned();
    format!("{mid} ({} to {})", bare(&low), bare(&high))
}

/// How long, as one would say it: `45 s`, `12 min 5 s`, `3 h 20 min`, `4.2 days`.
pub(super) fn duration(s: f64) -> String {
    let whole = |x: f64| decimal(x, 0);
    let two = |big: f64, unit: &str, small: f64, small_unit: &str| {
        if small > 0.0 {
            format!("{} {unit} {} {small_unit}", whole(big), whole(small))
        } else {
            format!("{} {unit}", whole(big))
        }
    };
    let s = s.round();
    if s < 90.0 {
        format!("{} s", whole(s))
    } else if s < 1200.0 {
        two((s / 60.0).floor(), "min", s % 60.0, "s")
    } else if s < 5400.0 {
        format!("{} min", whole(s / 60.0))
    } else if s < 48.0 * 3600.0 {
        let min = (s / 60.0).round();
        two((min / 60.0).floor(), "h", min % 60.0, "min")
    } else {
        format!("{} days", decimal(s / 86_400.0, 1))
    }
}

/// The first letter as a capital.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

/// Round numbers from `lo` to `hi`, at most `most` of them: steps of 1, 2 or 5 times a power of ten.
pub(super) fn ticks(lo: f64, hi: f64, most: f64) -> Vec<f64> {
    let steps = (-4..8).flat_map(|k| [1.0, 2.0, 5.0].map(|m| m * 10f64.powi(k)));
    ticks_of(lo, hi, most, steps)
}

/// The same with the first of these steps that is long enough.
pub(super) fn ticks_of(
    lo: f64,
    hi: f64,
    most: f64,
    steps: impl IntoIterator<Item = f64>,
) -> Vec<f64> {
    let Some(step) = steps.into_iter().find(|step| (hi - lo) / step <= most) else {
        return Vec::new();
    };
    let first = (lo / step - 1e-9).ceil();
    let all = std::iter::successors(Some(first), |k| Some(k + 1.0)).map(|k| k * step);
    all.take_while(|v| *v <= hi + 1e-9 * step).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn durations_are_said_as_people_say_them() {
        let all = [45.0, 125.0, 600.0, 3000.0, 12_000.0, 363_000.0].map(duration);
        assert_eq!(all, ["45 s", "2 min 5 s", "10 min", "50 min", "3 h 20 min", "4.2 days"]);
    }

    #[test]
    fn ticks_are_round_and_within() {
        assert_eq!(ticks(-3.0, 112.0, 6.0), [0.0, 20.0, 40.0, 60.0, 80.0, 100.0]);
        assert_eq!(ticks(0.0, 1.0, 5.0), [0.0, 0.2, 0.4, 0.6000000000000001, 0.8, 1.0]);
    }

    #[test]
    fn a_band_that_does_not_show_is_left_out() {
        let figure = Figure { mid: 0.25, low: 0.245, high: 0.2561 };
        assert_eq!(height_with_band(figure, System::Metric), "250 mm (245 to 256.1)");
        assert_eq!(height_with_band(Figure::exact(0.0254), System::UsCustomary), "1 in");
    }
}
