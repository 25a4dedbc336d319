//! What sheets and glass bear.

mod values;

use design::Sheet;
use params::{DataSheet, File, Material};

pub use values::{GLASS, crazing_mpa, glass_deviation_mm};

/// Temperature of the tests that lasting values come from, °C: the standard atmosphere of ISO 291.
pub const TESTED_C: f64 = 23.0;

/// Mechanical values of a material, each careful: the end of its range that is worse here.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facts {
    /// Modulus of elasticity for a load of minutes, MPa.
    pub modulus_mpa: f64,
    /// Modulus for a load of years (creep modulus), MPa.
    pub lasting_modulus_mpa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Greatest tensile stress that a face in water may carry for years, MPa.
    pub lasting_stress_mpa: f64,
    /// The same of a face in air, MPa: the outer face of a wall. Of seams a share of this is allowed.
    pub lasting_stress_dry_mpa: f64,
    /// Strength in a short test, MPa. Of it a load of hours may take a share.
    pub strength_mpa: f64,
    /// Linear thermal expansion, 1/K.
    pub expansion_per_k: f64,
    /// Most that it grows in length by taking up water, from a room's air to wet through, as a share.
    pub swelling: f64,
    /// Highest temperature for lasting load, °C.
    pub service_c: f64,
    /// Share of both lasting values that is lost per kelvin above [`Self::lasting_to_c`].
    pub loss_per_k: f64,
    /// Up to which temperature lasting values hold unreduced, °C.
    pub lasting_to_c: f64,
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// Where the numbers come from.
    pub source: &'static str,
}

/// Values of a material at 23 °C; those of the data sheet win.
///
/// A maker's lasting stress is that of a test in air: in water it is scaled as ours of the material, unless one in water is given.
/// One in water alone leaves the dry value ours, or as high.
pub fn facts(material: Material, data: Option<&DataSheet>) -> Facts {
    let known = values::of(material);
    let Some(data) = data else { return known };
    let modulus_mpa = data.modulus.unwrap_or(known.modulus_mpa);
    // A modulus for minutes below that for years would be none: the one that is given counts.
    let lasting_modulus_mpa =
        data.lasting_modulus.unwrap_or(known.lasting_modulus_mpa.min(modulus_mpa));
    let dry_mpa = data.lasting_stress.unwrap_or(known.lasting_stress_dry_mpa);
    let wet_by_dry = known.lasting_stress_mpa / known.lasting_stress_dry_mpa;
    let wet_mpa = data.lasting_stress_wet.unwrap_or(wet_by_dry * dry_mpa);
    Facts {
        modulus_mpa: modulus_mpa.max(lasting_modulus_mpa),
        lasting_modulus_mpa,
        lasting_stress_mpa: wet_mpa,
        lasting_stress_dry_mpa: dry_mpa.max(wet_mpa),
        ..known
    }
}

/// Values of a sheet of the file at the highest temperature that the file tells of.
pub fn of_sheet(file: &File, sheet: &Sheet) -> Facts {
    let data = file.sheet.get(&sheet.name).and_then(|sheet| sheet.data_sheet.as_ref());
    facts(sheet.material, data).at(warmest_c(file))
}

/// The highest temperature that the sump sees by the file: of water, room, and what `tolerance` gives, °C.
pub fn warmest_c(file: &File) -> f64 {
    let given = [file.tolerance.temperature[1], file.water.temperature, file.room.temperature];
    given.map(units::Temperature::to_celsius).into_iter().fold(f64::NEG_INFINITY, f64::max)
}

impl Facts {
    /// The values at another temperature: both lasting ones fall in a straight line above [`Self::lasting_to_c`], by
    /// [`Self::loss_per_k`]; colder ones are not raised. Beyond [`Self::service_c`] they are no longer vouched for.
    #[must_use]
    pub fn at(self, temperature_c: f64) -> Self {
        let left = self.left_at(temperature_c);
        Self {
            lasting_modulus_mpa: self.lasting_modulus_mpa * left,
            lasting_stress_mpa: self.lasting_stress_mpa * left,
            lasting_stress_dry_mpa: self.lasting_stress_dry_mpa * left,
            ..self
        }
    }

    /// Share of the lasting values that is left at a temperature.
    pub fn left_at(&self, temperature_c: f64) -> f64 {
        (1.0 - self.loss_per_k * (temperature_c - self.lasting_to_c).max(0.0)).max(0.05)
    }

    /// What a seam may carry for years, MPa: a share of the sheet.
    pub fn joint_stress_mpa(&self, share: f64) -> f64 {
        share * self.lasting_stress_dry_mpa
    }
}

#[cfg(test)]
mod tests;
