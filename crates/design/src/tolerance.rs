//! How far parts differ from their drawing, and how sheets grow by water and warmth: one source for the gaps that are built
//! and for what judges them.

use params::{File, Material, Process};
use units::{Length, System, Temperature};

/// What still slides wet, by hand, mm; our judgement. A channel leaves a leaf so much at worst.
pub const SLIDES_MM: f64 = 0.1;
/// By so much a guide holds a leaf that is pushed to the other side, mm, as drawn; common practice.
pub const HELD_AS_DRAWN_MM: f64 = 1.0;
/// The same with everything at its worst, mm; our judgement: half of what is asked for as drawn.
pub const HELD_AT_WORST_MM: f64 = 0.5;

/// The box's own growth by water and warmth, as a share of that of a part that is wet on both faces: its sheets are wet on
/// one face only and stand between water and room, and what spreads evenly from face to face has half of its value in
/// the mean.
const BOX_SHARE: f64 = 0.5;

/// How a material grows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Growth {
    /// Linear thermal expansion, 1/K.
    pub expansion_per_k: f64,
    /// Most that it grows in length by taking up water, from a room's air to wet through, as a share.
    pub swelling: f64,
}

impl Growth {
    /// That of a material, each the careful end of what is published.
    ///
    /// - Acrylic, cast and extruded: makers 65–80 · 10⁻⁶/K; the upper end. Swelling: makers 0.2/0.3/0.6 % of length at
    ///   60/80/100 % humidity against dry, another 0.15 % at 1 % water of about 2 % that it takes up. From a room at 50 to
    ///   60 % to wet through: 0.2–0.4 %; the upper end.
    /// - PVC: makers 60–80 · 10⁻⁶/K; the upper end. Below 0.1 % of water (makers), of which length takes a quarter to a
    ///   third: 0.03 %, taken as 0.05.
    /// - Polycarbonate: makers 65–72 · 10⁻⁶/K; the upper end. Makers 0.12–0.15 % of water in air and 0.30–0.35 % wet
    ///   through; length takes up to a third of it: 0.08 %, taken as 0.1.
    pub fn of(material: Material) -> Self {
        match material {
            Material::CastAcrylic | Material::ExtrudedAcrylic => {
                Self { expansion_per_k: 80e-6, swelling: 0.004 }
            }
            Material::Pvc => Self { expansion_per_k: 80e-6, swelling: 0.0005 },
            Material::Polycarbonate => Self { expansion_per_k: 72e-6, swelling: 0.001 },
        }
    }
}

/// What water and warmth make of a length, as shares of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grown {
    /// By water: at first nothing, in the end this.
    pub water: f64,
    /// In the coldest and in the warmest: `[-0.0004, 0.0008]`.
    pub warmth: [f64; 2],
}

impl Grown {
    /// Most that it grows.
    pub fn most(self) -> f64 {
        self.water + self.warmth[1].max(self.warmth[0]).max(0.0)
    }

    /// Most that it shrinks by.
    pub fn least(self) -> f64 {
        0.0 - self.warmth[0].min(self.warmth[1]).min(0.0)
    }
}

/// How far parts differ by a file, with the defaults of what it leaves out.
#[derive(Clone, Copy, Debug)]
pub struct Tolerances<'a> {
    file: &'a File,
    /// How far a part may be glued from its place, mm.
    pub assembly_mm: f64,
    /// How far a printed face may lie from where it is drawn, mm.
    pub printed_mm: f64,
    /// How much colder and warmer than at fitting it gets, K: `[-5, 10]`.
    warmer_k: [f64; 2],
}

impl<'a> Tolerances<'a> {
    /// Those of a file.
    pub fn of(file: &'a File) -> Self {
        let tolerance = &file.tolerance;
        let fitted = tolerance.fitted_at.to_celsius();
        Self {
            file,
            assembly_mm: tolerance.assembly.to_mm(),
            printed_mm: tolerance.printed.to_mm(),
            warmer_k: tolerance.temperature.map(Temperature::to_celsius).map(|c| c - fitted),
        }
    }

    /// How far a cut edge of a part of this sheet may lie from where it is drawn, mm: what the file says, or by what the
    /// sheet is cut with. Common practice, as the file's own text says it.
    pub fn cut_mm(&self, sheet: Option<&str>) -> f64 {
        let usual_mm = match self.file.cutting_of(sheet).process {
            Process::Router | Process::Laser => 0.2,
            Process::Saw => 0.5,
        };
        self.file.tolerance.cut.map_or(usual_mm, Length::to_mm)
    }

    /// How far a width between two printed faces may be off, mm: a line that is laid too wide takes from it on both sides.
    pub fn printed_width_mm(&self) -> f64 {
        2.0 * self.printed_mm
    }

    /// How a part of a material grows between walls of the box. Water comes in time, and the box may come later: at worst
    /// the part is wet and the box is not.
    pub fn between_walls(&self, material: Material) -> Grown {
        let part = self.growth(material);
        let walls = self.walls().map_or(0.0, |walls| walls.expansion_per_k);
        self.grown(part.swelling, part.expansion_per_k - BOX_SHARE * walls)
    }

    /// How a part of a material grows where nothing grows along with it.
    pub fn alone(&self, material: Material) -> Grown {
        let part = self.growth(material);
        self.grown(part.swelling, part.expansion_per_k)
    }

    /// How the box grows, which is wet on one face.
    pub fn of_box(&self) -> Grown {
        let walls = self.walls();
        let swelling = walls.map_or(0.0, |walls| walls.swelling);
        // Warmth in full, the careful end: in a closed cabinet room and water get warm together.
        self.grown(BOX_SHARE * swelling, walls.map_or(0.0, |walls| walls.expansion_per_k))
    }

    fn growth(&self, material: Material) -> Growth {
        let growth = Growth::of(material);
        Growth { swelling: self.file.tolerance.swelling.unwrap_or(growth.swelling), ..growth }
    }

    fn walls(&self) -> Option<Growth> {
        self.file.sheet.get(&self.file.enclosure.sheet).map(|sheet| self.growth(sheet.material))
    }

    fn grown(&self, water: f64, expansion: f64) -> Grown {
        let [one, other] = self.warmer_k.map(|k| expansion * k);
        Grown { water, warmth: [one.min(other), one.max(other)] }
    }
}

/// A gap rounded up to what is drawn, 0.1 mm.
pub(crate) fn rounded_up(mm: f64) -> f64 {
    (10.0 * mm - 1e-6).ceil() / 10.0
}

/// A length in words, rounded up to 0.1 mm or 0.01 in: `4.8 mm`, `0.19 in`.
pub fn shown_up(mm: f64, system: System) -> String {
    match system {
        System::Metric => format!("{} mm", rounded_up(mm)),
        System::UsCustomary => {
            let hundredths = (100.0 * Length::mm(mm).to_in() - 1e-6).ceil();
            format!("{} in", hundredths / 100.0)
        }
    }
}

/// The same as it is written into a file: `4.8`, `"0.19 in"`.
pub fn written_up(mm: f64, system: System) -> String {
    match system {
        System::Metric => format!("{}", rounded_up(mm)),
        System::UsCustomary => format!("\"{}\"", shown_up(mm, system)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_written_so_that_they_are_never_less() {
        assert_eq!(written_up(4.8, System::Metric), "4.8");
        assert_eq!(written_up(4.81, System::Metric), "4.9");
        assert_eq!(shown_up(4.81, System::Metric), "4.9 mm");
        assert_eq!(written_up(25.4, System::UsCustomary), "\"1 in\"");
        assert_eq!(written_up(4.8, System::UsCustomary), "\"0.19 in\"");
    }

    /// What sheet of 1 m grows by for each 10 K, by the coefficients as makers give them: 0.8 mm of acrylic and PVC, 0.72 mm
    /// of polycarbonate; between walls of acrylic, which take half along, 0.4 mm.
    #[test]
    fn warmth_is_reckoned_from_where_it_is_fitted() {
        let text = params::starter(params::Starter::default());
        let file = params::read(&text).file.expect("a starter reads");
        let tolerances = Tolerances::of(&file);
        let alone = tolerances.alone(Material::CastAcrylic);
        assert!((1000.0 * alone.warmth[1] - 0.8).abs() < 1e-9, "{alone:?}");
        assert!((1000.0 * alone.warmth[0] + 0.4).abs() < 1e-9, "{alone:?}");
        let between = tolerances.between_walls(Material::CastAcrylic);
        assert!((1000.0 * between.most() - 4.0 - 0.4).abs() < 1e-9, "{between:?}");
        assert!((1000.0 * between.least() - 0.2).abs() < 1e-9, "{between:?}");
    }
}
