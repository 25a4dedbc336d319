//! What may be carried for hours and for days, from what may be carried for years: for sheet and for screws.

use crate::panel::Duration;

/// A load of hours may stress a part so many times what it may carry for years. For cast acrylic in water that is 9 MPa, below
/// the 10.3 MPa (1500 psi) that makers' data sheets give as the most for years in air; our judgement.
const HOURS: f64 = 3.0;
/// The same of a load of days; our judgement: plastic loses strength evenly with the logarithm of time, so that between 3 for
/// hours and 1 for ten years a week lies at about 2.
const DAYS: f64 = 2.0;
/// But never more than this share of its strength in a short test, for hours; our judgement.
const HOURS_SHARE: f64 = 0.15;
/// The same for days; our judgement.
const DAYS_SHARE: f64 = 0.12;

/// What may be carried for so long where `lasting` may be carried for years and `strength` breaks it in a short test: stresses
/// or forces, all in one unit.
pub(crate) fn limit(lasting: f64, strength: f64, duration: Duration) -> f64 {
    let at_most = |times: f64, share: f64| {
        // A lasting value that is given may be above the share: what holds for years holds for a day.
        (times * lasting).min(share * strength).max(lasting)
    };
    match duration {
        Duration::Years => lasting,
        Duration::Days => at_most(DAYS, DAYS_SHARE),
        Duration::Hours => at_most(HOURS, HOURS_SHARE),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn longer_loads_may_carry_less() {
        let of = |lasting: f64, strength: f64| {
            [Duration::Hours, Duration::Days, Duration::Years].map(|d| limit(lasting, strength, d))
        };
        let near = |a: [f64; 3], b: [f64; 3]| a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-9);
        assert!(near(of(2.5, 70.0), [7.5, 5.0, 2.5]));
        assert!(near(of(5.0, 70.0), [10.5, 8.4, 5.0]), "shares of the strength cap both");
        assert!(near(of(12.0, 70.0), [12.0, 12.0, 12.0]), "never below what holds for years");
    }

    /// The rung of a week between three times for three hours and once for ten years, on the logarithm of time.
    #[test]
    fn a_week_lies_at_about_twice() {
        let at = |hours: f64| {
            let [from, to] = [3.0_f64, 87_660.0].map(f64::ln);
            HOURS - (HOURS - 1.0) * (hours.ln() - from) / (to - from)
        };
        assert!((at(168.0) - DAYS).abs() < 0.3, "{}", at(168.0));
    }
}
