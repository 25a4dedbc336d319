//! Sizes and masses of parts in words.

use plate::Shape;
use units::{Length, Mass, System};

use crate::parts::Part;

/// Outer size, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Size {
    /// Flat: the longer and the shorter side, and the thickness.
    Flat([f64; 3]),
    /// Round: diameter and height.
    Round([f64; 2]),
}

impl Size {
    /// `400 × 300 × 8 mm`, `⌀ 40 × 160 mm`.
    pub fn show(self, system: System) -> String {
        let (sign, sides) = match &self {
            Self::Flat(sides) => ("", &sides[..]),
            Self::Round(sides) => ("⌀ ", &sides[..]),
        };
        let shown: Vec<String> = sides.iter().map(|mm| Length::mm(*mm).show_fine(system)).collect();
        let number = |text: &String| text.split(' ').next().unwrap_or_default().to_owned();
        let (last, others) = shown.split_last().expect("a size has sides");
        let others: String = others.iter().map(|side| number(side) + " × ").collect();
        format!("{sign}{others}{last}")
    }
}

/// Outer size of a part, in its own frame.
pub fn size(part: &Part<'_>) -> Size {
    let [least, greatest] = part.solid.bounds();
    let sides = greatest - least;
    match part.piece.shape {
        Shape::Sheet(_) => Size::Flat([sides.x.max(sides.y), sides.x.min(sides.y), sides.z]),
        Shape::Turned(_) => Size::Round([sides.x, sides.z]),
    }
}

/// `600 × 18 × 700 mm`: along the sump, from front to back, up.
pub fn show_box(size: glam::DVec3, system: System) -> String {
    Size::Flat(size.to_array()).show(system)
}

/// `0.42 kg`, or a dash when it is not known.
pub fn show_mass(kg: Option<f64>, system: System) -> String {
    kg.map_or("–".to_owned(), |kg| Mass::kg(kg).show(system))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_read_as_people_write_them() {
        assert_eq!(Size::Flat([400.0, 300.5, 8.0]).show(System::Metric), "400 × 300.5 × 8 mm");
        assert_eq!(Size::Round([25.4, 50.8]).show(System::UsCustomary), "⌀ 1 × 2 in");
    }
}
