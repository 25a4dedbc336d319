//! Fresh and salt water: density, viscosity, surface tension, vapour pressure, salt.

use serde::Serialize;
use thiserror::Error;

/// Absolute salinity of standard seawater, g/kg, over its practical salinity of 35.
/// Source: Millero et al., *Deep-Sea Research I* 55 (2008) 50 (reference-composition salinity scale).
pub const ABSOLUTE_PER_PRACTICAL: f64 = 35.165_04 / 35.0;

/// Practical salinity of water of this absolute salinity, g/kg.
pub fn practical_salinity(absolute_g_kg: f64) -> f64 {
    absolute_g_kg / ABSOLUTE_PER_PRACTICAL
}

/// Water of one temperature and salinity at one atmosphere.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Water {
    /// Temperature, °C.
    pub temperature_c: f64,
    /// Absolute salinity, g of salt per kg of water with its salt.
    pub salinity_g_kg: f64,
    /// Density, kg/m³.
    pub density: f64,
    /// Dynamic viscosity, Pa·s.
    pub viscosity_pa_s: f64,
    /// Surface tension against air, N/m.
    pub surface_tension: f64,
    /// Vapour pressure, Pa.
    pub vapour_pressure_pa: f64,
}

/// Outside the range in which formulas of water hold.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
#[error("the {what} {value} is outside {from} to {to}, where the formulas hold")]
pub struct OutOfRange {
    /// Which quantity, with its unit.
    pub what: &'static str,
    /// What was given.
    pub value: f64,
    /// Least value.
    pub from: f64,
    /// Greatest value.
    pub to: f64,
}

impl OutOfRange {
    pub(crate) fn check(what: &'static str, value: f64, from: f64, to: f64) -> Result<(), Self> {
        if (from..=to).contains(&value) { Ok(()) } else { Err(Self { what, value, from, to }) }
    }
}

impl Water {
    /// Water at 0 to 40 °C and 0 to 42 g/kg: the range common to all formulas.
    pub fn new(temperature_c: f64, salinity_g_kg: f64) -> Result<Self, OutOfRange> {
        OutOfRange::check("temperature in °C", temperature_c, 0.0, 40.0)?;
        OutOfRange::check("absolute salinity in g/kg", salinity_g_kg, 0.0, 42.0)?;
        Ok(Self {
            temperature_c,
            salinity_g_kg,
            density: density(temperature_c, practical_salinity(salinity_g_kg)),
            viscosity_pa_s: viscosity(temperature_c, salinity_g_kg),
            surface_tension: surface_tension(temperature_c, salinity_g_kg),
            vapour_pressure_pa: vapour_pressure(temperature_c, salinity_g_kg),
        })
    }

    /// Kinematic viscosity, m²/s.
    pub fn kinematic_viscosity(&self) -> f64 {
        self.viscosity_pa_s / self.density
    }

    /// Dry salt in a litre of this water, g.
    pub fn salt_per_litre_g(&self) -> f64 {
        self.salinity_g_kg * self.density / 1000.0
    }

    /// Dry salt to dissolve in each litre of fresh water to make it, g. Mixes as sold hold water and
    /// take 5 to 10 % more (common practice).
    pub fn salt_per_fresh_litre_g(&self) -> f64 {
        self.salinity_g_kg / (1000.0 - self.salinity_g_kg) * density(self.temperature_c, 0.0)
    }
}

/// Density at one atmosphere, kg/m³: the international one-atmosphere equation of state of seawater.
///
/// `temperature_c` °C (ITS-90; the equation's own IPTS-68 is 1.00024 times it), 0 to 40;
/// practical salinity 0 to 42. Standard error 0.0036 kg/m³. Source: Millero & Poisson, *Deep-Sea
/// Research* 28A (1981) 625; UNESCO technical papers in marine science 38 (1981) and 44 (1983).
///
/// ```
/// // UNESCO 44, check value: S = 35, 5 °C on IPTS-68.
/// let rho = water::seawater::density(5.0 / 1.00024, 35.0);
/// assert!((rho - 1_027.675_47).abs() < 1e-5);
/// ```
pub fn density(temperature_c: f64, practical_salinity: f64) -> f64 {
    let t = 1.000_24 * temperature_c;
    let s = practical_salinity.max(0.0);
    let pure = horner(
        t,
        &[999.842_594, 6.793_952e-2, -9.095_290e-3, 1.001_685e-4, -1.120_083e-6, 6.536_332e-9],
    );
    let a = horner(t, &[8.244_93e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9]);
    let b = horner(t, &[-5.724_66e-3, 1.0227e-4, -1.6546e-6]);
    pure + s * (a + b * s.sqrt() + 4.8314e-4 * s)
}

/// Dynamic viscosity, Pa·s.
///
/// 0 to 180 °C, absolute salinity 0 to 150 g/kg, within 1.5 %. Source: Sharqawy, Lienhard & Zubair,
/// *Desalination and Water Treatment* 16 (2010) 354, equations 22 and 23.
pub fn viscosity(temperature_c: f64, salinity_g_kg: f64) -> f64 {
    let (t, s) = (temperature_c, salinity_g_kg / 1000.0);
    let pure = 4.2844e-5 + 1.0 / (0.157 * (t + 64.993).powi(2) - 91.296);
    let a = horner(t, &[1.541, 1.998e-2, -9.52e-5]);
    let b = horner(t, &[7.974, -7.561e-2, 4.724e-4]);
    pure * (1.0 + s * (a + b * s))
}

/// Surface tension against air, N/m.
///
/// Pure water after IAPWS R1-76(2014), `0.2358·τ^1.256·(1 − 0.625·τ)`, τ = 1 − T/647.096 K; with salt
/// after IAPWS G14-19, 1 to 92 °C, absolute salinity up to 131 g/kg.
pub fn surface_tension(temperature_c: f64, salinity_g_kg: f64) -> f64 {
    let tau = 1.0 - (temperature_c + 273.15) / 647.096;
    let pure = 0.2358 * tau.powf(1.256) * (1.0 - 0.625 * tau);
    pure * (1.0 + salinity_g_kg * (3.766e-4 + 2.347e-6 * temperature_c))
}

/// Vapour pressure, Pa.
///
/// Pure water after Wagner & Pruss, *J. Phys. Chem. Ref. Data* 22 (1993) 783 (IAPWS SR1-86), 0 to
/// 374 °C. With salt lowered by Raoult's law, `1 + 0.57357·S/(1000 − S)`, S in g/kg: Sharqawy, Lienhard
/// & Zubair, *Desalination and Water Treatment* 16 (2010) 354; within 0.3 % of TEOS-10.
pub fn vapour_pressure(temperature_c: f64, salinity_g_kg: f64) -> f64 {
    let kelvin = temperature_c + 273.15;
    let tau = 1.0 - kelvin / 647.096;
    let root = tau.sqrt();
    // Products, not `powi`, which two builds may round differently.
    let cube = tau * tau * tau;
    let sum = -7.859_517_83 * tau + 1.844_082_59 * tau * root - 11.786_649_7 * cube
        + 22.680_741_1 * cube * root
        - 15.961_871_9 * (cube * tau)
        + 1.801_225_02 * (cube * cube * tau) * root;
    let pure = 22.064e6 * (647.096 / kelvin * sum).exp();
    pure / (1.0 + 0.573_57 * salinity_g_kg / (1000.0 - salinity_g_kg))
}

fn horner(x: f64, coefficients: &[f64]) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn density_is_that_of_the_international_equation() {
        // UNESCO technical papers in marine science 44 (1983), check values, °C on IPTS-68.
        for (s, t68, rho) in [
            (0.0, 5.0, 999.966_75),
            (0.0, 25.0, 997.047_96),
            (35.0, 5.0, 1_027.675_47),
            (35.0, 25.0, 1_023.343_06),
        ] {
            assert!((density(t68 / 1.000_24, s) - rho).abs() < 1e-5, "{s} {t68}");
        }
    }

    #[test]
    fn properties_agree_with_reference_libraries() {
        // gsw 3.6 (TEOS-10) and CoolProp 8.0 (IAPWS).
        let sea = Water::new(25.0, 35.165_04).unwrap();
        assert!((sea.density - 1023.343).abs() < 0.005);
        assert!((sea.viscosity_pa_s - 0.95919e-3).abs() < 6e-9);
        assert!((sea.salt_per_litre_g() - 35.986).abs() < 1e-3);
        assert!((sea.salt_per_fresh_litre_g() - 36.339).abs() < 1e-3);
        let fresh = Water::new(25.0, 0.0).unwrap();
        assert!((fresh.viscosity_pa_s / 0.890_02e-3 - 1.0).abs() < 2e-4);
        // `iapws` 1.5 (R1-76, G14-19): 25 °C, pure and 35.16504 g/kg.
        assert!((fresh.surface_tension - 0.071_972_205).abs() < 1e-9);
        assert!((sea.surface_tension - 0.073_073_845).abs() < 1e-9);
        assert!((fresh.vapour_pressure_pa - 3169.9).abs() < 0.3);
    }

    #[test]
    fn outside_the_range_it_says_so() {
        assert!(Water::new(-1.0, 0.0).is_err());
        let error = Water::new(25.0, 60.0).unwrap_err();
        assert_eq!(
            error.to_string(),
            "the absolute salinity in g/kg 60 is outside 0 to 42, where the formulas hold"
        );
        assert!(Water::new(f64::NAN, 0.0).is_err());
    }
}
