//! What sheets and glass bear, with the source of every number.

/// Mechanical values of a material, each careful: the lower end where less is worse.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facts {
    /// Modulus of elasticity for a load of minutes, MPa.
    pub modulus_mpa: f64,
    /// Modulus for a load of years at 23 °C (creep modulus), MPa.
    pub lasting_modulus_mpa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Greatest tensile stress that it may carry for years in water, MPa.
    pub lasting_stress_mpa: f64,
    /// Strength in a short test, MPa: for comparison only.
    pub strength_mpa: f64,
    /// Linear thermal expansion, 1/K.
    pub expansion_per_k: f64,
    /// Most that it grows in length by taking up water, as a share.
    pub swelling: f64,
    /// Highest temperature for lasting load, °C.
    pub service_c: f64,
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// Where the numbers come from.
    pub source: &'static str,
}
