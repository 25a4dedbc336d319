//! How much water evaporates, and what that does to the salt.

use serde::Serialize;

use crate::seawater::{OutOfRange, vapour_pressure};

/// Air over the water.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Air {
    /// Temperature, °C.
    pub temperature_c: f64,
    /// Relative humidity, 0 to 1.
    pub humidity: f64,
}

/// Standard atmosphere, Pa. Source: ISO 2533.
pub const ATMOSPHERE_PA: f64 = 101_325.0;

/// Dry air and vapour in moist air at one atmosphere.
struct Moist {
    vapour_pa: f64,
    /// Vapour per dry air, kg/kg.
    ratio: f64,
    /// Dry air, kg/m³.
    dry: f64,
}

/// Ideal mixture: `W = 0.621945·p/(P − p)`, gas constant of dry air 287.042 J/(kg·K). Source: ASHRAE
/// Handbook *Fundamentals* (2017), chapter 1; within 0.5 % of real moist air in a room.
fn moist(temperature_c: f64, vapour_pa: f64) -> Moist {
    let dry_pa = ATMOSPHERE_PA - vapour_pa;
    Moist {
        vapour_pa,
        ratio: 0.621_945 * vapour_pa / dry_pa,
        dry: dry_pa / (287.042 * (temperature_c + 273.15)),
    }
}

fn at_surface_and_in_room(water_c: f64, salinity_g_kg: f64, air: Air) -> (Moist, Moist) {
    let room_pa = air.humidity * vapour_pressure(air.temperature_c, 0.0);
    (moist(water_c, vapour_pressure(water_c, salinity_g_kg)), moist(air.temperature_c, room_pa))
}

/// Whether water and air are within what Shah's formula was tested against: 7 to 94 °C water (here 40,
/// for the properties of water), 6 to 35 °C air, 28 to 98 % humidity.
pub fn in_range(water_c: f64, air: Air) -> Result<(), OutOfRange> {
    OutOfRange::check("temperature of the water in °C", water_c, 7.0, 40.0)?;
    OutOfRange::check("temperature of the air in °C", air.temperature_c, 6.0, 35.0)?;
    OutOfRange::check("relative humidity", air.humidity, 0.28, 0.98)
}

/// Evaporation of a still surface in a room without draught, kg/(m²·s), never negative.
///
/// The larger of `35·ρ_w·(ρ_r − ρ_w)^⅓·(W_w − W_r)`, by the buoyancy of the moist air, and
/// `5e-5·(p_w − p_r)`, by the room's air currents; kg/(m²·h), ρ kg of dry air per m³, W kg/kg, p Pa, at
/// the surface (saturated, the water's temperature) and in the room. For its range see [`in_range`]
/// (from memory). Source: Shah, *ASHRAE Transactions* 120 (2014) part 2, SE-14-001. Fans, splash and
/// bubbles add to it.
pub fn shah(water_c: f64, salinity_g_kg: f64, air: Air) -> f64 {
    let (surface, room) = at_surface_and_in_room(water_c, salinity_g_kg, air);
    let lift = (room.dry - surface.dry).max(0.0);
    let natural = 35.0 * surface.dry * lift.cbrt() * (surface.ratio - room.ratio);
    let currents = 5e-5 * (surface.vapour_pa - room.vapour_pa);
    natural.max(currents).max(0.0) / 3600.0
}

/// Evaporation under air that moves along the surface, kg/(m²·s), never negative.
///
/// `(p_w − p_r)·(0.089 + 0.0782·V)/Y`, p in kPa, V in m/s, Y = 2430 kJ/kg. Source: Carrier (1918) as in
/// ASHRAE Handbook *HVAC Applications*, chapter on natatoriums, activity factor 1. Known to give half as
/// much again as measured on still surfaces; the upper of two estimates.
pub fn carrier(water_c: f64, salinity_g_kg: f64, air: Air, speed_m_s: f64) -> f64 {
    let (surface, room) = at_surface_and_in_room(water_c, salinity_g_kg, air);
    let kpa = (surface.vapour_pa - room.vapour_pa).max(0.0) / 1000.0;
    kpa * (0.089 + 0.0782 * speed_m_s.max(0.0)) / 2430.0
}

/// Salinity, g/kg, of this mass after fresh water has left it (or, negative, come to it): salt stays.
pub fn salinity_after_loss(mass_kg: f64, salinity_g_kg: f64, lost_kg: f64) -> f64 {
    salinity_g_kg * mass_kg / (mass_kg - lost_kg)
}

/// Salinity, g/kg, of two waters mixed.
pub fn salinity_mixed(mass_kg: f64, salinity_g_kg: f64, added_kg: f64, added_g_kg: f64) -> f64 {
    (mass_kg * salinity_g_kg + added_kg * added_g_kg) / (mass_kg + added_kg)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_humid_air_of_a_reference_library() {
        // Same formulas on CoolProp 8.0 HumidAir (real moist air); kg/(m²·h).
        for (water_c, air_c, humidity, shah_h, carrier_h) in [
            (25.0, 22.0, 0.5, 0.1542, 0.2434),
            (25.0, 20.0, 0.6, 0.1574, 0.2328),
            (26.0, 22.0, 0.4, 0.2075, 0.3042),
            (28.0, 24.0, 0.5, 0.2046, 0.3027),
            (25.0, 25.0, 0.5, 0.1089, 0.2089),
        ] {
            let air = Air { temperature_c: air_c, humidity };
            assert!((shah(water_c, 0.0, air) * 3600.0 / shah_h - 1.0).abs() < 0.015);
            assert!((carrier(water_c, 0.0, air, 0.0) * 3600.0 / carrier_h - 1.0).abs() < 0.01);
        }
    }

    #[test]
    fn agrees_with_the_authors_tables() {
        // Shah's look-up values for 28 °C water, 50 % humidity: 28 and 29 °C air; kg/(m²·h).
        for (air_c, e) in [(28.0, 0.1360), (29.0, 0.1171)] {
            let air = Air { temperature_c: air_c, humidity: 0.5 };
            assert!((shah(28.0, 0.0, air) * 3600.0 / e - 1.0).abs() < 0.015);
        }
    }

    #[test]
    fn nothing_evaporates_into_warm_wet_air() {
        let air = Air { temperature_c: 30.0, humidity: 1.0 };
        assert!(shah(20.0, 0.0, air).abs() < 1e-300 && carrier(20.0, 0.0, air, 0.0).abs() < 1e-300);
    }

    #[test]
    fn range_is_named() {
        assert!(in_range(25.0, Air { temperature_c: 22.0, humidity: 0.5 }).is_ok());
        let error = in_range(25.0, Air { temperature_c: 40.0, humidity: 0.5 }).unwrap_err();
        assert_eq!(
            error.to_string(),
            "the temperature of the air in °C 40 is outside 6 to 35, where the formulas hold"
        );
    }

    #[test]
    fn salt_stays() {
        // Mass balance by hand: 307.00 kg with 10.79577 kg of salt, 5 kg lost; 20 L of fresh water added.
        let s = 10.795_77e3 / 307.0;
        assert!((salinity_after_loss(307.0, s, 5.0) - 35.747).abs() < 1e-3);
        assert!((salinity_mixed(307.0, s, 19.941, 0.0) - 33.020).abs() < 1e-3);
    }
}
